//! What this browser stores. It is read again before every change, so that pages open side by side add to each other's
//! work.

use crate::context::Context;
use clothyard_core::Setup;
use clothyard_core::report::ErrorReport;
use clothyard_core::setup::PageState;
use clothyard_studies::sharing::library::{Library, StoredSetup};
use clothyard_studies::sharing::reading::ReadableSetups;
use clothyard_web::bus::Event;
use clothyard_web::protocol::storage;
use clothyard_web::store::{self, Store, Unchanged};
use clothyard_web::{self as dom, plain};
use js_sys::{Date, Math};

/// The setups and parts stored by name.
pub(super) static LIBRARY: Store<Library> = Store::new(storage::LIBRARY);

static BEFORE_LINK: Store<PageState> = Store::new(storage::BEFORE_LINK);
static FROM_LINK: Store<PageState> = Store::new(storage::FROM_LINK);

/// What can be read of the stored setups.
///
/// # Errors
/// Why the list itself cannot be read.
pub(crate) fn readable_setups() -> Result<ReadableSetups, ErrorReport> {
    store::get(storage::LIBRARY).map_or_else(|| Ok(ReadableSetups::default()), |text| plain::from_json(&text))
}

/// Adds setups to the library by their names.
///
/// # Errors
/// Why none was added, in a sentence.
pub(crate) fn add(setups: &[Setup], context: &Context) -> Result<(), String> {
    let done = LIBRARY.change(&mut |library| {
        // The newest comes first in the list.
        for setup in setups.iter().rev() {
            library.add_setup(StoredSetup { id: fresh_id(), saved_on: today(), setup: setup.to_saved() })?;
        }
        Ok(())
    });
    done.map_err(|why| match why {
        Unchanged::Unread(unread) => format!("Your saved setups cannot be read: {}", unread.error.message),
        Unchanged::Refused(why) => why,
    })?;
    context.post(Event::Stored(Some(storage::LIBRARY.to_owned())));
    Ok(())
}

/// The text of a setup that could not be read at an earlier visit, and why; no reason where this version can read it.
pub(super) fn unread_setup() -> Option<(String, Option<ErrorReport>)> {
    let text = store::get(&store::aside(storage::SETUP))?;
    let error = plain::from_json::<PageState>(&text).err();
    Some((text, error))
}

/// Forgets a setup that could not be read.
pub(super) fn forget_unread_setup() {
    store::forget(&store::aside(storage::SETUP));
}

/// The user's own setup from before one that came by link took its place.
pub(super) fn before_link() -> Option<Setup> {
    Some(BEFORE_LINK.read().ok()??.setup)
}

/// What the last link brought.
pub(super) fn from_link() -> Option<Setup> {
    Some(FROM_LINK.read().ok()??.setup)
}

/// The day, as in ISO 8601.
pub(crate) fn today() -> String {
    let now = Date::new_0();
    format!("{:04}-{:02}-{:02}", now.get_full_year(), now.get_month() + 1, now.get_date())
}

/// An id that no other entry has, of this browser or another.
pub(crate) fn fresh_id() -> String {
    format!("{:x}-{:x}", dom::now() as u64, (Math::random() * 4_294_967_296.0) as u64)
}
