//! A grid of setups: every combination of the values of a few inputs.
//!
//! The shaft is held as it is unless it runs along an axis: were it a default, every
//! combination would come with the shaft that suits it, and all would match.

use super::axis::{Axis, AxisKind};
use crate::shaft_list::use_shaft;
use clothyard_core::format;
use clothyard_core::parse::EntryError;
use clothyard_core::schema::{Field, StockShaft, Value};
use clothyard_core::setup::{Resolved, Setup};

/// Most combinations of a grid.
pub const MOST_POINTS: usize = 50_000;

/// Fewest and most axes of a grid.
pub const AXES: (usize, usize) = (2, 5);

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
        kind: AxisKind,
    },
    /// An axis without a value.
    NoValues {
        /// What should run along it.
        kind: AxisKind,
    },
    /// A value that its field does not allow.
    Value {
        /// What runs along the axis.
        kind: AxisKind,
        /// Why not, and what is allowed.
        error: EntryError,
    },
    /// More combinations than [`MOST_POINTS`].
    TooMany {
        /// How many there would be.
        count: usize,
    },
}

impl GridError {
    /// What is wrong with the grid as a whole, and what is allowed.
    #[must_use]
    pub fn message(&self) -> String {
        match self {
            Self::Axes { count } => format!("{count} selected; select {} to {}.", AXES.0, AXES.1),
            Self::NoValues { kind } => format!("{}: choose one or more.", kind.label()),
            Self::TooMany { count } => {
                let [count, most] = [*count, MOST_POINTS].map(format::grouped);
                format!("{count} combinations, {most} at most.")
            }
            // The fields let through no value that is not allowed, and none twice.
            Self::Value { kind, .. } | Self::Twice { kind } => format!("{}: not allowed.", kind.label()),
        }
    }
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
            let kind = axis.kind;
            if axes.iter().take(place).any(|other| other.kind == kind) {
                return Err(GridError::Twice { kind });
            }
            if axis.values.is_empty() {
                return Err(GridError::NoValues { kind });
            }
            for &value in &axis.values {
                check(kind, value, setup).map_err(|error| GridError::Value { kind, error })?;
            }
            count = count.saturating_mul(axis.values.len());
        }
        if count > MOST_POINTS { Err(GridError::TooMany { count }) } else { Ok(Self { axes, count }) }
    }

    /// The axes.
    #[must_use]
    pub fn axes(&self) -> &[Axis] {
        &self.axes
    }

    /// Its axes as numbers alone: for each its kind, how many values, and the values.
    #[must_use]
    pub fn to_numbers(&self) -> Vec<f64> {
        let numbers = |axis: &Axis| {
            let head = [f64::from(axis.kind as u8), axis.values.len() as f64];
            head.into_iter().chain(axis.values.iter().copied()).collect::<Vec<_>>()
        };
        self.axes.iter().flat_map(numbers).collect()
    }

    /// The grid over a setup whose axes [`Grid::to_numbers`] wrote; none where they are no such axes.
    #[must_use]
    pub fn from_numbers(mut numbers: &[f64], setup: &Setup) -> Option<Self> {
        let mut axes = Vec::new();
        while let [kind, count, rest @ ..] = numbers {
            let (values, others) = rest.split_at_checked(*count as usize)?;
            axes.push(Axis { kind: *AxisKind::ALL.get(*kind as usize)?, values: values.to_vec() });
            numbers = others;
        }
        Self::new(axes, setup).ok()
    }

    /// The combination that a setup's resolved inputs are, if they are one of these.
    #[must_use]
    pub fn index_of(&self, resolved: &Resolved, shafts: &[StockShaft]) -> Option<usize> {
        let close = |a: f64, b: f64| (a - b).abs() < 1e-6;
        let mut index = 0;
        for axis in &self.axes {
            let same = |&value: &f64| match axis.kind.field() {
                Some(field) => close(resolved.number(field), value),
                None => shafts
                    .get(value as usize)
                    .is_some_and(|shaft| shaft.inputs().all(|(field, number)| close(resolved.number(field), number))),
            };
            index = index * axis.values.len() + axis.values.iter().position(same)?;
        }
        Some(index)
    }

    /// How many combinations there are.
    #[must_use]
    pub fn count(&self) -> usize {
        self.count
    }

    /// The value along each axis of one combination; none beyond the last.
    #[must_use]
    pub fn values(&self, index: usize) -> Option<Vec<f64>> {
        let value = |place: usize| self.axes.get(place)?.values.get(self.place(index, place)).copied();
        (index < self.count).then(|| (0..self.axes.len()).filter_map(value).collect())
    }

    /// The place, among the values of one axis, of the value of a combination.
    #[must_use]
    pub fn place(&self, index: usize, axis: usize) -> usize {
        let count = |axis: &Axis| axis.values.len().max(1);
        let faster: usize = self.axes.iter().skip(axis + 1).map(count).product();
        index / faster % self.axes.get(axis).map_or(1, count)
    }

    /// The setup of one combination, from one whose shaft is held ([`hold_shaft`]); none beyond the last.
    #[must_use]
    pub fn setup_at(&self, held: &Setup, index: usize) -> Option<Setup> {
        let mut setup = held.clone();
        self.put(&mut setup, index).then_some(setup)
    }

    /// Puts a combination into a build; every combination overwrites all of the one before.
    pub(crate) fn put(&self, setup: &mut Setup, index: usize) -> bool {
        let Some(values) = self.values(index) else { return false };
        self.axes.iter().zip(values).all(|(axis, value)| match axis.kind.field() {
            Some(field) => setup.set(field, Some(Value::Number(value))).is_ok(),
            None => use_shaft(setup, value as usize),
        })
    }
}

