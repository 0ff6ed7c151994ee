//! The arrow to scale: shapes in pixels, from the nock's throat at the left to the point at the right.
//!
//! Along and across the arrow the scale is the same. Every shape says which group of fields it belongs
//! to, so that a touch can find them.

use crate::evaluation::Evaluation;
use crate::inputs::{Field, Group};
use crate::numbers::in_inches;
use crate::outcome::Outcome;
use crate::quantity::{Quantity, Units};
use crate::setup::{PartName, Setup};
use crate::wording;
use clothyard_mechanics::units::METRE_PER_INCH;

/// A shape on the drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    /// The group whose fields it shows; none for the tape and what is measured on it.
    pub group: Option<Group>,
    /// What it is, as a style name.
    pub style: &'static str,
    /// Its outline.
    pub shape: Shape,
}

/// An outline in pixels, y downward.
#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// A closed outline.
    Polygon(Vec<(f64, f64)>),
    /// A line.
    Line((f64, f64), (f64, f64)),
    /// Words, anchored at their start, middle or end.
    Text((f64, f64), &'static str, String),
}

/// How much room there is.
#[derive(Clone, Copy, Debug)]
pub struct Room {
    /// Width in pixels.
    pub width: f64,
    /// Whether there is only room for a strip.
    pub strip: bool,
}

impl Room {
    /// Height the drawing wants, in pixels.
    #[must_use]
    pub const fn height(self) -> f64 {
        if self.strip { 66.0 } else { 146.0 }
    }

    pub(crate) const fn axis(self) -> f64 {
        if self.strip { 24.0 } else { 66.0 }
    }

    const fn tape(self) -> f64 {
        if self.strip { 46.0 } else { 118.0 }
    }
}

/// Room left free at either end.
pub(crate) const MARGIN_PX: f64 = 12.0;
const NOCK_EARS_IN: f64 = 0.3;

/// Draws a set-up; nothing where its fields cannot stand together.
#[must_use]
pub fn draw(all: &Evaluation, room: Room, units: &Units) -> Vec<Mark> {
    draw_to(all, room, units, reach_in(all))
}

/// How far the drawing reaches ahead of the nock's throat, in inches; nought where there is none.
#[must_use]
pub fn reach_in(all: &Evaluation) -> f64 {
    let Some(setup) = &all.setup else { return 0.0 };
    let tip = setup.parts().map(|(_, part)| in_inches(part.to_m)).fold(in_inches(setup.length_m), f64::max);
    tip.max(all.settled.number(Field::DrawLength)).max(all.settled.rest_in()) + 0.3
}

/// Draws a set-up on a tape of a given length in inches, so that two can be drawn to one scale.
#[must_use]
pub fn draw_to(all: &Evaluation, room: Room, units: &Units, last_in: f64) -> Vec<Mark> {
    let Some(setup) = &all.setup else { return Vec::new() };
    let mut pen = Pen::new(all, setup, room, last_in);
    pen.tape(units);
    pen.rear();
    pen.shaft_and_front();
    pen.own_parts();
    pen.measures(units);
    pen.marks
}

/// What the drawing shows, in words.
#[must_use]
pub fn in_words(all: &Evaluation, units: &Units) -> String {
    let say = |outcome: Outcome| {
        all.numbers.get(outcome).map(|number| wording::measured(outcome.row().quantity, number, units))
    };
    match (say(Outcome::ArrowLength), say(Outcome::BalancePoint), say(Outcome::FrontOfCentre), say(Outcome::RestPlace))
    {
        (Some(length), Some(balance), Some(foc), Some(rest)) => format!(
            "The arrow to scale, nock at the left: {length} from the throat to the shaft's end; it balances at {balance}, \
             {foc} front of centre; at full draw the rest stands at {rest}."
        ),
        _ => "No drawing: these fields cannot stand together.".to_owned(),
    }
}

struct Pen<'a> {
    all: &'a Evaluation,
    setup: &'a Setup,
    room: Room,
    /// Pixels per inch.
    scale: f64,
    last_in: f64,
    marks: Vec<Mark>,
}

