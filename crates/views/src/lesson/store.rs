//! The lessons that this browser keeps. They are read again before every change, so that pages open side by side add
//! to each other's work.

use super::desk;
use clothyard_core::report::ErrorReport;
use clothyard_studies::lesson::shelf::LessonShelf;
use clothyard_web::protocol::storage;
use clothyard_web::store::{Store, Unchanged};

static LESSONS: Store<LessonShelf> = Store::new(storage::LESSONS);

/// The text of what is kept; empty where nothing is.
pub(super) fn text() -> String {
    LESSONS.text()
}

/// What is kept.
///
/// # Errors
/// Why it cannot be read; it is then left as it is.
pub(super) fn read() -> Result<LessonShelf, ErrorReport> {
    LESSONS.read().map(Option::unwrap_or_default).map_err(|unread| *unread.error)
}

/// Changes what is kept; what goes wrong is said. Whether it was done.
pub(super) fn change(change: &mut dyn FnMut(&mut LessonShelf) -> Result<(), String>) -> bool {
    let done = LESSONS.change(change);
    match &done {
        Ok(()) => {}
        Err(Unchanged::Refused(why)) => desk::say(why),
        Err(Unchanged::Unread(unread)) => {
            let why = &unread.error.message;
            desk::say(&format!("The lessons kept here cannot be read, and are left as they are: {why}"));
        }
    }
    done.is_ok()
}

/// Puts lessons that cannot be read aside and begins a new list.
///
/// # Errors
/// Why the browser did not put them aside; they are left as they are.
pub(super) fn begin_new() -> Result<(), &'static str> {
    LESSONS.clear()
}
