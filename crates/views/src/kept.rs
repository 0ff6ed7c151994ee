//! Setups kept by name, as another view keeps them, and ids for what is kept.

use clothyard_core::report::ErrorReport;
use clothyard_studies::sharing::reading::ReadableSetups;
use clothyard_web::protocol::storage;
use clothyard_web::{self as dom, plain, store};
use js_sys::Math;

/// An id that no other entry has, of this browser or another.
pub(crate) fn fresh_id() -> String {
    format!("{:x}-{:x}", dom::now() as u64, (Math::random() * 4_294_967_296.0) as u64)
}

/// What can be read of the kept setups.
///
/// # Errors
/// Why the list itself cannot be read.
pub(crate) fn readable_setups() -> Result<ReadableSetups, ErrorReport> {
    store::get(storage::LIBRARY).map_or_else(|| Ok(ReadableSetups::default()), |text| plain::from_json(&text))
}
