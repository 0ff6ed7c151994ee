//! Lists to choose one from.

use crate::{add, by_id, empty, set};
use wasm_bindgen::JsCast;
use web_sys::{Element, HtmlSelectElement};

fn select(id: &str) -> Option<HtmlSelectElement> {
    by_id(id)?.dyn_into().ok()
}

/// The value chosen; empty where there is none.
#[must_use]
pub fn chosen(id: &str) -> String {
    select(id).map_or_else(String::new, |select| select.value())
}

/// Chooses a value; nothing is chosen where the list lacks it.
pub fn choose(id: &str, value: &str) {
    if let Some(select) = select(id).filter(|select| select.value() != value) {
        select.set_value(value);
    }
}

/// Completes a list with every value and label it does not hold yet: the few most asked for are first in the markup.
pub fn complete(id: &str, all: impl Iterator<Item = (&'static str, &'static str)>) {
    let Some(list) = by_id(id) else { return };
    for (value, label) in all {
        let known = list.query_selector(&format!("[value=\"{value}\"]")).ok().flatten().is_some();
        if !known {
            option(&list, value, label);
        }
    }
}

/// Makes a list hold just these values and labels. The choice is kept while its value is there, else it is the first.
pub fn fill<'a>(id: &str, options: impl Iterator<Item = (&'a str, &'a str)>) {
    let Some(select) = select(id) else { return };
    let before = select.value();
    empty(&select);
    for (value, label) in options {
        option(&select, value, label);
    }
    select.set_value(&before);
    if select.selected_index() < 0 {
        select.set_selected_index(0);
    }
}

fn option(list: &Element, value: &str, label: &str) {
    if let Some(option) = add(list, "option", "", label) {
        set(&option, "value", value);
    }
}
