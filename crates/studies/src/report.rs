//! The full report of one setup for scripts.
//!
//! Its keys carry their units; numbers are in the units a build is saved in. Native and wasm give the
//! same report bit for bit.

use crate::flight::FlightReport;
use crate::measurements::report::BenchReport;
use crate::shot::FlexReport;
use clothyard_core::eval::outputs::in_inches;
use clothyard_core::eval::warnings::ALWAYS;
use clothyard_core::eval::{Evaluation, Headline};
use clothyard_core::format;
use clothyard_core::ordered_map::OrderedMap;
use clothyard_core::schema::{Field, OUTPUTS, OutputSpec, Term};
use clothyard_core::setup::{SCHEMA_VERSION, SavedValue, Setup};
use clothyard_core::units::{Quantity, Units};
use serde::Serialize;

/// The full report. Every result that has no answer is null.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct Report {
    /// Schema of the build and of this report.
    pub schema_version: u32,
    /// Version of the program.
    pub program_version: &'static str,
    /// Name of the setup.
    pub name: String,
    /// What stood in every field that had a value, by key.
    pub inputs: OrderedMap<&'static str, InputReport>,
    /// Every result, by key.
    pub results: OrderedMap<&'static str, Option<f64>>,
    /// `actsStiff`, `wellMatched`, `actsWeak`, or null: the match alone.
    pub verdict: Option<&'static str>,
    /// The answer: a danger where there is one, else the match.
    pub headline: HeadlineReport,
    /// `bowKind`, `drawForce`, `ratedSpeed`, `chronograph`, or null.
    pub speed_from: Option<&'static str>,
    /// Name of the nearest shaft in the list.
    #[serde(rename = "nearestStock")]
    pub nearest_shaft: Option<String>,
    /// What to buy and where to cut it.
    pub recommendation: RecommendationReport,
    /// For each backward question that has no answer, the end of the range that comes nearest.
    pub out_of_reach: OrderedMap<&'static str, f64>,
    /// Every part of the arrow, from the rear.
    pub parts: Vec<PartReport>,
    /// Cautions, the loudest first.
    #[serde(rename = "cautions")]
    pub warnings: Vec<CautionReport>,
    /// What is always said.
    pub always: [&'static str; 4],
    /// The match in a sentence.
    pub match_sentence: String,
    /// What would put the match right, in a sentence; empty where nothing is wrong.
    #[serde(rename = "mendSentence")]
    pub remedy_sentence: String,
    /// Which column load is the target, in a sentence.
    pub target_sentence: &'static str,
    /// What drives the speed and the stored energy, in a sentence each.
    pub speed_sentence: Option<String>,
    /// What the user gave, in a sentence.
    pub given_sentence: String,
    /// What was default, in a sentence.
    pub assumed_sentence: String,
    /// The working of every result.
    pub workings: Vec<Working>,
    /// What the shot does to the arrow; null where it cannot be calculated.
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
    /// Whether it was default.
    pub left_to_page: bool,
}

/// The answer as a headline.
#[derive(Clone, Debug, Serialize)]
pub struct HeadlineReport {
    /// `danger`, `check`, the verdict, or `noMatch`.
    pub key: &'static str,
    /// In a few words.
    pub title: String,
    /// Why, in numbers.
    pub reason: String,
}

impl HeadlineReport {
    fn of(all: &Evaluation) -> Self {
        let Headline { key, title, reason, .. } = all.headline(&Units::ARCHERY);
        Self { key, title, reason }
    }
}

/// What to buy and where to cut it; null where no shaft of the list can be shot safely.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct RecommendationReport {
    /// Name of the shaft.
    pub shaft: Option<String>,
    /// Its cut, in inches.
    pub cut_in: Option<f64>,
    /// The point it needs, in grains, where no shaft is safe with the present one.
    pub point_gr: Option<f64>,
    /// In words, with the next spine and the end of the list.
    pub sentence: String,
}

impl RecommendationReport {
    fn of(all: &Evaluation) -> Self {
        let found = all.recommendation.as_ref();
        Self {
            shaft: found.map(|found| found.shaft.name.clone()),
            cut_in: found.map(|found| found.cut_in),
            point_gr: found.and_then(|found| found.point_gr),
            sentence: all.recommendation_sentence(&Units::ARCHERY),
        }
    }
}

