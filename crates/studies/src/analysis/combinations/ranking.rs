//! All combinations within the limits as one table, the best first or sorted by any column.
//!
//! The best is the one that costs least, as the recommendation ranks shafts and cuts. A shaft's own spine varies by some
//! percent, so costs within one grade of each other (`GRADE_LB`) are equally good. Among these the shafts that the user
//! listed come before samples, and then the combination nearest the middle of its limits, which leaves the most room on
//! both sides.

use super::axis::AxisKind;
use super::cell_text::CellFormat;
use super::limits::{Limit, is_allowed};
use super::points::{GridPoint, Metric};
use super::run::GridRun;
use clothyard_core::format;
use clothyard_core::schema::shafts::invented_shafts;
use clothyard_core::units::{Quantity, Units};
use core::cmp::Ordering;

/// Width of a grade, in pounds: costs closer than this cannot be told apart (from memory, low confidence).
const GRADE_LB: f64 = 1.0;

/// The results shown of each combination.
const SHOWN: [Metric; 5] =
    [Metric::TotalWeight, Metric::FrontOfCentre, Metric::LaunchSpeed, Metric::KineticEnergy, Metric::GrainsPerPound];

/// One value chosen of each axis, by its place among the values; none where all of them are wanted.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Filters(pub Vec<Option<usize>>);

impl Filters {
    /// Whether a combination has the values chosen.
    #[must_use]
    pub fn admit(&self, run: &GridRun, index: usize) -> bool {
        let keeps =
            |(axis, &wanted): (usize, &Option<usize>)| wanted.is_none_or(|at| run.grid.place(index, axis) == at);
        self.0.iter().enumerate().all(keeps)
    }
}

/// What the rows are sorted by.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Column {
    /// How well they match, the cost of cut, bore and point included.
    Match,
    /// What is combined.
    Axis(AxisKind),
    /// A result.
    Result(Metric),
}

impl Column {
    /// The columns of a grid's table.
    pub fn all(run: &GridRun) -> impl Iterator<Item = Self> {
        let axes = run.grid.axes().iter().map(|axis| Self::Axis(axis.kind));
        core::iter::once(Self::Match).chain(axes).chain(SHOWN.map(Self::Result))
    }

    /// Its key in the markup.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::Match => Metric::Match.key(),
            Self::Axis(kind) => kind.key(),
            Self::Result(metric) => metric.key(),
        }
    }

    /// What it is called.
    #[must_use]
    pub fn label(self) -> &'static str {
        match self {
            Self::Match => Metric::Match.label(),
            Self::Axis(kind) => kind.label(),
            Self::Result(metric) => metric.label(),
        }
    }

    /// What its numbers measure; none where they are words.
    fn quantity(self) -> Option<Quantity> {
        match self {
            Self::Match => None,
            Self::Axis(kind) => kind.field()?.input().quantity(),
            Self::Result(metric) => Some(metric.quantity()),
        }
    }

    /// Its heading, with the unit.
    #[must_use]
    pub fn heading(self, units: &Units) -> String {
        self.quantity()
            .map_or_else(|| self.label().to_owned(), |quantity| format::heading(self.label(), quantity, units))
    }

    /// What a combination has in it; none of its match, which is a button.
    fn cell(self, run: &GridRun, point: &GridPoint, units: &Units) -> Option<String> {
        let quantity = self.quantity().unwrap_or(Quantity::Ratio);
        match self {
            Self::Match => None,
            Self::Axis(AxisKind::Shaft) => {
                Some(AxisKind::Shaft.words(run.value(point.index, AxisKind::Shaft)?, &run.setup.shafts, units))
            }
            Self::Axis(kind) => Some(format::entered(quantity, run.value(point.index, kind)?, units)),
            Self::Result(metric) => {
                Some(point.get(metric).map_or_else(|| "–".to_owned(), |number| format::bare(quantity, number, units)))
            }
        }
    }
}

/// The order of the rows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sort {
    /// By what.
    pub by: Column,
    /// The greatest first; of matches the worst.
    pub descending: bool,
}

impl Default for Sort {
    fn default() -> Self {
        Self { by: Column::Match, descending: false }
    }
}

impl Sort {
    /// The order after the heading of a column was pressed: that column, the other way round where it was the one
    /// already.
    #[must_use]
    pub fn pressed(self, by: Column) -> Self {
        Self { by, descending: self.by == by && !self.descending }
    }
}

/// The combinations within the limits.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Ranking {
    /// How many there are.
    pub found: usize,
    /// The places in the grid of the first of them, in order.
    pub rows: Vec<usize>,
    /// Whether the best of them is a good match.
    matched: bool,
}

/// A combination with the numbers it is sorted by, the first of which counts most.
struct Entry {
    index: usize,
    keys: [f64; 5],
}

