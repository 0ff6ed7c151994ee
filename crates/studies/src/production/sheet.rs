//! The build sheet: parts, steps and checks for a number of arrows, on one page.
//!
//! Order of work and glue notes are common practice, no source; makers' instructions come first.

use clothyard_core::csv::Csv;
use clothyard_core::eval::Evaluation;
use clothyard_core::eval::Severity;
use clothyard_core::eval::baseline::Baseline;
use clothyard_core::format::{entered_with_unit, fixed, measured, trimmed};
use clothyard_core::schema::{Field, InsertKind, List, Output, PRICED_PARTS, Row, ShaftMaterial};
use clothyard_core::setup::Resolved;
use clothyard_core::setup::Setup;
use clothyard_core::units::{Quantity, Units};

mod arrows;

pub use arrows::headings as arrow_headings;

/// How far a careful cut may be off, in inches: a thirty-second (common practice, no source).
const CUT_TOLERANCE_IN: f64 = 1.0 / 32.0;

/// One line of the part list.
#[derive(Clone, Debug, PartialEq)]
pub struct PartLine {
    /// What it is.
    pub name: String,
    /// How many there are on one arrow.
    pub on_each: f64,
    /// How many to have, spares among them.
    pub wanted: f64,
    /// Severity of one in grains.
    pub weight_gr: f64,
    /// Price of one in the user's currency.
    pub price: Option<f64>,
}

impl PartLine {
    /// What all of them cost.
    #[must_use]
    pub fn cost(&self) -> Option<f64> {
        Some(self.price? * self.wanted)
    }
}

/// One step of the work, and what the arrow weighs after it.
#[derive(Clone, Debug, PartialEq)]
pub struct WorkStep {
    /// What to do.
    pub words: String,
    /// What it should weigh then, in grains.
    pub weight_gr: Option<f64>,
}

/// The sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Sheet {
    /// Name of the setup and how many.
    pub heading: String,
    /// The shaft: its spine and diameters.
    pub shaft: String,
    /// Each arrow of the set, or a blank row for each to write in.
    pub arrows: Vec<[String; 4]>,
    /// The cut, its tolerance and what it is worth.
    pub cut: String,
    /// Parts with spares.
    pub parts: Vec<PartLine>,
    /// The work, step by step.
    pub steps: Vec<WorkStep>,
    /// What to check at the end.
    pub checks: Vec<String>,
    /// Cautions of the setup, and those that always hold.
    pub warnings: Vec<String>,
}

/// The parts a price can be given for, in the order of the list of prices.
pub const PRICED: [(&str, Field); PRICED_PARTS] = [
    ("Shaft", Field::CutLength),
    ("Nock", Field::NockMass),
    ("Bushing", Field::BushingMass),
    ("Vane", Field::VaneMass),
    ("Wrap", Field::WrapMass),
    ("Insert", Field::InsertMass),
    ("Collar", Field::CollarMass),
    ("Footer", Field::SleeveMass),
    ("Point", Field::PointMass),
];

/// The sheet for the number of arrows set on the form; none where the arrow is impossible.
#[must_use]
pub fn sheet(setup: &Setup, all: &Evaluation, units: &Units) -> Option<Sheet> {
    all.model.as_ref()?;
    let resolved = &all.resolved;
    let count = resolved.number(Field::ArrowsToMake);
    let name = if setup.name.is_empty() { "This arrow" } else { &setup.name };
    Some(Sheet {
        heading: heading(name, count, all, units),
        shaft: shaft(resolved, units),
        arrows: arrows::rows(setup, all, units),
        cut: cut(setup, all, units),
        parts: parts(setup, resolved),
        steps: steps(all, units)?,
        checks: checks(all, units),
        warnings: warnings(all, units),
    })
}

/// The name and how many; a danger first.
fn heading(name: &str, count: f64, all: &Evaluation, units: &Units) -> String {
    let headline = all.headline(units);
    let danger = if headline.forbids_shooting { headline.title + ". " } else { String::new() };
    format!("{danger}{name}: {} arrows", trimmed(count, 0))
}

/// Spine and diameters, as one orders them.
fn shaft(resolved: &Resolved, units: &Units) -> String {
    let said = |quantity: Quantity, field: Field| entered_with_unit(quantity, resolved.number(field), units);
    let inside = if resolved.choice::<ShaftMaterial>() == ShaftMaterial::Wood {
        String::new()
    } else {
        format!(", inside {}", said(Quantity::SmallLength, Field::Bore))
    };
    format!(
        "Shaft: spine {}, outside diameter {}{inside}.",
        said(Quantity::StaticSpine, Field::StaticSpine),
        said(Quantity::SmallLength, Field::OuterDiameter)
    )
}

