//! Your own proven arrow, from this set-up or a kept one, as the target.

use crate::page::{self, Reading};
use crate::{ask, decide};
use clothyard_core::{Field, Setup, Value};
use clothyard_studies::measurements::proven;
use clothyard_web as dom;
use wasm_bindgen::JsCast;
use web_sys::HtmlSelectElement;

const CHOICE: &str = "bench-proven-of";

pub(super) fn show(now: &Reading) {
    if !ask::is_open("bench-proven") {
        return;
    }
    list_kept();
    dom::write_id("bench-proven-words", &proven::words(&now.setup, now.all(), &now.units));
    dom::hide("bench-proven-drop", now.setup.get(Field::ProvenLoad).is_none());
}

/// This set-up, then the kept ones; the choice made stays.
fn list_kept() {
    let Some(select) = dom::by_id(CHOICE).and_then(|element| element.dyn_into::<HtmlSelectElement>().ok()) else {
        return;
    };
    let chosen = select.value();
    dom::empty(&select);
    let put = |key: &str, label: &str| {
        if let Some(option) = dom::add(&select, "option", "", label) {
            dom::set(&option, "value", key);
        }
    };
    put("", "this set-up");
    for (id, setup) in decide::kept() {
        put(&id, if setup.name.is_empty() { "a set-up without a name" } else { &setup.name });
    }
    select.set_value(&chosen);
    if select.value() != chosen {
        select.set_value("");
    }
}

/// Makes the chosen arrow's load the target.
pub(super) fn make_target(now: &Reading) {
    let chosen = ask::chosen(CHOICE);
    let of = if chosen.is_empty() { Some(now.setup.clone()) } else { kept(&chosen) };
    let Some(load) = of.as_ref().and_then(proven::load) else {
        return dom::write_id("bench-proven-said", "That set-up has no column load to go by: see its cautions.");
    };
    dom::write_id("bench-proven-said", "");
    put(now, Some(Value::Number(load)));
}

fn kept(id: &str) -> Option<Setup> {
    decide::kept().into_iter().find(|(key, _)| key == id).map(|(_, setup)| setup)
}

/// Back to the usual target.
pub(super) fn drop_target(now: &Reading) {
    put(now, None);
    // The button that had the focus is gone.
    dom::later(0, || {
        if let Some(button) =
            dom::by_id("bench-proven-use").and_then(|button| button.dyn_into::<web_sys::HtmlElement>().ok())
        {
            let _ = button.focus();
        }
    });
}

fn put(now: &Reading, value: Option<Value>) {
    let mut setup = now.setup.clone();
    if setup.set(Field::ProvenLoad, value).is_ok() {
        page::load(&setup);
    }
}
