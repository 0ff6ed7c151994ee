//! One number moved, all else held: the ground of every "what if".
//!
//! Left to itself the page would answer a heavier point with another shaft and another cut. Here every
//! field it settled stays as it stands, so that a change has one cause.

use crate::advice;
use crate::build::Build;
use crate::cautions;
use crate::evaluation::{Evaluation, offered};
use crate::inputs::{Field, Kind};
use crate::numbers::{self, Numbers, Verdict};
use crate::outcome::Outcome;
use crate::quantity::within;
use crate::settle::Settled;
use crate::setup::Setup;

/// Why a "what if" has no answer.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum WhatIfError {
    /// The field is a choice and has no numbers to move through.
    NotANumber {
        /// The field.
        field: Field,
    },
    /// A value the field does not allow, in its saved unit.
    OutOfRange {
        /// The field.
        field: Field,
        /// What was asked for.
        value: f64,
        /// Least allowed.
        minimum: f64,
        /// Most allowed.
        maximum: f64,
    },
    /// The number wanted of a result is not finite.
    Target {
        /// The result.
        outcome: Outcome,
    },
    /// The result has no number anywhere in the field's range.
    NoNumber {
        /// The result.
        outcome: Outcome,
    },
    /// Fewer or more values than can be asked for at once.
    Count {
        /// What was asked for.
        count: usize,
        /// Least allowed.
        least: usize,
        /// Most allowed.
        most: usize,
    },
}

/// A set-up in which everything left to the page is held as it stands.
#[derive(Clone, Debug)]
pub struct Held<'a> {
    build: &'a Build,
    /// What stands in every field.
    pub settled: Settled,
}

impl<'a> Held<'a> {
    /// Holds a set-up as the page shows it.
    #[must_use]
    pub fn new(build: &'a Build) -> Self {
        let candidates = advice::candidates(build);
        let given = build.get(Field::StaticSpine).is_some();
        let nearest = if given { None } else { advice::nearest_stock(build, &candidates) };
        Self { build, settled: Settled::new(build, &offered(build, &candidates, nearest)) }
    }

    /// Holds a set-up whose fields have been settled already.
    #[must_use]
    pub const fn as_settled(build: &'a Build, settled: Settled) -> Self {
        Self { build, settled }
    }

    /// The fields with one number moved, in its saved unit and as yet unchecked.
    ///
    /// A measurement takes along the one field it stands in for: a weighed bare shaft the shaft's weight,
    /// an arm span the draw length, where these are left to the page.
    #[must_use]
    pub fn with(&self, field: Field, value: f64) -> Settled {
        let moved = self.settled.with(field, value);
        match field {
            Field::BareShaft if !moved.is_mine(Field::ShaftLinearMass) => {
                moved.with(Field::ShaftLinearMass, value / moved.number(Field::CutLength))
            }
            Field::ArmSpan if !moved.is_mine(Field::DrawLength) => {
                moved.with(Field::DrawLength, within(value / 2.5, 15.0, 36.0))
            }
            _ => moved,
        }
    }

    /// Every result of some fields, in saved units; the backward questions only where one is among those
    /// wanted. What cannot be worked out has no number.
    #[must_use]
    pub fn numbers(&self, settled: &Settled, wanted: &[Outcome]) -> Numbers {
        let mut numbers = Numbers::NONE;
        numbers::put_lengths(&mut numbers, settled);
        if let Ok(setup) = Setup::new(settled, &self.build.own_parts) {
            // What an arrow that cannot stand leaves without a number is its answer here.
            let _ = numbers::put_arrow(&mut numbers, settled, &setup);
        }
        if wanted.iter().copied().any(asks_backwards) {
            advice::put_answers(&mut numbers, settled, &self.build.own_parts);
        }
        if wanted.contains(&Outcome::NearestStock)
            && let Some(spine) = self.nearest_stock(settled)
        {
            numbers.put(Outcome::NearestStock, spine);
        }
        numbers
    }

    /// All of some fields that a drawing needs, with the results wanted as in [`Held::numbers`]; nothing is asked
    /// of the list of shafts.
    #[must_use]
    pub fn evaluation(&self, settled: Settled, wanted: &[Outcome]) -> Evaluation {
        let numbers = self.numbers(&settled, wanted);
        let setup = Setup::new(&settled, &self.build.own_parts);
        let mut tried = Numbers::NONE;
        let done =
            setup.as_ref().map_err(|&error| error).and_then(|setup| numbers::put_arrow(&mut tried, &settled, setup));
        Evaluation {
            verdict: Verdict::of(&numbers),
            cautions: cautions::all(self.build, &settled, setup.as_ref().ok(), &numbers, done.as_ref().err()),
            settled,
            setup: setup.ok(),
            numbers,
            nearest: None,
            verge: None,
            out_of_reach: Vec::new(),
        }
    }

    /// The result with one number moved, both in saved units.
    #[must_use]
    pub fn result(&self, field: Field, value: f64, outcome: Outcome) -> Option<f64> {
        self.numbers(&self.with(field, value), &[outcome]).get(outcome)
    }

    /// The spine of the shaft of the list that would come nearest with all but the shaft held.
    fn nearest_stock(&self, settled: &Settled) -> Option<f64> {
        let mut pinned = self.build.fields_alone();
        pinned.own_parts.clone_from(&self.build.own_parts);
        for field in Field::ALL {
            // A shaft weighed at a length it never had is refused, and handed back to the list below anyway.
            let _ = pinned.set(field, settled.value(field));
        }
        let nearest = advice::nearest_stock(&pinned, &advice::candidates(self.build))?;
        Some(nearest.static_spine_thousandths)
    }