fn parts(setup: &Setup, resolved: &Resolved) -> Vec<PartLine> {
    let prices = setup.lists.rows(List::Prices);
    let (count, spares) = (resolved.number(Field::ArrowsToMake), resolved.number(Field::SpareParts));
    let line = |(place, &(name, field)): (usize, &(&str, Field))| {
        let weight_gr = if field == Field::CutLength {
            resolved.number(Field::CutLength) * resolved.number(Field::ShaftLinearMass)
        } else {
            resolved.number(field)
        };
        let on_each = if field == Field::VaneMass { resolved.number(Field::VaneCount) } else { 1.0 };
        (weight_gr > 0.0 && on_each > 0.0).then(|| PartLine {
            name: name.to_owned(),
            on_each,
            wanted: (count + spares) * on_each,
            weight_gr,
            price: prices.get(place).and_then(|row| row.first().copied().flatten()),
        })
    };
    let own = setup.own_parts.iter().map(|part| PartLine {
        name: if part.name.is_empty() { "Other part".to_owned() } else { part.name.clone() },
        on_each: 1.0,
        wanted: count + spares,
        weight_gr: part.mass_gr,
        price: None,
    });
    PRICED.iter().enumerate().filter_map(line).chain(own).collect()
}

/// What all parts cost that have a price.
#[must_use]
pub fn total_cost(parts: &[PartLine]) -> Option<f64> {
    parts.iter().filter_map(PartLine::cost).reduce(|sum, cost| sum + cost)
}

/// An amount of money with the user's own sign for it.
#[must_use]
pub fn money(amount: f64, currency: &str) -> String {
    let space = if currency.is_empty() { "" } else { "\u{a0}" };
    format!("{currency}{space}{}", fixed(amount, 2))
}

/// What all parts cost, and how many of them have no price; empty where none has one.
#[must_use]
pub fn cost_sentence(parts: &[PartLine], arrows: f64, currency: &str) -> String {
    let Some(total) = total_cost(parts) else { return String::new() };
    let rest = match parts.iter().filter(|part| part.price.is_none()).count() {
        0 => String::new(),
        1 => " One part has no price.".to_owned(),
        more => format!(" {more} parts have no price."),
    };
    format!("Total {}, spares included; {} per arrow.{rest}", money(total, currency), money(total / arrows, currency))
}

/// The rows of prices with one of them changed, by its place in [`PRICED`]; none where no price is left.
#[must_use]
pub fn with_price(rows: &[Row], place: usize, price: Option<f64>) -> Vec<Row> {
    let at = |each: usize| if each == place { price } else { rows.get(each).and_then(|row| *row.first()?) };
    let prices: Vec<_> = (0..PRICED.len()).map(at).collect();
    let last = prices.iter().rposition(Option::is_some).map_or(0, |last| last + 1);
    prices.into_iter().take(last).map(|price| vec![price]).collect()
}

/// The cut length, its tolerance, and what that is worth in draw weight and weight.
fn cut(setup: &Setup, all: &Evaluation, units: &Units) -> String {
    let cut = all.resolved.number(Field::CutLength);
    let said = entered_with_unit(Quantity::Length, cut, units);
    let tolerance = measured(Quantity::SmallLength, CUT_TOLERANCE_IN, units);
    let held = Baseline::as_resolved(setup, all.resolved);
    let suits = |by: f64| {
        let outputs = held.outputs(&held.with(Field::CutLength, cut + by), &[Output::IdealDrawWeight]);
        outputs.get(Output::IdealDrawWeight)
    };
    let worth = suits(-0.125).zip(suits(0.125)).map(|(short, long)| (short - long).abs() / 0.25 * CUT_TOLERANCE_IN);
    let weight = all.resolved.number(Field::ShaftLinearMass) * CUT_TOLERANCE_IN;
    let effect = worth.map_or_else(String::new, |pounds| {
        let unit = units.of(Quantity::DrawWeight);
        let mass = units.of(Quantity::Mass);
        format!(
            " That tolerance moves the match by {} {} and the weight by {} {}.",
            fixed(units.show(Quantity::DrawWeight, pounds), 2),
            unit.symbol,
            fixed(units.show(Quantity::Mass, weight), 1),
            mass.symbol
        )
    });
    format!("Cut {said}, ± {tolerance}, the same for the whole set.{effect}")
}

