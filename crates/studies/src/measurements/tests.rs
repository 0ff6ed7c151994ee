use super::*;
use crate::measurements::{arrow, draw_force, proven, speeds};
use clothyard_core::eval::Verdict;
use clothyard_core::eval::Warning;
use clothyard_core::eval::baseline::Baseline;
use clothyard_core::schema::{BowKind, Field};
use clothyard_core::schema::{List, Row};
use clothyard_core::setup::SpeedFrom;
use clothyard_core::units::{Quantity, Units};
use clothyard_core::{Setup, format};
use clothyard_mechanics::DrawCurve;
use proptest::prelude::*;

fn rows(pairs: &[(f64, f64)]) -> Vec<Row> {
    pairs.iter().map(|&(a, b)| vec![Some(a), Some(b)]).collect()
}

fn with_list(mut setup: Setup, list: List, pairs: &[(f64, f64)]) -> Setup {
    setup.lists.set(list, rows(pairs)).unwrap();
    setup
}

fn set(setup: Setup, field: Field, value: f64) -> Setup {
    setup.with(field, value).unwrap()
}

fn any_recurve() -> Setup {
    let mut setup = Setup::default();
    setup.choose(BowKind::Recurve);
    setup
}

fn number(setup: &Setup, output: Output) -> f64 {
    Evaluation::of(setup).outputs.get(output).unwrap()
}

/// A 40 lb recurve of brace height 8 in and true draw 26 in, read at so many even places.
fn recurve(curvature: f64, places: usize) -> Setup {
    let shape = DrawCurve::Smooth { curvature };
    let reading = |place: usize| {
        let share = place as f64 / (places - 1) as f64;
        (8.0 + 18.0 * share, 40.0 * shape.force_fraction(share))
    };
    let readings: Vec<_> = (0..places).map(reading).collect();
    with_list(any_recurve(), List::DrawForce, &readings)
}

/// An invented 60 lb compound: the string at rest at 6.5 in, a peak at 16 in, a valley at 27 in.
const COMPOUND: [(f64, f64); 9] = [
    (6.5, 0.0),
    (9.0, 24.0),
    (12.0, 46.0),
    (14.0, 56.0),
    (16.0, 60.0),
    (22.0, 58.0),
    (25.0, 36.0),
    (26.25, 14.0),
    (27.0, 12.0),
];

/// Drawn length, peak force, stored energy and brace height (cm, N, J, cm) of four recurves: Tuijn & Kooi, Eur. J.
/// Phys. 13 (1992), Table I; the brace heights are the middle of what is printed, or its like where none is.
const PUBLISHED: [(f64, f64, f64, f64); 4] =
    [(43.0, 170.5, 42.6, 21.9), (50.9, 170.0, 50.3, 21.9), (44.0, 178.0, 45.6, 21.9), (42.9, 130.0, 33.2, 21.7)];

#[test]
fn four_published_recurves_come_back_through_a_setup() {
    // The paper prints no readings, only what they sum to. Sixty-four taken off a curve that stores the printed
    // energy give it, the force and the draw back to the printed digits, by the paper's own trapezoid rule.
    for (stroke_cm, force, energy, brace_cm) in PUBLISHED {
        let shape = DrawCurve::Smooth { curvature: 6.0 * (energy / (force * stroke_cm / 100.0) - 0.5) };
        let reading = |place: u32| {
            let share = f64::from(place) / 63.0;
            let place_in = (brace_cm + share * stroke_cm) / 2.54;
            (place_in, Quantity::DrawWeight.from_si(force * shape.force_fraction(share)))
        };
        let readings: Vec<_> = (0..64).map(reading).collect();
        let setup = with_list(any_recurve(), List::DrawForce, &readings);
        let all = Evaluation::of(&setup);
        let joules = Quantity::Energy.to_si(all.outputs.get(Output::StoredEnergy).unwrap());
        assert!((joules - energy).abs() < 0.002, "{joules} against {energy}");
        assert!((all.resolved.si(Field::PeakDrawWeight) - force).abs() < 1e-9);
        assert!((2.54 * all.outputs.get(Output::Stroke).unwrap() - stroke_cm).abs() < 1e-9);
    }
}

