//! A grid over a setup, evaluated piece by piece.

use super::axis::AxisKind;
use super::grid::Grid;
use super::limits::{Limit, is_allowed};
use super::points::{GridPoint, Metric, MetricRanges, evaluate_piece};
use clothyard_core::csv::Csv;
use clothyard_core::eval::Baseline;
use clothyard_core::format;
use clothyard_core::setup::{Resolved, Setup};
use clothyard_core::units::{Quantity, Units};

/// A grid being evaluated.
#[derive(Debug)]
pub struct GridRun {
    /// The grid.
    pub grid: Grid,
    /// The setup whose values are combined, its shaft held.
    pub setup: Setup,
    /// Its resolved inputs, before anything is combined.
    pub resolved: Resolved,
    /// Whether the user has stopped it.
    pub stopped: bool,
    /// The first combination, by which another setup with the same combinations is known.
    first: Setup,
    points: Vec<GridPoint>,
    /// Pieces that came before the one ahead of them.
    early: Vec<(usize, Vec<GridPoint>)>,
    ranges: MetricRanges,
}

impl GridRun {
    /// A grid to be evaluated over a setup whose shaft is held; none where it cannot be put on the setup.
    #[must_use]
    pub fn new(grid: Grid, setup: Setup, resolved: &Resolved) -> Option<Self> {
        Some(Self {
            first: grid.setup_at(&setup, 0)?,
            points: Vec::with_capacity(grid.count()),
            early: Vec::new(),
            ranges: MetricRanges::default(),
            resolved: *resolved,
            stopped: false,
            grid,
            setup,
        })
    }

    /// Whether its combinations are those of a grid over a setup whose shaft is held.
    #[must_use]
    pub fn is_of(&self, grid: &Grid, setup: &Setup) -> bool {
        self.grid == *grid && grid.setup_at(setup, 0).is_some_and(|first| first == self.first)
    }

    /// What is evaluated so far, in the order of the grid.
    #[must_use]
    pub fn points(&self) -> &[GridPoint] {
        &self.points
    }

    /// Least and most of each metric so far.
    #[must_use]
    pub fn ranges(&self) -> &MetricRanges {
        &self.ranges
    }

    /// How many combinations are left.
    #[must_use]
    pub fn left(&self) -> usize {
        self.grid.count().saturating_sub(self.points.len())
    }

    /// Whether all are evaluated.
    #[must_use]
    pub fn is_done(&self) -> bool {
        self.left() == 0
    }

    /// Whether there is nothing more to come.
    #[must_use]
    pub fn is_at_rest(&self) -> bool {
        self.is_done() || self.stopped
    }

    /// The inputs of a combination: those of the setup, but where the draw length is combined, on which the shortest safe
    /// cut hangs.
    #[must_use]
    pub fn resolved_of(&self, point: &GridPoint) -> Resolved {
        let moves_draw = self.grid.axes().iter().any(|axis| axis.kind == AxisKind::DrawLength);
        let combined = moves_draw.then(|| self.grid.setup_at(&self.setup, point.index)).flatten();
        combined.map_or(self.resolved, |setup| Baseline::new(&setup).resolved)
    }

    /// The value that a combination has of what is combined, if it is.
    #[must_use]
    pub fn value(&self, index: usize, kind: AxisKind) -> Option<f64> {
        let place = self.grid.axes().iter().position(|axis| axis.kind == kind)?;
        self.grid.axes().get(place)?.values.get(self.grid.place(index, place)).copied()
    }

    /// Evaluates the next `count` combinations.
    pub fn evaluate(&mut self, count: usize) {
        let start = self.points.len();
        self.put(start, evaluate_piece(&self.grid, &self.setup, start, count));
    }

    /// Takes a piece evaluated elsewhere; one that comes too early waits for those ahead of it.
    pub fn put(&mut self, start: usize, points: Vec<GridPoint>) {
        self.early.push((start, points));
        while let Some(next) = self.early.iter().position(|(start, _)| *start == self.points.len()) {
            let (_, points) = self.early.swap_remove(next);
            points.iter().for_each(|point| self.ranges.include(point));
            self.points.extend(points);
        }
    }

    /// Forgets the pieces that came early: they are asked for again.
    pub fn drop_early(&mut self) {
        self.early.clear();
    }

    /// How far it is, in words.
    #[must_use]
    pub fn progress(&self) -> String {
        let [done, count] = [self.points.len(), self.grid.count()].map(format::grouped);
        format!("{done} of {count}")
    }

