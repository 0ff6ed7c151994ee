//! The arrow's drawing, as shapes in the page.

use crate::app::App;
use crate::dom;
use clothyard_workbench::drawing::{self, Room, Shape};
use clothyard_workbench::wording;
use web_sys::Element;

/// Under this width the drawing is a strip.
const STRIP_BELOW_PX: f64 = 700.0;

/// Draws the arrow in the room there is.
pub(crate) fn show(app: &App) {
    let (Some(svg), Some(marks)) = (dom::by_id("arrow"), dom::by_id("arrow-marks")) else { return };
    let width = svg.get_bounding_client_rect().width();
    let room = Room { width: width.max(280.0), strip: width < STRIP_BELOW_PX };
    let (wide, high) = (wording::fixed(room.width, 2), wording::fixed(room.height(), 0));
    dom::set(&svg, "height", &high);
    // On paper the page is narrower than on the screen: the whole drawing shrinks with it.
    dom::set(&svg, "viewBox", &format!("0 0 {wide} {high}"));
    dom::empty(&marks);
    for mark in drawing::draw(&app.evaluation, room, &app.units) {
        let touched = mark.group.is_some() && mark.group == app.touched;
        let class = if touched { format!("{} touched", mark.style) } else { mark.style.to_owned() };
        if let Some(shape) = add(&marks, &mark.shape, &class)
            && let Some(group) = mark.group
        {
            dom::set(&shape, "data-group", group.key());
        }
    }
    dom::write_id("arrow-words", &drawing::in_words(&app.evaluation, &app.units));
}

/// A shape of a drawing, as an element.
pub(crate) fn add(parent: &Element, shape: &Shape, class: &str) -> Option<Element> {
    let place = |value: f64| wording::fixed(value, 2);
    match shape {
        Shape::Polygon(points) => {
            let points: Vec<_> = points.iter().map(|&(x, y)| place(x) + "," + &place(y)).collect();
            dom::add_shape(parent, "polygon", &[("class", class), ("points", &points.join(" "))])
        }
        Shape::Line(from, to) => dom::add_shape(
            parent,
            "line",
            &[
                ("class", class),
                ("x1", &place(from.0)),
                ("y1", &place(from.1)),
                ("x2", &place(to.0)),
                ("y2", &place(to.1)),
            ],
        ),
        Shape::Text(at, anchor, words) => {
            let text = dom::add_shape(
                parent,
                "text",
                &[("class", class), ("x", &place(at.0)), ("y", &place(at.1)), ("text-anchor", anchor)],
            )?;
            text.set_text_content(Some(words));
            Some(text)
        }
    }
}
