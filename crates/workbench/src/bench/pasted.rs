//! Two columns of numbers, typed or pasted: one row a line.
//!
//! The columns are apart by a tab, a semicolon, spaces or a comma. `28,5 40,2` and `28.5,40.2` are both read: a
//! comma is a decimal mark where something else parts the columns. Lines without a digit are headings.

use crate::entry::{self, EntryError};
use crate::quantity::Units;
use crate::rows::{Column, ListOf, Row};
use crate::several::apart;
use crate::wording;

/// Why a text is no list of rows.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum PastedError {
    /// A row that does not part into the list's columns.
    Columns {
        /// The line, from 1.
        row: usize,
    },
    /// A number that cannot be read or is not allowed.
    Number {
        /// The line, from 1.
        row: usize,
        /// Place of the column.
        column: usize,
        /// Why not.
        error: EntryError,
    },
    /// More rows than the list takes.
    TooMany,
}

/// Reads the rows of a list of pairs, in saved units.
///
/// # Errors
/// [`PastedError`], naming the row.
pub fn read(of: &'static ListOf, text: &str, units: &Units) -> Result<Vec<Row>, PastedError> {
    let mut rows = Vec::new();
    for (line, words) in text.lines().enumerate().filter(|(_, words)| words.bytes().any(|byte| byte.is_ascii_digit())) {
        let row = line + 1;
        let cells = cells(words);
        if cells.len() != of.columns.len() {
            return Err(PastedError::Columns { row });
        }
        let number = |(column, (cell, of)): (usize, (&String, &Column))| {
            number(of, cell, units).map(Some).map_err(|error| PastedError::Number { row, column, error })
        };
        rows.push(cells.iter().zip(of.columns).enumerate().map(number).collect::<Result<Row, _>>()?);
    }
    if rows.len() > of.most { Err(PastedError::TooMany) } else { Ok(rows) }
}

/// The columns of a line.
fn cells(line: &str) -> Vec<String> {
    let mark = ['\t', ';'].into_iter().find(|&mark| line.contains(mark));
    let cells = match mark {
        Some(mark) => line.split(mark).map(str::to_owned).collect(),
        None => match <[String; 1]>::try_from(apart(line.trim())) {
            Ok([one]) => between_commas(&one),
            Err(several) => several,
        },
    };
    cells.into_iter().map(|cell| cell.trim().to_owned()).filter(|cell| !cell.is_empty()).collect()
}

/// `28.5,40.2`, `28,40` and `28,5,40,2`; of three pieces none can tell which belong together.
fn between_commas(text: &str) -> Vec<String> {
    let pieces: Vec<&str> = text.split(',').collect();
    match pieces.as_slice() {
        [a, b, c, d] if !text.contains('.') => vec![format!("{a},{b}"), format!("{c},{d}")],
        _ => pieces.into_iter().map(str::to_owned).collect(),
    }
}

/// Reads one number; where a comma can be read in two ways but only one of them is allowed, that one is meant.
fn number(column: &Column, text: &str, units: &Units) -> Result<f64, EntryError> {
    let allowed = |value: f64| column.check(Some(value)).is_ok();
    let value = match entry::read(text, column.quantity, units.of(column.quantity)) {
        Err(EntryError::Ambiguous { as_decimal, as_thousands }) => match (allowed(as_decimal), allowed(as_thousands)) {
            (true, true) => return Err(EntryError::Ambiguous { as_decimal, as_thousands }),
            (false, true) => as_thousands,
            _ => as_decimal,
        },
        other => other?,
    };
    column.check(Some(value)).map(|()| value)
}

/// Rows as the text that is read back as they are, within the decimals shown.
#[must_use]
pub fn write(of: &ListOf, rows: &[Row], units: &Units) -> String {
    let cell = |(value, column): (&Option<f64>, &Column)| {
        value.map_or_else(String::new, |value| wording::entered(column.quantity, value, units))
    };
    let line = |row: &Row| row.iter().zip(of.columns).map(cell).collect::<Vec<_>>().join("\t") + "\n";
    rows.iter().map(line).collect()
}

/// What is wrong with a text, and what is allowed.
#[must_use]
pub fn message(of: &ListOf, error: &PastedError, units: &Units) -> String {
    match *error {
        PastedError::TooMany => format!("At most {} rows.", of.most),
        PastedError::Columns { row } => {
            let names: Vec<_> = of.columns.iter().map(|column| column.label.to_lowercase()).collect();
            format!(
                "Row {row}: {} numbers are wanted, {}, with a tab, a space or a semicolon between them.",
                of.columns.len(),
                names.join(" and ")
            )
        }
        PastedError::Number { row, column, ref error } => match of.columns.get(column) {
            Some(column) => format!("Row {row}: {}", number_message(column, error, units)),
            None => format!("Row {row}."),
        },
    }
}

