//! Every input counts where its row of the table says, by computing: `tests/golden/everything.json` sets them all.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that panics has failed, which is its job")]

use clothyard_core::drawing::{Room, draw};
use clothyard_core::eval::Baseline;
use clothyard_core::plain::from_json;
use clothyard_core::schema::{self, BowKind, CountsIn, Field, Kind, Launch, List, OUTPUTS, Value, When};
use clothyard_core::units::Units;
use clothyard_core::{Evaluation, Setup};
use clothyard_studies::flight::FlightReport;
use clothyard_studies::measurements::report::BenchReport;
use clothyard_studies::production::{batch, log, sheet, words};
use clothyard_studies::shot::FlexReport;
use serde::Serialize;
use serde_json::Value as Json;

const ROOM: Room = Room { width: 800.0, strip: false };

fn everything() -> Setup {
    let json = include_str!("../../../tests/golden/everything.json");
    from_json(json).unwrap()
}

/// A report as text, its numbers to seven digits: what moves less is rounding, or how far a root was sought.
fn json(report: impl Serialize) -> String {
    fn rounded(value: &Json) -> String {
        match value {
            Json::Number(number) => number.as_f64().map_or_else(String::new, |number| format!("{number:.6e}")),
            Json::Array(items) => items.iter().map(|item| rounded(item) + ",").collect(),
            Json::Object(entries) => entries.iter().map(|(key, value)| format!("{key}:{},", rounded(value))).collect(),
            other => other.to_string(),
        }
    }
    rounded(&serde_json::to_value(report).unwrap())
}

/// All that one place shows of a setup.
fn shown(place: CountsIn, setup: &Setup) -> String {
    let all = Evaluation::of(setup);
    match place {
        CountsIn::Outputs => json(OUTPUTS.each_ref().map(|row| all.outputs.get(row.output)).as_slice()),
        CountsIn::Warnings => all.warnings.iter().map(|warning| warning.sentence(&Units::ARCHERY)).collect(),
        CountsIn::Drawing => format!("{:?}", draw(&all, ROOM, &Units::ARCHERY)),
        CountsIn::Shot => FlexReport::of(&all).map_or_else(|error| error.sentence().to_owned(), json),
        CountsIn::Flight => json(FlightReport::of(setup, &all)),
        CountsIn::Production => production(setup, &all),
        CountsIn::Measurements => json(BenchReport::of(setup, &all)),
    }
}

fn production(setup: &Setup, all: &Evaluation) -> String {
    let (units, worth) = (Units::ARCHERY, batch::worth(all));
    let pieces = batch::pieces(setup.lists.rows(List::Batch));
    let (_, sorted) = batch::sorted(&pieces, all);
    let entries = log::entries(setup.lists.rows(List::Tuning));
    let readings: String = entries.iter().map(|entry| entry.reading(log::Shooter::of(all))).collect();
    let sheet = sheet::sheet(setup, all, &units);
    let heights = words::heights(&pieces, &sorted, all, &units);
    format!("{sheet:?} {sorted:?} {:?} {heights} {readings}", words::use_sentences(&pieces, &sorted, worth, &units))
}

fn applies(setup: &Setup, field: Field) -> bool {
    Baseline::new(setup).resolved.applies(field)
}

/// Other values of a field, those near the one it has first.
fn others(setup: &Setup, field: Field) -> Vec<Value> {
    let now = Baseline::new(setup).resolved.value(field);
    let all = match field.input().kind {
        Kind::Choice(answers) => (0u8..).zip(answers).map(|(place, _)| Value::Choice(place)).collect(),
        Kind::Number { minimum, maximum, step, .. } => {
            let near = match now {
                Some(Value::Number(number)) => vec![number + step, number - step, number * 1.1, number * 0.9],
                _ => Vec::new(),
            };
            near.into_iter().chain([(minimum + maximum) / 2.0, minimum, maximum]).map(Value::Number).collect::<Vec<_>>()
        }
    };
    all.into_iter().filter(|&value| Some(value) != now && field.input().check(value).is_ok()).collect()
}

fn with(setup: &Setup, field: Field, value: Option<Value>) -> Setup {
    let mut setup = setup.clone();
    setup.set(field, value).unwrap();
    setup
}

/// Whether some other value of a field moves what a place shows.
fn moves(setup: &Setup, field: Field, place: CountsIn) -> bool {
    let before = shown(place, setup);
    others(setup, field).into_iter().any(|value| shown(place, &with(setup, field, Some(value))) != before)
}

