//! The arrow's drawing in the page, with the slider of its cut.

use super::answer::Known;
use crate::state::App;
use clothyard_core::drawing::plate::{self, Plate, PlateRoom};
use clothyard_core::schema::Field;
use clothyard_core::{drawing, format};
use clothyard_web as dom;
use clothyard_web::widgets::drawing::Item;
use wasm_bindgen::JsCast;
use web_sys::{HtmlElement, HtmlInputElement};

/// What the drawing is before there is an answer.
const EMPTY: &str = "The arrow, nock at the left.";
/// Half of the slider's thumb.
const THUMB_PX: f64 = 24.0;
/// How far the slider reaches back from the cut length, in inches.
const SHORTER_IN: f64 = 8.0;

/// Draws the arrow in the room there is. While the cut is dragged the scale stays, or the arrow would slide under the
/// finger.
pub(crate) fn show(app: &mut App) {
    let reach = app.dragged_reach.unwrap_or_else(|| plate::reach_in(&app.evaluation));
    let room = PlateRoom { width: app.rooms.arrow.max(240.0), text: app.rooms.text, names: app.rooms.names };
    let answered = Known::of(app).answers();
    let drawn = plate::draw(&app.evaluation, &room, reach, answered, &app.units);
    let (marks, height) = drawn.as_ref().map_or((&[][..], 146.0), |plate| (&plate.marks[..], plate.height));
    let touched = app.touched;
    let items = marks.iter().map(|mark| {
        let touched = mark.group.is_some() && mark.group == touched;
        let group = mark.group.map(|group| group.key());
        Item { classes: [mark.style, if touched { "touched" } else { "" }], group, shape: mark.shape.clone() }
    });
    app.drawings.arrow.show(items, (room.width, height));
    let words = if answered { drawing::in_words(&app.evaluation, &app.units) } else { EMPTY.to_owned() };
    dom::write_id("arrow-words", &words);
    if let Some(plate) = &drawn {
        show_slider(app, plate);
    }
}

/// Puts the slider's thumb on the mark of the cut. It reaches as far as the drawing does.
fn show_slider(app: &App, plate: &Plate) {
    let slider = dom::by_id("cutLengthIn-slider").and_then(|slider| slider.dyn_into::<HtmlInputElement>().ok());
    let Some(slider) = slider else { return };
    let cut = app.evaluation.resolved.number(Field::CutLength);
    if app.dragged_reach.is_none() {
        let input = Field::CutLength.input();
        let least = input.clamp((cut - SHORTER_IN) as i32 as f64);
        let room = (app.rooms.arrow - THUMB_PX / 2.0 - plate.zero) / plate.scale;
        let most = input.clamp((room * 8.0) as i32 as f64 / 8.0).max(cut);
        let px = |number: f64| format::fixed(number, 1) + "px";
        if let Some(style) = slider.dyn_ref::<HtmlElement>().map(HtmlElement::style) {
            for (name, value) in [
                ("left", plate.zero + least * plate.scale - THUMB_PX),
                ("width", (most - least) * plate.scale + 2.0 * THUMB_PX),
                ("top", plate.ruler - 8.0),
            ] {
                let _ = style.set_property(name, &px(value));
            }
        }
        dom::set(&slider, "min", &format::trimmed(least, 3));
        dom::set(&slider, "max", &format::trimmed(most, 3));
    }
    if slider.value_as_number().total_cmp(&cut).is_ne() {
        slider.set_value_as_number(cut);
    }
    dom::set(&slider, "aria-valuetext", &format::length(cut, &app.units));
}
