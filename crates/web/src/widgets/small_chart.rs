//! Small charts in a row: one line each over the same range, with its values at both ends and where things are now.

use super::chart::{Axis, Points};
use crate::{add_shape, set, shapes};
use clothyard_core::drawing::Shape;
use clothyard_core::drawing::plot::at;
use clothyard_core::{Units, format};
use web_sys::Element;

/// The drawing in pixels, and the room for words above and below its line.
const WIDTH: f64 = 220.0;
const HEIGHT: f64 = 104.0;
const WORDS: f64 = 20.0;

/// Adds a small chart to a figure; none where the line has no number.
pub fn draw(figure: &Element, axis: &Axis, points: &Points, now: f64, units: &Units) -> Option<()> {
    let numbers = || points.iter().filter_map(|&(_, y)| y);
    let (least, most) = (numbers().reduce(f64::min)?, numbers().reduce(f64::max)?);
    let (&(from, _), &(to, _)) = (points.first()?, points.last()?);
    // A line that stays level runs through the middle.
    let high = (most - least).max(most.abs() * 1e-3).max(1e-9);
    let middle = f64::midpoint(least, most);
    let place = |x: f64, y: f64| {
        let across = WORDS / 2.0 + (WIDTH - WORDS) * (x - from) / (to - from);
        (across, HEIGHT / 2.0 - (HEIGHT - 2.0 * WORDS) * (y - middle) / high)
    };
    let svg = add_shape(figure, "svg")?;
    set(&svg, "viewBox", &format!("0 0 {WIDTH} {HEIGHT}"));
    set(&svg, "aria-hidden", "true");
    let there: Vec<_> = points.iter().filter_map(|&(x, y)| Some((place(x, y?), y?))).collect();
    let line = add_shape(&svg, "polyline")?;
    let words = there.iter().map(|((x, y), _)| format::fixed(*x, 1) + "," + &format::fixed(*y, 1));
    set(&line, "points", &words.collect::<Vec<_>>().join(" "));
    if let Some((x, y)) = at(points, now).map(|y| place(now, y)) {
        let dot = [(-5.0, 0.0), (0.0, -5.0), (5.0, 0.0), (0.0, 5.0)].map(|(dx, dy)| (x + dx, y + dy));
        let _ = shapes::add(&svg, &Shape::Polygon(dot.into()), "dot");
    }
    for (end, anchor, beside) in [(there.first(), "start", -WORDS / 2.0), (there.last(), "end", WORDS / 2.0)] {
        let &((x, y), number) = end?;
        let beyond = if y < HEIGHT / 2.0 { y - 6.0 } else { y + 16.0 };
        let words = format::for_people(&format::bare(axis.quantity, number, units));
        let _ = shapes::add(&svg, &Shape::Text((x + beside, beyond), anchor, words), "");
    }
    Some(())
}
