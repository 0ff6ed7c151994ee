//! What this browser keeps. It is read anew before every change, so that pages open side by side add to each
//! other's work.

use super::{reading, recovery, say};
use crate::kept::{is_newer, json, put};
use crate::page;
use clothyard_core::Setup;
use clothyard_studies::sharing::shelf::Shelf;
use clothyard_web::{self as dom, plain, store};
use js_sys::{Date, JSON};

const KEPT: &str = "clothyard.kept";
const KEPT_UNREAD: &str = "clothyard.kept.unread";
const SETUP_UNREAD: &str = "clothyard.setup.unread";
const SETUP: &str = "clothyard.setup";
const BEFORE_LINK: &str = "clothyard.setup.before";
/// The set-up as the last link brought it.
const FROM_LINK: &str = "clothyard.setup.link";

/// A list that cannot be read, and why.
pub(super) struct Unreadable {
    pub(super) why: String,
    pub(super) newer: bool,
    pub(super) text: String,
}

/// The text of what is kept; empty where nothing is.
pub(super) fn text() -> String {
    store::get(KEPT).unwrap_or_default()
}

/// What is kept.
///
/// # Errors
/// [`Unreadable`], with the text itself.
pub(super) fn read() -> Result<Shelf, Unreadable> {
    let text = text();
    if text.is_empty() {
        return Ok(Shelf::default());
    }
    reading::shelf(&text).map_err(|error| Unreadable { newer: is_newer(&error), why: error.message, text })
}

/// What is kept; where it cannot be read, that is said.
pub(super) fn open() -> Option<Shelf> {
    read().map_err(|unreadable| say_unreadable(&unreadable)).ok()
}

fn say_unreadable(unreadable: &Unreadable) {
    say(&format!("The list kept here cannot be read, and is left as it is: {}", unreadable.why));
    recovery::show_list(unreadable);
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

/// The part of [`change`] that is the same for every change, kept apart so that it stands in the wasm once.
fn change_by(change: &mut dyn FnMut(&mut Shelf) -> Result<(), String>) -> bool {
    let Some(mut shelf) = open() else { return false };
    let done = change(&mut shelf).and_then(|()| put(KEPT, &json(&plain::write(&shelf), 0)));
    if let Err(why) = &done
        && !why.is_empty()
    {
        say(why);
    }
    if done.is_ok() {
        dom::announce(clothyard_web::protocol::event::LIBRARY);
    }
    done.is_ok()
}

/// Puts an unreadable list aside and begins a new one.
///
/// # Errors
/// Why the browser did not put it aside; the list is left as it is.
pub(super) fn begin_anew(text: &str) -> Result<(), String> {
    put(KEPT_UNREAD, text)?;
    store::forget(KEPT);
    Ok(())
}

/// A set-up of an earlier visit that could not be read.
pub(super) fn unread_setup() -> Option<String> {
    store::get(SETUP_UNREAD)
}

/// Forgets a set-up that could not be read.
pub(super) fn forget_unread_setup() {
    store::forget(SETUP_UNREAD);
}

/// Keeps the page's set-up aside while one from a link is opened. One that came from a link itself and was
/// left as it came is not kept: the one before it still is.
///
/// # Errors
/// Why the browser did not keep it.
pub(super) fn set_aside() -> Result<(), String> {
    let unkept = || {
        let setup = page::setup().unwrap_or_default().to_saved();
        format!("{{\"build\":{},\"drafts\":{{}}}}", json(&plain::write(&setup), 0))
    };
    let text = store::get(SETUP).unwrap_or_else(unkept);
    if store::get(FROM_LINK).as_ref() == Some(&text) { Ok(()) } else { put(BEFORE_LINK, &text) }
}

/// Remembers that what is kept now came from a link.
pub(super) fn mark_as_linked() {
    let _ = store::get(SETUP).map(|text| put(FROM_LINK, &text));
}

/// What was on the page before the last link was opened.
pub(super) fn before() -> Option<Setup> {
    let value = JSON::parse(&store::get(BEFORE_LINK)?).ok()?;
    let entries = plain::entries(&value, "").ok()?;
    let (_, setup) = entries.iter().find(|(key, _)| key == "build")?;
    Setup::from_saved(&plain::saved_build(setup).ok()?).ok()
}

/// The day, as in ISO 8601.
pub(super) fn today() -> String {
    let now = Date::new_0();
    format!("{:04}-{:02}-{:02}", now.get_full_year(), now.get_month() + 1, now.get_date())
}