    /// That it is done, or stopped, in a sentence; empty where it goes on.
    #[must_use]
    pub fn status(&self) -> String {
        if self.is_done() {
            format!("{} combinations calculated.", format::grouped(self.grid.count()))
        } else if self.stopped {
            format!("Stopped at {}.", self.progress())
        } else {
            String::new()
        }
    }

    /// A combination in words.
    #[must_use]
    pub fn words(&self, index: usize, units: &Units) -> String {
        let values = self.grid.values(index).unwrap_or_default();
        let axes = self.grid.axes().iter().zip(values);
        let words = axes.map(|(axis, value)| axis.kind.named(value, &self.setup.shafts, units));
        words.collect::<Vec<_>>().join(", ")
    }

    /// Every combination evaluated, as comma-separated values with a row of headings, in the units chosen.
    #[must_use]
    pub fn to_csv(&self, limits: &[Limit], units: &Units) -> String {
        let mut csv = Csv::default();
        for axis in self.grid.axes() {
            let quantity = axis.kind.field().and_then(|field| field.input().quantity());
            let label = axis.kind.label();
            csv.text(&quantity.map_or_else(|| label.to_owned(), |quantity| format::heading(label, quantity, units)));
        }
        for metric in Metric::ALL {
            match metric.output() {
                Some(output) => csv.text(&format::heading(output.row().label, metric.quantity(), units)),
                None => csv.text("Column load over its target"),
            }
        }
        csv.text("Safe and within the limits");
        csv.end_row();
        self.points.iter().for_each(|point| self.put_row(&mut csv, point, limits, units));
        csv.finish()
    }

    fn put_row(&self, csv: &mut Csv, point: &GridPoint, limits: &[Limit], units: &Units) {
        let shown = |quantity: Quantity, saved: f64| units.show(quantity, saved);
        let values = self.grid.values(point.index).unwrap_or_default();
        for (axis, &value) in self.grid.axes().iter().zip(&values) {
            match axis.kind.field().and_then(|field| field.input().quantity()) {
                Some(quantity) => {
                    csv.number(Some(shown(quantity, value)), units.of(quantity).entry_decimals);
                }
                None => {
                    let shaft = self.setup.shafts.get(value as usize);
                    csv.text(shaft.map_or("", |shaft| &shaft.name));
                }
            }
        }
        for metric in Metric::ALL {
            let quantity = metric.quantity();
            csv.number(point.get(metric).map(|number| shown(quantity, number)), units.of(quantity).decimals);
        }
        csv.text(if is_allowed(point, limits) { "yes" } else { "no" });
        csv.end_row();
    }
}

/// How many combinations are evaluated at once, so that a piece takes about as long as it should.
#[derive(Clone, Copy, Debug)]
pub struct PieceSize {
    /// So many.
    pub count: usize,
    /// A piece that takes less is too small, one that takes more is too large; in milliseconds.
    pub between_ms: (f64, f64),
}

