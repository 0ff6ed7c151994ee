//! What the browser keeps for this view: the held setup, and the list of kept ones, which another view writes.

use clothyard_core::Setup;
use clothyard_core::report::ErrorReport;
use clothyard_studies::sharing::reading::ReadableSetups;
use clothyard_web::plain;
use clothyard_web::protocol::storage;
use clothyard_web::store::{self, Store};

/// The setup held as A.
pub(super) static HELD: Store<Setup> = Store::new(storage::HELD);

/// The list of kept setups as it is, unread; empty where there is none.
pub(super) fn kept_text() -> String {
    store::get(storage::LIBRARY).unwrap_or_default()
}

/// What can be read of the kept setups.
///
/// # Errors
/// Why the list itself cannot be read.
pub(super) fn kept(text: &str) -> Result<ReadableSetups, ErrorReport> {
    if text.is_empty() { Ok(ReadableSetups::default()) } else { plain::from_json(text) }
}
