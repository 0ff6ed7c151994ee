//! A and B: what differs as tables, and one arrow drawn over the other.

use super::table;
use clothyard_core::drawing::{self, Room};
use clothyard_core::units::Units;
use clothyard_studies::analysis::compare::{self, EvaluatedSetup};
use clothyard_studies::analysis::pair;
use clothyard_web::widgets::drawing::{Drawing, Item};
use clothyard_web::widgets::table::{Row, Table};
use clothyard_web::{self as dom, widgets};

const ARROWS: &str = "beside-arrows";

/// Under this width in pixels the drawing is lower, as on the page itself.
const STRIP_BELOW_PX: f64 = 700.0;

pub(super) struct Pair {
    /// Results that do not differ are shown too.
    pub(super) all_results: bool,
    inputs: Table,
    results: Table,
    arrows: Drawing,
}

impl Pair {
    pub(super) fn new() -> Self {
        let [inputs, results] = ["beside-inputs", "beside-results"].map(table);
        Self { all_results: false, inputs, results, arrows: Drawing::new(ARROWS, "beside-marks") }
    }

    /// Shows what differs between the setup held and the one on the page, or that none is held.
    pub(super) fn show(&mut self, held: Option<&EvaluatedSetup>, on_page: &EvaluatedSetup, units: &Units) {
        for id in ["beside-pair", "beside-swap", "beside-let-go"] {
            dom::hide(id, held.is_none());
        }
        dom::hide("beside-nothing", held.is_some());
        let Some(held) = held else { return };
        dom::write_id("beside-names", &compare::names_sentence(held, on_page));
        dom::write_id("beside-takeaway", &compare::in_words(held, on_page, units));
        let inputs = compare::inputs(held, on_page, units).into_iter();
        show_rows(
            &mut self.inputs,
            "beside-inputs",
            inputs.map(|row| Row::headed(row.label, [row.a, row.b])).collect(),
        );
        let results =
            compare::results(held, on_page, units).into_iter().filter(|row| self.all_results || row.differs());
        let results = results.map(|row| Row::headed(row.label, [row.a, row.b, row.by_words])).collect();
        show_rows(&mut self.results, "beside-results", results);
        self.draw(held, on_page, units);
    }

    /// A above, B below, on one tape.
    fn draw(&mut self, held: &EvaluatedSetup, on_page: &EvaluatedSetup, units: &Units) {
        let width = widgets::width(ARROWS);
        let room = Room { width, strip: width < STRIP_BELOW_PX };
        let marks = pair::draw(&held.all, &on_page.all, room, units).into_iter();
        let items = marks.map(|(whose, mark)| Item { classes: [whose, mark.style], group: None, shape: mark.shape });
        self.arrows.show(items, (width, pair::height(room)));
        let [a, b] = [held, on_page].map(|evaluated| drawing::in_words(&evaluated.all, units));
        dom::write_id("beside-arrows-words", &format!("A: {a} B: {b}"));
    }
}

/// Shows a table, or in its place that it has no row.
fn show_rows(table: &mut Table, id: &str, rows: Vec<Row>) {
    dom::hide(&format!("{id}-scroll"), rows.is_empty());
    dom::hide(&format!("{id}-same"), !rows.is_empty());
    table.show_rows(rows);
}