impl<'a> Pen<'a> {
    fn new(all: &'a Evaluation, setup: &'a Setup, room: Room, last_in: f64) -> Self {
        let scale = (room.width - 2.0 * MARGIN_PX).max(100.0) / (last_in + NOCK_EARS_IN);
        Self { all, setup, room, scale, last_in, marks: Vec::new() }
    }

    fn x(&self, inches: f64) -> f64 {
        MARGIN_PX + (inches + NOCK_EARS_IN) * self.scale
    }

    fn number(&self, field: Field) -> f64 {
        self.all.settled.number(field)
    }

    fn push(&mut self, group: Option<Group>, style: &'static str, shape: Shape) {
        self.marks.push(Mark { group, style, shape });
    }

    fn text(&mut self, style: &'static str, x: f64, y: f64, anchor: &'static str, words: String) {
        self.push(None, style, Shape::Text((x, y), anchor, words));
    }

    /// A box about the axis, from and to in inches, of a diameter in inches.
    fn tube(&mut self, group: Group, style: &'static str, from: f64, to: f64, diameter: f64) {
        let (axis, half) = (self.room.axis(), diameter * self.scale / 2.0);
        let (a, b) = (self.x(from), self.x(to));
        self.push(
            Some(group),
            style,
            Shape::Polygon(vec![(a, axis - half), (b, axis - half), (b, axis + half), (a, axis + half)]),
        );
    }

    /// The measuring tape: a tick for each inch or centimetre, a number at each fifth or tenth.
    fn tape(&mut self, units: &Units) {
        let metric = units.index(Quantity::Length) != 0;
        let (step_in, every) = if metric { (1.0 / 2.54, 10) } else { (1.0, 5) };
        let y = self.room.tape();
        self.push(None, "tape", Shape::Line((self.x(0.0), y), (self.x(self.last_in), y)));
        let count = (self.last_in / step_in) as u32;
        for tick in 0..=count {
            let x = self.x(f64::from(tick) * step_in);
            let long = tick % every == 0;
            self.push(None, "tick", Shape::Line((x, y), (x, y + if long { 8.0 } else { 4.0 })));
            if long && (!self.room.strip || tick % (2 * every) == 0) {
                let label = if units.index(Quantity::Length) == 2 { tick * 10 } else { tick };
                self.text("number", x, y + 20.0, "middle", label.to_string());
            }
        }
    }

    /// Nock, bushing, wrap and vanes.
    fn rear(&mut self) {
        let throat = self.number(Field::ThroatToShaft);
        let outer = self.number(Field::OuterDiameter);
        let (axis, half) = (self.room.axis(), outer * self.scale / 2.0);
        let (ear, groove, end) = (self.x(-NOCK_EARS_IN), self.x(0.0), self.x(throat));
        let slot = half * 0.35;
        let outline = vec![
            (ear, axis - half * 0.8),
            (groove, axis - half),
            (end, axis - half),
            (end, axis + half),
            (groove, axis + half),
            (ear, axis + half * 0.8),
            (ear, axis + slot),
            (groove, axis + slot),
            (groove, axis - slot),
            (ear, axis - slot),
        ];
        self.push(Some(Group::Nock), "nock", Shape::Polygon(outline));
        if self.number(Field::WrapMass) > 0.0 {
            self.tube(Group::Vanes, "wrap", throat, throat + self.number(Field::WrapLength), outer + 0.02);
        }
        if self.number(Field::VaneCount) > 0.0 {
            self.vane(-1.0, half, 1.0);
            // Seen from the side, the vanes on the far side stand at a slant and look half as high.
            self.vane(1.0, half, if self.number(Field::VaneCount) < 2.5 { 1.0 } else { 0.5 });
        }
    }

