//! What the drawing shows, in sentences and as a table.

use super::plan::Plan;
use crate::build::Build;
use crate::drawing;
use crate::evaluation::Evaluation;
use crate::quantity::{Quantity, Units};
use crate::setup::PartName;
use crate::wording;
use clothyard_mechanics::Part;

/// What the drawing shows now.
#[must_use]
pub fn in_words(build: &Build, all: &Evaluation, units: &Units, plan: Option<&Plan>) -> String {
    let whole = drawing::in_words(all, units);
    let (Some(setup), Some(plan)) = (&all.setup, plan) else { return whole };
    let parts = plan.labels.iter().filter_map(|label| label.part);
    let names: Vec<_> = parts.map(|name| in_a_sentence(name, build, all)).collect();
    let [rear, front] = plan.times.map(|times| wording::trimmed(times, 1));
    let cut = Quantity::Length.from_si(setup.shaft().to_m - setup.shaft().from_m);
    let cut = wording::measured(Quantity::Length, cut, units);
    format!(
        "{whole} The shaft is cut to {cut}. From nock to point: {}. Below, the rear end {rear} times and the front \
         end {front} times as large.",
        names.join(", ")
    )
}

fn in_a_sentence(name: PartName, build: &Build, all: &Evaluation) -> String {
    let label = wording::part_label(name, &all.settled, &build.own_parts);
    if matches!(name, PartName::Own(_)) { label } else { wording::lower_first(&label) }
}

/// Every part that weighs anything, from the rear: its name, from where, to where, its centre, its weight.
#[must_use]
pub fn rows(build: &Build, all: &Evaluation, units: &Units) -> Vec<[String; 5]> {
    let Some(setup) = &all.setup else { return Vec::new() };
    let row = |(name, part): (PartName, Part)| {
        let place = |metres| wording::bare(Quantity::Length, Quantity::Length.from_si(metres), units);
        let mass = wording::entered(Quantity::Mass, Quantity::Mass.from_si(part.mass_kg), units);
        let name = wording::part_label(name, &all.settled, &build.own_parts);
        [name, place(part.from_m), place(part.to_m), place(part.centre_m), mass]
    };
    setup.from_the_rear().into_iter().map(row).collect()
}

#[cfg(test)]
mod tests {
    use super::super::plan::{Paper, plan};
    use super::*;
    use crate::demo;
    use crate::inputs::Field;
    use crate::outcome::Outcome;

    #[test]
    fn the_words_name_every_part_and_both_scales() {
        let build = demo::all().remove(0).build;
        let all = Evaluation::of(&build);
        let plan = plan(&build, &all, &Units::ARCHERY, Paper { width: 1200.0, row: 44.0 }).unwrap();
        let words = in_words(&build, &all, &Units::ARCHERY, Some(&plan));
        for label in &plan.labels {
            let named = words.contains(&wording::lower_first(&label.words));
            assert!(named || label.part.is_none(), "{} in {words}", label.words);
        }
        assert!(plan.times.iter().all(|times| *times >= 1.5 && words.contains(&wording::trimmed(*times, 1))));
    }

    #[test]
    fn the_table_weighs_as_much_as_the_arrow_and_balances_where_it_does() {
        let build = demo::all().remove(0).build.with(Field::CollarMass, 4.0).unwrap();
        let all = Evaluation::of(&build);
        let rows = rows(&build, &all, &Units::ARCHERY);
        let number = |text: &String| text.parse::<f64>().unwrap();
        let total: f64 = rows.iter().map(|row| number(&row[4])).sum();
        let moment: f64 = rows.iter().map(|row| number(&row[3]) * number(&row[4])).sum();
        // To what was rounded away: half the last digit of each line.
        let said = |outcome| all.numbers.get(outcome).unwrap();
        assert!((total - said(Outcome::TotalWeight)).abs() < 0.05 * rows.len() as f64, "{total}");
        assert!((moment / total - said(Outcome::BalancePoint)).abs() < 0.02, "{}", moment / total);
    }
}
