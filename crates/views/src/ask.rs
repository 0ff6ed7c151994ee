//! What views ask of the fields of a setup, and, for the sections that are not views of the registry yet, of their own.

use clothyard_core::Field;
pub(crate) use clothyard_web::widgets::field::{focus, input, text, write};
pub(crate) use clothyard_web::widgets::select::{chosen, complete};
use clothyard_web::{self as dom};
use web_sys::{Element, Event};

/// Whether a view is open.
pub(crate) fn is_open(id: &str) -> bool {
    dom::by_id(id).is_some_and(|details| details.has_attribute("open"))
}

/// The input chosen in a list of inputs.
pub(crate) fn field(id: &str) -> Option<Field> {
    Field::by_key(&chosen(id))
}

/// While a text is typed here, the keys for undo belong to it and not to the set-up.
pub(crate) fn own_undo(event: Event) {
    if let Some(field) = dom::target::<Element>(&event) {
        dom::flag(&field, "data-typing", field.matches("input[type=text], textarea").unwrap_or(false));
    }
}
