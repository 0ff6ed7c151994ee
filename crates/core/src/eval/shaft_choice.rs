//! Which shaft of the list suits a setup, and which shaft's numbers are the defaults of the shaft's fields.

use crate::schema::{Field, OwnPart, ShaftMaterial, StockShaft, Value};
use crate::setup::{BowEstimate, PhysicalModel, Resolved, Setup};
use std::cell::OnceCell;

/// The bore proposed where the user gives none, in inches (common practice, no source).
const USUAL_BORE_IN: f64 = 0.204;

/// Bores this much farther than the nearest count as the same bore, in inches (our own margin, no source).
const SAME_BORE_IN: f64 = 0.002;

/// The shafts of a setup's list that can be chosen, and the choices among them.
#[derive(Clone, Debug)]
pub struct ShaftChoice<'a> {
    setup: &'a Setup,
    candidates: Vec<&'a StockShaft>,
    nearest: OnceCell<Option<&'a StockShaft>>,
}

impl<'a> ShaftChoice<'a> {
    /// Lists the candidates: the shafts whose bore is nearest the one wanted, the stiffest first.
    #[must_use]
    pub fn new(setup: &'a Setup) -> Self {
        Self { setup, candidates: candidates(setup), nearest: OnceCell::new() }
    }

    /// The same where the nearest shaft is known already.
    #[must_use]
    pub(super) fn with_nearest(setup: &'a Setup, nearest: Option<&'a StockShaft>) -> Self {
        Self { nearest: OnceCell::from(nearest), ..Self::new(setup) }
    }

    /// A value for every field of the setup, those of the shaft from its default shaft.
    #[must_use]
    pub fn resolve(&self) -> Resolved {
        Resolved::new(self.setup, &self.default_shaft())
    }

    /// The candidate whose own column load, with its own weight and diameters, is nearest its target; none where no
    /// candidate has a column load. Computed when it is first asked for: it costs one column load for each candidate.
    #[must_use]
    pub fn nearest(&self) -> Option<&'a StockShaft> {
        *self.nearest.get_or_init(|| {
            let first = self.candidates.first()?;
            self.nearest_for(&Resolved::new(self.setup, first), &self.setup.own_parts)
        })
    }

    /// The candidate that would be nearest with other values in the fields, whatever shaft they have.
    #[must_use]
    pub fn nearest_for(&self, resolved: &Resolved, own_parts: &[OwnPart]) -> Option<&'a StockShaft> {
        // No shaft alters the bow: it is estimated once.
        let bow = BowEstimate::new(resolved).ok()?;
        let mut best: Option<(f64, &StockShaft)> = None;
        for &shaft in &self.candidates {
            let model = PhysicalModel::on_bow(&bow, &resolved.on_shaft(shaft), own_parts);
            let Ok(share) = model.and_then(|model| model.match_share()) else { continue };
            // A load too low by some share is as far off as one too high by it.
            let off = if share > 1.0 { share } else { 1.0 / share };
            if best.is_none_or(|(least, _)| off < least) {
                best = Some((off, shaft));
            }
        }
        best.map(|(_, shaft)| shaft)
    }

    /// The shaft whose numbers are the defaults of the shaft's fields: one like the user's spine, else the nearest of
    /// the list, else the stiffest there is.
    fn default_shaft(&self) -> StockShaft {
        let given = self.setup.get(Field::StaticSpine);
        let like_it = given.and_then(|value| match value {
            Value::Number(spine) => between(&self.candidates, spine),
            Value::Choice(_) => None,
        });
        like_it
            .or_else(|| self.nearest().cloned())
            .or_else(|| self.candidates.first().map(|&shaft| shaft.clone()))
            .unwrap_or_else(any_shaft)
    }
}

fn candidates(setup: &Setup) -> Vec<&StockShaft> {
    let wood = setup.get(Field::ShaftMaterial) == Some(ShaftMaterial::Wood.into());
    let wanted = match setup.in_force(Field::Bore) {
        Some(Value::Number(bore)) => bore,
        _ if wood => 0.0,
        _ => USUAL_BORE_IN,
    };
    let off = |shaft: &StockShaft| (shaft.bore_in - wanted).abs();
    let nearest = setup.shafts.iter().map(off).fold(f64::INFINITY, f64::min);
    let mut list: Vec<&StockShaft> = Vec::new();
    for shaft in setup.shafts.iter().filter(|shaft| off(shaft) <= nearest + SAME_BORE_IN) {
        // A sort of the library's would cost a kilobyte of wasm.
        let at = list.partition_point(|other| other.static_spine_thousandths <= shaft.static_spine_thousandths);
        list.insert(at, shaft);
    }
    list
}

/// A shaft of the given spine between its neighbors of the list, for weight and diameter; beyond the list's ends the
/// shaft at that end, with the spine given.
fn between(candidates: &[&StockShaft], spine: f64) -> Option<StockShaft> {
    let above = candidates.iter().find(|shaft| shaft.static_spine_thousandths >= spine);
    let below = candidates.iter().rev().find(|shaft| shaft.static_spine_thousandths <= spine);
    let (low, high) = (*below.or(above)?, *above.or(below)?);
    let gap = high.static_spine_thousandths - low.static_spine_thousandths;
    let share = if gap > 0.0 { (spine - low.static_spine_thousandths) / gap } else { 0.0 };
    let mix = |a: f64, b: f64| a + share * (b - a);
    Some(StockShaft {
        name: String::new(),
        static_spine_thousandths: spine,
        shaft_gr_per_in: mix(low.shaft_gr_per_in, high.shaft_gr_per_in),
        outer_diameter_in: mix(low.outer_diameter_in, high.outer_diameter_in),
        bore_in: mix(low.bore_in, high.bore_in),
    })
}

/// A common shaft, for an empty list.
fn any_shaft() -> StockShaft {
    StockShaft {
        name: String::new(),
        static_spine_thousandths: 400.0,
        shaft_gr_per_in: 8.3,
        outer_diameter_in: 0.272,
        bore_in: 0.204,
    }
}
