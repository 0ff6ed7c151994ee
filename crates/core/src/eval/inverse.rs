//! The questions asked backwards: which spine, point or cut would match, and which stock shaft comes
//! nearest. All by bracketing on the same column load.

use crate::eval::{BAND, Outputs, safety};
use crate::schema::Output;
use crate::schema::StockShaft;
use crate::schema::{Field, Kind};
use crate::setup::Resolved;
use crate::setup::{ModelError, PhysicalModel};
use crate::setup::{OwnPart, Setup};
use crate::units::clamp;
use clothyard_mechanics::{Solution, find_root};

/// The bore proposed where the user names none.
const USUAL_BORE_IN: f64 = 0.204;

/// The shafts of the list to choose from: those whose bore is nearest the one wanted,
/// the stiffest first.
#[must_use]
pub fn candidates(setup: &Setup) -> Vec<&StockShaft> {
    let wanted = match setup.get(Field::Bore) {
        Some(crate::schema::Value::Number(bore)) => bore,
        _ => USUAL_BORE_IN,
    };
    let off = |shaft: &StockShaft| (shaft.bore_in - wanted).abs();
    let nearest = setup.shafts.iter().map(off).fold(f64::INFINITY, f64::min);
    let mut list: Vec<&StockShaft> = Vec::new();
    for shaft in setup.shafts.iter().filter(|shaft| off(shaft) <= nearest + 0.002) {
        let at = list.partition_point(|other| other.static_spine_thousandths <= shaft.static_spine_thousandths);
        list.insert(at, shaft);
    }
    list
}

/// A shaft of the given spine between its neighbours of the list, for weight and diameter.
#[must_use]
pub fn between(candidates: &[&StockShaft], spine: f64) -> Option<StockShaft> {
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

/// The candidate whose own column load, with its own weight and diameters, is nearest its target.
#[must_use]
pub fn nearest_shaft<'a>(setup: &Setup, candidates: &[&'a StockShaft]) -> Option<&'a StockShaft> {
    let left = with_shaft_left(setup);
    let mut best: Option<(f64, &StockShaft)> = None;
    for &shaft in candidates {
        let resolved = Resolved::new(&left, shaft);
        let Ok(share) = share_of_target(&resolved, &setup.own_parts) else { continue };
        // A load too low by some share is as far off as one too high by it.
        let off = if share > 1.0 { share } else { 1.0 / share };
        if best.is_none_or(|(least, _)| off < least) {
            best = Some((off, shaft));
        }
    }
    best.map(|(_, shaft)| shaft)
}

/// The build with spine, weight and diameters handed back to the list.
fn with_shaft_left(setup: &Setup) -> Setup {
    let mut left = setup.fields_alone();
    for field in [Field::StaticSpine, Field::ShaftLinearMass, Field::BareShaft, Field::OuterDiameter, Field::Bore] {
        // Handing a field back cannot fail.
        let _ = left.set(field, None);
    }
    left
}

/// Column load over its target.
fn share_of_target(resolved: &Resolved, own_parts: &[OwnPart]) -> Result<f64, ModelError> {
    let model = PhysicalModel::new(resolved, own_parts)?;
    Ok(model.column_load()? / model.target_load)
}

/// A backward question whose answer lies outside the field's range.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OutOfReach {
    /// The question.
    pub output: Output,
    /// The end of the range that comes nearest, in the saved unit.
    pub nearest: f64,
}

/// The answers to the backward questions.
///
/// Weights and sizes that were left to the page are held as they stand while one thing is varied.
pub fn compute_inverse(outputs: &mut Outputs, resolved: &Resolved, own_parts: &[OwnPart]) -> Vec<OutOfReach> {
    let mut out_of_reach = Vec::new();
    if outputs.get(Output::ColumnLoad).is_none() {
        return out_of_reach;
    }
    // Nothing is proposed that would leave the arrow too light for the bow, or the shaft too short.
    let least_weight = safety::least_weight_gr(resolved, resolved.number(Field::PeakDrawWeight));
    let short_of = least_weight - outputs.get(Output::TotalWeight).unwrap_or(0.0);
    let lightest = resolved.number(Field::PointMass) + short_of;
    let lighter = resolved.number(Field::CutLength) + short_of / resolved.number(Field::ShaftLinearMass);
    let shortest = safety::shortest_cut_in(resolved).max(lighter);
    let questions = [
        (Output::IdealSpine, None, Field::StaticSpine, None),
        (Output::PointForMatch, Some((Output::LightestPoint, Output::HeaviestPoint)), Field::PointMass, Some(lightest)),
        (Output::CutForMatch, Some((Output::ShortestCut, Output::LongestCut)), Field::CutLength, Some(shortest)),
    ];
    for (exact, window, field, least) in questions {
        let Kind::Number { minimum, maximum, .. } = field.input().kind else { continue };
        let range = (clamp(least.unwrap_or(minimum), minimum, maximum), maximum);
        if range.0 >= range.1 {
            continue;
        }
        let ask = Question { resolved, own_parts, field, range };
        match ask.solve(1.0) {
            Some(Solution::At(value)) => outputs.put(exact, value),
            Some(Solution::NoSignChange { nearest, .. }) => out_of_reach.push(OutOfReach { output: exact, nearest }),
            None => {}
        }
        if let Some((from, to)) = window
            && let Some((low, high)) = ask.window()
        {
            outputs.put(from, low);
            outputs.put(to, high);
        }
    }
    out_of_reach
}

/// One field varied over a range; the column load grows with it.
struct Question<'a> {
    resolved: &'a Resolved,
    own_parts: &'a [OwnPart],
    field: Field,
    range: (f64, f64),
}

impl Question<'_> {
    /// Column load over target with the field at `value`.
    fn share_at(&self, value: f64) -> clothyard_mechanics::Result<f64> {
        share_of_target(&self.resolved.with(self.field, value), self.own_parts).map_err(|error| match error {
            ModelError::Mechanics(error) => error,
            // Neither spine, point nor cut touches stroke or bore.
            _ => clothyard_mechanics::Error::NoConvergence { iterations: 0 },
        })
    }

    fn solve(&self, share: f64) -> Option<Solution> {
        let (low, high) = self.range;
        find_root(|value| Ok(self.share_at(value)? - share), low, high, (high - low) * 1e-9).ok()
    }

    /// The part of the range that stays within the band; `None` when no part does.
    fn window(&self) -> Option<(f64, f64)> {
        let (low, high) = self.range;
        let (at_low, at_high) = (self.share_at(low).ok()?, self.share_at(high).ok()?);
        if at_low > 1.0 + BAND || at_high < 1.0 - BAND {
            return None;
        }
        let edge = |share: f64, end: f64| match self.solve(share) {
            Some(Solution::At(value)) => Some(value),
            Some(Solution::NoSignChange { .. }) => Some(end),
            None => None,
        };
        Some((edge(1.0 - BAND, low)?, edge(1.0 + BAND, high)?))
    }
}

/// The two neighbours of the list between which the ideal spine is on the verge: within a twentieth of
/// their midpoint.
#[must_use]
pub fn verge(candidates: &[&StockShaft], ideal: f64) -> Option<(f64, f64)> {
    let above = candidates.iter().find(|shaft| shaft.static_spine_thousandths > ideal)?.static_spine_thousandths;
    let below = candidates.iter().rev().find(|shaft| shaft.static_spine_thousandths < ideal)?.static_spine_thousandths;
    let middle = (above + below) / 2.0;
    ((ideal - middle).abs() <= 0.05 * middle).then_some((below, above))
}
