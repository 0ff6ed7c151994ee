//! Files: backup and export, import.

use super::{FILE, ID, named, say, store};
use crate::context::Context;
use crate::save;
use clothyard_studies::sharing::library::{Library, MOST_BACKUP_BYTES, in_file_name};
use clothyard_web::plain;
use web_sys::HtmlInputElement;

/// Everything stored and the setup on the page in one file.
pub(super) fn save_all(context: &Context) {
    let Some(setup) = context.setup() else { return };
    let library = context.records.contents().library.clone();
    let backup = Library { current: Some(named(&setup).to_saved()), ..library };
    let name = format!("clothyard-backup-{}.json", store::today());
    say(&save::json(&name, &plain::to_readable_json(&backup)));
}

/// The setup on the page in a file of its own.
pub(super) fn save_one(context: &Context) {
    let Some(setup) = context.setup().map(|setup| named(&setup)) else { return };
    let name = if setup.name.is_empty() { "setup".to_owned() } else { in_file_name(&setup.name) };
    say(&save::json(&format!("clothyard-{name}.json"), &plain::to_readable_json(&setup)));
}

/// Asks for the text of the file chosen.
pub(super) fn read(input: &HtmlInputElement, context: &Context) {
    if !save::read(input, MOST_BACKUP_BYTES, (ID, FILE), context) {
        say_too_large();
    }
}

pub(super) fn say_too_large() {
    say("Not imported: larger than 100 MB.");
}
