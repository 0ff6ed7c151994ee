//! What this browser keeps. It is read again before every change, so that pages open side by side add to each other's
//! work.

use super::{recovery, say};
use crate::page;
use clothyard_core::Setup;
use clothyard_core::report::ErrorReport;
use clothyard_core::setup::{Drafts, PageState};
use clothyard_studies::sharing::shelf::Shelf;
use clothyard_web::protocol::{event, storage};
use clothyard_web::store::{self, Store, Unchanged, Unread};
use clothyard_web::{self as dom, plain};
use js_sys::Date;

static KEPT: Store<Shelf> = Store::new(storage::LIBRARY);

static BEFORE_LINK: Store<PageState> = Store::new(storage::BEFORE_LINK);

/// The text of what is kept; empty where nothing is.
pub(super) fn text() -> String {
    KEPT.text()
}

/// What is kept.
///
/// # Errors
/// [`Unread`], with the text itself.
pub(super) fn read() -> Result<Shelf, Unread> {
    KEPT.read().map(Option::unwrap_or_default)
}

/// What is kept; where it cannot be read, that is said.
pub(super) fn open() -> Option<Shelf> {
    read().map_err(|unread| say_unread(&unread)).ok()
}

fn say_unread(unread: &Unread) {
    say(&format!("The list kept here cannot be read, and is left as it is: {}", unread.error.message));
    recovery::show_list(unread);
}

/// Changes what is kept. A reason that the change gives for doing nothing is said, unless it is empty.
pub(super) fn change<T>(change: impl FnOnce(&mut Shelf) -> Result<T, String>) -> Option<T> {
    let (mut change, mut result) = (Some(change), None);
    let done = change_by(&mut |shelf| {
        result = change.take().map(|change| change(shelf)).transpose()?;
        Ok(())
    });
    result.filter(|_| done)
}

/// The part of [`change`] that is the same for every change, kept apart so that it is in the wasm once.
fn change_by(change: &mut dyn FnMut(&mut Shelf) -> Result<(), String>) -> bool {
    match KEPT.change(change) {
        Ok(()) => {
            dom::announce(event::LIBRARY);
            return true;
        }
        Err(Unchanged::Unread(unread)) => say_unread(&unread),
        Err(Unchanged::Refused(why)) if why.is_empty() => {}
        Err(Unchanged::Refused(why)) => say(&why),
    }
    false
}

/// Puts an unreadable list aside and begins a new one.
///
/// # Errors
/// Why the browser did not put it aside; the list is left as it is.
pub(super) fn begin_new() -> Result<(), &'static str> {
    KEPT.clear()
}

/// The text of a setup that could not be read at an earlier visit, and why; no reason where this version can read it.
pub(super) fn unread_setup() -> Option<(String, Option<ErrorReport>)> {
    let text = store::get(&store::aside(storage::SETUP))?;
    let error = plain::from_json::<PageState>(&text).err();
    Some((text, error))
}

/// Forgets a setup that could not be read.
pub(super) fn forget_unread_setup() {
    store::forget(&store::aside(storage::SETUP));
}

/// Keeps the page's setup aside while one from a link is opened. One that came from a link itself and was left as it
/// came is not kept: the one before it still is.
///
/// # Errors
/// Why the browser did not keep it.
pub(super) fn set_aside() -> Result<(), String> {
    let unkept = || {
        let setup = page::setup().unwrap_or_default();
        plain::to_json(&PageState { setup, drafts: Drafts::default() })
    };
    let text = store::get(storage::SETUP).unwrap_or_else(unkept);
    if store::get(storage::FROM_LINK).as_ref() == Some(&text) {
        return Ok(());
    }
    store::put(storage::BEFORE_LINK, &text).map_err(|why| format!("Not kept: {why}."))
}

/// Remembers that what is kept now came from a link.
pub(super) fn mark_as_linked() {
    let _ = store::get(storage::SETUP).map(|text| store::put(storage::FROM_LINK, &text));
}

/// What was on the page before the last link was opened.
pub(super) fn before() -> Option<Setup> {
    Some(BEFORE_LINK.read().ok()??.setup)
}

/// The day, as in ISO 8601.
pub(super) fn today() -> String {
    let now = Date::new_0();
    format!("{:04}-{:02}-{:02}", now.get_full_year(), now.get_month() + 1, now.get_date())
}
