//! Lists of numbers a person may give beside the fields: distances, readings, a batch of shafts.
//!
//! One table says what each list holds; it drives checks, messages, the saved form and the generators of
//! property tests. To add a list: add a row to [`LISTS`].

use crate::parse::EntryError;
use crate::schema::{Field, INPUTS, Kind, PIVOT_TO_DRAW_LENGTH_IN};
use crate::units::Quantity;
use clothyard_mechanics::measured::{MAX_DRAW_READINGS, MAX_SHAFTS};

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

/// A number that is allowed what a field is.
#[allow(clippy::indexing_slicing, clippy::panic, reason = "evaluated by the compiler")]
const fn like(key: &'static str, label: &'static str, field: Field) -> Column {
    match INPUTS[field as usize].kind {
        Kind::Number { quantity, minimum, maximum, .. } => column(key, label, quantity, minimum, maximum),
        Kind::Choice(_) => panic!("a choice has no range"),
    }
}

/// How many parts can have a price.
pub const PRICED_PARTS: usize = 9;

/// Most chronograph readings in the list.
pub const MAX_SPEED_READINGS: usize = 40;

const DISTANCE: Column = column("distanceYd", "Distance", Quantity::Distance, 1.0, 150.0);

/// From the shortest brace height to the longest true draw.
const STRING_TO_PIVOT: Column = Column {
    maximum: like("", "", Field::DrawLength).maximum - PIVOT_TO_DRAW_LENGTH_IN,
    ..like("stringToPivotIn", "String to pivot", Field::BraceHeight)
};

/// From a string at rest to the strongest bow.
const FORCE: Column = Column { minimum: 0.0, ..like("forceLb", "Force", Field::PeakDrawWeight) };

const fn spine(key: &'static str, label: &'static str) -> Column {
    may_lack(like(key, label, Field::StaticSpine))
}

/// Every list, in the order of [`List`].
pub static LISTS: [TableSpec; LIST_COUNT] = [
    TableSpec { list: List::Distances, key: "distances", label: "Distances", columns: &[DISTANCE], most: 24 },
    TableSpec {
        list: List::Batch,
        key: "batch",
        label: "Shafts or arrows of a batch",
        columns: &[
            like("weightGr", "Weight", Field::BareShaft),
            spine("spine1Thousandths", "Spine"),
            spine("spine2Thousandths", "Spine, turned 90°"),
            spine("spine3Thousandths", "Spine, turned 180°"),
            spine("spine4Thousandths", "Spine, turned 270°"),
            may_lack(column("straightnessIn", "Straightness", Quantity::SmallLength, 0.0, 0.5)),
            may_lack(column("balanceIn", "Balance point", Quantity::Length, 2.0, 40.0)),
        ],
        most: MAX_SHAFTS,
    },
    TableSpec {
        list: List::Tuning,
        key: "tuning",
        label: "Bare shafts beside fletched",
        columns: &[
            DISTANCE,
            may_lack(column("rightIn", "Right of the fletched", Quantity::Length, -72.0, 72.0)),
            may_lack(column("upIn", "Above the fletched", Quantity::Length, -72.0, 72.0)),
            may_lack(like("drawWeightLb", "Draw weight then", Field::PeakDrawWeight)),
            may_lack(like("pointGr", "Point then", Field::PointMass)),
            may_lack(like("cutIn", "Cut length then", Field::CutLength)),
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
        most: PRICED_PARTS,
    },
    TableSpec {
        list: List::DrawForce,
        key: "drawForce",
        label: "Draw-force readings",
        columns: &[STRING_TO_PIVOT, FORCE],
        most: MAX_DRAW_READINGS,
    },
    TableSpec {
        list: List::Speeds,
        key: "speeds",
        label: "Chronograph readings",
        columns: &[
            like("arrowGr", "Arrow weight", Field::ChronographArrow),
            like("speedFps", "Speed", Field::ChronographSpeed),
        ],
        most: MAX_SPEED_READINGS,
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
