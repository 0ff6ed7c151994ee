//! A and B: the differences as tables, and one arrow drawn over the other.

use super::grid::Grid;
use clothyard_core::drawing;
use clothyard_core::drawing::{Mark, Room};
use clothyard_core::{Units, format};
use clothyard_studies::analysis::compare;
use clothyard_studies::analysis::compare::EvaluatedSetup;
use clothyard_studies::analysis::pair;
use clothyard_web::{self as dom, shapes};
use web_sys::Element;

/// Under this width the drawing is lower, as on the page itself.
const STRIP_BELOW_PX: f64 = 700.0;

/// A mark and whose it is.
type Drawn = (pair::Whose, Mark);

/// What the view shows of A and B.
#[derive(Default)]
pub(super) struct Pair {
    inputs: Grid,
    results: Grid,
    drawn: Vec<(Element, Drawn)>,
}

impl Pair {
    /// Shows what differs between the held set-up and the one on the page, or that none is held.
    pub(super) fn show(
        &mut self,
        held: Option<&EvaluatedSetup>,
        on_page: &EvaluatedSetup,
        all_results: bool,
        units: &Units,
    ) {
        for id in ["beside-pair", "beside-swap", "beside-let-go"] {
            dom::hide(id, held.is_none());
        }
        dom::hide("beside-nothing", held.is_some());
        let Some(held) = held else { return };
        dom::write_id("beside-names", &names(held, on_page));
        dom::write_id("beside-takeaway", &compare::in_words(held, on_page, units));
        self.inputs(held, on_page, units);
        self.results(held, on_page, all_results, units);
        self.draw(held, on_page, units);
    }

    fn inputs(&mut self, held: &EvaluatedSetup, on_page: &EvaluatedSetup, units: &Units) {
        let rows = compare::inputs(held, on_page, units);
        dom::hide("beside-inputs-scroll", rows.is_empty());
        dom::hide("beside-inputs-same", !rows.is_empty());
        self.inputs.show("beside-inputs", rows.into_iter().map(|row| (row.label, vec![row.a, row.b])).collect());
    }

    fn results(&mut self, held: &EvaluatedSetup, on_page: &EvaluatedSetup, all: bool, units: &Units) {
        let mut rows = compare::results(held, on_page, units);
        rows.retain(|row| all || row.differs());
        dom::hide("beside-results-scroll", rows.is_empty());
        dom::hide("beside-results-same", !rows.is_empty());
        let rows = rows.into_iter().map(|row| (row.label, vec![row.a, row.b, row.by_words]));
        self.results.show("beside-results", rows.collect());
    }

    /// A above, B below, on one tape. A shape that has not changed is left alone.
    fn draw(&mut self, held: &EvaluatedSetup, on_page: &EvaluatedSetup, units: &Units) {
        let (Some(svg), Some(marks)) = (dom::by_id("beside-arrows"), dom::by_id("beside-marks")) else { return };
        let width = svg.get_bounding_client_rect().width();
        let room = Room { width: width.max(280.0), strip: width < STRIP_BELOW_PX };
        let (wide, high) = (format::fixed(room.width, 2), format::fixed(pair::height(room), 0));
        dom::set(&svg, "height", &high);
        dom::set(&svg, "viewBox", &format!("0 0 {wide} {high}"));
        let fresh = pair::draw(&held.all, &on_page.all, room, units);
        let same_kind = |((_, old), new): (&(Element, Drawn), &Drawn)| (old.0, old.1.style) == (new.0, new.1.style);
        if fresh.len() != self.drawn.len() || !self.drawn.iter().zip(&fresh).all(same_kind) {
            dom::empty(&marks);
            self.drawn.clear();
        }
        for (place, new) in fresh.into_iter().enumerate() {
            match self.drawn.get_mut(place) {
                Some((_, old)) if *old == new => {}
                Some((element, old)) => {
                    shapes::outline(element, &new.1.shape);
                    *old = new;
                }
                None => {
                    let class = format!("{} {}", new.0, new.1.style);
                    self.drawn.extend(shapes::add(&marks, &new.1.shape, &class).map(|element| (element, new)));
                }
            }
        }
        let words = |letter: &str, side: &EvaluatedSetup| format!("{letter}: {}", drawing::in_words(&side.all, units));
        dom::write_id("beside-arrows-words", &format!("{} {}", words("A", held), words("B", on_page)));
    }
}

fn names(held: &EvaluatedSetup, on_page: &EvaluatedSetup) -> String {
    if held.setup.name == on_page.setup.name {
        return String::new();
    }
    let name = |side: &EvaluatedSetup| {
        if side.setup.name.is_empty() { String::new() } else { format!(" (\u{201c}{}\u{201d})", side.setup.name) }
    };
    format!("A is the set-up held{}, B the one on the page{}.", name(held), name(on_page))
}
