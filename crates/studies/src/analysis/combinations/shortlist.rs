//! The shortlist: combinations within the limits, best match first.
//!
//! A shaft's own spine varies by some percent, so matches within one grade of each other
//! (`GRADE`) are equally good; among these the one nearest the middle of its limits leaves the most room
//! on both sides.

use super::cell_text::{CellFormat, signed_draw_weight};
use super::limits::{Limit, first_broken, is_allowed};
use super::points::{GridPoint, Metric};
use super::run::GridRun;
use clothyard_core::eval::BAND;
use clothyard_core::format;

/// How long the list is.
const MOST_ENTRIES: usize = 10;

/// Width of a grade of match, as a share of the target: matches closer than this cannot be told apart
/// (from memory, low confidence).
const GRADE: f64 = 0.02;

/// The best combinations, in words.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Shortlist {
    /// What the list is, in a sentence or two.
    pub sentence: String,
    /// The combinations, the best first.
    pub entries: Vec<EntryWords>,
}

/// A combination of the list in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct EntryWords {
    /// Its place in the grid.
    pub index: usize,
    /// What it is.
    pub combination: String,
    /// What comes of it.
    pub numbers: String,
    /// Why it comes where it does.
    pub reason: String,
}

impl Shortlist {
    /// The best combinations that are safe and keep every limit; empty while there are more to come.
    #[must_use]
    pub fn new(run: &GridRun, format: &CellFormat<'_>) -> Self {
        if !run.is_at_rest() {
            let sentence = "The best matches within your limits appear here.".to_owned();
            return Self { sentence, ..Self::default() };
        }
        let allowed = run.points().iter().filter(|point| is_allowed(point, format.limits));
        let allowed: Vec<_> = allowed.copied().collect();
        let list = shortlist(&allowed, format.limits, MOST_ENTRIES);
        let before = core::iter::once(None).chain(list.iter().map(Some));
        let words = |(entry, before): (&ShortlistEntry, _)| entry.words(run, format, before);
        let entries = list.iter().zip(before).map(words).collect();
        Self { sentence: sentence(run, format, allowed.len(), list.first()), entries }
    }
}

fn sentence(run: &GridRun, format: &CellFormat<'_>, allowed: usize, best: Option<&ShortlistEntry>) -> String {
    let among = if run.is_done() { "" } else { " of those calculated so far" };
    let Some(best) = best else {
        return format!("No combination{among} is safe and within every limit.");
    };
    let kept = match format.limits {
        [] => String::new(),
        _ => format!("{} within every limit{among}. ", format::grouped(allowed)),
    };
    let close = (best.point.get(Metric::Match).unwrap_or(0.0) - 1.0).abs() <= BAND;
    let what = if close { "Best matches first" } else { "No good match; closest first" };
    format!("{kept}{what}{among}. Tap one to apply it.")
}

/// Why a combination comes after the one before it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Reason {
    /// It does not: it is the first.
    First,
    /// It is less well matched.
    LessMatched,
    /// As well matched, but nearer the end of a limit.
    NearerALimit,
    /// As well matched and as far within the limits, but less close in the last decimals.
    LessClose,
    /// Alike in all; it comes later in the grid.
    Later,
}

/// A combination of the shortlist.
#[derive(Clone, Copy, Debug, PartialEq)]
struct ShortlistEntry {
    /// The combination.
    point: GridPoint,
    /// How far it is from an ideal match, as a share: a load half its target is as far off as one double it.
    off_match: f64,
    /// How far it is from the middle of the limit whose end it is nearest: 0 in the middle, 1 at an end;
    /// 0 where no limit has two ends.
    off_middle: f64,
    /// Why it comes after the one before it.
    reason: Reason,
}

impl ShortlistEntry {
    /// None where a limit is broken or there is no match to rank by.
    fn new(point: &GridPoint, limits: &[Limit]) -> Option<Self> {
        let share = point.get(Metric::Match).filter(|&share| share > 0.0 && first_broken(point, limits).is_none())?;
        let off_middle = limits.iter().filter_map(|limit| limit.off_middle(point)).fold(0.0, f64::max);
        Some(Self { point: *point, off_match: share.max(1.0 / share) - 1.0, off_middle, reason: Reason::First })
    }

    fn grade(&self) -> u32 {
        (self.off_match / GRADE) as u32
    }

