//! Lists of numbers a person may give beside the fields: distances, readings, a batch of shafts.
//!
//! One table says what each list holds; it drives checks, messages, the saved form and the generators of
//! property tests. To add a list: add a row to [`LISTS`].

use crate::parse::EntryError;
use crate::units::Quantity;
use clothyard_mechanics::measured::MAX_DRAW_READINGS;

/// A list, by its name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum List {
    /// Distances to targets.
    Distances,
    /// A batch of shafts or arrows.
    Batch,
    /// Where bare shafts struck.
    Tuning,
    /// Prices of parts.
    Prices,
    /// Places of the string and the force there.
    DrawForce,
    /// Arrow weights and the speeds they were shot at.
    Speeds,
}

/// One number of a row.
#[derive(Debug, PartialEq)]
pub struct Column {
    /// Key with its unit, for messages and headings of a file.
    pub key: &'static str,
    /// Heading on the page, without the unit.
    pub label: &'static str,
    /// What it measures; saved in its saved unit.
    pub quantity: Quantity,
    /// Least allowed.
    pub minimum: f64,
    /// Most allowed.
    pub maximum: f64,
    /// Whether a row may lack it.
    pub optional: bool,
}

/// What a list holds.
#[derive(Debug)]
pub struct TableSpec {
    /// Which list.
    pub list: List,
    /// Its key in a saved build.
    pub key: &'static str,
    /// What it is called on the page.
    pub label: &'static str,
    /// The numbers of each row.
    pub columns: &'static [Column],
    /// Most rows.
    pub most: usize,
}

const fn column(key: &'static str, label: &'static str, quantity: Quantity, minimum: f64, maximum: f64) -> Column {
    Column { key, label, quantity, minimum, maximum, optional: false }
}

const fn may_lack(column: Column) -> Column {
    Column { optional: true, ..column }
}

const fn spine(key: &'static str, label: &'static str) -> Column {
    may_lack(column(key, label, Quantity::StaticSpine, 100.0, 3000.0))
}

/// Every list, in the order of [`List`].
pub static LISTS: [TableSpec; LIST_COUNT] = [
    TableSpec {
        list: List::Distances,
        key: "distances",
        label: "Distances",
        columns: &[column("distanceYd", "Distance", Quantity::Distance, 1.0, 150.0)],
        most: 24,
    },
    TableSpec {
        list: List::Batch,
        key: "batch",
        label: "Shafts or arrows of a batch",
        columns: &[
            column("weightGr", "Weight", Quantity::Mass, 30.0, 1500.0),
            spine("spine1Thousandths", "Spine"),
            spine("spine2Thousandths", "Spine, turned 90°"),
            spine("spine3Thousandths", "Spine, turned 180°"),
            spine("spine4Thousandths", "Spine, turned 270°"),
            may_lack(column("straightnessIn", "Straightness", Quantity::SmallLength, 0.0, 0.5)),
            may_lack(column("balanceIn", "Balance point", Quantity::Length, 2.0, 40.0)),
        ],
        most: 144,
    },
    TableSpec {
        list: List::Tuning,
        key: "tuning",
        label: "Bare shafts beside fletched",
        columns: &[
            column("distanceYd", "Distance", Quantity::Distance, 1.0, 150.0),
            may_lack(column("rightIn", "Right of the fletched", Quantity::Length, -72.0, 72.0)),
            may_lack(column("upIn", "Above the fletched", Quantity::Length, -72.0, 72.0)),
            may_lack(column("drawWeightLb", "Draw weight then", Quantity::DrawWeight, 5.0, 150.0)),
            may_lack(column("pointGr", "Point then", Quantity::Mass, 10.0, 600.0)),
            may_lack(column("cutIn", "Cut length then", Quantity::Length, 10.0, 40.0)),
            spine("spineThousandths", "Spine then"),
            may_lack(column("tear", "Tear in paper", Quantity::Count, 0.0, 4.0)),
        ],
        most: 40,
    },
    TableSpec {
        list: List::Prices,
        key: "prices",
        label: "Prices of one, in your currency",
        columns: &[may_lack(column("price", "Price of one", Quantity::Ratio, 0.0, 100_000.0))],
        most: 9,
    },
    TableSpec {
        list: List::DrawForce,
        key: "drawForce",
        label: "Draw-force readings",
        columns: &[
            column("stringToPivotIn", "String to pivot", Quantity::Length, 3.0, 34.25),
            column("forceLb", "Force", Quantity::DrawWeight, 0.0, 150.0),
        ],
        most: MAX_DRAW_READINGS,
    },
    TableSpec {
        list: List::Speeds,
        key: "speeds",
        label: "Chronograph readings",
        columns: &[
            column("arrowGr", "Arrow weight", Quantity::Mass, 100.0, 1500.0),
            column("speedFps", "Speed", Quantity::Speed, 50.0, 450.0),
        ],
        most: 40,
    },
];

