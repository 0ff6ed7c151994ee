//! Columns of numbers from a spreadsheet, a file or the keyboard: parsed and written back.
//!
//! Each row is a line. Its numbers are separated by tabs, else by semicolons, else by
//! spaces, else by commas; `400,5` is one number wherever something else parts them. A dash, or nothing
//! between two marks, leaves a number out. A first line that begins with a letter is a heading and is skipped;
//! where its words are those of the columns, it says their order.

use crate::format;
use crate::parse::EntryError;
use crate::parse::number_list::apart;
use crate::schema::{Column, Row, TableSpec};
use crate::units::Units;

/// Why a text is not the rows of a list.
#[derive(Clone, Debug, PartialEq)]
pub struct ColumnsError {
    /// The line in the text, from 1.
    pub line: usize,
    /// What is wrong with it.
    pub what: Wrong,
    list: &'static str,
    units: Units,
}

/// What can be wrong with a line.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum Wrong {
    /// A number that cannot be read, is missing or is not allowed.
    Cell {
        /// Its column.
        column: &'static Column,
        /// What is there.
        typed: String,
        /// Why not.
        error: EntryError,
    },
    /// More numbers than there are columns.
    Wide {
        /// How many there are.
        found: usize,
        /// Most allowed.
        most: usize,
    },
    /// Commas that may part numbers, or be decimal marks.
    Commas,
    /// More rows than the list takes.
    TooMany {
        /// Most allowed.
        max: usize,
    },
}

/// Reads the rows of a list, in its saved units.
///
/// # Errors
/// [`ColumnsError`], for the first line that cannot be read.
pub fn read(text: &str, of: &'static TableSpec, units: &Units) -> Result<Vec<Row>, ColumnsError> {
    let (rows, errors) = read_each(text, of, units);
    errors.into_iter().next().map_or(Ok(rows), Err)
}

/// The same, each line for itself: the rows of those that can be read, and what is wrong with the others.
#[must_use]
pub fn read_each(text: &str, of: &'static TableSpec, units: &Units) -> (Vec<Row>, Vec<ColumnsError>) {
    let text = text.replace("\r\n", "\n");
    let mut order: Vec<usize> = (0..of.columns.len()).collect();
    let (mut rows, mut errors) = (Vec::new(), Vec::new());
    let mut heading = true;
    for (place, line) in text.split(['\n', '\r']).enumerate() {
        let (number, line) = (place + 1, line.trim_matches([' ', '\u{a0}']));
        if line.trim().is_empty() {
            continue;
        }
        let wrong = |what: Wrong| ColumnsError { line: number, what, list: of.label, units: *units };
        if core::mem::take(&mut heading)
            && line.trim_start_matches(['"', '\t', ' ']).starts_with(|c: char| c.is_ascii_alphabetic())
        {
            order = named(line, of).unwrap_or(order);
        } else if rows.len() == of.max_rows {
            errors.push(wrong(Wrong::TooMany { max: of.max_rows }));
            break;
        } else {
            match row(line, &order, of, units) {
                Ok(row) => rows.push(row),
                Err(what) => errors.push(wrong(what)),
            }
        }
    }
    (rows, errors)
}

/// The columns that a heading names, each once; none where a word of it is no column's.
fn named(heading: &str, of: &TableSpec) -> Option<Vec<usize>> {
    let mark = [b'\t', b';', b','].into_iter().find(|mark| heading.as_bytes().contains(mark)).map_or(' ', char::from);
    let mut order = Vec::new();
    for cell in heading.split(mark).filter(|cell| !cell.trim().is_empty()) {
        let word: String =
            cell.chars().skip_while(|c| !c.is_ascii_alphabetic()).take_while(char::is_ascii_alphabetic).collect();
        // Shafts are numbered under every heading of these.
        let word = match word.to_ascii_lowercase() {
            word if ["no", "nr"].contains(&word.as_str()) => "number".to_owned(),
            word => word,
        };
        let is_it = |(place, column): &(usize, &Column)| {
            !order.contains(place) && word.len() > 2 && column.label.to_ascii_lowercase().starts_with(&word)
        };
        order.push(of.columns.iter().enumerate().find(is_it)?.0);
    }
    Some(order)
}

