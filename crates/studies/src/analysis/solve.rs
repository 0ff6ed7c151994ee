//! Solves for one input: the value that gives a chosen result.

use crate::analysis::compare::EvaluatedSetup;
use crate::analysis::search::{Search, Trial};
use clothyard_core::eval::baseline::{Baseline, WhatIfError};
use clothyard_core::eval::{Evaluation, safety};
use clothyard_core::schema::{Field, Output, StockShaft};
use clothyard_core::setup::Setup;
use clothyard_core::units::{Quantity, Units, clamp};
use clothyard_core::{format, parse};

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

/// The value of `field` at which `outcome` is `target`, both in saved units, all else held as it is.
///
/// Where several give it, the one nearest to the field's value. The result is met to far better than
/// its last shown decimal; a count is a whole number or out of reach. An ideal match is
/// [`Output::ColumnLoad`] at the number of [`Output::TargetLoad`]. Nothing unsafe is proposed: no cut too
/// short, and no arrow lighter than the bow allows unless it is as light already.
///
/// # Errors
/// [`WhatIfError::NotANumber`] for a choice, [`WhatIfError::Target`], or [`WhatIfError::NoNumber`] where
/// the result has none at any safe value.
pub fn solve(held: &Baseline<'_>, output: Output, target: f64, field: Field) -> Result<Answer, WhatIfError> {
    if !target.is_finite() {
        return Err(WhatIfError::Target { output });
    }
    let (low, high) = held.safe_range(field)?;
    let start = clamp(held.resolved.given(field).unwrap_or((low + high) / 2.0), low, high);
    let current = held.result(field, start, Output::GrainsPerPound).unwrap_or(f64::INFINITY);
    let least_gr_per_lb = safety::least_gr_per_lb(&held.resolved).min(current);
    let miss = |value| {
        let outputs = held.outputs(&held.with(field, value), &[output]);
        let too_light = outputs.get(Output::GrainsPerPound).is_some_and(|ratio| ratio < least_gr_per_lb);
        if too_light { None } else { Some(outputs.get(output)? - target) }
    };
    let whole = field.input().quantity() == Some(Quantity::Count);
    let step = if whole { 1.0 } else { (high - low) / STEPS };
    let decimals = output.row().quantity.saved_unit().decimals;
    let shown = (0..decimals).fold(0.5, |half, _| half / 10.0);
    let found = Search { miss: &miss, low, high, step, whole, shown }.from(start);
    let Trial { value, miss: Some(miss) } = found else { return Err(WhatIfError::NoNumber { output }) };
    let meets = miss.abs() <= shown;
    Ok(if meets { Answer::At(value) } else { Answer::OutOfReach { nearest: value, result: target + miss } })
}

/// What is wanted of a setup.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Wanted {
    /// An ideal match.
    Match,
    /// A number of a result, in its saved unit.
    Number(Output, f64),
}

impl Wanted {
    /// Reads the number typed for a result; without one the match is wanted.
    ///
    /// # Errors
    /// What is wrong, in a sentence.
    pub fn read(output: Option<Output>, typed: &str, units: &Units) -> Result<Self, String> {
        let Some(output) = output else { return Ok(Self::Match) };
        let row = output.row();
        if typed.trim().is_empty() {
            return Err(format!("Enter {}.", row.label));
        }
        Ok(Self::Number(output, parse::labeled(typed, row.label, row.quantity, units)?))
    }
}

/// A value of an input that answers what is wanted, or comes nearest to it.
#[derive(Clone, Debug, PartialEq)]
pub struct Found {
    field: Field,
    value: f64,
    /// The answer in a sentence.
    pub sentence: String,
}

impl Found {
    /// Answers what is wanted by moving one input.
    ///
    /// # Errors
    /// Why there is no answer, in a sentence.
    pub fn new(now: &EvaluatedSetup, wanted: Wanted, field: Field, units: &Units) -> Result<Self, String> {
        let (output, target) = match wanted {
            Wanted::Number(output, target) => (output, target),
            Wanted::Match => (Output::ColumnLoad, target_load(&now.all)?),
        };
        let aim = match wanted {
            Wanted::Number(..) => format::result(output, Some(target), units),
            Wanted::Match => "an exact match".to_owned(),
        };
        let label = field.input().label;
        let at = |value| field.input().quantity().map_or_else(String::new, |of| format::measured(of, value, units));
        let (value, sentence) = match solve(&now.baseline(), output, target, field) {
            Ok(Answer::At(value)) => (value, format!("{label} {} gives {aim}.", at(value))),
            Ok(Answer::OutOfReach { nearest, result }) => {
                let best = match wanted {
                    Wanted::Number(..) => format::result(output, Some(result), units),
                    Wanted::Match => {
                        let percent = format::measured(Quantity::Percent, 100.0 * result / target, units);
                        format!("a column load {percent} of its target")
                    }
                };
                let (by, nearest_words) = (label.to_ascii_lowercase(), at(nearest));
                (nearest, format!("{aim} cannot be reached with {by}. Closest: {best}, at {nearest_words}."))
            }
            Err(_) => {
                return Err(format!("{} cannot be calculated for this setup. See the warnings.", output.row().label));
            }
        };
        Ok(Self { field, value, sentence })
    }

