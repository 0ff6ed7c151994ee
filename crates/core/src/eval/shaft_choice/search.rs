//! The search of the list: for each shaft the cut that suits it best, and what that costs in pounds.

use super::ShaftChoice;
use crate::eval::cost::{Costs, off};
use crate::eval::{BAND, POINT_WEIGHTS_GR, safety};
use crate::schema::{Field, OwnPart, StockShaft};
use crate::setup::{BowEstimate, PhysicalModel, Resolved, target_load};
use crate::units::{Quantity, SAME, clamp, is_same, up_to_an_eighth};
use clothyard_mechanics::beam::BucklingShape;
use core::cell::RefCell;

/// A cut is at most so much longer than the draw length, in inches (common practice, no source).
const PAST_DRAW_IN: f64 = 1.5;

/// A shaft farther off than this share at the suggested cut is not tried at others: no cut brings it near.
const FAR_OFF: f64 = 0.35;

/// No neighbor is named with a point that differs by more grains than this: another point is then another arrow (our own
/// margin, no source).
const MOST_POINT_STEP_GR: f64 = 50.0;

/// A shaft of the list at its cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Pick {
    /// Place in the list.
    pub place: usize,
    /// Its cut, in inches.
    pub cut_in: f64,
    /// Column load over target at that cut, and at the suggested one.
    pub share: f64,
    pub share_at_start: f64,
    /// Whether it is neither badly weak nor lighter than the bow allows.
    pub is_safe: bool,
    cost_lb: f64,
}

impl Pick {
    pub(super) fn is_weak(&self) -> bool {
        self.share > 1.0 + BAND
    }

    pub(super) fn is_stiff(&self) -> bool {
        self.share < 1.0 - BAND
    }

    /// Whether it is in the outer half of the band, or past it.
    pub(super) fn leans_weak(&self) -> bool {
        self.share > 1.0 + BAND / 2.0
    }

    pub(super) fn leans_stiff(&self) -> bool {
        self.share < 1.0 - BAND / 2.0
    }

    pub(super) fn is_better_than(&self, other: Option<Self>) -> bool {
        other.is_none_or(|other| (!self.is_safe, self.cost_lb) < (!other.is_safe, other.cost_lb))
    }
}

/// A cut that was tried: its place in eighths of an inch, its share, and its cost in pounds.
#[derive(Clone, Copy, Debug)]
struct Tried {
    cut_in: f64,
    share: f64,
    cost_lb: f64,
}

/// A bow and an arrow whose shaft and cut are searched for.
pub(super) struct Search<'a> {
    bow: BowEstimate,
    resolved: Resolved,
    own_parts: &'a [OwnPart],
    target_load: f64,
    pounds: f64,
    costs: Costs,
    /// The cut that is given, if it is safe.
    given_cut_in: Option<f64>,
    shortest_in: f64,
    longest_in: f64,
    light: bool,
    /// Of the last arrow tried.
    shape: RefCell<BucklingShape>,
}

impl<'a> Search<'a> {
    /// None where the fields make no bow.
    pub(super) fn new(resolved: &Resolved, own_parts: &'a [OwnPart], cut_in: Option<f64>) -> Option<Self> {
        let number = |field| resolved.number(field);
        let (pounds, draw) = (number(Field::PeakDrawWeight), number(Field::DrawLength));
        let light = resolved.is_light_bow();
        let shortest = safety::shortest_cut_in(resolved);
        let suggested = resolved.suggested_cut_in().max(up_to_an_eighth(shortest));
        let costs = Costs::new(resolved, number(Field::PointMass));
        let (shortest_in, longest_in) = if light { (suggested, costs.cut_in) } else { (shortest, draw + PAST_DRAW_IN) };
        // Neither shaft, cut nor point alters the bow: it is estimated once.
        let bow = BowEstimate::new(resolved).ok()?;
        Some(Self {
            target_load: target_load(resolved),
            bow,
            resolved: *resolved,
            own_parts,
            pounds,
            given_cut_in: cut_in.filter(|&cut| cut >= shortest - SAME),
            costs,
            shortest_in,
            longest_in: longest_in.max(suggested),
            light,
            shape: RefCell::default(),
        })
    }

    pub(super) fn is_light(&self) -> bool {
        self.light
    }

    /// The same with another point.
    pub(super) fn with_point(mut self, grains: f64) -> Self {
        self.resolved = self.resolved.with(Field::PointMass, grains);
        self
    }

    /// The two shafts of different spine that cost least.
    pub(super) fn best_two(&self, choice: &ShaftChoice<'_>) -> (Option<Pick>, Option<Pick>) {
        let mut best: Option<(Pick, f64)> = None;
        let mut next: Option<(Pick, f64)> = None;
        for (place, shaft) in choice.shafts() {
            let Some(pick) = self.pick(place, shaft) else { continue };
            let new = (pick, shaft.static_spine_thousandths);
            let same = |old: Option<(Pick, f64)>| old.is_some_and(|(_, spine)| is_same(spine, new.1));
            if pick.is_better_than(best.map(|(pick, _)| pick)) {
                next = if same(best) { next } else { best };
                best = Some(new);
            } else if !same(best) && pick.is_better_than(next.map(|(pick, _)| pick)) {
                next = Some(new);
            }
        }
        (best.map(|(pick, _)| pick), next.map(|(pick, _)| pick))
    }

