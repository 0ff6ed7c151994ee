//! A grid of set-ups: every combination of the values of a few inputs.
//!
//! The shaft is held as it stands unless it runs along an axis: were it left to the page, every
//! combination would come with the shaft that suits it, and all would match.

use clothyard_core::parse::EntryError;
use clothyard_core::schema::{Field, StockShaft, Value};
use clothyard_core::setup::{Resolved, Setup};

/// Most combinations of a grid.
pub const MOST_CELLS: usize = 50_000;

/// Fewest and most axes of a grid.
pub const AXES: (usize, usize) = (2, 5);

/// What runs along an axis.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AxisKind {
    /// Peak draw weight, in pounds.
    DrawWeight,
    /// Point weight, in grains.
    Point,
    /// Insert weight, in grains.
    Insert,
    /// Cut length, in inches.
    Cut,
    /// A shaft, by its place in the build's list.
    Shaft,
    /// Weight of each vane, in grains.
    Vanes,
}

impl AxisKind {
    /// All kinds of axis, in the order of the page.
    pub const ALL: [Self; 6] = [Self::DrawWeight, Self::Point, Self::Insert, Self::Cut, Self::Shaft, Self::Vanes];

    /// The field it moves; none for a shaft, which moves four.
    #[must_use]
    pub const fn field(self) -> Option<Field> {
        match self {
            Self::DrawWeight => Some(Field::PeakDrawWeight),
            Self::Point => Some(Field::PointMass),
            Self::Insert => Some(Field::InsertMass),
            Self::Cut => Some(Field::CutLength),
            Self::Shaft => None,
            Self::Vanes => Some(Field::VaneMass),
        }
    }
}

/// One axis of a grid.
#[derive(Clone, Debug, PartialEq)]
pub struct Axis {
    /// What runs along it.
    pub what: AxisKind,
    /// Its values, in the saved unit of the field or as places in the list of shafts.
    pub values: Vec<f64>,
}

/// Why a grid cannot be made.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum GridError {
    /// Fewer or more axes than [`AXES`] allows.
    Axes {
        /// How many there were.
        count: usize,
    },
    /// The same thing on two axes.
    Twice {
        /// What.
        what: AxisKind,
    },
    /// An axis without a value.
    NoValues {
        /// What should run along it.
        what: AxisKind,
    },
    /// A value that its field does not allow.
    Value {
        /// What runs along the axis.
        what: AxisKind,
        /// Why not, and what is allowed.
        error: EntryError,
    },
    /// More combinations than [`MOST_CELLS`].
    TooMany {
        /// How many there would be.
        count: usize,
    },
}

/// Every combination of the values of two to five axes; the last axis runs fastest.
#[derive(Clone, Debug, PartialEq)]
pub struct Grid {
    axes: Vec<Axis>,
    count: usize,
}

impl Grid {
    /// A grid of checked axes, over a build whose list of shafts they may name.
    ///
    /// # Errors
    /// [`GridError`].
    pub fn new(axes: Vec<Axis>, setup: &Setup) -> Result<Self, GridError> {
        if !(AXES.0..=AXES.1).contains(&axes.len()) {
            return Err(GridError::Axes { count: axes.len() });
        }
        let mut count = 1_usize;
        for (place, axis) in axes.iter().enumerate() {
            let what = axis.what;
            if axes.iter().take(place).any(|other| other.what == what) {
                return Err(GridError::Twice { what });
            }
            if axis.values.is_empty() {
                return Err(GridError::NoValues { what });
            }
            for &value in &axis.values {
                check(what, value, setup).map_err(|error| GridError::Value { what, error })?;
            }
            count = count.saturating_mul(axis.values.len());
        }
        if count > MOST_CELLS { Err(GridError::TooMany { count }) } else { Ok(Self { axes, count }) }
    }

    /// The axes.
    #[must_use]
    pub fn axes(&self) -> &[Axis] {
        &self.axes
    }

    /// How many combinations there are.
    #[must_use]
    pub fn count(&self) -> usize {
        self.count
    }

    /// The value along each axis of one combination; none beyond the last.
    #[must_use]
    pub fn values(&self, index: usize) -> Option<Vec<f64>> {
        let mut values = Vec::with_capacity(self.axes.len());
        let mut left = (index < self.count).then_some(index)?;
        for axis in self.axes.iter().rev() {
            values.insert(0, *axis.values.get(left % axis.values.len())?);
            left /= axis.values.len();
        }
        Some(values)
    }

    /// The setup of one combination, from one whose shaft is held ([`hold_shaft`]); none beyond the last.
    #[must_use]
    pub fn cell(&self, held: &Setup, index: usize) -> Option<Setup> {
        let mut cell = held.clone();
        self.put(&mut cell, index).then_some(cell)
    }

    /// Puts a combination into a build; every combination overwrites all of the one before.
    pub(crate) fn put(&self, setup: &mut Setup, index: usize) -> bool {
        let Some(values) = self.values(index) else { return false };
        self.axes.iter().zip(values).all(|(axis, value)| match axis.what.field() {
            Some(field) => setup.set(field, Some(Value::Number(value))).is_ok(),
            None => put_shaft(setup, value),
        })
    }
}

fn check(what: AxisKind, value: f64, setup: &Setup) -> Result<(), EntryError> {
    if let Some(field) = what.field() {
        return field.input().check(Value::Number(value)).map(|_| ());
    }
    let maximum = setup.shafts.len() as f64 - 1.0;
    if !(0.0..=maximum).contains(&value) {
        return Err(EntryError::OutOfRange { value, minimum: 0.0, maximum });
    }
    if value % 1.0 == 0.0 { Ok(()) } else { Err(EntryError::NotWhole) }
}

