//! Combinations as a matrix: one axis down, another across, and in each cell the best of what the others leave.

use super::axis::Axis;
use super::limits::{Limit, is_allowed};
use super::points::GridPoint;
use super::ranking::Filters;
use super::run::GridRun;
use clothyard_core::format;
use clothyard_core::units::Units;

/// About so many cells are shown before more are asked for.
const CELLS_AT_ONCE: usize = 240;

/// Which axes of a grid run down and across.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Matrix {
    /// The axis that runs down, by its place in the grid.
    pub down: usize,
    /// The one that runs across.
    pub across: usize,
}

impl Matrix {
    /// The axes of two keys; where a grid lacks one of them, or they are the same, others.
    #[must_use]
    pub fn new(run: &GridRun, down: &str, across: &str) -> Self {
        let place = |key: &str| run.grid.axes().iter().position(|axis| axis.kind.key() == key);
        let down = place(down).unwrap_or(0);
        let other = usize::from(down == 0);
        Self { down, across: place(across).filter(|&across| across != down).unwrap_or(other) }
    }

    /// Its axes: down and across.
    #[must_use]
    pub fn axes<'a>(&self, run: &'a GridRun) -> Option<(&'a Axis, &'a Axis)> {
        run.grid.axes().get(self.down).zip(run.grid.axes().get(self.across))
    }

    /// How many rows are shown, after more were asked for so many times.
    #[must_use]
    pub fn rows(&self, run: &GridRun, asked: usize) -> usize {
        let Some((down, across)) = self.axes(run) else { return 0 };
        ((1 + asked) * (CELLS_AT_ONCE / across.values.len().max(1)).max(1)).min(down.values.len())
    }

    /// The place in the grid of the best combination of each cell, for so many rows; none where there is none yet. One
    /// within the limits is better than one that is not.
    #[must_use]
    pub fn cells(&self, run: &GridRun, limits: &[Limit], filters: &Filters, rows: usize) -> Vec<Option<usize>> {
        let Some((_, across)) = self.axes(run) else { return Vec::new() };
        let columns = across.values.len();
        let mut best: Vec<Option<(bool, f64, usize)>> = vec![None; rows * columns];
        let filters = self.filters_of_others(filters);
        for point in run.points().iter().filter(|point| filters.admit(run, point.index)) {
            let at = run.grid.place(point.index, self.down) * columns + run.grid.place(point.index, self.across);
            let rank = rank(point, limits);
            if let Some(cell) = best.get_mut(at)
                && cell.is_none_or(|before| rank < (before.0, before.1))
            {
                *cell = Some((rank.0, rank.1, point.index));
            }
        }
        best.into_iter().map(|cell| cell.map(|(_, _, index)| index)).collect()
    }

    /// The values chosen of the axes that are neither down nor across.
    fn filters_of_others(&self, filters: &Filters) -> Filters {
        let others = filters.0.iter().enumerate();
        Filters(others.map(|(axis, &at)| at.filter(|_| axis != self.down && axis != self.across)).collect())
    }

    /// The other axes whose value is not chosen, with their places: of these a cell has the best.
    fn free<'a>(&self, run: &'a GridRun, filters: &'a Filters) -> impl Iterator<Item = (usize, &'a Axis)> {
        let shown = [self.down, self.across];
        let chosen = |place: usize| filters.0.get(place).copied().flatten().is_some();
        let axes = run.grid.axes().iter().enumerate();
        axes.filter(move |&(place, axis)| !shown.contains(&place) && !chosen(place) && axis.values.len() > 1)
    }

    /// What a cell's combination has of the axes that are neither shown nor chosen.
    #[must_use]
    pub fn others(&self, run: &GridRun, index: usize, filters: &Filters, units: &Units) -> Vec<String> {
        let named =
            |(_, axis): (usize, &Axis)| Some(axis.kind.named(run.value(index, axis.kind)?, &run.setup.shafts, units));
        self.free(run, filters).filter_map(named).collect()
    }

    /// What it shows, in words.
    #[must_use]
    pub fn caption(&self, run: &GridRun, filters: &Filters) -> String {
        let Some((down, across)) = self.axes(run) else { return String::new() };
        let label = |axis: &Axis| axis.kind.label().to_ascii_lowercase();
        let words = format!("{} down, {} across", down.kind.label(), label(across));
        let free: Vec<_> = self.free(run, filters).map(|(_, axis)| label(axis)).collect();
        if free.is_empty() { words } else { format!("{words}: best {} of each", free.join(" and ")) }
    }

    /// What is over the first column.
    #[must_use]
    pub fn corner(&self, run: &GridRun) -> String {
        let axes = self.axes(run);
        axes.map_or_else(String::new, |(down, across)| {
            format!("{} ↓, {} →", down.kind.label(), format::lower_first(across.kind.label()))
        })
    }
}

