//! A setup as the user gave it, and its saved form.
//!
//! An input that is not given has its default. The saved form is JSON with `schemaVersion`; its keys contain their
//! units ([`crate::schema::INPUTS`]).

mod flying;
mod given;
mod known;
mod model;
mod page_state;
pub mod readings;
mod resolved;
pub mod samples;
mod shaft;
mod usual;
mod vanes;

pub use flying::*;
pub use known::*;
pub use model::*;
pub use page_state::*;
pub use resolved::*;
pub(crate) use usual::LIGHT_BOW_LB;
pub use vanes::*;

use crate::ordered_map::OrderedMap;
use crate::parse::EntryError;
use crate::schema::{
    Choice, FIELD_COUNT, Field, List, Lists, NamedRow, OwnPart, Row, RowError, StockShaft, Value, shafts,
};
use serde::{Serialize, Serializer};

/// The schema this version writes, and the newest it reads.
pub const SCHEMA_VERSION: u32 = 1;

/// Maximum length of a name, in characters.
pub const MAX_NAME_CHARS: usize = 80;

/// Maximum length of a currency symbol, in characters.
pub const MAX_CURRENCY_CHARS: usize = 8;

/// A setup: what the user gave.
#[derive(Clone, Debug, PartialEq)]
pub struct Setup {
    /// Name of the setup.
    pub name: String,
    values: [Option<Value>; FIELD_COUNT],
    /// Parts added by the user.
    pub own_parts: Vec<OwnPart>,
    /// The shafts to choose from.
    pub shafts: Vec<StockShaft>,
    /// Distances and readings.
    pub lists: Lists,
    /// Rule book and year of the limits.
    pub rule_source: String,
    /// Currency symbol of the prices.
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
    /// The value the user gave for an input.
    #[must_use]
    pub fn get(&self, field: Field) -> Option<Value> {
        self.values.get(field as usize).copied().flatten()
    }

    /// Sets an input alone.
    fn put(&mut self, field: Field, value: Option<Value>) -> Result<(), EntryError> {
        let checked = value.map(|value| field.input().check(value)).transpose()?;
        if let Some(slot) = self.values.get_mut(field as usize) {
            *slot = checked;
        }
        Ok(())
    }

    /// Sets a choice.
    pub fn choose<C: Choice>(&mut self, answer: C) {
        if let Some(slot) = self.values.get_mut(C::FIELD as usize) {
            *slot = Some(answer.into());
        }
    }

    /// Whether the list of shafts is the user's own, not the built-in one.
    #[must_use]
    pub fn has_own_shafts(&self) -> bool {
        self.shafts != shafts::invented_shafts()
    }

    /// Inputs and readings, without name, own parts and list of shafts.
    pub fn fields_alone(&self) -> Self {
        Self { values: self.values, lists: self.lists.clone(), shafts: Vec::new(), ..Self::default() }
    }

    /// The setup with one number changed.
    ///
    /// # Errors
    /// As [`Setup::set`].
    pub fn with(mut self, field: Field, number: f64) -> Result<Self, EntryError> {
        self.set(field, Some(Value::Number(number)))?;
        Ok(self)
    }

    /// Reads a saved setup and checks every value.
    ///
    /// # Errors
    /// [`SetupError`] with the key and what is allowed.
    pub fn from_saved(saved: &SavedSetup) -> Result<Self, SetupError> {
        if saved.schema_version > SCHEMA_VERSION || saved.schema_version == 0 {
            return Err(SetupError::Schema { found: saved.schema_version, newest: SCHEMA_VERSION });
        }
        let mut setup = Self { name: text(&saved.name, "name", MAX_NAME_CHARS)?, ..Self::default() };
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
        setup.rule_source = text(&saved.rule_source, "ruleSource", MAX_NAME_CHARS)?;
        setup.currency = text(&saved.currency, "currency", MAX_CURRENCY_CHARS)?;
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
        self.put(field, Some(value)).map_err(|error| SetupError::Value { key: input.key, error })
    }

    /// The saved form. The list of shafts is omitted if it is the built-in one.
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
            shafts: self.has_own_shafts().then(|| self.shafts.clone()),
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

/// Serialized in the saved form.
impl Serialize for Setup {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        self.to_saved().serialize(serializer)
    }
}

fn check_count(found: usize, key: &'static str, max: usize) -> Result<(), SetupError> {
    if found > max { Err(SetupError::TooMany { key, max }) } else { Ok(()) }
}

fn text(saved: &str, key: &'static str, max: usize) -> Result<String, SetupError> {
    check_count(saved.chars().count(), key, max)?;
    Ok(saved.to_owned())
}

fn checked_rows<T: NamedRow>(rows: &[T]) -> Result<Vec<T>, SetupError> {
    check_count(rows.len(), T::TABLE.key, T::TABLE.max_rows)?;
    for row in rows {
        row.check().map_err(|(key, error)| SetupError::Value { key, error })?;
        check_count(row.name().chars().count(), T::NAME_KEY, MAX_NAME_CHARS)?;
    }
    Ok(rows.to_vec())
}

/// A value in a saved setup.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(untagged)]
pub enum SavedValue {
    /// A number in the unit of its key.
    Number(f64),
    /// The key of an answer.
    Text(String),
}

impl SavedValue {
    /// The saved form of an input's value; `None` for an answer that is not in its list.
    #[must_use]
    pub fn of(field: Field, value: Value) -> Option<Self> {
        Some(match value {
            Value::Number(number) => Self::Number(number),
            Value::Choice(place) => Self::Text(field.input().choices().get(usize::from(place))?.key.to_owned()),
        })
    }
}

/// The saved form of a setup.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct SavedSetup {
    /// Version of the schema.
    pub schema_version: u32,
    /// Name of the setup.
    pub name: String,
    /// The inputs the user gave, by key.
    pub inputs: OrderedMap<String, SavedValue>,
    /// Parts added by the user.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub own_parts: Vec<OwnPart>,
    /// The user's list of shafts; omitted if it is the built-in one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub shafts: Option<Vec<StockShaft>>,
    /// Lists by key: a number or null for each column ([`crate::schema::LISTS`]).
    #[serde(skip_serializing_if = "OrderedMap::is_empty")]
    pub lists: OrderedMap<String, Vec<Row>>,
    /// Rule book and year of the limits.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub rule_source: String,
    /// Currency symbol of the prices.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub currency: String,
}

/// Why a saved setup cannot be read.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum SetupError {
    /// Written by a newer version.
    Schema {
        /// The schema found.
        found: u32,
        /// The newest this version reads.
        newest: u32,
    },
    /// An unknown key.
    UnknownKey {
        /// The key.
        key: String,
    },
    /// An answer that is not in the list.
    UnknownAnswer {
        /// The key.
        key: &'static str,
        /// The answer.
        answer: String,
    },
    /// A value that is not allowed.
    Value {
        /// The key.
        key: &'static str,
        /// Why it is refused.
        error: EntryError,
    },
    /// Rows that are refused.
    Rows {
        /// The list's key.
        key: &'static str,
        /// Why it is refused.
        error: RowError,
    },
    /// An empty list that must not be empty.
    Empty {
        /// The key.
        key: &'static str,
    },
    /// More than is allowed.
    TooMany {
        /// The key.
        key: &'static str,
        /// Maximum allowed.
        max: usize,
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