#[test]
fn without_readings_the_usual_recurve_stores_what_was_measured_on_four() {
    let stored = |(stroke_cm, force, _, brace_cm): (f64, f64, f64, f64)| {
        let setup = set(any_recurve(), Field::BraceHeight, brace_cm / 2.54);
        let setup = set(setup, Field::PeakDrawWeight, Quantity::DrawWeight.from_si(force));
        let setup = set(setup, Field::DrawLength, (brace_cm + stroke_cm) / 2.54 + 1.75);
        Quantity::Energy.to_si(number(&setup, Output::StoredEnergy))
    };
    let off = PUBLISHED.map(|bow| stored(bow) / bow.2 - 1.0);
    assert!(off.iter().all(|off| (-0.018..0.007).contains(off)), "{off:?}");
}

#[test]
fn default_fields_follow_the_readings() {
    let setup = with_list(Setup::default(), List::DrawForce, &COMPOUND);
    let all = Evaluation::of(&setup);
    for (field, value) in [(Field::PeakDrawWeight, 60.0), (Field::DrawLength, 28.75), (Field::BraceHeight, 6.5)] {
        assert!((all.resolved.number(field) - value).abs() < 1e-9, "{field:?}");
        assert_eq!(format::provenance(&all.resolved, field), "measured");
    }
    let trapezoid: f64 = COMPOUND.windows(2).map(|pair| (pair[1].0 - pair[0].0) * (pair[0].1 + pair[1].1) / 2.0).sum();
    let stored = all.outputs.get(Output::StoredEnergy).unwrap();
    assert!((stored * 12.0 / trapezoid - 1.0).abs() < 1e-12, "inch-pounds: {stored} {trapezoid}");
    assert_eq!(all.model.as_ref().unwrap().estimate.speed_from, SpeedFrom::DrawForce);
    assert!(all.is_measured(Output::StoredEnergy) && !all.is_measured(Output::LaunchSpeed));
    assert!(!all.resolved.applies(Field::LetOff) && !all.resolved.applies(Field::Cam));
    assert_eq!(drives_sentence(&all), "Measurements in use: the draw-force curve.");
}

#[test]
fn a_field_given_counts_and_the_disagreement_is_said() {
    let setup = set(with_list(Setup::default(), List::DrawForce, &COMPOUND), Field::PeakDrawWeight, 55.0);
    let setup = set(setup, Field::DrawLength, 28.0);
    let all = Evaluation::of(&setup);
    let told = |wanted: fn(&Warning) -> bool| all.warnings.iter().any(wanted);
    assert!(told(|each| matches!(each, Warning::PeakAgainstReadings { field: 55.0, .. })));
    assert!(told(|each| matches!(each, Warning::DrawAgainstReadings { field: 28.0, .. })));
    // The shape is kept over the fields' peak and stroke.
    let free = with_list(Setup::default(), List::DrawForce, &COMPOUND);
    let share = (55.0 / 60.0) * (28.0 - 1.75 - 6.5) / 20.5;
    let ratio = number(&setup, Output::StoredEnergy) / number(&free, Output::StoredEnergy);
    assert!((ratio / share - 1.0).abs() < 1e-12);
    assert!(Evaluation::of(&free).warnings.iter().all(|each| !matches!(each, Warning::PeakAgainstReadings { .. })));
}

