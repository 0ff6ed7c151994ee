//! What is measured on the drawing: balance point, FOC, cut and arrow length, the tape; and the key to the
//! hatchings.

use super::looks;
use super::view::View;
use clothyard_core::drawing::{Mark, Measured, Shape, ticks};
use clothyard_core::eval::Evaluation;
use clothyard_core::eval::outputs::in_inches;
use clothyard_core::format;
use clothyard_core::schema::Field;
use clothyard_core::setup::PhysicalModel;
use clothyard_core::units::{Quantity, Units};

const ROW_PX: f64 = 30.0;
/// Arrowheads of a shorter measure are outside it.
const SHORT_PX: f64 = 26.0;
const HEAD_PX: (f64, f64) = (8.0, 3.0);
/// Numbers on the tape are at least this far apart.
const NUMBERS_APART_PX: f64 = 42.0;
const NUMBER_SIZE: f64 = 13.0;

/// The measures of the whole arrow under it, and the tape; where they end on the paper.
pub(super) fn whole(
    marks: &mut Vec<Mark>,
    (all, model): (&Evaluation, &PhysicalModel),
    units: &Units,
    view: &View,
    down: f64,
) -> f64 {
    let number = |field: Field| all.resolved.number(field);
    let surface = view.axis + number(Field::OuterDiameter) / 2.0 * view.scale + 1.0;
    let foot = surface + 16.0;
    let mut rows = Rows { marks, view, surface, y: foot.max(view.axis + down) + 2.0 };
    let (from, end) = (number(Field::ThroatToShaft), in_inches(model.length_m));
    let said = |quantity, saved| format::measured(quantity, saved, units);
    if let Some(measured) = Measured::of(all) {
        rows.balance(&measured, foot, units);
    }
    rows.cut_through(number(Field::DrawLength), "draw-length");
    rows.dimension((from, end), &format!("cut {}", said(Quantity::Length, end - from)));
    rows.dimension((0.0, end), &format!("arrow length {}", said(Quantity::Length, end)));
    rows.tape(units)
}

struct Rows<'a> {
    marks: &'a mut Vec<Mark>,
    view: &'a View,
    /// The shaft's lower side.
    surface: f64,
    y: f64,
}

impl Rows<'_> {
    fn push(&mut self, style: &'static str, shape: Shape) {
        self.marks.push(Mark { group: None, style, shape });
    }

    /// The paper's right edge.
    fn right(&self) -> f64 {
        self.view.x(self.view.range.1) + self.view.left
    }

    /// Where it balances, and how far that is from the middle.
    fn balance(&mut self, measured: &Measured, foot: f64, units: &Units) {
        let &Measured { rest, length, balance, foc } = measured;
        let said = |quantity, saved| format::measured(quantity, saved, units);
        let x = self.view.x(balance);
        self.push("fulcrum", Shape::Polygon(vec![(x, self.surface), (x + 9.0, foot), (x - 9.0, foot)]));
        self.dimension((0.0, balance), &format!("balance point {}", said(Quantity::Length, balance)));
        let offset = said(Quantity::Length, (balance - length / 2.0).abs());
        let foc = said(Quantity::Percent, foc);
        let side = if balance < length / 2.0 { "behind" } else { "ahead of" };
        let long = format!("{offset} {side} center, FOC {foc}");
        let short = format!("FOC {foc} ({offset})");
        let fits = looks::width(&long, looks::SIZE) < self.right();
        self.dimension((length / 2.0, balance), if fits { &long } else { &short });
        self.cut_through(rest, "rest");
    }

    /// A line across the arrow where the bow has something.
    fn cut_through(&mut self, at: f64, style: &'static str) {
        let (x, reach) = (self.view.x(at), self.surface - self.view.axis + 14.0);
        self.push(style, Shape::Line((x, self.view.axis - reach), (x, self.view.axis + reach)));
    }

    /// A measure between two places, its words over its line, kept on the paper.
    fn dimension(&mut self, (a, b): (f64, f64), words: &str) {
        let line = self.y + ROW_PX - 6.0;
        let (left, right) = (self.view.x(a.min(b)), self.view.x(a.max(b)));
        for x in [left, right] {
            self.push("extension", Shape::Line((x, self.surface), (x, line + 5.0)));
        }
        // The heads of a short measure point at it from outside.
        let (reach, turn) = if right - left < SHORT_PX { (14.0, -1.0) } else { (0.0, 1.0) };
        let (from, to) = ((left - reach).max(0.0), (right + reach).min(self.right()));
        self.push("extension", Shape::Line((from, line), (to, line)));
        for (x, way) in [(left, turn), (right, -turn)] {
            let (back, half) = (x + HEAD_PX.0 * way, HEAD_PX.1);
            self.push("head", Shape::Polygon(vec![(x, line), (back, line - half), (back, line + half)]));
        }
        let half = looks::width(words, looks::SIZE) / 2.0;
        let middle = ((left + right) / 2.0).min(self.right() - half).max(half);
        self.push("dimension", Shape::Text((middle, line - 6.0), "middle", words.to_owned()));
        self.y += ROW_PX;
    }

    fn tape(&mut self, units: &Units) -> f64 {
        let (y, last) = (self.y + 8.0, self.view.range.1);
        let right = self.right();
        self.push("tape", Shape::Line((self.view.x(0.0), y), (self.view.x(last), y)));
        let mut one_in = 1;
        let apart = |one_in: u32| {
            let second = ticks(f64::INFINITY, units, one_in).skip(1).find(|tick| tick.number.is_some());
            second.map_or(f64::INFINITY, |tick| tick.at_in * self.view.scale)
        };
        while apart(one_in) < NUMBERS_APART_PX {
            one_in += 1;
        }
        for tick in ticks(last, units, one_in) {
            let x = self.view.x(tick.at_in);
            self.push("tick", Shape::Line((x, y), (x, y + if tick.long { 9.0 } else { 5.0 })));
            let number = tick.number.filter(|number| x + looks::width(number, NUMBER_SIZE) / 2.0 < right);
            if let Some(number) = number {
                self.push("number", Shape::Text((x, y + 24.0), "middle", number));
            }
        }
        let name = units.of(Quantity::Length).name;
        self.push("number", Shape::Text((2.0, y + 44.0), "start", format!("tape in {name}")));
        y + 60.0
    }
}

/// The key to the hatchings; where it ends on the paper.
pub(super) fn hatchings(marks: &mut Vec<Mark>, y: f64) -> f64 {
    let mut x = 2.0;
    for (style, words) in [("shaft", "shaft"), ("over", "metal"), ("vane", "vane")] {
        let corners = vec![(x, y), (x + 22.0, y), (x + 22.0, y + 14.0), (x, y + 14.0)];
        marks.push(Mark { group: None, style, shape: Shape::Polygon(corners) });
        marks.push(Mark {
            group: None,
            style: "number",
            shape: Shape::Text((x + 27.0, y + 12.0), "start", words.to_owned()),
        });
        x += 27.0 + looks::width(words, NUMBER_SIZE) + 10.0;
    }
    y + 20.0
}