    /// Why it comes after another; none where it comes before it.
    fn behind(&self, other: &Self) -> Option<Reason> {
        let order = [
            (f64::from(self.grade()), f64::from(other.grade()), Reason::LessMatched),
            (self.off_middle, other.off_middle, Reason::NearerALimit),
            (self.off_match, other.off_match, Reason::LessClose),
            (self.point.index as f64, other.point.index as f64, Reason::Later),
        ];
        let (mine, theirs, reason) = order.into_iter().find(|(mine, theirs, _)| mine.total_cmp(theirs).is_ne())?;
        (mine > theirs).then_some(reason)
    }

    fn words(&self, run: &GridRun, format: &CellFormat<'_>, before: Option<&Self>) -> EntryWords {
        let (point, units) = (&self.point, format.units);
        let over = |pounds: f64| format!("{} from its best-match draw weight", signed_draw_weight(-pounds, units));
        let metrics = [Metric::TotalWeight, Metric::FrontOfCentre, Metric::LaunchSpeed, Metric::KineticEnergy];
        let metrics = metrics.map(|metric| point.words(metric, units)).join(", ");
        EntryWords {
            index: point.index,
            combination: format::upper_first(&run.words(point.index, units)),
            numbers: format!("{}, {metrics}.", point.over_draw_weight_lb().map_or_else(String::new, over)),
            reason: self.reason_words(before),
        }
    }

    fn reason_words(&self, before: Option<&Self>) -> String {
        let percent = |entry: &Self| format!("{}%", format::fixed(entry.off_match * 100.0, 1));
        let own = percent(self);
        match self.reason {
            Reason::First => format!("First: {own} off an ideal match."),
            Reason::LessMatched => {
                let other = before.map_or_else(String::new, |before| format!(", the one above {}", percent(before)));
                format!("Weaker match: {own} off{other}.")
            }
            Reason::NearerALimit => "Same match as the one above, closer to a limit.".to_owned(),
            Reason::LessClose => {
                format!("Tied with the one above ({own} off).")
            }
            Reason::Later => "Same as the one above.".to_owned(),
        }
    }
}