#[test]
fn limbs_drawn_less_far_end_there() {
    let whole = recurve(0.5, 37);
    let short = set(whole.clone(), Field::DrawLength, 23.75);
    let all = Evaluation::of(&short);
    // 22 in of true draw is 14 of 18 in: force 40 g(7/9), and by the trapezoid rule the energy up to there.
    let share = 14.0 / 18.0;
    let force = 40.0 * DrawCurve::Smooth { curvature: 0.5 }.force_fraction(share);
    assert!((all.resolved.number(Field::PeakDrawWeight) - force).abs() < 1e-9);
    assert!(all.warnings.iter().all(|each| !matches!(each, Warning::DrawAgainstReadings { .. })));
    let exact = 40.0 * 18.0 / 12.0 * (1.5 * share * share / 2.0 - 0.5 * share * share * share / 3.0);
    assert!((all.outputs.get(Output::StoredEnergy).unwrap() / exact - 1.0).abs() < 4e-4);
}

#[test]
fn readings_that_make_no_curve_are_not_used_and_it_is_said() {
    for (pairs, why) in [
        (&[(10.0, 20.0), (12.0, 30.0)][..], "2 so far"),
        (&[(10.0, 20.0), (10.0, 21.0), (12.0, 30.0)], "Two readings at 10.00"),
        (&[(5.0, 20.0), (10.0, 21.0), (12.0, 30.0)], "is behind the brace height"),
        (&[(6.5, 20.0), (10.0, 21.0), (12.0, 30.0)], "should be 0 lb"),
    ] {
        let setup = with_list(Setup::default(), List::DrawForce, pairs);
        let all = Evaluation::of(&setup);
        assert!(all.warnings.contains(&Warning::DrawForceUnused), "{pairs:?}");
        assert_eq!(all.model.as_ref().unwrap().estimate.speed_from, SpeedFrom::BowKind);
        let error = draw_force::of(&setup, &all.resolved).unwrap().unwrap_err();
        let words = draw_force::refusal(&error, &setup, &all.resolved, &Units::ARCHERY);
        assert!(words.contains(why), "{words}");
    }
    assert!(draw_force::of(&Setup::default(), &Evaluation::of(&Setup::default()).resolved).is_none());
}

#[test]
fn the_curve_is_explained() {
    let setup = with_list(Setup::default(), List::DrawForce, &COMPOUND);
    let all = Evaluation::of(&setup);
    let force = draw_force::of(&setup, &all.resolved).unwrap().unwrap();
    let takeaway = draw_force::takeaway(&force, &all, &Units::ARCHERY);
    assert!(
        takeaway.starts_with("Measured stored energy 74.1\u{a0}ft-lb;") && !takeaway.contains("With your draw"),
        "{takeaway}"
    );
    let facts = draw_force::facts(&force, &all.resolved, &Units::ARCHERY);
    assert!(facts[0].starts_with("Peak 60.0\u{a0}lb at 16.00\u{a0}in; holding weight 12.0\u{a0}lb"), "{facts:?}");
    assert!(facts[1].starts_with("Let-off 80.0%"), "{facts:?}");
    let slipped = with_list(Setup::default(), List::DrawForce, &[(6.5, 0.0), (9.0, 42.0), (12.0, 24.0), (16.0, 60.0)]);
    let all = Evaluation::of(&slipped);
    let force = draw_force::of(&slipped, &all.resolved).unwrap().unwrap();
    let facts = draw_force::facts(&force, &all.resolved, &Units::ARCHERY);
    assert!(facts.last().unwrap().contains("drops by 18.0"), "{facts:?}");
}

/// Speed in feet per second of an arrow in grains, for an energy in joules and a virtual mass in kilograms.
fn shot(energy: f64, virtual_mass: f64, grains: f64) -> (f64, f64) {
    let speed = clothyard_mechanics::launch_speed(energy, Quantity::Mass.to_si(grains), virtual_mass).unwrap();
    (grains, Quantity::Speed.from_si(speed))
}

/// A setup with chronograph readings of a bow, in grains and fps.
fn shot_with(shots: &[(f64, f64)]) -> Evaluation {
    Evaluation::of(&with_list(Setup::default(), List::Speeds, shots))
}

