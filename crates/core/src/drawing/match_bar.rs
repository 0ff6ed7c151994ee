//! The match on a tape of draw weights: where this arrow shoots well, and where this bow pulls; shapes in pixels.

use crate::drawing::Shape;
use crate::eval::Outputs;
use crate::format;
use crate::schema::Field;
use crate::schema::Output;
use crate::setup::Resolved;
use crate::units::{Quantity, Units};

/// Height the tape wants, in pixels.
pub const HEIGHT: f64 = 58.0;

const TOP: f64 = 16.0;
const LINE: f64 = 34.0;
/// Between two numbers of the scale there is at least so much room, in pixels.
const PER_NUMBER: f64 = 30.0;

/// What the tape shows, in pounds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tape {
    /// Where the band begins.
    pub from: f64,
    /// Where it ends.
    pub to: f64,
    /// What the arrow suits best.
    pub best: f64,
    /// What the bow pulls.
    pub pulls: f64,
}

impl Tape {
    /// The tape of a setup; none where there is no match.
    #[must_use]
    pub fn of(outputs: &Outputs, resolved: &Resolved) -> Option<Self> {
        Some(Self {
            from: outputs.get(Output::SuitsFrom)?,
            to: outputs.get(Output::SuitsTo)?,
            best: outputs.get(Output::IdealDrawWeight)?,
            pulls: resolved.number(Field::PeakDrawWeight),
        })
    }

    /// Its least and its greatest draw weight: both the band and the bow are between, the band in the middle.
    #[must_use]
    pub fn span(&self) -> (f64, f64) {
        let half = ((self.pulls - self.best).abs() * 1.15).max(self.best * 0.3);
        (self.best - half, self.best + half)
    }

    /// Draws it between two draw weights, so many pixels wide; each shape with the name of its style.
    #[must_use]
    pub fn draw(&self, (least, most): (f64, f64), width: f64, units: &Units) -> Vec<(&'static str, Shape)> {
        let x = |pounds: f64| width * (pounds - least) / (most - least);
        let (from, to, best, at) = (x(self.from), x(self.to), x(self.best), x(self.pulls));
        let mut list = vec![
            ("suits", Shape::Polygon(vec![(from, TOP), (to, TOP), (to, LINE), (from, LINE)])),
            ("scale", Shape::Line((0.0, LINE), (width, LINE))),
        ];
        for (pounds, label) in ticks(units, least, most, width / PER_NUMBER) {
            let place = x(pounds);
            if (10.0..=width - 10.0).contains(&place) {
                list.push(("tick", Shape::Line((place, LINE), (place, LINE + 5.0))));
                list.push(("number", Shape::Text((place, LINE + 18.0), "middle", label)));
            }
        }
        list.push(("best", Shape::Line((best, TOP), (best, LINE))));
        list.push(("pulls", Shape::Polygon(vec![(at, LINE - 2.0), (at - 7.0, TOP - 2.0), (at + 7.0, TOP - 2.0)])));
        let mut label = |x: f64, anchor: &'static str, words: &str| {
            list.push(("label", Shape::Text((x, TOP - 4.0), anchor, words.to_owned())));
        };
        if width > 200.0 {
            let (anchor, beside) = if at > width / 2.0 { ("end", at - 10.0) } else { ("start", at + 10.0) };
            label(beside, anchor, "your bow");
        }
        // On a short tape the sentence below must do.
        if at > 90.0 && width > 300.0 {
            label(0.0, "start", "acts stiff");
        }
        if at < width - 90.0 && width > 300.0 {
            label(width, "end", "acts weak");
        }
        list
    }

    /// The band as the first screen shows it, three times as high as its text: its two ends, the bow with its draw
    /// weight, and on which side the arrow is stiff or weak where there is room to say so.
    #[must_use]
    pub fn band(&self, width: f64, text: f64, units: &Units) -> Vec<(&'static str, Shape)> {
        let (least, most) = self.span();
        let x = |pounds: f64| width * (pounds - least) / (most - least);
        let (from, to, at) = (x(self.from), x(self.to), x(self.pulls));
        let (line, top) = (1.9 * text, 1.2 * text);
        let mut list = vec![
            ("scale", Shape::Line((0.0, line), (width, line))),
            ("suits", Shape::Polygon(vec![(from, top), (to, top), (to, line), (from, line)])),
            (
                "pulls",
                Shape::Polygon(vec![
                    (at, line + 1.0),
                    (at - 0.45 * text, line + 1.0 - 0.9 * text),
                    (at + 0.45 * text, line + 1.0 - 0.9 * text),
                ]),
            ),
        ];
        let mut say =
            |style, x: f64, y: f64, anchor, words: String| list.push((style, Shape::Text((x, y), anchor, words)));
        let label = pounds(self.pulls, units) + "\u{a0}" + units.of(Quantity::DrawWeight).symbol;
        let (x, anchor) = within(at, width, 2.0 * text);
        say("", x, 0.75 * text, anchor, label);
        let below = line + text;
        say("quiet", from, below, "middle", pounds(self.from, units));
        say("quiet", to, below, "middle", pounds(self.to, units));
        if width > 14.0 * text {
            if from > 4.0 * text {
                say("quiet", 0.0, below, "start", "stiff".to_owned());
            }
            if to < width - 4.5 * text {
                say("quiet", width, below, "end", "weak".to_owned());
            }
        }
        list
    }
}

