//! Generates the markup of fields and answers from the tables of inputs and outputs.
//!
//! The pages of `www` are written by hand except between the marks, where this text goes. A test fails when the two differ.

use crate::splice;
use clothyard_core::Units;
use clothyard_core::format;
use clothyard_core::schema::INPUTS;
use clothyard_core::schema::{ChoiceSpec, DefaultRule, Field, Group, Input, Kind};
use clothyard_core::schema::{Output, OutputSpec, Term};
use clothyard_core::setup::samples;
use clothyard_core::units::{CHOOSABLE, Quantity};
use std::fmt::Write as _;

/// The files with the marks; each mark is in one of them.
pub const FILES: [&str; 3] = ["www/index.html", "www/more.html", "www/tools.html"];

/// The text of one of the files with the generated texts between its marks; `left` loses those that found their place.
///
/// # Errors
/// A message that names a mark that is not closed.
pub fn write_into(text: &str, left: &mut Vec<(String, String)>) -> Result<String, String> {
    let mut text = text.to_owned();
    let (here, elsewhere): (Vec<_>, _) =
        left.drain(..).partition(|(name, _)| text.contains(&format!("<!-- {name} -->")));
    *left = elsewhere;
    for (name, made) in here {
        text = splice::between_marks(&text, &name, &made)?;
    }
    Ok(text)
}

/// Escapes text for HTML.
fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;")
}

/// The fields that the first screen asks for, with their short labels; they are in no group of fields.
const QUESTIONS: [(Field, &str); 5] = [
    (Field::PeakDrawWeight, "Draw weight"),
    (Field::MarkedWeight, "Draw weight"),
    (Field::DrawLength, "Draw length"),
    (Field::ArmSpan, "Arm span"),
    (Field::PointMass, "Point"),
];
/// The choices that the first screen asks for, written by hand.
const ASKED_CHOICES: [Field; 4] = [Field::BowKind, Field::DrawWeightFrom, Field::DrawLengthFrom, Field::Purpose];

/// The generated texts by the name of their marks.
#[must_use]
pub fn sections() -> Vec<(String, String)> {
    let whole = Group::ALL.into_iter().filter(|&group| !matches!(group, Group::Make | Group::Purpose));
    let question =
        |&(asked, label): &(Field, &str)| (format!("field {}", asked.input().key), field(asked.input(), label));
    let mut list: Vec<_> = QUESTIONS.iter().map(question).collect();
    list.extend(whole.map(|group| (format!("fields {}", group.key()), fields(|input| input.group == group))));
    list.extend(MAKE.iter().map(|(mark, own)| ((*mark).to_owned(), fields(|input| own.contains(&input.field)))));
    list.extend(ANSWERS.iter().map(|(key, _, outputs)| (format!("answers {key}"), answers(outputs))));
    list.push(("starts".to_owned(), starts()));
    list.push(("units".to_owned(), units()));
    list
}

/// The fields for building arrows, which are in three places of the page, by mark.
const MAKE: [(&str, &[Field]); 3] = [
    ("fields make", &[Field::SetSize, Field::WeightWorth, Field::SpineWorth, Field::HeightWanted]),
    ("fields make sheet", &[Field::ArrowsToMake, Field::SpareParts]),
    ("fields make log", &[Field::Hand]),
];

