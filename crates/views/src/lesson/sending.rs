//! A lesson on its way: as a file, as a link, and as a code of that.

use super::desk;
use crate::digits::DIGITS;
use crate::{ask, save, share};
use clothyard_studies::lesson::shelf::MOST_LESSON_BYTES;
use clothyard_studies::lesson::{Lesson, link};
use clothyard_web::{self as dom, plain};
use core::cell::RefCell;
use wasm_bindgen::JsValue;
use web_sys::{Event, HtmlInputElement};

thread_local! {
    /// The address whose code is drawn.
    static DRAWN: RefCell<Option<String>> = const { RefCell::new(None) };
}

/// Shows the lesson's link.
pub(super) fn show(lesson: &Lesson) {
    let (address, note) = match link::encode(lesson, &DIGITS) {
        Ok(fragment) => (share::page_address() + "#" + &fragment, share::note().to_owned()),
        Err(error) => (String::new(), format!("This lesson has no link: {}", error.message())),
    };
    dom::write_id("lesson-note", &note);
    ask::write("lesson-link", &address);
    dom::hide("lesson-link-line", address.is_empty());
    if DRAWN.replace(Some(address.clone())).as_ref() != Some(&address) {
        share::draw("lesson-code", &address);
    }
}

/// Saves the lesson chosen as a file.
pub(super) fn save() {
    let Some(lesson) = desk::chosen() else { return };
    let plain_name = |c: char| if c.is_ascii_alphanumeric() || !c.is_ascii() { c } else { '-' };
    let name: String = lesson.title.chars().map(plain_name).collect();
    let name = format!("clothyard-lesson-{name}.json");
    desk::say(&match save::file(&name, "application/json", &plain::to_readable_json(&lesson.to_saved())) {
        Some(()) => format!("Handed to the browser as {name}; look among your downloads."),
        None => "This browser would not write a file.".to_owned(),
    });
}

/// Reads in the file chosen.
pub(super) fn read_file(field: &HtmlInputElement) {
    let failed = |_: Event| desk::say("The file could not be read.");
    if !save::read(field, MOST_LESSON_BYTES, on_read, failed) {
        desk::say("Not read in: it is larger than 1 MB, and no lesson is.");
    }
}

fn on_read(event: Event) {
    let Some(text) = save::text_of(&event) else { return };
    match plain::from_json(&text) {
        Ok(lesson) => open(&lesson, "Read in"),
        Err(error) => desk::say(&format!("Not read in, and nothing was changed. {}", error.message)),
    }
}

/// Chooses the lesson, as one's own unless it is there already.
fn open(lesson: &Lesson, how: &str) {
    let count = lesson.steps.len();
    let steps = if count == 1 { "1 step".to_owned() } else { format!("{count} steps") };
    let words = format!("\u{201c}{}\u{201d}, {steps}", lesson.title);
    if desk::find(lesson) {
        desk::say(&format!("{words}: it was here already."));
    } else if desk::take_in(lesson) {
        desk::say(&format!("{how}, as a copy of your own: {words}."));
    }
}

/// Opens the lesson that the page's address holds, if it holds one.
pub(super) fn open_link() {
    let Some(fragment) = take_link() else { return };
    if let Some(view) = dom::by_id("lessons") {
        dom::flag(&view, "open", true);
        view.scroll_into_view();
    }
    desk::show();
    match link::decode(&fragment, &DIGITS) {
        Ok(lesson) => open(&lesson, "Opened from the link"),
        Err(error) => {
            desk::say(&format!("The link could not be opened, and nothing was changed: {}", error.message()));
        }
    }
}

/// The fragment that means to be a lesson; it is taken out of the address, so that to load the page again does not
/// open it again.
fn take_link() -> Option<String> {
    let window = dom::window()?;
    let address = window.location().href().ok()?;
    let (page, fragment) = address.split_once('#').filter(|(_, fragment)| link::is_lesson(fragment))?;
    // Where the browser refuses, the link stays and is opened again, to the same end.
    let _ = window.history().ok()?.replace_state_with_url(&JsValue::NULL, "", Some(page));
    Some(fragment.to_owned())
}
