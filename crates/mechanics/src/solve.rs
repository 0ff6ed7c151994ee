//! Bracketing root finder used by every inverse question.

use crate::error::Result;
use crate::parameter::Parameter;

/// The outcome of a search. Example: see [`find_root`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Solution {
    /// The root, to the tolerance requested.
    At(f64),
    /// The function has the same sign at both ends of the interval.
    NoSignChange {
        /// The end at which the function is closest to zero.
        nearest: f64,
        /// The function's value there.
        value: f64,
    },
}

/// The root of `f` between `low` and `high`, to within `tolerance` in `x`.
///
/// "Which spine, point, length or draw weight would match?" is the root of a function `f` that is already
/// evaluated forward:
///
/// ```text
/// f(x) = 0,    low <= x <= high
/// ```
///
/// The ITP method interpolates like the secant rule, truncates toward the midpoint and projects close to it,
/// so that it needs at most one call more than bisection and usually far fewer.
///
/// `f` is assumed to cross zero once between the limits, without a jump. If it crosses more often, one
/// crossing is found and nothing tells which.
///
/// # Errors
/// What `f` returns; [`crate::Error::OutOfRange`] for limits out of order, a tolerance that is
/// not positive, or a value of `f` that is not finite.
///
/// # Examples
/// ```
/// use clothyard_mechanics::{Solution, find_root, launch_speed};
/// let found = find_root(|x| Ok(x * x - 2.0), 0.0, 2.0, 1e-9)?;
/// assert!(matches!(found, Solution::At(x) if (x - core::f64::consts::SQRT_2).abs() <= 1e-9));
/// // Which arrow leaves at 80 m/s with 80 J and 5 g of virtual mass? The one of 20 g.
/// let arrow = find_root(|mass_kg| Ok(launch_speed(80.0, mass_kg, 0.005)? - 80.0), 0.01, 0.04, 1e-9)?;
/// assert!(matches!(arrow, Solution::At(mass_kg) if (mass_kg - 0.020).abs() <= 1e-9));
/// // No sign change: the closer end, and the value there.
/// let missed = find_root(|x| Ok(x * x + 1.0), 1.0, 2.0, 1e-9)?;
/// assert_eq!(missed, Solution::NoSignChange { nearest: 1.0, value: 2.0 });
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
///
/// # References
/// Oliveira & Takahashi, "An Enhancement of the Bisection Method Average Performance Preserving Minmax
/// Optimality", ACM Trans. Math. Softw. 47(1), 2020.
pub fn find_root(mut f: impl FnMut(f64) -> Result<f64>, low: f64, high: f64, tolerance: f64) -> Result<Solution> {
    let (_, most) = Parameter::SearchLimit.range();
    Parameter::SearchLimit.check(low)?;
    Parameter::SearchLimit.check_within(high, low, most)?;
    Parameter::Tolerance.check(tolerance)?;
    let mut value = |x: f64| f(x).and_then(|y| Parameter::FunctionValue.check(y));
    let (at_low, at_high) = (value(low)?, value(high)?);
    if at_low == 0.0 {
        return Ok(Solution::At(low));
    }
    if at_high == 0.0 {
        return Ok(Solution::At(high));
    }
    if (at_low > 0.0) == (at_high > 0.0) {
        let low_is_nearer = at_low.abs() <= at_high.abs();
        let (nearest, value) = if low_is_nearer { (low, at_low) } else { (high, at_high) };
        return Ok(Solution::NoSignChange { nearest, value });
    }
    let bracket = Bracket { low, high, at_low, at_high };
    bracket.narrow(value, tolerance).map(Solution::At)
}

/// An interval at whose ends the function has opposite signs.
struct Bracket {
    low: f64,
    high: f64,
    at_low: f64,
    at_high: f64,
}

impl Bracket {
    /// Narrows to twice the tolerance, so that the midpoint is within it.
    fn narrow(mut self, mut f: impl FnMut(f64) -> Result<f64>, tolerance: f64) -> Result<f64> {
        // Half the width allowed at this iteration; plain bisection would be one halving ahead of it.
        let mut allowed = tolerance;
        while allowed < self.high - self.low {
            allowed *= 2.0;
        }
        let pull = 0.2 / (self.high - self.low);
        while self.high - self.low > 2.0 * tolerance {
            let middle = self.middle();
            if middle <= self.low || middle >= self.high {
                break; // the ends are adjacent floating-point numbers
            }
            let x = self.trial(pull, allowed);
            let y = f(x)?;
            if y == 0.0 {
                return Ok(x);
            }
            if (y > 0.0) == (self.at_high > 0.0) {
                (self.high, self.at_high) = (x, y);
            } else {
                (self.low, self.at_low) = (x, y);
            }
            allowed *= 0.5;
        }
        Ok(self.middle())
    }