#[test]
fn arrows_of_many_weights_tell_energy_and_virtual_mass() {
    let shots: Vec<_> =
        [300.0, 350.0, 420.0, 480.0, 560.0, 700.0].iter().flat_map(|&grains| [shot(75.0, 0.0085, grains); 6]).collect();
    let all = shot_with(&shots);
    let model = all.model.as_ref().unwrap();
    let (energy, mass) = (model.estimate.delivered_energy_j(), model.estimate.virtual_mass_kg());
    assert!((energy.value / 75.0 - 1.0).abs() < energy.log_error && energy.log_error < 0.02, "{energy:?}");
    assert!((mass.value / 0.0085 - 1.0).abs() < mass.log_error && mass.log_error < 0.12, "{mass:?}");
    for output in [Output::LaunchSpeed, Output::KineticEnergy, Output::MovingMass] {
        assert!(all.is_measured(output), "{output:?}");
    }
    let read = speeds::of(&all).unwrap();
    assert!(!speeds::takeaway(&read, &Units::ARCHERY).contains("bow type"));
    // Two readings tell the speeds, and the virtual mass hardly better than the bow type does.
    let two = shot_with(&[shot(75.0, 0.0085, 350.0), shot(75.0, 0.0085, 480.0)]);
    assert!(two.is_measured(Output::LaunchSpeed) && !two.is_measured(Output::MovingMass));
    let read = speeds::of(&two).unwrap();
    assert!(speeds::takeaway(&read, &Units::ARCHERY).contains("mostly the default for the bow type"));
    for reading in read.shots.all() {
        assert!(speeds::residual_fps(&read, reading).unwrap().abs() < 1.0);
    }
}

#[test]
fn the_shot_in_the_fields_counts_as_one_more() {
    let listed = [shot(75.0, 0.0085, 350.0), shot(75.0, 0.0085, 500.0)];
    let setup = with_list(Setup::default(), List::Speeds, &listed[..1]);
    let setup = set(set(setup, Field::ChronographArrow, listed[1].0), Field::ChronographSpeed, listed[1].1);
    let (both, of_list) = (Evaluation::of(&setup), shot_with(&listed));
    let speed = |all: &Evaluation| all.outputs.get(Output::LaunchSpeed).unwrap();
    assert!((speed(&both) / speed(&of_list) - 1.0).abs() < 1e-12);
    assert_eq!(speeds::of(&both).unwrap().shots.all().len(), 2);
}

#[test]
fn the_spread_of_the_speed_follows_the_scatter_and_the_count() {
    let spread = |shots: &[(f64, f64)]| shot_with(shots).outputs.get(Output::SpeedSpread).unwrap();
    let near = |fps: f64| (400.0, 270.0 + fps);
    let (one, three) = (spread(&[near(0.0)]), spread(&[near(0.0); 3]));
    let apart = spread(&[near(-5.0), near(0.0), near(5.0)]);
    assert!(three < one && one < apart && apart < spread(&[]), "{three} {one} {apart}");
}

