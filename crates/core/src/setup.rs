//! A setup as a person gave it, and its saved form.
//!
//! A field that is not given has its default value. The saved form is JSON with `schemaVersion`; its keys carry their
//! units ([`crate::schema::INPUTS`]).

mod model;
mod page_state;
pub mod readings;
mod resolved;
pub mod samples;
mod usual;
mod vanes;

pub use model::*;
pub use page_state::*;
pub use resolved::*;
pub use vanes::*;

use crate::ordered_map::OrderedMap;
use crate::parse::EntryError;
pub use crate::schema::OwnPart;
use crate::schema::{Choice, FIELD_COUNT, Field, List, Lists, NamedRow, Row, RowError, StockShaft, Value, shafts};
use serde::{Serialize, Serializer};

/// The schema this version writes, and the newest it reads.
pub const SCHEMA_VERSION: u32 = 1;

/// Most characters of a name.
pub const MOST_NAME_CHARS: usize = 80;

/// Most characters of a currency's sign.
pub const MOST_CURRENCY_CHARS: usize = 8;

/// A setup: what the user gave. Everything else has its default value.
#[derive(Clone, Debug, PartialEq)]
pub struct Setup {
    /// Its name.
    pub name: String,
    values: [Option<Value>; FIELD_COUNT],
    /// Parts of the user's own.
    pub own_parts: Vec<OwnPart>,
    /// The shafts to choose from.
    pub shafts: Vec<StockShaft>,
    /// Distances and readings.
    pub lists: Lists,
    /// Which rule book, and of which year, the limits are from.
    pub rule_source: String,
    /// The sign of the currency that prices are in.
    pub currency: String,
}

impl Default for Setup {
    fn default() -> Self {
        Self {
            name: String::new(),
            values: [None; FIELD_COUNT],
            own_parts: Vec::new(),
            shafts: shafts::invented_shafts(),
            lists: Lists::default(),
            rule_source: String::new(),
            currency: String::new(),
        }
    }
}

impl Setup {
    /// What the user gave for a field.
    #[must_use]
    pub fn get(&self, field: Field) -> Option<Value> {
        self.values.get(field as usize).copied().flatten()
    }

    /// Gives a field a value, or resets it to its default with `None`, which cannot fail.
    ///
    /// # Errors
    /// [`EntryError`] where the value is not allowed; the setup is unchanged.
    pub fn set(&mut self, field: Field, value: Option<Value>) -> Result<(), EntryError> {
        let checked = value.map(|value| field.input().check(value)).transpose()?;
        if let Some(slot) = self.values.get_mut(field as usize) {
            *slot = checked;
        }
        Ok(())
    }

    /// Gives a choice its answer.
    pub fn choose<C: Choice>(&mut self, answer: C) {
        if let Some(slot) = self.values.get_mut(C::FIELD as usize) {
            *slot = Some(answer.into());
        }
    }

    /// Fields and readings alone, without name, own parts and list of shafts.
    pub fn fields_alone(&self) -> Self {
        Self { values: self.values, lists: self.lists.clone(), shafts: Vec::new(), ..Self::default() }
    }

    /// The same setup with one number changed; a value out of range is an error.
    ///
    /// # Errors
    /// As [`Setup::set`].
    pub fn with(mut self, field: Field, number: f64) -> Result<Self, EntryError> {
        self.set(field, Some(Value::Number(number)))?;
        Ok(self)
    }

    /// Reads a saved setup, checking every value.
    ///
    /// # Errors
    /// [`SetupError`], naming the key and what is allowed.
    pub fn from_saved(saved: &SavedSetup) -> Result<Self, SetupError> {
        if saved.schema_version > SCHEMA_VERSION || saved.schema_version == 0 {
            return Err(SetupError::Schema { found: saved.schema_version, newest: SCHEMA_VERSION });
        }
        let mut setup = Self { name: text(&saved.name, "name", MOST_NAME_CHARS)?, ..Self::default() };
        for (key, value) in &saved.inputs.0 {
            setup.set_saved(key, value)?;
        }
        setup.own_parts = checked_rows(&saved.own_parts)?;
        if let Some(shafts) = &saved.shafts {
            if shafts.is_empty() {
                return Err(SetupError::Empty { key: StockShaft::TABLE.key });
            }
            setup.shafts = checked_rows(shafts)?;
        }
        for (key, rows) in &saved.lists.0 {
            let list = List::by_key(key).ok_or_else(|| SetupError::UnknownKey { key: key.clone() })?;
            setup.lists.set(list, rows.clone()).map_err(|error| SetupError::Rows { key: list.spec().key, error })?;
        }
        setup.rule_source = text(&saved.rule_source, "ruleSource", MOST_NAME_CHARS)?;
        setup.currency = text(&saved.currency, "currency", MOST_CURRENCY_CHARS)?;
        Ok(setup)
    }

    fn set_saved(&mut self, key: &str, saved: &SavedValue) -> Result<(), SetupError> {
        let field = Field::by_key(key).ok_or_else(|| SetupError::UnknownKey { key: key.to_owned() })?;
        let input = field.input();
        let value = match saved {
            SavedValue::Number(number) => Value::Number(*number),
            SavedValue::Text(text) => input
                .with_key(text)
                .ok_or_else(|| SetupError::UnknownAnswer { key: input.key, answer: text.clone() })?,
        };
        self.set(field, Some(value)).map_err(|error| SetupError::Value { key: input.key, error })
    }