fn check(kind: AxisKind, value: f64, setup: &Setup) -> Result<(), EntryError> {
    if let Some(field) = kind.field() {
        return field.input().check(Value::Number(value)).map(|_| ());
    }
    let maximum = setup.shafts.len() as f64 - 1.0;
    if !(0.0..=maximum).contains(&value) {
        return Err(EntryError::OutOfRange { value, minimum: 0.0, maximum });
    }
    if value % 1.0 == 0.0 { Ok(()) } else { Err(EntryError::NotWhole) }
}

/// The setup with the shaft and the cut it resolved to made the user's own, so that every combination has them.
#[must_use]
pub fn hold_shaft(setup: &Setup, resolved: &Resolved) -> Setup {
    let mut held = setup.clone();
    for field in StockShaft::fields().chain([Field::CutLength]) {
        // A weight for its length that is out of range, of a shaft weighed at another cut, is refused and not held.
        let _ = held.set(field, resolved.value(field));
    }
    held
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::held;
    use clothyard_core::eval::Baseline;
    use proptest::prelude::*;

    fn axis(kind: AxisKind, values: &[f64]) -> Axis {
        Axis { kind, values: values.to_vec() }
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
        assert_eq!((grid.values(6), grid.setup_at(&setup, 6)), (None, None));
        let combined = grid.setup_at(&setup, 4).unwrap();
        assert_eq!(combined.get(Field::PointMass), Some(Value::Number(100.0)));
        assert_eq!(combined.get(Field::CutLength), Some(Value::Number(28.0)));
    }

    #[test]
    fn a_shaft_is_the_user_s_own_in_all_its_numbers() {
        let setup = Setup::default().with(Field::BareShaft, 300.0).unwrap();
        let axes = vec![axis(AxisKind::Shaft, &[17.0]), axis(AxisKind::Point, &[100.0])];
        let combined = Grid::new(axes, &setup).unwrap().setup_at(&setup, 0).unwrap();
        assert_eq!(StockShaft::fields().count(), 4);
        for (field, number) in setup.shafts[17].inputs() {
            assert_eq!(combined.get(field), Some(Value::Number(number)));
        }
        assert_eq!(combined.get(Field::BareShaft), None);
    }

    #[test]
    fn a_default_shaft_stays_while_others_move() {
        let setup = Setup::default().with(Field::BareShaft, 250.0).unwrap();
        let shown = Baseline::new(&setup).resolved;
        let axes = vec![axis(AxisKind::DrawWeight, &[30.0, 70.0]), axis(AxisKind::Cut, &[25.0, 30.0])];
        let grid = Grid::new(axes, &setup).unwrap();
        for index in 0..4 {
            let combined = Baseline::new(&grid.setup_at(&held(&setup), index).unwrap()).resolved;
            assert!(StockShaft::fields().all(|field| combined.number(field) == shown.number(field)));
        }
    }

    #[test]
    fn a_grid_that_cannot_be_is_refused() {
        let (kind, point) = (AxisKind::Point, axis(AxisKind::Point, &[100.0]));
        let cut = axis(AxisKind::Cut, &[28.0]);
        assert_eq!(refused(core::slice::from_ref(&cut)), GridError::Axes { count: 1 });
        assert_eq!(refused(&[point.clone(), cut.clone(), point]), GridError::Twice { kind });
        assert_eq!(refused(&[cut.clone(), axis(kind, &[])]), GridError::NoValues { kind });
        let error = EntryError::OutOfRange { value: 5.0, minimum: 10.0, maximum: 600.0 };
        assert_eq!(refused(&[cut.clone(), axis(kind, &[100.0, 5.0])]), GridError::Value { kind, error });
        let kind = AxisKind::Shaft;
        let count = Setup::default().shafts.len() as f64;
        let error = EntryError::OutOfRange { value: count, minimum: 0.0, maximum: count - 1.0 };
        assert_eq!(refused(&[cut.clone(), axis(kind, &[count])]), GridError::Value { kind, error });
        let error = EntryError::NotWhole;
        assert_eq!(refused(&[cut, axis(kind, &[0.5])]), GridError::Value { kind, error });
        let many = |kind| axis(kind, &[20.0; 224]);
        assert_eq!(refused(&[many(AxisKind::Point), many(AxisKind::Vanes)]), GridError::TooMany { count: 224 * 224 });
    }

    #[test]
    fn a_grid_refused_says_why() {
        let say = |axes: &[Axis]| refused(axes).message();
        let (point, cut) = (axis(AxisKind::Point, &[100.0]), axis(AxisKind::Cut, &[]));
        assert_eq!(say(core::slice::from_ref(&point)), "1 selected; select 2 to 5.");
        assert_eq!(say(&[point.clone(), cut]), "Cut length: choose one or more.");
        assert_eq!(say(&[point.clone(), axis(AxisKind::Shaft, &[99.0])]), "Shaft: not allowed.");
        let many = say(&[axis(AxisKind::Cut, &[28.0; 300]), axis(AxisKind::Vanes, &[8.0; 300])]);
        assert_eq!(many, "90\u{a0}000 combinations, 50\u{a0}000 at most.");
    }

    #[test]
    fn axes_pass_as_numbers() {
        let setup = Setup::default();
        let axes =
            vec![axis(AxisKind::Shaft, &[3.0, 1.0]), axis(AxisKind::Cut, &[28.0]), axis(AxisKind::Vanes, &[7.0, 8.5])];
        let grid = Grid::new(axes, &setup).unwrap();
        let numbers = grid.to_numbers();
        assert_eq!(numbers, [5.0, 2.0, 3.0, 1.0, 4.0, 1.0, 28.0, 6.0, 2.0, 7.0, 8.5]);
        assert_eq!(Grid::from_numbers(&numbers, &setup), Some(grid));
        for broken in [&numbers[..10], &[9.0, 1.0, 1.0], &[2.0, 1.0, 100.0]] {
            assert_eq!(Grid::from_numbers(broken, &setup), None);
        }
    }

    #[test]
    fn a_combination_on_the_form_is_found() {
        let setup = Setup::default();
        let axes = vec![axis(AxisKind::Shaft, &[4.0, 9.0]), axis(AxisKind::Point, &[85.0, 100.0, 125.0])];
        let grid = Grid::new(axes, &setup).unwrap();
        let held = held(&setup);
        let found = |setup: &Setup| grid.index_of(&Baseline::new(setup).resolved, &setup.shafts);
        for index in 0..grid.count() {
            assert_eq!(found(&grid.setup_at(&held, index).unwrap()), Some(index));
        }
        assert_eq!(found(&setup.with(Field::PointMass, 99.0).unwrap()), None);
    }

    proptest! {
        #[test]
        fn every_combination_comes_once(counts in prop::collection::vec(1..5usize, 2..=5)) {
            let axes = AxisKind::ALL.into_iter().zip(&counts).map(|(kind, &count)| {
                let values = (0..count).map(|place| if kind == AxisKind::Shaft { 0.0 } else { 20.0 } + place as f64);
                Axis { kind, values: values.collect() }
            });
            let setup = Setup::default();
            let grid = Grid::new(axes.collect(), &setup).unwrap();
            prop_assert_eq!(grid.count(), counts.iter().product::<usize>());
            let all: Vec<_> = (0..grid.count()).map(|index| grid.values(index).unwrap()).collect();
            prop_assert!(all.windows(2).all(|pair| pair[0] < pair[1]), "in order, and none twice");
        }
    }
}
