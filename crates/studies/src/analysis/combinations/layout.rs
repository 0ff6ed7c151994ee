//! How a grid falls into tables: the first axis down, the second across, a table for each combination of the others.

use super::grid::{Axis, Grid};
use super::limits::{Limit, is_allowed};
use super::run::GridRun;
use clothyard_core::format;
use clothyard_core::units::Units;
use core::ops::Range;

/// About so many cells are in one table; a longer one goes on in the next.
const CELLS_IN_TABLE: usize = 240;

/// The tables of a grid.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TableLayout {
    /// Cells beside each other in a table.
    pub columns: usize,
    /// How many tables there are.
    pub tables: usize,
    rows: usize,
    rows_in_table: usize,
    /// Tables for one combination of the other axes.
    blocks: usize,
}

impl TableLayout {
    /// The tables of a grid.
    #[must_use]
    pub fn new(grid: &Grid) -> Self {
        let [rows, columns] = match grid.axes() {
            [.., down, across] => [down.values.len(), across.values.len()],
            _ => [1, 1],
        };
        let rows_in_table = (CELLS_IN_TABLE / columns).max(1).min(rows);
        let blocks = rows.div_ceil(rows_in_table);
        Self { columns, tables: grid.count() / (rows * columns) * blocks, rows, rows_in_table, blocks }
    }

    /// The rows of a table.
    #[must_use]
    pub fn rows(&self, table: usize) -> Range<usize> {
        let from = table % self.blocks * self.rows_in_table;
        from..(from + self.rows_in_table).min(self.rows)
    }

    /// The places in the grid of a table's cells.
    #[must_use]
    pub fn cells(&self, table: usize) -> Range<usize> {
        let rows = self.rows(table);
        let from = (table / self.blocks * self.rows + rows.start) * self.columns;
        from..from + rows.len() * self.columns
    }

    /// What a table holds, in words.
    #[must_use]
    pub fn caption(&self, run: &GridRun, table: usize, units: &Units) -> String {
        let [others @ .., down, across] = run.grid.axes() else { return String::new() };
        let values = run.grid.values(self.cells(table).start).unwrap_or_default();
        let say = |axis: &Axis, value: f64| axis.kind.words(value, &run.setup.shafts, units);
        let label = |axis: &Axis| axis.kind.label().to_ascii_lowercase();
        let fixed = others.iter().zip(&values);
        let mut words: Vec<_> = fixed.map(|(axis, &value)| format!("{} {}", label(axis), say(axis, value))).collect();
        let rows = down.values.get(self.rows(table)).unwrap_or_default();
        if let (true, Some(&from), Some(&to)) = (self.blocks > 1, rows.first(), rows.last()) {
            words.push(format!("{} {} to {}", label(down), say(down, from), say(down, to)));
        }
        if words.is_empty() {
            words.push(format!("{} down, {} across", down.kind.label(), label(across)));
        }
        format::upper_first(&words.join(", "))
    }

    /// The caption and, where there are limits and all of it is evaluated, how many of its cells keep them.
    #[must_use]
    pub fn name(&self, run: &GridRun, table: usize, limits: &[Limit], units: &Units) -> String {
        let caption = self.caption(run, table, units);
        let Some(points) = run.points().get(self.cells(table)).filter(|_| !limits.is_empty()) else { return caption };
        let kept = points.iter().filter(|point| is_allowed(point, limits)).count();
        format!("{caption}: {} of {} within the limits", format::grouped(kept), format::grouped(points.len()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::analysis::combinations::grid::AxisKind;
    use crate::analysis::combinations::points::Metric;
    use crate::testing::held;
    use clothyard_core::eval::Baseline;
    use clothyard_core::setup::Setup;

    fn run(axes: &[(AxisKind, f64, usize)]) -> GridRun {
        let setup = Setup::default();
        let axis = |&(kind, from, count): &(AxisKind, f64, usize)| Axis {
            kind,
            values: (0..count).map(|place| from + place as f64 / 4.0).collect(),
        };
        let grid = Grid::new(axes.iter().map(axis).collect(), &setup).unwrap();
        GridRun::new(grid, held(&setup), &Baseline::new(&setup).resolved).unwrap()
    }

    #[test]
    fn every_point_is_in_one_table() {
        for axes in [
            vec![(AxisKind::Point, 90.0, 3), (AxisKind::Cut, 27.0, 4)],
            vec![(AxisKind::Vanes, 7.0, 2), (AxisKind::Point, 90.0, 100), (AxisKind::Cut, 27.0, 7)],
            vec![
                (AxisKind::Point, 90.0, 2),
                (AxisKind::Cut, 27.0, 40),
                (AxisKind::Vanes, 7.0, 3),
                (AxisKind::Insert, 1.0, 200),
            ],
        ] {
            let run = run(&axes);
            let layout = TableLayout::new(&run.grid);
            let all: Vec<_> = (0..layout.tables).flat_map(|table| layout.cells(table)).collect();
            assert_eq!(all, (0..run.grid.count()).collect::<Vec<_>>());
            assert!((0..layout.tables).all(|table| layout.cells(table).len() <= CELLS_IN_TABLE));
        }
    }

    #[test]
    fn a_table_is_named_by_what_is_fixed_in_it() {
        let two = run(&[(AxisKind::Point, 90.0, 3), (AxisKind::Cut, 27.0, 4)]);
        let layout = TableLayout::new(&two.grid);
        assert_eq!((layout.tables, layout.columns), (1, 4));
        assert_eq!(layout.caption(&two, 0, &Units::ARCHERY), "Point weight down, cut length across");
        let mut long = run(&[(AxisKind::Vanes, 7.0, 2), (AxisKind::Point, 90.0, 100), (AxisKind::Cut, 27.0, 4)]);
        let layout = TableLayout::new(&long.grid);
        assert_eq!((layout.tables, layout.rows(3), layout.cells(3)), (4, 60..100, 640..800));
        assert_eq!(
            layout.caption(&long, 3, &Units::ARCHERY),
            "Vane weight 7.25\u{a0}gr, point weight 105\u{a0}gr to 114.75\u{a0}gr"
        );
        let limits = [Limit { metric: Metric::TotalWeight, minimum: None, maximum: Some(0.0) }];
        let name = |run: &GridRun, limits| layout.name(run, 0, limits, &Units::ARCHERY);
        let caption = layout.caption(&long, 0, &Units::ARCHERY);
        assert_eq!(
            (name(&long, &limits), name(&long, &[])),
            (caption.clone(), caption.clone()),
            "nothing is evaluated"
        );
        long.evaluate(240);
        assert_eq!(
            (name(&long, &[]), name(&long, &limits)),
            (caption.clone(), format!("{caption}: 0 of 240 within the limits"))
        );
    }
}
