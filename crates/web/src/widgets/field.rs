//! Text fields: the one in focus is left alone, and errors are shown beside it.

use crate::{Dom, by_id, document, protocol};
pub use clothyard_core::parse::labeled as number;
use wasm_bindgen::JsCast;
use web_sys::{Element, HtmlElement, HtmlInputElement, HtmlTextAreaElement};

/// The field of one line with an id.
#[must_use]
pub fn input(id: &str) -> Option<HtmlInputElement> {
    by_id(id)?.dyn_into().ok()
}

/// The field of several lines with an id.
#[must_use]
pub fn area(id: &str) -> Option<HtmlTextAreaElement> {
    by_id(id)?.dyn_into().ok()
}

/// The text of a field of either kind; empty where there is none.
#[must_use]
pub fn text(id: &str) -> String {
    let line = || input(id).map(|input| input.value());
    line().or_else(|| area(id).map(|area| area.value())).unwrap_or_default()
}

/// Writes into a field of either kind, whether or not a hand is in it.
pub fn overwrite(id: &str, text: &str) {
    if self::text(id) == text {
        return;
    }
    if let Some(input) = input(id) {
        input.set_value(text);
    } else if let Some(area) = area(id) {
        area.set_value(text);
    }
}

/// Writes into a field of either kind, unless a hand is in it.
pub fn write(id: &str, text: &str) {
    if !has_focus(id) {
        overwrite(id, text);
    }
}

/// The id of the element that has the focus.
#[must_use]
pub fn focused() -> Option<String> {
    Some(document()?.active_element()?.id())
}

/// Whether the element with an id has the focus.
#[must_use]
pub fn has_focus(id: &str) -> bool {
    focused().is_some_and(|focused| focused == id)
}

/// Gives the focus to the first element that a selector finds.
pub fn focus(selector: &str) {
    let found = document().and_then(|document| document.query_selector(selector).ok().flatten());
    found.iter().for_each(focus_on);
}

/// Gives the focus to an element.
pub fn focus_on(element: &Element) {
    if let Some(element) = element.dyn_ref::<HtmlElement>() {
        let _ = element.focus();
    } else if let Some(element) = element.dyn_ref::<web_sys::SvgElement>() {
        let _ = element.focus();
    }
}

/// Selects all of a field of either kind.
pub fn select_all(id: &str) {
    by_id(id).iter().for_each(focus_on);
    if let Some(input) = input(id) {
        input.select();
    } else if let Some(area) = area(id) {
        area.select();
    }
}

/// Says beside a field what is wrong with it, or, with no words, that nothing is.
pub fn say(id: &str, said: &str, why: &str) {
    crate::write_id(said, why);
    if let Some(field) = by_id(id) {
        crate::set(&field, "aria-invalid", if why.is_empty() { "false" } else { "true" });
    }
}

/// Whether a field is marked as one that cannot be read.
#[must_use]
pub fn is_invalid(id: &str) -> bool {
    by_id(id).is_some_and(|field| field.get_attribute("aria-invalid").as_deref() == Some("true"))
}

/// While a text is typed in a view, the keys for undo belong to it and not to the setup. The page itself looks after
/// the fields of its table of inputs, wherever they are.
pub fn own_undo(dom: &Dom) {
    let own = "input[type=text]:not([data-quantity]), textarea";
    if dom.target.matches(own).unwrap_or(false) {
        crate::flag(&dom.target, protocol::attribute::TYPING, true);
    }
}