/// By what the best is found, least first.
fn rank(point: &GridPoint, limits: &[Limit]) -> (bool, f64) {
    (!is_allowed(point, limits), point.cost_lb.unwrap_or(f64::MAX))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::analysis::combinations::axis::AxisKind;
    use crate::analysis::combinations::grid::Grid;
    use crate::testing::held;
    use clothyard_core::eval::Baseline;
    use clothyard_core::setup::Setup;

    fn run(axes: &[(AxisKind, &[f64])]) -> GridRun {
        let setup = Setup::default();
        let axis = |&(kind, values): &(AxisKind, &[f64])| Axis { kind, values: values.to_vec() };
        let grid = Grid::new(axes.iter().map(axis).collect(), &setup).unwrap();
        let mut run = GridRun::new(grid, held(&setup), &Baseline::new(&setup).resolved).unwrap();
        run.evaluate(usize::MAX);
        run
    }

    fn three() -> GridRun {
        run(&[
            (AxisKind::Point, &[90.0, 100.0, 125.0]),
            (AxisKind::Insert, &[0.0, 25.0, 50.0, 100.0]),
            (AxisKind::Cut, &[20.0, 28.0]),
        ])
    }

    #[test]
    fn two_axes_are_a_cell_for_each_combination() {
        let run = run(&[(AxisKind::Point, &[90.0, 100.0, 125.0]), (AxisKind::Cut, &[27.0, 28.0])]);
        let straight = Matrix::new(&run, "", "");
        assert_eq!(straight, Matrix { down: 0, across: 1 });
        let cells = straight.cells(&run, &[], &Filters::default(), 9);
        assert_eq!(cells[..6], [0, 1, 2, 3, 4, 5].map(Some));
        assert!(cells[6..].iter().all(Option::is_none));
        let turned = Matrix::new(&run, "cut", "point");
        let cells = turned.cells(&run, &[], &Filters::default(), 9);
        assert_eq!(cells[..6], [0, 2, 4, 1, 3, 5].map(Some));
        assert_eq!(turned.caption(&run, &Filters::default()), "Cut length down, point weight across");
        assert_eq!(turned.others(&run, 3, &Filters::default(), &Units::ARCHERY), Vec::<String>::new());
        assert_eq!(Matrix::new(&run, "cut", "cut"), Matrix { down: 1, across: 0 });
    }

    #[test]
    fn of_the_other_axes_a_cell_has_the_best_or_the_one_chosen() {
        let run = three();
        let matrix = Matrix::new(&run, "point", "cut");
        let free = Filters(vec![None; 3]);
        let cells = matrix.cells(&run, &[], &free, 9);
        assert_eq!(cells.iter().flatten().count(), 6);
        for (cell, index) in cells.iter().flatten().enumerate() {
            let off = |index: usize| rank(&run.points()[index], &[]);
            let same = (0..run.grid.count())
                .filter(|&other| (run.grid.place(other, 0), run.grid.place(other, 2)) == (cell / 2, cell % 2));
            assert!(same.clone().count() == 4 && same.into_iter().all(|other| off(*index) <= off(other)), "{cell}");
        }
        assert_eq!(matrix.caption(&run, &free), "Point weight down, cut length across: best insert weight of each");
        assert_eq!(matrix.others(&run, 3, &free, &Units::ARCHERY), ["25\u{a0}gr insert"]);
        let chosen = Filters(vec![Some(0), Some(2), None]);
        let cells = matrix.cells(&run, &[], &chosen, 9);
        assert!(cells.iter().flatten().all(|&index| run.value(index, AxisKind::Insert) == Some(50.0)));
        assert_eq!(cells.iter().flatten().count(), 6, "its own axes are shown whole");
        assert!(matrix.others(&run, 3, &chosen, &Units::ARCHERY).is_empty());
    }

    #[test]
    fn long_ones_are_shown_in_parts() {
        let values: Vec<_> = (0..100).map(|place| 100.0 + f64::from(place)).collect();
        let run = run(&[(AxisKind::Point, &values), (AxisKind::Cut, &[27.0, 28.0, 29.0])]);
        let matrix = Matrix::new(&run, "", "");
        assert_eq!([0, 1].map(|asked| matrix.rows(&run, asked)), [80, 100]);
        assert_eq!(Matrix::new(&run, "cut", "point").rows(&run, 0), 2);
    }
}
