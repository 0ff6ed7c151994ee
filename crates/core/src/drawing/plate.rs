//! The arrow of the first screen: its parts with lines from their names, and below it a ruler whose zero is the rear end
//! of the shaft, so that the mark of the cut reads the cut length.

use super::{MARGIN_PX, Mark, Measured, NOCK_EARS_IN, Piece, Shape, pieces};
use crate::eval::Evaluation;
use crate::eval::outputs::in_inches;
use crate::format;
use crate::schema::{Field, Group};
use crate::units::{Quantity, Units};

/// The parts whose names are above the drawing, from the rear.
pub const NAMED: [Group; 5] = [Group::Nock, Group::Vanes, Group::Shaft, Group::Front, Group::Point];

/// How far the drawing goes beyond the point, in inches.
const AHEAD_IN: f64 = 0.35;
/// On a narrow drawing everything is drawn so many times as thick, to be seen at all.
const NARROW_TIMES: f64 = 2.2;
const NARROW_BELOW_PX: f64 = 640.0;
/// Where the lines from the names end and the drawing begins.
const TOP_PX: f64 = 26.0;

/// The room there is, in pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlateRoom {
    /// Width.
    pub width: f64,
    /// Height of the text.
    pub text: f64,
    /// Left and right end of each of [`NAMED`], from the left of the drawing; none where there is no room for lines.
    pub names: Option<[(f64, f64); NAMED.len()]>,
}

/// The drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Plate {
    /// Its shapes.
    pub marks: Vec<Mark>,
    /// Its height in pixels.
    pub height: f64,
    /// Top of the ruler in pixels.
    pub ruler: f64,
    /// The rear end of the shaft, in pixels from the left.
    pub zero: f64,
    /// Pixels per inch along the arrow.
    pub scale: f64,
}

/// How far the drawing of a setup reaches ahead of the nock groove, in inches; zero where there is none.
#[must_use]
pub fn reach_in(all: &Evaluation) -> f64 {
    let Some(model) = &all.model else { return 0.0 };
    model.parts().map(|(_, part)| in_inches(part.to_m)).fold(in_inches(model.length_m), f64::max) + AHEAD_IN
}

/// Draws a setup that reaches so far; `answered` says whether what was measured and the cut are shown.
#[must_use]
pub fn draw(all: &Evaluation, room: &PlateRoom, reach: f64, answered: bool, units: &Units) -> Option<Plate> {
    let model = all.model.as_ref()?;
    let mut pen = Pen::new(all, *room, reach);
    let pieces = pieces(all, model);
    pen.leaders(&pieces);
    pen.arrow(&pieces);
    if answered {
        pen.measured(all);
    }
    let end = pen.x(in_inches(model.length_m));
    pen.ruler(units, end, answered);
    pen.cut(all, end, answered, units);
    Some(Plate {
        height: pen.ruler + pen.ruler_height() + 3.0,
        ruler: pen.ruler,
        zero: pen.x(pen.rear_in),
        scale: pen.scale,
        marks: pen.marks,
    })
}

struct Pen {
    room: PlateRoom,
    narrow: bool,
    scale: f64,
    reach: f64,
    /// The rear end of the shaft, in inches from the nock groove.
    rear_in: f64,
    /// Half of the shaft's thickness as drawn.
    half: f64,
    axis: f64,
    ruler: f64,
    marks: Vec<Mark>,
}

impl Pen {
    fn new(all: &Evaluation, room: PlateRoom, reach: f64) -> Self {
        let narrow = room.width < NARROW_BELOW_PX;
        let scale = (room.width - if narrow { 2.0 } else { MARGIN_PX }).max(100.0) / (reach + NOCK_EARS_IN);
        let times = if narrow { NARROW_TIMES } else { 1.0 };
        let axis = TOP_PX + if narrow { 16.0 } else { 28.0 };
        Self {
            room,
            narrow,
            scale,
            reach,
            rear_in: all.resolved.number(Field::ThroatToShaft),
            half: all.resolved.number(Field::OuterDiameter) * scale * times / 2.0,
            axis,
            ruler: axis + room.text + if narrow { 24.0 } else { 32.0 },
            marks: Vec::new(),
        }
    }

    fn x(&self, inches: f64) -> f64 {
        (inches + NOCK_EARS_IN) * self.scale + if self.narrow { 1.0 } else { MARGIN_PX / 2.0 }
    }

    /// Off the axis; what would reach into the names or the ruler ends before them.
    fn y(&self, inches: f64) -> f64 {
        let most = if self.narrow { 14.0 } else { 25.0 };
        let pixels = inches * self.scale * if self.narrow { NARROW_TIMES } else { 1.0 };
        self.axis + pixels.max(-most).min(most * 0.7)
    }

    fn ruler_height(&self) -> f64 {
        self.room.text + 24.0
    }

    fn push(&mut self, group: Option<Group>, style: &'static str, shape: Shape) {
        self.marks.push(Mark { group, style, shape });
    }

    fn line(&mut self, style: &'static str, from: (f64, f64), to: (f64, f64)) {
        self.push(None, style, Shape::Line(from, to));
    }