#[test]
fn one_uncertainty_of_the_speed_wherever_it_is_shown() {
    use crate::analysis::ranges::{self, ranges};
    let shots = [shot(75.0, 0.0085, 350.0), shot(75.0, 0.0085, 480.0)];
    let rated = set(Setup::default(), Field::RatedSpeed, 325.0);
    for setup in [Setup::default(), rated, with_list(Setup::default(), List::Speeds, &shots)] {
        let setup = set(set(setup, Field::RuleSpeed, 300.0), Field::StaticSpine, 500.0);
        let (all, units) = (Evaluation::of(&setup), &Units::ARCHERY);
        let spread_fps = all.outputs.get(Output::SpeedSpread).unwrap();
        let words = format!("± {}", format::measured(Quantity::Speed, spread_fps, units));
        // The answers, and the sentence beside them.
        let model = all.model.as_ref().unwrap();
        assert!(format::speed_sentence(model, &all.outputs, units).contains(&words), "{words}");
        // How sure the results are.
        let held = Baseline::new(&setup);
        let range = ranges(&held, &[Output::LaunchSpeed])[0];
        assert!((2.0 * range.standard / spread_fps - 1.0).abs() < 1e-12);
        let row = &ranges::rows(&held, &[Output::LaunchSpeed], units)[0];
        assert!(row.contains(&words), "{row:?} {words}");
        // The bench.
        if let Some(read) = speeds::of(&all) {
            assert!(speeds::facts(&read, &all, units).iter().any(|fact| fact.contains(&words)));
        }
        // The rules.
        let limits = crate::flight::rules::limits(&all);
        let sentence = limits.iter().find(|limit| limit.field == Field::RuleSpeed).unwrap().sentence(units);
        assert!(sentence.contains(&words), "{sentence}");
        // The flight.
        let flown = crate::flight::shot::Shot::of(&all).unwrap();
        assert!((Quantity::Speed.from_si(flown.speed_spread_m_per_s) / spread_fps - 1.0).abs() < 1e-12);
        assert!(crate::flight::slowing::speed_words(&flown, units).contains(&words));
    }
}

#[test]
fn an_outlier_is_named_and_still_counts() {
    let mut shots: Vec<_> = [350.0, 352.0, 400.0, 420.0, 450.0, 470.0].map(|grains| shot(75.0, 0.008, grains)).into();
    shots[3].1 -= 14.0;
    let all = shot_with(&shots);
    let read = speeds::of(&all).unwrap();
    let facts = speeds::facts(&read, &all, &Units::ARCHERY);
    assert!(facts.iter().any(|fact| fact.starts_with("Shot 4, 420\u{a0}gr")), "{facts:?}");
    assert!(speeds::shot_name(&read, 3, 6).ends_with(", check"));
    assert_eq!(read.shots.all().len(), 6);
    shots.remove(3);
    assert_ne!(shot_with(&shots).outputs.get(Output::LaunchSpeed), all.outputs.get(Output::LaunchSpeed));
}

#[test]
fn shots_that_contradict_each_other_count_for_little_and_it_is_said() {
    let setup = set(Setup::default(), Field::RatedSpeed, 280.0);
    let speed = |all: &Evaluation| all.outputs.get(Output::LaunchSpeed).unwrap();
    // A heavier arrow that was faster.
    let told = Evaluation::of(&with_list(setup.clone(), List::Speeds, &[(350.0, 240.0), (450.0, 250.0)]));
    assert!(told.warnings.contains(&Warning::SpeedsContradict));
    let agreeing = Evaluation::of(&with_list(setup, List::Speeds, &[(350.0, 240.0), (450.0, 216.0)]));
    assert!(!agreeing.warnings.contains(&Warning::SpeedsContradict));
    let spread = |all: &Evaluation| all.outputs.get(Output::SpeedSpread).unwrap() / speed(all);
    assert!(spread(&told) > 1.5 * spread(&agreeing), "{} {}", spread(&told), spread(&agreeing));
}

#[test]
fn rated_speeds_of_today_are_not_contradicted_and_impossible_ones_are() {
    // Common practice, no source: 330 to 345 fps at 70 lb, 30 in and 350 gr.
    let told = |fps: f64| {
        let setup = set(set(Setup::default(), Field::PeakDrawWeight, 70.0), Field::DrawLength, 30.0);
        let all = Evaluation::of(&set(setup, Field::RatedSpeed, fps));
        all.warnings.iter().any(|each| matches!(each, Warning::MoreEnergyThanStored { percent } if *percent > 100.0))
    };
    assert!(!told(330.0) && !told(345.0) && told(420.0));
}

