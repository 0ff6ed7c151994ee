//! Which shaft of the list suits a setup at which cut, and what the defaults of the shaft's fields and of the cut are.
//!
//! Shaft and cut are chosen together: a stiff shaft may be left longer, a weak one cut shorter. What is unsafe is not
//! proposed; where no shaft is safe with the present point, every point one can buy is tried.

mod search;

use crate::eval::POINT_WEIGHTS_GR;
use crate::eval::cost::{SAME_BORE_IN, is_usual_bore};
use crate::eval::recommendation::{Neighbor, Recommendation};
use crate::schema::{Field, OwnPart, StockShaft, Value};
use crate::setup::{Resolved, Setup};
use search::{Pick, Search};
use std::cell::OnceCell;

/// An ideal spine this close to the middle of two, as a share, is between them (common practice, no source).
const BETWEEN: f64 = 0.025;

/// Under this share of its target a shaft is too stiff for a light bow, too, where a softer one is sold; the softest sold,
/// in thousandths of an inch (common practice, no source).
const FAR_TOO_STIFF: f64 = 0.75;
const SOFTEST_SOLD: f64 = 2100.0;

/// What a search of the list found: the default shaft with its cut, and what is recommended.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Found {
    /// Place in the list of the shaft whose numbers are the defaults, and its cut.
    pub default: Option<(usize, f64)>,
    /// What is recommended, by places in the list.
    pub recommended: Option<Places>,
}

/// A [`Recommendation`] by places in the list of shafts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Places {
    pub shaft: usize,
    pub cut_in: f64,
    pub point_gr: Option<f64>,
    pub neighbor: Option<(usize, f64, Option<f64>)>,
    pub between: bool,
    pub wanted_beyond: Option<f64>,
}

/// The shafts of a setup's list that can be chosen, and the choices among them.
#[derive(Clone, Debug)]
pub struct ShaftChoice<'a> {
    setup: &'a Setup,
    /// Places in the list, the stiffest first.
    candidates: Vec<usize>,
    found: OnceCell<Found>,
    own_cut_in: OnceCell<Option<f64>>,
}

impl<'a> ShaftChoice<'a> {
    /// Lists the candidates: every shaft, or those of the bore that the user gave; the stiffest first.
    #[must_use]
    pub fn new(setup: &'a Setup) -> Self {
        Self { setup, candidates: candidates(setup), found: OnceCell::new(), own_cut_in: OnceCell::new() }
    }

    /// The same where all was found before.
    #[must_use]
    pub(super) fn with_found(setup: &'a Setup, found: Found, own_cut_in: Option<f64>) -> Self {
        Self { found: OnceCell::from(found), own_cut_in: OnceCell::from(own_cut_in), ..Self::new(setup) }
    }

    /// A value for every field of the setup, those of the shaft and the cut as they are proposed.
    #[must_use]
    pub fn resolve(&self) -> Resolved {
        let own = self.given_spine().map(|spine| self.between(spine)).or_else(|| self.has_tube().then_some(None));
        let Some(own) = own else {
            let default = self.found().default;
            let shaft = default.and_then(|(place, _)| self.setup.shafts.get(place)).or_else(|| self.stiffest());
            let resolved = Resolved::new(self.setup, shaft.unwrap_or(&any_shaft()));
            return self.with_cut(resolved, default.map(|(_, cut)| cut));
        };
        let shaft = own.or_else(|| self.stiffest().cloned()).unwrap_or_else(any_shaft);
        self.with_cut(Resolved::new(self.setup, &shaft), self.own_cut_in(&shaft))
    }

    /// Whether the user's shaft is a tube whose spine is computed.
    fn has_tube(&self) -> bool {
        self.setup.get(Field::Wall).is_some() && Resolved::new(self.setup, &any_shaft()).has_own_shaft()
    }

    fn with_cut(&self, resolved: Resolved, cut_in: Option<f64>) -> Resolved {
        match cut_in {
            Some(cut) if !resolved.is_user_given(Field::CutLength) => resolved.cut_to(cut),
            _ => resolved,
        }
    }

    /// The default cut of the user's own shaft: the one that suits it best.
    pub(super) fn own_cut_in(&self, shaft: &StockShaft) -> Option<f64> {
        *self.own_cut_in.get_or_init(|| {
            let resolved = Resolved::new(self.setup, shaft);
            (!resolved.is_user_given(Field::CutLength)).then_some(())?;
            Search::new(&resolved, &self.setup.own_parts, None)?.own_cut_in()
        })
    }

