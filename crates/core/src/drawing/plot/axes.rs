//! A chart's axes: even lines at round numbers of the units shown.

use super::{BOTTOM, LEFT, Plot, TOP};
use crate::drawing::Shape;
use crate::format;
use crate::units::{Quantity, Units};

/// So many lines at most each way; fewer across where their numbers would touch.
const MOST: u32 = 7;
/// Room for a digit in pixels, and between two numbers.
const DIGIT_PX: f64 = 9.5;
const BETWEEN_PX: f64 = 8.0;

/// Even lines each way with their numbers, and what is measured each way. The plot comes to end at round numbers below
/// and above; across it keeps its ends.
pub fn axes(
    plot: &mut Plot,
    across: (&str, Quantity),
    up: (&str, Quantity),
    units: &Units,
) -> Vec<(&'static str, Shape)> {
    let ticks = Ticks::around(shown(plot.up, up.1, units), up.1 == Quantity::Count);
    plot.up = (units.save(up.1, ticks.first()), units.save(up.1, ticks.last()));
    let (right, mut shapes) = (plot.right(), Vec::new());
    for number in ticks.numbers() {
        let at = plot.y(units.save(up.1, number));
        shapes.push(("grid", Shape::Line((LEFT, at), (right, at))));
        shapes.push(("", Shape::Text((LEFT - 6.0, at + 5.0), "end", format::said(number, ticks.decimals))));
    }
    let ticks = beside(shown(plot.across, across.1, units), across.1 == Quantity::Count, right - LEFT);
    for number in ticks.numbers() {
        let at = plot.x(units.save(across.1, number));
        shapes.push(("grid", Shape::Line((at, TOP), (at, BOTTOM))));
        shapes.push(("", Shape::Text((at, BOTTOM + 20.0), "middle", format::said(number, ticks.decimals))));
    }
    shapes.push(("", Shape::Text((0.0, 17.0), "start", format::heading(up.0, up.1, units))));
    shapes.push(("", Shape::Text((right, BOTTOM + 41.0), "end", format::heading(across.0, across.1, units))));
    shapes
}

fn shown((from, to): (f64, f64), quantity: Quantity, units: &Units) -> (f64, f64) {
    (units.show(quantity, from), units.show(quantity, to))
}

/// The most ticks across whose numbers do not touch.
fn beside((from, to): (f64, f64), whole: bool, width_px: f64) -> Ticks {
    let mut most = MOST;
    loop {
        let ticks = Ticks::within((from, to), most, whole);
        let digits = ticks.ends.map(|end| format::fixed(end * ticks.step, ticks.decimals).len());
        let wide_px = DIGIT_PX * digits[0].max(digits[1]) as f64 + BETWEEN_PX;
        if most <= 2 || ticks.step / (to - from) * width_px >= wide_px {
            return ticks;
        }
        most -= 1;
    }
}

/// Whole multiples of a round step: 1, 2, 2.5 or 5 × 10^n.
#[derive(Clone, Copy, Debug)]
struct Ticks {
    step: f64,
    /// Which multiples are the first and the last.
    ends: [f64; 2],
    /// Decimals that tell them apart.
    decimals: usize,
}

impl Ticks {
    /// Those between two ends, in the finest step of which there are at most so many.
    fn within((from, to): (f64, f64), most: u32, whole: bool) -> Self {
        let mut ticks = Self { step: 0.0, ends: [0.0, 0.0], decimals: 0 };
        // No unit is shown finer than a millionth.
        let mut power = 1e-6;
        for place in 0..16 {
            for (times, more) in [(1.0, 0_usize), (2.0, 0), (2.5, 1), (5.0, 0)] {
                let step = times * power;
                // An end that is a multiple counts, whatever the last bit of its quotient.
                let ends = [(from / step - 1e-6).ceil(), (to / step + 1e-6).floor()];
                ticks = Self { step, ends, decimals: (6 + more).saturating_sub(place) };
                if ends[1] - ends[0] < f64::from(most) && !(whole && ticks.decimals > 0) {
                    return ticks;
                }
            }
            power *= 10.0;
        }
        ticks
    }

    /// At most [`MOST`] that reach from one end or below it to the other or beyond.
    fn around((from, to): (f64, f64), whole: bool) -> Self {
        // One more may be wanted at either end.
        let ticks = Self::within((from, to), MOST - 2, whole);
        let ends = [(from / ticks.step + 1e-6).floor(), (to / ticks.step - 1e-6).ceil()];
        Self { ends, ..ticks }
    }

