//! The full report of one build, as scripts read it.
//!
//! Its keys carry their units; numbers are in the units a build is saved in. Native and wasm give the
//! same report bit for bit.

use crate::bench::report::BenchReport;
use crate::build::{Build, BuildError, SCHEMA_VERSION, SavedBuild, SavedValue};
use crate::cautions::ALWAYS;
use crate::entry::EntryError;
use crate::evaluation::Evaluation;
use crate::flex::FlexReport;
use crate::flight::FlightReport;
use crate::inputs::{Field, Value};
use crate::keyed::Keyed;
use crate::numbers::in_inches;
use crate::outcome::{OUTCOMES, OutcomeRow, Term};
use crate::quantity::{Quantity, Units};
use crate::rows::RowError;
use crate::wording;
use serde::Serialize;

/// The full report. Every result that has no answer is null.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct Report {
    /// Schema of the build and of this report.
    pub schema_version: u32,
    /// Version of the program.
    pub program_version: &'static str,
    /// Name of the set-up.
    pub name: String,
    /// What stood in every field that had a value, by key.
    pub inputs: Keyed<&'static str, InputReport>,
    /// Every result, by key.
    pub results: Keyed<&'static str, Option<f64>>,
    /// `actsStiff`, `wellMatched`, `actsWeak`, or null.
    pub verdict: Option<&'static str>,
    /// `bowKind`, `drawForce`, `ratedSpeed`, `chronograph`, or null.
    pub speed_from: Option<&'static str>,
    /// Name of the nearest shaft in the list.
    pub nearest_stock: Option<String>,
    /// The two stock spines the ideal lies on the verge between.
    pub verge: Option<(f64, f64)>,
    /// For each backward question that has no answer, the end of the range that comes nearest.
    pub out_of_reach: Keyed<&'static str, f64>,
    /// Every part of the arrow, from the rear.
    pub parts: Vec<PartReport>,
    /// Cautions, the loudest first.
    pub cautions: Vec<CautionReport>,
    /// What is always said.
    pub always: [&'static str; 4],
    /// The match in a sentence.
    pub match_sentence: String,
    /// What would put the match right, in a sentence; empty where nothing is wrong.
    pub mend_sentence: String,
    /// Which column load is the target, in a sentence.
    pub target_sentence: &'static str,
    /// What drives the speed and the stored energy, in a sentence each.
    pub speed_sentence: Option<String>,
    /// What the user gave, in a sentence.
    pub given_sentence: String,
    /// What was left to the page, in a sentence.
    pub assumed_sentence: String,
    /// The working of every result.
    pub workings: Vec<Working>,
    /// What the shot does to the arrow; null where it cannot be worked out.
    pub shot: Option<FlexReport>,
    /// What was measured, and what it says.
    pub measured: BenchReport,
    /// What the arrow does after it leaves.
    pub in_flight: FlightReport,
}

/// A field's value and whose it is.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct InputReport {
    /// The value, in the unit its key names.
    pub value: SavedValue,
    /// Whether it was left to the page.
    pub left_to_page: bool,
}

/// One part of the arrow.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct PartReport {
    /// Which part.
    pub part: &'static str,
    /// Its weight in grains.
    pub mass_gr: f64,
    /// Its centre of mass ahead of the nock's throat, in inches.
    pub centre_in: f64,
}

/// One caution.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct CautionReport {
    /// Its key.
    pub code: &'static str,
    /// `danger`, `check` or `remark`.
    pub weight: &'static str,
    /// In words, in inches, pounds and grains.
    pub sentence: String,
}

/// Formula, numbers put in and source of one result.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct Working {
    /// Key of the result.
    pub result: &'static str,
    /// The formula.
    pub formula: &'static str,
    /// Symbol, key and value of each thing put in.
    pub terms: Vec<(&'static str, &'static str, Option<f64>)>,
    /// Where it comes from.
    pub source: &'static str,
    /// How sure it is.
    pub sure: &'static str,
}

