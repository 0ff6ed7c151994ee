//! The few combinations worth a look: within the limits, the best matched first.
//!
//! A shaft's own spine varies by some percent, so matches within one grade of each other
//! ([`GRADE`]) are equally good; among these the one nearest the middle of its limits leaves the most room
//! on both sides.

use crate::analysis::combine::{Cell, Interest};

/// Width of a grade of match, as a share of the target: matches closer than this cannot be told apart
/// (from memory, low confidence).
pub const GRADE: f64 = 0.02;

/// A limit on a number of interest, in its saved unit, ends included.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limit {
    /// Of what.
    pub what: Interest,
    /// Least allowed, if there is a least.
    pub minimum: Option<f64>,
    /// Most allowed, if there is a most.
    pub maximum: Option<f64>,
}

impl Limit {
    /// Whether a combination keeps it; one without the number does not.
    #[must_use]
    pub fn keeps(&self, cell: &Cell) -> bool {
        cell.get(self.what).is_some_and(|number| {
            self.minimum.is_none_or(|least| number >= least) && self.maximum.is_none_or(|most| number <= most)
        })
    }

    /// How far a combination stands from the middle: 0 there, 1 at either end; none where it has no two ends.
    fn off_middle(&self, cell: &Cell) -> Option<f64> {
        let (least, most) = (self.minimum?, self.maximum?);
        let half = (most - least) / 2.0;
        if half > 0.0 { Some((cell.get(self.what)? - least - half).abs() / half) } else { None }
    }
}

/// The place in the list of the first limit a combination breaks; none where it keeps them all.
#[must_use]
pub fn failed(cell: &Cell, limits: &[Limit]) -> Option<usize> {
    limits.iter().position(|limit| !limit.keeps(cell))
}

/// Why a combination stands behind the one before it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reason {
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
pub struct Ranked {
    /// The combination.
    pub cell: Cell,
    /// How far it is from an ideal match, as a share: a load half its target is as far off as one double it.
    pub off_match: f64,
    /// How far it stands from the middle of the limit whose end it is nearest: 0 in the middle, 1 at an end;
    /// 0 where no limit has two ends.
    pub off_middle: f64,
    /// Why it stands behind the one before it.
    pub reason: Reason,
}

impl Ranked {
    /// None where a limit is broken or there is no match to rank by.
    fn new(cell: &Cell, limits: &[Limit]) -> Option<Self> {
        let share = cell.get(Interest::Match).filter(|&share| share > 0.0 && failed(cell, limits).is_none())?;
        let off_middle = limits.iter().filter_map(|limit| limit.off_middle(cell)).fold(0.0, f64::max);
        Some(Self { cell: *cell, off_match: share.max(1.0 / share) - 1.0, off_middle, reason: Reason::First })
    }

    fn grade(&self) -> u32 {
        (self.off_match / GRADE) as u32
    }

    /// Why it stands behind another; none where it stands before it.
    fn behind(&self, other: &Self) -> Option<Reason> {
        let order = [
            (f64::from(self.grade()), f64::from(other.grade()), Reason::LessMatched),
            (self.off_middle, other.off_middle, Reason::NearerALimit),
            (self.off_match, other.off_match, Reason::LessClose),
            (self.cell.index as f64, other.cell.index as f64, Reason::Later),
        ];
        let (mine, theirs, reason) = order.into_iter().find(|(mine, theirs, _)| mine.total_cmp(theirs).is_ne())?;
        (mine > theirs).then_some(reason)
    }
}

