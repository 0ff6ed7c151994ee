//! The match on a tape of draw weights, in the page.

use crate::state::App;
use clothyard_core::drawing::match_bar::Tape;
use clothyard_web::widgets::drawing::Item;

/// The tape's height in pixels.
const HEIGHT: f64 = 58.0;

/// Draws the tape; nothing where there is no match.
pub(crate) fn show(app: &mut App) {
    let width = app.rooms.match_bar.max(80.0);
    let tape = Tape::of(&app.evaluation.outputs, &app.evaluation.resolved);
    let shapes = tape.map(|tape| tape.draw(tape.span(), width, &app.units)).unwrap_or_default();
    let items = shapes.into_iter().map(|(style, shape)| Item::new(style, shape));
    app.drawings.match_bar.show(items, (width, HEIGHT));
}
