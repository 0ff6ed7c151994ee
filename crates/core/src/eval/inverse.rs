//! The inverse questions: which spine, point or cut would match. All are asked of the same column load.

mod curve;

use crate::eval::{BAND, Outputs, safety};
use crate::schema::{Field, Kind, Output, OwnPart};
use crate::setup::{BowEstimate, PhysicalModel, Resolved};
use crate::units::clamp;
use clothyard_mechanics::Solution;
use clothyard_mechanics::beam::BucklingShape;
use curve::Curve;

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

/// Answers are exact to this share of the range that is searched.
const TOLERANCE: f64 = 1e-10;

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
    let Some(share_now) = outputs.match_share() else { return out_of_reach };
    // Neither spine, point nor cut alters the bow: it is estimated once.
    let Ok(bow) = BowEstimate::new(resolved) else { return out_of_reach };
    let mut shape = BucklingShape::default();
    for &Inverse { field, exact, window } in &INVERSES {
        let Some((low, high)) = safe_range(field, outputs, resolved) else { continue };
        // Column load over target with the field at a value: it grows with each of them.
        let share_at = |value| {
            let model = PhysicalModel::on_bow(&bow, &resolved.with(field, value), own_parts).ok()?;
            model.match_share(&mut shape).ok()
        };
        let now = (resolved.number(field), share_now);
        let Some(mut shares) = Curve::new(share_at, (low, high), now, (high - low) * TOLERANCE) else { continue };
        match shares.argument_of(1.0) {
            Some(Solution::At(value)) => outputs.put(exact, value),
            Some(Solution::NoSignChange { nearest, .. }) => out_of_reach.push(OutOfReach { output: exact, nearest }),
            None => {}
        }
        if let Some((from, to)) = window
            && let Some((low, high)) = within_band(&mut shares)
        {
            outputs.put(from, low);
            outputs.put(to, high);
        }
    }
    out_of_reach
}

/// The part of the range that stays within the band; none when no part does.
fn within_band(shares: &mut Curve<impl FnMut(f64) -> Option<f64>>) -> Option<(f64, f64)> {
    let ((low, at_low), (high, at_high)) = shares.ends()?;
    if at_low > 1.0 + BAND || at_high < 1.0 - BAND {
        return None;
    }
    let mut edge = |share: f64, end: f64| match shares.argument_of(share)? {
        Solution::At(value) => Some(value),
        Solution::NoSignChange { .. } => Some(end),
    };
    Some((edge(1.0 - BAND, low)?, edge(1.0 + BAND, high)?))
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::eval::ResolvedSetup;
    use crate::setup::{Setup, samples};
    use crate::testing::any_setup;
    use clothyard_mechanics::{Error, find_root};
    use proptest::prelude::*;

    /// Column load over target with a field at a value, from a cold start.
    fn share(at: &ResolvedSetup, own_parts: &[OwnPart], field: Field, value: f64) -> Option<f64> {
        let model = PhysicalModel::new(&at.resolved.with(field, value), own_parts).ok()?;
        model.match_share(&mut BucklingShape::default()).ok()
    }

    /// The value at a share by bracketing.
    fn bracketed(at: &ResolvedSetup, own_parts: &[OwnPart], field: Field, wanted: f64) -> Option<Solution> {
        let (low, high) = safe_range(field, &at.outputs, &at.resolved)?;
        let beyond = |value| Ok(share(at, own_parts, field, value).ok_or(Error::Unsupported)? - wanted);
        find_root(beyond, low, high, (high - low) * 1e-11).ok()
    }

    /// Whether an answer gives the same share as the value expected: to 1e-9, or with a cut to the 1e-6 or so by which the
    /// column load jumps where it takes an element more.
    fn has_same_share(at: &ResolvedSetup, own_parts: &[OwnPart], field: Field, found: f64, expected: f64) -> bool {
        let exact_to = if field == Field::CutLength { 3e-6 } else { 1e-9 };
        let shares = share(at, own_parts, field, found).zip(share(at, own_parts, field, expected));
        shares.is_some_and(|(found, expected)| (found - expected).abs() <= exact_to)
    }

    /// Compares every inverse answer of a setup; returns how many there were.
    fn compared(setup: &Setup) -> usize {
        let mut at = ResolvedSetup::new(setup);
        let out_of_reach = compute_inverse(&mut at.outputs, &at.resolved, &setup.own_parts);
        let mut count = 0;
        for inverse in &INVERSES {
            let Some((low, high)) = safe_range(inverse.field, &at.outputs, &at.resolved) else { continue };
            if at.outputs.get(Output::ColumnLoad).is_none() {
                continue;
            }
            // With a heavy part far ahead of the shaft the column load falls with the point: then there is no window.
            let end = |value| share(&at, &setup.own_parts, inverse.field, value);
            let rises = end(low) < end(high);
            let edges =
                inverse.window.filter(|_| rises).map(|(from, to)| [(from, 1.0 - BAND, low), (to, 1.0 + BAND, high)]);
            let exact = [(inverse.exact, 1.0, f64::NAN)];
            for (output, share, end) in exact.into_iter().chain(edges.into_iter().flatten()) {
                let found = at.outputs.get(output);
                match bracketed(&at, &setup.own_parts, inverse.field, share) {
                    Some(Solution::At(expected)) => {
                        let is_answer = |found: f64| {
                            (found - expected).abs() <= 1e-9 * (high - low)
                                || has_same_share(&at, &setup.own_parts, inverse.field, found, expected)
                        };
                        assert!(found.is_some_and(is_answer), "{output:?}: {found:?} against {expected}");
                        count += 1;
                    }
                    Some(Solution::NoSignChange { nearest, .. }) if end.is_nan() => {
                        assert_eq!(found, None, "{output:?}");
                        assert!(out_of_reach.contains(&OutOfReach { output, nearest }), "{output:?}: {out_of_reach:?}");
                    }
                    Some(Solution::NoSignChange { .. }) => {
                        assert!(found.is_none_or(|found| found.to_bits() == end.to_bits()), "{output:?}: {found:?}");
                    }
                    None => {}
                }
            }
        }
        count
    }

    #[test]
    fn the_samples_are_answered_as_by_bracketing() {
        let counts: Vec<usize> = samples::all().iter().map(|sample| compared(&sample.setup)).collect();
        assert!(counts.iter().all(|&count| count >= 4), "{counts:?}");
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(400))]

        #[test]
        fn any_setup_is_answered_as_by_bracketing(setup in any_setup()) {
            compared(&setup);
        }
    }
}
