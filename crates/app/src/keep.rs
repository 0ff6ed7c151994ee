//! Browser storage: the setup, unreadable drafts, units and theme.

use clothyard_core::Units;
use clothyard_core::setup::{Drafts, PageState, Setup};
use clothyard_web::protocol::storage;
use clothyard_web::store::{self, Store, Unread};

static STATE: Store<PageState> = Store::new(storage::SETUP);

/// Keeps the setup.
///
/// # Errors
/// Why the browser did not keep it.
pub(crate) fn save(setup: &Setup, drafts: &Drafts) -> Result<(), &'static str> {
    STATE.write(&PageState { setup: setup.clone(), drafts: drafts.clone() })
}

/// Looks for the setup of last time.
///
/// # Errors
/// One that cannot be read, and why; it is put aside at once, which the page says.
pub(crate) fn find() -> Result<Option<PageState>, Unread> {
    STATE.read_or_put_aside()
}

pub(crate) fn save_units(units: &Units) {
    let _ = store::put(storage::UNITS, &units.to_text());
}

pub(crate) fn units() -> Units {
    Units::from_text(&store::get(storage::UNITS).unwrap_or_default())
}

pub(crate) fn save_looks(looks: &str) {
    let _ = store::put(storage::LOOKS, looks);
}

pub(crate) fn looks() -> String {
    let looks = store::get(storage::LOOKS).filter(|looks| ["light", "dark"].contains(&looks.as_str()));
    looks.unwrap_or_else(|| "system".to_owned())
}
