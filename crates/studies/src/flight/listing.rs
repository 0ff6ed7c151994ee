//! The user's distances, as typed and as saved.

use super::shot::distances_m;
use clothyard_core::format::entered;
use clothyard_core::parse::number_list;
use clothyard_core::parse::number_list::SeveralError;
use clothyard_core::schema::{DefaultRule, Field, Input, Kind, List, Row};
use clothyard_core::setup::Setup;
use clothyard_core::units::{Quantity, Units};

/// Ends of what is usual, in yards: what the page gives as an example.
const USUAL_YD: (f64, f64) = (20.0, 60.0);

/// How one distance of the list is read: as the column of the list has it.
fn input() -> Input {
    let (label, minimum, maximum) = List::Distances
        .spec()
        .columns
        .first()
        .map_or(("", 0.0, 0.0), |column| ("Distances", column.minimum, column.maximum));
    let kind = Kind::Number { quantity: Quantity::Distance, minimum, maximum, step: 10.0, slider: Some(USUAL_YD) };
    Input { key: "distances", label, kind, default: DefaultRule::Absent, ..*Field::SightedAt.input() }
}

/// Reads what was typed, in the unit chosen: rows in rising order, none where there is nothing, which hands the
/// distances back to the page.
///
/// # Errors
/// What is wrong, and what is allowed.
pub fn read(text: &str, units: &Units) -> Result<Vec<Row>, String> {
    if text.trim().is_empty() {
        return Ok(Vec::new());
    }
    let (input, most) = (input(), List::Distances.spec().max_rows);
    let values = number_list::read(&input, text, units).map_err(|error| match error {
        SeveralError::TooMany { count } => too_many(count, most),
        error => number_list::message(&input, &error, units),
    })?;
    if values.len() > most {
        return Err(too_many(values.len(), most));
    }
    let mut rising: Vec<f64> = Vec::new();
    for value in values {
        rising.insert(rising.partition_point(|&other| other < value), value);
    }
    Ok(rising.into_iter().map(|value| vec![Some(value)]).collect())
}

fn too_many(count: usize, most: usize) -> String {
    format!("Distances: {count} entered, {most} at most.")
}

/// Rows of distances as a text that [`read`] reads; empty where they are default.
#[must_use]
pub fn write(rows: &[Row], units: &Units) -> String {
    let said = |row: &Row| Some(entered(Quantity::Distance, *row.first()?.as_ref()?, units));
    rows.iter().filter_map(said).collect::<Vec<_>>().join("; ")
}

/// Which distances are shown, and whose they are, in a sentence.
#[must_use]
pub fn sentence(setup: &Setup, units: &Units) -> String {
    if setup.lists.rows(List::Distances).is_empty() {
        let said = |meters| entered(Quantity::Distance, Quantity::Distance.from_si(meters), units);
        let list: Vec<_> = distances_m(setup).into_iter().map(said).collect();
        return format!("Default: {} {}.", list.join("; "), units.of(Quantity::Distance).symbol);
    }
    "Your values. Clear the list to restore the default.".to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn yards(text: &str, units: &Units) -> Vec<f64> {
        read(text, units).unwrap().into_iter().map(|row| row[0].unwrap()).collect()
    }

    #[test]
    fn lists_and_stretches_in_the_unit_chosen_and_back() {
        assert_eq!(yards("30; 20; 40", &Units::ARCHERY), [20.0, 30.0, 40.0]);
        assert_eq!(yards("20 to 60 by 10", &Units::ARCHERY), [20.0, 30.0, 40.0, 50.0, 60.0]);
        assert_eq!(yards("20 m", &Units::ARCHERY), [20.0 / 0.9144]);
        let metric = Units::metric();
        let mut setup = Setup::default();
        setup.lists.set(List::Distances, read("18; 30 to 50 by 20; 70", &metric).unwrap()).unwrap();
        assert_eq!(write(setup.lists.rows(List::Distances), &metric), "18; 30; 50; 70");
        assert_eq!(yards(&write(setup.lists.rows(List::Distances), &metric), &metric), yards("18;30;50;70", &metric));
        assert!(sentence(&setup, &metric).starts_with("Your values"));
    }

    #[test]
    fn nothing_hands_them_back() {
        assert_eq!(read("  ", &Units::ARCHERY), Ok(Vec::new()));
        assert_eq!(write(&[], &Units::ARCHERY), "");
        assert_eq!(sentence(&Setup::default(), &Units::ARCHERY), "Default: 10; 20; 30; 40; 50; 60 yd.");
    }

    #[test]
    fn what_cannot_be_read_is_named_with_what_is_allowed() {
        let wrong = |text: &str| read(text, &Units::ARCHERY).unwrap_err();
        assert_eq!(wrong("20; far"), "Distances: enter a number, 1 to 150\u{a0}yd. 28.5, 28,5 and 28 1/2 all work.");
        assert_eq!(wrong("20; 200"), "Distances: 200 is out of range; enter 1 to 150\u{a0}yd.");
        assert_eq!(wrong("1 to 100 by 1"), "Distances: 100 entered, 24 at most.");
        assert_eq!(wrong("1 to 100 by 0.1"), "Distances: 991 entered, 24 at most.");
        assert_eq!(wrong(";"), "Distances: enter at least one value, for example 20; 60.");
    }
}
