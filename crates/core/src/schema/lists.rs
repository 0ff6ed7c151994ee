//! Lists of numbers that a setup may have beside its inputs: distances, readings, a batch of shafts.
//!
//! To add a list, add a row to the table.

use crate::parse::EntryError;
use crate::schema::tables::{column, like, may_lack};
use crate::schema::{Column, Field, PIVOT_TO_DRAW_LENGTH_IN, TableSpec};
use crate::units::Quantity;
use clothyard_mechanics::measured::{MAX_DRAW_READINGS, MAX_SHAFTS};

/// Number of parts that can have a price.
pub const PRICED_PARTS: usize = 9;

/// Maximum number of chronograph readings in the list.
pub const MAX_SPEED_READINGS: usize = 40;

/// Maximum number of sight marks in the list.
const MAX_SIGHT_MARKS: usize = 12;

const DISTANCE: Column = column("distanceYd", "Distance", Quantity::Distance, 1.0, 150.0);

/// From the minimum brace height to the maximum true draw.
const STRING_TO_PIVOT: Column = Column {
    maximum: like("", "", Field::DrawLength).maximum - PIVOT_TO_DRAW_LENGTH_IN,
    ..like("stringToPivotIn", "String to pivot", Field::BraceHeight)
};

/// From the string at rest to the maximum draw weight.
const FORCE: Column = Column { minimum: 0.0, ..like("forceLb", "Force", Field::PeakDrawWeight) };

const fn spine(key: &'static str, label: &'static str) -> Column {
    may_lack(like(key, label, Field::StaticSpine))
}

