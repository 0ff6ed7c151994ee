//! Sight marks on the archer's own scale, from marks that were shot.
//!
//! The calculation gives how far the pin moves between two distances. A scale reads that from a zero and in divisions of
//! its own, so a straight line through the marks shot joins the two: by two marks exactly, by more with least squares.

use super::says::distance;
use super::shot::Shot;
use clothyard_core::format::{entered_with_unit, fixed, for_people, trimmed};
use clothyard_core::units::{Quantity, Units};

/// Marks whose pins are nearer to each other than this say nothing of the rest, in meters.
const APART_M: f64 = 0.0005;

/// Where an error in the marks shot grows by more than this, it is said.
const LEVER: f64 = 1.5;

/// An archer's scale.
#[derive(Clone, Debug, PartialEq)]
pub struct Scale {
    /// Pins of the marks shot, below the arrow's own line, and what the scale read.
    shot: Vec<(f64, f64)>,
    /// Their mean pin, and the line's reading there.
    middle: (f64, f64),
    /// Divisions for each meter the pin moves down.
    per_m: f64,
    decimals: usize,
}

impl Scale {
    /// The scale that reads these marks at these distances (m), on level ground.
    ///
    /// # Errors
    /// Why there is none, in a sentence.
    pub fn of(level: &Shot, marks: &[(f64, f64)]) -> Result<Self, &'static str> {
        if marks.len() < 2 {
            return Err("Enter two marks that you have shot, far apart.");
        }
        let pin = |&(meters, mark): &(f64, f64)| Some((level.pin_below_m(meters)?, mark));
        let shot: Vec<_> = marks.iter().filter_map(pin).collect();
        if shot.len() < marks.len() {
            return Err("A mark is for a distance out of range.");
        }
        let count = shot.len() as f64;
        let mean = |of: fn(&(f64, f64)) -> f64| shot.iter().map(of).sum::<f64>() / count;
        let middle = (mean(|mark| mark.0), mean(|mark| mark.1));
        let spread: f64 = shot.iter().map(|mark| (mark.0 - middle.0).powi(2)).sum();
        if spread < APART_M * APART_M {
            return Err("These distances have nearly the same mark. Shoot one farther away.");
        }
        let both: f64 = shot.iter().map(|mark| (mark.0 - middle.0) * (mark.1 - middle.1)).sum();
        let per_m = both / spread;
        if per_m.abs() < 1e-9 {
            return Err("The marks must differ.");
        }
        let decimals = marks.iter().map(|&(_, mark)| decimals(mark)).max().unwrap_or(0).max(1);
        Ok(Self { shot, middle, per_m, decimals })
    }

    /// What the scale reads where the pin is so far below the arrow's own line, in meters.
    #[must_use]
    pub fn reading(&self, below_m: f64) -> f64 {
        self.middle.1 + self.per_m * (below_m - self.middle.0)
    }

    /// The same to as many decimals as the marks shot have.
    #[must_use]
    pub fn rounded(&self, below_m: f64) -> f64 {
        let tens = 10f64.powi(self.decimals as i32);
        (self.reading(below_m) * tens).round() / tens
    }

    /// The same in words.
    #[must_use]
    pub fn words(&self, below_m: f64) -> String {
        for_people(&fixed(self.reading(below_m), self.decimals))
    }

    /// How much of an error in one of the marks shot comes back in the reading of another pin.
    fn lever(&self, below_m: f64) -> f64 {
        let spread: f64 = self.shot.iter().map(|mark| (mark.0 - self.middle.0).powi(2)).sum();
        let of = |mark: &(f64, f64)| {
            1.0 / self.shot.len() as f64 + (below_m - self.middle.0) * (mark.0 - self.middle.0) / spread
        };
        self.shot.iter().map(|mark| of(mark).abs()).fold(0.0, f64::max)
    }

    /// How far the scale is from the marks shot, at most.
    fn worst(&self) -> f64 {
        self.shot.iter().map(|mark| (mark.1 - self.reading(mark.0)).abs()).fold(0.0, f64::max)
    }

    /// What the scale comes to and how far to trust it, a sentence each. `pins` are distance and pin of each row.
    #[must_use]
    pub fn facts(&self, level: &Shot, pins: &[(f64, f64)], units: &Units) -> Vec<String> {
        let radius = Quantity::Length.from_si(level.sight.sight_radius_m);
        let mut list = vec![format!(
            "1 on your scale moves the pin {}\u{a0}mm, with peep to pin {}.",
            fixed(1e3 / self.per_m.abs(), 2),
            entered_with_unit(Quantity::Length, radius, units)
        )];
        if self.shot.len() > 2 {
            list.push(format!("Your marks are within {} of it.", fixed(self.worst(), self.decimals)));
        }
        let far = pins.iter().map(|&(meters, pin)| (meters, self.lever(pin))).max_by(|a, b| a.1.total_cmp(&b.1));
        list.extend(far.filter(|&(_, lever)| lever > LEVER).map(|(meters, lever)| {
            format!(
                "If a mark is off by 1, that of {} is off by {}. Shoot a mark near it.",
                distance(meters, units),
                fixed(lever, 1)
            )
        }));
        list
    }
}