/// A setup in which a field counts: everything, without what would replace it there.
fn counting(field: Field) -> Setup {
    use Field::{
        ArmSpan, BareShaft, BowScaleStep, ChronographSpeed, CutLength, DrawLength, GrowthAllowance, MarkedDraw,
        MarkedWeight, PeakDrawWeight, RatedSpeed, RatedUnder, RatingArrow, RatingDrawLength, RatingDrawWeight,
        RestAside, RuleStep, ShaftLinearMass, SiteAltitude, StationPressure,
    };
    let everything = everything();
    let without = |fields: &[Field]| fields.iter().fold(everything.clone(), |setup, &field| with(&setup, field, None));
    let replaced_by = match field {
        GrowthAllowance => return with(&with(&everything, PeakDrawWeight, Some(Value::Number(25.0))), CutLength, None),
        ArmSpan => DrawLength,
        BareShaft => ShaftLinearMass,
        RatedSpeed | RatedUnder | RatingDrawWeight | RatingDrawLength | RatingArrow => ChronographSpeed,
        SiteAltitude => StationPressure,
        // The steps of rule and bow scale count in draw-force readings; everything has none, as they replace let-off
        // and cam.
        RuleStep | BowScaleStep => return with_draw_force(everything),
        // A release aid needs no plunger.
        RestAside => return with(&everything, Field::Launch, Some(Launch::FingersCenterCut.into())),
        // A compound has no weight marked at a draw length.
        MarkedWeight | MarkedDraw => return with(&everything, Field::BowKind, Some(BowKind::Recurve.into())),
        Field::VaneMaterial => Field::VaneMass,
        Field::ShaftMaterial => return without(&[ShaftLinearMass, BareShaft]),
        Field::Wall => {
            let tube = without(&[Field::StaticSpine, Field::Bore, ShaftLinearMass, BareShaft]);
            return with(&tube, Field::ShaftMaterial, Some(schema::ShaftMaterial::Aluminum.into()));
        }
        _ => return everything,
    };
    with(&everything, replaced_by, None)
}

fn with_pairs(mut setup: Setup, list: List, pairs: &[(f64, f64)]) -> Setup {
    let rows = pairs.iter().map(|&(first, second)| vec![Some(first), Some(second)]).collect();
    setup.lists.set(list, rows).unwrap();
    setup
}

fn with_draw_force(setup: Setup) -> Setup {
    let readings = [(6.25, 0.0), (10.0, 31.0), (14.0, 55.0), (18.0, 61.5), (22.0, 57.0), (25.0, 31.0), (27.0, 11.0)];
    with_pairs(setup, List::DrawForce, &readings)
}

#[test]
fn everything_sets_every_input() {
    let setup = everything();
    let missing: Vec<_> = Field::ALL.into_iter().filter(|&field| setup.get(field).is_none()).collect();
    assert!(missing.is_empty(), "tests/golden/everything.json lacks {missing:?}");
    let idle: Vec<_> = Field::ALL.into_iter().filter(|&field| !applies(&counting(field), field)).collect();
    assert!(idle.is_empty(), "tests/golden/everything.json sets in vain: {idle:?}");
}

#[test]
fn every_input_counts_where_its_row_says() {
    let counts = |&field: &Field| moves(&counting(field), field, field.input().counts_in);
    let idle: Vec<_> = Field::ALL.into_iter().filter(|field| !counts(field)).collect();
    assert!(idle.is_empty(), "these move nothing where their rows say that they count: {idle:?}");
}

#[test]
fn an_input_that_moves_a_result_counts_there() {
    let elsewhere = Field::ALL.into_iter().filter(|field| field.input().counts_in != CountsIn::Outputs);
    let moving: Vec<_> = elsewhere.filter(|&field| moves(&counting(field), field, CountsIn::Outputs)).collect();
    assert!(moving.is_empty(), "these move a result and their rows do not say so: {moving:?}");
}

/// A setup in which a field does not apply: everything without it and with one other field changed or left out, or
/// with speeds of different arrows.
fn not_applying(field: Field) -> Option<Setup> {
    let setup = with(&counting(field), field, None);
    let changed = |other: Field| {
        let values = others(&setup, other).into_iter().map(Some).chain([None]);
        values.map(|value| with(&setup, other, value)).collect::<Vec<_>>()
    };
    let one_changed = Field::ALL.into_iter().filter(|&other| other != field).flat_map(changed);
    let speeds = with_pairs(setup.clone(), List::Speeds, &[(370.0, 301.0), (450.0, 276.0)]);
    one_changed.chain([speeds]).find(|setup| !applies(setup, field))
}

#[test]
fn what_does_not_apply_moves_no_result() {
    for field in Field::ALL.into_iter().filter(|field| field.input().when != When::Always) {
        let setup = not_applying(field).unwrap_or_else(|| panic!("{field:?} always applies"));
        let before = shown(CountsIn::Outputs, &setup);
        for value in others(&setup, field) {
            let after = with(&setup, field, Some(value));
            if !applies(&after, field) {
                assert!(shown(CountsIn::Outputs, &after) == before, "{field:?} at {value:?}");
            }
        }
    }
}
