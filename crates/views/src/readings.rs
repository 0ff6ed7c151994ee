//! Text of readings in columns, parsed after a pause in typing.

use crate::context::{Context, Reading};
use clothyard_core::Setup;
use clothyard_core::parse::columns;
use clothyard_core::schema::{List, Row};
use clothyard_web::Dom;
use clothyard_web::bus::{Debounce, Tick};
use clothyard_web::widgets::field;
use clothyard_web::widgets::text_rows::TextRows;

/// After this long without a key a text is read.
const READ_AFTER_MS: i32 = 700;

pub(crate) struct Readings {
    field: &'static str,
    list: List,
    rows: TextRows,
    rest: Debounce,
}

impl Readings {
    /// The text in a field of a view; one that cannot be read yet is stored under a key. A row that cannot be read
    /// does not keep the others from counting, but for a batch, whose rows have numbers by their places.
    pub(crate) fn new(view: &'static str, field: &'static str, list: List, key: &'static str) -> Self {
        let read = if list == List::Batch { TextRows::columns } else { TextRows::each_row };
        let rows = read(field, list).with_draft(key);
        let tick = Tick { view, timer: "rest", count: 0 };
        Self { field, list, rows, rest: Debounce::new(tick, READ_AFTER_MS) }
    }

    /// Writes the readings of the setup; those of a text that was typed before are put on it.
    pub(crate) fn follow(&mut self, now: &Reading, context: &Context) {
        if let Some(rows) = self.rows.follow(now.setup.lists.rows(self.list), &now.units) {
            self.put(rows, now.setup.clone(), context);
        }
    }

    pub(crate) fn input(&mut self, dom: &Dom) {
        if dom.id() == self.field {
            // It may have had the focus before the views were there.
            field::own_undo(dom);
            self.rest.restart(crate::post);
        }
    }

    pub(crate) fn tick(&mut self, tick: Tick, context: &Context) {
        if self.rest.is_over(tick) {
            self.take(context);
        }
    }

    pub(crate) fn change(&mut self, dom: &Dom, context: &Context) {
        if dom.id() == self.field {
            self.take(context);
        }
    }

    /// Writes other readings into the text and puts them on the setup.
    pub(crate) fn fill(&mut self, rows: &[Row], context: &Context) {
        field::overwrite(self.field, &columns::write(rows, self.list.spec(), &context.units()));
        self.take(context);
    }

    /// Adds rows to the text, so that what cannot be read in it stays, and to a setup, which is put on the page.
    pub(crate) fn add(&mut self, rows: &[Row], setup: Setup, context: &Context) {
        let units = context.units();
        let before = field::text(self.field);
        let text = before.trim_end().to_owned() + "\n" + &columns::write(rows, self.list.spec(), &units);
        field::overwrite(self.field, text.trim_start());
        if let Some(rows) = self.rows.take(&units) {
            self.put(rows, setup, context);
        }
    }

    /// Puts the readings of the text on the setup; a text that cannot be read changes nothing.
    fn take(&mut self, context: &Context) {
        let Some(now) = context.read() else { return };
        if let Some(rows) = self.rows.take(&now.units) {
            self.put(rows, now.setup.clone(), context);
        }
    }

    fn put(&self, rows: Vec<Row>, mut setup: Setup, context: &Context) {
        // The rows were read against the list's own ranges.
        if setup.lists.rows(self.list) != rows && setup.lists.set(self.list, rows).is_ok() {
            context.load(&setup);
        }
    }
}
