//! The tuning log: where the bare shaft struck beside the fletched, what common practice reads from it, and what would
//! move the match.

use crate::build::Build;
use crate::choose::held::Held;
use crate::choose::solve::{self, solve};
use crate::evaluation::Evaluation;
use crate::inputs::Field;
use crate::outcome::Outcome;
use crate::quantity::{Quantity, Units};
use crate::rows::Row;
use crate::wording::measured;

/// One entry of the log. Impacts are those of the bare shaft beside the fletched.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Entry {
    /// Distance in yards.
    pub distance_yd: f64,
    /// How far to the right, in inches; to the left is negative.
    pub right_in: f64,
    /// How far up, in inches; down is negative.
    pub up_in: f64,
    /// Draw weight, point weight and cut length as they were.
    pub as_it_was: [Option<f64>; 3],
}

/// The fields whose values an entry keeps.
pub const KEPT: [Field; 3] = [Field::PeakDrawWeight, Field::PointMass, Field::CutLength];

impl Entry {
    /// The entry of a row.
    #[must_use]
    pub fn of(row: &Row) -> Option<Self> {
        let at = |place: usize| row.get(place).copied().flatten();
        Some(Self { distance_yd: at(0)?, right_in: at(1)?, up_in: at(2)?, as_it_was: [at(3), at(4), at(5)] })
    }

    /// The row of a new entry, with the set-up as it is.
    #[must_use]
    pub fn row(distance_yd: f64, right_in: f64, up_in: f64, all: &Evaluation) -> Row {
        let kept = KEPT.map(|field| all.settled.given(field));
        [Some(distance_yd), Some(right_in), Some(up_in)].into_iter().chain(kept).collect()
    }
}

/// What common practice reads from the side to which the bare shaft strikes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reads {
    /// It acts stiff.
    Stiff,
    /// It acts weak.
    Weak,
    /// Neither: it strikes with the fletched.
    Matched,
}

/// A bare shaft strikes with the fletched where it is off by less than this share of the distance (a guess of the
/// page's own: 3 in at 20 yd).
const TOGETHER: f64 = 3.0 / 720.0;

impl Reads {
    /// The reading of an entry: for a right hand, left of the fletched acts stiff and right acts weak; the other way
    /// about for a left hand (common practice, no source).
    #[must_use]
    pub fn of(entry: &Entry, left_handed: bool) -> Self {
        let right = if left_handed { -entry.right_in } else { entry.right_in };
        if right.abs() < TOGETHER * entry.distance_yd * 36.0 {
            Self::Matched
        } else if right < 0.0 {
            Self::Stiff
        } else {
            Self::Weak
        }
    }

    /// In words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Stiff => "acts stiff",
            Self::Weak => "acts weak",
            Self::Matched => "strikes with the fletched",
        }
    }
}

/// A step of the match, and what else makes the same change, each alone, for this arrow on this bow.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Step {
    /// How much less draw weight the arrow suits after it, in pounds; more where it is negative.
    pub pounds: f64,
    /// Point weight added for that, in grains; none where no point does it.
    pub point_gr: Option<f64>,
    /// Cut length added for that, in inches; none where no cut does it.
    pub cut_in: Option<f64>,
}

/// What a step of the match is worth in point weight and in cut length: weaker where `pounds` is positive.
#[must_use]
pub fn step(build: &Build, pounds: f64) -> Step {
    let held = Held::new(build);
    let suits = held.numbers(&held.settled, &[Outcome::IdealDrawWeight]).get(Outcome::IdealDrawWeight);
    let added = |field: Field| match solve(build, Outcome::IdealDrawWeight, suits? - pounds, field) {
        Ok(solve::Answer::At(value)) => Some(value - held.settled.number(field)),
        _ => None,
    };
    Step { pounds, point_gr: added(Field::PointMass), cut_in: added(Field::CutLength) }
}

impl Step {
    /// What to change, in a sentence.
    #[must_use]
    pub fn sentence(&self, units: &Units) -> String {
        let weaker = self.pounds > 0.0;
        let (point, cut, draw) = if weaker { ("heavier", "longer", "more") } else { ("lighter", "shorter", "less") };
        let said = |quantity: Quantity, by: f64| measured(quantity, by.abs(), units);
        let mut ways = vec![format!("{} {draw} draw weight", said(Quantity::DrawWeight, self.pounds))];
        ways.extend(self.point_gr.map(|grains| format!("a point {} {point}", said(Quantity::Mass, grains))));
        ways.extend(self.cut_in.map(|inches| format!("a shaft {} {cut}", said(Quantity::Length, inches))));
        format!("To act {} by a step: {}.", if weaker { "weaker" } else { "stiffer" }, ways.join(", or "))
    }
}

