//! One set-up answered in full.

use crate::advice::{self, OutOfReach};
use crate::build::Build;
use crate::cautions::{self, Caution};
use crate::inputs::{Field, Value};
use crate::numbers::{self, Numbers, Verdict};
use crate::outcome::Outcome;
use crate::settle::Settled;
use crate::setup::{Setup, SetupError, SpeedFrom};
use crate::stock::StockShaft;

/// Everything the page says of a set-up.
#[derive(Clone, Debug)]
pub struct Evaluation {
    /// What stands in every field.
    pub settled: Settled,
    /// Bow and arrow in SI; none where the fields cannot stand together.
    pub setup: Option<Setup>,
    /// Every result that has a number.
    pub numbers: Numbers,
    /// How the spine suits; none where there is no column load.
    pub verdict: Option<Verdict>,
    /// The shaft of the list that comes nearest; none where the shaft ends at or behind the rest.
    pub nearest: Option<StockShaft>,
    /// The two stock spines the ideal lies on the verge between.
    pub verge: Option<(f64, f64)>,
    /// Backward questions without an answer in range.
    pub out_of_reach: Vec<OutOfReach>,
    /// Cautions, the loudest first.
    pub cautions: Vec<Caution>,
}

impl Evaluation {
    /// Answers a set-up. There is always an evaluation; what has no answer has no number, and a caution
    /// says why.
    #[must_use]
    pub fn of(build: &Build) -> Self {
        let candidates = advice::candidates(build);
        let nearest = advice::nearest_stock(build, &candidates);
        let shaft = offered(build, &candidates, nearest);
        let settled = Settled::new(build, &shaft);
        let mut numbers = Numbers::NONE;
        numbers::put_lengths(&mut numbers, &settled);
        let setup = Setup::new(&settled, &build.own_parts);
        let done =
            setup.as_ref().map_err(|&error| error).and_then(|setup| numbers::put_arrow(&mut numbers, &settled, setup));
        let out_of_reach = advice::put_answers(&mut numbers, &settled, &build.own_parts);
        if let Some(shaft) = nearest {
            numbers.put(Outcome::NearestStock, shaft.static_spine_thousandths);
        }
        let verge = numbers.get(Outcome::IdealSpine).and_then(|ideal| advice::verge(&candidates, ideal));
        let cautions = cautions::all(build, &settled, setup.as_ref().ok(), &numbers, done.as_ref().err());
        Self {
            settled,
            setup: setup.ok(),
            verdict: Verdict::of(&numbers),
            numbers,
            nearest: nearest.cloned(),
            verge,
            out_of_reach,
            cautions,
        }
    }

    /// Whether a result hangs on what was measured of the bow, or is itself measured.
    #[must_use]
    pub fn is_measured(&self, outcome: Outcome) -> bool {
        let Some(setup) = &self.setup else { return false };
        let shot = setup.speed_from == SpeedFrom::Chronograph;
        match outcome {
            Outcome::StoredEnergy => setup.curve_is_measured(),
            Outcome::MovingMass => setup.virtual_mass_is_measured,
            Outcome::TargetLoad => self.settled.given(Field::ProvenLoad).is_some(),
            Outcome::Efficiency => shot && setup.curve_is_measured(),
            Outcome::DeliveredEnergy
            | Outcome::LaunchSpeed
            | Outcome::SpeedSpread
            | Outcome::KineticEnergy
            | Outcome::Momentum => shot,
            _ => false,
        }
    }

    /// The numbers alone, without the backward questions: what a grid of combinations needs.
    ///
    /// # Errors
    /// [`SetupError`] where the fields cannot stand together.
    pub fn numbers_alone(build: &Build) -> Result<Numbers, SetupError> {
        let candidates = advice::candidates(build);
        let nearest =
            if build.get(Field::StaticSpine).is_some() { None } else { advice::nearest_stock(build, &candidates) };
        let settled = Settled::new(build, &offered(build, &candidates, nearest));
        let mut numbers = Numbers::NONE;
        numbers::put_lengths(&mut numbers, &settled);
        let setup = Setup::new(&settled, &build.own_parts)?;
        numbers::put_arrow(&mut numbers, &settled, &setup)?;
        Ok(numbers)
    }
}