    /// The saved form. The list of shafts is left out while it is the one this version ships.
    #[must_use]
    pub fn to_saved(&self) -> SavedSetup {
        let inputs = Field::ALL
            .iter()
            .filter_map(|&field| Some((field.input().key.to_owned(), SavedValue::of(field, self.get(field)?)?)));
        SavedSetup {
            schema_version: SCHEMA_VERSION,
            name: self.name.clone(),
            inputs: inputs.collect(),
            own_parts: self.own_parts.clone(),
            shafts: (self.shafts != shafts::invented_shafts()).then(|| self.shafts.clone()),
            lists: List::ALL
                .into_iter()
                .map(|list| (list.spec().key.to_owned(), self.lists.rows(list).to_vec()))
                .filter(|(_, rows)| !rows.is_empty())
                .collect(),
            rule_source: self.rule_source.clone(),
            currency: self.currency.clone(),
        }
    }
}

/// Written in the saved form.
impl Serialize for Setup {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        self.to_saved().serialize(serializer)
    }
}

fn at_most(found: usize, key: &'static str, most: usize) -> Result<(), SetupError> {
    if found > most { Err(SetupError::TooMany { key, most }) } else { Ok(()) }
}

fn text(saved: &str, key: &'static str, most: usize) -> Result<String, SetupError> {
    at_most(saved.chars().count(), key, most)?;
    Ok(saved.to_owned())
}

fn checked_rows<T: NamedRow>(rows: &[T]) -> Result<Vec<T>, SetupError> {
    at_most(rows.len(), T::TABLE.key, T::TABLE.max_rows)?;
    for row in rows {
        row.check().map_err(|(key, error)| SetupError::Value { key, error })?;
        at_most(row.name().chars().count(), T::NAME_KEY, MOST_NAME_CHARS)?;
    }
    Ok(rows.to_vec())
}

/// A value in a saved build.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(untagged)]
pub enum SavedValue {
    /// A number in the unit its key names.
    Number(f64),
    /// The key of an answer.
    Text(String),
}

impl SavedValue {
    /// The saved form of a field's value; none for a choice's answer that is not in its list.
    #[must_use]
    pub fn of(field: Field, value: Value) -> Option<Self> {
        Some(match value {
            Value::Number(number) => Self::Number(number),
            Value::Choice(place) => Self::Text(field.input().choices().get(usize::from(place))?.key.to_owned()),
        })
    }
}

/// The saved form of a setup, as JSON holds it.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct SavedSetup {
    /// Schema of what follows.
    pub schema_version: u32,
    /// Name of the set-up.
    pub name: String,
    /// What the user gave, by key; what is not here has its default value.
    pub inputs: OrderedMap<String, SavedValue>,
    /// Parts of the user's own.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub own_parts: Vec<OwnPart>,
    /// The user's list of shafts; left out while it is the one this version ships.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub shafts: Option<Vec<StockShaft>>,
    /// Distances and readings, by key: a number, or null, for each column ([`crate::schema::LISTS`]).
    #[serde(skip_serializing_if = "OrderedMap::is_empty")]
    pub lists: OrderedMap<String, Vec<Row>>,
    /// Which rule book, and of which year, the limits are from.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub rule_source: String,
    /// The sign of the currency that prices are in.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub currency: String,
}

/// Why a saved build cannot be read.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum SetupError {
    /// Written by a newer version (or by none).
    Schema {
        /// The schema found.
        found: u32,
        /// The newest this version reads.
        newest: u32,
    },
    /// A key that names no input.
    UnknownKey {
        /// The key.
        key: String,
    },
    /// An answer that is not in the list.
    UnknownAnswer {
        /// The key.
        key: &'static str,
        /// What stood there.
        answer: String,
    },
    /// A value that is not allowed.
    Value {
        /// The key.
        key: &'static str,
        /// Why not.
        error: EntryError,
    },
    /// Rows that their list does not allow.
    Rows {
        /// The list's key.
        key: &'static str,
        /// Why not.
        error: RowError,
    },
    /// A list that needs at least one entry.
    Empty {
        /// The key.
        key: &'static str,
    },
    /// More than is allowed.
    TooMany {
        /// The key.
        key: &'static str,
        /// Most allowed.
        most: usize,
    },
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plain::from_json;
    use crate::testing::any_setup;
    use proptest::prelude::*;

    fn saved(json: &str) -> Result<Setup, SetupError> {
        Setup::from_saved(&from_json(json).unwrap())
    }

    #[test]
    fn messages_name_the_key() {
        let newer = SavedSetup { schema_version: 2, ..SavedSetup::default() };
        assert_eq!(Setup::from_saved(&newer), Err(SetupError::Schema { found: 2, newest: 1 }));
        assert_eq!(
            saved(r#"{"schemaVersion":1,"inputs":{"nope":1}}"#),
            Err(SetupError::UnknownKey { key: "nope".into() })
        );
        assert!(matches!(
            saved(r#"{"schemaVersion":1,"inputs":{"pointGr":-5}}"#),
            Err(SetupError::Value { key: "pointGr", error: EntryError::OutOfRange { .. } })
        ));
        assert!(matches!(
            saved(r#"{"schemaVersion":1,"inputs":{"cam":"wild"}}"#),
            Err(SetupError::UnknownAnswer { .. })
        ));
        assert!(matches!(
            saved(r#"{"schemaVersion":1,"inputs":{"cam":3}}"#),
            Err(SetupError::Value { key: "cam", .. })
        ));
    }

    proptest! {
        #[test]
        fn saving_loses_nothing(setup in any_setup()) {
            let text = serde_json::to_string(&setup).unwrap();
            prop_assert_eq!(from_json::<Setup>(&text).unwrap(), setup);
        }
    }
}
