//! Numbers and sentences of the page, in the chosen units.

mod nock_fit;
pub mod number;
mod order;

pub use nock_fit::{NockFit, nock_fit, thousandths};
pub use number::{
    allowed, bare, bare_whole, change, entered, entered_with_unit, fixed, for_people, grouped, has_decimal_comma,
    heading, in_column, length, measured, moved, said, signed, spine, trimmed, use_decimal_comma, whole,
};
pub use order::{order, order_table};

use crate::eval::{Evaluation, Outputs};
use crate::parse::EntryError;
use crate::schema::{DefaultRule, Field, Input, Kind, Output, OwnPart, Value};
use crate::setup::{Origin, PartId, PhysicalModel, Resolved, SpeedFrom};
use crate::units::{Quantity, Units, other_spine};

/// A field's value in words.
#[must_use]
pub fn value(input: &Input, value: Value, units: &Units) -> String {
    match (&input.kind, value) {
        (&Kind::Number { quantity, .. }, Value::Number(number)) => entered_with_unit(quantity, number, units),
        (Kind::Choice(list), Value::Choice(place)) => {
            list.get(usize::from(place)).map_or_else(String::new, |choice| choice.label.to_owned())
        }
        _ => String::new(),
    }
}

/// A result with its unit, or a dash where it has no number.
#[must_use]
pub fn result(output: Output, number: Option<f64>, units: &Units) -> String {
    number.map_or_else(|| "–".to_owned(), |number| measured(output.quantity(), number, units))
}

impl Evaluation {
    /// A result as it is said: with its unit, a spine of wood in pounds with its thousandths beside it, a dash where it
    /// has no number.
    #[must_use]
    pub fn said(&self, output: Output, units: &Units) -> String {
        let words = result(output, self.outputs.get(output), units);
        match self.outputs.get(output) {
            Some(thousandths) if output.quantity() == Quantity::StaticSpine && self.resolved.is_wood() => {
                format!("{} ({words})", spine_of(true, thousandths))
            }
            _ => words,
        }
    }
}

/// What is wrong with what was typed, and what is allowed.
#[must_use]
pub fn entry_message(input: &Input, error: &EntryError, units: &Units) -> String {
    let label = input.label;
    let allowed = match input.kind {
        Kind::Number { quantity, minimum, maximum, .. } => self::allowed(quantity, minimum, maximum, units),
        Kind::Choice(list) => list.iter().map(|choice| choice.label).collect::<Vec<_>>().join(", "),
    };
    match error {
        EntryError::NotANumber => format!("{label}: enter a number, {allowed}. 28.5, 28,5 and 28 1/2 all work."),
        EntryError::Unlikely { value, instead: None } => {
            let value = trimmed(*value, 0);
            format!("{label}: is {value} meant? An aluminum tube is entered by outside diameter and wall.")
        }
        EntryError::Ambiguous { .. } | EntryError::Unlikely { .. } => {
            format!("{label}: is that {}?", for_people(&meant(input, error, units).join(" or ")))
        }
        EntryError::UnknownUnit { typed } => {
            let known = input.quantity().map_or_else(String::new, known_units);
            format!("{label}: \u{201c}{typed}\u{201d} is not a unit here{known}.")
        }
        EntryError::DivisionByZero => format!("{label}: cannot divide by zero; enter {allowed}."),
        EntryError::OutOfRange { value, .. } => {
            let shown =
                input.quantity().map_or_else(String::new, |quantity| for_people(&entered(quantity, *value, units)));
            format!("{label}: {shown} is out of range; enter {allowed}.")
        }
        EntryError::NotWhole => format!("{label}: enter a whole number, {allowed}."),
    }
}

/// What can be typed instead of a number that may mean two things, or is hardly meant; nothing for other errors.
#[must_use]
pub fn meant(input: &Input, error: &EntryError, units: &Units) -> Vec<String> {
    let shown = |&value: &f64| trimmed(input.quantity().map_or(value, |quantity| units.show(quantity, value)), 6);
    match error {
        EntryError::Ambiguous { as_decimal, as_thousands } => [as_decimal, as_thousands].map(shown).into(),
        EntryError::Unlikely { value, instead: None } => vec![shown(value) + " thou"],
        EntryError::Unlikely { value, instead: Some(instead) } => {
            [value, instead].map(|value| shown(value) + "%").into()
        }
        _ => Vec::new(),
    }
}