/// The work in the order of the hand, with the weight after each step.
fn steps(all: &Evaluation, units: &Units) -> Option<Vec<WorkStep>> {
    let (resolved, model) = (&all.resolved, all.model.as_ref()?);
    let number = |field: Field| resolved.number(field);
    let small = |field: Field| entered_with_unit(Quantity::SmallLength, resolved.number(field), units);
    let wood = resolved.choice::<ShaftMaterial>() == ShaftMaterial::Wood;
    let mut weight = Quantity::Mass.from_si(model.shaft().mass_kg);
    let mut list = Vec::new();
    let mut step = |words: String, adds: f64, weigh: bool| {
        weight += adds;
        list.push(WorkStep { words, weight_gr: weigh.then_some(weight) });
    };
    step("Inspect and flex-test every shaft. Discard any with a crack, dent or splinter.".into(), 0.0, false);
    let cut = entered_with_unit(Quantity::Length, resolved.number(Field::CutLength), units);
    step(
        format!(
            "Cut all shafts to {cut} {}",
            if wood {
                "with a fine-tooth saw, then taper both ends. Eye protection, dust mask."
            } else {
                "on an abrasive cut-off saw, never a tubing cutter. Eye protection, respirator, dust extraction. Square both ends."
            }
        ),
        0.0,
        true,
    );
    let clean = if wood {
        "Seal the shafts and let them dry; leave the tapers bare for glue."
    } else {
        "Clean inside both ends with a swab and isopropyl alcohol. Let dry."
    };
    step(clean.into(), 0.0, false);
    let fronts = [("insert", Field::InsertMass), ("collar", Field::CollarMass), ("sleeve", Field::SleeveMass)];
    let names: Vec<_> = fronts.iter().filter(|(_, field)| number(*field) > 0.0).map(|&(name, _)| name).collect();
    let front = fronts.iter().map(|&(_, field)| number(field)).sum::<f64>() + number(Field::FrontGlue);
    if !names.is_empty() {
        let names = names.join(" and ");
        let words = format!(
            "Dry-fit {names}, then glue as the maker says (slow epoxy for carbon), turning as it goes in. Wipe the end; let it cure point down."
        );
        step(words, front, true);
    }
    let rear = number(Field::BushingMass);
    if rear > 0.0 {
        step("Install the bushing.".into(), rear, true);
    }
    if number(Field::WrapMass) > 0.0 {
        step("Apply the wrap straight.".into(), number(Field::WrapMass), true);
    }
    let vanes = number(Field::VaneCount) * number(Field::VaneMass);
    if vanes > 0.0 {
        let words = format!(
            "Clean the shaft. Fletch {} vanes, rear edge {} ahead of the nock groove, offset {}, thin line of glue. Index the stiff side the same on every shaft.",
            trimmed(number(Field::VaneCount), 0),
            small(Field::VaneSetBack),
            measured(Quantity::Angle, resolved.number(Field::VaneOffset), units)
        );
        step(words, vanes + number(Field::RearGlue), true);
    }
    step("Install the nock and index it for your rest.".into(), number(Field::NockMass), true);
    // Without an insert the glue is the point's.
    let glue = if names.is_empty() { number(Field::FrontGlue) } else { 0.0 };
    step(install_point(resolved.choice()).into(), number(Field::PointMass) + glue, true);
    let own: f64 = model
        .parts()
        .filter(|(name, _)| matches!(name, clothyard_core::setup::PartId::Own(_)))
        .map(|(_, part)| Quantity::Mass.from_si(part.mass_kg))
        .sum();
    if own > 0.0 {
        step("Add the other parts.".into(), own, true);
    }
    Some(list)
}

const fn install_point(held_by: InsertKind) -> &'static str {
    match held_by {
        InsertKind::Insert | InsertKind::HalfOut | InsertKind::Outsert => {
            "Install the point (broadhead wrench for broadheads)."
        }
        InsertKind::GlueIn => {
            "Glue the point's shank into the shaft; hot-melt comes loose again with heat, never a flame on carbon."
        }
        InsertKind::GlueOn => "Glue the point on the taper, seated and spinning true.",
    }
}

fn checks(all: &Evaluation, units: &Units) -> Vec<String> {
    let said = |output: Output| all.said(output, units);
    vec![
        "Spin-test each arrow. An end that wobbles is bent or installed crooked.".to_owned(),
        "Flex-test again and listen: no crackling.".to_owned(),
        format!("Weigh each: {}, the set within a few grains.", said(Output::TotalWeight)),
        format!(
            "Balance point {} from the nock groove, FOC {}.",
            said(Output::BalancePoint),
            said(Output::FrontOfCentre)
        ),
        "Nock every arrow on the string: it snaps on, hangs, and drops with a tap.".to_owned(),
        format!("At full draw the shaft ends past the rest, which is at {}.", said(Output::RestPlace)),
    ]
}

fn warnings(all: &Evaluation, units: &Units) -> Vec<String> {
    let loud = all.warnings.iter().filter(|warning| warning.severity() != Severity::Remark);
    let own = loud.map(|warning| format!("{}: {}", warning.severity().word(), warning.sentence(units)));
    own.chain(clothyard_core::eval::warnings::ALWAYS.iter().map(|&words| words.to_owned())).collect()
}

