//! What a table of numbers holds: its columns, each with its range, and how many rows.
//!
//! It drives checks, messages, the saved form, the rows on the page and the generators of property tests.

use crate::parse::EntryError;
use crate::schema::{Field, INPUTS, Kind};
use crate::units::Quantity;

/// One number of a row.
#[derive(Debug, PartialEq)]
pub struct Column {
    /// Key with its unit, for messages and headings of a file.
    pub key: &'static str,
    /// Heading on the page, without the unit.
    pub label: &'static str,
    /// What it measures; saved in its saved unit.
    pub quantity: Quantity,
    /// Least allowed.
    pub minimum: f64,
    /// Most allowed.
    pub maximum: f64,
    /// Whether a row may lack it.
    pub optional: bool,
    /// The input whose values it holds, if it is one's.
    pub field: Option<Field>,
}

/// What a table holds.
#[derive(Debug)]
pub struct TableSpec {
    /// Its key in a saved build.
    pub key: &'static str,
    /// What it is called on the page.
    pub label: &'static str,
    /// The numbers of each row.
    pub columns: &'static [Column],
    /// Most rows.
    pub max_rows: usize,
}

pub(super) const fn column(
    key: &'static str,
    label: &'static str,
    quantity: Quantity,
    minimum: f64,
    maximum: f64,
) -> Column {
    Column { key, label, quantity, minimum, maximum, optional: false, field: None }
}

/// A column that holds values of an input.
#[allow(clippy::indexing_slicing, clippy::panic, reason = "evaluated by the compiler")]
pub(super) const fn like(key: &'static str, label: &'static str, field: Field) -> Column {
    match INPUTS[field as usize].kind {
        Kind::Number { quantity, minimum, maximum, .. } => {
            Column { field: Some(field), ..column(key, label, quantity, minimum, maximum) }
        }
        Kind::Choice(_) => panic!("a choice has no range"),
    }
}

pub(super) const fn may_lack(column: Column) -> Column {
    Column { optional: true, ..column }
}

impl Column {
    /// Whether a number is allowed there.
    ///
    /// # Errors
    /// [`EntryError`].
    pub fn check(&self, value: Option<f64>) -> Result<(), EntryError> {
        let &Self { minimum, maximum, optional, .. } = self;
        match value {
            None if optional => Ok(()),
            None => Err(EntryError::NotANumber),
            Some(value) if (minimum..=maximum).contains(&value) => Ok(()),
            Some(value) => Err(EntryError::OutOfRange { value, minimum, maximum }),
        }
    }
}
