//! Any number of saved setups in one table.

use super::table;
use crate::context::Context;
use crate::library;
use clothyard_core::{Evaluation, Units};
use clothyard_studies::analysis::kept_table::{KeptTable, unread_sentence};
use clothyard_web as dom;
use clothyard_web::widgets::list;
use clothyard_web::widgets::table::{Row, Table};

/// On the tick of a setup: its id.
pub(super) const ID: &str = "data-kept";

pub(super) struct KeptSetups {
    /// Another list may have been stored.
    pub(super) stale: bool,
    setups: KeptTable,
    table: Table,
}

impl KeptSetups {
    pub(super) fn new() -> Self {
        Self { stale: true, setups: KeptTable::default(), table: table("beside-kept") }
    }

    /// Takes a setup into the table, or out of it.
    pub(super) fn choose(&mut self, id: &str, on: bool) {
        self.setups.choose(id, on);
    }

    pub(super) fn show(&mut self, on_page: &Evaluation, units: &Units, context: &Context) {
        if core::mem::take(&mut self.stale) {
            let found = library::readable_setups(context);
            dom::write_id("beside-kept-said", &unread_sentence(found.unread));
            self.setups.update(found.setups);
            list::ticks("beside-choices", ID, self.setups.choices());
        }
        let none = self.setups.is_empty();
        dom::hide("beside-none-kept", !none);
        dom::hide("beside-choose", none);
        let (headings, rows) = self.setups.show(on_page, units);
        dom::hide("beside-kept-scroll", rows.is_empty());
        dom::hide("beside-none-chosen", none || !rows.is_empty());
        self.table.show(&headings, rows.into_iter().map(Row::of).collect());
    }
}
