//! Every warning below, at and above its limit.

use super::*;
use crate::eval::baseline::Baseline;
use crate::eval::{Evaluation, Outputs};
use crate::schema::{BowKind, Choice, DrawWeightFrom, ShaftMaterial};
use crate::setup::flying;
use crate::units::Units;
use clothyard_mechanics::Error;

type Given = [(Field, f64)];

fn setup(given: &Given) -> Setup {
    given.iter().fold(Setup::default(), |setup, &(field, value)| setup.with(field, value).unwrap())
}

fn choose<C: Choice>(mut setup: Setup, choice: C) -> Setup {
    setup.choose(choice);
    setup
}

const DRAW_WEIGHT: (Field, f64) = (Field::PeakDrawWeight, 50.0);

fn recurve(given: &Given) -> Setup {
    choose(setup(given), BowKind::Recurve)
}

fn broadhead(given: &Given) -> Setup {
    choose(setup(given), PointKind::FixedBlade)
}

fn bow(kind: BowKind) -> Setup {
    choose(setup(&[]), kind)
}

/// An arrow with small vanes and a head of a cutting width in inches.
fn broad_blades(width: f64) -> Setup {
    broadhead(&[(Field::VaneHeight, 0.3)]).with(Field::CuttingWidth, width).unwrap()
}

/// The cutting width at which that arrow is just neutral, in inches.
fn steady_width() -> f64 {
    let ahead = |width: f64| {
        let at = ResolvedSetup::new(&broad_blades(width));
        -flying(&at.resolved, &at.model.unwrap()).unwrap().stability().unwrap().margin_m
    };
    crossing(ahead, 0.3, 4.0)
}

/// The stability margin of the default arrow with fixed blades, in percent.
fn margin() -> f64 {
    let at = ResolvedSetup::new(&broadhead(&[]));
    100.0 * safety::stability_under_blades(&at.resolved, &at.model.unwrap()).unwrap().margin_of_length
}

fn with_list(mut setup: Setup, list: List, pairs: &[(f64, f64)]) -> Setup {
    setup.lists.set(list, pairs.iter().map(|&(a, b)| vec![Some(a), Some(b)]).collect()).unwrap();
    setup
}

/// A 60 lb compound read from its brace height of 6.5 in to a draw length of 28.75 in.
fn read_bow(given: &Given) -> Setup {
    let readings = [(6.5, 0.0), (9.0, 24.0), (12.0, 46.0), (16.0, 60.0), (22.0, 58.0), (26.25, 14.0), (27.0, 12.0)];
    with_list(setup(given), List::DrawForce, &readings)
}

fn of(setup: &Setup) -> Vec<Warning> {
    Evaluation::of(setup).warnings
}

/// With one number moved, in its range or not.
fn moved(given: &Given, field: Field, value: f64) -> Vec<Warning> {
    let setup = setup(given);
    let held = Baseline::new(&setup);
    held.evaluation(held.with(field, value), &[]).warnings
}

/// With outputs that are exactly these.
fn found(setup: &Setup, numbers: &[(Output, f64)]) -> Vec<Warning> {
    let mut at = ResolvedSetup { outputs: Outputs::NONE, ..ResolvedSetup::new(setup) };
    numbers.iter().for_each(|&(output, number)| at.outputs.put(output, number));
    all(setup, &at)
}

/// On which side of a limit a warning is given, and whether it is given at the limit itself.
#[derive(Clone, Copy)]
enum Side {
    Below,
    BelowAndAt,
    Above,
    AboveAndAt,
}

struct Limit {
    key: &'static str,
    at: f64,
    side: Side,
    warnings: fn(f64) -> Vec<Warning>,
}

const fn limit(key: &'static str, at: f64, side: Side, warnings: fn(f64) -> Vec<Warning>) -> Limit {
    Limit { key, at, side, warnings }
}

