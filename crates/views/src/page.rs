//! The context, for sections that are not views of the registry yet.

use crate::context::{Context, Reading as Read};
use clothyard_core::{Setup, Units};
use clothyard_web::protocol::event;
use clothyard_web::{self as dom};
use std::rc::Rc;

pub(crate) type Reading = Read;

fn with<T>(ask: impl FnOnce(&Context) -> T) -> Option<T> {
    crate::context().as_deref().map(ask)
}

/// What stands on the page.
pub(crate) fn read() -> Option<Rc<Reading>> {
    with(Context::read)?
}

/// The set-up on the page.
pub(crate) fn setup() -> Option<Setup> {
    with(Context::setup)?
}

/// The units chosen on the page.
pub(crate) fn units() -> Units {
    with(Context::units).unwrap_or(Units::ARCHERY)
}

/// Puts a set-up on the page, undoably.
pub(crate) fn load(setup: &Setup) {
    with(|context| context.load(setup));
}

/// Calls back whenever the set-up or the units on the page have changed.
pub(crate) fn on_change(handler: fn(web_sys::Event)) {
    for name in [event::SETUP, event::UNITS] {
        dom::window().iter().for_each(|window| dom::listen(window, name, handler));
    }
}
