//! Where no combination keeps every limit: which limit prevents it, and how far it would have to move.

use super::limits::{Limit, first_broken};
use super::points::{GridPoint, Metric, danger_words};
use super::run::GridRun;
use clothyard_core::format;
use clothyard_core::units::Units;

/// The end of a limit that lets something through when it is moved.
#[derive(Clone, Debug, PartialEq)]
pub struct Loosening {
    /// Of what.
    pub metric: Metric,
    /// Whether it is the least allowed that is to go down, rather than the most that is to go up.
    pub least: bool,
    /// Where to, as it is typed in the units shown.
    pub entered: String,
    /// The same with its unit.
    pub words: String,
    /// How many combinations it lets through.
    pub count: usize,
    /// How far it has to go, as a share of the limit.
    by: f64,
}

/// Why nothing is found, and what would change it: in a sentence, and as one step where one is enough.
#[must_use]
pub fn explain(run: &GridRun, admitted: &[&GridPoint], limits: &[Limit], units: &Units) -> (String, Option<Loosening>) {
    let safe: Vec<_> = admitted.iter().copied().filter(|point| point.danger.is_none()).collect();
    if safe.is_empty() {
        let why = admitted.first().and_then(|point| Some((point, point.danger?)));
        let why = why.map(|(point, danger)| danger_words(danger, point, &run.resolved_of(point), units).1);
        return (format!("Every combination is unsafe. {}", why.unwrap_or_default()), None);
    }
    let ends = limits.iter().enumerate().flat_map(|(place, limit)| [(place, limit, true), (place, limit, false)]);
    let steps = ends.filter_map(|(place, limit, least)| step(&safe, limits, (place, limit, least), units));
    let nearest = steps.min_by(|one, other| one.by.total_cmp(&other.by));
    let Some(nearest) = nearest else {
        return ("More than one limit is in the way. Loosen two of them.".to_owned(), None);
    };
    let count = match nearest.count {
        1 => "1 combination".to_owned(),
        count => format!("{} combinations", format::grouped(count)),
    };
    if nearest.metric == Metric::Match {
        return (format!("No good match. Allow others: {count}."), None);
    }
    let label = format::lower_first(nearest.metric.label());
    (format!("Loosen {label} to {}: {count}.", nearest.words), Some(nearest))
}

/// What one end of a limit would have to be, were all the others kept; none where it is not that end that is in the way.
fn step(
    safe: &[&GridPoint],
    limits: &[Limit],
    (place, limit, least): (usize, &Limit, bool),
    units: &Units,
) -> Option<Loosening> {
    let end = if least { limit.minimum? } else { limit.maximum? };
    let moved = |to: f64| {
        let mut moved = limits.to_vec();
        let limit = moved.get_mut(place)?;
        *(if least { &mut limit.minimum } else { &mut limit.maximum }) = Some(to);
        Some(moved)
    };
    let open = moved(if least { f64::MIN } else { f64::MAX })?;
    let kept = |limits: &[Limit], point: &GridPoint| first_broken(point, limits).is_none();
    let numbers = safe.iter().filter(|point| kept(&open, point)).filter_map(|point| point.get(limit.metric));
    let nearest = numbers.reduce(if least { f64::max } else { f64::min })?;
    let (entered, to) = rounded_outward(limit.metric, nearest, least, units);
    let after = moved(to)?;
    Some(Loosening {
        metric: limit.metric,
        least,
        words: format!("{}\u{a0}{}", format::for_people(&entered), units.of(limit.metric.quantity()).symbol),
        entered,
        count: safe.iter().filter(|point| kept(&after, point)).count(),
        by: ((end - nearest) / end.abs().max(f64::MIN_POSITIVE)).abs(),
    })
}