/// A rest at 26.25 in, a shaft that begins at 0.5 in.
const DRAWN: [(Field, f64); 2] = [(Field::DrawLength, 28.0), (Field::ThroatToShaft, 0.5)];
/// The same with an arrow of 28 in and a point up to 29 in.
const CUT: [(Field, f64); 4] = [DRAWN[0], DRAWN[1], (Field::CutLength, 27.5), (Field::PointLength, 1.0)];

/// Lengths that are compared with some tolerance, and speeds that are computed, are tried this far off their limit.
const STEP: f64 = 1e-6;

fn limits() -> Vec<Limit> {
    use Output::{ColumnLoad, FrontOfCentre, GrainsPerPound, SuitsTo, TargetLoad};
    use Side::{Above, AboveAndAt, Below, BelowAndAt};
    vec![
        limit("lighterThanAllowed", 5.0, Below, |ratio| found(&setup(&[]), &[(GrainsPerPound, ratio)])),
        limit("lighterThanAllowed", 5.0, Below, |ratio| found(&bow(BowKind::Recurve), &[(GrainsPerPound, ratio)])),
        limit("lighterThanAllowed", 7.0, Below, |ratio| found(&bow(BowKind::Longbow), &[(GrainsPerPound, ratio)])),
        limit("lightForBow", 6.5, Below, |ratio| found(&bow(BowKind::Recurve), &[(GrainsPerPound, ratio)])),
        limit("lightForBow", 5.0, AboveAndAt, |ratio| found(&bow(BowKind::Recurve), &[(GrainsPerPound, ratio)])),
        limit("lightForBow", 8.0, Below, |ratio| found(&bow(BowKind::Longbow), &[(GrainsPerPound, ratio)])),
        limit("lightForBow", 7.0, AboveAndAt, |ratio| found(&bow(BowKind::Longbow), &[(GrainsPerPound, ratio)])),
        limit("lighterThanAllowed", 7.5, Below, |ratio| {
            found(&setup(&[(Field::MakersMinimum, 7.5)]), &[(GrainsPerPound, ratio)])
        }),
        limit("shaftBehindRest", 25.75, BelowAndAt, |cut| moved(&DRAWN, Field::CutLength, cut)),
        limit("shaftShort", 26.75, Below, |cut| moved(&DRAWN, Field::CutLength, cut)),
        limit("bladesNearRest", 1.75, Above, |blade| {
            of(&choose(setup(&CUT).with(Field::BladeLength, blade).unwrap(), PointKind::FoldingBlade))
        }),
        limit("badlyWeak", 1.25, Above, |load| {
            found(&setup(&[]), &[(ColumnLoad, load), (TargetLoad, 1.0), (SuitsTo, 40.0)])
        }),
        limit("badlyWeak", 1.8, Above, |load| {
            found(&setup(&[]), &[(ColumnLoad, load), (TargetLoad, 1.7), (SuitsTo, 40.0)])
        }),
        limit("notPointFirst", steady_width(), Above, |width| of(&broad_blades(width))),
        limit("bladesLongerThanPoint", 1.2, Above, |blade| of(&broadhead(&[(Field::BladeLength, blade)]))),
        limit("vanesSmall", margin() + 0.05, Above, |wanted| of(&broadhead(&[(Field::MarginWanted, wanted)]))),
        limit("noStroke", 12.25, Above, |brace| moved(&[(Field::DrawLength, 15.0)], Field::BraceHeight, brace)),
        limit("boreTooWide", 0.3, AboveAndAt, |bore| of(&setup(&[(Field::OuterDiameter, 0.3), (Field::Bore, bore)]))),
        limit("energyBeyondBelief", slowest(), Below, |speed| of(&read_slow(speed))),
        limit("moreEnergyThanStored", fastest(), Above, |speed| of(&read_at(speed))),
        limit("weighedAgainstLinear", 100.0, Above, weighed),
        limit("weighedAgainstLinear", 97.0 / 1.03, Below, weighed),
        limit("armSpanAgainstDraw", 29.5, Above, |draw| {
            of(&setup(&[(Field::ArmSpan, 70.0), (Field::DrawLength, draw)]))
        }),
        limit("armSpanAgainstDraw", 26.5, Below, |draw| {
            of(&setup(&[(Field::ArmSpan, 70.0), (Field::DrawLength, draw)]))
        }),
        limit("vanesOffTheShaft", 0.5, Below, |back| of(&setup(&CUT).with(Field::VaneSetBack, back).unwrap())),
        limit("vanesOffTheShaft", 18.0, Above, |vane| {
            moved(&[CUT[0], CUT[1], CUT[2], (Field::VaneSetBack, 10.0)], Field::VaneLength, vane)
        }),
        limit("insertLongerThanShaft", 27.5, Above, |inside| moved(&CUT, Field::InsertInside, inside)),
        limit("ownPartOffTheArrow", 29.0, Above, |center_in| {
            let mut setup = setup(&CUT);
            setup.own_parts.push(OwnPart { name: String::new(), mass_gr: 5.0, center_in, length_in: 0.5 });
            of(&setup)
        }),
        limit("peakAgainstReadings", 61.0, Above, |peak| of(&read_bow(&[(Field::PeakDrawWeight, peak)]))),
        limit("peakAgainstReadings", 59.0, Below, |peak| of(&read_bow(&[(Field::PeakDrawWeight, peak)]))),
        limit("drawAgainstReadings", 29.0, Above, |draw| of(&read_bow(&[(Field::DrawLength, draw)]))),
        limit("drawAgainstReadings", 28.5, Below, |draw| of(&read_bow(&[(Field::DrawLength, draw)]))),
        limit("focOutside", 7.0, Below, |foc| found(&setup(&[]), &[(FrontOfCentre, foc)])),
        limit("focOutside", 16.0, Above, |foc| found(&setup(&[]), &[(FrontOfCentre, foc)])),
        limit("focOutside", 10.0, Below, |foc| found(&bow(BowKind::Recurve), &[(FrontOfCentre, foc)])),
        limit("focOutside", 20.0, Above, |foc| found(&bow(BowKind::Recurve), &[(FrontOfCentre, foc)])),
        limit("focOutside", 10.0, Below, |foc| found(&choose(setup(&[]), Purpose::Hunting), &[(FrontOfCentre, foc)])),
        limit("focOutside", 20.0, Above, |foc| found(&choose(setup(&[]), Purpose::Hunting), &[(FrontOfCentre, foc)])),
        limit("focOutside", 20.0, Above, |foc| found(&setup(&[(Field::OuterDiameter, 0.34)]), &[(FrontOfCentre, foc)])),
        limit("focOutside", 25.0, Above, |foc| {
            found(&choose(bow(BowKind::Recurve), Purpose::Hunting), &[(FrontOfCentre, foc)])
        }),
        limit("offsetOutside", 5.0, Above, |degrees| {
            of(&bow(BowKind::Recurve).with(Field::VaneOffset, degrees).unwrap())
        }),
        limit("offsetOutside", 1.0, Below, |degrees| of(&setup(&[(Field::VaneOffset, degrees)]))),
        limit("offsetOutside", 3.0, Above, |degrees| of(&setup(&[(Field::VaneOffset, degrees)]))),
    ]
}

