//! Tail probabilities of Student's t distribution, in closed form.
//!
//! # References
//! Abramowitz & Stegun, *Handbook of Mathematical Functions*, 26.7.3 and 26.7.4.

use core::f64::consts::FRAC_2_PI;

use crate::math::{atan2, sqrt};

/// The probability that `|t|` is exceeded, for `degrees` of freedom from 1 up.
///
/// Accurate to about `1e-15` absolute, not relative: enough for probabilities of a few percent.
pub(crate) fn tails(t: f64, degrees: usize) -> f64 {
    let freedom = degrees as f64;
    let radius = sqrt(freedom + t * t);
    let (sine, cosine) = (t.abs() / radius, sqrt(freedom) / radius);
    let odd = degrees % 2 == 1;
    // 1 + c^2/2 + c^4 (1 3)/(2 4) + .. for even degrees, c + c^3 2/3 + c^5 (2 4)/(3 5) + .. for odd.
    let mut term = if odd { cosine } else { 1.0 };
    let mut sum = 0.0;
    let mut order = if odd { 3 } else { 2 };
    while order <= degrees {
        sum += term;
        term *= cosine * cosine * (order - 1) as f64 / order as f64;
        order += 2;
    }
    let within = if odd { FRAC_2_PI * (atan2(sine, cosine) + sine * sum) } else { sine * sum };
    (1.0 - within).max(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tails_are_those_of_the_printed_tables() {
        // Two-sided 5 % points, Abramowitz & Stegun, Table 26.10, printed to 3 decimals.
        for (degrees, t) in [
            (1, 12.706),
            (2, 4.303),
            (3, 3.182),
            (4, 2.776),
            (5, 2.571),
            (8, 2.306),
            (15, 2.131),
            (30, 2.042),
            (120, 1.980),
        ] {
            let (outside, inside) = (tails(t - 5e-4, degrees), tails(t + 5e-4, degrees));
            assert!(outside > 0.05 && inside < 0.05, "{degrees}: {outside} and {inside}");
        }
    }

    #[test]
    fn one_and_two_degrees_have_a_form_of_their_own() {
        // Cauchy: 1 - (2/pi) atan t. Two degrees: 1 - t / sqrt(2 + t^2).
        for t in [0.0, 0.3, 1.0, 7.0] {
            let cauchy = 1.0 - FRAC_2_PI * atan2(t, 1.0);
            assert!((tails(t, 1) - cauchy).abs() < 1e-15);
            assert!((tails(-t, 2) - (1.0 - t / sqrt(2.0 + t * t))).abs() < 1e-15);
        }
    }

    #[test]
    fn no_deviation_is_always_exceeded_and_an_endless_one_never() {
        for degrees in [1, 2, 3, 10, 11] {
            assert!((tails(0.0, degrees) - 1.0).abs() < 1e-15);
            assert!(tails(1e12, degrees) < 1e-11);
        }
    }
}