fn known_units(quantity: Quantity) -> String {
    let names: Vec<_> = quantity.units().iter().map(|unit| unit.symbol).filter(|symbol| !symbol.is_empty()).collect();
    if names.is_empty() { String::new() } else { format!("; use {}", names.join(", ")) }
}

/// What the default of a field is.
#[must_use]
pub fn default_words(input: &Input) -> String {
    let fixed = match input.default {
        DefaultRule::Follows(what) => return format!("default: follows {what}"),
        DefaultRule::Absent => return "no default".to_owned(),
        DefaultRule::Number(number) => Value::Number(number),
        DefaultRule::Choice(place) => Value::Choice(place),
    };
    format!("default: {}", value(input, fixed, &Units::ARCHERY))
}

/// Where a field's value comes from, in a few words.
#[must_use]
pub fn provenance(resolved: &Resolved, field: Field) -> &'static str {
    match resolved.origin(field) {
        Origin::User => "your value",
        Origin::ArmSpan => "from arm span",
        Origin::MarkedWeight => "from marked weight",
        Origin::Computed => "computed",
        Origin::Measured => "measured",
        Origin::Unset => "not set",
        Origin::Default => "default",
    }
}

/// The spine of the shaft as it is sold: of wood in pounds, `47#`, of others as it is called, `340`.
#[must_use]
pub fn spine_as_sold(resolved: &Resolved) -> String {
    spine_of(resolved.is_wood(), resolved.number(Field::StaticSpine))
}

/// A spine, in thousandths of an inch, as shafts of wood or of another material are sold by it.
#[must_use]
pub fn spine_of(is_wood: bool, thousandths: f64) -> String {
    if is_wood { fixed(other_spine(thousandths), 0) + "#" } else { spine(thousandths) }
}

/// What a part is called.
#[must_use]
pub fn part_label(name: PartId, resolved: &Resolved, own_parts: &[OwnPart]) -> String {
    let label = match name {
        PartId::Nock => "Nock",
        PartId::Bushing => "Bushing",
        PartId::Vanes => "Vanes",
        PartId::Wrap => "Wrap",
        PartId::RearGlue => "Fletching glue",
        PartId::Shaft => "Bare shaft",
        PartId::Insert => {
            let kind = Field::InsertKind;
            let words = |answer| value(kind.input(), answer, &Units::ARCHERY);
            return resolved.value(kind).map_or_else(String::new, words);
        }
        PartId::Collar => "Collar",
        PartId::Sleeve => "Footer",
        PartId::FrontGlue => "Insert glue",
        PartId::Point => "Point",
        PartId::Own(place) => {
            let name = own_parts.get(usize::from(place)).map_or("", |part| part.name.as_str());
            return if name.is_empty() { format!("Other part {}", place + 1) } else { name.to_owned() };
        }
    };
    label.to_owned()
}

/// Which column load is the target, in a sentence.
#[must_use]
pub fn target_sentence(resolved: &Resolved) -> &'static str {
    if resolved.given(Field::ProvenLoad).is_some() {
        "Matched to your reference arrow."
    } else {
        "Matched to the standard target for this release."
    }
}

/// What drives the speed and the stored energy, in a sentence each.
#[must_use]
pub fn speed_sentence(model: &PhysicalModel, outputs: &Outputs, units: &Units) -> String {
    let (from, better) = match model.estimate.speed_from {
        SpeedFrom::BowKind => ("estimated from the bow type", ". Enter a chronograph speed, or a rated speed"),
        SpeedFrom::DrawForce => ("estimated from your draw force", ". Enter a chronograph speed, or a rated speed"),
        SpeedFrom::RatedSpeed => ("from the rated speed", ". A chronograph speed is better"),
        SpeedFrom::Chronograph => ("measured: from your chronograph", ""),
    };
    let spread = outputs.get(Output::SpeedSpread).map(|spread| measured(Quantity::Speed, spread, units));
    let stored = if model.curve_is_measured() { "measured" } else { "usual for the bow type" };
    format!(
        "The speed is {from}, good to ± {}{better}. The stored energy is {stored}.",
        spread.unwrap_or_else(|| "–".to_owned())
    )
}

/// Which values are defaults, as one sentence.
#[must_use]
pub fn assumed_sentence(resolved: &Resolved, units: &Units) -> String {
    let list = fields_in_words(resolved, units, false);
    if list.is_empty() { "Defaults: none.".to_owned() } else { format!("Defaults: {}.", list.join("; ")) }
}