/// A shaft of 10 in at 9.7 gr/in, so that 97 gr are computed.
fn weighed(grains: f64) -> Vec<Warning> {
    of(&setup(&[(Field::ShaftLinearMass, 9.7), (Field::CutLength, 10.0), (Field::BareShaft, grains)]))
}

/// A 50 lb bow whose arrow of 400 gr was read at a speed, fps.
fn read_at(speed: f64) -> Setup {
    setup(&[(Field::PeakDrawWeight, 50.0), (Field::ChronographArrow, 400.0), (Field::ChronographSpeed, speed)])
}

/// A 150 lb bow of a long draw, shot so slowly with a light arrow that most of its energy must be elsewhere.
fn read_slow(speed: f64) -> Setup {
    let bow = setup(&[(Field::PeakDrawWeight, 150.0), (Field::DrawLength, 36.0)]);
    with_list(bow, List::Speeds, &[(100.0, speed); 8])
}

/// The speed at which that bow's virtual mass would have to be half a kilogram, fps.
fn slowest() -> f64 {
    let under = |speed: f64| {
        let model = ResolvedSetup::new(&read_slow(speed)).model;
        model.map_or(-1.0, |model| 0.5 - model.estimate.virtual_mass_kg().value)
    };
    crossing(under, 50.0, 300.0)
}

