//! A result locked, one input moved: which value of it gives the number wanted.

use crate::build::Build;
use crate::choose::held::{Held, WhatIfError};
use crate::choose::search::{Search, Trial};
use crate::inputs::Field;
use crate::outcome::Outcome;
use crate::quantity::{Quantity, within};

/// The coarse steps of a whole range; two crossings within one of them may go unseen.
const STEPS: f64 = 64.0;

/// The answer to a locked result.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Answer {
    /// The field's value that gives the number wanted, in its saved unit.
    At(f64),
    /// No value of the field gives it.
    OutOfReach {
        /// The value that comes nearest, in the field's saved unit.
        nearest: f64,
        /// What the result would be there, in its own saved unit.
        result: f64,
    },
}

/// The value of `field` at which `outcome` is `target`, both in saved units, all else held as it stands.
///
/// Where several give it, the one nearest to where the field stands. The result is met to far better than
/// its last shown decimal; a count is a whole number or out of reach. An ideal match is
/// [`Outcome::ColumnLoad`] at the number of [`Outcome::TargetLoad`]. Nothing unsafe is proposed: no cut too
/// short, and no arrow lighter than the bow allows unless it is as light already.
///
/// # Errors
/// [`WhatIfError::NotANumber`] for a choice, [`WhatIfError::Target`], or [`WhatIfError::NoNumber`] where
/// the result has none at any safe value.
pub fn solve(build: &Build, outcome: Outcome, target: f64, field: Field) -> Result<Answer, WhatIfError> {
    if !target.is_finite() {
        return Err(WhatIfError::Target { outcome });
    }
    let held = Held::new(build);
    let (low, high) = held.safe_range(field)?;
    let start = within(held.settled.given(field).unwrap_or((low + high) / 2.0), low, high);
    let stands = held.result(field, start, Outcome::GrainsPerPound).unwrap_or(f64::INFINITY);
    let least_gr_per_lb = held.settled.number(Field::MakersMinimum).min(stands);
    let miss = |value| {
        let numbers = held.numbers(&held.with(field, value), &[outcome]);
        let too_light = numbers.get(Outcome::GrainsPerPound).is_some_and(|ratio| ratio < least_gr_per_lb);
        if too_light { None } else { Some(numbers.get(outcome)? - target) }
    };
    let whole = field.input().quantity() == Some(Quantity::Count);
    let step = if whole { 1.0 } else { (high - low) / STEPS };
    let decimals = outcome.row().quantity.saved_unit().decimals;
    let shown = (0..decimals).fold(0.5, |half, _| half / 10.0);
    let found = Search { miss: &miss, low, high, step, whole, shown }.from(start);
    let Trial { value, miss: Some(miss) } = found else { return Err(WhatIfError::NoNumber { outcome }) };
    let meets = miss.abs() <= shown;
    Ok(if meets { Answer::At(value) } else { Answer::OutOfReach { nearest: value, result: target + miss } })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Evaluation;
    use crate::choose::held::{all_mine, range};
    use proptest::prelude::*;

    fn number(build: &Build, outcome: Outcome) -> f64 {
        Evaluation::of(build).numbers.get(outcome).unwrap()
    }

    fn compound() -> Build {
        all_mine(&Build::default().with(Field::PeakDrawWeight, 60.0).unwrap())
    }

    #[test]
    fn focs_closed_form_in_the_point() {
        // FP-3's FOC with the rest of the arrow held: f + 1/2 = (m A + p x) / ((m + p) L), solved for p.
        let build = compound();
        let (m, a, l) = (
            number(&build, Outcome::TotalWeight),
            number(&build, Outcome::BalancePoint),
            number(&build, Outcome::ArrowLength),
        );
        let place = l + 0.6;
        for foc in [8.0, 12.0, 15.0] {
            let balance = (foc / 100.0 + 0.5) * l;
            let point = 100.0 + m * (balance - a) / (place - balance);
            let answer = solve(&build, Outcome::FrontOfCentre, foc, Field::PointMass);
            assert!(matches!(answer, Ok(Answer::At(found)) if (found - point).abs() < 1e-6), "{answer:?} {point}");
        }
    }

    #[test]
    fn an_ideal_match_is_the_page_s_own() {
        let build = compound();
        let target = number(&build, Outcome::TargetLoad);
        for (field, outcome) in [
            (Field::CutLength, Outcome::CutForMatch),
            (Field::PointMass, Outcome::PointForMatch),
            (Field::StaticSpine, Outcome::IdealSpine),
            (Field::PeakDrawWeight, Outcome::IdealDrawWeight),
        ] {
            let answer = solve(&build, Outcome::ColumnLoad, target, field);
            let page = number(&build, outcome);
            assert!(matches!(answer, Ok(Answer::At(found)) if (found - page).abs() < 1e-5), "{answer:?} {page}");
        }
    }

    #[test]
    fn out_of_reach_gives_the_best_end_and_its_result() {
        let build = compound().with(Field::PeakDrawWeight, 50.0).unwrap();
        let lightest = number(&build.clone().with(Field::PointMass, 10.0).unwrap(), Outcome::LaunchSpeed);
        let answer = solve(&build, Outcome::LaunchSpeed, 400.0, Field::PointMass).unwrap();
        let Answer::OutOfReach { nearest, result } = answer else { panic!("{answer:?}") };
        assert_eq!(nearest, 10.0);
        assert!((result - lightest).abs() < 1e-9);
    }

    #[test]
    fn of_two_crossings_the_nearer_is_taken() {
        // The longer the draw the stiffer the free length acts, until the rest nears the point.
        let build = compound();
        let load = |draw: f64| Held::new(&build).result(Field::DrawLength, draw, Outcome::ColumnLoad);
        let fine: Vec<f64> = (0..1050).map(|place| 15.0 + f64::from(place) * 0.02).collect();
        let crossings: Vec<f64> = fine
            .iter()
            .filter(|&&draw| matches!((load(draw), load(draw + 0.02)), (Some(a), Some(b)) if (a > 1.0) != (b > 1.0)))
            .copied()
            .collect();
        assert!(crossings.len() > 1 && crossings[0] < 28.0, "{crossings:?}");
        for start in [26.0, 28.4] {
            let from = build.clone().with(Field::DrawLength, start).unwrap();
            let nearest =
                crossings.iter().copied().min_by(|a, b| (a - start).abs().total_cmp(&(b - start).abs())).unwrap();
            let answer = solve(&from, Outcome::ColumnLoad, 1.0, Field::DrawLength);
            assert!(
                matches!(answer, Ok(Answer::At(found)) if (nearest..=nearest + 0.02).contains(&found)),
                "{answer:?} {crossings:?}"
            );
        }
    }

    #[test]
    fn the_best_may_lie_within_the_range() {
        let build = compound();
        let held = Held::new(&build);
        let load = |offset: f64| held.result(Field::RestOffset, offset, Outcome::ColumnLoad).unwrap_or(f64::INFINITY);
        let least = (-800..600).map(|place| load(f64::from(place) * 0.01)).fold(f64::INFINITY, f64::min);
        let answer = solve(&build, Outcome::ColumnLoad, 0.5, Field::RestOffset).unwrap();
        let Answer::OutOfReach { nearest, result } = answer else { panic!("{answer:?}") };
        assert!(
            (-8.0 < nearest && nearest < 6.0) && result <= least && least < result + 1e-5,
            "{nearest} {result} {least}"
        );
    }

    #[test]
    fn nothing_unsafe_is_proposed() {
        // At 60 lb the lightest point of the table would leave less than the 5 gr per lb the bow asks for.
        let build = compound();
        let number = |outcome, value| Held::new(&build).result(Field::PointMass, value, outcome).unwrap();
        assert!(number(Outcome::GrainsPerPound, 10.0) < 5.0);
        let answer = solve(&build, Outcome::LaunchSpeed, 400.0, Field::PointMass).unwrap();
        let Answer::OutOfReach { nearest, .. } = answer else { panic!("{answer:?}") };
        assert!((number(Outcome::GrainsPerPound, nearest) - 5.0).abs() < 1e-6);
    }

    #[test]
    fn a_number_that_stands_already_is_kept() {
        let build = compound();
        let foc = number(&build, Outcome::FrontOfCentre);
        assert_eq!(solve(&build, Outcome::FrontOfCentre, foc, Field::LetOff), Ok(Answer::At(80.0)));
    }

    #[test]
    fn what_cannot_be_asked_is_refused() {
        let build = compound();
        let ask = |outcome, target, field| solve(&build, outcome, target, field).unwrap_err();
        assert_eq!(ask(Outcome::LaunchSpeed, 280.0, Field::Cam), WhatIfError::NotANumber { field: Field::Cam });
        let outcome = Outcome::LaunchSpeed;
        assert_eq!(ask(outcome, f64::NAN, Field::PointMass), WhatIfError::Target { outcome });
        let build = Build::default().with(Field::CutLength, 20.0).unwrap();
        let outcome = Outcome::ColumnLoad;
        assert_eq!(solve(&build, outcome, 1.0, Field::PointMass), Err(WhatIfError::NoNumber { outcome }));
    }

    #[test]
    fn a_count_is_whole() {
        let build = compound();
        let four = number(&build.clone().with(Field::VaneCount, 4.0).unwrap(), Outcome::TotalWeight);
        assert_eq!(solve(&build, Outcome::TotalWeight, four, Field::VaneCount), Ok(Answer::At(4.0)));
        let between = solve(&build, Outcome::TotalWeight, four - 3.0, Field::VaneCount);
        assert!(matches!(between, Ok(Answer::OutOfReach { nearest: 4.0, .. })), "{between:?}");
    }

    const FIELDS: [Field; 6] = [
        Field::PointMass,
        Field::CutLength,
        Field::InsertMass,
        Field::PeakDrawWeight,
        Field::StaticSpine,
        Field::VaneSetBack,
    ];
    const WANTED: [Outcome; 5] = [
        Outcome::FrontOfCentre,
        Outcome::LaunchSpeed,
        Outcome::ColumnLoad,
        Outcome::KineticEnergy,
        Outcome::TotalWeight,
    ];

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(60))]

        #[test]
        fn it_is_the_inverse_of_the_evaluation(field in 0..6usize, outcome in 0..5usize, share in 0.0..1.0f64) {
            let (build, field, outcome) = (compound(), FIELDS[field], WANTED[outcome]);
            let (low, high) = Held::new(&build).safe_range(field).unwrap();
            let there = |value: f64, outcome| {
                let numbers = Evaluation::numbers_alone(&build.clone().with(field, value).unwrap()).unwrap();
                numbers.get(outcome).unwrap()
            };
            let asked = low + share * (high - low);
            prop_assume!(there(asked, Outcome::GrainsPerPound) >= 5.0);
            let target = there(asked, outcome);
            let answer = solve(&build, outcome, target, field).unwrap();
            let Answer::At(value) = answer else { panic!("{answer:?}") };
            prop_assert!((there(value, outcome) - target).abs() <= 1e-6 * target.abs(), "{field:?} {outcome:?} {value}");
        }

        #[test]
        fn no_value_comes_nearer_than_the_nearest(field in 0..6usize, outcome in 0..5usize, share in 0.0..1.0f64) {
            let (build, field, outcome) = (compound(), FIELDS[field], WANTED[outcome]);
            let (low, high) = range(field).unwrap();
            let held = Held::new(&build);
            for target in [0.001, 1e5] {
                let answer = solve(&build, outcome, target, field).unwrap();
                let Answer::OutOfReach { nearest, result } = answer else { continue };
                prop_assert_eq!(held.result(field, nearest, outcome).map(|there| (there - result).abs() < 1e-9), Some(true));
                let (safe, _) = held.safe_range(field).unwrap();
                let other = (low + share * (high - low)).max(safe);
                prop_assume!(held.result(field, other, Outcome::GrainsPerPound).unwrap() >= 5.0);
                let other = held.result(field, other, outcome).unwrap();
                prop_assert!((result - target).abs() <= (other - target).abs() + 1e-9, "{field:?} {outcome:?}");
            }
        }
    }
}