/// Answers by heading, in the order of the page.
pub const ANSWERS: [(&str, &str, &[Output]); 5] = [
    (
        "match",
        "Spine match",
        &[
            Output::IdealSpine,
            Output::NearestStock,
            Output::SpinePounds,
            Output::IdealDrawWeight,
            Output::SuitsFrom,
            Output::SuitsTo,
            Output::PointForMatch,
            Output::LightestPoint,
            Output::HeaviestPoint,
            Output::CutForMatch,
            Output::ShortestCut,
            Output::LongestCut,
        ],
    ),
    (
        "lengths",
        "Lengths",
        &[
            Output::ArrowLength,
            Output::SuggestedLength,
            Output::SuggestedCut,
            Output::ShortestSafeLength,
            Output::ShortestSafeCut,
            Output::TrueDraw,
            Output::Stroke,
            Output::RestPlace,
        ],
    ),
    (
        "weight",
        "Weight and balance",
        &[
            Output::TotalWeight,
            Output::GrainsPerPound,
            Output::ShaftWeight,
            Output::BalancePoint,
            Output::FrontOfCentre,
        ],
    ),
    (
        "speed",
        "Speed and energy",
        &[
            Output::LaunchSpeed,
            Output::SpeedSpread,
            Output::KineticEnergy,
            Output::Momentum,
            Output::StoredEnergy,
            Output::DeliveredEnergy,
            Output::Efficiency,
            Output::MovingMass,
        ],
    ),
    (
        "column",
        "How the match is calculated",
        &[Output::ColumnLoad, Output::TargetLoad, Output::PeakAcceleration, Output::CriticalAcceleration],
    ),
];

/// The selected fields, those of the first screen left out; the ones that are rarely needed come last.
fn fields(wanted: impl Fn(&Input) -> bool) -> String {
    let asked = |field: Field| ASKED_CHOICES.contains(&field) || QUESTIONS.iter().any(|&(each, _)| each == field);
    let (often, rarely): (Vec<_>, Vec<_>) =
        INPUTS.iter().filter(|input| wanted(input) && !asked(input.field)).partition(|input| !input.folded);
    often.into_iter().chain(rarely).map(|input| field(input, input.label)).collect()
}

/// A row: label, entry and what is wrong with it. Help and reset are one element for all fields.
fn field(input: &Input, label: &str) -> String {
    let (key, hint) = (input.key, escaped(input.field.hint()).replace('"', "&quot;"));
    let entry = match input.kind {
        Kind::Number { quantity, minimum, maximum, step, .. } => number(input, quantity, (minimum, maximum, step)),
        Kind::Choice(list) => choice(input, list),
    };
    // It comes into the place of another when it is asked for; till then it must take no room.
    let hidden = if matches!(input.field, Field::MarkedWeight | Field::ArmSpan) { " hidden" } else { "" };
    format!(
        "<div class=\"field\" data-field=\"{key}\" data-hint=\"{hint}\"{hidden}><label for=\"{key}\">{label}</label>{entry}</div>\n"
    )
}

fn number(input: &Input, quantity: Quantity, (minimum, maximum, step): (f64, f64, f64)) -> String {
    let key = input.key;
    format!(
        "<input type=\"text\" inputmode=\"decimal\" id=\"{key}\" name=\"{key}\" value=\"{}\" data-quantity=\"{}\" \
         data-minimum=\"{minimum}\" data-maximum=\"{maximum}\" data-step=\"{step}\">\
         <span class=\"unit\" id=\"{key}-unit\">{}</span><span class=\"said\" id=\"{key}-said\"></span>",
        default_number(input),
        quantity.key(),
        quantity.saved_unit().symbol
    )
}

/// The field's content before any script runs: a fixed default, else empty.
fn default_number(input: &Input) -> String {
    match (input.default, input.quantity()) {
        (DefaultRule::Number(number), Some(quantity)) => format::entered(quantity, number, &Units::ARCHERY),
        _ => String::new(),
    }
}

fn choice(input: &Input, list: &[ChoiceSpec]) -> String {
    let mut out = format!("<select id=\"{0}\" name=\"{0}\">", input.key);
    for (place, choice) in (0u8..).zip(list) {
        let chosen = if input.default == DefaultRule::Choice(place) { " selected" } else { "" };
        let _ = write!(out, "<option value=\"{}\"{chosen}>{}</option>", choice.key, choice.label);
    }
    out + "</select>"
}

fn answers(outputs: &[Output]) -> String {
    let mut out = String::new();
    outputs.iter().for_each(|output| answer(&mut out, output.row()));
    out
}