    fn first(&self) -> f64 {
        self.ends[0] * self.step
    }

    fn last(&self) -> f64 {
        self.ends[1] * self.step
    }

    fn numbers(self) -> impl Iterator<Item = f64> {
        let count = (self.ends[1] - self.ends[0] + 1.0) as u32;
        (0..count).map(move |place| (self.ends[0] + f64::from(place)) * self.step)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn said(ticks: Ticks) -> Vec<String> {
        ticks.numbers().map(|number| format::said(number, ticks.decimals)).collect()
    }

    #[test]
    fn numbers_are_round_and_have_the_same_decimals() {
        assert_eq!(
            said(Ticks::within((20.0, 36.0), MOST, false)),
            ["20.0", "22.5", "25.0", "27.5", "30.0", "32.5", "35.0"]
        );
        assert_eq!(said(beside((20.0, 36.0), false, 600.0)).len(), 7);
        assert_eq!(said(beside((20.0, 36.0), false, 200.0)), ["20", "25", "30", "35"]);
        assert_eq!(said(beside((10_000.0, 50_000.0), false, 200.0)), ["20000", "40000"]);
        assert_eq!(said(Ticks::around((0.1, 0.3), false)), ["0.10", "0.15", "0.20", "0.25", "0.30"]);
        assert_eq!(said(Ticks::around((283.2, 305.9), false)), ["280", "285", "290", "295", "300", "305", "310"]);
        assert_eq!(said(Ticks::around((-7.2, 61.0), false)), ["−20", "0", "20", "40", "60", "80"]);
        assert_eq!(said(Ticks::within((3.0, 5.0), MOST, true)), ["3", "4", "5"]);
        assert_eq!(said(Ticks::within((1.0, 12.0), MOST, true)), ["2", "4", "6", "8", "10", "12"]);
    }

    #[test]
    fn they_are_round_in_the_unit_shown() {
        let mut plot = Plot { across: (20.0, 36.0), up: (180.0, 300.0), width: 700.0 };
        let shapes = axes(&mut plot, ("Draw length", Quantity::Length), ("Speed", Quantity::Speed), &Units::metric());
        let texts: Vec<_> = shapes
            .iter()
            .filter_map(|(_, shape)| match shape {
                Shape::Text(.., words) => Some(words.as_str()),
                _ => None,
            })
            .collect();
        let (up, across) = (["50", "60", "70", "80", "90", "100"], ["60", "70", "80", "90"]);
        assert_eq!(texts, [&up[..], &across, &["Speed, m/s", "Draw length, cm"]].concat());
        let foot = 0.3048;
        assert!((plot.up.0 * foot - 50.0).abs() < 1e-12 && (plot.up.1 * foot - 100.0).abs() < 1e-12);
    }

    proptest! {
        #[test]
        fn every_span_is_covered_by_four_to_seven(from in -1e4..1e4f64, log in -3.0..4.0f64) {
            let to = from + 10f64.powf(log);
            let ticks = Ticks::around((from, to), false);
            let slack = 2e-6 * ticks.step;
            prop_assert!(ticks.first() <= from + slack && to - slack <= ticks.last());
            prop_assert!((4..=7).contains(&ticks.numbers().count()), "{ticks:?}");
        }

        #[test]
        fn none_lies_beyond_the_ends_nor_do_two_numbers_touch(from in -1e3..1e3f64, log in -0.5..4.0f64, wide in 190.0..700.0f64) {
            let to = from + 10f64.powf(log);
            let ticks = beside((from, to), false, wide);
            let slack = 2e-6 * ticks.step;
            prop_assert!(ticks.numbers().all(|number| (from - slack..=to + slack).contains(&number)));
            prop_assert!((1..=7).contains(&ticks.numbers().count()), "{ticks:?}");
            let widest = said(ticks).iter().map(|words| words.chars().count()).max().unwrap();
            prop_assert!(ticks.step / (to - from) * wide >= DIGIT_PX * widest as f64, "{ticks:?}");
        }

        #[test]
        fn two_differ_as_they_are_written(from in -1e4..1e4f64, log in -3.0..4.0f64) {
            let ticks = Ticks::around((from, from + 10f64.powf(log)), false);
            let read = |words: &String| words.replace('−', "-").parse::<f64>().unwrap();
            for (number, words) in ticks.numbers().zip(said(ticks)) {
                prop_assert!((read(&words) - number).abs() < 1e-9, "{words} {number}");
            }
        }
    }
}
