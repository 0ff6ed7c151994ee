//! The rows of what is kept: set-ups and parts.

use super::store;
use crate::ask::focus;
use crate::page;
use clothyard_core::{Setup, Units};
use clothyard_studies::sharing::shelf::{KeptBuild, Shelf, summary};
use clothyard_web as dom;
use core::cell::RefCell;
use wasm_bindgen::JsCast;
use web_sys::{Element, HtmlInputElement};

/// What the rows were made from; while it is the same, they are left alone.
type Shown = (String, String, Option<String>);

thread_local! {
    static SHOWN: RefCell<Option<Shown>> = const { RefCell::new(None) };
    /// The set-up whose name is being changed.
    static RENAMED: RefCell<Option<String>> = const { RefCell::new(None) };
}

/// Shows a field for a set-up's name, or none.
pub(super) fn rename(id: Option<&str>) {
    RENAMED.replace(id.map(str::to_owned));
    show();
    if id.is_some() {
        focus("#rename-name");
    }
}

/// Shows what is kept now.
pub(super) fn show() {
    let units = page::units();
    let renamed = RENAMED.with_borrow(Clone::clone);
    let now = Some((store::text(), units.to_text(), renamed.clone()));
    if SHOWN.replace(now.clone()) == now {
        return;
    }
    let shelf = store::read().unwrap_or_default();
    show_setups(&shelf, renamed.as_deref(), &units);
    show_parts(&shelf, &units);
}

fn show_setups(shelf: &Shelf, renamed: Option<&str>, units: &Units) {
    dom::hide("kept-none", !shelf.kept.is_empty());
    let Some(list) = dom::by_id("kept") else { return };
    dom::empty(&list);
    dom::flag(&list, "hidden", shelf.kept.is_empty());
    for kept in &shelf.kept {
        let Some(row) = dom::add(&list, "li", "", "") else { continue };
        dom::set(&row, "data-id", &kept.id);
        if renamed == Some(kept.id.as_str()) {
            show_renaming(&row, kept);
            continue;
        }
        let name = &kept.setup.name;
        let words = Setup::from_saved(&kept.setup).map(|setup| summary(&setup, units)).unwrap_or_default();
        show_what(&row, name, &words);
        if let Some(day) = dom::add(&row, "span", "day", &kept.kept_on) {
            dom::set(&day, "title", "Kept on this day");
        }
        show_acts(&row, name, &[("load", "Load"), ("rename", "Rename"), ("delete", "Delete")]);
    }
}

fn show_renaming(row: &Element, kept: &KeptBuild) {
    let Some(form) = dom::add(row, "form", "line", "") else { return };
    dom::set(&form, "id", "rename-form");
    dom::set(&form, "data-id", &kept.id);
    if let Some(label) = dom::add(&form, "label", "", "New name") {
        dom::set(&label, "for", "rename-name");
    }
    let field = dom::add(&form, "input", "", "").and_then(|field| field.dyn_into::<HtmlInputElement>().ok());
    if let Some(field) = field {
        for (name, value) in [("id", "rename-name"), ("type", "text"), ("maxlength", "80"), ("autocomplete", "off")] {
            dom::set(&field, name, value);
        }
        field.set_value(&kept.setup.name);
    }
    let _ = dom::add(&form, "button", "", "Call it so");
    if let Some(leave) = dom::add(&form, "button", "", "Leave it") {
        dom::set(&leave, "type", "button");
        dom::set(&leave, "data-act", "leave");
    }
}

fn show_parts(shelf: &Shelf, units: &Units) {
    dom::hide("drawer-none", !shelf.drawer.is_empty());
    let Some(list) = dom::by_id("drawer") else { return };
    dom::empty(&list);
    dom::flag(&list, "hidden", shelf.drawer.is_empty());
    for part in &shelf.drawer {
        let Some(row) = dom::add(&list, "li", "", "") else { continue };
        dom::set(&row, "data-id", &part.id);
        show_what(&row, &part.name, &format!("{}: {}", part.kind.label(), part.summary(units)));
        show_acts(&row, &part.name, &[("put-on", "Put on the arrow"), ("take-out", "Delete")]);
    }
}

fn show_what(row: &Element, name: &str, words: &str) {
    if let Some(what) = dom::add(row, "p", "what", "") {
        let _ = dom::add(&what, "b", "", name);
        let _ = dom::add(&what, "span", "", words);
    }
}

/// Buttons, each with the name of what it acts on for those who do not see the row.
fn show_acts(row: &Element, name: &str, acts: &[(&str, &str)]) {
    let Some(box_of_acts) = dom::add(row, "p", "acts", "") else { return };
    for (act, words) in acts {
        if let Some(button) = dom::add(&box_of_acts, "button", "", words) {
            dom::set(&button, "type", "button");
            dom::set(&button, "data-act", act);
            dom::set(&button, "aria-label", &format!("{words}: {name}"));
        }
    }
}