fn answer(out: &mut String, row: &OutputSpec) {
    let (key, explanation) = (row.key, row.output.explanation());
    let _ = writeln!(
        out,
        "<details class=\"answer\" data-result=\"{key}\"><summary><span class=\"name\">{}</span> <output id=\"{key}\">–</output></summary>",
        row.label
    );
    let _ = writeln!(out, "<p class=\"formula\">{}</p>", escaped(explanation.formula));
    if !row.terms.is_empty() {
        out.push_str("<table class=\"terms\"><caption>Inputs</caption><tbody>\n");
        for (symbol, term) in row.terms {
            let (name, from) = match term {
                Term::Of(field) => (field.input().label, field.input().key),
                Term::From(output) => (output.row().label, output.row().key),
            };
            let _ =
                writeln!(out, "<tr><th scope=\"row\">{symbol}</th><td>{name}</td><td data-term=\"{from}\"></td></tr>");
        }
        out.push_str("</tbody></table>\n");
    }
    let _ = writeln!(
        out,
        "<p class=\"source\">Basis: {}.</p><p class=\"sure\">{}</p></details>",
        escaped(explanation.source),
        escaped(explanation.sure)
    );
}

fn starts() -> String {
    let mut out = String::new();
    for start in samples::all() {
        let _ = writeln!(out, "<option value=\"{}\">{}</option>", start.key, start.setup.name);
    }
    out
}

fn units() -> String {
    let mut out = String::new();
    for quantity in CHOOSABLE {
        let key = quantity.key();
        let _ = write!(
            out,
            "<label for=\"unit-{key}\">{}</label><select id=\"unit-{key}\" data-unit-of=\"{key}\">",
            quantity.label()
        );
        for unit in quantity.units() {
            let _ = write!(out, "<option>{} – {}</option>", unit.symbol, unit.name);
        }
        out.push_str("</select>\n");
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use clothyard_core::schema::OUTPUTS;

    const PAGE: &str = include_str!("../../../www/index.html");
    const MORE: &str = include_str!("../../../www/more.html");
    const TOOLS: &str = include_str!("../../../www/tools.html");
    /// Where what comes later goes: empty elements of the page with the same ids.
    const PLACES: [&str; 3] = ["part-fields", "more", "licenses"];

    #[test]
    fn the_page_and_the_tables_agree() {
        let mut left = sections();
        for (file, text) in FILES.into_iter().zip([PAGE, MORE, TOOLS]) {
            assert!(write_into(text, &mut left).unwrap() == text, "{file} is stale: run scripts/write-form");
        }
        assert!(left.is_empty(), "without a mark: {left:?}");
    }

    #[test]
    fn every_answer_is_on_the_page_once() {
        for row in &OUTPUTS {
            let count = ANSWERS.iter().flat_map(|(_, _, list)| *list).filter(|&&output| output == row.output).count();
            assert_eq!(count, 1, "{}", row.key);
        }
    }

    #[test]
    fn every_field_of_making_them_has_its_place() {
        let all: Vec<_> = INPUTS.iter().filter(|input| input.group == Group::Make).map(|input| input.field).collect();
        let placed = MAKE.iter().flat_map(|(_, own)| *own);
        assert!(all.iter().all(|field| placed.clone().filter(|each| *each == field).count() == 1));
        assert_eq!(placed.count(), all.len());
    }

    #[test]
    fn no_id_is_repeated() {
        let all = [PAGE, MORE, TOOLS].into_iter().flat_map(|page| page.split(" id=\"").skip(1));
        let mut ids: Vec<_> = all.filter_map(|rest| rest.split('"').next()).collect();
        let all = ids.len() - PLACES.len();
        ids.sort_unstable();
        ids.dedup();
        assert_eq!(ids.len(), all);
    }

    #[test]
    fn a_default_is_shown_in_its_field() {
        let input = clothyard_core::Field::PointMass.input();
        assert_eq!(default_number(input), "100");
    }
}