/// The setup with the shaft it resolved to made the user's own, so that every combination has it.
#[must_use]
pub fn hold_shaft(setup: &Setup, resolved: &Resolved) -> Setup {
    let mut held = setup.clone();
    for field in StockShaft::fields() {
        // A weight for its length that is out of range, of a shaft weighed at another cut, is refused and not held.
        let _ = held.set(field, resolved.value(field));
    }
    held
}

/// Makes a shaft of the list the user's own; a bare shaft weighed before was another one.
fn put_shaft(setup: &mut Setup, place: f64) -> bool {
    let Some(shaft) = setup.shafts.get(place as usize).cloned() else { return false };
    setup.set(Field::BareShaft, None).is_ok()
        && shaft.inputs().all(|(field, number)| setup.set(field, Some(Value::Number(number))).is_ok())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::held;
    use clothyard_core::eval::Baseline;
    use proptest::prelude::*;

    fn axis(what: AxisKind, values: &[f64]) -> Axis {
        Axis { what, values: values.to_vec() }
    }

    fn refused(axes: &[Axis]) -> GridError {
        Grid::new(axes.to_vec(), &Setup::default()).unwrap_err()
    }

    #[test]
    fn the_last_axis_runs_fastest() {
        let setup = Setup::default();
        let axes = vec![axis(AxisKind::Point, &[85.0, 100.0]), axis(AxisKind::Cut, &[27.0, 28.0, 29.0])];
        let grid = Grid::new(axes, &setup).unwrap();
        let all: Vec<_> = (0..grid.count()).map(|index| grid.values(index).unwrap()).collect();
        assert_eq!(all, [[85.0, 27.0], [85.0, 28.0], [85.0, 29.0], [100.0, 27.0], [100.0, 28.0], [100.0, 29.0]]);
        assert_eq!((grid.values(6), grid.cell(&setup, 6)), (None, None));
        let cell = grid.cell(&setup, 4).unwrap();
        assert_eq!(cell.get(Field::PointMass), Some(Value::Number(100.0)));
        assert_eq!(cell.get(Field::CutLength), Some(Value::Number(28.0)));
    }

    #[test]
    fn a_shaft_is_the_user_s_own_in_all_its_numbers() {
        let setup = Setup::default().with(Field::BareShaft, 300.0).unwrap();
        let axes = vec![axis(AxisKind::Shaft, &[17.0]), axis(AxisKind::Point, &[100.0])];
        let cell = Grid::new(axes, &setup).unwrap().cell(&setup, 0).unwrap();
        assert_eq!(StockShaft::fields().count(), 4);
        for (field, number) in setup.shafts[17].inputs() {
            assert_eq!(cell.get(field), Some(Value::Number(number)));
        }
        assert_eq!(cell.get(Field::BareShaft), None);
    }

    #[test]
    fn a_shaft_left_to_the_page_stays_while_others_move() {
        let setup = Setup::default().with(Field::BareShaft, 250.0).unwrap();
        let shown = Baseline::new(&setup).resolved;
        let axes = vec![axis(AxisKind::DrawWeight, &[30.0, 70.0]), axis(AxisKind::Cut, &[25.0, 30.0])];
        let grid = Grid::new(axes, &setup).unwrap();
        for index in 0..4 {
            let cell = Baseline::new(&grid.cell(&held(&setup), index).unwrap()).resolved;
            assert!(StockShaft::fields().all(|field| cell.number(field) == shown.number(field)));
        }
    }

    #[test]
    fn a_grid_that_cannot_be_is_refused() {
        let (what, point) = (AxisKind::Point, axis(AxisKind::Point, &[100.0]));
        let cut = axis(AxisKind::Cut, &[28.0]);
        assert_eq!(refused(core::slice::from_ref(&cut)), GridError::Axes { count: 1 });
        assert_eq!(refused(&[point.clone(), cut.clone(), point]), GridError::Twice { what });
        assert_eq!(refused(&[cut.clone(), axis(what, &[])]), GridError::NoValues { what });
        let error = EntryError::OutOfRange { value: 5.0, minimum: 10.0, maximum: 600.0 };
        assert_eq!(refused(&[cut.clone(), axis(what, &[100.0, 5.0])]), GridError::Value { what, error });
        let what = AxisKind::Shaft;
        let error = EntryError::OutOfRange { value: 30.0, minimum: 0.0, maximum: 29.0 };
        assert_eq!(refused(&[cut.clone(), axis(what, &[30.0])]), GridError::Value { what, error });
        let error = EntryError::NotWhole;
        assert_eq!(refused(&[cut, axis(what, &[0.5])]), GridError::Value { what, error });
        let many = |what| axis(what, &[20.0; 224]);
        assert_eq!(refused(&[many(AxisKind::Point), many(AxisKind::Vanes)]), GridError::TooMany { count: 224 * 224 });
    }

    proptest! {
        #[test]
        fn every_combination_comes_once(counts in prop::collection::vec(1..5usize, 2..=5)) {
            let axes = AxisKind::ALL.into_iter().zip(&counts).map(|(what, &count)| {
                let values = (0..count).map(|place| if what == AxisKind::Shaft { 0.0 } else { 20.0 } + place as f64);
                Axis { what, values: values.collect() }
            });
            let setup = Setup::default();
            let grid = Grid::new(axes.collect(), &setup).unwrap();
            prop_assert_eq!(grid.count(), counts.iter().product::<usize>());
            let all: Vec<_> = (0..grid.count()).map(|index| grid.values(index).unwrap()).collect();
            prop_assert!(all.windows(2).all(|pair| pair[0] < pair[1]), "in order, and none twice");
        }
    }
}
