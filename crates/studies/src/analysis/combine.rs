//! The combinations of a grid worked out, so many at a time, so that a worker can do them in pieces.

use crate::analysis::grid::Grid;
use clothyard_core::eval::safety::{self, Danger};
use clothyard_core::eval::{Outputs, ResolvedSetup};
use clothyard_core::format;
use clothyard_core::schema::{Field, Output};
use clothyard_core::setup::{Resolved, Setup};
use clothyard_core::units::{Quantity, Units};

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

/// One combination evaluated.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cell {
    /// Its place in the grid.
    pub index: usize,
    /// The number of each [`Interest`], in saved units; none where it cannot be computed.
    pub outputs: [Option<f64>; INTEREST_COUNT],
    /// What makes it unsafe, the worst first; none where nothing does as far as is known.
    pub danger: Option<Danger>,
}

/// How many plain numbers a cell is sent as.
pub const CELL_NUMBERS: usize = INTEREST_COUNT + 1;

impl Cell {
    fn new(index: usize, setup: &Setup) -> Self {
        let at = ResolvedSetup::new(setup);
        let outputs = Interest::ALL.map(|what| what.of(&at.outputs));
        let share = at.outputs.match_share();
        let danger = safety::dangers(&at.resolved, at.outputs.get(Output::GrainsPerPound), share).next();
        Self { index, outputs, danger }
    }

    /// One of its numbers, in its saved unit.
    #[must_use]
    pub fn get(&self, what: Interest) -> Option<f64> {
        self.outputs.get(what as usize).copied().flatten()
    }

    /// All but its place as plain numbers: its numbers, not-a-number for none, and the place of its danger in
    /// [`Danger::ALL`].
    #[must_use]
    pub fn to_numbers(&self) -> [f64; CELL_NUMBERS] {
        let danger = self.danger.and_then(|danger| Danger::ALL.iter().position(|&each| each == danger));
        let mut numbers = [f64::NAN; CELL_NUMBERS];
        let all = self.outputs.into_iter().chain([danger.map(|place| place as f64)]);
        for (slot, number) in numbers.iter_mut().zip(all) {
            *slot = number.unwrap_or(f64::NAN);
        }
        numbers
    }

    /// The cell that [`Cell::to_numbers`] wrote.
    #[must_use]
    pub fn from_numbers(index: usize, numbers: &[f64; CELL_NUMBERS]) -> Self {
        let mut given = numbers.iter().map(|&number| (!number.is_nan()).then_some(number));
        let outputs = Interest::ALL.map(|_| given.next().flatten());
        let danger = given.next().flatten().and_then(|place| Danger::ALL.get(place as usize).copied());
        Self { index, outputs, danger }
    }
}

/// Evaluates `count` combinations from `start`, or as many as there are, of a setup whose shaft is held
/// ([`crate::analysis::grid::hold_shaft`]).
#[must_use]
pub fn evaluate_piece(grid: &Grid, held: &Setup, start: usize, count: usize) -> Vec<Cell> {
    let mut setup = held.clone();
    let end = start.saturating_add(count).min(grid.count());
    let mut cells = Vec::with_capacity(end.saturating_sub(start));
    for index in start..end {
        cells.push(if grid.put(&mut setup, index) {
            Cell::new(index, &setup)
        } else {
            Cell { index, outputs: [None; INTEREST_COUNT], danger: None }
        });
    }
    cells
}

