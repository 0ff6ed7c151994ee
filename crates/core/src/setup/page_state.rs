//! What the page keeps of itself between two visits.

use super::Setup;
use crate::ordered_map::OrderedMap;
use serde::Serialize;

/// What was typed and cannot be read, by the field's key.
pub type Drafts = OrderedMap<String, String>;

/// The page's setup, with what was typed and cannot be read.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PageState {
    /// The setup.
    #[serde(rename = "build")]
    pub setup: Setup,
    /// What cannot be read.
    pub drafts: Drafts,
}
