//! The maximum of a function that rises and then falls, by golden-section search.
//!
//! Each call narrows the interval to 0.618 of its width, whatever the function.
//!
//! # References
//! Kiefer, "Sequential minimax search for a maximum", Proc. Amer. Math. Soc. 4 (1953).

use crate::error::Result;

/// (sqrt(5) - 1) / 2.
const GOLDEN: f64 = 0.618_033_988_749_894_8;

/// The argument between `low` and `high`, to within `tolerance`, and the value there.
///
/// The function is flat near its maximum, so the argument is accurate to no better than the square
/// root of the value's rounding error.
///
/// # Errors
/// What `f` returns.
pub(crate) fn golden_section_max(
    mut f: impl FnMut(f64) -> Result<f64>,
    mut low: f64,
    mut high: f64,
    tolerance: f64,
) -> Result<(f64, f64)> {
    let inner = |low: f64, high: f64| (high - GOLDEN * (high - low), low + GOLDEN * (high - low));
    let (left, right) = inner(low, high);
    let (mut left, mut right) = ((left, f(left)?), (right, f(right)?));
    // Below the spacing of floating-point numbers the inner points coincide and nothing would change.
    while high - low > 2.0 * tolerance && left.0 < right.0 {
        if left.1 < right.1 {
            (low, left) = (left.0, right);
            let (_, x) = inner(low, high);
            right = (x, f(x)?);
        } else {
            (high, right) = (right.0, left);
            let (x, _) = inner(low, high);
            left = (x, f(x)?);
        }
    }
    Ok(if left.1 < right.1 { right } else { left })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::error::Error;

    #[test]
    fn a_peak_is_found_to_the_tolerance_inside_and_at_either_end() {
        for top in [0.0, 0.3, 7.25, 10.0] {
            for tolerance in [1e-2, 1e-6] {
                let (x, value) = golden_section_max(|x| Ok(3.0 - (x - top) * (x - top)), 0.0, 10.0, tolerance).unwrap();
                assert!((x - top).abs() <= 2.0 * tolerance, "{top}: {x}");
                assert!((value - 3.0).abs() <= 4.0 * tolerance * tolerance + 1e-15, "{top}: {value}");
            }
        }
    }

    #[test]
    fn each_call_narrows_by_the_golden_section() {
        let mut calls = 0;
        let counted = |x: f64| {
            calls += 1;
            Ok(-x * x)
        };
        golden_section_max(counted, -1.0, 2.0, 1e-5).unwrap();
        // log(3 / 2e-5) / log(1.618) = 24.8, so 25 times narrower, and two calls to begin with.
        assert_eq!(calls, 27);
    }

    #[test]
    fn errors_pass_through_and_a_tolerance_of_nothing_ends() {
        let failure = Error::NoConvergence { iterations: 1 };
        assert_eq!(golden_section_max(|_| Err(failure), 0.0, 1.0, 1e-6), Err(failure));
        let (x, _) = golden_section_max(|x| Ok(-(x - 0.5).abs()), 0.0, 1.0, 0.0).unwrap();
        assert!((x - 0.5).abs() < 1e-9, "{x}");
    }
}
