//! Sight marks and the sight tape.

use super::{Shots, items, rows};
use crate::context::Context;
use clothyard_studies::flight::marks;
use clothyard_studies::flight::marks::{Marks, WIDTH_MM};
use clothyard_web::bus::Event;
use clothyard_web::widgets::drawing::Drawing;
use clothyard_web::widgets::or_why;
use clothyard_web::widgets::table::Table;
use clothyard_web::{self as dom, Dom, View};
use std::rc::Rc;

const ID: &str = "marks";

/// While the root carries this class only the tape is printed.
const ALONE: &str = "tape-alone";

pub(crate) struct SightMarks {
    shots: Rc<Shots>,
    table: Table,
    tape: Drawing,
}

impl SightMarks {
    pub(crate) fn new(shots: &Rc<Shots>) -> Self {
        let tape = Drawing::new("marks-tape", "marks-tape-shapes");
        Self { shots: shots.clone(), table: Table::new("marks-table"), tape }
    }
}

impl View<Context> for SightMarks {
    fn id(&self) -> &'static str {
        ID
    }

    fn show(&mut self, context: &Context) {
        let Some(now) = self.shots.now(context) else { return };
        let units = &now.units;
        let answer = now.shot().and_then(|shot| {
            let marks = Marks::of(shot, &now.distances_m, units).map_err(|error| error.sentence().to_owned())?;
            Ok((shot, marks))
        });
        let Some((shot, marks)) = or_why(ID, answer) else { return };
        dom::write_id("marks-words", &marks::takeaway(shot, &marks.list, units));
        dom::write_id("marks-point-on", &marks::point_on(shot, units));
        self.table.show(&marks::headings(units), rows(marks::rows(&marks.list, units)));
        let tape = marks::tape(&marks, units);
        dom::hide("marks-paper", tape.is_none());
        dom::hide("marks-none", tape.is_some());
        if let Some(tape) = tape {
            self.tape.show_to_scale(items(tape.shapes), (WIDTH_MM, tape.height_mm));
            dom::write_id("marks-tape-words", &tape.words);
        }
    }

    fn changed(&mut self, event: &Event, _: &Context) -> bool {
        if matches!(event, Event::AfterPrint) {
            alone(false);
        }
        event.moves_answers()
    }

    fn click(&mut self, dom: &Dom, _: &Context) {
        if dom.button_id() == "marks-print" {
            print();
        }
    }
}

fn alone(on: bool) {
    if let Some(root) = dom::document().and_then(|document| document.document_element()) {
        dom::class(&root, ALONE, on);
    }
}

fn print() {
    alone(true);
    let printed = dom::window().and_then(|window| window.print().ok());
    dom::write_id("marks-printed", if printed.is_some() { "" } else { "The browser blocked printing." });
    if printed.is_none() {
        alone(false);
    }
}