impl Entry {
    fn compare(&self, other: &Self) -> Ordering {
        let keys = self.keys.iter().zip(&other.keys).map(|(mine, theirs)| mine.total_cmp(theirs));
        keys.fold(Ordering::Equal, Ordering::then).then(self.index.cmp(&other.index))
    }
}

/// Which of the shafts combined the user listed; none where shafts are not combined.
fn own_shafts(run: &GridRun) -> Option<(usize, Vec<bool>)> {
    let place = run.grid.axes().iter().position(|axis| axis.kind == AxisKind::Shaft)?;
    let samples = invented_shafts();
    let is_own = |&shaft: &f64| run.setup.shafts.get(shaft as usize).is_some_and(|shaft| !samples.contains(shaft));
    Some((place, run.grid.axes().get(place)?.values.iter().map(is_own).collect()))
}

impl Ranking {
    /// The first `most` combinations that are safe, keep every limit and have the values chosen.
    #[must_use]
    pub fn new(run: &GridRun, limits: &[Limit], filters: &Filters, sort: Sort, most: usize) -> Self {
        let own = own_shafts(run);
        let mut list: Vec<Entry> = Vec::new();
        let mut ranking = Self::default();
        for point in run.points().iter().filter(|point| is_allowed(point, limits) && filters.admit(run, point.index)) {
            let Some(cost_lb) = point.cost_lb else { continue };
            ranking.found += 1;
            ranking.matched |= point.is_good_match();
            let foreign = own
                .as_ref()
                .is_some_and(|(axis, own)| !own.get(run.grid.place(point.index, *axis)).copied().unwrap_or(false));
            let off_middle = limits.iter().filter_map(|limit| limit.off_middle(point)).fold(0.0, f64::max);
            let first = sort_number(run, point, sort, cost_lb);
            let grade = f64::from((cost_lb / GRADE_LB) as u32);
            let entry = Entry { index: point.index, keys: [first, grade, f64::from(foreign), off_middle, cost_lb] };
            let at = list.partition_point(|other| other.compare(&entry).is_lt());
            if at < most {
                list.truncate(most - 1);
                list.insert(at, entry);
            }
        }
        ranking.rows = list.into_iter().map(|entry| entry.index).collect();
        ranking
    }

    /// How many there are and in which order they come, in a sentence or two; where there is none, that alone.
    #[must_use]
    pub fn sentence(&self, run: &GridRun, sort: Sort) -> String {
        let among = if run.is_done() { "" } else { " so far" };
        if self.found == 0 {
            return format!("0 found{among}.");
        }
        let order = match sort {
            Sort { by: Column::Match, descending: false } if self.matched => "best first".to_owned(),
            Sort { by: Column::Match, descending: false } => "no good match, closest first".to_owned(),
            Sort { by, descending } => {
                let end = if descending { "highest" } else { "lowest" };
                format!("sorted by {}, {end} first", format::lower_first(by.label()))
            }
        };
        format!(
            "{} of {} within the limits{among}, {order}.",
            format::grouped(self.found),
            format::grouped(run.points().len())
        )
    }
}

/// The number that a row is sorted by first; 0 where the cost alone decides.
fn sort_number(run: &GridRun, point: &GridPoint, sort: Sort, cost_lb: f64) -> f64 {
    let number = match sort.by {
        Column::Match if sort.descending => cost_lb,
        Column::Match => return 0.0,
        Column::Axis(kind) => run.value(point.index, kind).map_or(0.0, |value| match kind {
            AxisKind::Shaft => run.setup.shafts.get(value as usize).map_or(0.0, |shaft| shaft.static_spine_thousandths),
            _ => value,
        }),
        Column::Result(metric) => point.get(metric).unwrap_or(0.0),
    };
    if sort.descending { -number } else { number }
}

/// A row of the table in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RowWords {
    /// Its place in the grid.
    pub index: usize,
    /// How well it matches.
    pub matches: String,
    /// Its values and results, in the order of [`Column::all`].
    pub cells: Vec<String>,
}