impl Report {
    /// The report of a build.
    #[must_use]
    pub fn of(build: &Build) -> Self {
        let all = Evaluation::of(build);
        let draw_weight = all.settled.number(Field::PeakDrawWeight);
        Self {
            schema_version: SCHEMA_VERSION,
            program_version: env!("CARGO_PKG_VERSION"),
            name: build.name.clone(),
            inputs: inputs(&all),
            results: OUTCOMES.iter().map(|row| (row.key, all.numbers.get(row.outcome))).collect(),
            verdict: all.verdict.map(crate::numbers::Verdict::key),
            speed_from: all.setup.as_ref().map(|setup| setup.speed_from.key()),
            nearest_stock: all.nearest.as_ref().map(|shaft| shaft.name.clone()),
            verge: all.verge,
            out_of_reach: all.out_of_reach.iter().map(|out| (out.outcome.row().key, out.nearest)).collect(),
            parts: parts(&all),
            cautions: all
                .cautions
                .iter()
                .map(|caution| CautionReport {
                    code: caution.key(),
                    weight: caution.weight().key(),
                    sentence: caution.sentence(&Units::ARCHERY),
                })
                .collect(),
            always: ALWAYS,
            match_sentence: wording::match_sentence(&all.numbers, draw_weight, &Units::ARCHERY),
            mend_sentence: wording::mend_sentence(&all.settled, &all.numbers, &Units::ARCHERY),
            target_sentence: wording::target_sentence(&all.settled),
            speed_sentence: all
                .setup
                .as_ref()
                .map(|setup| wording::speed_sentence(setup, &all.numbers, &Units::ARCHERY)),
            given_sentence: wording::given_sentence(&all.settled, &build.own_parts, &Units::ARCHERY),
            assumed_sentence: wording::assumed_sentence(&all.settled, &Units::ARCHERY),
            workings: OUTCOMES.iter().map(|row| working(row, &all)).collect(),
            shot: FlexReport::of(build, &all).ok(),
            measured: BenchReport::of(build, &all),
            in_flight: FlightReport::of(build, &all),
        }
    }
}

fn inputs(all: &Evaluation) -> Keyed<&'static str, InputReport> {
    let report = |field: Field| {
        let input = field.input();
        let value = match all.settled.value(field)? {
            Value::Number(number) => SavedValue::Number(number),
            Value::Answer(place) => SavedValue::Text(input.choices().get(usize::from(place))?.key.to_owned()),
        };
        Some((input.key, InputReport { value, left_to_page: !all.settled.is_mine(field) }))
    };
    Field::ALL.into_iter().filter_map(report).collect()
}

fn parts(all: &Evaluation) -> Vec<PartReport> {
    let part = |(name, part): (crate::setup::PartName, clothyard_mechanics::Part)| PartReport {
        part: name.key(),
        mass_gr: Quantity::Mass.from_si(part.mass_kg),
        centre_in: in_inches(part.centre_m),
    };
    all.setup.as_ref().map_or_else(Vec::new, |setup| setup.from_the_rear().into_iter().map(part).collect())
}

/// The working of one result.
#[must_use]
pub fn working(row: &'static OutcomeRow, all: &Evaluation) -> Working {
    let term = |&(symbol, term): &(&'static str, Term)| match term {
        Term::Of(field) => (symbol, field.input().key, all.settled.given(field)),
        Term::From(outcome) => (symbol, outcome.row().key, all.numbers.get(outcome)),
    };
    Working {
        result: row.key,
        formula: row.formula,
        terms: row.terms.iter().map(term).collect(),
        source: row.source,
        sure: row.sure,
    }
}

/// An error as it crosses to scripts: what is wrong, in which field, and what is allowed.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct ErrorReport {
    /// What kind of error.
    pub code: &'static str,
    /// The field's key.
    pub field: String,
    /// What stood there, if it is a number.
    pub value: Option<f64>,
    /// Least allowed, if there is a range.
    pub minimum: Option<f64>,
    /// Most allowed, if there is a range.
    pub maximum: Option<f64>,
    /// In words.
    pub message: String,
}