    fn text(&mut self, style: &'static str, at: (f64, f64), anchor: &'static str, words: &str) {
        self.push(None, style, Shape::Text(at, anchor, words.to_owned()));
    }

    /// A line from each name to its part: straight down where the part is below its name, else bent.
    fn leaders(&mut self, pieces: &[Piece]) {
        let Some(names) = self.room.names else { return };
        for (group, (left, right)) in NAMED.into_iter().zip(names) {
            let Some((from, to)) = self.extent(pieces, group) else { continue };
            let (low, high) = (left + 8.0, right - 8.0);
            let center = (left + right) / 2.0;
            let (name_x, part_x) = if self.narrow && group == Group::Shaft {
                (center, center)
            } else if self.narrow {
                (center, (from + to) / 2.0)
            } else if high < from {
                (high, from + 3.0)
            } else if low > to {
                (low, to - 3.0)
            } else {
                let x = ((from + to) / 2.0).max(low).min(high);
                (x, x)
            };
            let top = if group == Group::Vanes { self.vane_top(pieces, part_x) } else { self.axis - self.half };
            let bend = TOP_PX - if self.narrow { 2.0 } else { 6.0 };
            self.line("lead", (name_x, 0.0), (name_x, 5.0));
            self.line("lead", (name_x, 5.0), (part_x, bend));
            self.line("lead", (part_x, bend), (part_x, top));
        }
    }

