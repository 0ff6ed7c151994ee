//! Shared browser code of the wasm modules.
//!
//! Where something is missing nothing happens: a page without its element is one without that answer.

#![cfg_attr(
    test,
    allow(
        clippy::unwrap_used,
        clippy::panic,
        clippy::indexing_slicing,
        reason = "a test that panics has failed, which is its job"
    )
)]

// What the modules of the page share by name, and how what happens reaches them.
pub mod bus;
mod dom_event;
pub mod protocol;
mod view;

// What passes between Rust and the browser.
pub mod locale;
pub mod plain;
pub mod save;
pub mod shapes;
pub mod store;

// What views are made of.
pub mod widgets;

pub use dom_event::{Dom, Kind};
pub use view::{Registry, View};

use wasm_bindgen::JsCast;
use wasm_bindgen::prelude::*;
use web_sys::{Document, Element, Event, EventTarget, Window};

/// The namespace of the drawings.
const SVG: &str = "http://www.w3.org/2000/svg";

/// The window.
#[must_use]
pub fn window() -> Option<Window> {
    web_sys::window()
}

/// The document.
#[must_use]
pub fn document() -> Option<Document> {
    window()?.document()
}

/// The element with an id.
#[must_use]
pub fn by_id(id: &str) -> Option<Element> {
    document()?.get_element_by_id(id)
}

/// Writes text only where it differs, so that nothing is drawn or read aloud twice.
pub fn write(element: &Element, text: &str) {
    if element.text_content().as_deref() != Some(text) {
        element.set_text_content(Some(text));
    }
}

/// Writes text into the element with an id.
pub fn write_id(id: &str, text: &str) {
    if let Some(element) = by_id(id) {
        write(&element, text);
    }
}

/// Sets an attribute, where it differs.
pub fn set(element: &Element, name: &str, value: &str) {
    if element.get_attribute(name).as_deref() != Some(value) {
        // An attribute name written here is always a valid one.
        let _ = element.set_attribute(name, value);
    }
}

/// Sets or removes an attribute that has no value.
pub fn flag(element: &Element, name: &str, on: bool) {
    if element.has_attribute(name) != on {
        let _ = element.toggle_attribute_with_force(name, on);
    }
}

/// Adds or takes away one class.
pub fn class(element: &Element, name: &str, on: bool) {
    let classes = element.get_attribute("class").unwrap_or_default();
    let has = classes.split(' ').any(|word| word == name);
    if has != on {
        let rest = classes.split(' ').filter(|&word| word != name && !word.is_empty());
        let all: Vec<_> = rest.chain(on.then_some(name)).collect();
        set(element, "class", &all.join(" "));
    }
}

/// Hides or shows the element with an id.
pub fn hide(id: &str, hidden: bool) {
    if let Some(element) = by_id(id) {
        flag(&element, "hidden", hidden);
    }
}

/// A new element under a parent, with classes and text.
pub fn add(parent: &Element, tag: &str, classes: &str, text: &str) -> Option<Element> {
    let element = document()?.create_element(tag).ok()?;
    if !classes.is_empty() {
        set(&element, "class", classes);
    }
    if !text.is_empty() {
        element.set_text_content(Some(text));
    }
    parent.append_child(&element).ok()?;
    Some(element)
}

/// A new shape under a parent of a drawing.
pub fn add_shape(parent: &Element, tag: &str) -> Option<Element> {
    let element = document()?.create_element_ns(Some(SVG), tag).ok()?;
    parent.append_child(&element).ok()?;
    Some(element)
}

/// Takes everything out of an element.
pub fn empty(element: &Element) {
    element.set_text_content(None);
}

/// Listens for as long as the page lives.
pub fn listen(target: &EventTarget, kind: &str, handler: Box<dyn FnMut(Event)>) {
    let closure = Closure::<dyn FnMut(Event)>::wrap(handler);
    // In the capturing phase, so that events that do not bubble are heard too.
    let _ = target.add_event_listener_with_callback_and_bool(kind, closure.as_ref().unchecked_ref(), true);
    closure.forget();
}

/// Tells whoever listens on the window that something has happened.
pub fn announce(kind: &str) {
    if let (Some(window), Ok(event)) = (window(), Event::new(kind)) {
        let _ = window.dispatch_event(&event);
    }
}

/// Does something once, later.
pub fn later(milliseconds: i32, action: impl FnOnce() + 'static) {
    later_boxed(milliseconds, Box::new(action));
}

fn later_boxed(milliseconds: i32, action: Box<dyn FnOnce()>) {
    let action = Closure::once_into_js(action);
    if let Some(window) = window() {
        let _ = window.set_timeout_with_callback_and_timeout_and_arguments_0(action.unchecked_ref(), milliseconds);
    }
}

/// Milliseconds on the browser's clock.
#[must_use]
pub fn now() -> f64 {
    js_sys::Date::now()
}