    fn vane(&mut self, side: f64, half: f64, share: f64) {
        let (from, length) = (self.number(Field::VaneSetBack), self.number(Field::VaneLength));
        let height = side * (half + self.number(Field::VaneHeight) * self.scale * share);
        let (axis, base) = (self.room.axis(), side * half);
        let at = |share: f64| self.x(from + share * length);
        let outline =
            vec![(at(0.0), axis + base), (at(0.06), axis + height), (at(0.3), axis + height), (at(1.0), axis + base)];
        self.push(Some(Group::Vanes), "vane", Shape::Polygon(outline));
    }

    /// Shaft, insert, sleeve, collar and point.
    fn shaft_and_front(&mut self) {
        let (outer, bore) = (self.number(Field::OuterDiameter), self.number(Field::Bore));
        let end = in_inches(self.setup.length_m);
        self.tube(Group::Shaft, "shaft", self.number(Field::ThroatToShaft), end, outer);
        if self.number(Field::BushingMass) > 0.0 {
            let from = self.number(Field::ThroatToShaft);
            self.tube(Group::Nock, "inside", from, from + self.number(Field::BushingLength), bore);
        }
        let (inside, ahead) = (self.number(Field::InsertInside), self.number(Field::InsertAhead));
        if self.number(Field::InsertMass) > 0.0 {
            let over = self.all.settled.answer(Field::InsertKind) == 2;
            let (style, diameter) = if over { ("over", outer + 0.03) } else { ("inside", bore) };
            self.tube(Group::Front, style, end - inside, end, diameter);
            self.tube(Group::Front, "ahead", end, end + ahead, outer);
        }
        if self.number(Field::SleeveMass) > 0.0 {
            self.tube(Group::Front, "over", end - self.number(Field::SleeveLength), end, outer + 0.03);
        }
        let collar = self.number(Field::CollarLength);
        self.tube(Group::Front, "ahead", end + ahead, end + ahead + collar, outer + 0.02);
        self.point(end + ahead + collar, outer);
        self.push(
            Some(Group::Shaft),
            "cut",
            Shape::Line((self.x(end), self.room.axis() - 14.0), (self.x(end), self.room.axis() + 14.0)),
        );
    }

    fn point(&mut self, from: f64, outer: f64) {
        let length = self.number(Field::PointLength);
        let (axis, half) = (self.room.axis(), outer * self.scale / 2.0);
        let (base, shoulder, tip) = (self.x(from), self.x(from + length * 0.55), self.x(from + length));
        let blade = match self.all.settled.answer(Field::PointKind) {
            1 => 0.55 * self.scale,
            2 => 0.25 * self.scale,
            _ => 0.0,
        };
        if blade > half {
            let outline = vec![
                (tip, axis),
                (self.x(from + length * 0.2), axis - blade),
                (base, axis - half),
                (base, axis + half),
                (self.x(from + length * 0.2), axis + blade),
            ];
            self.push(Some(Group::Point), "blade", Shape::Polygon(outline));
        }
        let outline = vec![
            (base, axis - half),
            (shoulder, axis - half * 0.9),
            (tip, axis),
            (shoulder, axis + half * 0.9),
            (base, axis + half),
        ];
        self.push(Some(Group::Point), "point", Shape::Polygon(outline));
    }

    fn own_parts(&mut self) {
        let outer = self.number(Field::OuterDiameter);
        let own: Vec<_> = self
            .setup
            .parts()
            .filter(|(name, _)| matches!(name, PartName::Own(_)))
            .map(|(_, part)| (part.from_m / METRE_PER_INCH, part.to_m / METRE_PER_INCH))
            .collect();
        for (from, to) in own {
            self.tube(Group::Shaft, "own", from, to.max(from + 0.08), outer + 0.06);
        }
    }