/// One part of the arrow.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct PartReport {
    /// Which part.
    pub part: &'static str,
    /// Its weight in grains.
    pub mass_gr: f64,
    /// Center of mass ahead of the nock groove, in inches.
    #[serde(rename = "centreIn")]
    pub center_in: f64,
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
    pub fn of(setup: &Setup) -> Self {
        let all = Evaluation::of(setup);
        Self {
            schema_version: SCHEMA_VERSION,
            program_version: env!("CARGO_PKG_VERSION"),
            name: setup.name.clone(),
            inputs: inputs(&all),
            results: OUTPUTS.iter().map(|row| (row.key, all.outputs.get(row.output))).collect(),
            verdict: all.verdict.map(clothyard_core::eval::Verdict::key),
            headline: HeadlineReport::of(&all),
            speed_from: all.model.as_ref().map(|model| model.estimate.speed_from.key()),
            nearest_shaft: all.recommendation.as_ref().map(|found| found.shaft.name.clone()),
            recommendation: RecommendationReport::of(&all),
            out_of_reach: all.out_of_reach.iter().map(|out| (out.output.row().key, out.nearest)).collect(),
            parts: parts(&all),
            warnings: all
                .warnings
                .iter()
                .map(|warning| CautionReport {
                    code: warning.key(),
                    weight: warning.severity().key(),
                    sentence: warning.sentence(&Units::ARCHERY),
                })
                .collect(),
            always: ALWAYS,
            match_sentence: all.match_sentence(&Units::ARCHERY),
            remedy_sentence: all.remedy_sentence(&Units::ARCHERY),
            target_sentence: format::target_sentence(&all.resolved),
            speed_sentence: all
                .model
                .as_ref()
                .map(|model| format::speed_sentence(model, &all.outputs, &Units::ARCHERY)),
            given_sentence: format::given_sentence(&all.resolved, &setup.own_parts, &Units::ARCHERY),
            assumed_sentence: format::assumed_sentence(&all.resolved, &Units::ARCHERY),
            workings: OUTPUTS.iter().map(|row| working(row, &all)).collect(),
            shot: FlexReport::of(&all).ok(),
            measured: BenchReport::of(setup, &all),
            in_flight: FlightReport::of(setup, &all),
        }
    }
}

fn inputs(all: &Evaluation) -> OrderedMap<&'static str, InputReport> {
    let report = |field: Field| {
        let value = SavedValue::of(field, all.resolved.value(field)?)?;
        Some((field.input().key, InputReport { value, left_to_page: !all.resolved.is_user_given(field) }))
    };
    Field::ALL.into_iter().filter_map(report).collect()
}

fn parts(all: &Evaluation) -> Vec<PartReport> {
    let part = |(name, part): (clothyard_core::setup::PartId, clothyard_mechanics::Part)| PartReport {
        part: name.key(),
        mass_gr: Quantity::Mass.from_si(part.mass_kg),
        center_in: in_inches(part.center_m),
    };
    all.model.as_ref().map_or_else(Vec::new, |model| model.from_the_rear().into_iter().map(part).collect())
}

/// The working of one result.
#[must_use]
pub fn working(row: &'static OutputSpec, all: &Evaluation) -> Working {
    let term = |&(symbol, term): &(&'static str, Term)| match term {
        Term::Of(field) => (symbol, field.input().key, all.resolved.given(field)),
        Term::From(output) => (symbol, output.row().key, all.outputs.get(output)),
    };
    let explanation = row.output.explanation();
    Working {
        result: row.key,
        formula: explanation.formula,
        terms: row.terms.iter().map(term).collect(),
        source: explanation.source,
        sure: explanation.sure,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_result_has_a_working_and_a_key() {
        let report = Report::of(&Setup::default());
        assert_eq!(report.results.0.len(), OUTPUTS.len());
        assert_eq!(report.workings.len(), OUTPUTS.len());
        for working in &report.workings {
            for (symbol, key, value) in &working.terms {
                assert!(value.is_some(), "{}: {symbol} {key}", working.result);
            }
        }
    }

    #[test]
    fn the_parts_add_up() {
        let report = Report::of(&Setup::default());
        let sum: f64 = report.parts.iter().map(|part| part.mass_gr).sum();
        let balance = report.results.0.iter().find(|(key, _)| *key == "balancePointIn").unwrap().1.unwrap();
        let moment: f64 = report.parts.iter().map(|part| part.mass_gr * part.center_in).sum();
        assert!((sum - report.results.0[0].1.unwrap()).abs() < 1e-9);
        assert!((moment / sum - balance).abs() < 1e-9);
    }
}