/// The speed that asks for three standard deviations more than that bow stores, fps.
fn fastest() -> f64 {
    let over = |speed: f64| {
        let at = ResolvedSetup::new(&read_at(speed));
        at.model.unwrap().estimate.energy_excess(&at.resolved).unwrap().unwrap().deviations - 3.0
    };
    crossing(over, 200.0, 400.0)
}

/// Where a rising function crosses nothing.
fn crossing(rising: impl Fn(f64) -> f64, mut low: f64, mut high: f64) -> f64 {
    for _ in 0..44 {
        let middle = (low + high) / 2.0;
        if rising(middle) < 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    high
}

/// Warnings without a number: a setup that has one, and one like it that has not.
fn switches() -> Vec<(&'static str, Setup, Setup)> {
    let contradicting = [(300.0, 250.0), (600.0, 280.0)];
    let chronograph = [(Field::ChronographSpeed, 280.0)];
    vec![
        ("chronographWithoutArrow", setup(&chronograph), setup(&[chronograph[0], (Field::ChronographArrow, 400.0)])),
        (
            "drawLengthEstimated",
            setup(&[(Field::ArmSpan, 70.0)]),
            setup(&[(Field::ArmSpan, 70.0), (Field::DrawLength, 28.0)]),
        ),
        ("drawLengthEstimated", setup(&[(Field::ArmSpan, 70.0)]), read_bow(&[(Field::ArmSpan, 70.0)])),
        ("labelOnly", setup(&[DRAW_WEIGHT]), choose(setup(&[DRAW_WEIGHT]), DrawWeightFrom::Scale)),
        ("labelOnly", recurve(&[(Field::MarkedWeight, 40.0)]), recurve(&[])),
        ("drawForceUnused", with_list(setup(&[]), List::DrawForce, &[(6.5, 0.0), (6.5, 20.0)]), read_bow(&[])),
        (
            "speedsContradict",
            with_list(setup(&[]), List::Speeds, &contradicting),
            with_list(setup(&[]), List::Speeds, &[(300.0, 280.0), (600.0, 220.0)]),
        ),
        ("woodOnCompound", choose(setup(&[]), ShaftMaterial::Wood), choose(bow(BowKind::Recurve), ShaftMaterial::Wood)),
        ("woodOnCompound", setup(&[(Field::Bore, 0.0)]), setup(&[])),
        ("broadhead", broadhead(&[]), choose(broadhead(&[]), PointKind::Field)),
    ]
}

fn has(warnings: &[Warning], key: &str) -> bool {
    warnings.iter().any(|warning| warning.key() == key)
}

#[test]
fn every_limit_divides_its_warning_from_none() {
    for Limit { key, at, side, warnings } in limits() {
        let (below, at_limit, above) = match side {
            Side::Below => (true, false, false),
            Side::BelowAndAt => (true, true, false),
            Side::Above => (false, false, true),
            Side::AboveAndAt => (false, true, true),
        };
        assert_eq!(has(&warnings(at - STEP), key), below, "{key} below {at}");
        assert_eq!(has(&warnings(at + STEP), key), above, "{key} above {at}");
        // These limits are reached through sums and roots that may round to either side of them.
        let rounded = [
            "notPointFirst",
            "energyBeyondBelief",
            "moreEnergyThanStored",
            "peakAgainstReadings",
            "drawAgainstReadings",
        ]
        .contains(&key)
            || (key == "weighedAgainstLinear" && at < 97.0);
        assert!(rounded || has(&warnings(at), key) == at_limit, "{key} at {at}");
    }
}

#[test]
fn what_has_no_limit_is_there_or_not() {
    for (key, with, without) in switches() {
        assert!(has(&of(&with), key), "{key}");
        assert!(!has(&of(&without), key), "{key}");
    }
    // No field in its range makes the mechanics refuse for another reason than the energy.
    let refused = Some(ModelError::Mechanics(Error::NoConvergence { iterations: 1 }));
    let default = setup(&[]);
    let refused = all(&default, &ResolvedSetup { error: refused, ..ResolvedSetup::new(&default) });
    assert_eq!(refused, [Warning::NoAnswer]);
    assert_eq!(of(&setup(&[])), []);
}

#[test]
fn every_warning_is_among_those_tested() {
    let (limits, switches) = (limits(), switches());
    let tested =
        |key: &str| limits.iter().any(|limit| limit.key == key) || switches.iter().any(|(switch, ..)| *switch == key);
    for key in Warning::KEYS {
        assert!(tested(key) || key == Warning::NoAnswer.key(), "{key}");
    }
}

/// At least one of every warning.
fn each() -> Vec<Warning> {
    let mut all = vec![Warning::NoAnswer];
    limits().iter().for_each(|limit| all.extend([-STEP, STEP].iter().flat_map(|by| (limit.warnings)(limit.at + by))));
    switches().iter().for_each(|(_, with, _)| all.extend(of(with)));
    all
}

#[test]
fn every_warning_is_a_sentence_in_the_units_chosen() {
    for warning in each() {
        let sentence = warning.sentence(&Units::ARCHERY);
        assert!(sentence.len() > 20 && sentence.ends_with('.'), "{sentence}");
    }
    assert_eq!(
        Warning::LightForBow { per_pound: 6.0, usual: 6.5 }.sentence(&Units::ARCHERY),
        "light arrow for this kind of bow: 6.00\u{a0}gpp. Rule of thumb: at least 6.50\u{a0}gpp. Check your bow's manual."
    );
    let short = Warning::ShaftShort { length: 27.0, safe: 28.0 };
    let wanted =
        "arrow too short. It is 68.6\u{a0}cm long and needs 71.1\u{a0}cm to stay safely past the rest at full draw.";
    assert_eq!(short.sentence(&Units::metric()), wanted);
    assert_eq!(short.severity().word(), "Do not shoot");
    assert_eq!(Warning::Broadhead.severity().word(), "Check");
}

#[test]
fn only_these_forbid_shooting() {
    let all = each();
    let of = |severity| {
        let those = |key: &&str| all.iter().any(|each| each.key() == *key && each.severity() == severity);
        Warning::KEYS.into_iter().filter(those).collect::<Vec<_>>()
    };
    let dangers = [
        "shaftBehindRest",
        "bladesNearRest",
        "shaftShort",
        "woodOnCompound",
        "badlyWeak",
        "lighterThanAllowed",
        "notPointFirst",
    ];
    assert_eq!(of(Severity::Danger), dangers);
    assert_eq!(
        of(Severity::Impossible),
        ["noStroke", "boreTooWide", "bladesLongerThanPoint", "energyBeyondBelief", "noAnswer"]
    );
    assert_eq!(of(Severity::Remark), ["labelOnly", "focOutside", "offsetOutside"]);
    let forbids = [Severity::Danger, Severity::Impossible, Severity::Check, Severity::Remark];
    assert_eq!(forbids.map(Severity::forbids_shooting), [true, true, false, false]);
    assert_eq!(forbids.map(Severity::key), ["danger", "check", "check", "remark"]);
}

/// The dangers of an arrow as it is computed, not of numbers made up for the test.
#[test]
fn dangers_of_a_whole_evaluation() {
    let held = setup(&[DRAWN[0], DRAWN[1], (Field::CutLength, 27.5), (Field::StaticSpine, 400.0)]);
    let outputs = Evaluation::of(&held).outputs;
    let with = |field, value: f64| of(&held.clone().with(field, value).unwrap());
    let ratio = outputs.get(Output::GrainsPerPound).unwrap();
    assert!(!has(&with(Field::MakersMinimum, ratio), "lighterThanAllowed"));
    assert!(with(Field::MakersMinimum, ratio + STEP).contains(&Warning::LighterThanAllowed {
        weight: 50.0 * ratio,
        weight_wanted: 50.0 * (ratio + STEP),
        per_pound: ratio,
        least: ratio + STEP,
    }));
    let target = outputs.get(Output::ColumnLoad).unwrap() / 1.25;
    assert!(!has(&with(Field::ProvenLoad, target + STEP), "badlyWeak"));
    let weak = with(Field::ProvenLoad, target - STEP);
    let suits = |warning: &Warning| match *warning {
        Warning::BadlyWeak { suits_to, draw_weight } => Some((suits_to, draw_weight)),
        _ => None,
    };
    let (suits_to, draw_weight) = weak.iter().find_map(suits).unwrap();
    assert!((suits_to - 50.0 * (13.0 / 12.0) / 1.25).abs() < 1e-3 && draw_weight == 50.0, "{weak:?}");
}

#[test]
fn a_shaft_behind_the_rest_is_not_also_short() {
    // A billionth of an inch is the same length.
    let at_limit = moved(&[(Field::DrawLength, 28.0), (Field::ThroatToShaft, 0.0)], Field::CutLength, 27.25 - 1e-9);
    assert!(!has(&at_limit, "shaftShort"));
    assert!(!has(&moved(&DRAWN, Field::CutLength, 25.0), "shaftShort"));
    assert!(!has(&moved(&DRAWN, Field::CutLength, 26.0), "shaftBehindRest"));
}

#[test]
fn blades_ahead_of_the_shaft_are_as_safe_as_its_end() {
    let far = [CUT[0], CUT[1], CUT[2], CUT[3], (Field::ShortestReach, 6.0)];
    let blades = |length: f64| of(&broadhead(&far).with(Field::BladeLength, length).unwrap());
    assert!(!has(&blades(1.0), "bladesNearRest"), "they begin where the shaft ends");
    assert!(has(&blades(1.0 + STEP), "bladesNearRest"));
    let ahead = [(Field::InsertAhead, 0.25), (Field::CollarLength, 0.5)];
    let ahead = |length: f64| of(&broadhead(&[&far[..], &ahead].concat()).with(Field::BladeLength, length).unwrap());
    assert!(!has(&ahead(1.75), "bladesNearRest"), "carried ahead by insert and collar");
    assert!(has(&ahead(1.75 + STEP), "bladesNearRest"));
    assert!(!has(&of(&setup(&far).with(Field::BladeLength, 3.0).unwrap()), "bladesNearRest"), "a field point");
}

#[test]
fn no_vanes_no_remark_on_them() {
    let none = |given: &Given| of(&setup(given).with(Field::VaneCount, 0.0).unwrap());
    assert!(!has(&none(&[(Field::VaneOffset, 9.0)]), "offsetOutside"));
    assert!(!has(&none(&[(Field::VaneSetBack, 0.0)]), "vanesOffTheShaft"));
}

#[test]
fn what_the_user_knows_of_the_bow_replaces_its_default() {
    let known = |least| bow(BowKind::Longbow).with(Field::MakersMinimum, least).unwrap();
    let at = |setup: &Setup, ratio| found(setup, &[(Output::GrainsPerPound, ratio)]);
    assert!(has(&at(&bow(BowKind::Longbow), 6.5), "lighterThanAllowed"));
    assert_eq!(at(&known(6.0), 6.5), []);
    assert!(has(&at(&known(9.0), 8.5), "lighterThanAllowed"));
}

#[test]
fn straight_fletching_is_usual_off_the_fingers() {
    let straight = |kind| of(&bow(kind).with(Field::VaneOffset, 0.0).unwrap());
    assert!(has(&straight(BowKind::Compound), "offsetOutside"));
    assert!(!has(&straight(BowKind::Recurve), "offsetOutside") && !has(&straight(BowKind::Longbow), "offsetOutside"));
    for light in [bow(BowKind::Longbow), setup(&[(Field::PeakDrawWeight, 29.0)])] {
        assert!(!has(&found(&light, &[(Output::FrontOfCentre, 3.0)]), "focOutside"));
    }
}
