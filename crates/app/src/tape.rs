//! The match on a tape of draw weights, in the page.

use crate::app::App;
use clothyard_core::drawing::match_bar::Tape;
use clothyard_core::format;
use clothyard_web::{self as dom, shapes};

/// Draws the tape; nothing where there is no match.
pub(crate) fn show(app: &App) {
    let (Some(svg), Some(marks)) = (dom::by_id("tape"), dom::by_id("tape-marks")) else { return };
    dom::empty(&marks);
    let Some(tape) = Tape::of(&app.evaluation.outputs, &app.evaluation.resolved) else { return };
    let width = app.rooms.tape.max(80.0);
    dom::set(&svg, "viewBox", &format!("0 0 {} 58", format::fixed(width, 2)));
    for (style, shape) in tape.draw(tape.span(), width, &app.units) {
        let _ = shapes::add(&marks, &shape, style);
    }
}
