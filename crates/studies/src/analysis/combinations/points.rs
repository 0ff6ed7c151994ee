//! The points of a grid, each a combination, evaluated in pieces, so that a worker can do them.

use crate::analysis::combinations::grid::Grid;
use clothyard_core::eval::cost::Costs;
use clothyard_core::eval::safety::{self, Danger};
use clothyard_core::eval::{BAND, Outputs, ResolvedSetup};
use clothyard_core::format;
use clothyard_core::schema::{Field, Output};
use clothyard_core::setup::{Resolved, Setup};
use clothyard_core::units::{Quantity, Units};

/// A number that a combination is judged by.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
#[allow(missing_docs, reason = "all but the match are the results of the same name")]
pub enum Metric {
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

/// How many metrics there are.
pub const METRIC_COUNT: usize = Metric::SuitsTo as usize + 1;

impl Metric {
    /// All of them, in the order of a point's numbers.
    pub const ALL: [Self; METRIC_COUNT] = [
        Self::TotalWeight,
        Self::FrontOfCentre,
        Self::LaunchSpeed,
        Self::KineticEnergy,
        Self::GrainsPerPound,
        Self::Match,
        Self::SuitsFrom,
        Self::SuitsTo,
    ];

    /// Its result, its key and its label.
    const fn row(self) -> (Option<Output>, &'static str, &'static str) {
        match self {
            Self::TotalWeight => (Some(Output::TotalWeight), "totalWeight", "Total weight"),
            Self::FrontOfCentre => (Some(Output::FrontOfCentre), "frontOfCentre", "FOC"),
            Self::LaunchSpeed => (Some(Output::LaunchSpeed), "launchSpeed", "Launch speed"),
            Self::KineticEnergy => (Some(Output::KineticEnergy), "kineticEnergy", "Kinetic energy"),
            Self::GrainsPerPound => (Some(Output::GrainsPerPound), "grainsPerPound", "GPP"),
            Self::Match => (None, "match", "Match"),
            Self::SuitsFrom => (Some(Output::SuitsFrom), "suitsFrom", "Match band from"),
            Self::SuitsTo => (Some(Output::SuitsTo), "suitsTo", "Match band up to"),
        }
    }

    /// The result that it is; none for the match, which is a share of two.
    #[must_use]
    pub const fn output(self) -> Option<Output> {
        self.row().0
    }

    /// Its key in the markup.
    #[must_use]
    pub const fn key(self) -> &'static str {
        self.row().1
    }

    /// The one with a key.
    #[must_use]
    pub fn by_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|metric| metric.key() == key)
    }

    /// What it is called in a sentence.
    #[must_use]
    pub const fn label(self) -> &'static str {
        self.row().2
    }

    /// What it measures.
    #[must_use]
    pub fn quantity(self) -> Quantity {
        self.output().map_or(Quantity::Ratio, |output| output.row().quantity)
    }

    /// Its number with its unit.
    pub(crate) fn measured(self, number: f64, units: &Units) -> String {
        format::measured(self.quantity(), number, units)
    }

    fn of(self, outputs: &Outputs) -> Option<f64> {
        match self.output() {
            Some(output) => outputs.get(output),
            None => outputs.match_share(),
        }
    }
}

/// One combination of a grid, evaluated.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GridPoint {
    /// Its place in the grid.
    pub index: usize,
    /// The number of each [`Metric`], in saved units; none where it cannot be computed.
    pub numbers: [Option<f64>; METRIC_COUNT],
    /// What it costs in pounds ([`Costs`]); none where it has no match.
    pub cost_lb: Option<f64>,
    /// What makes it unsafe, the worst first; none where nothing does as far as is known.
    pub danger: Option<Danger>,
}

/// How many plain numbers a point is sent as.
pub const POINT_NUMBERS: usize = METRIC_COUNT + 2;

impl GridPoint {
    /// The combination that a setup is; another point than `point_gr` costs something.
    fn new(index: usize, setup: &Setup, point_gr: f64) -> Self {
        let at = ResolvedSetup::new(setup);
        let numbers = Metric::ALL.map(|metric| metric.of(&at.outputs));
        let cost = |share| Costs::new(&at.resolved, point_gr).of(&at.resolved, share);
        let cost_lb = at.outputs.match_share().map(cost);
        let danger = safety::dangers(&at).next();
        Self { index, numbers, cost_lb, danger }
    }

    /// One of its numbers, in its saved unit.
    #[must_use]
    pub fn get(&self, metric: Metric) -> Option<f64> {
        self.numbers.get(metric as usize).copied().flatten()
    }