    /// Checks a value of a numeric field, in its saved unit.
    ///
    /// # Errors
    /// [`WhatIfError::NotANumber`] or [`WhatIfError::OutOfRange`].
    pub fn check(field: Field, value: f64) -> Result<(), WhatIfError> {
        let (minimum, maximum) = range(field)?;
        if (minimum..=maximum).contains(&value) {
            Ok(())
        } else {
            Err(WhatIfError::OutOfRange { field, value, minimum, maximum })
        }
    }

    /// The range in which a value may be proposed, in the saved unit: never a cut too short to be safe.
    ///
    /// # Errors
    /// [`WhatIfError::NotANumber`].
    pub fn safe_range(&self, field: Field) -> Result<(f64, f64), WhatIfError> {
        let (minimum, maximum) = range(field)?;
        let safe_cut = self.settled.shortest_safe_length_in() - self.settled.number(Field::ThroatToShaft);
        Ok(if field == Field::CutLength { (within(safe_cut, minimum, maximum), maximum) } else { (minimum, maximum) })
    }

    /// Whether a field is a number that plays a part in the results now, and that number.
    #[must_use]
    pub fn in_play(&self, field: Field) -> Option<f64> {
        self.settled.given(field).filter(|_| field.moves_results() && self.settled.applies(field))
    }
}

/// Least and most of a numeric field, in its saved unit.
///
/// # Errors
/// [`WhatIfError::NotANumber`].
pub fn range(field: Field) -> Result<(f64, f64), WhatIfError> {
    match field.input().kind {
        Kind::Number { minimum, maximum, .. } => Ok((minimum, maximum)),
        Kind::Choice(_) => Err(WhatIfError::NotANumber { field }),
    }
}

/// Whether a result is the answer to a backward question, which costs some dozens of others.
fn asks_backwards(outcome: Outcome) -> bool {
    matches!(
        outcome,
        Outcome::IdealSpine
            | Outcome::PointForMatch
            | Outcome::LightestPoint
            | Outcome::HeaviestPoint
            | Outcome::CutForMatch
            | Outcome::ShortestCut
            | Outcome::LongestCut
    )
}

/// The build with every number that is settled made the user's own.
#[cfg(test)]
pub(crate) fn all_mine(build: &Build) -> Build {
    let settled = Held::new(build).settled;
    let mut mine = build.clone();
    for field in Field::ALL {
        if settled.given(field).is_some() {
            mine.set(field, settled.value(field)).unwrap();
        }
    }
    mine
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::outcome::OUTCOMES;
    use crate::testing::any_build;
    use proptest::prelude::*;

    #[test]
    fn the_shaft_proposed_stays_while_the_point_moves() {
        let build = Build::default().with(Field::PeakDrawWeight, 60.0).unwrap();
        let held = Held::new(&build);
        let heavier = held.with(Field::PointMass, 250.0);
        let left = Evaluation::of(&build.clone().with(Field::PointMass, 250.0).unwrap()).settled;
        assert_eq!(heavier.number(Field::StaticSpine), held.settled.number(Field::StaticSpine));
        assert_ne!(left.number(Field::StaticSpine), held.settled.number(Field::StaticSpine), "the page would move it");
    }

    #[test]
    fn a_measurement_takes_along_what_it_stands_in_for() {
        for (measured, value, follower) in
            [(Field::BareShaft, 270.0, Field::ShaftLinearMass), (Field::ArmSpan, 72.0, Field::DrawLength)]
        {
            let build = Build::default().with(Field::CutLength, 28.0).unwrap().with(measured, value * 0.9).unwrap();
            let asked = Held::new(&build).with(measured, value).number(follower);
            let page = Evaluation::of(&build.with(measured, value).unwrap()).settled.number(follower);
            assert_eq!(asked, page, "{measured:?}");
        }
    }

    #[test]
    fn a_cut_is_never_proposed_too_short() {
        let build = Build::default().with(Field::DrawLength, 30.0).unwrap();
        let safe = Evaluation::of(&build).numbers.get(Outcome::ShortestSafeCut).unwrap();
        assert_eq!(Held::new(&build).safe_range(Field::CutLength), Ok((safe, 40.0)));
        assert_eq!(range(Field::Cam), Err(WhatIfError::NotANumber { field: Field::Cam }));
        assert!(matches!(Held::check(Field::PointMass, 5.0), Err(WhatIfError::OutOfRange { minimum: 10.0, .. })));
    }

    #[test]
    fn each_result_can_be_asked_for_alone() {
        let build = Build::default();
        let (held, full) = (Held::new(&build), Evaluation::of(&build).numbers);
        for row in &OUTCOMES {
            let alone = held.numbers(&held.settled, &[row.outcome]).get(row.outcome);
            assert_eq!(alone, full.get(row.outcome), "{}", row.key);
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]

        #[test]
        fn unmoved_it_is_the_evaluation_bit_for_bit(build in any_build()) {
            let (held, full) = (Held::new(&build), Evaluation::of(&build));
            prop_assert_eq!(held.settled, full.settled);
            let wanted: Vec<_> = OUTCOMES.iter().map(|row| row.outcome).collect();
            prop_assert_eq!(held.numbers(&held.settled, &wanted), full.numbers);
            let all = Held::as_settled(&build, held.settled).evaluation(held.settled, &wanted);
            prop_assert_eq!((all.numbers, all.verdict, all.cautions), (full.numbers, full.verdict, full.cautions));
        }
    }
}
