//! The arrow as text to order or cut by.

use super::{assumed_sentence, bare, entered_with_unit, given_sentence, length, measured, spine_as_sold, value, whole};
use crate::csv::Csv;
use crate::eval::Evaluation;
use crate::schema::{Field, Output, OwnPart, StockShaft};
use crate::units::{Quantity, Units};

/// The lines of the text, a danger first. `shaft` names the shaft where it is from a list of the user's own; `day` is
/// the date to write on it.
#[must_use]
pub fn order(
    all: &Evaluation,
    own_parts: &[OwnPart],
    shaft: Option<&StockShaft>,
    day: &str,
    units: &Units,
) -> Vec<String> {
    let resolved = &all.resolved;
    let number = |field: Field| {
        let input = field.input();
        input.quantity().map_or_else(String::new, |quantity| entered_with_unit(quantity, resolved.number(field), units))
    };
    let words = |field: Field| resolved.value(field).map_or_else(String::new, |it| value(field.input(), it, units));
    let result = |output: Output| {
        let number = all.outputs.get(output);
        number.map_or_else(|| "–".to_owned(), |number| whole(output.quantity(), number, units))
    };
    let headline = all.headline(units);
    let stiffness = resolved.number(Field::StaticSpine);
    let named = shaft.map_or_else(String::new, |shaft| shaft.name.clone() + ", ");
    let vanes = if resolved.number(Field::VaneCount) > 0.0 {
        format!("{} x {}", words(Field::VaneCount), number(Field::VaneMass))
    } else {
        "none".to_owned()
    };
    let foc =
        all.outputs.get(Output::FrontOfCentre).map_or_else(String::new, |foc| measured(Quantity::Percent, foc, units));
    let spread =
        all.outputs.get(Output::SpeedSpread).map_or_else(String::new, |spread| bare(Quantity::Speed, spread, units));
    let mut lines = vec![
        format!("Arrow, {day}"),
        format!("{}. {}", headline.title, headline.reason),
        format!(
            "Shaft: {named}spine {} (deflection {} in, 880 g on a 28 in span)",
            spine_as_sold(resolved),
            super::said(stiffness / 1e3, 3)
        ),
        format!("Diameter: outside {}, inside {}", number(Field::OuterDiameter), number(Field::Bore)),
        format!("Cut length: {}, shaft end to end", length(resolved.number(Field::CutLength), units)),
        format!("{}: {}", words(Field::InsertKind), number(Field::InsertMass)),
        format!("Point: {}", number(Field::PointMass)),
        format!("Vanes: {vanes}"),
        format!("Nock: {}", number(Field::NockMass)),
        format!("Finished arrow: {}, FOC {foc}", result(Output::TotalWeight)),
        format!("Speed: {} ±{spread}, energy {}", result(Output::LaunchSpeed), result(Output::KineticEnergy)),
    ];
    if headline.forbids_shooting {
        lines.swap(0, 1);
    }
    lines.extend(
        all.warnings.iter().map(|warning| format!("{}: {}", warning.severity().word(), warning.sentence(units))),
    );
    lines.push(given_sentence(resolved, own_parts, units));
    lines.push(assumed_sentence(resolved, units));
    lines
}

/// These lines as a table: what, and what of it.
#[must_use]
pub fn order_table(lines: &[String]) -> String {
    let mut csv = Csv::default();
    for line in lines {
        // A whole sentence is one cell.
        let named = line.split_once(": ").filter(|(what, _)| !what.contains('.'));
        let (what, rest) = named.unwrap_or((line, ""));
        csv.text(what);
        csv.text(rest);
        csv.end_row();
    }
    csv.finish()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::setup::samples;

    #[test]
    fn one_can_order_and_cut_by_it() {
        let setup = samples::all().remove(0).setup;
        let all = Evaluation::of(&setup);
        let text = order(&all, &[], setup.shafts.first(), "2026-01-02", &Units::ARCHERY).join("\n");
        for part in [
            "Arrow, 2026-01-02",
            "spine ",
            "deflection 0.",
            "outside 0.",
            "inside 0.",
            "Cut length: 2",
            "Insert: 20",
            "Point: 125",
            "Vanes: 3 x 7",
            "Nock: ",
            "FOC 1",
            "Defaults: ",
        ] {
            assert!(text.contains(part), "{part}: {text}");
        }
        assert!(text.contains(&setup.shafts[0].name));
    }

    #[test]
    fn a_danger_comes_first() {
        let setup = samples::all().remove(0).setup.with(Field::PointMass, 10.0).unwrap();
        let setup = setup.with(Field::ShaftLinearMass, 4.0).unwrap();
        let lines = order(&Evaluation::of(&setup), &[], None, "2026-01-02", &Units::ARCHERY);
        assert!(lines[0].starts_with("Do not shoot: arrow too light. "), "{}", lines[0]);
    }
}