impl PieceSize {
    /// The next piece is larger where the last one was quick, and smaller where it was slow.
    pub fn fit(&mut self, took_ms: f64) {
        let (quick, slow) = self.between_ms;
        if took_ms < quick {
            self.count = (self.count * 2).min(4096);
        } else if took_ms > slow {
            self.count = (self.count / 2).max(8);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::analysis::combinations::axis::Axis;
    use crate::testing::held;
    use clothyard_core::schema::Field;

    fn run() -> GridRun {
        let setup = Setup::default();
        let axes = vec![
            Axis { kind: AxisKind::Point, values: vec![100.0, 125.0, 150.0] },
            Axis { kind: AxisKind::Cut, values: vec![28.0] },
            Axis { kind: AxisKind::Shaft, values: vec![12.0, 13.0] },
        ];
        GridRun::new(Grid::new(axes, &setup).unwrap(), held(&setup), &Baseline::new(&setup).resolved).unwrap()
    }

    #[test]
    fn it_is_done_piece_by_piece() {
        let mut run = run();
        run.evaluate(4);
        assert_eq!((run.points().len(), run.left(), run.is_at_rest()), (4, 2, false));
        assert_eq!((run.progress().as_str(), run.status().as_str()), ("4 of 6", ""));
        run.stopped = true;
        assert_eq!((run.is_at_rest(), run.status().as_str()), (true, "Stopped at 4 of 6."));
        run.stopped = false;
        run.evaluate(100);
        assert_eq!((run.is_done(), run.status().as_str()), (true, "6 combinations calculated."));
        assert!(run.points().iter().enumerate().all(|(place, point)| point.index == place));
        let weight = |place: usize| run.points()[place].get(Metric::TotalWeight).unwrap();
        assert!(
            run.ranges().share(Metric::TotalWeight, weight(0)) < run.ranges().share(Metric::TotalWeight, weight(4))
        );
    }

    #[test]
    fn the_same_combinations_over_another_setup_are_known() {
        let run = run();
        let is_of = |setup: &Setup| run.is_of(&run.grid, &held(setup));
        assert!(is_of(&Setup::default()));
        assert!(is_of(&Setup::default().with(Field::PointMass, 85.0).unwrap()), "the point is combined");
        assert!(!is_of(&Setup::default().with(Field::VaneMass, 9.0).unwrap()));
    }

    #[test]
    fn a_combination_is_named_by_its_values() {
        let (run, shafts) = (run(), Setup::default().shafts);
        let expected = format!("125\u{a0}gr point, 28\u{a0}in cut, {}", shafts[13].name);
        assert_eq!(run.words(3, &Units::ARCHERY), expected);
        assert_eq!((run.value(3, AxisKind::Point), run.value(3, AxisKind::Vanes)), (Some(125.0), None));
    }

    #[test]
    fn pieces_may_come_in_any_order() {
        let (mut run, mut whole) = (run(), run());
        whole.evaluate(6);
        let piece = |start: usize, count: usize| evaluate_piece(&whole.grid, &whole.setup, start, count);
        run.put(4, piece(4, 2));
        assert_eq!(run.points().len(), 0, "it waits for those ahead of it");
        run.put(0, piece(0, 2));
        assert_eq!(run.points().len(), 2);
        run.drop_early();
        run.put(2, piece(2, 2));
        assert_eq!(run.points().len(), 4);
        run.put(4, piece(4, 2));
        assert_eq!((run.points(), run.ranges()), (whole.points(), whole.ranges()));
    }

    #[test]
    fn the_shortest_safe_cut_follows_the_draw_length_combined() {
        let setup = Setup::default();
        let axes = vec![
            Axis { kind: AxisKind::DrawLength, values: vec![27.0, 29.0] },
            Axis { kind: AxisKind::Cut, values: vec![20.0] },
        ];
        let grid = Grid::new(axes, &setup).unwrap();
        let mut run = GridRun::new(grid, held(&setup), &Baseline::new(&setup).resolved).unwrap();
        run.evaluate(2);
        let shortest =
            |place: usize| clothyard_core::eval::safety::shortest_cut_in(&run.resolved_of(&run.points()[place]));
        assert!((shortest(1) - shortest(0) - 2.0).abs() < 1e-9);
    }

    #[test]
    fn the_combinations_as_a_table() {
        let mut run = run();
        run.evaluate(6);
        let limits = [Limit { metric: Metric::TotalWeight, minimum: None, maximum: Some(0.0) }];
        let text = run.to_csv(&limits, &Units::metric());
        let lines: Vec<_> = text.trim_end().split("\r\n").collect();
        let headings = "\"Point weight, g\",\"Cut length, cm\",Shaft,\"Total weight, g\",\"FOC, %\",";
        assert!(lines[0].starts_with(headings), "{}", lines[0]);
        assert!(
            lines[0].ends_with(
                "Column load over its target,\"Match band from, kg\",\"Match band up to, kg\",Safe and within the limits"
            ),
            "{}",
            lines[0]
        );
        assert_eq!(lines.len(), 7);
        assert!(lines[3].starts_with("8.1,71.12,") && lines[3].ends_with(",no"), "{}", lines[3]);
        assert!(run.to_csv(&[], &Units::metric()).contains(",yes\r\n"));
    }

    #[test]
    fn a_piece_grows_where_it_is_quick_and_shrinks_where_it_is_slow() {
        let mut size = PieceSize { count: 256, between_ms: (25.0, 60.0) };
        let mut after = |took_ms: f64| {
            size.fit(took_ms);
            size.count
        };
        assert_eq!([1.0, 40.0, 61.0].map(&mut after), [512, 512, 256]);
        assert_eq!(([0.0; 9].map(&mut after)[8], [99.0; 12].map(&mut after)[11]), (4096, 8));
    }
}