    /// A shaft of the list at the cut that costs least; none where it has no column load at any.
    fn pick(&self, place: usize, shaft: &StockShaft) -> Option<Pick> {
        let arrow = self.resolved.on_shaft(shaft);
        let (start, best, heavy) = self.search_cuts(&arrow, shaft.full_length_in)?;
        Some(Pick {
            place,
            cut_in: best.cut_in,
            share: best.share,
            share_at_start: start.share,
            is_safe: heavy && !safety::badly_weak(best.share * self.target_load, best.share),
            cost_lb: best.cost_lb,
        })
    }

    /// The cut that suits the shaft these inputs have.
    pub(super) fn own_cut_in(&self) -> Option<f64> {
        self.search_cuts(&self.resolved, 0.0).map(|(_, best, _)| best.cut_in)
    }

    /// The cut tried first, the one that costs least, and whether the arrow is heavy enough then; none where the shaft is
    /// too short as it is sold. A full length of 0 is not known.
    fn search_cuts(&self, arrow: &Resolved, full_length_in: f64) -> Option<(Tried, Tried, bool)> {
        let full_length_in = if full_length_in > 0.0 { full_length_in } else { f64::INFINITY };
        let (mut low, high) = match self.given_cut_in {
            Some(cut) => (cut, cut),
            None => (up_to_an_eighth(self.shortest_in), self.longest_in.min(full_length_in)),
        };
        if low > high || high > full_length_in {
            return None;
        }
        let mut start = clamp(self.costs.cut_in, low, high);
        let lightest = start + self.short_of_weight_in(arrow, start)?;
        let heavy = lightest <= high + SAME;
        if heavy && lightest > low {
            low = up_to_an_eighth(lightest).min(high);
            start = start.max(low);
        }
        let first = self.try_cut(arrow, start)?;
        let end = if first.share > 1.0 { low } else { high };
        let far = (first.share - 1.0).abs() > FAR_OFF && !self.light;
        if is_same(end, start) || far {
            return Some((first, first, heavy));
        }
        let last = self.try_cut(arrow, end)?;
        Some((first, self.between(arrow, first, last), heavy))
    }

    /// The cheapest of two cuts and some between them: by the secant of pounds off, in eighths.
    fn between(&self, arrow: &Resolved, first: Tried, last: Tried) -> Tried {
        let (mut a, mut b) = (first, last);
        let mut best = cheaper(first, last);
        for _ in 0..3 {
            let (off_a, off_b) = (off(a.share), off(b.share));
            if off_a * off_b >= 0.0 {
                break;
            }
            let middle = a.cut_in + (b.cut_in - a.cut_in) * off_a / (off_a - off_b);
            let cut = (middle * 8.0 + 0.5).floor() / 8.0;
            if is_same(cut, a.cut_in) || is_same(cut, b.cut_in) {
                break;
            }
            let Some(tried) = self.try_cut(arrow, cut) else { break };
            best = cheaper(best, tried);
            if off(tried.share) * off_a > 0.0 {
                a = tried;
            } else {
                b = tried;
            }
        }
        best
    }

    fn try_cut(&self, arrow: &Resolved, cut_in: f64) -> Option<Tried> {
        let arrow = arrow.cut_to(cut_in);
        let model = PhysicalModel::on_bow(&self.bow, &arrow, self.own_parts).ok()?;
        let share = model.match_share(&mut self.shape.borrow_mut()).ok()?;
        Some(Tried { cut_in, share, cost_lb: self.costs.of(&arrow, share) })
    }

    /// By how much a shaft cut to `cut_in` must be longer to be heavy enough for the bow, in inches; negative where it
    /// may be shorter.
    fn short_of_weight_in(&self, arrow: &Resolved, cut_in: f64) -> Option<f64> {
        let arrow = arrow.cut_to(cut_in);
        let model = PhysicalModel::on_bow(&self.bow, &arrow, self.own_parts).ok()?;
        let grains = Quantity::Mass.from_si(model.arrow().ok()?.mass_kg());
        let short_of = safety::least_weight_gr(&arrow, self.pounds) - grains;
        Some(short_of / arrow.number(Field::ShaftLinearMass))
    }

    /// The cut, or the point one can buy, with which a shaft that is not the first choice matches.
    pub(super) fn neighbor(&self, shaft: &StockShaft, pick: Pick) -> Option<(f64, Option<f64>)> {
        let cut = (pick.is_safe && !pick.is_weak() && !pick.is_stiff()).then_some((pick.cost_lb, pick.cut_in, None));
        let now = self.resolved.number(Field::PointMass);
        let near = |grains: &f64| (grains - now).abs() <= MOST_POINT_STEP_GR && !is_same(*grains, now);
        let points = POINT_WEIGHTS_GR.into_iter().filter(near);
        let mut best = cut;
        for grains in points {
            let arrow = self.resolved.on_shaft(shaft).with(Field::PointMass, grains);
            let start = self.given_cut_in.unwrap_or(self.costs.cut_in);
            if shaft.full_length_in > 0.0 && start > shaft.full_length_in {
                continue;
            }
            let Some(tried) = self.try_cut(&arrow, start) else { continue };
            let heavy = self.short_of_weight_in(&arrow, start).is_some_and(|inches| inches <= 0.0);
            let matched = (1.0 - BAND..=1.0 + BAND).contains(&tried.share);
            if heavy && matched && best.is_none_or(|(least, ..)| tried.cost_lb < least) {
                best = Some((tried.cost_lb, start, Some(grains)));
            }
        }
        best.map(|(_, cut, point)| (cut, point))
    }
}

fn cheaper(a: Tried, b: Tried) -> Tried {
    if b.cost_lb < a.cost_lb { b } else { a }
}