/// Decimals that a number typed has, three at most.
fn decimals(number: f64) -> usize {
    trimmed(number.abs(), 3).split_once('.').map_or(0, |(_, decimals)| decimals.len())
}

#[cfg(test)]
mod tests {
    use super::*;
    use clothyard_core::eval::Evaluation;
    use clothyard_core::setup::samples;

    fn shot() -> Shot {
        Shot::of(&Evaluation::of(&samples::all().remove(0).setup)).unwrap().level()
    }

    fn pin(meters: f64) -> f64 {
        shot().pin_below_m(meters).unwrap()
    }

    #[test]
    fn two_marks_give_a_scale_of_any_zero_direction_and_division() {
        for (zero, per_m) in [(0.0, 1e3), (72.5, -1e3), (3.0, 39.37)] {
            let read = |meters: f64| zero + per_m * pin(meters);
            let scale = Scale::of(&shot(), &[(18.0, read(18.0)), (55.0, read(55.0))]).unwrap();
            for meters in [20.0, 35.0, 50.0, 70.0] {
                assert!((scale.reading(pin(meters)) - read(meters)).abs() < 1e-9);
            }
            assert!((scale.per_m - per_m).abs() < 1e-6);
        }
    }

    #[test]
    fn more_marks_than_two_are_met_as_well_as_a_line_can() {
        let read = |meters: f64, off: f64| (meters, 1e3 * pin(meters) + off);
        let scale = Scale::of(&shot(), &[read(18.0, 0.2), read(36.0, -0.4), read(54.0, 0.2)]).unwrap();
        assert!((0.2..0.45).contains(&scale.worst()), "{}", scale.worst());
        let facts = scale.facts(&shot(), &[(54.0, pin(54.0))], &Units::ARCHERY);
        assert!(
            facts[0].starts_with("1 on your scale moves the pin 1.0")
                && facts[1].starts_with("Your marks are within 0.")
        );
        assert_eq!(facts.len(), 2, "{facts:?}");
    }

    #[test]
    fn a_mark_far_from_those_shot_is_said_to_be_doubtful() {
        let scale = Scale::of(&shot(), &[(18.0, 12.0), (27.0, 22.0)]).unwrap();
        let facts = scale.facts(&shot(), &[(18.0, pin(18.0)), (64.0, pin(64.0))], &Units::ARCHERY);
        assert!(facts[1].starts_with("If a mark is off by 1, that of 70\u{a0}yd is off by "), "{facts:?}");
        // By hand, for two marks: (x - x1) / (x2 - x1).
        let by_hand = (pin(64.0) - pin(18.0)) / (pin(27.0) - pin(18.0));
        assert!((scale.lever(pin(64.0)) - by_hand).abs() < 1e-9 && by_hand > 3.0);
        assert_eq!(scale.words(pin(18.0)), "12.0");
    }

    #[test]
    fn what_is_no_scale_says_why() {
        for (marks, why) in [
            (vec![(18.0, 5.0)], "two marks"),
            (vec![(18.0, 5.0), (18.1, 5.1)], "nearly the same"),
            (vec![(18.0, 5.0), (50.0, 5.0)], "must differ"),
            (vec![(18.0, 5.0), (1900.0, 50.0)], "out of range"),
        ] {
            assert!(Scale::of(&shot(), &marks).unwrap_err().contains(why), "{why}");
        }
    }
}