#[test]
fn a_proven_arrow_becomes_the_target() {
    let proven = set(set(Setup::default(), Field::StaticSpine, 500.0), Field::CutLength, 29.0);
    let load = proven::load(&proven).unwrap();
    let setup = set(proven.clone(), Field::ProvenLoad, load);
    let all = Evaluation::of(&setup);
    assert_eq!(all.verdict, Some(Verdict::WellMatched));
    assert!((all.outputs.get(Output::IdealDrawWeight).unwrap() - 50.0).abs() < 1e-9);
    assert!((all.outputs.get(Output::IdealSpine).unwrap() - 500.0).abs() < 1e-3);
    assert!(all.is_measured(Output::TargetLoad));
    assert_eq!(format::target_sentence(&all.resolved), "Matched to your reference arrow.");
    let words = proven::words(&setup, &all, &Units::ARCHERY);
    assert!(words.contains("The standard target is 1.08."), "{words}");
    let usual = Evaluation::of(&proven);
    assert!(proven::words(&proven, &usual, &Units::ARCHERY).starts_with("In use: the standard target"));
}

#[test]
fn a_what_if_carries_the_readings_along() {
    let setup = with_list(Setup::default(), List::DrawForce, &COMPOUND);
    let setup = with_list(setup, List::Speeds, &[shot(95.0, 0.0085, 350.0), shot(95.0, 0.0085, 480.0)]);
    let held = Baseline::new(&setup);
    for output in [Output::StoredEnergy, Output::LaunchSpeed, Output::ColumnLoad] {
        let same = held.outputs(&held.resolved, &[output]).get(output).unwrap();
        assert!((same / number(&setup, output) - 1.0).abs() < 1e-12, "{output:?}");
    }
    let stronger = held.result(Field::PeakDrawWeight, 66.0, Output::StoredEnergy).unwrap();
    assert!((stronger / number(&setup, Output::StoredEnergy) - 1.1).abs() < 1e-12);
    // A stronger bow is the one that was shot, set higher: its speed goes with the root of the energy.
    let faster = held.result(Field::PeakDrawWeight, 66.0, Output::LaunchSpeed).unwrap();
    assert!((faster / number(&setup, Output::LaunchSpeed) / 1.1_f64.sqrt() - 1.0).abs() < 2e-3, "{faster}");
    // And what hung on its string then hung on it then.
    let loaded = held.result(Field::StringAtNock, 5.0, Output::LaunchSpeed).unwrap();
    assert!(loaded < number(&setup, Output::LaunchSpeed) - 1.0, "{loaded}");
    // The shaft proposed is proposed for the bow as measured.
    let all = Evaluation::of(&setup);
    let chosen =
        set(setup.clone(), Field::StaticSpine, all.recommendation.as_ref().unwrap().shaft.static_spine_thousandths);
    assert_eq!(number(&chosen, Output::LaunchSpeed), number(&setup, Output::LaunchSpeed));
}

#[test]
fn the_standard_rig_reads_itself_and_another_is_converted() {
    let resolved = |setup: &Setup| Evaluation::of(setup).resolved;
    let standard = set(Setup::default(), Field::RigReading, 0.4);
    let spine = arrow::spine(&resolved(&standard)).unwrap().unwrap();
    assert_eq!(arrow::spine_to_use(&spine), 400.0);
    // AMO: 26 in and 2 lb; its sag is 0.8254185 of the standard's by 1.94 lb (beam theory), 0.825447 by 880 g.
    let amo = set(set(set(Setup::default(), Field::RigReading, 0.33), Field::RigSpan, 26.0), Field::RigWeight, 2.0);
    let spine = arrow::spine(&resolved(&amo)).unwrap();
    let ratio = 2.0 / (0.88 / 0.453_592_37) * (26.0_f64 / 28.0).powi(3);
    assert!((arrow::spine_to_use(spine.as_ref().unwrap()) - 330.0 / ratio).abs() < 0.051);
    assert!(arrow::spine_words(&spine).contains("measure the span more closely first"));
    assert!(arrow::spine(&resolved(&Setup::default())).is_none());
}

