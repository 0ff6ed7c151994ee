//! What the drawing shows, in sentences and as a table.

use super::plan::Plan;
use clothyard_core::drawing;
use clothyard_core::eval::Evaluation;
use clothyard_core::format;
use clothyard_core::setup::PartId;
use clothyard_core::setup::Setup;
use clothyard_core::units::{Quantity, Units};
use clothyard_mechanics::Part;

/// What the drawing shows now.
#[must_use]
pub fn in_words(setup: &Setup, all: &Evaluation, units: &Units, plan: Option<&Plan>) -> String {
    let whole = drawing::in_words(all, units);
    let (Some(model), Some(plan)) = (&all.model, plan) else { return whole };
    let parts = plan.labels.iter().filter_map(|label| label.part);
    let names: Vec<_> = parts.map(|name| in_a_sentence(name, setup, all)).collect();
    let [rear, front] = plan.times.map(|times| format::trimmed(times, 1));
    let cut = Quantity::Length.from_si(model.shaft().to_m - model.shaft().from_m);
    let cut = format::measured(Quantity::Length, cut, units);
    format!(
        "{whole} The shaft is cut to {cut}. From nock to point: {}. Below: rear end enlarged {rear} times, front end {front} times.",
        names.join(", ")
    )
}

fn in_a_sentence(name: PartId, setup: &Setup, all: &Evaluation) -> String {
    let label = format::part_label(name, &all.resolved, &setup.own_parts);
    if matches!(name, PartId::Own(_)) { label } else { format::lower_first(&label) }
}

/// Every part that weighs anything, from the rear: its name, from where, to where, its center, its weight.
#[must_use]
pub fn rows(setup: &Setup, all: &Evaluation, units: &Units) -> Vec<[String; 5]> {
    let Some(model) = &all.model else { return Vec::new() };
    let row = |(name, part): (PartId, Part)| {
        let place = |meters| format::bare(Quantity::Length, Quantity::Length.from_si(meters), units);
        let mass = format::entered(Quantity::Mass, Quantity::Mass.from_si(part.mass_kg), units);
        let name = format::part_label(name, &all.resolved, &setup.own_parts);
        [name, place(part.from_m), place(part.to_m), place(part.center_m), mass]
    };
    model.from_the_rear().into_iter().map(row).collect()
}

#[cfg(test)]
mod tests {
    use super::super::plan::{Paper, plan};
    use super::*;
    use clothyard_core::schema::Field;
    use clothyard_core::schema::Output;
    use clothyard_core::setup::samples;

    #[test]
    fn the_words_name_every_part_and_both_scales() {
        let setup = samples::all().remove(0).setup;
        let all = Evaluation::of(&setup);
        let plan = plan(&setup, &all, &Units::ARCHERY, Paper { width: 1200.0, row: 44.0 }).unwrap();
        let words = in_words(&setup, &all, &Units::ARCHERY, Some(&plan));
        for label in &plan.labels {
            let named = words.contains(&format::lower_first(&label.words));
            assert!(named || label.part.is_none(), "{} in {words}", label.words);
        }
        assert!(plan.times.iter().all(|times| *times >= 1.5 && words.contains(&format::trimmed(*times, 1))));
    }

    #[test]
    fn the_table_weighs_as_much_as_the_arrow_and_balances_where_it_does() {
        let setup = samples::all().remove(0).setup.with(Field::CollarMass, 4.0).unwrap();
        let all = Evaluation::of(&setup);
        let rows = rows(&setup, &all, &Units::ARCHERY);
        let number = |text: &String| text.parse::<f64>().unwrap();
        let total: f64 = rows.iter().map(|row| number(&row[4])).sum();
        let moment: f64 = rows.iter().map(|row| number(&row[3]) * number(&row[4])).sum();
        // To what was rounded away: half the last digit of each line.
        let said = |output| all.outputs.get(output).unwrap();
        assert!((total - said(Output::TotalWeight)).abs() < 0.05 * rows.len() as f64, "{total}");
        assert!((moment / total - said(Output::BalancePoint)).abs() < 0.02, "{}", moment / total);
    }
}
