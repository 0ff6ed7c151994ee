//! One input changed, all others fixed: the basis of every "what if".
//!
//! Default values would answer a heavier point with another shaft and another cut. Here every field keeps its value, so
//! that a change has one cause.

use crate::eval::{Evaluation, Outputs, ResolvedSetup, ShaftChoice, inverse, safety};
use crate::schema::{ARM_SPAN_PER_DRAW, Field, Group, Kind, Output};
use crate::setup::{Resolved, Setup};
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

/// A setup whose default values are held as if the user had given them.
#[derive(Clone, Debug)]
pub struct Baseline<'a> {
    setup: &'a Setup,
    /// Every field's value.
    pub resolved: Resolved,
}

impl<'a> Baseline<'a> {
    /// Holds every field of a setup at its value.
    #[must_use]
    pub fn new(setup: &'a Setup) -> Self {
        Self::as_resolved(setup, ShaftChoice::new(setup).resolve())
    }

    /// The same where the setup was resolved before.
    #[must_use]
    pub const fn as_resolved(setup: &'a Setup, resolved: Resolved) -> Self {
        Self { setup, resolved }
    }

    /// The setup that is held.
    #[must_use]
    pub const fn setup(&self) -> &'a Setup {
        self.setup
    }

    /// The fields with one number moved, in its saved unit and as yet unchecked.
    ///
    /// A measurement takes along the one field it is the default of: a weighed bare shaft the shaft's weight, an arm span
    /// the draw length, a marked weight the draw weight, where the user gave neither; and a draw weight the virtual mass that is usual for it, so that the
    /// bow stays as fast for its kind.
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
            Field::MarkedWeight | Field::MarkedDraw if moved.draw_weight_estimated() => {
                let weight = moved.marked_at_draw_lb();
                weight.map_or(moved, |weight| Self { resolved: moved, ..*self }.with(Field::PeakDrawWeight, weight))
            }
            Field::PeakDrawWeight if !moved.is_user_given(Field::VirtualMass) => {
                moved.with(Field::VirtualMass, moved.usual_virtual_mass_gr())
            }
            _ => moved,
        }
    }

    /// The outputs of some resolved inputs, in saved units: all direct ones, and what else is wanted. Inverse questions
    /// are only asked where one of their answers is.
    #[must_use]
    pub fn outputs(&self, resolved: &Resolved, wanted: &[Output]) -> Outputs {
        self.with_wanted(*resolved, wanted).outputs
    }

    /// All of some resolved inputs that a drawing needs, with outputs as [`Baseline::outputs`] has them; nearest shaft,
    /// tie, and what is out of reach are left out.
    #[must_use]
    pub fn evaluation(&self, resolved: Resolved, wanted: &[Output]) -> Evaluation {
        Evaluation::without_choice(self.setup, self.with_wanted(resolved, wanted))
    }

    fn with_wanted(&self, resolved: Resolved, wanted: &[Output]) -> ResolvedSetup {
        let mut all = ResolvedSetup::of(resolved, &self.setup.own_parts);
        if inverse::answers().iter().any(|output| wanted.contains(output)) {
            inverse::compute_inverse(&mut all.outputs, &all.resolved, &self.setup.own_parts);
        }
        if wanted.contains(&Output::NearestStock)
            && let Some(spine) = self.nearest_spine(&all.resolved)
        {
            all.outputs.put(Output::NearestStock, spine);
        }
        all
    }

    /// The result with one number moved, both in saved units.
    #[must_use]
    pub fn result(&self, field: Field, value: f64, output: Output) -> Option<f64> {
        self.outputs(&self.with(field, value), &[output]).get(output)
    }

    /// The spine that would be recommended: at its best cut, unless the cut was given or is the number that was moved.
    fn nearest_spine(&self, resolved: &Resolved) -> Option<f64> {
        let cut_in = resolved.number(Field::CutLength);
        let moved = cut_in.to_bits() != self.resolved.number(Field::CutLength).to_bits();
        let fixed = (moved || resolved.is_user_given(Field::CutLength)).then_some(cut_in);
        ShaftChoice::new(self.setup).spine_for(resolved, fixed, &self.setup.own_parts)
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

    /// Whether a field is a number that plays a part in the results now, and that number. The steps of an instrument only
    /// say how sure others are.
    #[must_use]
    pub fn in_play(&self, field: Field) -> Option<f64> {
        let moves = field.moves_results() && field.input().group != Group::Instruments;
        self.resolved.given(field).filter(|_| moves && self.resolved.applies(field))
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::schema::{BowKind, OUTPUTS};
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
    fn a_measurement_takes_along_what_it_replaces() {
        for (measured, value, follower) in [
            (Field::BareShaft, 270.0, Field::ShaftLinearMass),
            (Field::ArmSpan, 72.0, Field::DrawLength),
            (Field::MarkedWeight, 45.0, Field::PeakDrawWeight),
            (Field::MarkedDraw, 29.0, Field::PeakDrawWeight),
        ] {
            let mut setup = Setup::default().with(Field::MarkedWeight, 41.0).unwrap();
            setup.choose(BowKind::Longbow);
            let setup = setup.with(Field::CutLength, 28.0).unwrap().with(measured, value * 0.9).unwrap();
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
            let all = Baseline::as_resolved(&setup, held.resolved).evaluation(held.resolved, &wanted);
            prop_assert_eq!((all.outputs, all.verdict, all.warnings), (full.outputs, full.verdict, full.warnings));
        }
    }
}
