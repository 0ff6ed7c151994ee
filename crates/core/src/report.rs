//! Why a saved setup is refused, as scripts and the page read it.

use crate::format;
use crate::parse::EntryError;
use crate::schema::{Field, RowError};
use crate::setup::SetupError;
use crate::units::Units;
use core::ops::Deref;
use serde::Serialize;

/// The code of what a newer version wrote.
const NEWER: &str = "schema";

/// An error as it crosses to scripts. It is one pointer, because it is passed on in many places.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(transparent)]
pub struct ErrorReport(Box<Report>);

impl Deref for ErrorReport {
    type Target = Report;

    fn deref(&self) -> &Report {
        &self.0
    }
}

/// What is wrong, in which field, and what is allowed.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct Report {
    /// What kind of error.
    pub code: &'static str,
    /// The field's key.
    pub field: String,
    /// What stood there, if it is a number.
    pub value: Option<f64>,
    /// Least allowed, if there is a range.
    pub minimum: Option<f64>,
    /// Most allowed, if there is a range.
    pub maximum: Option<f64>,
    /// In words.
    pub message: String,
}

impl ErrorReport {
    /// Something else is wanted at a place.
    #[must_use]
    pub fn shape(place: &str, wanted: &str) -> Self {
        Self::plain("shape", place, format!("{place}: {wanted}."))
    }

    /// A text is no JSON.
    #[must_use]
    pub fn not_json(why: &str) -> Self {
        Self::shape("The text", &format!("not JSON ({why})"))
    }

    /// A version newer than the newest that is read.
    #[must_use]
    pub fn newer(found: u32, newest: u32, what: &str) -> Self {
        let message =
            format!("schemaVersion {found}: this version reads 1 to {newest}; a newer {what} needs a newer page.");
        Self::plain(NEWER, "schemaVersion", message)
    }

    /// Whether a newer version wrote it: then it is sound, and of use to that.
    #[must_use]
    pub fn is_newer(&self) -> bool {
        self.code == NEWER
    }

    /// Its words.
    #[must_use]
    pub fn into_message(self) -> String {
        self.0.message
    }

    /// The same error in other words.
    #[must_use]
    pub fn with_message(mut self, message: String) -> Self {
        self.0.message = message;
        self
    }

    fn plain(code: &'static str, field: &str, message: String) -> Self {
        Self(Box::new(Report { code, field: field.to_owned(), value: None, minimum: None, maximum: None, message }))
    }

    /// Why a saved build cannot be read.
    #[must_use]
    pub fn of(error: &SetupError) -> Self {
        match error {
            SetupError::Schema { found, newest } => Self::newer(*found, *newest, "build"),
            SetupError::UnknownKey { key } => Self::plain("unknownKey", key, format!("{key}: unknown input.")),
            SetupError::UnknownAnswer { key, answer } => {
                let known: Vec<_> = Field::by_key(key)
                    .map_or(&[][..], |field| field.input().choices())
                    .iter()
                    .map(|choice| choice.key)
                    .collect();
                Self::plain(
                    "unknownAnswer",
                    key,
                    format!("{key}: \u{201c}{answer}\u{201d} is not one of {}.", known.join(", ")),
                )
            }
            SetupError::TooMany { key, max } => Self::plain("tooMany", key, format!("{key}: at most {max}.")),
            SetupError::Empty { key } => Self::plain("empty", key, format!("{key}: at least one.")),
            SetupError::Rows { key, error } => Self::of_rows(key, error),
            SetupError::Value { key, error } => Self::of_value(key, error),
        }
    }

    fn of_rows(key: &str, error: &RowError) -> Self {
        let (place, message) = match error {
            RowError::TooMany { max } => (key.to_owned(), format!("{key}: at most {max} rows.")),
            RowError::Shape { row, columns } => {
                let place = format!("{key}[{row}]");
                let message = format!("{place}: a row has {columns} numbers.");
                (place, message)
            }
            RowError::Value { row, key: column, error } => {
                return Self::of_value(&format!("{key}[{row}].{column}"), error);
            }
        };
        Self::plain("rows", &place, message)
    }

    fn of_value(key: &str, error: &EntryError) -> Self {
        let (value, minimum, maximum) = match *error {
            EntryError::OutOfRange { value, minimum, maximum } => (Some(value), Some(minimum), Some(maximum)),
            _ => (None, None, None),
        };
        let message = match (Field::by_key(key), error) {
            (Some(field), error) => format!("{key}: {}", format::entry_message(field.input(), error, &Units::ARCHERY)),
            (None, EntryError::OutOfRange { value, minimum, maximum }) => {
                let number = |value: &f64| format::trimmed(*value, 4);
                format!("{key}: {} is outside {} to {}.", number(value), number(minimum), number(maximum))
            }
            (None, _) => format!("{key}: not an allowed number."),
        };
        Self(Box::new(Report { code: "value", field: key.to_owned(), value, minimum, maximum, message }))
    }
}