/// How many lists there are.
pub const LIST_COUNT: usize = List::Speeds as usize + 1;

/// A row: a number for each column, or none where it may lack one.
pub type Row = Vec<Option<f64>>;

/// The rows of every list.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Lists([Vec<Row>; LIST_COUNT]);

impl List {
    /// What the list holds.
    #[must_use]
    #[allow(clippy::indexing_slicing, reason = "the table has a row for every list, in the same order")]
    pub fn of(self) -> &'static TableSpec {
        &LISTS[self as usize]
    }

    /// The list with this key in a saved build.
    #[must_use]
    pub fn by_key(key: &str) -> Option<Self> {
        LISTS.iter().find(|of| of.key == key).map(|of| of.list)
    }
}

/// Why rows cannot stand in a list.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum RowError {
    /// More rows than the list takes.
    TooMany {
        /// Most allowed.
        most: usize,
    },
    /// A row with too few or too many numbers.
    Shape {
        /// The row, from nought.
        row: usize,
        /// How many it should have.
        columns: usize,
    },
    /// A number that is not allowed.
    Value {
        /// The row, from nought.
        row: usize,
        /// The column's key.
        key: &'static str,
        /// Why not.
        error: EntryError,
    },
}

impl Lists {
    /// The rows of a list.
    #[must_use]
    pub fn rows(&self, list: List) -> &[Row] {
        self.0.get(list as usize).map_or(&[], Vec::as_slice)
    }

    /// The rows of a list of pairs, in SI.
    pub fn pairs_si(&self, list: List) -> impl Iterator<Item = (f64, f64)> {
        let quantities = list.of().columns.iter().map(|column| column.quantity);
        self.rows(list).iter().filter_map(move |row| {
            let mut numbers = row.iter().copied().zip(quantities.clone());
            let mut next = || numbers.next().and_then(|(number, quantity)| Some(quantity.to_si(number?)));
            Some((next()?, next()?))
        })
    }

    /// The first numbers of a list's rows.
    pub fn first_numbers(&self, list: List) -> impl Iterator<Item = f64> {
        self.rows(list).iter().filter_map(|row| row.first().copied().flatten())
    }

    /// Gives a list its rows.
    ///
    /// # Errors
    /// [`RowError`]; the list is then unchanged.
    pub fn set(&mut self, list: List, rows: Vec<Row>) -> Result<(), RowError> {
        check(list.of(), &rows)?;
        if let Some(slot) = self.0.get_mut(list as usize) {
            *slot = rows;
        }
        Ok(())
    }
}

fn check(of: &TableSpec, rows: &[Row]) -> Result<(), RowError> {
    if rows.len() > of.most {
        return Err(RowError::TooMany { most: of.most });
    }
    for (place, row) in rows.iter().enumerate() {
        if row.len() != of.columns.len() {
            return Err(RowError::Shape { row: place, columns: of.columns.len() });
        }
        for (column, &value) in of.columns.iter().zip(row) {
            column.check(value).map_err(|error| RowError::Value { row: place, key: column.key, error })?;
        }
    }
    Ok(())
}

impl Column {
    /// Whether a number may stand there.
    ///
    /// # Errors
    /// [`EntryError`].
    pub fn check(&self, value: Option<f64>) -> Result<(), EntryError> {
        let &Self { minimum, maximum, optional, .. } = self;
        match value {
            None if optional => Ok(()),
            None => Err(EntryError::NotANumber),
            Some(value) if (minimum..=maximum).contains(&value) => Ok(()),
            Some(value) => Err(EntryError::OutOfRange { value, minimum, maximum }),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_is_sound() {
        for (place, of) in LISTS.iter().enumerate() {
            assert_eq!(of.list as usize, place);
            assert_eq!(List::by_key(of.key), Some(of.list));
            assert!(of.columns.iter().all(|column| column.minimum < column.maximum) && of.most > 0);
        }
    }

    #[test]
    fn a_refusal_names_row_and_column_and_changes_nothing() {
        let mut lists = Lists::default();
        lists.set(List::Distances, vec![vec![Some(20.0)], vec![Some(30.0)]]).unwrap();
        let refused = lists.set(List::Distances, vec![vec![Some(20.0)], vec![Some(0.0)]]);
        assert!(matches!(refused, Err(RowError::Value { row: 1, key: "distanceYd", .. })));
        assert_eq!(lists.set(List::Distances, vec![vec![]]), Err(RowError::Shape { row: 0, columns: 1 }));
        assert!(lists.set(List::Distances, vec![vec![None]]).is_err());
        assert_eq!(lists.first_numbers(List::Distances).collect::<Vec<_>>(), [20.0, 30.0]);
    }
}
