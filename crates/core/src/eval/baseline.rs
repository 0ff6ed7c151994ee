//! One number moved, all else held: the ground of every "what if".
//!
//! Left to itself the page would answer a heavier point with another shaft and another cut. Here every
//! field it settled stays as it stands, so that a change has one cause.

use crate::eval::inverse;
use crate::eval::{Evaluation, default_shaft};
use crate::eval::{Outputs, Verdict, outputs};
use crate::eval::{safety, warnings};
use crate::schema::{ARM_SPAN_PER_DRAW, Field, Kind, Output};
use crate::setup::PhysicalModel;
use crate::setup::Resolved;
use crate::setup::Setup;
use crate::units::clamp;

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
        output: Output,
    },
    /// The result has no number anywhere in the field's range.
    NoNumber {
        /// The result.
        output: Output,
    },
}

/// A set-up in which everything left to the page is held as it stands.
#[derive(Clone, Debug)]
pub struct Baseline<'a> {
    setup: &'a Setup,
    /// What stands in every field.
    pub resolved: Resolved,
}

impl<'a> Baseline<'a> {
    /// Holds a set-up as the page shows it.
    #[must_use]
    pub fn new(setup: &'a Setup) -> Self {
        let candidates = inverse::candidates(setup);
        let given = setup.get(Field::StaticSpine).is_some();
        let nearest = if given { None } else { inverse::nearest_shaft(setup, &candidates) };
        Self { setup, resolved: Resolved::new(setup, &default_shaft(setup, &candidates, nearest)) }
    }

    /// Holds a set-up whose fields have been settled already.
    #[must_use]
    pub const fn as_settled(setup: &'a Setup, resolved: Resolved) -> Self {
        Self { setup, resolved }
    }

    /// The fields with one number moved, in its saved unit and as yet unchecked.
    ///
    /// A measurement takes along the one field it stands in for: a weighed bare shaft the shaft's weight,
    /// an arm span the draw length, where these are left to the page.
    #[must_use]
    pub fn with(&self, field: Field, value: f64) -> Resolved {
        let moved = self.resolved.with(field, value);
        match field {
            Field::BareShaft if !moved.is_user_given(Field::ShaftLinearMass) => {
                moved.with(Field::ShaftLinearMass, value / moved.number(Field::CutLength))
            }
            Field::ArmSpan if !moved.is_user_given(Field::DrawLength) => {
                moved.with(Field::DrawLength, Field::DrawLength.input().clamp(value / ARM_SPAN_PER_DRAW))
            }
            _ => moved,
        }
    }

    /// Every result of some fields, in saved units; the backward questions only where one is among those
    /// wanted. What cannot be worked out has no number.
    #[must_use]
    pub fn outputs(&self, resolved: &Resolved, wanted: &[Output]) -> Outputs {
        let mut outputs = Outputs::NONE;
        outputs::compute_lengths(&mut outputs, resolved);
        if let Ok(model) = PhysicalModel::new(resolved, &self.setup.own_parts) {
            // What an arrow that cannot stand leaves without a number is its answer here.
            let _ = outputs::compute_arrow(&mut outputs, resolved, &model);
        }
        if wanted.iter().copied().any(asks_backwards) {
            inverse::compute_inverse(&mut outputs, resolved, &self.setup.own_parts);
        }
        if wanted.contains(&Output::NearestStock)
            && let Some(spine) = self.nearest_shaft(resolved)
        {
            outputs.put(Output::NearestStock, spine);
        }
        outputs
    }

    /// All of some fields that a drawing needs, with the results wanted as in [`Baseline::numbers`]; nothing is asked
    /// of the list of shafts.
    #[must_use]
    pub fn evaluation(&self, resolved: Resolved, wanted: &[Output]) -> Evaluation {
        let outputs = self.outputs(&resolved, wanted);
        let model = PhysicalModel::new(&resolved, &self.setup.own_parts);
        let mut tried = Outputs::NONE;
        let done = model
            .as_ref()
            .map_err(|&error| error)
            .and_then(|model| outputs::compute_arrow(&mut tried, &resolved, model));
        Evaluation {
            verdict: Verdict::of(&outputs),
            warnings: warnings::all(self.setup, &resolved, model.as_ref().ok(), &outputs, done.as_ref().err()),
            resolved,
            model: model.ok(),
            outputs,
            nearest: None,
            verge: None,
            out_of_reach: Vec::new(),
        }
    }