/// Declares the lists and their rows in one place, so that each has the other.
macro_rules! lists {
    ($($(#[$doc:meta])* $list:ident $key:literal $label:literal, $max_rows:expr, [$($column:expr),* $(,)?];)*) => {
        /// A list.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        #[repr(u8)]
        pub enum List { $($(#[$doc])* $list),* }

        /// Number of lists.
        pub const LIST_COUNT: usize = [$(List::$list),*].len();

        /// Every list, in the order of [`List::ALL`].
        pub static LISTS: [TableSpec; LIST_COUNT] = [$(TableSpec {
            key: $key, label: $label, columns: &[$($column),*], max_rows: $max_rows,
        }),*];

        impl List {
            /// All lists, in the order of the saved form.
            pub const ALL: [Self; LIST_COUNT] = [$(Self::$list),*];
        }
    };
}

lists! {
    /// Distances to targets.
    Distances "distances" "Distances", 24, [DISTANCE];
    /// A batch of shafts or arrows.
    Batch "batch" "Shafts or arrows of a batch", MAX_SHAFTS, [
        like("weightGr", "Weight", Field::BareShaft),
        spine("spine1Thousandths", "Spine"),
        spine("spine2Thousandths", "Spine, turned 90°"),
        spine("spine3Thousandths", "Spine, turned 180°"),
        spine("spine4Thousandths", "Spine, turned 270°"),
        may_lack(column("straightnessIn", "Straightness", Quantity::SmallLength, 0.0, 0.5)),
        may_lack(column("balanceIn", "Balance point", Quantity::Length, 2.0, 40.0)),
        may_lack(column("number", "Number", Quantity::Count, 1.0, 9999.0)),
    ];
    /// Impacts of bare shafts beside fletched arrows.
    Tuning "tuning" "Bare shafts beside fletched", 40, [
        DISTANCE,
        may_lack(column("rightIn", "Right of the fletched", Quantity::Length, -72.0, 72.0)),
        may_lack(column("upIn", "Above the fletched", Quantity::Length, -72.0, 72.0)),
        may_lack(like("drawWeightLb", "Draw weight then", Field::PeakDrawWeight)),
        may_lack(like("pointGr", "Point then", Field::PointMass)),
        may_lack(like("cutIn", "Cut length then", Field::CutLength)),
        spine("spineThousandths", "Spine then"),
        may_lack(column("tear", "Tear in paper", Quantity::Count, 0.0, 4.0)),
        may_lack(column("shots", "Shots", Quantity::Count, 1.0, 144.0)),
        may_lack(column("day", "Day", Quantity::Count, 0.0, 100_000.0)),
        may_lack(column("kind", "Kind", Quantity::Count, 0.0, 1.0)),
    ];
    /// Prices of parts.
    Prices "prices" "Prices of one, in your currency", PRICED_PARTS, [
        may_lack(column("price", "Price of one", Quantity::Ratio, 0.0, 100_000.0)),
    ];
    /// Distances from string to pivot and the draw force at each.
    DrawForce "drawForce" "Draw-force readings", MAX_DRAW_READINGS, [STRING_TO_PIVOT, FORCE];
    /// Arrow weights and their measured speeds.
    Speeds "speeds" "Chronograph readings", MAX_SPEED_READINGS, [
        like("arrowGr", "Arrow weight", Field::ChronographArrow),
        like("speedFps", "Speed", Field::ChronographSpeed),
    ];
    /// Marks that were shot, as the archer's own sight reads them.
    SightMarks "sightMarks" "Sight marks shot", MAX_SIGHT_MARKS, [
        DISTANCE,
        column("mark", "Sight reads", Quantity::Ratio, -1000.0, 1000.0),
    ];
}

/// A row: a number for each column; `None` only where the column is optional.
pub type Row = Vec<Option<f64>>;

/// The rows of every list.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Lists([Vec<Row>; LIST_COUNT]);

impl List {
    /// The list's columns and maximum number of rows.
    #[must_use]
    #[allow(clippy::indexing_slicing, reason = "the table has a row for every list, in the same order")]
    pub fn spec(self) -> &'static TableSpec {
        &LISTS[self as usize]
    }

    /// The list with this key in a saved setup.
    #[must_use]
    pub fn by_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|list| list.spec().key == key)
    }
}

/// Why rows are refused.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum RowError {
    /// More rows than the maximum.
    TooMany {
        /// Maximum number of rows.
        max: usize,
    },
    /// A row with the wrong number of values.
    Shape {
        /// Index of the row.
        row: usize,
        /// Number of values it must have.
        columns: usize,
    },
    /// A value that the column does not allow.
    Value {
        /// Index of the row.
        row: usize,
        /// The column's key.
        key: &'static str,
        /// Why it is refused.
        error: EntryError,
    },
}

impl Lists {
    /// The rows of a list.
    #[must_use]
    pub fn rows(&self, list: List) -> &[Row] {
        self.0.get(list as usize).map_or(&[], Vec::as_slice)
    }

    /// The first two values of each row that has both, in SI.
    pub fn pairs_si(&self, list: List) -> impl Iterator<Item = (f64, f64)> {
        let quantities = list.spec().columns.iter().map(|column| column.quantity);
        self.rows(list).iter().filter_map(move |row| {
            let mut numbers = row.iter().copied().zip(quantities.clone());
            let mut next = || numbers.next().and_then(|(number, quantity)| Some(quantity.to_si(number?)));
            Some((next()?, next()?))
        })
    }

    /// The first value of each row that has one.
    pub fn first_numbers(&self, list: List) -> impl Iterator<Item = f64> {
        self.rows(list).iter().filter_map(|row| row.first().copied().flatten())
    }

    /// Replaces the rows of a list. Rows saved before a list got its last columns lack their values.
    ///
    /// # Errors
    /// [`RowError`]; the list is unchanged.
    pub fn set(&mut self, list: List, mut rows: Vec<Row>) -> Result<(), RowError> {
        let columns = list.spec().columns;
        for row in &mut rows {
            let lacking = columns.get(row.len()..).unwrap_or_default();
            if lacking.iter().all(|column| column.optional) {
                row.extend(lacking.iter().map(|_| None));
            }
        }
        check(list.spec(), &rows)?;
        if let Some(slot) = self.0.get_mut(list as usize) {
            *slot = rows;
        }
        Ok(())
    }
}

fn check(spec: &TableSpec, rows: &[Row]) -> Result<(), RowError> {
    if rows.len() > spec.max_rows {
        return Err(RowError::TooMany { max: spec.max_rows });
    }
    for (place, row) in rows.iter().enumerate() {
        if row.len() != spec.columns.len() {
            return Err(RowError::Shape { row: place, columns: spec.columns.len() });
        }
        for (column, &value) in spec.columns.iter().zip(row) {
            column.check(value).map_err(|error| RowError::Value { row: place, key: column.key, error })?;
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_is_sound() {
        for (list, spec) in List::ALL.into_iter().zip(&LISTS) {
            assert_eq!(List::by_key(spec.key), Some(list));
            assert!(spec.columns.iter().all(|column| column.minimum < column.maximum) && spec.max_rows > 0);
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
        lists.set(List::Batch, vec![vec![Some(352.0), Some(400.0)]]).unwrap();
        assert_eq!(lists.rows(List::Batch)[0].len(), List::Batch.spec().columns.len(), "an older row lacks the rest");
        assert_eq!(lists.first_numbers(List::Distances).collect::<Vec<_>>(), [20.0, 30.0]);
    }
}
