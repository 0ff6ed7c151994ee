//! What the page stores between visits.

use super::Setup;
use crate::ordered_map::OrderedMap;
use serde::Serialize;

/// Text that was typed and cannot be read, by the key of the field.
pub type Drafts = OrderedMap<String, String>;

/// The setup of the page, with typed text that cannot be read.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PageState {
    /// The setup.
    #[serde(rename = "build")]
    pub setup: Setup,
    /// Typed text that cannot be read.
    pub drafts: Drafts,
}

impl PageState {
    /// A setup without such text.
    #[must_use]
    pub fn new(setup: Setup) -> Self {
        Self { setup, drafts: Drafts::default() }
    }
}
