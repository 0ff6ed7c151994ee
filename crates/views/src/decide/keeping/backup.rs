//! Files: a backup written, and a backup or a single set-up read in.

use super::{named_build, recovery, say, store};
use crate::kept::fresh_id;
use crate::save;
use clothyard_studies::sharing::shelf::{MOST_BACKUP_BYTES, Shelf, TakenIn};
use clothyard_web::{self as dom, plain};
use wasm_bindgen::JsCast;
use web_sys::{Event, HtmlInputElement, HtmlTextAreaElement};

/// Writes everything kept and the set-up on the page into one file.
pub(super) fn write_all() {
    let (Some(shelf), Some(setup)) = (store::open(), named_build()) else { return };
    let backup = Shelf { current: Some(setup.to_saved()), ..shelf };
    hand_over(&format!("clothyard-backup-{}.json", store::today()), &plain::to_readable_json(&backup));
}

/// Writes the set-up on the page into a file, as a saved build.
pub(super) fn write_one() {
    let Some(setup) = named_build() else { return };
    let name: String =
        setup.name.chars().map(|c| if c.is_ascii_alphanumeric() || !c.is_ascii() { c } else { '-' }).collect();
    let name = if name.is_empty() { "set-up" } else { &name };
    hand_over(&format!("clothyard-{name}.json"), &plain::to_readable_json(&setup));
}

/// Hands a text to the browser as a file to save.
pub(super) fn hand_over(name: &str, text: &str) {
    let said = match save::file(name, "application/json", text) {
        Some(()) => format!("Handed to the browser as {name}; look among your downloads."),
        None => "This browser would not write a file.".to_owned(),
    };
    say(&said);
}

/// Reads in the file chosen.
pub(super) fn read_file(field: &HtmlInputElement) {
    let error = |_| say("The file could not be read.");
    if !save::read(field, MOST_BACKUP_BYTES, on_file_read, error) {
        say_too_large();
    }
}

fn on_file_read(event: Event) {
    if let Some(text) = save::text_of(&event) {
        read_in(&text);
    }
}

/// Reads in the text pasted.
pub(super) fn read_pasted() {
    let Some(field) = dom::by_id("import-text").and_then(|field| field.dyn_into::<HtmlTextAreaElement>().ok()) else {
        return;
    };
    let text = field.value();
    if text.trim().is_empty() {
        say("Paste the text of a backup or of a set-up first.");
    } else if text.len() > MOST_BACKUP_BYTES {
        say_too_large();
    } else if read_in(&text) {
        field.set_value("");
    }
}

fn say_too_large() {
    say("Not read in: it is larger than 1 MB, and no backup is.");
}

/// Adds what a text holds to what is kept, or says why not; whether it did.
fn read_in(text: &str) -> bool {
    let backup = match plain::from_json::<Shelf>(text) {
        Ok(backup) => backup,
        Err(error) if error.is_newer() => {
            say(&format!("Not read in, and nothing was changed. {}", error.message));
            return false;
        }
        Err(error) => {
            say(&format!("Not read in, and nothing was changed. {}", error.message));
            recovery::show_import(&error.message, text);
            return false;
        }
    };
    let taken = store::change(|shelf| Ok(shelf.take_in(backup, fresh_id, &store::today())));
    if let Some(taken) = &taken {
        super::show();
        say(&in_words(taken));
    }
    taken.is_some()
}

fn in_words(taken: &TakenIn) -> String {
    let mut words = match taken.names.len() {
        0 => "No set-up was added.".to_owned(),
        _ => format!("Added: {}.", taken.names.join("; ")),
    };
    for (count, what) in [
        (taken.parts, "added to the drawer"),
        (taken.known, "here already and left as it was"),
        (taken.no_room, "left out, for there is no room"),
    ] {
        if count > 0 {
            words += &format!(" {count} {what}.");
        }
    }
    words
}
