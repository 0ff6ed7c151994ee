//! A text of readings in two columns, read once the hand rests.

use crate::context::{Context, Reading};
use clothyard_core::parse::columns;
use clothyard_core::schema::{List, Row};
use clothyard_web::Dom;
use clothyard_web::bus::{Debounce, Tick};
use clothyard_web::widgets::text_rows::TextRows;

/// After this long without a key a text is read.
const READ_AFTER_MS: i32 = 1000;

pub(super) struct Readings {
    field: &'static str,
    list: List,
    rows: TextRows,
    rest: Debounce,
}

impl Readings {
    /// The text in a field of a view; one that cannot be read yet is stored under a key.
    pub(super) fn new(view: &'static str, field: &'static str, list: List, key: &'static str) -> Self {
        let tick = Tick { view, timer: "rest", count: 0 };
        let rows = TextRows::new(
            field,
            list,
            |text, list, units| {
                let kept =
                    |error: columns::ColumnsError| format!("{} The readings from before stand.", error.message());
                columns::read(text, list.of(), units).map_err(kept)
            },
            |rows, list, units| columns::write(rows, list.of(), units),
        );
        Self { field, list, rows: rows.with_draft(key), rest: Debounce::new(tick, READ_AFTER_MS) }
    }

    /// Writes the readings of the setup; those of a text that was typed before are put on it.
    pub(super) fn follow(&mut self, now: &Reading, context: &Context) {
        if let Some(rows) = self.rows.follow(now.setup.lists.rows(self.list), &now.units) {
            self.put(rows, now, context);
        }
    }

    pub(super) fn input(&mut self, dom: &Dom) {
        if dom.id() == self.field {
            self.rest.restart(crate::post);
        }
    }

    pub(super) fn tick(&mut self, tick: Tick, context: &Context) {
        if self.rest.is_over(tick) {
            self.take(context);
        }
    }

    pub(super) fn change(&mut self, dom: &Dom, context: &Context) {
        if dom.id() == self.field {
            self.take(context);
        }
    }

    /// Puts the readings of the text on the setup; a text that cannot be read changes nothing.
    fn take(&mut self, context: &Context) {
        let Some(now) = context.read() else { return };
        if let Some(rows) = self.rows.take(&now.units) {
            self.put(rows, &now, context);
        }
    }

    fn put(&self, rows: Vec<Row>, now: &Reading, context: &Context) {
        let mut setup = now.setup.clone();
        // The rows were read against the list's own ranges.
        if setup.lists.rows(self.list) != rows && setup.lists.set(self.list, rows).is_ok() {
            context.load(&setup);
        }
    }
}