/// What is said of a combination's danger: in two or three words, and as a sentence.
#[must_use]
pub fn danger_words(danger: Danger, cell: &Cell, resolved: &Resolved, units: &Units) -> (&'static str, String) {
    let says = |quantity, saved| format::measured(quantity, saved, units);
    match danger {
        Danger::TooLight => {
            let ratio = cell.get(Interest::GrainsPerPound).unwrap_or(0.0);
            let [ratio, least] =
                [ratio, safety::least_gr_per_lb(resolved)].map(|saved| says(Quantity::MassPerDraw, saved));
            ("too light", format!("{ratio} is too light for this bow: {least} is the least."))
        }
        Danger::ShaftBehindRest | Danger::ShaftShort => {
            let shortest = says(Quantity::Length, safety::shortest_cut_in(resolved));
            ("too short", format!("It ends too near the rest at full draw: {shortest} is the shortest safe cut."))
        }
        Danger::BladesNearRest => {
            let gap = says(Quantity::Length, resolved.number(Field::ShortestReach));
            ("blades too near", format!("Its blades begin less than {gap} ahead of the rest at full draw."))
        }
        Danger::BadlyWeak => ("too weak", "It is far too weak for this bow and can break under load.".to_owned()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::analysis::grid::{Axis, AxisKind};
    use crate::testing::held;
    use clothyard_core::Evaluation;
    use clothyard_core::eval::Severity;
    use clothyard_core::testing::any_setup;
    use proptest::prelude::*;

    fn axis(what: AxisKind, from: f64, step: f64, count: u32) -> Axis {
        Axis { what, values: (0..count).map(|place| from + step * f64::from(place)).collect() }
    }

    /// Whether every cell of a grid, in pieces of seven, is the single evaluation bit for bit.
    fn check_cells(grid: &Grid, held: &Setup) {
        let cells: Vec<_> =
            (0..grid.count()).step_by(7).flat_map(|start| evaluate_piece(grid, held, start, 7)).collect();
        assert_eq!(cells.len(), grid.count());
        for (index, cell) in cells.iter().enumerate() {
            assert_eq!(cell.index, index);
            let alone = Evaluation::of(&grid.cell(held, index).unwrap());
            for what in Interest::ALL {
                let expected = what.of(&alone.outputs).map(f64::to_bits);
                assert_eq!(cell.get(what).map(f64::to_bits), expected, "{index} {what:?}");
            }
            let dangers = alone.warnings.iter().filter(|each| each.severity() == Severity::Danger).count();
            assert_eq!(cell.danger.is_some(), dangers > 0, "{index} {:?}", alone.warnings);
            assert_eq!(Cell::from_numbers(index, &cell.to_numbers()), *cell);
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
        assert_eq!(evaluate_piece(&grid, &held(&setup), 7, usize::MAX).len(), 2);
        assert_eq!(evaluate_piece(&grid, &held(&setup), 9, 5), []);
        assert_eq!(evaluate_piece(&grid, &held(&setup), 20, 5), []);
    }

    #[test]
    fn a_cut_behind_the_rest_has_weight_but_no_match() {
        let setup = Setup::default();
        let axes = vec![axis(AxisKind::Cut, 20.0, 8.0, 2), axis(AxisKind::Point, 100.0, 0.0, 1)];
        let cells = evaluate_piece(&Grid::new(axes, &setup).unwrap(), &held(&setup), 0, 2);
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
            let done = evaluate_piece(&grid, &held(&setup), 0, grid.count()).len();
            let took = begun.elapsed().as_secs_f64();
            println!("{name}: {done} combinations in {took:.3} s, {:.0} a second", done as f64 / took);
            assert!(took < 1.0, "{name}");
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(24))]

        #[test]
        fn a_cell_is_the_single_evaluation_bit_for_bit(setup in any_setup(), shaft in any::<bool>()) {
            let shafts = setup.shafts.len().min(3);
            let apart = ((setup.shafts.len() - 1) / 2).max(1) as f64;
            let third = if shaft {
                axis(AxisKind::Shaft, 0.0, apart, shafts as u32)
            } else {
                axis(AxisKind::Vanes, 3.0, 4.5, 2)
            };
            let axes = vec![
                axis(AxisKind::DrawWeight, 35.0, 20.0, 2),
                axis(AxisKind::Insert, 0.0, 30.0, 2),
                third,
                axis(AxisKind::Cut, 25.5, 2.125, 2),
            ];
            check_cells(&Grid::new(axes, &setup).unwrap(), &held(&setup));
        }
    }
}
