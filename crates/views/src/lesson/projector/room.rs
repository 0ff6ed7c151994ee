//! What is asked of the machine: that its screen stays awake, that the lesson fills it, and when to draw.
//!
//! A browser that lacks one of these goes without it.

use clothyard_web as dom;
use core::cell::RefCell;
use js_sys::{Function, Promise, Reflect};
use wasm_bindgen::prelude::*;

thread_local! {
    /// What keeps the screen awake, while it does.
    static AWAKE: RefCell<Option<JsValue>> = const { RefCell::new(None) };
}

fn property(of: &JsValue, name: &str) -> Option<JsValue> {
    Reflect::get(of, &JsValue::from_str(name)).ok().filter(|found| !found.is_undefined() && !found.is_null())
}

fn call(of: &JsValue, name: &str, argument: &str) -> Option<JsValue> {
    let function = property(of, name)?.dyn_into::<Function>().ok()?;
    function.call1(of, &JsValue::from_str(argument)).ok()
}

/// Asks that the screen does not go dark during the lesson (W3C Screen Wake Lock).
pub(super) fn stay_awake() {
    let lock = dom::window().and_then(|window| property(&window.navigator(), "wakeLock"));
    let Some(asked) = lock.and_then(|lock| call(&lock, "request", "screen")) else { return };
    let Ok(asked) = asked.dyn_into::<Promise>() else { return };
    let granted = Closure::<dyn FnMut(JsValue)>::new(|sentinel: JsValue| {
        // Left meanwhile: what is granted late is given back.
        if super::dialog().is_some_and(|dialog| dialog.open()) {
            release(AWAKE.replace(Some(sentinel)));
        } else {
            release(Some(sentinel));
        }
    });
    let refused = Closure::<dyn FnMut(JsValue)>::new(|_| {});
    let _ = asked.then2(&granted, &refused);
    granted.forget();
    refused.forget();
}

fn release(sentinel: Option<JsValue>) {
    if let Some(sentinel) = sentinel {
        let _ = call(&sentinel, "release", "");
    }
}

/// Lets the screen go dark and leaves it to others.
pub(super) fn leave() {
    release(AWAKE.take());
    if let Some(document) = dom::document().filter(|document| document.fullscreen_element().is_some()) {
        document.exit_fullscreen();
    }
}

/// Fills the whole screen, or leaves that again.
pub(super) fn fill_or_not() {
    let Some(document) = dom::document() else { return };
    if document.fullscreen_element().is_some() {
        document.exit_fullscreen();
    } else if let Some(room) = dom::by_id("projector-room") {
        // A dialog itself cannot; what is in it can.
        let _ = room.request_fullscreen();
    }
}

/// Shows the button for that where it can be.
pub(super) fn show_button() {
    dom::hide("projector-full", !dom::document().is_some_and(|document| document.fullscreen_enabled()));
}

/// Whether motion is unwelcome.
pub(super) fn is_still() -> bool {
    let asked = dom::window().and_then(|window| window.match_media("(prefers-reduced-motion: reduce)").ok().flatten());
    asked.is_some_and(|asked| asked.matches())
}

/// Calls back before the next frame is painted.
pub(super) fn next_frame(action: fn()) {
    let action = Closure::once_into_js(action);
    if let Some(window) = dom::window() {
        let _ = window.request_animation_frame(action.unchecked_ref());
    }
}
