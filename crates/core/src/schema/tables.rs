//! Tables of numbers: columns with their ranges, and the maximum number of rows.
//!
//! Checks, messages, the saved form, the rows on the page and the generators of property tests follow from them.

use crate::parse::{self, EntryError};
use crate::schema::{Field, INPUTS, Kind};
use crate::units::{Quantity, Units};

/// A column of a table.
#[derive(Debug, PartialEq)]
pub struct Column {
    /// Key with its unit, in messages and file headings.
    pub key: &'static str,
    /// Heading on the page, without unit.
    pub label: &'static str,
    /// Quantity; values are in its saved unit.
    pub quantity: Quantity,
    /// Minimum allowed.
    pub minimum: f64,
    /// Maximum allowed.
    pub maximum: f64,
    /// Whether a row may have no value here.
    pub optional: bool,
    /// The input whose values it holds, if any.
    pub field: Option<Field>,
}

/// A table.
#[derive(Debug)]
pub struct TableSpec {
    /// Key in a saved setup.
    pub key: &'static str,
    /// Name on the page.
    pub label: &'static str,
    /// The columns.
    pub columns: &'static [Column],
    /// Maximum number of rows.
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

/// A column that holds values of an input, with its range.
#[allow(clippy::indexing_slicing, clippy::panic, reason = "evaluated by the compiler")]
pub(super) const fn like(key: &'static str, label: &'static str, field: Field) -> Column {
    match INPUTS[field as usize].kind {
        Kind::Number { quantity, minimum, maximum, .. } => {
            Column { field: Some(field), ..column(key, label, quantity, minimum, maximum) }
        }
        Kind::Choice(_) => panic!("a choice has no range"),
    }
}

/// The same column, in which a row may have no value; in a row with a name it is 0 then.
pub(super) const fn may_lack(column: Column) -> Column {
    Column { optional: true, ..column }
}

impl Column {
    /// Reads a value typed in the unit chosen.
    ///
    /// # Errors
    /// [`EntryError`].
    pub fn read(&self, text: &str, units: &Units) -> Result<f64, EntryError> {
        parse::read_in_range(text, self.quantity, units, self.minimum, self.maximum)
    }

    /// Checks a value.
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