/// Which values the user gave, parts of their own among them, as one sentence.
#[must_use]
pub fn given_sentence(resolved: &Resolved, own_parts: &[OwnPart], units: &Units) -> String {
    let mut list = fields_in_words(resolved, units, true);
    for part in own_parts {
        let name = if part.name.is_empty() { "other part" } else { &part.name };
        let mass = entered_with_unit(Quantity::Mass, part.mass_gr, units);
        let place = entered_with_unit(Quantity::Length, part.center_in, units);
        list.push(format!("{name} {mass} at {place}"));
    }
    if list.is_empty() { "Your values: none.".to_owned() } else { format!("Your values: {}.", list.join("; ")) }
}

/// Every field in use that is the user's, or that is the page's and is worth a word.
fn fields_in_words(resolved: &Resolved, units: &Units, mine: bool) -> Vec<String> {
    let words = |field: Field| {
        let input = field.input();
        let value = resolved.value(field)?;
        let nothing = value == Value::Number(0.0);
        let said = resolved.is_user_given(field) == mine
            && resolved.applies(field)
            // Where the draw length is from is said by the field that it is from.
            && field != Field::DrawLengthFrom
            && (mine || (!nothing && field.moves_results()));
        said.then(|| format!("{} {}", lower_first(input.label), self::value(input, value, units)))
    };
    Field::ALL.into_iter().filter_map(words).collect()
}

/// With a small letter first.
#[must_use]
pub fn lower_first(words: &str) -> String {
    let mut words = words.to_owned();
    words.get_mut(..1).map(str::make_ascii_lowercase);
    words
}

/// With a capital first.
#[must_use]
pub fn upper_first(words: &str) -> String {
    let mut words = words.to_owned();
    words.get_mut(..1).map(str::make_ascii_uppercase);
    words
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::schema::ShaftMaterial;
    use crate::setup::Setup;

    #[test]
    fn the_first_letter_large_or_small() {
        assert_eq!(["peak Weight", "Φ", ""].map(upper_first), ["Peak Weight", "Φ", ""]);
        assert_eq!(["Peak Weight", "Φ", ""].map(lower_first), ["peak Weight", "Φ", ""]);
    }

    #[test]
    fn wood_is_sold_in_pounds() {
        let mut setup = Setup::default();
        // 26 / 45 = 0.578 in by AMO is 0.700 in by ASTM.
        setup.set(Field::StaticSpine, Some(Value::Number(700.0))).unwrap();
        let sold = |setup: &Setup| spine_as_sold(&Evaluation::of(setup).resolved);
        assert_eq!(sold(&setup), "700");
        setup.choose(ShaftMaterial::Wood);
        assert_eq!(sold(&setup), "45#");
        let all = Evaluation::of(&setup);
        assert_eq!(all.said(Output::NearestStock, &Units::ARCHERY), "63# (504)");
        let ideal = all.outputs.get(Output::IdealSpine).unwrap();
        let said = all.said(Output::IdealSpine, &Units::ARCHERY);
        assert_eq!(said, format!("{:.0}# ({ideal:.0})", other_spine(ideal)));
        assert_eq!(
            all.said(Output::TotalWeight, &Units::ARCHERY),
            result(Output::TotalWeight, all.outputs.get(Output::TotalWeight), &Units::ARCHERY)
        );
    }

    #[test]
    fn a_result_without_a_number_is_a_dash() {
        let say = |number| result(Output::TotalWeight, number, &Units::ARCHERY);
        assert_eq!([Some(437.5), None].map(say), ["438\u{a0}gr", "–"]);
    }

    #[test]
    fn messages_say_what_is_allowed() {
        let input = Field::DrawLength.input();
        let message = |text: &str, units: &Units| entry_message(input, &input.read(text, units).unwrap_err(), units);
        assert_eq!(message("280", &Units::ARCHERY), "Draw length: 280 is out of range; enter 15 to 36\u{a0}in.");
        assert_eq!(message("5", &Units::metric()), "Draw length: 5 is out of range; enter 38.1 to 91.44\u{a0}cm.");
        assert!(message("abc", &Units::ARCHERY).starts_with("Draw length:"));
        assert!(message("28 lb", &Units::ARCHERY).contains("in, cm, mm"));
    }
}