fn row(line: &str, order: &[usize], of: &'static TableSpec, units: &Units) -> Result<Row, Wrong> {
    let parted = |cells: Vec<String>| of_cells(&cells, order, of, units);
    let at = |mark: char| line.split(mark).map(str::to_owned).collect::<Vec<_>>();
    if let Some(mark) = ['\t', ';'].into_iter().find(|&mark| line.contains(mark)) {
        return parted(at(mark));
    }
    let words = apart(line);
    let commas = line.matches(',').count();
    if words.len() > 1 || commas == 0 {
        return parted(words);
    }
    match (parted(words), parted(at(','))) {
        (Ok(_), Ok(_)) => Err(Wrong::Commas),
        (one, Err(_)) if commas == 1 => one,
        (Ok(row), Err(_)) | (Err(_), Ok(row)) => Ok(row),
        (Err(_), many) => many,
    }
}

fn of_cells(cells: &[String], order: &[usize], of: &'static TableSpec, units: &Units) -> Result<Row, Wrong> {
    let found = cells.iter().rposition(|cell| !cell.trim().is_empty()).map_or(0, |last| last + 1);
    if found > order.len() {
        return Err(Wrong::Wide { found, most: order.len() });
    }
    let cell_of = |place: usize| {
        let at = order.iter().position(|&column| column == place);
        at.and_then(|at| cells.get(at)).map_or("", |cell| cell.trim())
    };
    of.columns.iter().enumerate().map(|(place, column)| number(cell_of(place), column, units)).collect()
}

/// The number of a cell; none where it is left out.
fn number(cell: &str, column: &'static Column, units: &Units) -> Result<Option<f64>, Wrong> {
    let wrong = |error: EntryError| Wrong::Cell { column, typed: cell.to_owned(), error };
    let value = match cell {
        "" | "-" | "–" | "—" => None,
        _ => Some(column.read(cell, units).map_err(wrong)?),
    };
    column.check(value).map_err(wrong)?;
    Ok(value)
}

impl ColumnsError {
    /// What is wrong, in a sentence that names the row and what is allowed there.
    #[must_use]
    pub fn message(&self) -> String {
        let words = match &self.what {
            Wrong::Cell { column, typed, error } => return self.cell(column, typed, error),
            Wrong::Wide { found, most } => format!("{found} numbers; at most {most} in a row."),
            Wrong::Commas => "a comma is unclear here: separate numbers with semicolons.".into(),
            Wrong::TooMany { max } => format!("{}: at most {max} rows.", self.list),
        };
        format!("Row {}: {words}", self.line)
    }

    fn cell(&self, column: &Column, typed: &str, error: &EntryError) -> String {
        let said = |value: f64| format::for_people(&format::entered(column.quantity, value, &self.units));
        let allowed = format::allowed(column.quantity, column.minimum, column.maximum, &self.units);
        let why = match error {
            _ if typed.is_empty() => format!("a number is missing; enter {allowed}."),
            EntryError::OutOfRange { .. } => format!("{typed} is out of range; enter {allowed}."),
            EntryError::Ambiguous { as_decimal, as_thousands } => {
                format!("is {typed} {} or {}? Write it without the comma.", said(*as_decimal), said(*as_thousands))
            }
            _ => format!("\u{201c}{typed}\u{201d} is not a number; enter {allowed}."),
        };
        format!("Row {}, {}: {why}", self.line, column.label.to_ascii_lowercase())
    }
}