impl RowWords {
    /// A combination in words.
    #[must_use]
    pub fn new(run: &GridRun, index: usize, format: &CellFormat<'_>) -> Option<Self> {
        let point = run.points().get(index)?;
        let text = format.match_text(point);
        let word = if point.is_good_match() { "✓" } else { &text.words };
        let cells = Column::all(run).filter_map(|column| column.cell(run, point, format.units)).collect();
        Some(Self { index, matches: format!("{} {word}", text.number), cells })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::analysis::combinations::axis::Axis;
    use crate::analysis::combinations::grid::Grid;
    use crate::testing::held;
    use clothyard_core::Evaluation;
    use clothyard_core::eval::{Baseline, safety};
    use clothyard_core::schema::{BowKind, Field};
    use clothyard_core::setup::Setup;

    fn axis(kind: AxisKind, values: &[f64]) -> Axis {
        Axis { kind, values: values.to_vec() }
    }

    fn run_of(setup: &Setup, axes: Vec<Axis>) -> GridRun {
        let grid = Grid::new(axes, setup).unwrap();
        let mut run = GridRun::new(grid, held(setup), &Baseline::new(setup).resolved).unwrap();
        run.evaluate(usize::MAX);
        run
    }

    fn run() -> GridRun {
        let points = [90.0, 100.0, 110.0, 125.0, 600.0];
        run_of(&Setup::default(), vec![axis(AxisKind::Point, &points), axis(AxisKind::Cut, &[20.0, 27.5, 28.0, 28.5])])
    }

    fn rank(run: &GridRun, limits: &[Limit], sort: Sort) -> Ranking {
        Ranking::new(run, limits, &Filters::default(), sort, 100)
    }

    #[test]
    fn the_best_match_comes_first_and_nothing_unsafe_at_all() {
        let run = run();
        let ranking = rank(&run, &[], Sort::default());
        assert_eq!(ranking.found, ranking.rows.len());
        assert!(ranking.found > 3 && ranking.found < run.points().len(), "{ranking:?}");
        let points: Vec<_> = ranking.rows.iter().map(|&index| run.points()[index]).collect();
        assert!(points.iter().all(|point| point.danger.is_none()));
        let cost = |point: &GridPoint| point.cost_lb.unwrap();
        let grades: Vec<_> = points.iter().map(|point| (cost(point) / GRADE_LB) as u32).collect();
        assert!(grades.is_sorted(), "{grades:?}");
        assert!(points.windows(2).all(|pair| {
            let [a, b] = [0, 1].map(|place| cost(&pair[place]));
            (a / GRADE_LB) as u32 != (b / GRADE_LB) as u32 || a <= b
        }));
        let few = Ranking::new(&run, &[], &Filters::default(), Sort::default(), 2);
        assert_eq!((few.found, few.rows.as_slice()), (ranking.found, &ranking.rows[..2]), "the head of the same list");
    }

    #[test]
    fn any_column_sorts_both_ways() {
        let run = run();
        for column in Column::all(&run) {
            let up = rank(&run, &[], Sort { by: column, descending: false });
            let down = rank(&run, &[], Sort { by: column, descending: true });
            let number = |index: &usize| match column {
                Column::Match => run.points()[*index].cost_lb.map(|cost| (cost / GRADE_LB).trunc()),
                Column::Axis(kind) => run.value(*index, kind),
                Column::Result(metric) => run.points()[*index].get(metric),
            };
            let numbers =
                |ranking: &Ranking| ranking.rows.iter().map(|index| number(index).unwrap()).collect::<Vec<_>>();
            assert!(numbers(&up).is_sorted(), "{column:?}");
            assert!(numbers(&down).iter().rev().is_sorted(), "{column:?}");
            assert_eq!(up.found, down.found);
        }
        let sort = Sort::default().pressed(Column::Axis(AxisKind::Cut));
        assert_eq!((sort.by.key(), sort.descending, sort.pressed(sort.by).descending), ("cut", false, true));
    }

    #[test]
    fn limits_and_chosen_values_leave_fewer() {
        let run = run();
        let cut = Filters(vec![None, Some(2)]);
        let ranking = Ranking::new(&run, &[], &cut, Sort::default(), 100);
        assert!(ranking.found > 0 && ranking.rows.iter().all(|&index| run.value(index, AxisKind::Cut) == Some(28.0)));
        let heavy =
            Limit { metric: Metric::TotalWeight, minimum: run.points()[10].get(Metric::TotalWeight), maximum: None };
        let limited = rank(&run, &[heavy], Sort::default());
        assert!(limited.found < rank(&run, &[], Sort::default()).found && limited.found > 0);
        let none = Limit { metric: Metric::TotalWeight, minimum: None, maximum: Some(0.0) };
        assert_eq!(rank(&run, &[none], Sort::default()).sentence(&run, Sort::default()), "0 found.");
    }

    #[test]
    fn of_equal_matches_the_one_nearest_the_middle_of_its_limits_leads() {
        let run = run();
        let foc = |index: &usize| run.points()[*index].get(Metric::FrontOfCentre).unwrap();
        let all = rank(&run, &[], Sort::default());
        let (least, most) =
            (all.rows.iter().map(foc).fold(f64::MAX, f64::min), all.rows.iter().map(foc).fold(0.0, f64::max));
        let limit = Limit { metric: Metric::FrontOfCentre, minimum: Some(least), maximum: Some(most) };
        let limited = rank(&run, &[limit], Sort::default());
        assert_eq!(limited.found, all.found);
        let key = |index: &usize| {
            let grade = (run.points()[*index].cost_lb.unwrap() / GRADE_LB) as u32;
            (grade, limit.off_middle(&run.points()[*index]).unwrap())
        };
        assert!(limited.rows.iter().map(key).is_sorted_by(|a, b| a <= b));
    }

    #[test]
    fn own_shafts_come_before_samples_that_match_as_well() {
        let mut setup = Setup::default();
        let matched = clothyard_core::Evaluation::of(&setup).recommendation.unwrap().shaft;
        let place = setup.shafts.iter().position(|shaft| *shaft == matched).unwrap();
        setup.shafts.push(clothyard_core::schema::StockShaft { name: "Mine".to_owned(), ..matched });
        let own = setup.shafts.len() - 1;
        let axes = vec![axis(AxisKind::Shaft, &[place as f64, own as f64]), axis(AxisKind::Point, &[100.0])];
        let run = run_of(&setup, axes);
        assert_eq!(rank(&run, &[], Sort::default()).rows, [1, 0]);
    }

    /// Of tubes of every bore, at every cut in quarters of an inch, the first is what is recommended; the recommended cut
    /// is found in eighths.
    #[test]
    fn the_recommended_arrow_comes_first() {
        for (kind, pounds, draw, point) in [
            (BowKind::Compound, 60.0, 28.5, 100.0),
            (BowKind::Compound, 47.0, 30.0, 120.0),
            (BowKind::Compound, 24.0, 24.0, 75.0),
            (BowKind::Recurve, 40.0, 28.0, 100.0),
            (BowKind::Longbow, 45.0, 27.0, 125.0),
        ] {
            let mut setup = Setup::default().with(Field::PeakDrawWeight, pounds).unwrap();
            setup = setup.with(Field::DrawLength, draw).unwrap().with(Field::PointMass, point).unwrap();
            setup.choose(kind);
            setup.shafts.retain(|shaft| !shaft.is_solid());
            let all = Evaluation::of(&setup);
            let found = all.recommendation.unwrap();
            let shortest = safety::shortest_cut_in(&all.resolved);
            // No more than the room to grow is proposed for a light bow.
            let longest = if all.resolved.is_light_bow() { all.resolved.suggested_cut_in() + 2.0 } else { draw + 1.5 };
            let cuts = (-8..=8).map(|quarters| found.cut_in + 0.25 * f64::from(quarters));
            let cuts: Vec<_> = cuts.filter(|&cut| cut >= shortest && cut <= longest).collect();
            let shafts: Vec<_> = (0..setup.shafts.len()).map(|place| place as f64).collect();
            let axes =
                vec![axis(AxisKind::Shaft, &shafts), axis(AxisKind::Cut, &cuts), axis(AxisKind::Point, &[point])];
            let run = run_of(&setup, axes);
            let first = rank(&run, &[], Sort::default()).rows[0];
            assert_eq!(setup.shafts[first / cuts.len()].name, found.shaft.name, "{kind:?} {pounds}");
            let cut = cuts[first % cuts.len()];
            assert!((cut - found.cut_in).abs() <= 0.25, "{kind:?} {pounds}: {cut} {}", found.cut_in);
        }
    }

    #[test]
    fn a_row_says_what_it_is_and_what_comes_of_it() {
        let run = run();
        let format = CellFormat::new("match", &[], &Units::ARCHERY);
        let ranking = rank(&run, &[], Sort::default());
        let sentence = ranking.sentence(&run, Sort::default());
        assert_eq!(sentence, format!("{} of 20 within the limits, best first.", ranking.found));
        let by_speed = Sort { by: Column::Result(Metric::LaunchSpeed), descending: true };
        assert!(ranking.sentence(&run, by_speed).ends_with(", sorted by launch speed, highest first."));
        let row = RowWords::new(&run, ranking.rows[0], &format).unwrap();
        assert!(row.matches.ends_with("lb ✓"), "{row:?}");
        let headings: Vec<_> = Column::all(&run).map(|column| column.heading(&Units::ARCHERY)).collect();
        assert_eq!(
            headings.join("; "),
            "Match; Point weight, gr; Cut length, in; Total weight, gr; FOC, %; Launch speed, fps; Kinetic energy, ft-lb; \
             GPP, gpp"
        );
        assert_eq!(row.cells.len(), 7);
        assert!(row.cells.iter().all(|words| words.parse::<f64>().is_ok()), "{row:?}");
        assert_eq!(Column::all(&run).count(), 1 + row.cells.len());
        assert_eq!(RowWords::new(&run, 99, &format), None);
    }
}
