//! The arrow's drawing, as shapes in the page.

use crate::app::App;
use clothyard_core::drawing;
use clothyard_core::drawing::{Mark, Room};
use clothyard_core::format;
use clothyard_web::{self as dom, shapes};
use web_sys::Element;

/// Under this width the drawing is a strip.
const STRIP_BELOW_PX: f64 = 700.0;

/// The shapes in the page, each with the mark it shows and whether it is outlined.
#[derive(Default)]
pub(crate) struct Drawn(Vec<(Element, Mark, bool)>);

/// Draws the arrow in the room there is. A shape that has not changed is left alone.
pub(crate) fn show(app: &mut App) {
    let (Some(svg), Some(marks)) = (dom::by_id("arrow"), dom::by_id("arrow-marks")) else { return };
    let width = app.rooms.arrow;
    let room = Room { width: width.max(280.0), strip: width < STRIP_BELOW_PX };
    let (wide, high) = (format::fixed(room.width, 2), format::fixed(room.height(), 0));
    dom::set(&svg, "height", &high);
    // On paper the page is narrower than on the screen: the whole drawing shrinks with it.
    dom::set(&svg, "viewBox", &format!("0 0 {wide} {high}"));
    let fresh = drawing::draw(&app.evaluation, room, &app.units);
    let drawn = &mut app.drawn.0;
    let alike =
        fresh.len() == drawn.len() && fresh.iter().zip(drawn.iter()).all(|(new, (_, old, _))| same_kind(new, old));
    if !alike {
        dom::empty(&marks);
        drawn.clear();
    }
    for (place, mark) in fresh.into_iter().enumerate() {
        let touched = mark.group.is_some() && mark.group == app.touched;
        match drawn.get_mut(place) {
            Some((_, old, was)) if *old == mark && *was == touched => {}
            Some((element, old, was)) => {
                write(element, &mark, touched);
                (*old, *was) = (mark, touched);
            }
            None => drawn.extend(shapes::make(&marks, &mark.shape).map(|element| {
                write(&element, &mark, touched);
                (element, mark, touched)
            })),
        }
    }
    dom::write_id("arrow-words", &drawing::in_words(&app.evaluation, &app.units));
}

fn same_kind(a: &Mark, b: &Mark) -> bool {
    core::mem::discriminant(&a.shape) == core::mem::discriminant(&b.shape)
}

fn write(element: &Element, mark: &Mark, touched: bool) {
    dom::set(element, "class", &if touched { format!("{} touched", mark.style) } else { mark.style.to_owned() });
    match mark.group {
        Some(group) => dom::set(element, "data-group", group.key()),
        None => drop(element.remove_attribute("data-group")),
    }
    shapes::outline(element, &mark.shape);
}