impl ErrorReport {
    /// Why a saved build cannot be read.
    #[must_use]
    pub fn of(error: &BuildError) -> Self {
        let plain = |code, field: &str, message: String| Self {
            code,
            field: field.to_owned(),
            value: None,
            minimum: None,
            maximum: None,
            message,
        };
        match error {
            BuildError::Schema { found, newest } => plain(
                "schema",
                "schemaVersion",
                format!("schemaVersion {found}: this version reads 1 to {newest}; a newer build needs a newer page."),
            ),
            BuildError::UnknownKey { key } => plain("unknownKey", key, format!("{key}: no input has this key.")),
            BuildError::UnknownAnswer { key, answer } => {
                let known: Vec<_> = Field::by_key(key)
                    .map_or(&[][..], |field| field.input().choices())
                    .iter()
                    .map(|choice| choice.key)
                    .collect();
                plain(
                    "unknownAnswer",
                    key,
                    format!("{key}: \u{201c}{answer}\u{201d} is not one of {}.", known.join(", ")),
                )
            }
            BuildError::TooMany { key, most } => plain("tooMany", key, format!("{key}: at most {most}.")),
            BuildError::Empty { key } => plain("empty", key, format!("{key}: at least one.")),
            BuildError::Rows { key, error } => Self::of_rows(key, error),
            BuildError::Value { key, error } => Self::of_value(key, error),
        }
    }

    fn of_rows(key: &str, error: &RowError) -> Self {
        let (place, message) = match error {
            RowError::TooMany { most } => (key.to_owned(), format!("{key}: at most {most} rows.")),
            RowError::Shape { row, columns } => {
                let place = format!("{key}[{row}]");
                let message = format!("{place}: a row has {columns} numbers.");
                (place, message)
            }
            RowError::Value { row, key: column, error } => {
                return Self::of_value(&format!("{key}[{row}].{column}"), error);
            }
        };
        Self { code: "rows", field: place, value: None, minimum: None, maximum: None, message }
    }

    fn of_value(key: &str, error: &EntryError) -> Self {
        let (value, minimum, maximum) = match *error {
            EntryError::OutOfRange { value, minimum, maximum } => (Some(value), Some(minimum), Some(maximum)),
            _ => (None, None, None),
        };
        let message = match (Field::by_key(key), error) {
            (Some(field), error) => format!("{key}: {}", wording::entry_message(field.input(), error, &Units::ARCHERY)),
            (None, EntryError::OutOfRange { value, minimum, maximum }) => {
                let number = |value: &f64| wording::trimmed(*value, 4);
                format!("{key}: {} is not within {} to {}.", number(value), number(minimum), number(maximum))
            }
            (None, _) => format!("{key}: not a number that is allowed."),
        };
        Self { code: "value", field: key.to_owned(), value, minimum, maximum, message }
    }
}

/// Reads a saved build and reports on it.
///
/// # Errors
/// [`ErrorReport`] where the build cannot be read.
pub fn evaluate(saved: &SavedBuild) -> Result<Report, ErrorReport> {
    Build::from_saved(saved).map(|build| Report::of(&build)).map_err(|error| ErrorReport::of(&error))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_result_has_a_working_and_a_key() {
        let report = Report::of(&Build::default());
        assert_eq!(report.results.0.len(), OUTCOMES.len());
        assert_eq!(report.workings.len(), OUTCOMES.len());
        for working in &report.workings {
            for (symbol, key, value) in &working.terms {
                assert!(value.is_some(), "{}: {symbol} {key}", working.result);
            }
        }
    }

    #[test]
    fn the_parts_add_up() {
        let report = Report::of(&Build::default());
        let sum: f64 = report.parts.iter().map(|part| part.mass_gr).sum();
        let balance = report.results.0.iter().find(|(key, _)| *key == "balancePointIn").unwrap().1.unwrap();
        let moment: f64 = report.parts.iter().map(|part| part.mass_gr * part.centre_in).sum();
        assert!((sum - report.results.0[0].1.unwrap()).abs() < 1e-9);
        assert!((moment / sum - balance).abs() < 1e-9);
    }

    #[test]
    fn errors_name_the_field_and_the_range() {
        let saved: SavedBuild = serde_json::from_str(r#"{"schemaVersion":1,"inputs":{"drawLengthIn":280}}"#).unwrap();
        let error = evaluate(&saved).unwrap_err();
        assert_eq!((error.field.as_str(), error.minimum, error.maximum), ("drawLengthIn", Some(15.0), Some(36.0)));
        assert!(error.message.contains("Draw length"));
    }
}