    fn middle(&self) -> f64 {
        self.low + 0.5 * (self.high - self.low)
    }

    /// Interpolates, truncates toward the midpoint, and projects to within the bound of bisection.
    fn trial(&self, pull: f64, allowed: f64) -> f64 {
        let (width, middle) = (self.high - self.low, self.middle());
        let secant = self.low + width * (self.at_low / (self.at_low - self.at_high));
        let toward = middle - secant;
        let step = pull * width * width;
        let truncated = if step < toward.abs() { secant + step.copysign(toward) } else { middle };
        let reach = (allowed - 0.5 * width).max(0.0);
        let trial = if (truncated - middle).abs() <= reach { truncated } else { middle - reach.copysign(toward) };
        // Rounding may put the secant point on an end, where the value is already known.
        if trial > self.low && trial < self.high { trial } else { middle }
    }
}

#[cfg(test)]
#[allow(clippy::float_cmp)] // a miss carries the very end of the interval
mod tests {
    use super::*;
    use crate::error::Error;

    fn found(f: impl FnMut(f64) -> Result<f64>, low: f64, high: f64, tolerance: f64) -> f64 {
        match find_root(f, low, high, tolerance).unwrap() {
            Solution::At(x) => x,
            missed @ Solution::NoSignChange { .. } => panic!("{missed:?}"),
        }
    }

    type Function = fn(f64) -> f64;

    /// The root of each over [0, 10], known in closed form.
    const KNOWN: [(Function, f64); 5] = [
        (|x| x - 7.25, 7.25),
        (|x| 3.0 - x * x, 1.732_050_807_568_877_2),
        (|x| x * x * x - 1e-9, 1e-3),
        (|x| 1.0 / (x + 0.1) - 0.2, 4.9),
        (|x| if x < 2.0 { -1.0 } else { 1e-9 }, 2.0),
    ];

    #[test]
    fn roots_are_within_the_tolerance() {
        for (case, (f, expected)) in KNOWN.into_iter().enumerate() {
            for tolerance in [1e-3, 1e-6, 1e-10] {
                let x = found(|x| Ok(f(x)), 0.0, 10.0, tolerance);
                assert!((x - expected).abs() <= tolerance, "case {case}: {x}");
            }
        }
    }

    #[test]
    fn no_function_costs_more_than_one_call_beyond_bisection() {
        for (f, _) in KNOWN {
            let mut calls = 0;
            let counted = |x| {
                calls += 1;
                Ok(f(x))
            };
            found(counted, 0.0, 10.0, 1e-9);
            // log2(10 / 2e-9) = 32.2 halvings, both ends, and one to spare.
            assert!(calls <= 33 + 2 + 1, "{calls} calls");
        }
    }

    #[test]
    fn a_smooth_function_costs_few_calls() {
        let mut calls = 0;
        let counted = |x: f64| {
            calls += 1;
            Ok(1.0 / (x + 0.1) - 0.2)
        };
        found(counted, 0.0, 10.0, 1e-9);
        assert!(calls <= 16, "{calls} calls");
    }

    #[test]
    fn a_root_at_an_end_is_that_end() {
        assert_eq!(find_root(Ok, 0.0, 1.0, 1e-9), Ok(Solution::At(0.0)));
        assert_eq!(find_root(|x| Ok(x - 1.0), 0.0, 1.0, 1e-9), Ok(Solution::At(1.0)));
    }

    #[test]
    fn a_miss_names_the_nearer_end() {
        let missed = find_root(|x| Ok(x - 5.0), 0.0, 1.0, 1e-9);
        assert_eq!(missed, Ok(Solution::NoSignChange { nearest: 1.0, value: -4.0 }));
    }

    #[test]
    fn errors_pass_through_and_bad_questions_are_refused() {
        let failure = Error::NoConvergence { iterations: 1 };
        assert_eq!(find_root(|_| Err(failure), 0.0, 1.0, 1e-9), Err(failure));
        assert!(find_root(|_| Ok(f64::NAN), 0.0, 1.0, 1e-9).is_err());
        assert!(find_root(Ok, 1.0, -1.0, 1e-9).is_err());
        assert!(find_root(Ok, -1.0, 1.0, 0.0).is_err());
        assert!(find_root(Ok, f64::NEG_INFINITY, 1.0, 1e-9).is_err());
    }

    #[test]
    fn a_tolerance_below_the_spacing_of_numbers_still_ends() {
        let x = found(|x| Ok(x - 1e6 / 3.0), 0.0, 1e6, 1e-15);
        assert!((x - 1e6 / 3.0).abs() < 1e-9);
        // No call need hit the root itself.
        let x = found(|x| Ok(if x < 1e6 / 3.0 { -1.0 } else { 1.0 }), 0.0, 1e6, 1e-15);
        assert!((x - 1e6 / 3.0).abs() < 1e-9);
    }
}
