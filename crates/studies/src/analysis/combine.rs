//! The combinations of a grid worked out, so many at a time, so that a worker can do them in pieces.

use crate::analysis::grid::{Grid, with_shaft_held};
use clothyard_core::eval::Evaluation;
use clothyard_core::eval::Outputs;
use clothyard_core::schema::Output;
use clothyard_core::setup::Setup;

/// A number of interest in a combination.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
#[allow(missing_docs, reason = "all but the match are the results of the same name")]
pub enum Interest {
    TotalWeight,
    FrontOfCentre,
    LaunchSpeed,
    KineticEnergy,
    GrainsPerPound,
    /// Column load over its target: 1 is an ideal match, more is weak.
    Match,
    SuitsFrom,
    SuitsTo,
}

/// How many numbers of interest there are.
pub const INTEREST_COUNT: usize = Interest::SuitsTo as usize + 1;

impl Interest {
    /// All of them, in the order of a cell's numbers.
    pub const ALL: [Self; INTEREST_COUNT] = [
        Self::TotalWeight,
        Self::FrontOfCentre,
        Self::LaunchSpeed,
        Self::KineticEnergy,
        Self::GrainsPerPound,
        Self::Match,
        Self::SuitsFrom,
        Self::SuitsTo,
    ];

    /// The result it is; none for the match, which is a share of two.
    #[must_use]
    pub const fn output(self) -> Option<Output> {
        match self {
            Self::TotalWeight => Some(Output::TotalWeight),
            Self::FrontOfCentre => Some(Output::FrontOfCentre),
            Self::LaunchSpeed => Some(Output::LaunchSpeed),
            Self::KineticEnergy => Some(Output::KineticEnergy),
            Self::GrainsPerPound => Some(Output::GrainsPerPound),
            Self::Match => None,
            Self::SuitsFrom => Some(Output::SuitsFrom),
            Self::SuitsTo => Some(Output::SuitsTo),
        }
    }

    fn of(self, outputs: &Outputs) -> Option<f64> {
        match self.output() {
            Some(output) => outputs.get(output),
            None => outputs.match_share(),
        }
    }
}

/// One combination worked out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cell {
    /// Its place in the grid.
    pub index: usize,
    /// The number of each [`Interest`], in saved units; none where it cannot be worked out.
    pub outputs: [Option<f64>; INTEREST_COUNT],
}

impl Cell {
    /// One of its numbers, in its saved unit.
    #[must_use]
    pub fn get(&self, what: Interest) -> Option<f64> {
        self.outputs.get(what as usize).copied().flatten()
    }
}

/// Works out `count` combinations from `start`, or as many as there are: the same numbers, bit for bit, as
/// [`Evaluation::outputs_alone`] of each [`Grid::cell`].
#[must_use]
pub fn evaluate_piece(grid: &Grid, setup: &Setup, start: usize, count: usize) -> Vec<Cell> {
    let mut cell = with_shaft_held(setup);
    let end = start.saturating_add(count).min(grid.count());
    let mut cells = Vec::with_capacity(end.saturating_sub(start));
    for index in start..end {
        let outputs = if grid.put(&mut cell, index) { Evaluation::outputs_alone(&cell).ok() } else { None };
        let outputs = outputs.unwrap_or(Outputs::NONE);
        cells.push(Cell { index, outputs: Interest::ALL.map(|what| what.of(&outputs)) });
    }
    cells
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::analysis::grid::{Axis, AxisKind};
    use clothyard_core::testing::any_setup;
    use proptest::prelude::*;

    fn axis(what: AxisKind, from: f64, step: f64, count: u32) -> Axis {
        Axis { what, values: (0..count).map(|place| from + step * f64::from(place)).collect() }
    }

    /// Whether every cell of a grid, in pieces of seven, is the single evaluation bit for bit.
    fn check_cells(grid: &Grid, setup: &Setup) {
        let cells: Vec<_> =
            (0..grid.count()).step_by(7).flat_map(|start| evaluate_piece(grid, setup, start, 7)).collect();
        assert_eq!(cells.len(), grid.count());
        for (index, cell) in cells.iter().enumerate() {
            assert_eq!(cell.index, index);
            let outputs = Evaluation::outputs_alone(&grid.cell(setup, index).unwrap()).unwrap_or(Outputs::NONE);
            for what in Interest::ALL {
                assert_eq!(cell.get(what).map(f64::to_bits), what.of(&outputs).map(f64::to_bits), "{index} {what:?}");
            }
        }
    }

    #[test]
    fn the_order_of_a_cell_s_numbers() {
        for (place, what) in Interest::ALL.into_iter().enumerate() {
            assert_eq!(what as usize, place);
        }
    }

    #[test]
    fn pieces_end_where_the_grid_does() {
        let setup = Setup::default();
        let axes = vec![axis(AxisKind::Point, 80.0, 20.0, 3), axis(AxisKind::Shaft, 0.0, 1.0, 3)];
        let grid = Grid::new(axes, &setup).unwrap();
        assert_eq!(evaluate_piece(&grid, &setup, 7, usize::MAX).len(), 2);
        assert_eq!(evaluate_piece(&grid, &setup, 9, 5), []);
        assert_eq!(evaluate_piece(&grid, &setup, 20, 5), []);
    }

    #[test]
    fn a_cut_behind_the_rest_has_weight_but_no_match() {
        let setup = Setup::default();
        let axes = vec![axis(AxisKind::Cut, 20.0, 8.0, 2), axis(AxisKind::Point, 100.0, 0.0, 1)];
        let cells = evaluate_piece(&Grid::new(axes, &setup).unwrap(), &setup, 0, 2);
        assert!(cells[0].get(Interest::TotalWeight).is_some() && cells[1].get(Interest::Match).is_some());
        assert_eq!(cells[0].get(Interest::Match), None);
    }

    #[test]
    #[ignore = "a measurement: run with --release --nocapture"]
    fn how_fast() {
        let setup = Setup::default();
        let (draw, point) = (axis(AxisKind::DrawWeight, 40.0, 1.0, 20), axis(AxisKind::Point, 75.0, 5.0, 25));
        let (cut, shaft) = (axis(AxisKind::Cut, 27.0, 0.25, 20), axis(AxisKind::Shaft, 10.0, 1.0, 20));
        for (name, third) in [("a shaft on an axis", shaft), ("the shaft held", cut)] {
            let grid = Grid::new(vec![draw.clone(), point.clone(), third], &setup).unwrap();
            let begun = std::time::Instant::now();
            let done = evaluate_piece(&grid, &setup, 0, grid.count()).len();
            let took = begun.elapsed().as_secs_f64();
            println!("{name}: {done} combinations in {took:.3} s, {:.0} a second", done as f64 / took);
            assert!(took < 1.0, "{name}");
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(24))]

        #[test]
        fn a_cell_is_the_single_evaluation_bit_for_bit(setup in any_setup(), shaft in any::<bool>()) {
            let third = if shaft { axis(AxisKind::Shaft, 3.0, 9.0, 3) } else { axis(AxisKind::Vanes, 3.0, 4.5, 2) };
            let axes = vec![
                axis(AxisKind::DrawWeight, 35.0, 20.0, 2),
                axis(AxisKind::Insert, 0.0, 30.0, 2),
                third,
                axis(AxisKind::Cut, 25.5, 2.125, 2),
            ];
            check_cells(&Grid::new(axes, &setup).unwrap(), &setup);
        }
    }
}
