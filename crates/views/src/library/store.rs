//! What this browser stores beside the records: the list of earlier versions where it cannot be read, and setups that
//! were in the way of others.

use crate::context::Context;
use crate::records::Kind;
use clothyard_core::Setup;
use clothyard_core::report::ErrorReport;
use clothyard_core::setup::PageState;
use clothyard_studies::sharing::library::{Library, StoredSetup};
use clothyard_studies::sharing::reading::{KeptSetup, ReadableSetups};
use clothyard_web::protocol::storage;
use clothyard_web::store::{self, Store};
use clothyard_web::{self as dom, plain};
use core::sync::atomic::{AtomicU16, Ordering};
use js_sys::{Date, Math};

/// The setups and parts of earlier versions, where they could not be moved into the records.
pub(super) static LIBRARY: Store<Library> = Store::new(storage::LIBRARY);

static BEFORE_LINK: Store<PageState> = Store::new(storage::BEFORE_LINK);
static FROM_LINK: Store<PageState> = Store::new(storage::FROM_LINK);

/// What can be read of the stored setups.
pub(crate) fn readable_setups(context: &Context) -> ReadableSetups {
    let contents = context.records.contents();
    let read = |stored: &StoredSetup| Some((stored.id.clone(), Setup::from_saved(&stored.setup).ok()?));
    let setups = contents.library.setups.iter().filter_map(read).map(|(id, setup)| KeptSetup { id, setup }).collect();
    let unread = contents.unread.iter().filter(|record| record.kind == Kind::Setup).count();
    ReadableSetups { setups, unread }
}

/// Adds setups to the library by their names; the view gets the reply.
///
/// # Errors
/// Why none was added, in a sentence.
pub(crate) fn add(setups: &[Setup], view: &'static str, context: &Context) -> Result<(), String> {
    context.records.change(view, &mut |contents| {
        // The newest comes first in the list.
        for setup in setups.iter().rev() {
            let stored = StoredSetup { id: fresh_id(), saved_on: today(), setup: setup.to_saved() };
            contents.library.add_setup(stored)?;
        }
        Ok(())
    })
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

/// An id that no other entry has, of this browser or another, after those given before.
pub(crate) fn fresh_id() -> String {
    static GIVEN: AtomicU16 = AtomicU16::new(0);
    let count = GIVEN.fetch_add(1, Ordering::Relaxed);
    format!("{:x}-{count:04x}-{:x}", dom::now() as u64, (Math::random() * 4_294_967_296.0) as u64)
}
