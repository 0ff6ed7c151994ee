//! The arrow's drawing, as shapes in the page.

use crate::state::App;
use clothyard_core::drawing;
use clothyard_core::drawing::Room;
use clothyard_web as dom;
use clothyard_web::widgets::drawing::Item;

/// Under this width the drawing is a strip.
const STRIP_BELOW_PX: f64 = 700.0;

/// Draws the arrow in the room there is.
pub(crate) fn show(app: &mut App) {
    let width = app.rooms.arrow;
    let room = Room { width: width.max(280.0), strip: width < STRIP_BELOW_PX };
    let touched = app.touched;
    let items = drawing::draw(&app.evaluation, room, &app.units).into_iter().map(|mark| {
        let touched = mark.group.is_some() && mark.group == touched;
        let group = mark.group.map(|group| group.key());
        Item { classes: [mark.style, if touched { "touched" } else { "" }], group, shape: mark.shape }
    });
    // On paper the page is narrower than on the screen: the whole drawing shrinks with it.
    app.drawings.arrow.show(items, (room.width, room.height()));
    dom::write_id("arrow-words", &drawing::in_words(&app.evaluation, &app.units));
}
