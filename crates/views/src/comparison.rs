//! Comparison: a setup saved as A with the current one as B, and any number of saved ones in a table.

mod kept_setups;
mod pair;

use crate::context::Context;
use clothyard_core::Setup;
use clothyard_studies::analysis::compare::EvaluatedSetup;
use clothyard_web::bus::Event;
use clothyard_web::protocol::storage;
use clothyard_web::store::Store;
use clothyard_web::widgets::field;
use clothyard_web::widgets::table::Table;
use clothyard_web::{self as dom, Dom, View};
use std::rc::Rc;
use web_sys::{Element, HtmlInputElement};

static HELD: Store<Setup> = Store::new(storage::HELD);

pub(crate) struct Comparison {
    pair: pair::Pair,
    kept: kept_setups::KeptSetups,
}

impl Comparison {
    pub(crate) fn new() -> Self {
        Self { pair: pair::Pair::new(), kept: kept_setups::KeptSetups::new() }
    }
}

impl View<Context> for Comparison {
    fn id(&self) -> &'static str {
        "beside"
    }

    fn start(&mut self, context: &Context) {
        find_held(context);
        if let Some(button) = dom::by_id("beside-hold") {
            dom::flag(&button, "disabled", false);
        }
    }

    fn changed(&mut self, event: &Event, context: &Context) -> bool {
        if event.wrote(storage::HELD) {
            find_held(context);
        }
        let list_changed = event.wrote(storage::LIBRARY);
        self.kept.stale |= list_changed;
        list_changed || event.moves_answers()
    }

    fn show(&mut self, context: &Context) {
        let Some(now) = context.read() else { return };
        self.pair.show(context.held().as_deref(), now.evaluated(), &now.units);
        self.kept.show(now.all(), &now.units, context);
    }

    fn click(&mut self, dom: &Dom, context: &Context) {
        match dom.button_id().as_str() {
            "beside-hold" => hold(context, "Saved as A. Change an input to see the differences."),
            "beside-swap" => swap(context),
            "beside-let-go" => let_go(context),
            _ => {}
        }
    }

    fn change(&mut self, dom: &Dom, context: &Context) {
        let Some(input) = dom.target_as::<HtmlInputElement>() else { return };
        match input.get_attribute(kept_setups::ID) {
            Some(id) => self.kept.choose(&id, input.checked()),
            None => self.pair.all_results = input.checked(),
        }
        self.show(context);
    }
}

/// A table whose units may be under their numbers where it is narrow.
fn table(id: &str) -> Table {
    Table::new(id).written_by(|cell: &Element, words: &str| {
        let unit = words.split_once('\u{a0}').filter(|(_, unit)| !unit.contains(' '));
        let (number, unit) = unit.unwrap_or((words, ""));
        cell.set_text_content(Some(number));
        if !unit.is_empty() {
            dom::add(cell, "span", "", &format!("\u{a0}{unit}"));
        }
    })
}

/// Reads the setup held; one that cannot be read is shown as it is.
fn find_held(context: &Context) {
    let found = HELD.read_or_put_aside();
    dom::hide("beside-unread", found.is_ok());
    if let Err(unread) = &found {
        let why = unread.error.message.trim_end_matches('.');
        let words = format!("The setup saved for comparison could not be read ({why}). Its text is set aside:");
        dom::write_id("beside-unread-why", &words);
        dom::write_id("beside-unread-text", &unread.text);
    }
    context.hold(found.ok().flatten().map(|setup| Rc::new(EvaluatedSetup::new(setup))));
}

fn say(words: &str) {
    dom::write_id("beside-said", words);
}

/// Holds the setup on the page, and says so.
fn hold(context: &Context, done: &str) {
    let Some(now) = context.read() else { return };
    match HELD.write(&now.setup) {
        Ok(()) => say(done),
        Err(why) => say(&format!("Saved as A until this page is closed: {why}.")),
    }
    context.hold(Some(now.evaluated().clone()));
}

/// The setup held comes onto the page, and the page's own is held.
fn swap(context: &Context) {
    let Some(held) = context.held() else { return };
    hold(context, "Swapped A and B. Undo restores your setup.");
    context.load(&held.setup);
}

fn let_go(context: &Context) {
    context.hold(None);
    match HELD.clear() {
        Ok(()) => say("Cleared."),
        Err(why) => say(&format!("Cleared until this page is opened again: {why}.")),
    }
    // The button that has the focus will be hidden.
    field::focus("#beside-hold");
}