/// Where words centered at a place begin, so that they stay within the width.
fn within(at: f64, width: f64, room: f64) -> (f64, &'static str) {
    if at < room {
        (0.0, "start")
    } else if at > width - room {
        (width, "end")
    } else {
        (at, "middle")
    }
}

/// A draw weight as it is said: whole pounds, or with the unit's decimals.
fn pounds(pounds: f64, units: &Units) -> String {
    let quantity = Quantity::DrawWeight;
    if units.index(quantity) == 0 { format::trimmed(pounds, 0) } else { format::bare(quantity, pounds, units) }
}

/// Round draw weights in the unit chosen, with room between their numbers.
fn ticks(units: &Units, from: f64, to: f64, most: f64) -> Vec<(f64, String)> {
    let quantity = Quantity::DrawWeight;
    let (from, to) = (units.show(quantity, from), units.show(quantity, to));
    let step =
        [1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0].into_iter().find(|step| (to - from) / step <= most).unwrap_or(200.0);
    let first = (from / step).ceil() as i32;
    let last = (to / step).floor() as i32;
    (first..=last)
        .map(|place| {
            let shown = f64::from(place) * step;
            (units.save(quantity, shown), format::trimmed(shown, 0))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::eval::Evaluation;
    use crate::testing::any_setup;
    use proptest::prelude::*;

    fn tape(all: &Evaluation) -> Option<Tape> {
        Tape::of(&all.outputs, &all.resolved)
    }

    #[test]
    fn the_bow_is_in_the_band_just_where_it_is_well_matched() {
        let all = Evaluation::of(&crate::setup::samples::all()[0].setup);
        let tape = tape(&all).unwrap();
        let shapes = tape.draw(tape.span(), 400.0, &Units::ARCHERY);
        let find = |style: &str| match &shapes.iter().find(|(name, _)| *name == style).unwrap().1 {
            Shape::Polygon(points) => points.clone(),
            other => panic!("{other:?}"),
        };
        let (band, bow) = (find("suits"), find("pulls"));
        assert_eq!(all.verdict, Some(crate::eval::Verdict::WellMatched));
        assert!(band[0].0 < bow[0].0 && bow[0].0 < band[1].0);
        // The scale is a straight line: the band is as wide on the tape as it is in pounds.
        let (least, most) = tape.span();
        assert!((band[1].0 - band[0].0 - 400.0 * (tape.to - tape.from) / (most - least)).abs() < 1e-9);
    }

    proptest! {
        #[test]
        fn band_and_bow_always_lie_on_the_tape(setup in any_setup(), width in 80.0..2000.0f64) {
            if let Some(tape) = tape(&Evaluation::of(&setup)) {
                for (style, shape) in tape.draw(tape.span(), width, &Units::metric()) {
                    if let (true, Shape::Polygon(points)) = (style == "suits" || style == "best", &shape) {
                        prop_assert!(points.iter().all(|&(x, _)| (0.0..=width).contains(&x)), "{points:?}");
                    }
                }
            }
        }
    }
}
