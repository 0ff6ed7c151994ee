//! The arrow to scale: shapes in pixels, from the nock groove at the left to the point at the right.
//!
//! Along and across the arrow the scale is the same. Every shape says which group of fields it belongs
//! to, so that a touch can find them.

pub mod match_bar;
mod outline;
pub mod plate;
pub mod plot;

use crate::eval::Evaluation;
use crate::eval::outputs::in_inches;
use crate::format;
use crate::schema::Output;
use crate::schema::{Field, Group};
use crate::setup::PhysicalModel;
use crate::units::{Quantity, Units};
pub use outline::{Piece, pieces};

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

impl Shape {
    /// The same so many pixels lower.
    #[must_use]
    pub fn lowered(&self, by: f64) -> Self {
        let lower = |(x, y): (f64, f64)| (x, y + by);
        match self {
            Self::Polygon(points) => Self::Polygon(points.iter().copied().map(lower).collect()),
            Self::Line(from, to) => Self::Line(lower(*from), lower(*to)),
            Self::Text(at, anchor, words) => Self::Text(lower(*at), anchor, words.clone()),
        }
    }
}

/// The round number (1, 2 or 5 and zeros) at or below a number of one or more, at least one: how many times a picture is
/// enlarged.
#[must_use]
pub fn round_below(number: f64) -> f64 {
    let mut power = 1.0;
    while power * 10.0 <= number {
        power *= 10.0;
    }
    [5.0, 2.0].into_iter().map(|times| times * power).find(|&round| round <= number).unwrap_or(power)
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

    /// Height of the arrow's axis in pixels.
    pub const fn axis(self) -> f64 {
        if self.strip { 24.0 } else { 66.0 }
    }

    const fn tape(self) -> f64 {
        if self.strip { 46.0 } else { 118.0 }
    }
}

/// Room left free at either end.
pub const MARGIN_PX: f64 = 12.0;
/// How far the nock's ears reach behind the groove, in inches.
pub const NOCK_EARS_IN: f64 = 0.3;

/// Room of the longest label along the arrow, in pixels.
const LABEL_PX: f64 = 150.0;

/// Draws a setup; nothing where it has no physical model.
#[must_use]
pub fn draw(all: &Evaluation, room: Room, units: &Units) -> Vec<Mark> {
    draw_to(all, room, units, reach_in(all))
}

/// How far the drawing reaches ahead of the nock groove, in inches; zero where there is none.
#[must_use]
pub fn reach_in(all: &Evaluation) -> f64 {
    let Some(model) = &all.model else { return 0.0 };
    let tip = model.parts().map(|(_, part)| in_inches(part.to_m)).fold(in_inches(model.length_m), f64::max);
    tip.max(all.resolved.number(Field::DrawLength)).max(all.resolved.rest_in()) + 0.3
}

/// Pixels from the left of a place ahead of the nock groove (in), on a tape of a given length (in).
#[must_use]
pub fn place_px(room: Room, last_in: f64, inches: f64) -> f64 {
    MARGIN_PX + (inches + NOCK_EARS_IN) * scale_px(room, last_in)
}

/// Pixels per inch.
pub fn scale_px(room: Room, last_in: f64) -> f64 {
    (room.width - 2.0 * MARGIN_PX).max(100.0) / (last_in + NOCK_EARS_IN)
}

/// Draws a setup on a tape of a given length in inches, so that two can be drawn to one scale.
#[must_use]
pub fn draw_to(all: &Evaluation, room: Room, units: &Units, last_in: f64) -> Vec<Mark> {
    let Some(model) = &all.model else { return Vec::new() };
    let mut pen = Pen::new(all, model, room, last_in);
    pen.tape(units);
    pen.arrow();
    pen.measures(units);
    pen.marks
}

/// What the drawing shows, in words.
#[must_use]
pub fn in_words(all: &Evaluation, units: &Units) -> String {
    let say = |output: Output| all.outputs.get(output).map(|number| format::measured(output.quantity(), number, units));
    match (say(Output::ArrowLength), say(Output::BalancePoint), say(Output::FrontOfCentre), say(Output::RestPlace)) {
        (Some(length), Some(balance), Some(foc), Some(rest)) => format!(
            "The arrow to scale, nock at the left: {length} from the nock groove to the shaft end, balance point {balance}, FOC {foc}; rest at {rest} at full draw."
        ),
        _ => "No drawing: these values do not work together.".to_owned(),
    }
}

/// What is measured along the arrow, in the saved units.
pub struct Measured {
    /// Rest.
    pub rest: f64,
    /// Front end of the shaft.
    pub length: f64,
    /// Balance point.
    pub balance: f64,
    /// FOC in percent.
    pub foc: f64,
}

impl Measured {
    /// None where there is no answer.
    pub fn of(all: &Evaluation) -> Option<Self> {
        let get = |output: Output| all.outputs.get(output);
        Some(Self {
            rest: get(Output::RestPlace)?,
            length: get(Output::ArrowLength)?,
            balance: get(Output::BalancePoint)?,
            foc: get(Output::FrontOfCentre)?,
        })
    }
}

