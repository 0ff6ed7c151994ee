//! The inverse questions: which spine, point or cut would match. All by bracketing on the same column load.

use crate::eval::{BAND, Outputs, safety};
use crate::schema::{Field, Kind, Output, OwnPart};
use crate::setup::{BowEstimate, ModelError, PhysicalModel, Resolved};
use crate::units::clamp;
use clothyard_mechanics::{Solution, find_root};

/// An inverse question: what is varied, the output that is its answer, and the outputs that are the ends of the range
/// over which the arrow still suits.
struct Inverse {
    field: Field,
    exact: Output,
    window: Option<(Output, Output)>,
}

/// No point is proposed that is heavier than this share of the present one (our own margin, no source).
const MOST_POINT_SHARE: f64 = 2.0;

/// No cut is proposed that is longer than the draw length by more than this, in inches (common practice, no source).
const MOST_CUT_PAST_DRAW_IN: f64 = 2.0;

/// Every inverse question.
const INVERSES: [Inverse; 3] = [
    Inverse { field: Field::StaticSpine, exact: Output::IdealSpine, window: None },
    Inverse {
        field: Field::PointMass,
        exact: Output::PointForMatch,
        window: Some((Output::LightestPoint, Output::HeaviestPoint)),
    },
    Inverse {
        field: Field::CutLength,
        exact: Output::CutForMatch,
        window: Some((Output::ShortestCut, Output::LongestCut)),
    },
];

/// Every output that answers an inverse question, which costs some dozens of others.
pub fn answers() -> Vec<Output> {
    let mut outputs = Vec::new();
    for inverse in &INVERSES {
        outputs.push(inverse.exact);
        if let Some((from, to)) = inverse.window {
            outputs.extend([from, to]);
        }
    }
    outputs
}

/// Every output that may be out of reach.
pub fn exact_answers() -> impl Iterator<Item = Output> {
    INVERSES.iter().map(|inverse| inverse.exact)
}

/// An inverse question whose answer is outside the field's range.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OutOfReach {
    /// The output that has no number for it.
    pub output: Output,
    /// The end of the range that comes nearest, in the saved unit.
    pub nearest: f64,
}

/// Answers the inverse questions; where there is no column load there is nothing to ask.
///
/// All other fields, the default ones too, keep their values while one is varied.
pub fn compute_inverse(outputs: &mut Outputs, resolved: &Resolved, own_parts: &[OwnPart]) -> Vec<OutOfReach> {
    let mut out_of_reach = Vec::new();
    if outputs.get(Output::ColumnLoad).is_none() {
        return out_of_reach;
    }
    // Neither spine, point nor cut alters the bow: it is estimated once.
    let Ok(bow) = BowEstimate::new(resolved) else { return out_of_reach };
    for &Inverse { field, exact, window } in &INVERSES {
        let Some(range) = safe_range(field, outputs, resolved) else { continue };
        let ask = Question { bow: &bow, resolved, own_parts, field, range };
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

/// The part of a field's range in which a value may be proposed: none that would leave the arrow too light for the bow,
/// the shaft too short or far too long, or the point out of reach. None where nothing is left.
fn safe_range(field: Field, outputs: &Outputs, resolved: &Resolved) -> Option<(f64, f64)> {
    let Kind::Number { minimum, maximum, .. } = field.input().kind else { return None };
    let least_weight = safety::least_weight_gr(resolved, resolved.number(Field::PeakDrawWeight));
    let short_of = least_weight - outputs.get(Output::TotalWeight).unwrap_or(0.0);
    let least = match field {
        Field::PointMass => resolved.number(Field::PointMass) + short_of,
        Field::CutLength => {
            let lightest = resolved.number(Field::CutLength) + short_of / resolved.number(Field::ShaftLinearMass);
            safety::shortest_cut_in(resolved).max(lightest)
        }
        _ => minimum,
    };
    let most = match field {
        Field::PointMass => MOST_POINT_SHARE * resolved.number(Field::PointMass),
        Field::CutLength => {
            (resolved.number(Field::DrawLength) + MOST_CUT_PAST_DRAW_IN).max(resolved.number(Field::CutLength))
        }
        _ => maximum,
    };
    let (low, high) = (clamp(least, minimum, maximum), clamp(most, minimum, maximum));
    (low < high).then_some((low, high))
}

/// One field varied over a range; the column load grows with it.
struct Question<'a> {
    bow: &'a BowEstimate,
    resolved: &'a Resolved,
    own_parts: &'a [OwnPart],
    field: Field,
    range: (f64, f64),
}

impl Question<'_> {
    /// Column load over target with the field at `value`.
    fn share_at(&self, value: f64) -> clothyard_mechanics::Result<f64> {
        let model = PhysicalModel::on_bow(self.bow, &self.resolved.with(self.field, value), self.own_parts);
        model.and_then(|model| model.match_share()).map_err(|error| match error {
            ModelError::Mechanics(error) => error,
            // Neither spine, point nor cut touches the bore.
            ModelError::NoStroke { .. } | ModelError::BoreTooWide { .. } => {
                clothyard_mechanics::Error::NoConvergence { iterations: 0 }
            }
        })
    }

    /// The value at which the column load is this share of its target.
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
