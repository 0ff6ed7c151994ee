//! A saved setup and what the page keeps, read from plain objects.

use super::{FromPlain, Node, Plain};
use crate::report::ErrorReport;
use crate::schema::StockShaft;
use crate::setup::{OwnPart, PageState, SCHEMA_VERSION, SavedSetup, SavedValue, Setup};

impl FromPlain for Setup {
    const NAME: &'static str = SavedSetup::NAME;

    fn from_plain<P: Plain>(node: &Node<P>) -> Result<Self, ErrorReport> {
        Self::from_saved(&SavedSetup::from_plain(node)?).map_err(|error| ErrorReport::of(&error))
    }
}

impl FromPlain for SavedSetup {
    const NAME: &'static str = "the build";

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
        value.ok_or_else(|| node.wrong("a number or a text is wanted"))
    }
}

impl FromPlain for OwnPart {
    fn from_plain<P: Plain>(node: &Node<P>) -> Result<Self, ErrorReport> {
        let mut object = node.object()?;
        let part = Self {
            name: object.read("name")?,
            mass_gr: object.read("massGr")?,
            centre_in: object.read("centreIn")?,
            length_in: object.read("lengthIn")?,
        };
        object.end().map(|()| part)
    }
}

impl FromPlain for StockShaft {
    fn from_plain<P: Plain>(node: &Node<P>) -> Result<Self, ErrorReport> {
        let mut object = node.object()?;
        let shaft = Self {
            name: object.read("name")?,
            static_spine_thousandths: object.read("staticSpineThousandths")?,
            shaft_gr_per_in: object.read("shaftGrPerIn")?,
            outer_diameter_in: object.read("outerDiameterIn")?,
            bore_in: object.read("boreIn")?,
        };
        object.end().map(|()| shaft)
    }
}

impl FromPlain for PageState {
    const NAME: &'static str = "What was kept";

    fn from_plain<P: Plain>(node: &Node<P>) -> Result<Self, ErrorReport> {
        let mut object = node.object()?;
        let state = Self { setup: object.read("build")?, drafts: object.read_or_default("drafts")? };
        object.end().map(|()| state)
    }
}