    /// The default cut where the user gave a spine and no cut, if it was computed.
    pub(super) fn known_own_cut_in(&self) -> Option<f64> {
        self.own_cut_in.get().copied().flatten()
    }

    /// What the list was searched for. Computed when it is first asked for: it costs some dozen column loads.
    pub(super) fn found(&self) -> &Found {
        self.found.get_or_init(|| {
            let Some(shaft) = self.stiffest() else { return Found::default() };
            let resolved = Resolved::new(self.setup, shaft);
            let cut_in = resolved.is_user_given(Field::CutLength).then(|| resolved.number(Field::CutLength));
            self.search(&resolved, cut_in, &self.setup.own_parts)
        })
    }

    /// What is recommended; none where no shaft of the list can be shot safely.
    #[must_use]
    pub fn recommendation(&self) -> Option<Recommendation> {
        self.named(self.found().recommended?)
    }

    /// The spine of the shaft that would be recommended with other values in the fields, whatever shaft they have, at a
    /// cut or at the one that suits best.
    #[must_use]
    pub fn spine_for(&self, resolved: &Resolved, cut_in: Option<f64>, own_parts: &[OwnPart]) -> Option<f64> {
        let places = self.search(resolved, cut_in, own_parts).recommended?;
        Some(self.setup.shafts.get(places.shaft)?.static_spine_thousandths)
    }

    fn search(&self, resolved: &Resolved, cut_in: Option<f64>, own_parts: &[OwnPart]) -> Found {
        let Some(mut search) = Search::new(resolved, own_parts, cut_in) else { return Found::default() };
        let (best, next) = search.best_two(self);
        let mut found = Found { default: best.map(|pick| (pick.place, pick.cut_in)), recommended: None };
        if let Some(best) = best.filter(|pick| pick.is_safe) {
            found.recommended = Some(self.places(&search, best, next, None));
            return found;
        }
        let mut least: Option<Pick> = None;
        for grains in POINT_WEIGHTS_GR {
            search = search.with_point(grains);
            let (best, next) = search.best_two(self);
            if let Some(best) = best.filter(|pick| pick.is_safe && pick.is_better_than(least)) {
                least = Some(best);
                found.recommended = Some(self.places(&search, best, next, Some(grains)));
            }
        }
        found
    }

    fn places(&self, search: &Search<'_>, best: Pick, next: Option<Pick>, point_gr: Option<f64>) -> Places {
        let spine = |pick: Pick| self.setup.shafts.get(pick.place).map_or(0.0, |shaft| shaft.static_spine_thousandths);
        let middle = next.map(|next| (spine(best) + spine(next)) / 2.0);
        let ideal = spine(best) / best.share_at_start;
        let neighbor = next.and_then(|pick| {
            let shaft = self.setup.shafts.get(pick.place)?;
            let (cut_in, point_gr) = search.neighbor(shaft, pick)?;
            Some((pick.place, cut_in, point_gr))
        });
        Places {
            shaft: best.place,
            cut_in: best.cut_in,
            point_gr,
            between: neighbor.is_some() && middle.is_some_and(|middle| (ideal - middle).abs() <= BETWEEN * middle),
            neighbor,
            wanted_beyond: self.wanted_beyond(search, best),
        }
    }

    /// The spine that is wanted, where it is beyond the end of the list.
    fn wanted_beyond(&self, search: &Search<'_>, best: Pick) -> Option<f64> {
        let spine_at = |place: &usize| self.setup.shafts.get(*place).map(|shaft| shaft.static_spine_thousandths);
        let spine = spine_at(&best.place)?;
        let stiffest = Some(spine) == self.candidates.first().and_then(spine_at);
        let softest = Some(spine) == self.candidates.last().and_then(spine_at);
        let (wanted, stiff) = (spine / best.share, best.leans_stiff());
        // Stiff is fine on a light bow, within reason, and no softer shaft than this is sold.
        let too_stiff = stiff && (!search.is_light() || (best.share < FAR_TOO_STIFF && wanted <= SOFTEST_SOLD));
        ((stiffest && best.leans_weak()) || (softest && too_stiff)).then_some(wanted)
    }

    fn named(&self, places: Places) -> Option<Recommendation> {
        let shaft = |place: usize| self.setup.shafts.get(place).cloned();
        let neighbor = places
            .neighbor
            .and_then(|(place, cut_in, point_gr)| Some(Neighbor { shaft: shaft(place)?, cut_in, point_gr }));
        Some(Recommendation {
            shaft: shaft(places.shaft)?,
            cut_in: places.cut_in,
            point_gr: places.point_gr,
            neighbor,
            between: places.between,
            wanted_beyond: places.wanted_beyond,
        })
    }