    /// Rest, draw length, middle, balance point and FOC.
    fn measures(&mut self, units: &Units) {
        let get = |outcome: Outcome| self.all.numbers.get(outcome);
        let (Some(rest), Some(length), Some(balance), Some(foc)) = (
            get(Outcome::RestPlace),
            get(Outcome::ArrowLength),
            get(Outcome::BalancePoint),
            get(Outcome::FrontOfCentre),
        ) else {
            return;
        };
        let (axis, tape, strip) = (self.room.axis(), self.room.tape(), self.room.strip);
        let (rest_x, draw_x) = (self.x(rest), self.x(self.number(Field::DrawLength)));
        self.push(
            Some(Group::Bow),
            "rest",
            Shape::Line((rest_x, axis - if strip { 18.0 } else { 36.0 }), (rest_x, tape)),
        );
        self.push(
            Some(Group::Bow),
            "draw-length",
            Shape::Line((draw_x, axis - if strip { 18.0 } else { 52.0 }), (draw_x, tape)),
        );
        let (balance_x, middle_x) = (self.x(balance), self.x(length / 2.0));
        let top = axis + self.number(Field::OuterDiameter) * self.scale / 2.0 + 1.0;
        let foot = if strip { top + 10.0 } else { top + 16.0 };
        let wide = if strip { 6.0 } else { 9.0 };
        self.push(
            None,
            "fulcrum",
            Shape::Polygon(vec![(balance_x, top), (balance_x + wide, foot), (balance_x - wide, foot)]),
        );
        self.push(None, "middle", Shape::Line((middle_x, top + 2.0), (middle_x, foot)));
        if strip {
            return;
        }
        self.push(None, "foc", Shape::Line((middle_x, foot - 4.0), (balance_x, foot - 4.0)));
        self.text("label", rest_x - 4.0, axis - 26.0, "end", "rest".to_owned());
        self.text("label", draw_x - 4.0, axis - 42.0, "end", "draw length".to_owned());
        let balance = wording::measured(Quantity::Length, balance, units);
        self.text("label", balance_x + 13.0, foot, "start", format!("balances at {balance}"));
        let foc = wording::measured(Quantity::Percent, foc, units);
        let (anchor, x) = if balance_x > middle_x { ("end", middle_x - 6.0) } else { ("start", middle_x + 6.0) };
        self.text("label", x, foot, anchor, format!("middle; FOC {foc}"));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::build::Build;
    use crate::testing::any_build;
    use proptest::prelude::*;

    const WIDE: Room = Room { width: 1200.0, strip: false };

    fn extent(marks: &[Mark], style: &str) -> (f64, f64) {
        let xs = marks.iter().filter(|mark| mark.style == style).flat_map(|mark| match &mark.shape {
            Shape::Polygon(points) => points.iter().map(|point| point.0).collect::<Vec<_>>(),
            Shape::Line(a, b) => vec![a.0, b.0],
            Shape::Text(at, ..) => vec![at.0],
        });
        xs.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), x| (low.min(x), high.max(x)))
    }

    #[test]
    fn to_scale() {
        let all = Evaluation::of(&Build::default());
        let marks = draw(&all, WIDE, &Units::ARCHERY);
        let (from, to) = extent(&marks, "shaft");
        let pixels_per_inch = (to - from) / all.settled.number(Field::CutLength);
        let (fulcrum_from, fulcrum_to) = extent(&marks, "fulcrum");
        let throat = from - all.settled.number(Field::ThroatToShaft) * pixels_per_inch;
        let balance = ((fulcrum_from + fulcrum_to) / 2.0 - throat) / pixels_per_inch;
        assert!((balance - all.numbers.get(Outcome::BalancePoint).unwrap()).abs() < 1e-9);
    }

    proptest! {
        #[test]
        fn every_mark_is_finite_and_inside(build in any_build(), strip: bool, width in 280.0..2000.0f64) {
            let all = Evaluation::of(&build);
            for mark in draw(&all, Room { width, strip }, &Units::metric()) {
                let points = match mark.shape {
                    Shape::Polygon(points) => points,
                    Shape::Line(a, b) => vec![a, b],
                    Shape::Text(at, ..) => vec![at],
                };
                for (x, y) in points {
                    prop_assert!(x.is_finite() && y.is_finite());
                    prop_assert!(mark.style == "label" || mark.style == "own" || mark.style == "vane" || (-60.0..=width + 60.0).contains(&x), "{} {x}", mark.style);
                }
            }
        }
    }
}