fn number_message(column: &Column, error: &EntryError, units: &Units) -> String {
    let Column { label, quantity, minimum, maximum, .. } = *column;
    let shown = |value: f64| wording::entered(quantity, value, units);
    let allowed = format!("{} to {}", shown(minimum), wording::entered_with_unit(quantity, maximum, units));
    match error {
        EntryError::OutOfRange { value, minimum, .. } => {
            let side = if value < minimum { "less" } else { "more" };
            format!("{label}: {} is {side} than is allowed, {allowed}.", shown(*value))
        }
        EntryError::Ambiguous { as_decimal, as_thousands } => {
            format!("{label}: is that {} or {}? Write one of them.", shown(*as_decimal), shown(*as_thousands))
        }
        EntryError::UnknownUnit { typed } => format!("{label}: \u{201c}{typed}\u{201d} is no unit for it."),
        _ => format!("{label}: write a number, {allowed}."),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rows::List;
    use proptest::prelude::*;

    fn pairs(text: &str) -> Result<Vec<(f64, f64)>, PastedError> {
        let rows = read(List::DrawForce.of(), text, &Units::ARCHERY)?;
        Ok(rows.iter().map(|row| (row[0].unwrap(), row[1].unwrap())).collect())
    }

    #[test]
    fn columns_part_in_every_usual_way() {
        for text in [
            "10.5\t40.25\n28\t60",
            "10.5 40.25\n28 60",
            "10.5;40.25\r\n28;60\r\n",
            "10,5 40,25\n28 60",
            "10,5; 40,25\n28; 60",
            "10.5,40.25\n28,60",
            "10,5,40,25\n28,60",
            "10.5, 40.25\n28, 60",
            "place\tforce\n10.5\t40.25\t\n\n28\t60",
            "10 1/2 40 1/4\n28 60",
            "10.5 in 40.25 lb\n28 in 60 lb",
        ] {
            assert_eq!(pairs(text), Ok(vec![(10.5, 40.25), (28.0, 60.0)]), "{text:?}");
        }
        assert_eq!(pairs(" \n"), Ok(vec![]));
        assert_eq!(pairs("28,125\t60"), Ok(vec![(28.125, 60.0)]), "28 125 in is no draw");
    }

    #[test]
    fn units_are_those_shown_or_typed() {
        let mut units = Units::metric();
        let rows = read(List::DrawForce.of(), "50.8 20", &units).unwrap();
        assert!((rows[0][0].unwrap() - 20.0).abs() < 1e-12);
        assert!((rows[0][1].unwrap() - 20.0 / 0.453_592_37).abs() < 1e-9);
        units = Units::ARCHERY;
        let typed = read(List::DrawForce.of(), "50.8 cm; 20 kg", &units).unwrap();
        assert!((typed[0][0].unwrap() - 20.0).abs() < 1e-12);
    }

    #[test]
    fn what_cannot_be_read_is_named_by_row_and_column() {
        let said = |text: &str| message(List::DrawForce.of(), &pairs(text).unwrap_err(), &Units::ARCHERY);
        assert_eq!(
            said("10 20\n11"),
            "Row 2: 2 numbers are wanted, string to pivot and force, with a tab, a space or a semicolon between them."
        );
        assert_eq!(said("10,5,20"), said("1,2,3"), "three pieces can be parted in two ways");
        assert_eq!(said("10 20\n280 20"), "Row 2: String to pivot: 280 is more than is allowed, 3 to 34.25\u{a0}in.");
        assert_eq!(said("10;x1"), "Row 1: Force: write a number, 0 to 150\u{a0}lb.");
        assert_eq!(said("10 20 gr"), "Row 1: Force: \u{201c}gr\u{201d} is no unit for it.");
        assert_eq!(said(&"10 20\n".repeat(65)), "At most 64 rows.");
    }

    proptest! {
        #[test]
        fn any_text_gives_rows_or_an_error(text in "[0-9 ,.;\t\nx/]{0,40}") {
            if let Ok(rows) = read(List::Speeds.of(), &text, &Units::ARCHERY) {
                prop_assert!(rows.iter().flatten().all(|number| number.is_some_and(f64::is_finite)));
            }
        }

        #[test]
        fn what_is_written_is_read_back(numbers in proptest::collection::vec((300u32..3400, 0u32..15000), 0..20)) {
            let row = |&(place, force): &(u32, u32)| vec![Some(f64::from(place) / 100.0), Some(f64::from(force) / 100.0)];
            let rows: Vec<_> = numbers.iter().map(row).collect();
            let text = write(List::DrawForce.of(), &rows, &Units::ARCHERY);
            prop_assert_eq!(read(List::DrawForce.of(), &text, &Units::ARCHERY), Ok(rows));
        }
    }
}
