//! Two arrows to one scale over one measuring tape, their nock grooves aligned.

use clothyard_core::drawing;
use clothyard_core::drawing::{Mark, Room, Shape};
use clothyard_core::eval::Evaluation;
use clothyard_core::format;
use clothyard_core::schema::Output;
use clothyard_core::units::Units;

/// Whose mark it is, as a style name: `a` the upper arrow, `b` the lower one, `both` the tape.
pub type Whose = &'static str;

/// Height the drawing of two arrows wants, in pixels.
#[must_use]
pub const fn height(room: Room) -> f64 {
    if room.strip { 116.0 } else { 202.0 }
}

/// How far the upper and the lower arrow are below where they would stand alone.
const fn lowered(room: Room) -> [f64; 2] {
    if room.strip { [0.0, 44.0] } else { [-16.0, 56.0] }
}

/// Draws two setups, the first above; one whose fields contradict each other leaves its place empty.
#[must_use]
pub fn draw(a: &Evaluation, b: &Evaluation, room: Room, units: &Units) -> Vec<(Whose, Mark)> {
    let last_in = drawing::reach_in(a).max(drawing::reach_in(b));
    let [above, below] = lowered(room);
    let [of_a, of_b] = [a, b].map(|all| drawing::draw_to(all, room, units, last_in));
    let tape_of = if of_b.is_empty() { &of_a } else { &of_b };
    let mut marks: Vec<_> =
        tape_of.iter().filter(|mark| on_tape(mark)).map(|mark| ("both", moved(mark, below))).collect();
    let tape_y = marks.first().map_or(0.0, |(_, mark)| first_point(&mark.shape).1);
    // The upper arrow's balance point is carried to the lower arrow, the lower one's to the tape.
    let meets = if of_b.is_empty() { tape_y } else { room.axis() + below };
    arrow(&mut marks, "a", a, &of_a, (room, above, meets), units);
    arrow(&mut marks, "b", b, &of_b, (room, below, tape_y), units);
    marks
}

fn on_tape(mark: &Mark) -> bool {
    ["tape", "tick", "number"].contains(&mark.style)
}

/// An arrow's own shapes with its letter and where it balances.
fn arrow(
    marks: &mut Vec<(Whose, Mark)>,
    provenance: Whose,
    all: &Evaluation,
    drawn: &[Mark],
    (room, lower, meets): (Room, f64, f64),
    units: &Units,
) {
    if drawn.is_empty() {
        return;
    }
    let mut put = |style, shape| marks.push((provenance, Mark { group: None, style, shape }));
    for mark in drawn.iter().filter(|mark| mark.group.is_some() && !["rest", "draw-length"].contains(&mark.style)) {
        put(mark.style, moved(mark, lower).shape);
    }
    let letter = provenance.to_ascii_uppercase();
    put("letter", Shape::Text((drawing::MARGIN_PX, room.axis() + lower - 11.0), "start", letter));
    let fulcrum = drawn.iter().find(|mark| mark.style == "fulcrum");
    let (Some(fulcrum), Some(balance)) = (fulcrum, all.outputs.get(Output::BalancePoint)) else { return };
    let fulcrum = moved(fulcrum, lower);
    let x = first_point(&fulcrum.shape).0;
    let foot = lowest(&fulcrum.shape);
    put("fulcrum", fulcrum.shape);
    put("drop", Shape::Line((x, foot), (x, meets)));
    let words = format::measured(Output::BalancePoint.row().quantity, balance, units);
    let (anchor, beside) = if x > room.width / 2.0 { ("end", x - 13.0) } else { ("start", x + 13.0) };
    let line = if room.strip { foot + 3.0 } else { foot };
    put("label", Shape::Text((beside, line), anchor, format!("balance point {words}")));
}

fn moved(mark: &Mark, by: f64) -> Mark {
    Mark { group: mark.group, style: mark.style, shape: mark.shape.lowered(by) }
}

fn first_point(shape: &Shape) -> (f64, f64) {
    match shape {
        Shape::Polygon(points) => points.first().copied().unwrap_or_default(),
        Shape::Line(at, _) | Shape::Text(at, ..) => *at,
    }
}

fn lowest(shape: &Shape) -> f64 {
    match shape {
        Shape::Polygon(points) => points.iter().map(|point| point.1).fold(0.0, f64::max),
        Shape::Line(from, to) => from.1.max(to.1),
        Shape::Text(at, ..) => at.1,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use clothyard_core::schema::Field;
    use clothyard_core::setup::Setup;
    use clothyard_core::testing::any_setup;
    use proptest::prelude::*;

    const WIDE: Room = Room { width: 1200.0, strip: false };

    /// From where to where an arrow's shaft reaches.
    fn shaft(marks: &[(Whose, Mark)], provenance: Whose) -> (f64, f64) {
        let (_, mark) = marks.iter().find(|(of, mark)| *of == provenance && mark.style == "shaft").unwrap();
        let Shape::Polygon(points) = &mark.shape else { unreachable!() };
        (points[0].0, points[1].0)
    }

    #[test]
    fn a_longer_arrow_is_longer_by_just_that() {
        let of = |cut: f64| Evaluation::of(&Setup::default().with(Field::CutLength, cut).unwrap());
        let marks = draw(&of(28.0), &of(30.0), WIDE, &Units::ARCHERY);
        let ((from_a, to_a), (from_b, to_b)) = (shaft(&marks, "a"), shaft(&marks, "b"));
        assert_eq!(from_a, from_b, "both throats stand one above the other");
        assert!(((to_b - from_b) / (to_a - from_a) - 30.0 / 28.0).abs() < 1e-12);
        assert_eq!(marks.iter().filter(|(_, mark)| mark.style == "tape").count(), 1);
        assert_eq!(marks.iter().filter(|(_, mark)| mark.style == "fulcrum").count(), 2);
    }

    #[test]
    fn an_impossible_one_leaves_its_place_empty() {
        let broken = Setup::default().with(Field::OuterDiameter, 0.3).unwrap().with(Field::Bore, 0.5).unwrap();
        let broken = Evaluation::of(&broken);
        let marks = draw(&Evaluation::of(&Setup::default()), &broken, WIDE, &Units::ARCHERY);
        assert!(
            marks.iter().any(|(provenance, _)| *provenance == "a")
                && marks.iter().all(|(provenance, _)| *provenance != "b")
        );
        assert!(draw(&broken, &broken, WIDE, &Units::ARCHERY).is_empty());
    }

    proptest! {
        #[test]
        fn one_scale_whatever_the_two(one in any_setup(), other in any_setup(), strip: bool, width in 280.0..2000.0f64) {
            let (a, b) = (Evaluation::of(&one), Evaluation::of(&other));
            let marks = draw(&a, &b, Room { width, strip }, &Units::metric());
            if a.model.is_some() && b.model.is_some() {
                let per_inch = |provenance, all: &Evaluation| {
                    let (from, to) = shaft(&marks, provenance);
                    ((to - from) / all.resolved.number(Field::CutLength), from, all.resolved.number(Field::ThroatToShaft))
                };
                let ((scale, from_a, throat_a), (scale_b, from_b, throat_b)) = (per_inch("a", &a), per_inch("b", &b));
                prop_assert!((scale / scale_b - 1.0).abs() < 1e-9);
                prop_assert!(((from_a - throat_a * scale) - (from_b - throat_b * scale)).abs() < 1e-6);
            }
            for (_, mark) in &marks {
                let (x, y) = first_point(&mark.shape);
                prop_assert!(x.is_finite() && y.is_finite());
            }
        }
    }
}