/// The shaft whose numbers stand in the fields left to the page: one like the user's spine, else the
/// nearest of the list, else the stiffest there is.
pub(crate) fn offered(build: &Build, candidates: &[&StockShaft], nearest: Option<&StockShaft>) -> StockShaft {
    let like_mine = match build.get(Field::StaticSpine) {
        Some(Value::Number(spine)) => advice::between(candidates, spine),
        _ => None,
    };
    like_mine.or_else(|| nearest.cloned()).or_else(|| candidates.first().map(|&shaft| shaft.clone())).unwrap_or(
        StockShaft {
            name: String::new(),
            static_spine_thousandths: 400.0,
            shaft_gr_per_in: 8.3,
            outer_diameter_in: 0.272,
            bore_in: 0.204,
        },
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo;
    use crate::inputs::Kind;
    use crate::testing::any_build;
    use proptest::prelude::*;

    fn number(build: &Build, outcome: Outcome) -> f64 {
        Evaluation::of(build).numbers.get(outcome).unwrap()
    }

    fn set(build: Build, field: Field, value: f64) -> Build {
        build.with(field, value).unwrap()
    }

    /// A set-up with nothing left to the page that could move with the field under test.
    fn held() -> Build {
        let build = set(Build::default(), Field::PeakDrawWeight, 60.0);
        let build = set(set(build, Field::StaticSpine, 400.0), Field::ShaftLinearMass, 9.0);
        set(set(build, Field::CutLength, 27.5), Field::PointMass, 100.0)
    }

    #[test]
    fn three_numbers_are_enough() {
        let build = set(set(Build::default(), Field::PeakDrawWeight, 60.0), Field::DrawLength, 28.5);
        let all = Evaluation::of(&set(build, Field::PointMass, 125.0));
        assert_eq!(all.verdict, Some(Verdict::WellMatched));
        for row in &crate::outcome::OUTCOMES {
            let answered =
                all.numbers.get(row.outcome).is_some() || all.out_of_reach.iter().any(|out| out.outcome == row.outcome);
            assert!(answered, "{}", row.key);
        }
    }

    #[test]
    fn the_page_proposes_its_own_nearest_shaft() {
        let all = Evaluation::of(&Build::default());
        let nearest = all.nearest.unwrap();
        assert_eq!(all.settled.number(Field::StaticSpine), nearest.static_spine_thousandths);
        assert_eq!(all.settled.number(Field::ShaftLinearMass), nearest.shaft_gr_per_in);
    }

    #[test]
    fn a_shaft_behind_the_rest_is_said_and_has_no_load() {
        let all = Evaluation::of(&set(Build::default(), Field::CutLength, 24.0));
        assert_eq!(all.numbers.get(Outcome::ColumnLoad), None);
        assert!(matches!(all.cautions.first(), Some(Caution::ShaftBehindRest { .. })));
        assert!(all.numbers.get(Outcome::TotalWeight).is_some(), "weight needs no rest");
    }

    #[test]
    fn the_backward_answers_are_the_inverse() {
        let build = held();
        for (field, outcome) in [
            (Field::StaticSpine, Outcome::IdealSpine),
            (Field::PointMass, Outcome::PointForMatch),
            (Field::CutLength, Outcome::CutForMatch),
            (Field::PeakDrawWeight, Outcome::IdealDrawWeight),
        ] {
            let there = set(build.clone(), field, number(&build, outcome));
            let (load, target) = (number(&there, Outcome::ColumnLoad), number(&there, Outcome::TargetLoad));
            assert!((load / target - 1.0).abs() < 1e-6, "{field:?}: {load} {target}");
        }
    }

    #[test]
    fn the_ends_of_the_windows_lie_on_the_band() {
        let build = held();
        for (field, outcome, share) in [
            (Field::PointMass, Outcome::LightestPoint, 1.0 - numbers::BAND),
            (Field::PointMass, Outcome::HeaviestPoint, 1.0 + numbers::BAND),
            (Field::CutLength, Outcome::LongestCut, 1.0 + numbers::BAND),
        ] {
            let there = set(build.clone(), field, number(&build, outcome));
            let got = number(&there, Outcome::ColumnLoad) / number(&there, Outcome::TargetLoad);
            assert!((got - share).abs() < 1e-6, "{outcome:?}: {got}");
        }
    }

    #[test]
    fn focs_closed_form_in_the_point() {
        // A = (m0 A0 + p x) / (m0 + p) with the rest of the arrow held: closed form.
        let build = held();
        let (a, b) = (set(build.clone(), Field::PointMass, 100.0), set(build, Field::PointMass, 150.0));
        let (ma, aa, l) =
            (number(&a, Outcome::TotalWeight), number(&a, Outcome::BalancePoint), number(&a, Outcome::ArrowLength));
        let place = l + 0.6;
        let balance = (ma * aa + 50.0 * place) / (ma + 50.0);
        assert!((number(&b, Outcome::FrontOfCentre) - 100.0 * (balance / l - 0.5)).abs() < 1e-9);
    }

    /// The compound that speeds are rated on (ASTM F1544: 70 lb, 30 in), with an arrow near 350 gr.
    fn rating_bow() -> Build {
        let build = set(set(Build::default(), Field::PeakDrawWeight, 70.0), Field::DrawLength, 30.0);
        let build = set(set(build, Field::StaticSpine, 300.0), Field::CutLength, 29.0);
        set(set(build, Field::ShaftLinearMass, 7.5), Field::PointMass, 75.0)
    }

    #[test]
    fn a_longer_draw_and_a_lighter_arrow_are_faster() {
        // Common practice, no source: +1 in of draw ~ 7 to 12 fps; 5 gr of arrow ~ 1 to 2 fps; 5 gr on the
        // string ~ 1 to 4 fps. The rules are told of the bow that speeds are rated on; slower bows gain less.
        let build = rating_bow();
        let speed = |build: Build| number(&build, Outcome::LaunchSpeed);
        let base = speed(build.clone());
        let draw = base - speed(set(build.clone(), Field::DrawLength, 29.0));
        assert!((7.0..=12.0).contains(&draw), "{draw}");
        let lighter = speed(set(build.clone(), Field::PointMass, 70.0)) - base;
        assert!((1.0..=2.0).contains(&lighter), "{lighter}");
        let string = base - speed(set(build, Field::StringAtNock, 5.0));
        assert!((1.0..=4.0).contains(&string), "{string}");
    }

    #[test]
    fn trends_of_the_match() {
        // Common practice, no source: +1 in of arrow (and of draw with it) ~ +3 to +6 lb of draw; +25 gr of
        // point ~ +2 to +5 lb.
        let build = held();
        let best = |build: &Build| number(build, Outcome::IdealDrawWeight);
        let longer = set(set(build.clone(), Field::CutLength, 28.5), Field::DrawLength, 29.0);
        let by = best(&build) - best(&longer);
        assert!((3.0..=6.0).contains(&by), "{by}");
        let by = best(&build) - best(&set(build.clone(), Field::PointMass, 125.0));
        assert!((2.0..=5.0).contains(&by), "{by}");
    }

    #[test]
    fn a_rated_speed_comes_back_under_its_own_conditions() {
        // ASTM F1544: 70 lb, 30 in, 350 gr.
        let build = set(set(Build::default(), Field::PeakDrawWeight, 70.0), Field::DrawLength, 30.0);
        let build = set(build, Field::RatedSpeed, 320.0);
        let build = set(set(build, Field::StaticSpine, 300.0), Field::CutLength, 29.0);
        let short = 350.0 - number(&build, Outcome::TotalWeight)
            + 29.0 * Evaluation::of(&build).settled.number(Field::ShaftLinearMass);
        let build = set(build, Field::ShaftLinearMass, short / 29.0);
        assert!((number(&build, Outcome::TotalWeight) - 350.0).abs() < 1e-9);
        assert!((number(&build, Outcome::LaunchSpeed) - 320.0).abs() < 1e-9);
    }

    #[test]
    fn a_chronograph_overrules() {
        let build = set(set(held(), Field::RatedSpeed, 300.0), Field::ChronographSpeed, 271.0);
        let weight = number(&build, Outcome::TotalWeight);
        let build = set(build, Field::ChronographArrow, weight);
        assert!((number(&build, Outcome::LaunchSpeed) - 271.0).abs() < 1e-9);
    }

    #[test]
    fn the_starting_set_ups_are_sound() {
        for start in demo::all() {
            let all = Evaluation::of(&start.build);
            assert_eq!(all.verdict, Some(Verdict::WellMatched), "{}", start.build.name);
            assert!(
                !all.cautions.iter().any(|caution| caution.weight() == cautions::Weight::Danger),
                "{}: {:?}",
                start.build.name,
                all.cautions
            );
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(400))]

        #[test]
        fn any_build_in_range_has_finite_numbers_or_a_reason(build in any_build()) {
            let all = Evaluation::of(&build);
            for row in &crate::outcome::OUTCOMES {
                if let Some(number) = all.numbers.get(row.outcome) {
                    prop_assert!(number.is_finite(), "{}", row.key);
                }
            }
            let answered = all.numbers.get(Outcome::ColumnLoad).is_some();
            let reason = all.cautions.iter().any(|caution| matches!(
                caution,
                Caution::ShaftBehindRest { .. }
                    | Caution::NoStroke { .. }
                    | Caution::BoreTooWide { .. }
                    | Caution::EnergyBeyondBelief
            ));
            let setup = Setup::new(&all.settled, &build.own_parts);
            prop_assert!(answered || reason, "{:?} {:?}", all.cautions, setup.map(|setup| setup.critical_acceleration()));
        }

        #[test]
        fn weaker_spine_longer_shaft_or_heavier_point_never_lower_the_load(
            build in any_build(), which in 0usize..3, from in 0.0..1.0f64, step in 0.01..0.5f64,
        ) {
            // A part of one's own ahead of the point would make the point a mass behind the front one.
            let mut build = build;
            build.own_parts.clear();
            let field = [Field::StaticSpine, Field::CutLength, Field::PointMass][which];
            let Kind::Number { minimum, maximum, .. } = field.input().kind else { unreachable!() };
            let low = minimum + from * (maximum - minimum) * 0.5;
            let high = low + step * (maximum - minimum) * 0.5;
            let held = Evaluation::of(&build).settled;
            let load = |value: f64| Setup::new(&held.with(field, value), &[]).ok()?.column_load().ok();
            if let (Some(less), Some(more)) = (load(low), load(high)) {
                prop_assert!(more >= less * (1.0 - 1e-9), "{field:?} {low}..{high}: {less} {more}");
            }
        }

        #[test]
        fn numbers_alone_are_the_same_bits(build in any_build()) {
            if let Ok(alone) = Evaluation::numbers_alone(&build) {
                let full = Evaluation::of(&build).numbers;
                for outcome in [Outcome::TotalWeight, Outcome::FrontOfCentre, Outcome::LaunchSpeed, Outcome::ColumnLoad] {
                    prop_assert_eq!(alone.get(outcome).map(f64::to_bits), full.get(outcome).map(f64::to_bits));
                }
            }
        }
    }
}