/// The best `most` combinations that keep every limit and have a match, the best first.
#[must_use]
pub fn shortlist(cells: &[Cell], limits: &[Limit], most: usize) -> Vec<Ranked> {
    let mut list: Vec<Ranked> = Vec::new();
    for ranked in cells.iter().filter_map(|cell| Ranked::new(cell, limits)) {
        let at = list.partition_point(|other| ranked.behind(other).is_some());
        if at < most {
            list.truncate(most - 1);
            list.insert(at, ranked);
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
    use crate::analysis::combine::{INTEREST_COUNT, evaluate_piece};
    use crate::analysis::grid::{Axis, AxisKind, Grid};
    use crate::testing::held;
    use clothyard_core::setup::Setup;
    use proptest::prelude::*;

    fn cell(index: usize, share: f64, foc: f64) -> Cell {
        let mut numbers = [None; INTEREST_COUNT];
        numbers[Interest::Match as usize] = Some(share);
        numbers[Interest::FrontOfCentre as usize] = Some(foc);
        Cell { index, outputs: numbers, danger: None }
    }

    fn limit(what: Interest, minimum: Option<f64>, maximum: Option<f64>) -> Limit {
        Limit { what, minimum, maximum }
    }

    #[test]
    fn each_reason_in_turn() {
        let limits = [limit(Interest::FrontOfCentre, Some(10.0), Some(14.0))];
        let cells = [
            cell(0, 1.05, 12.0),
            cell(1, 1.0, 13.0),
            cell(2, 1.01, 12.0),
            cell(3, 0.995, 13.0),
            cell(4, 1.0, 13.0),
            cell(5, 1.0, 9.9),
        ];
        let list: Vec<_> =
            shortlist(&cells, &limits, 9).iter().map(|ranked| (ranked.cell.index, ranked.reason)).collect();
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
        assert_eq!(shortlist(&cells, &limits, 2).len(), 2);
        assert_eq!(shortlist(&cells, &limits, 0), []);
    }

    #[test]
    fn half_a_load_is_as_far_off_as_double() {
        let list = shortlist(&[cell(0, 0.5, 12.0), cell(1, 2.0, 12.0)], &[], 5);
        assert_eq!(list[0].off_match, list[1].off_match);
        assert_eq!((list[0].off_match, list[0].off_middle), (1.0, 0.0));
    }

    #[test]
    fn the_first_limit_broken_is_named() {
        let limits = [
            limit(Interest::Match, None, Some(1.1)),
            limit(Interest::FrontOfCentre, Some(10.0), None),
            limit(Interest::LaunchSpeed, None, None),
        ];
        assert_eq!(failed(&cell(0, 1.2, 5.0), &limits), Some(0));
        assert_eq!(failed(&cell(0, 1.1, 9.9), &limits), Some(1));
        assert_eq!(failed(&cell(0, 1.1, 10.0), &limits), Some(2), "there is no speed");
        assert_eq!(failed(&cell(0, 1.1, 10.0), &limits[..2]), None);
    }

    #[test]
    fn of_a_bow_s_own_shafts_the_page_s_nearest_comes_first() {
        let setup = Setup::default();
        let axes = vec![
            Axis { what: AxisKind::Shaft, values: (10..20).map(f64::from).collect() },
            Axis { what: AxisKind::Point, values: vec![100.0] },
        ];
        let grid = Grid::new(axes, &setup).unwrap();
        let list = shortlist(&evaluate_piece(&grid, &held(&setup), 0, grid.count()), &[], 3);
        let nearest = clothyard_core::Evaluation::of(&setup).nearest.unwrap();
        assert_eq!(setup.shafts[10 + list[0].cell.index], nearest);
    }

    proptest! {
        #[test]
        fn it_is_the_head_of_a_full_sort(
            shares in prop::collection::vec((0.9..1.1f64, 8.0..16.0f64), 0..60), most in 0..10usize,
        ) {
            let limits = [limit(Interest::FrontOfCentre, Some(10.0), Some(14.0))];
            let cells: Vec<_> =
                shares.into_iter().enumerate().map(|(index, (share, foc))| cell(index, share, foc)).collect();
            let mut sorted: Vec<_> = cells.iter().filter(|cell| failed(cell, &limits).is_none()).collect();
            let off = |cell: &Cell| {
                let share = cell.get(Interest::Match).unwrap();
                share.max(1.0 / share) - 1.0
            };
            let middle = |cell: &Cell| (cell.get(Interest::FrontOfCentre).unwrap() - 12.0).abs() / 2.0;
            sorted.sort_by(|a, b| {
                let key = |cell: &Cell| ((off(cell) / GRADE).floor(), middle(cell), off(cell));
                key(a).partial_cmp(&key(b)).unwrap()
            });
            let expected: Vec<_> = sorted.into_iter().take(most).map(|cell| cell.index).collect();
            let got: Vec<_> = shortlist(&cells, &limits, most).iter().map(|ranked| ranked.cell.index).collect();
            prop_assert_eq!(got, expected);
        }
    }
}
