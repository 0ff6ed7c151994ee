//! What a result's row names as going into its formula does go into it, by computing.

#![allow(clippy::unwrap_used, reason = "a test that panics has failed, which is its job")]

use clothyard_core::eval::Baseline;
use clothyard_core::schema::{CountsIn, Field, Kind, OUTPUTS, Output, OutputSpec, Term};
use clothyard_core::setup::{Setup, samples};

/// A field of the baseline moved, and every result then.
struct Moved {
    field: Field,
    numbers: Vec<Option<f64>>,
}

fn all_outputs() -> Vec<Output> {
    OUTPUTS.iter().map(|row| row.output).collect()
}

/// Every result with each number of a setup moved to a few places of its range.
fn moved(setup: &Setup) -> (Vec<Option<f64>>, Vec<Moved>) {
    let (baseline, wanted) = (Baseline::new(setup), all_outputs());
    let numbers_of = |resolved| {
        let outputs = baseline.outputs(&resolved, &wanted);
        wanted.iter().map(|&output| outputs.get(output)).collect::<Vec<_>>()
    };
    let mut list = Vec::new();
    for field in Field::ALL {
        let Kind::Number { minimum, maximum, step, .. } = field.input().kind else { continue };
        let now = baseline.resolved.number(field);
        for value in [now + step, now - step, 0.7 * now, 0.5 * (minimum + maximum), minimum] {
            if (minimum..=maximum).contains(&value) {
                list.push(Moved { field, numbers: numbers_of(baseline.with(field, value)) });
            }
        }
    }
    (numbers_of(baseline.resolved), list)
}

fn differs(before: &[Option<f64>], after: &[Option<f64>], output: Output) -> bool {
    let at = |numbers: &[Option<f64>]| numbers.get(output as usize).copied().flatten();
    at(before).zip(at(after)).is_some_and(|(before, after)| (after - before).abs() > 1e-6 * before.abs())
}

/// Whether a term moves the result, or another of its terms: the two may cancel, as the draw weight does in the
/// column load.
fn goes_in(term: Term, row: &OutputSpec, before: &[Option<f64>], moved: &[Moved]) -> bool {
    let moves = |after: &Moved, output| differs(before, &after.numbers, output);
    let reaches = |after: &Moved| {
        let through =
            |&(_, other): &(&str, Term)| matches!(other, Term::From(output) if other != term && moves(after, output));
        moves(after, row.output) || row.terms.iter().any(through)
    };
    moved.iter().filter(|after| reaches(after)).any(|after| match term {
        Term::Of(field) => after.field == field,
        Term::From(output) => moves(after, output),
    })
}

#[test]
fn every_term_moves_its_result() {
    let bow_alone = samples::all().remove(0).setup;
    // A measured speed fixes the energy given, whatever is stored; a proven load is the target; on a stiff shaft it is
    // the match that bounds the cut and not safety.
    let measured = [
        (Field::ChronographSpeed, 280.0),
        (Field::ChronographArrow, 400.0),
        (Field::ProvenLoad, 0.98),
        (Field::StaticSpine, 250.0),
    ];
    let measured =
        measured.into_iter().fold(bow_alone.clone(), |setup, (field, value)| setup.with(field, value).unwrap());
    // A target near the load, so that no point or cut that would match is out of reach; on a stiffer shaft it is again
    // the match that bounds the cut.
    let proven = bow_alone.clone().with(Field::ProvenLoad, 1.08).unwrap();
    let stiff = proven.clone().with(Field::StaticSpine, 290.0).unwrap();
    let setups = [bow_alone, measured, proven, stiff].map(|setup| moved(&setup));
    for row in &OUTPUTS {
        for &(symbol, term) in row.terms {
            let found = setups.iter().any(|(before, moved)| goes_in(term, row, before, moved));
            assert!(found, "{}: {symbol} does not move it", row.key);
        }
    }
}

/// The symbols of a formula: runs of letters with their subscript, a star among them.
fn symbols(formula: &str) -> Vec<&str> {
    formula.split(|c: char| !c.is_alphabetic() && c != '_' && c != '*').filter(|word| !word.is_empty()).collect()
}

#[test]
fn every_term_is_in_its_formula_as_a_symbol() {
    for row in &OUTPUTS {
        for (symbol, _) in row.terms {
            assert!(
                symbols(row.output.explanation().formula).contains(symbol),
                "{}: {symbol} in {}",
                row.key,
                row.output.explanation().formula
            );
        }
    }
}

/// Words of a formula, and the inputs they stand for without a symbol.
const IN_WORDS: [(&str, &[Field]); 10] = {
    use Field::*;
    [
        (
            "every other part",
            &[BushingMass, VaneCount, VaneMass, VaneMaterial, WrapMass, RearGlue, CollarMass, SleeveMass, FrontGlue],
        ),
        (
            "each part's weight times its place",
            &[
                BushingLength,
                VaneLength,
                VaneSetBack,
                WrapLength,
                InsertInside,
                InsertAhead,
                CollarLength,
                SleeveLength,
                PointLength,
            ],
        ),
        ("K from the spine", &[OuterDiameter, Bore, InsertMaterial]),
        ("area under the draw-force curve", &[BowKind, LetOff, Cam]),
        (
            "every speed read",
            &[
                RatedSpeed,
                RatedUnder,
                RatingDrawWeight,
                RatingDrawLength,
                RatingArrow,
                ChronographSpeed,
                ChronographArrow,
            ],
        ),
        ("weighted by its error", &[DrawWeightFrom, RuleStep, BowScaleStep, ChronographStep]),
        ("that of your reference arrow", &[ProvenLoad]),
        ("release aid", &[Launch]),
        ("the lightest that is safe", &[MakersMinimum]),
        ("room to grow", &[GrowthAllowance]),
    ]
};

/// Inputs that a term follows where it is a default.
const FOLLOWED: [(Field, Field); 10] = [
    (Field::GrowthAllowance, Field::CutLength),
    (Field::ShaftMaterial, Field::ShaftLinearMass),
    (Field::Wall, Field::StaticSpine),
    (Field::DrawLengthFrom, Field::DrawLength),
    (Field::MarkedWeight, Field::PeakDrawWeight),
    (Field::MarkedDraw, Field::PeakDrawWeight),
    (Field::ArmSpan, Field::DrawLength),
    (Field::BareShaft, Field::ShaftLinearMass),
    (Field::NockKind, Field::NockMass),
    (Field::InsertKind, Field::InsertMass),
];

#[test]
fn every_input_that_moves_results_goes_into_a_formula() {
    let formulas = |words: &str| OUTPUTS.iter().any(|row| row.output.explanation().formula.contains(words));
    let is_term = |field| OUTPUTS.iter().flat_map(|row| row.terms).any(|&(_, term)| term == Term::Of(field));
    for (words, _) in IN_WORDS {
        assert!(formulas(words), "no formula says \u{201c}{words}\u{201d}");
    }
    for field in Field::ALL.into_iter().filter(|field| field.input().counts_in == CountsIn::Outputs) {
        let in_words = IN_WORDS.iter().any(|(_, fields)| fields.contains(&field));
        let followed = FOLLOWED.iter().any(|&(other, term)| other == field && is_term(term));
        assert!(is_term(field) || in_words || followed, "{field:?} is no term, nor is it in a formula's words");
    }
}