/// The best `most` combinations that keep every limit and have a match, the best first.
fn shortlist(points: &[GridPoint], limits: &[Limit], most: usize) -> Vec<ShortlistEntry> {
    let mut list: Vec<ShortlistEntry> = Vec::new();
    for entry in points.iter().filter_map(|point| ShortlistEntry::new(point, limits)) {
        let at = list.partition_point(|other| entry.behind(other).is_some());
        if at < most {
            list.truncate(most - 1);
            list.insert(at, entry);
        }
    }
    for place in (1..list.len()).rev() {
        if let Some([before, behind]) = list.get_mut(place - 1..=place) {
            behind.reason = behind.behind(before).unwrap_or(Reason::Later);
        }
    }
    list
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::analysis::combinations::grid::{Axis, AxisKind, Grid};
    use crate::analysis::combinations::points::{METRIC_COUNT, evaluate_piece};
    use crate::testing::held;
    use clothyard_core::setup::Setup;
    use proptest::prelude::*;

    fn point(index: usize, share: f64, foc: f64) -> GridPoint {
        let mut numbers = [None; METRIC_COUNT];
        numbers[Metric::Match as usize] = Some(share);
        numbers[Metric::FrontOfCentre as usize] = Some(foc);
        GridPoint { index, numbers, danger: None }
    }

    fn limit(metric: Metric, minimum: Option<f64>, maximum: Option<f64>) -> Limit {
        Limit { metric, minimum, maximum }
    }

    #[test]
    fn each_reason_in_turn() {
        let limits = [limit(Metric::FrontOfCentre, Some(10.0), Some(14.0))];
        let points = [
            point(0, 1.05, 12.0),
            point(1, 1.0, 13.0),
            point(2, 1.01, 12.0),
            point(3, 0.995, 13.0),
            point(4, 1.0, 13.0),
            point(5, 1.0, 9.9),
        ];
        let list: Vec<_> =
            shortlist(&points, &limits, 9).iter().map(|entry| (entry.point.index, entry.reason)).collect();
        assert_eq!(
            list,
            [
                (2, Reason::First),
                (1, Reason::NearerALimit),
                (4, Reason::Later),
                (3, Reason::LessClose),
                (0, Reason::LessMatched),
            ]
        );
        assert_eq!(shortlist(&points, &limits, 2).len(), 2);
        assert_eq!(shortlist(&points, &limits, 0), []);
    }

    #[test]
    fn half_a_load_is_as_far_off_as_double() {
        let list = shortlist(&[point(0, 0.5, 12.0), point(1, 2.0, 12.0)], &[], 5);
        assert_eq!(list[0].off_match, list[1].off_match);
        assert_eq!((list[0].off_match, list[0].off_middle), (1.0, 0.0));
    }

    #[test]
    fn of_shafts_of_the_usual_bore_the_recommended_one_comes_first() {
        let setup = Setup::default();
        let all = setup.shafts.iter().enumerate();
        let usual: Vec<_> = all.filter(|(_, shaft)| shaft.bore_in == 0.204).map(|(place, _)| place).collect();
        let axes = vec![
            Axis { kind: AxisKind::Shaft, values: usual.iter().map(|&place| place as f64).collect() },
            Axis { kind: AxisKind::Point, values: vec![100.0] },
        ];
        let grid = Grid::new(axes, &setup).unwrap();
        let list = shortlist(&evaluate_piece(&grid, &held(&setup), 0, grid.count()), &[], 3);
        let recommended = clothyard_core::Evaluation::of(&setup).recommendation.unwrap().shaft;
        assert_eq!(setup.shafts[usual[list[0].point.index]], recommended);
    }

    #[test]
    fn the_list_says_what_it_is_and_why_each_comes_where_it_does() {
        let setup = Setup::default();
        let axes = vec![
            Axis { kind: AxisKind::Point, values: vec![90.0, 100.0, 600.0] },
            Axis { kind: AxisKind::Cut, values: vec![20.0, 28.0] },
        ];
        let grid = Grid::new(axes, &setup).unwrap();
        let resolved = clothyard_core::eval::Baseline::new(&setup).resolved;
        let mut run = GridRun::new(grid, held(&setup), &resolved).unwrap();
        let list = |run: &GridRun, limits: &[Limit]| {
            Shortlist::new(run, &CellFormat::new("match", limits, &clothyard_core::Units::ARCHERY))
        };
        assert!(
            list(&run, &[]).sentence.starts_with("The best matches within your limits")
                && list(&run, &[]).entries.is_empty()
        );
        run.evaluate(6);
        let best = list(&run, &[]);
        assert_eq!(best.sentence, "Best matches first. Tap one to apply it.");
        let indices: Vec<_> = best.entries.iter().map(|entry| entry.index).collect();
        assert_eq!(indices.len(), 2, "a cut behind the rest is unsafe, and so is the heaviest point: {indices:?}");
        let entry = &best.entries[0];
        assert!(
            entry.combination.starts_with("Point weight ") && entry.combination.ends_with(", cut length 28\u{a0}in")
        );
        assert!(
            entry.numbers.contains("\u{a0}lb from its best-match draw weight, ") && entry.numbers.ends_with("ft-lb."),
            "{entry:?}"
        );
        assert!(entry.reason.starts_with("First: ") && !best.entries[1].reason.starts_with("First"));
        let none = Limit { metric: Metric::TotalWeight, minimum: None, maximum: Some(0.0) };
        assert_eq!(list(&run, &[none]).sentence, "No combination is safe and within every limit.");
        let any = Limit { metric: Metric::TotalWeight, minimum: Some(0.0), maximum: None };
        assert!(list(&run, &[any]).sentence.starts_with("2 within every limit. Best matches first"));
    }

    proptest! {
        #[test]
        fn it_is_the_head_of_a_full_sort(
            shares in prop::collection::vec((0.9..1.1f64, 8.0..16.0f64), 0..60), most in 0..10usize,
        ) {
            let limits = [limit(Metric::FrontOfCentre, Some(10.0), Some(14.0))];
            let points: Vec<_> =
                shares.into_iter().enumerate().map(|(index, (share, foc))| point(index, share, foc)).collect();
            let mut sorted: Vec<_> = points.iter().filter(|point| first_broken(point, &limits).is_none()).collect();
            let off = |point: &GridPoint| {
                let share = point.get(Metric::Match).unwrap();
                share.max(1.0 / share) - 1.0
            };
            let middle = |point: &GridPoint| (point.get(Metric::FrontOfCentre).unwrap() - 12.0).abs() / 2.0;
            sorted.sort_by(|a, b| {
                let key = |point: &GridPoint| ((off(point) / GRADE).floor(), middle(point), off(point));
                key(a).partial_cmp(&key(b)).unwrap()
            });
            let expected: Vec<_> = sorted.into_iter().take(most).map(|point| point.index).collect();
            let got: Vec<_> = shortlist(&points, &limits, most).iter().map(|entry| entry.point.index).collect();
            prop_assert_eq!(got, expected);
        }
    }
}
