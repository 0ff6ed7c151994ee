//! Browser storage: the setup, unreadable drafts, units and theme.

use clothyard_core::Units;
use clothyard_core::setup::{Drafts, PageState, Setup};
use clothyard_web::locale;
use clothyard_web::protocol::storage;
use clothyard_web::store::{self, Store, Unread};

static OWN: Store<PageState> = Store::new(storage::SETUP);
/// What came by link into this tab.
static VISITED: Store<PageState> = Store::of_tab(storage::FROM_LINK);

/// Keeps the setup: the user's own, or one that came by link, which the next visit can ask for.
///
/// # Errors
/// Why the browser did not keep it.
pub(crate) fn save(setup: &Setup, drafts: &Drafts, visiting: bool) -> Result<(), &'static str> {
    let state = PageState { setup: setup.clone(), drafts: drafts.clone() };
    if visiting {
        VISITED.write(&state)?;
        return store::put(storage::FROM_LINK, &VISITED.text());
    }
    OWN.write(&state)?;
    VISITED.clear()
}

/// Looks for the setup of last time, which in this tab may have come by link.
///
/// # Errors
/// One that cannot be read, and why; it is put aside at once, which the page says.
pub(crate) fn find() -> Result<(Option<PageState>, bool), Unread> {
    match VISITED.read_or_put_aside() {
        Ok(Some(visited)) => Ok((Some(visited), true)),
        _ => Ok((find_own()?, false)),
    }
}

/// Looks for the user's own setup of last time.
///
/// # Errors
/// As [`find`].
pub(crate) fn find_own() -> Result<Option<PageState>, Unread> {
    OWN.read_or_put_aside()
}

/// Keeps the user's own setup aside before another takes its place.
pub(crate) fn put_own_aside() {
    let own = OWN.text();
    if !own.is_empty() {
        let _ = store::put(storage::BEFORE_LINK, &own);
    }
}

pub(crate) fn save_units(units: &Units) {
    let _ = store::put(storage::UNITS, &units.to_text());
}

pub(crate) fn units() -> Units {
    store::get(storage::UNITS).map_or_else(locale::units, |text| Units::from_text(&text))
}

pub(crate) fn save_looks(looks: &str) {
    let _ = store::put(storage::LOOKS, looks);
}

pub(crate) fn looks() -> String {
    let looks = store::get(storage::LOOKS).filter(|looks| ["light", "dark"].contains(&looks.as_str()));
    looks.unwrap_or_else(|| "system".to_owned())
}