    /// The result with one number moved, both in saved units.
    #[must_use]
    pub fn result(&self, field: Field, value: f64, output: Output) -> Option<f64> {
        self.outputs(&self.with(field, value), &[output]).get(output)
    }

    /// The spine of the shaft of the list that would come nearest with all but the shaft held.
    fn nearest_shaft(&self, resolved: &Resolved) -> Option<f64> {
        let mut pinned = self.setup.fields_alone();
        pinned.own_parts.clone_from(&self.setup.own_parts);
        for field in Field::ALL {
            // A shaft weighed at a length it never had is refused, and handed back to the list below anyway.
            let _ = pinned.set(field, resolved.value(field));
        }
        let nearest = inverse::nearest_shaft(&pinned, &inverse::candidates(self.setup))?;
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
        let shortest = || clamp(safety::shortest_cut_in(&self.resolved), minimum, maximum);
        Ok((if field == Field::CutLength { shortest() } else { minimum }, maximum))
    }

    /// Whether a field is a number that plays a part in the results now, and that number.
    #[must_use]
    pub fn in_play(&self, field: Field) -> Option<f64> {
        self.resolved.given(field).filter(|_| field.moves_results() && self.resolved.applies(field))
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
fn asks_backwards(output: Output) -> bool {
    matches!(
        output,
        Output::IdealSpine
            | Output::PointForMatch
            | Output::LightestPoint
            | Output::HeaviestPoint
            | Output::CutForMatch
            | Output::ShortestCut
            | Output::LongestCut
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::schema::OUTPUTS;
    use crate::testing::any_setup;
    use proptest::prelude::*;

    #[test]
    fn the_shaft_proposed_stays_while_the_point_moves() {
        let setup = Setup::default().with(Field::PeakDrawWeight, 60.0).unwrap();
        let held = Baseline::new(&setup);
        let heavier = held.with(Field::PointMass, 250.0);
        let left = Evaluation::of(&setup.clone().with(Field::PointMass, 250.0).unwrap()).resolved;
        assert_eq!(heavier.number(Field::StaticSpine), held.resolved.number(Field::StaticSpine));
        assert_ne!(left.number(Field::StaticSpine), held.resolved.number(Field::StaticSpine), "the page would move it");
    }

    #[test]
    fn a_measurement_takes_along_what_it_stands_in_for() {
        for (measured, value, follower) in
            [(Field::BareShaft, 270.0, Field::ShaftLinearMass), (Field::ArmSpan, 72.0, Field::DrawLength)]
        {
            let setup = Setup::default().with(Field::CutLength, 28.0).unwrap().with(measured, value * 0.9).unwrap();
            let asked = Baseline::new(&setup).with(measured, value).number(follower);
            let page = Evaluation::of(&setup.with(measured, value).unwrap()).resolved.number(follower);
            assert_eq!(asked, page, "{measured:?}");
        }
    }

    #[test]
    fn a_cut_is_never_proposed_too_short() {
        let setup = Setup::default().with(Field::DrawLength, 30.0).unwrap();
        let safe = Evaluation::of(&setup).outputs.get(Output::ShortestSafeCut).unwrap();
        assert_eq!(Baseline::new(&setup).safe_range(Field::CutLength), Ok((safe, 40.0)));
        assert_eq!(range(Field::Cam), Err(WhatIfError::NotANumber { field: Field::Cam }));
        assert!(matches!(Baseline::check(Field::PointMass, 5.0), Err(WhatIfError::OutOfRange { minimum: 10.0, .. })));
    }

    #[test]
    fn each_result_can_be_asked_for_alone() {
        let setup = Setup::default();
        let (held, full) = (Baseline::new(&setup), Evaluation::of(&setup).outputs);
        for row in &OUTPUTS {
            let alone = held.outputs(&held.resolved, &[row.output]).get(row.output);
            assert_eq!(alone, full.get(row.output), "{}", row.key);
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]

        #[test]
        fn unmoved_it_is_the_evaluation_bit_for_bit(setup in any_setup()) {
            let (held, full) = (Baseline::new(&setup), Evaluation::of(&setup));
            prop_assert_eq!(held.resolved, full.resolved);
            let wanted: Vec<_> = OUTPUTS.iter().map(|row| row.output).collect();
            prop_assert_eq!(held.outputs(&held.resolved, &wanted), full.outputs);
            let all = Baseline::as_settled(&setup, held.resolved).evaluation(held.resolved, &wanted);
            prop_assert_eq!((all.outputs, all.verdict, all.warnings), (full.outputs, full.verdict, full.warnings));
        }
    }
}
