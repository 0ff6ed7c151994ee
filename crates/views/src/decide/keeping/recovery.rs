//! What could not be read: why, and its text, to copy or to save. Nothing is lost unless it is let go.

use super::backup;
use super::store;
use crate::ask::focus;
use clothyard_web as dom;
use clothyard_web::store::Unread;
use core::cell::Cell;
use wasm_bindgen::JsCast;
use web_sys::HtmlTextAreaElement;

/// Where the text comes from.
#[derive(Clone, Copy, PartialEq)]
enum From {
    /// It was to be read in.
    Import,
    /// The list kept in this browser.
    List,
    /// The set-up of an earlier visit.
    PhysicalModel,
}

thread_local! {
    static SHOWN: Cell<Option<From>> = const { Cell::new(None) };
    /// Closed by hand; it comes again with the next visit.
    static CLOSED: Cell<bool> = const { Cell::new(false) };
}

/// Shows what in this browser cannot be read, if there is any.
pub(super) fn look() {
    if SHOWN.get().is_some() || CLOSED.get() {
        return;
    }
    if let Err(unread) = store::read() {
        show_list(&unread);
    } else if let Some((text, error)) = store::unread_setup() {
        let found = "The set-up kept in this browser at an earlier visit could not be read";
        let why = match error {
            Some(error) => format!("{found}: {}", error.message),
            None => format!("{found} by the version of the page used then; this version can read it."),
        };
        show(From::PhysicalModel, &why, &text, "Forget this text");
    }
}

/// Shows the list that cannot be read.
pub(super) fn show_list(unread: &Unread) {
    let why = format!("The list kept in this browser: {}", unread.error.message);
    // What a newer page wrote is sound, and stays for it.
    let let_go = if unread.error.is_newer() { "" } else { "Put this text aside and begin a new list" };
    show(From::List, &why, &unread.text, let_go);
}

/// Shows what was to be read in.
pub(super) fn show_import(why: &str, text: &str) {
    show(From::Import, why, text, "");
}

fn field() -> Option<HtmlTextAreaElement> {
    dom::by_id("recovery-text")?.dyn_into().ok()
}

fn show(from: From, why: &str, text: &str, let_go: &str) {
    SHOWN.set(Some(from));
    dom::write_id("recovery-why", why);
    if let Some(field) = field() {
        field.set_value(text);
    }
    dom::write_id("recovery-drop", let_go);
    dom::hide("recovery-drop", let_go.is_empty());
    dom::hide("recovery", false);
}

/// Writes the text into a file.
pub(super) fn save() {
    if let Some(field) = field() {
        backup::hand_over("clothyard-unread.txt", &field.value());
    }
}

/// Lets the text go, where it stood in the way.
pub(super) fn let_go() {
    match SHOWN.get() {
        Some(From::List) => {
            if let Err(why) = store::begin_new() {
                return super::say(&format!("Not put aside: {why}."));
            }
            super::say("A new list is begun; the old text is put aside in this browser.");
        }
        Some(From::PhysicalModel) => store::forget_unread_setup(),
        _ => {}
    }
    hide();
    super::show();
}

/// Hides the text until the next visit.
pub(super) fn close() {
    CLOSED.set(SHOWN.get() != Some(From::Import));
    hide();
    focus("#keep-name");
}

fn hide() {
    SHOWN.set(None);
    dom::hide("recovery", true);
}
