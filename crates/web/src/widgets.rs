//! What views are made of: each is told the ids of its elements, which the markup holds, and touches only what differs.

pub mod chart;
pub mod drawing;
pub mod field;
pub mod list;
pub mod pad;
pub mod select;
pub mod small_chart;
pub mod table;
pub mod text_rows;

use crate::by_id;

/// Shows the body of a view, or says why it has none: the elements `x-body` and `x-said` of the view with the id `x`.
pub fn or_why<T>(view: &str, answer: Result<T, String>) -> Option<T> {
    let why = answer.as_ref().err().cloned().unwrap_or_default();
    crate::write_id(&format!("{view}-said"), &why);
    crate::hide(&format!("{view}-body"), answer.is_err());
    answer.ok()
}

/// Width of an element in pixels, and no less than a drawing needs.
#[must_use]
pub fn width(id: &str) -> f64 {
    by_id(id).map_or(700.0, |element| element.get_bounding_client_rect().width().max(280.0))
}