/// The rows as they would be typed, in the units chosen.
#[must_use]
pub fn write(rows: &[Row], of: &TableSpec, units: &Units) -> String {
    let mut text = String::new();
    for row in rows {
        let last = row.iter().rposition(Option::is_some).map_or(1, |last| last + 1);
        for (place, (&number, column)) in row.iter().zip(of.columns).take(last).enumerate() {
            text += if place > 0 { "; " } else { "" };
            text += &number.map_or_else(|| "-".to_owned(), |number| format::in_column(column.quantity, number, units));
        }
        text.push('\n');
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::schema::{LIST_COUNT, List};
    use proptest::prelude::*;

    fn batch(text: &str) -> Vec<Vec<f64>> {
        let rows = read(text, List::Batch.spec(), &Units::ARCHERY).unwrap();
        rows.iter().map(|row| row.iter().flatten().copied().collect()).collect()
    }

    fn refused(text: &str) -> String {
        read(text, List::Batch.spec(), &Units::ARCHERY).unwrap_err().message()
    }

    #[test]
    fn tabs_semicolons_spaces_and_commas() {
        for text in [
            "352.5\t400",
            "352.5; 400",
            "352,5;400;",
            "352.5 400",
            "352,5 400",
            "352.5, 400",
            "352.5,400",
            "352.5 gr 400",
        ] {
            assert_eq!(batch(text), [[352.5, 400.0]], "{text}");
        }
        assert_eq!(batch("352,5"), [[352.5]], "a spine of 5 is not allowed");
        assert_eq!(batch("352.5,400,401.5"), [[352.5, 400.0, 401.5]]);
    }

    #[test]
    fn pairs_part_in_every_usual_way() {
        for text in [
            "10.5\t40.25\n28\t60",
            "10.5 40.25\n28 60",
            "10.5;40.25\r\n28;60\r\n",
            "10,5 40,25\n28 60",
            "10,5; 40,25\n28; 60",
            "10.5,40.25\n28,60",
            "10.5, 40.25\n28, 60",
            "place\tforce\n10.5\t40.25\t\n\n28\t60",
            "10 1/2 40 1/4\n28 60",
            "10.5 in 40.25 lb\n28 in 60 lb",
        ] {
            let rows = read(text, List::DrawForce.spec(), &Units::ARCHERY).unwrap();
            assert_eq!(rows, [[Some(10.5), Some(40.25)], [Some(28.0), Some(60.0)]], "{text:?}");
        }
        let one = |text: &str| read(text, List::DrawForce.spec(), &Units::ARCHERY).unwrap_err().message();
        for three in ["10 20 30", "10,5,20"] {
            assert_eq!(one(three), "Row 1: 3 numbers; at most 2 in a row.", "{three}");
        }
        assert!(one("11").starts_with("Row 1, force: a number is missing"));
    }

    #[test]
    fn lines_end_as_they_like_and_empty_ones_do_not_count() {
        for text in ["300\n310\n", "300\r\n310", "300\r310", "\n300\n\n  \n310\n\n"] {
            assert_eq!(batch(text), [[300.0], [310.0]], "{text:?}");
        }
        assert_eq!(batch(""), [[0.0; 0]; 0]);
    }

    #[test]
    fn a_heading_is_skipped_and_may_say_the_order() {
        assert_eq!(batch("Nr one\n300;400"), [[300.0, 400.0]]);
        let rows = read("Straightness, in; Weight, gr\n0.003; 352", List::Batch.spec(), &Units::ARCHERY).unwrap();
        assert_eq!((rows[0][0], rows[0][1], rows[0][5]), (Some(352.0), None, Some(0.003)));
        let rows =
            read("weight\tspine\tspine\tbalance\n352\t400\t401\t14", List::Batch.spec(), &Units::ARCHERY).unwrap();
        assert_eq!((rows[0][1], rows[0][2], rows[0][3], rows[0][6]), (Some(400.0), Some(401.0), None, Some(14.0)));
        let rows = read("No.;Weight;Spine\n17;352;400", List::Batch.spec(), &Units::ARCHERY).unwrap();
        assert_eq!((rows[0][0], rows[0][1], rows[0][7]), (Some(352.0), Some(400.0), Some(17.0)));
        // With a stranger among them the order is that of the list.
        assert_eq!(batch("weight;mood\n300;400"), [[300.0, 400.0]]);
    }

    #[test]
    fn a_dash_or_nothing_leaves_a_number_out() {
        for text in ["352 - - - - 0.002", "352;;;;;0.002", "352\t–\t\t\t\t0.002\t"] {
            let rows = read(text, List::Batch.spec(), &Units::ARCHERY).unwrap();
            assert_eq!(rows, [[Some(352.0), None, None, None, None, Some(0.002), None, None]], "{text}");
        }
    }

    #[test]
    fn a_refusal_names_row_column_and_what_is_allowed() {
        assert_eq!(refused("300\n30x;400"), "Row 2, weight: “30x” is not a number; enter 30 to 1500\u{a0}gr.");
        assert_eq!(refused("w\n300;50"), "Row 2, spine: 50 is out of range; enter 100 to 3000.");
        assert_eq!(refused("300\n;400"), "Row 2, weight: a number is missing; enter 30 to 1500\u{a0}gr.");
        assert_eq!(refused("352,400"), "Row 1: a comma is unclear here: separate numbers with semicolons.");
        assert_eq!(refused("300;1;2;3;4;5;6;7;8"), "Row 1: 9 numbers; at most 8 in a row.");
        assert_eq!(refused(&"300\n".repeat(145)), "Row 145: Shafts or arrows of a batch: at most 144 rows.");
    }

    #[test]
    fn a_bad_line_does_not_keep_the_others_from_being_read() {
        let (rows, errors) = read_each("350 285\n350 28x\n480 250\n\n9", List::Speeds.spec(), &Units::ARCHERY);
        assert_eq!(rows, [[Some(350.0), Some(285.0)], [Some(480.0), Some(250.0)]]);
        assert_eq!(errors.iter().map(|error| error.line).collect::<Vec<_>>(), [2, 5]);
        let (rows, errors) = read_each(&"350 285\n".repeat(42), List::Speeds.spec(), &Units::ARCHERY);
        assert_eq!((rows.len(), errors.len()), (List::Speeds.spec().max_rows, 1));
    }

    #[test]
    fn units_are_those_chosen() {
        let rows = read("22,8; 400; 401; 399; 400; 0,05; 36,2 cm", List::Batch.spec(), &Units::metric()).unwrap();
        assert!((rows[0][0].unwrap() - 22.8 / 0.064_798_91).abs() < 1e-9);
        assert!((rows[0][5].unwrap() - 0.05 / 25.4).abs() < 1e-12 && (rows[0][6].unwrap() - 36.2 / 2.54).abs() < 1e-9);
        let text = write(&rows, List::Batch.spec(), &Units::metric());
        assert_eq!(text, "22.8; 400; 401; 399; 400; 0.05; 36.2\n");
    }

    proptest! {
        #[test]
        fn any_text_gives_allowed_rows_or_a_message(text in "[0-9a-z;,. \t\n½/-]{0,60}", which in 0usize..LIST_COUNT) {
            let list = List::ALL[which];
            let of = list.spec();
            match read(&text, of, &Units::ARCHERY) {
                Ok(rows) => prop_assert!(crate::schema::Lists::default().set(list, rows).is_ok()),
                Err(error) => prop_assert!(error.message().starts_with("Row ")),
            }
        }

        #[test]
        fn what_is_written_is_read_back(numbers in proptest::collection::vec(
            (3000u32..150_000, proptest::option::of(1000u32..30_000), proptest::option::of(0u32..5000)), 0..6,
        )) {
            let row = |&(weight, spine, straight): &(u32, Option<u32>, Option<u32>)| -> Row {
                let tenths = |number: u32| f64::from(number) / 10.0;
                vec![Some(f64::from(weight) / 100.0), spine.map(tenths), None, None, None, straight.map(|s| f64::from(s) / 10_000.0), None, None]
            };
            let (of, rows) = (List::Batch.spec(), numbers.iter().map(row).collect::<Vec<_>>());
            prop_assert_eq!(read(&write(&rows, of, &Units::ARCHERY), of, &Units::ARCHERY), Ok(rows));
        }
    }
}