    /// The setup with the answer on its arrow. The shaft is given as it was when the answer was computed: left to the
    /// page, it would be proposed again.
    #[must_use]
    pub fn put_on(&self, now: &EvaluatedSetup) -> Option<Setup> {
        let (mut setup, resolved) = (now.setup.clone(), &now.all.resolved);
        // A weighed bare shaft gives its weight for its length already.
        let weighed = resolved.given(Field::BareShaft).is_some() && self.field != Field::CutLength;
        for field in StockShaft::fields().chain([Field::CutLength]) {
            if let Some(value) = resolved.value(field).filter(|_| field != Field::ShaftLinearMass || !weighed) {
                let _ = setup.set(field, Some(value));
            }
        }
        setup.with(self.field, self.value).ok()
    }
}

/// The column load at which this bow's arrows match.
fn target_load(all: &Evaluation) -> Result<f64, String> {
    let load = all.outputs.get(Output::TargetLoad);
    load.ok_or_else(|| "No match can be calculated for this setup. See the warnings.".to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use clothyard_core::eval::ResolvedSetup;
    use clothyard_core::eval::baseline::range;
    use clothyard_core::testing::all_user_given;
    use proptest::prelude::*;

    fn number(setup: &Setup, output: Output) -> f64 {
        Evaluation::of(setup).outputs.get(output).unwrap()
    }

    fn compound() -> Setup {
        all_user_given(&Setup::default().with(Field::PeakDrawWeight, 60.0).unwrap())
    }

    #[test]
    fn focs_closed_form_in_the_point() {
        // FP-3's FOC with the rest of the arrow held: f + 1/2 = (m A + p x) / ((m + p) L), solved for p.
        let setup = compound();
        let (m, a, l) = (
            number(&setup, Output::TotalWeight),
            number(&setup, Output::BalancePoint),
            number(&setup, Output::ArrowLength),
        );
        let place = l + 0.6;
        for foc in [8.0, 12.0, 15.0] {
            let balance = (foc / 100.0 + 0.5) * l;
            let point = 100.0 + m * (balance - a) / (place - balance);
            let answer = solve(&Baseline::new(&setup), Output::FrontOfCentre, foc, Field::PointMass);
            assert!(matches!(answer, Ok(Answer::At(found)) if (found - point).abs() < 1e-6), "{answer:?} {point}");
        }
    }

    #[test]
    fn an_ideal_match_is_the_page_s_own() {
        let setup = compound();
        let target = number(&setup, Output::TargetLoad);
        for (field, output) in [
            (Field::CutLength, Output::CutForMatch),
            (Field::PointMass, Output::PointForMatch),
            (Field::StaticSpine, Output::IdealSpine),
            (Field::PeakDrawWeight, Output::IdealDrawWeight),
        ] {
            let answer = solve(&Baseline::new(&setup), Output::ColumnLoad, target, field);
            let page = number(&setup, output);
            assert!(matches!(answer, Ok(Answer::At(found)) if (found - page).abs() < 1e-5), "{answer:?} {page}");
        }
    }

    #[test]
    fn out_of_reach_gives_the_best_end_and_its_result() {
        let setup = compound().with(Field::PeakDrawWeight, 50.0).unwrap();
        let lightest = number(&setup.clone().with(Field::PointMass, 10.0).unwrap(), Output::LaunchSpeed);
        let answer = solve(&Baseline::new(&setup), Output::LaunchSpeed, 400.0, Field::PointMass).unwrap();
        let Answer::OutOfReach { nearest, result } = answer else { panic!("{answer:?}") };
        assert_eq!(nearest, 10.0);
        assert!((result - lightest).abs() < 1e-9);
    }

    #[test]
    fn of_two_crossings_the_nearer_is_taken() {
        // The longer the draw the stiffer the free length acts, until the rest nears the point.
        let setup = compound();
        let load = |draw: f64| Baseline::new(&setup).result(Field::DrawLength, draw, Output::ColumnLoad);
        let level = 1.05;
        let fine: Vec<f64> = (0..1050).map(|place| 15.0 + f64::from(place) * 0.02).collect();
        let crossings: Vec<f64> = fine
            .iter()
            .filter(
                |&&draw| matches!((load(draw), load(draw + 0.02)), (Some(a), Some(b)) if (a > level) != (b > level)),
            )
            .copied()
            .collect();
        assert!(crossings.len() > 1 && crossings[0] < 28.0, "{crossings:?}");
        for start in [26.0, 28.4] {
            let from = setup.clone().with(Field::DrawLength, start).unwrap();
            let nearest =
                crossings.iter().copied().min_by(|a, b| (a - start).abs().total_cmp(&(b - start).abs())).unwrap();
            let answer = solve(&Baseline::new(&from), Output::ColumnLoad, level, Field::DrawLength);
            assert!(
                matches!(answer, Ok(Answer::At(found)) if (nearest..=nearest + 0.02).contains(&found)),
                "{answer:?} {crossings:?}"
            );
        }
    }

    #[test]
    fn the_best_may_be_within_the_range() {
        let setup = compound();
        let held = Baseline::new(&setup);
        let load = |offset: f64| held.result(Field::RestOffset, offset, Output::ColumnLoad).unwrap_or(f64::INFINITY);
        let least = (-800..600).map(|place| load(f64::from(place) * 0.01)).fold(f64::INFINITY, f64::min);
        let answer = solve(&Baseline::new(&setup), Output::ColumnLoad, 0.5, Field::RestOffset).unwrap();
        let Answer::OutOfReach { nearest, result } = answer else { panic!("{answer:?}") };
        assert!(
            (-8.0 < nearest && nearest < 6.0) && result <= least && least < result + 1e-5,
            "{nearest} {result} {least}"
        );
    }

    #[test]
    fn nothing_unsafe_is_proposed() {
        // At 60 lb the lightest point of the table would leave less than the 5 gr per lb the bow asks for.
        let setup = compound();
        let number = |output, value| Baseline::new(&setup).result(Field::PointMass, value, output).unwrap();
        assert!(number(Output::GrainsPerPound, 10.0) < 5.0);
        let answer = solve(&Baseline::new(&setup), Output::LaunchSpeed, 400.0, Field::PointMass).unwrap();
        let Answer::OutOfReach { nearest, .. } = answer else { panic!("{answer:?}") };
        assert!((number(Output::GrainsPerPound, nearest) - 5.0).abs() < 1e-6);
    }

    #[test]
    fn a_number_that_fits_already_is_kept() {
        let setup = compound();
        let foc = number(&setup, Output::FrontOfCentre);
        assert_eq!(solve(&Baseline::new(&setup), Output::FrontOfCentre, foc, Field::LetOff), Ok(Answer::At(80.0)));
    }

    #[test]
    fn what_cannot_be_asked_is_refused() {
        let setup = compound();
        let ask = |output, target, field| solve(&Baseline::new(&setup), output, target, field).unwrap_err();
        assert_eq!(ask(Output::LaunchSpeed, 280.0, Field::Cam), WhatIfError::NotANumber { field: Field::Cam });
        let output = Output::LaunchSpeed;
        assert_eq!(ask(output, f64::NAN, Field::PointMass), WhatIfError::Target { output });
        let setup = Setup::default().with(Field::CutLength, 20.0).unwrap();
        let output = Output::ColumnLoad;
        assert_eq!(solve(&Baseline::new(&setup), output, 1.0, Field::PointMass), Err(WhatIfError::NoNumber { output }));
    }

    #[test]
    fn a_count_is_whole() {
        let setup = compound();
        let four = number(&setup.clone().with(Field::VaneCount, 4.0).unwrap(), Output::TotalWeight);
        assert_eq!(solve(&Baseline::new(&setup), Output::TotalWeight, four, Field::VaneCount), Ok(Answer::At(4.0)));
        let between = solve(&Baseline::new(&setup), Output::TotalWeight, four - 3.0, Field::VaneCount);
        assert!(matches!(between, Ok(Answer::OutOfReach { nearest: 4.0, .. })), "{between:?}");
    }

    #[test]
    fn an_answer_in_a_sentence() {
        let (setup, units) = (compound(), Units::ARCHERY);
        let say = |output: Option<Output>, typed: &str, field| {
            let wanted = Wanted::read(output, typed, &units)?;
            Found::new(&EvaluatedSetup::new(setup.clone()), wanted, field, &units).map(|found| found.sentence)
        };
        let foc = Some(Output::FrontOfCentre);
        assert_eq!(say(foc, " ", Field::PointMass), Err("Enter FOC.".to_owned()));
        assert!(say(foc, "x", Field::PointMass).unwrap_err().starts_with("FOC: enter a number of %"));
        let sentence = say(foc, "12", Field::PointMass).unwrap();
        assert!(sentence.starts_with("Point weight ") && sentence.ends_with("\u{a0}gr gives 12.0%."), "{sentence}");
        let sentence = say(foc, "80", Field::PointMass).unwrap();
        assert!(sentence.starts_with("80.0% cannot be reached with point weight. Closest: "), "{sentence}");
        assert!(sentence.ends_with(", at 600\u{a0}gr."), "{sentence}");
        assert!(say(None, "", Field::CutLength).unwrap().ends_with(" gives an exact match."));
        let far = setup.clone().with(Field::StaticSpine, 250.0).unwrap();
        let sentence = Found::new(&EvaluatedSetup::new(far), Wanted::Match, Field::LetOff, &units).unwrap().sentence;
        assert!(
            sentence.contains("Closest: a column load ") && sentence.contains("% of its target, at "),
            "{sentence}"
        );
        assert!(
            say(foc, "12", Field::Cam)
                .unwrap_err()
                .ends_with(" cannot be calculated for this setup. See the warnings.")
        );
        let short = Setup::default().with(Field::CutLength, 20.0).unwrap();
        let none = Found::new(&EvaluatedSetup::new(short.clone()), Wanted::Match, Field::Bore, &units).unwrap_err();
        assert_eq!(none, "Column load cannot be calculated for this setup. See the warnings.");
    }

    #[test]
    fn an_answer_on_the_arrow_is_met_by_the_shaft_it_was_computed_for() {
        let setup = Setup::default().with(Field::PeakDrawWeight, 60.0).unwrap();
        for setup in [setup.clone(), setup.with(Field::BareShaft, 250.0).unwrap()] {
            let now = EvaluatedSetup::new(setup);
            for (output, target, field) in
                [(Output::FrontOfCentre, 12.0, Field::PointMass), (Output::TotalWeight, 450.0, Field::CutLength)]
            {
                let found = Found::new(&now, Wanted::Number(output, target), field, &Units::ARCHERY).unwrap();
                let reached = number(&found.put_on(&now).unwrap(), output);
                assert!((reached - target).abs() < 0.01, "{output:?} {reached}");
            }
        }
    }

    const FIELDS: [Field; 6] = [
        Field::PointMass,
        Field::CutLength,
        Field::InsertMass,
        Field::PeakDrawWeight,
        Field::StaticSpine,
        Field::VaneSetBack,
    ];
    const WANTED: [Output; 5] =
        [Output::FrontOfCentre, Output::LaunchSpeed, Output::ColumnLoad, Output::KineticEnergy, Output::TotalWeight];

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(60))]

        #[test]
        fn it_is_the_inverse_of_the_evaluation(field in 0..6usize, output in 0..5usize, share in 0.0..1.0f64) {
            let (setup, field, output) = (compound(), FIELDS[field], WANTED[output]);
            let (low, high) = Baseline::new(&setup).safe_range(field).unwrap();
            let there = |value: f64, output| {
                let outputs = ResolvedSetup::new(&setup.clone().with(field, value).unwrap()).outputs;
                outputs.get(output).unwrap()
            };
            let asked = low + share * (high - low);
            prop_assume!(there(asked, Output::GrainsPerPound) >= 5.0);
            let target = there(asked, output);
            let answer = solve(&Baseline::new(&setup), output, target, field).unwrap();
            let Answer::At(value) = answer else { panic!("{answer:?}") };
            prop_assert!((there(value, output) - target).abs() <= 1e-6 * target.abs(), "{field:?} {output:?} {value}");
        }

        #[test]
        fn no_value_comes_nearer_than_the_nearest(field in 0..6usize, output in 0..5usize, share in 0.0..1.0f64) {
            let (setup, field, output) = (compound(), FIELDS[field], WANTED[output]);
            let (low, high) = range(field).unwrap();
            let held = Baseline::new(&setup);
            for target in [0.001, 1e5] {
                let answer = solve(&Baseline::new(&setup), output, target, field).unwrap();
                let Answer::OutOfReach { nearest, result } = answer else { continue };
                prop_assert_eq!(held.result(field, nearest, output).map(|there| (there - result).abs() < 1e-9), Some(true));
                let (safe, _) = held.safe_range(field).unwrap();
                let other = (low + share * (high - low)).max(safe);
                prop_assume!(held.result(field, other, Output::GrainsPerPound).unwrap() >= 5.0);
                let other = held.result(field, other, output).unwrap();
                prop_assert!((result - target).abs() <= (other - target).abs() + 1e-9, "{field:?} {output:?}");
            }
        }
    }
}
