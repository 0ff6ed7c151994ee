//! Lessons of earlier versions, where they could not be moved into the records.

use super::say;
use crate::save;
use clothyard_studies::lesson::library::LessonLibrary;
use clothyard_web as dom;
use clothyard_web::protocol::storage;
use clothyard_web::store::Store;

static LESSONS: Store<LessonLibrary> = Store::new(storage::LESSONS);

pub(super) fn show_unread() {
    let unread = LESSONS.read().err();
    dom::hide("lesson-unread", unread.is_none());
    if let Some(unread) = unread {
        dom::write_id("lesson-unread-why", &format!("Saved lessons: {}", unread.error.message));
        // What a newer page wrote is sound, and stays for it.
        dom::hide("lesson-new-list", unread.error.is_newer());
    }
}

pub(super) fn save_unread() {
    if save::file("clothyard-lessons-unread.txt", "text/plain", &LESSONS.text()).is_none() {
        say("The browser blocked saving the file.");
    }
}

/// Puts the text aside.
pub(super) fn set_aside() {
    match LESSONS.clear() {
        Ok(()) => say("New list started; the old text is set aside in this browser."),
        Err(why) => say(&format!("Not set aside: {why}.")),
    }
}
