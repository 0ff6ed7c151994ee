//! One number typed into a field of a view's own, checked against a column of a list.

use clothyard_core::schema::Column;
use clothyard_core::{Units, format};
use clothyard_web::widgets::field;

/// A field that asks for one number: its id and its label.
pub(crate) type Asked = (&'static str, &'static str);

/// What is wrong, and the field it is in.
pub(crate) type Refused = (&'static str, String);

/// The number in a field, in the saved unit; none where it is empty.
pub(crate) fn optional((id, label): Asked, column: &Column, units: &Units) -> Result<Option<f64>, Refused> {
    let typed = field::text(id);
    if typed.trim().is_empty() {
        return Ok(None);
    }
    let number = field::number(&typed, label, column.quantity, units).map_err(|why| (id, why))?;
    let said = |number: f64| format::entered_with_unit(column.quantity, number, units);
    // Where a list has numbers below zero, the side is chosen beside the field: it asks for a size.
    let least = column.minimum.max(0.0);
    if (least..=column.maximum).contains(&number) {
        Ok(Some(number))
    } else {
        Err((id, format!("{label}: {} to {}.", said(least), said(column.maximum))))
    }
}

/// The same; an empty field is refused with what it asks for.
pub(crate) fn needed(asked: Asked, column: &Column, units: &Units, wanted: &str) -> Result<f64, Refused> {
    optional(asked, column, units)?.ok_or_else(|| (asked.0, format!("{}: {wanted}", asked.1)))
}