    /// Whether its column load is within the match range.
    #[must_use]
    pub fn is_good_match(&self) -> bool {
        self.get(Metric::Match).is_some_and(|share| (share - 1.0).abs() <= BAND)
    }

    /// One of its numbers in words.
    #[must_use]
    pub fn words(&self, metric: Metric, units: &Units) -> String {
        let words = self.get(metric).map_or_else(|| "–".to_owned(), |number| metric.measured(number, units));
        if metric == Metric::FrontOfCentre { format!("FOC {words}") } else { words }
    }

    /// Draw weight that the arrow suits best, less what the bow pulls, in pounds.
    #[must_use]
    pub fn over_draw_weight_lb(&self) -> Option<f64> {
        let best = self.get(Metric::SuitsFrom)? / (1.0 - BAND);
        // The load grows in proportion to the draw weight, so that the bow pulls that share of the best.
        Some(best * (1.0 - self.get(Metric::Match)?))
    }

    /// All but its place as plain numbers, not-a-number for none: its numbers, its cost and the place of its danger in
    /// [`Danger::ALL`].
    #[must_use]
    pub fn to_numbers(&self) -> [f64; POINT_NUMBERS] {
        let danger = self.danger.and_then(|danger| Danger::ALL.iter().position(|&each| each == danger));
        let mut numbers = [f64::NAN; POINT_NUMBERS];
        let all = self.numbers.into_iter().chain([self.cost_lb, danger.map(|place| place as f64)]);
        for (slot, number) in numbers.iter_mut().zip(all) {
            *slot = number.unwrap_or(f64::NAN);
        }
        numbers
    }

    /// The point that [`GridPoint::to_numbers`] wrote.
    #[must_use]
    pub fn from_numbers(index: usize, numbers: &[f64; POINT_NUMBERS]) -> Self {
        let mut given = numbers.iter().map(|&number| (!number.is_nan()).then_some(number));
        let values = Metric::ALL.map(|_| given.next().flatten());
        let cost_lb = given.next().flatten();
        let danger = given.next().flatten().and_then(|place| Danger::ALL.get(place as usize).copied());
        Self { index, numbers: values, cost_lb, danger }
    }
}

/// Least and most of each metric over some points.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct MetricRanges([Option<(f64, f64)>; METRIC_COUNT]);

impl MetricRanges {
    /// Takes in a point.
    pub fn include(&mut self, point: &GridPoint) {
        for (range, number) in self.0.iter_mut().zip(point.numbers) {
            if let Some(number) = number {
                let (least, most) = range.unwrap_or((number, number));
                *range = Some((least.min(number), most.max(number)));
            }
        }
    }

    /// Where a number is between least and most, from 0 to 1.
    #[must_use]
    pub fn share(&self, metric: Metric, number: f64) -> f64 {
        let (least, most) = self.0.get(metric as usize).copied().flatten().unwrap_or_default();
        if most > least { (number - least) / (most - least) } else { 0.0 }
    }
}

/// Evaluates `count` combinations from `start`, or as many as there are, of a setup whose shaft is held
/// ([`hold_shaft`](crate::analysis::combinations::grid::hold_shaft)).
#[must_use]
pub fn evaluate_piece(grid: &Grid, held: &Setup, start: usize, count: usize) -> Vec<GridPoint> {
    let mut setup = held.clone();
    let point_gr = ResolvedSetup::new(held).resolved.number(Field::PointMass);
    let end = start.saturating_add(count).min(grid.count());
    let point = |index| {
        let could_be_put = grid.put(&mut setup, index);
        let none = GridPoint { index, numbers: [None; METRIC_COUNT], cost_lb: None, danger: None };
        if could_be_put { GridPoint::new(index, &setup, point_gr) } else { none }
    };
    (start..end).map(point).collect()
}

