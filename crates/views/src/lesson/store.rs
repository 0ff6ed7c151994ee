//! The lessons that this browser keeps. They are read anew before every change, so that pages open side by side add
//! to each other's work.

use super::{desk, reading};
use crate::kept::{json, put};
use clothyard_core::report::ErrorReport;
use clothyard_studies::lesson::shelf::LessonShelf;
use clothyard_web::{plain, store};

const LESSONS: &str = "clothyard.lessons";
const LESSONS_UNREAD: &str = "clothyard.lessons.unread";

/// The text of what is kept; empty where nothing is.
pub(super) fn text() -> String {
    store::get(LESSONS).unwrap_or_default()
}

/// What is kept.
///
/// # Errors
/// Why it cannot be read; it is then left as it is.
pub(super) fn read() -> Result<LessonShelf, ErrorReport> {
    let text = text();
    if text.is_empty() { Ok(LessonShelf::default()) } else { reading::shelf(&text) }
}

/// Changes what is kept; what goes wrong is said. Whether it was done.
pub(super) fn change(change: &mut dyn FnMut(&mut LessonShelf) -> Result<(), String>) -> bool {
    let unreadable = |error: ErrorReport| {
        format!("The lessons kept here cannot be read, and are left as they are: {}", error.message)
    };
    let done = read().map_err(unreadable).and_then(|mut shelf| {
        change(&mut shelf)?;
        put(LESSONS, &json(&plain::write(&shelf), 0))
    });
    if let Err(why) = &done {
        desk::say(why);
    }
    done.is_ok()
}

/// Puts lessons that cannot be read aside and begins anew.
///
/// # Errors
/// Why the browser did not put them aside; they are left as they are.
pub(super) fn begin_anew() -> Result<(), String> {
    put(LESSONS_UNREAD, &text())?;
    store::forget(LESSONS);
    Ok(())
}
