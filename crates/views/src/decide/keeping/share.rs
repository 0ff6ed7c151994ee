//! The set-up as a link.

use super::named_build;
use crate::digits::DIGITS;
use crate::{ask, share};
use clothyard_studies::sharing::link;
use clothyard_web as dom;

/// Shows the link of the set-up on the page.
pub(super) fn show() {
    let (Some(setup), Some(field)) = (named_build(), ask::input("share-link")) else { return };
    let (address, note) = match link::encode(&setup, &DIGITS) {
        Ok(link) => (share::page_address() + "#" + &link.fragment, note(link.shafts_left_out)),
        Err(error) => (String::new(), format!("This set-up has no link: {}", error.message())),
    };
    dom::write_id("share-note", &note);
    if field.value() != address || address.is_empty() {
        field.set_value(&address);
        share::draw("share-code", &address);
    }
}

fn note(shafts_left_out: bool) -> String {
    let mut note = String::new();
    if shafts_left_out {
        note += "Your own list of shafts is too long for a link and is left out; a backup file holds it. ";
    }
    note + share::note()
}
