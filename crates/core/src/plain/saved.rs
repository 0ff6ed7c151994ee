//! A saved setup and what the page keeps, read from plain objects.

use super::{FromPlain, Node, Object, Plain};
use crate::report::ErrorReport;
use crate::schema::{Column, NamedRow};
use crate::setup::{PageState, SCHEMA_VERSION, SavedSetup, SavedValue, Setup};

impl FromPlain for Setup {
    const NAME: &'static str = SavedSetup::NAME;

    fn from_plain<P: Plain>(node: &Node<P>) -> Result<Self, ErrorReport> {
        Self::from_saved(&SavedSetup::from_plain(node)?).map_err(|error| ErrorReport::of(&error))
    }
}

impl FromPlain for SavedSetup {
    const NAME: &'static str = "the setup";

    fn from_plain<P: Plain>(node: &Node<P>) -> Result<Self, ErrorReport> {
        let mut object = node.object()?;
        let setup = Self {
            schema_version: object.version(SCHEMA_VERSION, "build")?,
            name: object.read_or_default("name")?,
            inputs: object.read_or_default("inputs")?,
            own_parts: object.read_or_default("ownParts")?,
            shafts: object.read_or_default("shafts")?,
            lists: object.read_or_default("lists")?,
            rule_source: object.read_or_default("ruleSource")?,
            currency: object.read_or_default("currency")?,
        };
        object.end().map(|()| setup)
    }
}

impl FromPlain for SavedValue {
    fn from_plain<P: Plain>(node: &Node<P>) -> Result<Self, ErrorReport> {
        let number = node.value.as_f64().map(Self::Number);
        let value = number.or_else(|| node.value.as_text().map(Self::Text));
        value.ok_or_else(|| node.wrong("expected a number or text"))
    }
}

impl<T: NamedRow> FromPlain for T {
    fn from_plain<P: Plain>(node: &Node<P>) -> Result<Self, ErrorReport> {
        let mut object = node.object()?;
        let name = object.read("name")?;
        let numbers = numbers(&mut object, Self::TABLE.columns)?;
        let row = Self::from_numbers(name, &numbers).ok_or_else(|| node.wrong("expected a number for each column"))?;
        object.end().map(|()| row)
    }
}

/// The number of each column.
fn numbers<P: Plain>(object: &mut Object<P>, columns: &[Column]) -> Result<Vec<f64>, ErrorReport> {
    let read = |column: &Column| match column.optional {
        true => object.read_or_default(column.key),
        false => object.read(column.key),
    };
    columns.iter().map(read).collect()
}

impl FromPlain for PageState {
    const NAME: &'static str = "The saved data";

    fn from_plain<P: Plain>(node: &Node<P>) -> Result<Self, ErrorReport> {
        let mut object = node.object()?;
        let state = Self { setup: object.read("build")?, drafts: object.read_or_default("drafts")? };
        object.end().map(|()| state)
    }
}
