//! The rows of what is stored: setups and parts.

use crate::records::{Records, UnreadRecord};
use clothyard_core::{Setup, Units};
use clothyard_studies::sharing::library::{Library, StoredSetup, summary};
use clothyard_web::widgets::field::{self, focus};
use clothyard_web::widgets::list::{self, Act};
use clothyard_web::{self as dom, Dom};
use web_sys::Element;

/// On a row: the id of its entry.
const ID: &str = "data-id";

/// What can be done with a setup, and with a part, and the words of the buttons.
type Acts = [(Act, &'static str)];
pub(super) const LOAD: Act = Act::Other("load");
pub(super) const RENAME: Act = Act::Other("rename");
pub(super) const DELETE: Act = Act::Other("delete");
pub(super) const PUT_ON: Act = Act::Other("put-on");
pub(super) const TAKE_OUT: Act = Act::Other("take-out");
pub(super) const SAVE_TEXT: Act = Act::Other("save-text");
pub(super) const DROP: Act = Act::Other("drop");
const OF_A_SETUP: &Acts = &[(LOAD, "Open"), (RENAME, "Rename"), (DELETE, "Delete")];
const OF_A_PART: &Acts = &[(PUT_ON, "Apply"), (TAKE_OUT, "Delete")];
const OF_THE_UNREAD: &Acts = &[(SAVE_TEXT, "Save as file"), (DROP, "Delete")];

#[derive(Default)]
pub(super) struct Lists {
    /// The setup whose name is being changed.
    pub(super) renamed: Option<String>,
    /// What the rows were made from; while it is the same, they are left alone.
    made_from: Option<(u32, Units, Option<String>)>,
}

impl Lists {
    /// Shows what is saved now.
    pub(super) fn show_rows(&mut self, units: &Units, records: &Records) {
        let now = Some((records.count_changes(), *units, self.renamed.clone()));
        if self.made_from == now {
            return;
        }
        self.made_from = now;
        let contents = records.contents();
        self.show_setups(&contents.library, units);
        show_parts(&contents.library, units);
        show_unread(&contents.unread);
    }

    fn show_setups(&self, library: &Library, units: &Units) {
        let Some(list) = emptied("kept", "kept-none", library.setups.is_empty()) else { return };
        for (place, stored) in library.setups.iter().enumerate() {
            let Some(row) = dom::add(&list, "li", "", "") else { continue };
            dom::set(&row, ID, &stored.id);
            if self.renamed.as_ref() == Some(&stored.id) {
                add_name_form(&row, stored);
                continue;
            }
            let name = &stored.setup.name;
            let words = Setup::from_saved(&stored.setup).map(|setup| summary(&setup, units)).unwrap_or_default();
            add_words(&row, name, &words);
            if let Some(day) = dom::add(&row, "span", "day", &stored.saved_on) {
                dom::set(&day, "title", "Date saved");
            }
            add_buttons(&row, name, OF_A_SETUP, (place, library.setups.len()));
        }
    }
}

/// What was pressed in a row, and the id of its entry.
pub(super) fn pressed(dom: &Dom) -> Option<(Act, String)> {
    let (act, _) = list::pressed(dom, &[LOAD, RENAME, DELETE, PUT_ON, TAKE_OUT, SAVE_TEXT, DROP])?;
    Some((act, dom.closest(&format!("[{ID}]"))?.get_attribute(ID)?))
}

/// Gives the focus to a button of the row of an entry: one that does something, or the first.
pub(super) fn focus_row(id: &str, act: &str) {
    focus(&format!("[{ID}=\"{id}\"] button{act}"));
}

/// A list without rows, hidden where it is to have none; what is said then is shown.
fn emptied(id: &str, none: &str, is_empty: bool) -> Option<Element> {
    dom::hide(none, !is_empty);
    dom::hide(id, is_empty);
    let list = dom::by_id(id)?;
    dom::empty(&list);
    Some(list)
}

fn show_parts(library: &Library, units: &Units) {
    let Some(list) = emptied("drawer", "drawer-none", library.parts.is_empty()) else { return };
    for (place, part) in library.parts.iter().enumerate() {
        let Some(row) = dom::add(&list, "li", "", "") else { continue };
        dom::set(&row, ID, &part.id);
        add_words(&row, &part.name, &format!("{}: {}", part.kind.label(), part.summary(units)));
        add_buttons(&row, &part.name, OF_A_PART, (place, library.parts.len()));
    }
}

/// Records that cannot be read are in a list of their own, so that the others are not hidden by them.
fn show_unread(records: &[UnreadRecord]) {
    let Some(list) = emptied("unread-records", "", records.is_empty()) else { return };
    for (place, record) in records.iter().enumerate() {
        let Some(row) = dom::add(&list, "li", "", "") else { continue };
        dom::set(&row, ID, &record.key);
        add_words(&row, "Cannot be read", &record.error.message);
        add_buttons(&row, &format!("unreadable record {}", place + 1), OF_THE_UNREAD, (place, records.len()));
    }
}

fn add_name_form(row: &Element, stored: &StoredSetup) {
    let Some(form) = dom::add(row, "form", "line", "") else { return };
    dom::set(&form, "id", "rename-form");
    if let Some(label) = dom::add(&form, "label", "", "New name") {
        dom::set(&label, "for", "rename-name");
    }
    if let Some(field) = dom::add(&form, "input", "", "") {
        for (name, value) in [("id", "rename-name"), ("type", "text"), ("maxlength", "80"), ("autocomplete", "off")] {
            dom::set(&field, name, value);
        }
    }
    field::overwrite("rename-name", &stored.setup.name);
    dom::add(&form, "button", "", "Rename");
    if let Some(leave) = dom::add(&form, "button", "", "Cancel") {
        dom::set(&leave, "type", "button");
        dom::set(&leave, "id", "rename-leave");
    }
}

fn add_words(row: &Element, name: &str, words: &str) {
    if let Some(what) = dom::add(row, "p", "what", "") {
        dom::add(&what, "b", "", name);
        dom::add(&what, "span", "", words);
    }
}

/// Buttons, each with the name of what it acts on for those who do not see the row.
fn add_buttons(row: &Element, name: &str, acts: &Acts, place: (usize, usize)) {
    let Some(group) = dom::add(row, "p", "acts", "") else { return };
    for &(act, words) in acts {
        list::button(&group, act, words, &format!("{words}: {name}"), place);
    }
}