/// A number rounded as it is shown, but never to where it would be outside: as typed, and in the saved unit.
fn rounded_outward(metric: Metric, saved: f64, least: bool, units: &Units) -> (String, f64) {
    let quantity = metric.quantity();
    let decimals = units.of(quantity).decimals;
    let scale = 10_u32.pow(decimals as u32);
    let shown = units.show(quantity, saved) * f64::from(scale);
    // Shown values are above zero here: a cast rounds them down.
    let down = shown as u32;
    let whole = if least || shown <= f64::from(down) { down } else { down + 1 };
    let rounded = f64::from(whole) / f64::from(scale);
    (format::trimmed(rounded, decimals), units.save(quantity, rounded))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::analysis::combinations::axis::{Axis, AxisKind};
    use crate::analysis::combinations::grid::Grid;
    use crate::testing::held;
    use clothyard_core::eval::Baseline;
    use clothyard_core::setup::Setup;

    fn run(cuts: &[f64]) -> GridRun {
        let setup = Setup::default();
        let axes = vec![
            Axis { kind: AxisKind::Point, values: vec![100.0, 125.0] },
            Axis { kind: AxisKind::Cut, values: cuts.to_vec() },
        ];
        let grid = Grid::new(axes, &setup).unwrap();
        let mut run = GridRun::new(grid, held(&setup), &Baseline::new(&setup).resolved).unwrap();
        run.evaluate(usize::MAX);
        run
    }

    fn limit(metric: Metric, minimum: Option<f64>, maximum: Option<f64>) -> Limit {
        Limit { metric, minimum, maximum }
    }

    fn ask(run: &GridRun, limits: &[Limit]) -> (String, Option<Loosening>) {
        explain(run, &run.points().iter().collect::<Vec<_>>(), limits, &Units::ARCHERY)
    }

    #[test]
    fn the_limit_in_the_way_is_named_with_what_it_takes() {
        let run = run(&[28.0, 29.0]);
        let fastest = run.points().iter().filter_map(|point| point.get(Metric::LaunchSpeed)).fold(0.0, f64::max);
        let limits = [limit(Metric::TotalWeight, Some(100.0), None), limit(Metric::LaunchSpeed, Some(400.0), None)];
        let (words, step) = ask(&run, &limits);
        let step = step.unwrap();
        let to: f64 = step.entered.parse().unwrap();
        assert!(to <= fastest && to > fastest - 1.0, "{to} {fastest}");
        assert_eq!((step.metric, step.least, step.count), (Metric::LaunchSpeed, true, 1));
        assert_eq!(words, format!("Loosen launch speed to {to}\u{a0}fps: 1 combination."));
        let (_, step) = ask(&run, &[limit(Metric::FrontOfCentre, None, Some(1.0))]);
        let step = step.unwrap();
        let least = run.points().iter().filter_map(|point| point.get(Metric::FrontOfCentre)).fold(f64::MAX, f64::min);
        assert!(!step.least && step.entered.parse::<f64>().unwrap() >= least && step.count >= 1);
    }

    #[test]
    fn what_one_limit_cannot_change_is_said() {
        let both = [limit(Metric::TotalWeight, Some(9e3), None), limit(Metric::LaunchSpeed, Some(4e3), None)];
        assert!(ask(&run(&[28.0]), &both).0.starts_with("More than one limit is in the way."));
        let (words, step) = ask(&run(&[20.0]), &[]);
        assert!(words.starts_with("Every combination is unsafe. Arrow too short: "), "{words}");
        assert_eq!(step, None);
        let matched = [limit(Metric::Match, Some(7.0), Some(7.1))];
        assert!(ask(&run(&[28.0]), &matched).0.starts_with("No good match. Allow others: "));
    }

    #[test]
    fn rounding_never_leaves_the_number_outside() {
        let units = Units::metric();
        for saved in [250.2, 250.5, 250.8, 300.0] {
            let [low, high] = [true, false].map(|least| rounded_outward(Metric::LaunchSpeed, saved, least, &units));
            assert!(low.1 <= saved + 1e-9 && saved <= high.1 + 1e-9, "{saved} {low:?} {high:?}");
        }
    }
}