#[test]
fn the_part_that_is_off_is_named() {
    let taken = set(set(Setup::default(), Field::CutLength, 28.0), Field::StaticSpine, 400.0);
    let heavier = set(taken.clone(), Field::InsertMass, 32.0);
    let (weight, balance) = (number(&heavier, Output::TotalWeight), number(&heavier, Output::BalancePoint));
    let setup = set(set(taken.clone(), Field::FinishedWeight, weight), Field::FinishedBalance, balance);
    let setup = set(set(setup, Field::GrainScaleStep, 0.1), Field::RuleStep, 0.02);
    let finished = arrow::finished(&setup, &Evaluation::of(&setup)).unwrap();
    assert!((finished.weight_off_gr.unwrap() - 12.0).abs() < 1e-9);
    let words = arrow::explanation_words(&finished, &Units::ARCHERY);
    assert_eq!(words[0], "Insert: weighs 32\u{a0}gr, not 20\u{a0}gr.");
    assert!(arrow::finished_words(&finished, &Units::ARCHERY).contains("+12\u{a0}gr on the scale"));
    let alone = set(taken, Field::FinishedWeight, weight);
    let alone = arrow::finished(&alone, &Evaluation::of(&alone)).unwrap();
    assert!(arrow::finished_words(&alone, &Units::ARCHERY).contains("Balance it too"));
    assert!(arrow::explanation_words(&alone, &Units::ARCHERY).is_empty());
}

#[test]
fn an_arrow_as_computed_needs_no_explanation() {
    let setup = Setup::default();
    let (weight, balance) = (number(&setup, Output::TotalWeight), number(&setup, Output::BalancePoint));
    let setup = set(set(setup, Field::FinishedWeight, weight), Field::FinishedBalance, balance);
    let finished = arrow::finished(&setup, &Evaluation::of(&setup)).unwrap();
    assert!(finished.misfit.unwrap() < 1e-6);
    assert!(arrow::explanation_words(&finished, &Units::ARCHERY).is_empty());
    assert!(arrow::finished_words(&finished, &Units::ARCHERY).contains("Within measuring error."));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    #[test]
    fn any_readings_give_finite_words(setup in clothyard_core::testing::any_setup()) {
        let all = Evaluation::of(&setup);
        let report = serde_json::to_value(super::report::BenchReport::of(&setup, &all)).unwrap();
        // A number that is not finite would be written as null where none may be.
        if let Some(energy) = report.pointer("/drawForce/storedEnergyFtLb") {
            prop_assert!(energy.is_number());
        }
        if let Some(energy) = report.pointer("/speeds/deliveredEnergyFtLb") {
            prop_assert!(energy.is_number());
        }
        if let Some(Ok(force)) = draw_force::of(&setup, &all.resolved) {
            prop_assert!(!draw_force::takeaway(&force, &all, &Units::metric()).contains('–'));
        }
    }
}

#[test]
fn shots_are_counted_for_each_arrow_weight() {
    let setup = Setup::default().with(Field::ChronographSpeed, 270.0).unwrap();
    let mut setup = setup.with(Field::ChronographArrow, 410.0).unwrap();
    assert_eq!(speeds::next_arrow_gr(&setup, &Evaluation::of(&setup)), Some(410.0));
    let rows = [[350.0, 285.0], [350.0, 284.0], [350.0, 286.0], [480.0, 250.0]];
    setup.lists.set(List::Speeds, rows.map(|row| row.map(Some).to_vec()).to_vec()).unwrap();
    let all = Evaluation::of(&setup);
    assert_eq!(
        speeds::groups(all.resolved.chronograph_readings().all(), &Units::ARCHERY),
        [
            "350\u{a0}gr: 3 shots, mean 285.0\u{a0}fps, 284 to 286, standard deviation 1.0.",
            "480\u{a0}gr: 1 shot, 250.0\u{a0}fps.",
            "410\u{a0}gr: 1 shot, 270.0\u{a0}fps.",
        ]
    );
    assert_eq!(speeds::next_arrow_gr(&setup, &all), Some(480.0), "the arrow of the last shot");
}
