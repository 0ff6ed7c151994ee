//! The reference arrow, from the current setup or a saved one, as the target.

use crate::context::{Context, Reading};
use crate::library;
use clothyard_core::{Field, Setup};
use clothyard_studies::measurements::proven;
use clothyard_web::bus::Event;
use clothyard_web::protocol::storage;
use clothyard_web::widgets::{field, select};
use clothyard_web::{self as dom, Dom, View};

const CHOICE: &str = "bench-proven-of";
const SAID: &str = "bench-proven-said";

pub(crate) struct ReferenceArrow;

impl View<Context> for ReferenceArrow {
    fn id(&self) -> &'static str {
        "bench-proven"
    }

    fn changed(&mut self, event: &Event, _: &Context) -> bool {
        event.moves_answers() || event.wrote(storage::LIBRARY)
    }

    fn show(&mut self, context: &Context) {
        let Some(now) = super::read(context) else { return };
        list_setups(context);
        dom::write_id("bench-proven-words", &proven::words(&now.setup, now.all(), &now.units));
        dom::hide("bench-proven-drop", now.setup.get(Field::ProvenLoad).is_none());
    }

    fn click(&mut self, dom: &Dom, context: &Context) {
        let Some(now) = context.read() else { return };
        match dom.button_id().as_str() {
            "bench-proven-use" => make_target(&now, context),
            "bench-proven-drop" => {
                super::give(context, &now, Field::ProvenLoad, None);
                // The button that had the focus goes.
                field::focus("#bench-proven-use");
            }
            _ => {}
        }
    }
}

/// This setup, then the kept ones; the choice made stays.
fn list_setups(context: &Context) {
    let kept = library::readable_setups(context).setups;
    let name = |setup: &Setup| {
        if setup.name.is_empty() { "unnamed setup".to_owned() } else { setup.name.clone() }
    };
    let kept: Vec<_> = kept.iter().map(|kept| (kept.id.as_str(), name(&kept.setup))).collect();
    let options = kept.iter().map(|(id, name)| (*id, name.as_str()));
    select::fill(CHOICE, core::iter::once(("", "Current setup")).chain(options));
}

/// Makes the chosen arrow's load the target.
fn make_target(now: &Reading, context: &Context) {
    let chosen = select::chosen(CHOICE);
    let of = if chosen.is_empty() { Some(now.setup.clone()) } else { kept_setup(&chosen, context) };
    let load = of.as_ref().and_then(proven::load);
    let why = if load.is_none() { "That setup has no column load. See its warnings." } else { "" };
    dom::write_id(SAID, why);
    if load.is_some() {
        super::give(context, now, Field::ProvenLoad, load);
    }
}

fn kept_setup(id: &str, context: &Context) -> Option<Setup> {
    let kept = library::readable_setups(context).setups.into_iter().find(|kept| kept.id == id);
    kept.map(|kept| kept.setup)
}