/// A tick of the measuring tape.
pub struct Tick {
    /// How far from the nock groove, in inches.
    pub at_in: f64,
    /// Whether it is a long one.
    pub long: bool,
    /// What is written under it.
    pub number: Option<String>,
}

/// A tick for each inch or centimeter, a long one at each fifth or tenth, a number at each or at one in so
/// many of these.
pub fn ticks(last_in: f64, units: &Units, one_in: u32) -> impl Iterator<Item = Tick> {
    let unit = units.index(Quantity::Length);
    let (step_in, every, times) = match unit {
        0 => (1.0, 5, 1),
        1 => (1.0 / 2.54, 10, 1),
        _ => (1.0 / 2.54, 10, 10),
    };
    (0..=(last_in / step_in) as u32).map(move |tick| Tick {
        at_in: f64::from(tick) * step_in,
        long: tick % every == 0,
        number: (tick % (one_in * every) == 0).then(|| (tick * times).to_string()),
    })
}

struct Pen<'a> {
    all: &'a Evaluation,
    model: &'a PhysicalModel,
    room: Room,
    /// Pixels per inch.
    scale: f64,
    last_in: f64,
    marks: Vec<Mark>,
}

impl<'a> Pen<'a> {
    fn new(all: &'a Evaluation, model: &'a PhysicalModel, room: Room, last_in: f64) -> Self {
        Self { all, model, room, scale: scale_px(room, last_in), last_in, marks: Vec::new() }
    }

    fn x(&self, inches: f64) -> f64 {
        MARGIN_PX + (inches + NOCK_EARS_IN) * self.scale
    }

    fn number(&self, field: Field) -> f64 {
        self.all.resolved.number(field)
    }

    fn push(&mut self, group: Option<Group>, style: &'static str, shape: Shape) {
        self.marks.push(Mark { group, style, shape });
    }

    fn text(&mut self, style: &'static str, x: f64, y: f64, anchor: &'static str, words: String) {
        self.push(None, style, Shape::Text((x, y), anchor, words));
    }

    fn tape(&mut self, units: &Units) {
        let y = self.room.tape();
        self.push(None, "tape", Shape::Line((self.x(0.0), y), (self.x(self.last_in), y)));
        for tick in ticks(self.last_in, units, if self.room.strip { 2 } else { 1 }) {
            let x = self.x(tick.at_in);
            self.push(None, "tick", Shape::Line((x, y), (x, y + if tick.long { 8.0 } else { 4.0 })));
            if let Some(number) = tick.number {
                self.text("number", x, y + 20.0, "middle", number);
            }
        }
    }

    /// Every part, and where the shaft is cut.
    fn arrow(&mut self) {
        let axis = self.room.axis();
        for piece in pieces(self.all, self.model) {
            let corners = piece.corners.iter().map(|&(x, y)| (self.x(x), axis + y * self.scale)).collect();
            self.push(Some(piece.group), piece.style, Shape::Polygon(corners));
        }
        let end = self.x(in_inches(self.model.length_m));
        self.push(Some(Group::Shaft), "cut", Shape::Line((end, axis - 14.0), (end, axis + 14.0)));
    }

    /// Rest, draw length, middle, balance point and FOC.
    fn measures(&mut self, units: &Units) {
        let Some(Measured { rest, length, balance, foc }) = Measured::of(self.all) else { return };
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
        let balance = format::measured(Quantity::Length, balance, units);
        let words = format!("balance point {balance}");
        // Under the fulcrum, so far left that neither the rest's line nor the draw length's goes through it.
        let right = (balance_x + 0.5 * LABEL_PX).min(rest_x.min(draw_x) - 6.0);
        self.text("label", right, foot + 16.0, "end", words);
        let foc = format::measured(Quantity::Percent, foc, units);
        let (anchor, x) = if balance_x > middle_x { ("end", middle_x - 6.0) } else { ("start", middle_x + 6.0) };
        self.text("label", x, foot, anchor, format!("center / FOC {foc}"));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::setup::Setup;
    use crate::testing::any_setup;
    use proptest::prelude::*;

    const WIDE: Room = Room { width: 1200.0, strip: false };

    #[test]
    fn round_numbers() {
        assert_eq!([1.0, 1.9, 2.0, 7.0, 49.0, 50.0, 130.0].map(round_below), [1.0, 1.0, 2.0, 5.0, 20.0, 50.0, 100.0]);
        assert_eq!(round_below(0.3), 1.0);
    }

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
        let all = Evaluation::of(&Setup::default());
        let marks = draw(&all, WIDE, &Units::ARCHERY);
        let (from, to) = extent(&marks, "shaft");
        let pixels_per_inch = (to - from) / all.resolved.number(Field::CutLength);
        let (fulcrum_from, fulcrum_to) = extent(&marks, "fulcrum");
        let throat = from - all.resolved.number(Field::ThroatToShaft) * pixels_per_inch;
        let balance = ((fulcrum_from + fulcrum_to) / 2.0 - throat) / pixels_per_inch;
        assert!((balance - all.outputs.get(Output::BalancePoint).unwrap()).abs() < 1e-9);
    }

    proptest! {
        #[test]
        fn every_mark_is_finite_and_inside(setup in any_setup(), strip: bool, width in 280.0..2000.0f64) {
            let all = Evaluation::of(&setup);
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