    /// From where to where a group's pieces go, in pixels; the shaft without what is over its ends.
    fn extent(&self, pieces: &[Piece], group: Group) -> Option<(f64, f64)> {
        let xs = pieces.iter().filter(|piece| piece.group == group).flat_map(|piece| &piece.corners).map(|&(x, _)| x);
        let (from, to) = xs.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), x| (low.min(x), high.max(x)));
        let trim = if group == Group::Shaft { 3.0 } else { 0.0 };
        (from <= to).then(|| (self.x(from + trim), self.x(to - trim / 2.0)))
    }

    /// The height of the vanes' edge at a place, in pixels.
    fn vane_top(&self, pieces: &[Piece], x: f64) -> f64 {
        let corners = pieces.iter().filter(|piece| piece.group == Group::Vanes).flat_map(|piece| &piece.corners);
        let near = corners.filter(|(inches, _)| (self.x(*inches) - x).abs() < 4.0).map(|&(_, y)| self.y(y));
        near.fold(self.axis - self.half, f64::min)
    }

    fn arrow(&mut self, pieces: &[Piece]) {
        for piece in pieces {
            let corners = piece.corners.iter().map(|&(x, y)| (self.x(x), self.y(y))).collect();
            self.push(Some(piece.group), piece.style, Shape::Polygon(corners));
        }
    }

    /// Middle, balance point, FOC and rest.
    fn measured(&mut self, all: &Evaluation) {
        let Some(Measured { rest, length, balance, foc }) = Measured::of(all) else { return };
        let (bottom, text) = (self.axis + self.half, self.room.text);
        let level = self.axis + if self.narrow { 16.0 } else { 22.0 };
        let (balance_x, middle_x) = (self.x(balance), self.x(length / 2.0));
        let foot = level + 1.0;
        let fulcrum = vec![(balance_x, bottom + 1.0), (balance_x - 7.0, foot), (balance_x + 7.0, foot)];
        self.push(None, "fulcrum", Shape::Polygon(fulcrum));
        self.line("foc", (middle_x, bottom + 2.0), (middle_x, bottom + 14.0));
        self.line("foc", (middle_x, level), (balance_x, level));
        let ahead = balance_x >= middle_x;
        let words = format::said(foc, 1) + "% FOC";
        let beside = balance_x.max(middle_x) + 12.0;
        let fits = beside + text * 5.6 < self.room.width;
        let (x, anchor) = if fits { (beside, "start") } else { (balance_x.min(middle_x) - 12.0, "end") };
        self.text("", (x, level + text * 0.4), anchor, &words);
        if fits && ahead && self.room.width > text * 18.0 {
            self.text("quiet", (middle_x - 6.0, level + text * 0.35), "end", "center");
        }
        let rest_x = self.x(rest);
        if !self.narrow && rest < length {
            self.line("rest", (rest_x, self.axis - self.half - 6.0), (rest_x, bottom + 10.0));
            self.text("quiet", (rest_x - 6.0, level + text * 0.4), "end", "rest");
        }
    }

    /// The ruler: eighths of an inch, half inches where it is narrow; halves of a centimeter, or whole ones.
    fn ruler(&mut self, units: &Units, cut: f64, answered: bool) {
        let (top, zero) = (self.ruler, self.rear_in);
        let metric = units.index(Quantity::Length) > 0;
        let last = self.reach - zero;
        let (unit_in, parts, every) = match (metric, self.narrow) {
            (false, wide) => (1.0, if wide { 2 } else { 8 }, 5),
            (true, wide) => (1.0 / 2.54, if wide { 1 } else { 2 }, 10),
        };
        let count = (last / unit_in) as u32;
        let (from, to) = (self.x(zero), self.x(zero + f64::from(count) * unit_in));
        let bottom = top + self.ruler_height();
        self.push(None, "tape", Shape::Polygon(vec![(from, top), (to, top), (to, bottom), (from, bottom)]));
        let mut comb = Vec::new();
        for tick in 0..=count * parts {
            let x = self.x(zero + f64::from(tick) * unit_in / f64::from(parts));
            let whole = tick % parts == 0;
            let high = match () {
                () if tick % (parts * every) == 0 => 18.0,
                () if whole => 13.0,
                () if tick * 2 % parts == 0 => 9.0,
                () if tick * 4 % parts == 0 => 6.0,
                () => 4.0,
            };
            let high = if self.narrow { high * 0.6 } else { high };
            comb.extend([(x, top), (x, top + high), (x, top)]);
        }
        self.push(None, "ticks", Shape::Polygon(comb));
        let (text, base) = (self.room.text, top + self.room.text * 0.85 + if self.narrow { 14.0 } else { 20.0 });
        let times = if units.index(Quantity::Length) > 1 { 10 } else { 1 };
        for number in (0..=count).step_by(every as usize) {
            let x = self.x(zero + f64::from(number) * unit_in);
            let hidden = answered && x > cut - text * 5.2 - 24.0 && x < cut + 40.0;
            if !hidden && x < to - 8.0 {
                let (x, anchor) = if number == 0 { (x + 4.0, "start") } else { (x, "middle") };
                self.text("quiet", (x, base), anchor, &(number * times).to_string());
            }
        }
    }

    /// Where the shaft is cut, with the handle of the slider and the length.
    fn cut(&mut self, all: &Evaluation, x: f64, answered: bool, units: &Units) {
        let top = self.ruler;
        self.push(Some(Group::Shaft), "cut", Shape::Line((x, self.axis - self.half - 6.0), (x, top + 6.0)));
        if !answered {
            return;
        }
        let (base, middle) = (top + self.ruler_height() - 1.0, top + 11.0 + (self.ruler_height() - 12.0) / 2.0);
        let handle = [
            (0.0, top + 2.0),
            (9.0, top + 11.0),
            (18.0, top + 11.0),
            (18.0, base),
            (-18.0, base),
            (-18.0, top + 11.0),
            (-9.0, top + 11.0),
        ];
        self.push(None, "handle", Shape::Polygon(handle.map(|(dx, y)| (x + dx, y)).to_vec()));
        for side in [-1.0, 1.0] {
            for up in [-5.5, 5.5] {
                self.line("grip", (x + side * 5.0, middle + up), (x + side * 11.0, middle));
            }
        }
        let text = self.room.text;
        let length = format::length(all.resolved.number(Field::CutLength), units);
        let number = length.split('\u{a0}').next().unwrap_or_default();
        let at = (x - 24.0, top + text * 0.85 + if self.narrow { 14.0 } else { 20.0 });
        self.text("cut", at, "end", number);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::any_setup;
    use proptest::prelude::*;

    const WIDE: PlateRoom = PlateRoom {
        width: 1200.0,
        text: 16.0,
        names: Some([(0.0, 90.0), (100.0, 220.0), (580.0, 660.0), (1020.0, 1110.0), (1120.0, 1200.0)]),
    };

    #[test]
    fn the_ruler_reads_the_cut_length() {
        let all = Evaluation::of(&crate::setup::Setup::default());
        let plate = draw(&all, &WIDE, reach_in(&all), true, &Units::ARCHERY).unwrap();
        let cut = plate.marks.iter().find_map(|mark| match (mark.style, &mark.shape) {
            ("cut", &Shape::Line((x, _), _)) => Some(x),
            _ => None,
        });
        let read = (cut.unwrap() - plate.zero) / plate.scale;
        assert!((read - all.resolved.number(Field::CutLength)).abs() < 1e-9, "{read}");
    }

    #[test]
    fn before_an_answer_nothing_measured_is_shown() {
        let all = Evaluation::of(&crate::setup::Setup::default());
        let plate = draw(&all, &WIDE, reach_in(&all), false, &Units::ARCHERY).unwrap();
        let shown = |style: &str| plate.marks.iter().any(|mark| mark.style == style);
        assert!(shown("shaft") && !shown("fulcrum") && !shown("handle"));
    }

    proptest! {
        #[test]
        fn every_shape_is_finite_and_in_its_height(setup in any_setup(), width in 280.0..1600.0f64) {
            let all = Evaluation::of(&setup);
            let room = PlateRoom { width, ..WIDE };
            if let Some(plate) = draw(&all, &room, reach_in(&all), true, &Units::metric()) {
                for mark in plate.marks {
                    let points = match mark.shape {
                        Shape::Polygon(points) => points,
                        Shape::Line(a, b) => vec![a, b],
                        Shape::Text(at, ..) => vec![at],
                    };
                    for (x, y) in points {
                        prop_assert!(x.is_finite() && (-1.0..=plate.height + 1.0).contains(&y), "{} {x} {y}", mark.style);
                    }
                }
            }
        }
    }
}