    /// The candidates with their places in the list.
    fn shafts(&self) -> impl DoubleEndedIterator<Item = (usize, &'a StockShaft)> {
        let setup = self.setup;
        self.candidates.iter().filter_map(|&place| Some((place, setup.shafts.get(place)?)))
    }

    fn stiffest(&self) -> Option<&'a StockShaft> {
        self.shafts().next().map(|(_, shaft)| shaft)
    }

    fn given_spine(&self) -> Option<f64> {
        match self.setup.get(Field::StaticSpine) {
            Some(Value::Number(spine)) => Some(spine),
            _ => None,
        }
    }

    /// A shaft of the given spine between its neighbors of the list, for weight and diameter; beyond the list's ends the
    /// shaft at that end, with the spine given.
    fn between(&self, spine: f64) -> Option<StockShaft> {
        let usual = |shaft: &StockShaft| is_usual_bore(shaft.bore_in);
        let all = || self.shafts().map(|(_, shaft)| shaft);
        let above = |any: bool| all().find(|shaft| shaft.static_spine_thousandths >= spine && (any || usual(shaft)));
        let below =
            |any: bool| all().rev().find(|shaft| shaft.static_spine_thousandths <= spine && (any || usual(shaft)));
        let (above, below) = match (above(false), below(false)) {
            (None, None) => (above(true), below(true)),
            found => found,
        };
        let (low, high) = (below.or(above)?, above.or(below)?);
        let gap = high.static_spine_thousandths - low.static_spine_thousandths;
        let share = if gap > 0.0 { (spine - low.static_spine_thousandths) / gap } else { 0.0 };
        let mix = |a: f64, b: f64| a + share * (b - a);
        Some(StockShaft {
            name: String::new(),
            static_spine_thousandths: spine,
            shaft_gr_per_in: mix(low.shaft_gr_per_in, high.shaft_gr_per_in),
            outer_diameter_in: mix(low.outer_diameter_in, high.outer_diameter_in),
            bore_in: mix(low.bore_in, high.bore_in),
            full_length_in: 0.0,
            on_rack: 0.0,
        })
    }
}

/// Tubes, of the bore that the user gave if one was, or of the bores that shafts of the outside diameter given have; solid
/// shafts where the user wants wood, or there are no others.
fn candidates(setup: &Setup) -> Vec<usize> {
    let solid = setup.wants_solid();
    let of_material = |shaft: &&StockShaft| shaft.is_solid() == solid;
    let any = !setup.shafts.iter().any(|shaft| of_material(&shaft));
    let listed = || setup.shafts.iter().enumerate().filter(|(_, shaft)| any || of_material(shaft));
    let off = |shaft: &StockShaft| match (setup.in_force(Field::Bore), setup.get(Field::OuterDiameter)) {
        (Some(Value::Number(bore)), _) if !solid => (shaft.bore_in - bore).abs(),
        (_, Some(Value::Number(outer))) if !solid => {
            let alike = listed().filter(|(_, other)| (other.bore_in - shaft.bore_in).abs() <= SAME_BORE_IN);
            let ends = alike.fold((f64::INFINITY, 0.0_f64), |(low, high), (_, other)| {
                (low.min(other.outer_diameter_in), high.max(other.outer_diameter_in))
            });
            (ends.0 - outer).max(outer - ends.1).max(0.0)
        }
        _ => 0.0,
    };
    let nearest = listed().map(|(_, shaft)| off(shaft)).fold(f64::INFINITY, f64::min);
    let spine = |place: usize| setup.shafts.get(place).map_or(0.0, |shaft| shaft.static_spine_thousandths);
    let mut list: Vec<usize> = Vec::new();
    for (place, shaft) in listed().filter(|(_, shaft)| off(shaft) <= nearest + SAME_BORE_IN) {
        // A sort of the library's would cost a kilobyte of wasm.
        let at = list.partition_point(|&other| spine(other) <= shaft.static_spine_thousandths);
        list.insert(at, place);
    }
    list
}

/// A common shaft, for an empty list.
fn any_shaft() -> StockShaft {
    StockShaft {
        name: String::new(),
        static_spine_thousandths: 400.0,
        shaft_gr_per_in: 8.3,
        outer_diameter_in: 0.272,
        bore_in: 0.204,
        full_length_in: 0.0,
        on_rack: 0.0,
    }
}