/// What is said of a combination's danger: in two or three words, and as a sentence.
#[must_use]
pub fn danger_words(danger: Danger, point: &GridPoint, resolved: &Resolved, units: &Units) -> (&'static str, String) {
    let says = |quantity, saved| format::measured(quantity, saved, units);
    match danger {
        Danger::TooLight => {
            let ratio = point.get(Metric::GrainsPerPound).unwrap_or(0.0);
            let [ratio, least] =
                [ratio, safety::least_gr_per_lb(resolved)].map(|saved| says(Quantity::MassPerDraw, saved));
            ("too light", format!("Arrow too light: {ratio}, minimum {least}."))
        }
        Danger::ShaftBehindRest | Danger::ShaftShort => {
            let shortest = says(Quantity::Length, safety::shortest_cut_in(resolved));
            ("too short", format!("Arrow too short: shortest safe cut {shortest}."))
        }
        Danger::BladesNearRest => {
            let gap = says(Quantity::Length, resolved.number(Field::ShortestReach));
            ("blades too near", format!("Blades less than {gap} ahead of the rest at full draw."))
        }
        Danger::WoodOnCompound => ("wood", "Wood shaft on a compound bow. It can shatter on the shot.".to_owned()),
        Danger::BadlyWeak => ("too weak", "Shaft far too weak for this bow. It can break on the shot.".to_owned()),
        Danger::NotPointFirst => ("unstable", "Not stable: does not fly point first.".to_owned()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::analysis::combinations::axis::{Axis, AxisKind};
    use crate::testing::held;
    use clothyard_core::Evaluation;
    use clothyard_core::eval::Severity;
    use clothyard_core::testing::any_setup;
    use proptest::prelude::*;

    fn axis(kind: AxisKind, from: f64, step: f64, count: u32) -> Axis {
        Axis { kind, values: (0..count).map(|place| from + step * f64::from(place)).collect() }
    }

    /// Whether every point of a grid, in pieces of seven, is the single evaluation bit for bit.
    fn check_points(grid: &Grid, held: &Setup) {
        let points: Vec<_> =
            (0..grid.count()).step_by(7).flat_map(|start| evaluate_piece(grid, held, start, 7)).collect();
        assert_eq!(points.len(), grid.count());
        for (index, point) in points.iter().enumerate() {
            assert_eq!(point.index, index);
            let alone = Evaluation::of(&grid.setup_at(held, index).unwrap());
            for metric in Metric::ALL {
                let expected = metric.of(&alone.outputs).map(f64::to_bits);
                assert_eq!(point.get(metric).map(f64::to_bits), expected, "{index} {metric:?}");
            }
            let dangers = alone.warnings.iter().filter(|each| each.severity() == Severity::Danger).count();
            assert_eq!(point.danger.is_some(), dangers > 0, "{index} {:?}", alone.warnings);
            assert_eq!(GridPoint::from_numbers(index, &point.to_numbers()), *point);
        }
    }

    #[test]
    fn every_metric_has_its_place_and_its_key() {
        for (place, metric) in Metric::ALL.into_iter().enumerate() {
            assert_eq!((metric as usize, Metric::by_key(metric.key())), (place, Some(metric)));
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
        let points = evaluate_piece(&Grid::new(axes, &setup).unwrap(), &held(&setup), 0, 2);
        assert!(points[0].get(Metric::TotalWeight).is_some() && points[1].get(Metric::Match).is_some());
        assert_eq!(points[0].get(Metric::Match), None);
    }

    #[test]
    fn pounds_over_the_draw_weight_are_the_page_s_own() {
        let setup = Setup::default().with(Field::PointMass, 150.0).unwrap();
        let all = Evaluation::of(&setup);
        let expected = all.outputs.get(Output::IdealDrawWeight).unwrap() - all.resolved.number(Field::PeakDrawWeight);
        let over = GridPoint::new(0, &setup, 150.0).over_draw_weight_lb().unwrap();
        assert!((over - expected).abs() < 1e-9, "{over} {expected}");
    }

    #[test]
    fn ranges_reach_from_the_least_to_the_most() {
        let point = |weight| {
            let mut numbers = [None; METRIC_COUNT];
            numbers[Metric::TotalWeight as usize] = weight;
            GridPoint { index: 0, numbers, cost_lb: None, danger: None }
        };
        let mut ranges = MetricRanges::default();
        for weight in [Some(420.0), None, Some(400.0), Some(440.0)] {
            ranges.include(&point(weight));
        }
        assert_eq!([400.0, 410.0, 440.0].map(|weight| ranges.share(Metric::TotalWeight, weight)), [0.0, 0.25, 1.0]);
        assert_eq!(ranges.share(Metric::Match, 1.0), 0.0);
        let [foc, weight] =
            [Metric::FrontOfCentre, Metric::TotalWeight].map(|metric| point(Some(7.0)).words(metric, &Units::ARCHERY));
        assert_eq!((foc.as_str(), weight.as_str()), ("FOC –", "7\u{a0}gr"));
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
        fn a_point_is_the_single_evaluation_bit_for_bit(setup in any_setup(), shaft in any::<bool>()) {
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
            check_points(&Grid::new(axes, &setup).unwrap(), &held(&setup));
        }
    }
}