/// How far to the side a bare shaft of zero offset lies, by the straight line through two entries that differ in one
/// kept field: that field, and the value at which it would strike with the fletched.
#[must_use]
pub fn from_the_last_two(entries: &[Entry]) -> Option<(Field, f64)> {
    let [.., before, last] = entries else { return None };
    let moved = |place: usize| {
        let pair = before.as_it_was.get(place).copied().flatten().zip(last.as_it_was.get(place).copied().flatten());
        pair.filter(|(from, to)| (to - from).abs() > 1e-9)
    };
    let mut changed = (0..KEPT.len()).filter_map(|place| Some((place, moved(place)?)));
    let (place, (from, to)) = changed.next()?;
    if changed.next().is_some() {
        return None;
    }
    // Angles compare where distances differ.
    let (a, b) = (before.right_in / before.distance_yd, last.right_in / last.distance_yd);
    let value = to - b * (to - from) / (b - a);
    value.is_finite().then_some((*KEPT.get(place)?, value))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo;

    fn entry(right_in: f64, point: f64) -> Entry {
        Entry { distance_yd: 20.0, right_in, up_in: 0.0, as_it_was: [Some(62.0), Some(point), Some(28.0)] }
    }

    #[test]
    fn left_acts_stiff_for_a_right_hand_and_weak_for_a_left() {
        assert_eq!(Reads::of(&entry(-6.0, 100.0), false), Reads::Stiff);
        assert_eq!(Reads::of(&entry(-6.0, 100.0), true), Reads::Weak);
        assert_eq!(Reads::of(&entry(6.0, 100.0), false), Reads::Weak);
        assert_eq!(Reads::of(&entry(1.0, 100.0), false), Reads::Matched);
    }

    #[test]
    fn a_step_moves_the_match_by_just_its_pounds() {
        let build = demo::all().remove(0).build.with(Field::StaticSpine, 400.0).unwrap();
        let build = build.with(Field::CutLength, 28.0).unwrap().with(Field::ShaftLinearMass, 8.5).unwrap();
        let suits = |build: &Build| Evaluation::of(build).numbers.get(Outcome::IdealDrawWeight).unwrap();
        let step = step(&build, 2.0);
        let heavier = build.clone().with(Field::PointMass, 125.0 + step.point_gr.unwrap()).unwrap();
        let longer = build.clone().with(Field::CutLength, 28.0 + step.cut_in.unwrap()).unwrap();
        for there in [heavier, longer] {
            assert!((suits(&build) - suits(&there) - 2.0).abs() < 1e-6, "{}", suits(&build) - suits(&there));
        }
        // Common practice, no source: 25 gr of point ~ 2 to 5 lb of draw weight.
        assert!((10.0..25.0).contains(&step.point_gr.unwrap()));
    }

    #[test]
    fn two_entries_on_a_line_meet_it_at_nought() {
        let (field, value) = from_the_last_two(&[entry(-6.0, 100.0), entry(-2.0, 125.0)]).unwrap();
        assert_eq!(field, Field::PointMass);
        assert!((value - 137.5).abs() < 1e-12);
        assert_eq!(from_the_last_two(&[entry(-6.0, 100.0)]), None);
        assert_eq!(from_the_last_two(&[entry(-6.0, 100.0), entry(-6.0, 125.0)]), None);
        let two = Entry { as_it_was: [Some(60.0), Some(125.0), Some(28.0)], ..entry(-2.0, 125.0) };
        assert_eq!(from_the_last_two(&[entry(-6.0, 100.0), two]), None);
    }

    #[test]
    fn a_row_keeps_the_set_up_as_it_is() {
        let all = Evaluation::of(&demo::all()[0].build);
        let entry = Entry::of(&Entry::row(20.0, -3.0, 1.0, &all)).unwrap();
        assert_eq!(entry.as_it_was[0], Some(62.0));
        assert_eq!((entry.distance_yd, entry.right_in, entry.up_in), (20.0, -3.0, 1.0));
    }
}