/// The part list as a file.
#[must_use]
pub fn to_csv(sheet: &Sheet, currency: &str, units: &Units) -> String {
    let said = |what: &str| if currency.is_empty() { what.to_owned() } else { format!("{what}, {currency}") };
    let mass = units.of(Quantity::Mass).symbol;
    let mut csv = Csv::default();
    for heading in
        ["part", "per arrow", "wanted", &format!("weight of one, {mass}"), &said("unit price"), &said("cost")]
    {
        csv.text(heading);
    }
    csv.end_row();
    for part in &sheet.parts {
        csv.text(&part.name);
        csv.number(Some(part.on_each), 0);
        csv.number(Some(part.wanted), 0);
        csv.number(Some(units.show(Quantity::Mass, part.weight_gr)), 2);
        csv.number(part.price, 2);
        csv.number(part.cost(), 2);
        csv.end_row();
    }
    csv.finish()
}

#[cfg(test)]
mod tests {
    use super::*;
    use clothyard_core::setup::samples;
    use clothyard_core::testing::any_setup;
    use proptest::prelude::*;

    fn made(setup: &Setup) -> Option<Sheet> {
        sheet(setup, &Evaluation::of(setup), &Units::ARCHERY)
    }

    #[test]
    fn the_last_weight_is_the_arrow_s() {
        for start in samples::all() {
            let all = Evaluation::of(&start.setup);
            let sheet = made(&start.setup).unwrap();
            let last = sheet.steps.last().unwrap().weight_gr.unwrap();
            assert!((last - all.outputs.get(Output::TotalWeight).unwrap()).abs() < 1e-9, "{}", start.key);
        }
    }

    #[test]
    fn a_dozen_and_a_spare_want_thirty_nine_vanes() {
        let setup = samples::all().remove(0).setup.with(Field::SpareParts, 1.0).unwrap();
        let sheet = made(&setup).unwrap();
        let vanes = sheet.parts.iter().find(|part| part.name == "Vane").unwrap();
        assert_eq!((vanes.on_each, vanes.wanted), (3.0, 39.0));
        assert!(sheet.parts.iter().all(|part| part.name != "Collar"));
        assert!(sheet.heading.ends_with("12 arrows"));
    }

    #[test]
    fn a_danger_heads_the_sheet() {
        let weak = Setup::default().with(Field::StaticSpine, 900.0).unwrap().with(Field::CutLength, 28.0).unwrap();
        assert_eq!(made(&weak).unwrap().heading, "Do not shoot: shaft far too weak. This arrow: 12 arrows");
    }

    #[test]
    fn prices_are_optional_and_add_up() {
        let mut setup = samples::all().remove(0).setup;
        assert_eq!(total_cost(&made(&setup).unwrap().parts), None);
        let rows = (0..9).map(|place| vec![(place == 0 || place == 8).then_some(2.5)]).collect();
        setup.lists.set(List::Prices, rows).unwrap();
        let setup = setup.with(Field::SpareParts, 0.0).unwrap();
        let sheet = made(&setup).unwrap();
        assert_eq!(total_cost(&sheet.parts), Some(60.0));
        let said = cost_sentence(&sheet.parts, 12.0, "kr");
        let rest = sheet.parts.len() - 2;
        assert_eq!(
            said,
            format!("Total kr\u{a0}60.00, spares included; kr\u{a0}5.00 per arrow. {rest} parts have no price.")
        );
        assert!(to_csv(&sheet, "kr", &Units::ARCHERY).contains("Shaft,1,12,"));
    }

    #[test]
    fn a_price_is_put_in_its_place_and_taken_out() {
        let rows = with_price(&[], 3, Some(0.5));
        assert_eq!(rows, [vec![None], vec![None], vec![None], vec![Some(0.5)]]);
        assert_eq!(with_price(&rows, 0, Some(9.0))[..1], [vec![Some(9.0)]]);
        assert!(with_price(&rows, 3, None).is_empty());
        assert_eq!(money(3.456, ""), "3.46");
    }

    #[test]
    fn an_impossible_arrow_has_no_sheet() {
        let setup = Setup::default().with(Field::OuterDiameter, 0.2).unwrap().with(Field::Bore, 0.3).unwrap();
        assert_eq!(made(&setup), None);
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(40))]

        #[test]
        fn weights_only_grow(setup in any_setup()) {
            if let Some(sheet) = made(&setup) {
                let weights: Vec<_> = sheet.steps.iter().filter_map(|step| step.weight_gr).collect();
                prop_assert!(weights.is_sorted());
                prop_assert!(sheet.parts.iter().all(|part| part.wanted > 0.0));
            }
        }
    }
}
