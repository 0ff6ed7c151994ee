//! One step of the Dormand-Prince pair: fifth order, with an error estimate and dense output.
//!
//! ```text
//! y1 = y0 + h sum of b_i k_i,    k_i = f(y0 + h sum over j < i of a_ij k_j)
//! ```
//!
//! The state is position (m) and velocity (m/s), `h` in s. The seventh slope of a step is the first of the
//! next, so a step costs six. Between its ends the step is interpolated to fourth order without a further
//! slope.
//!
//! # References
//! Dormand & Prince, "A family of embedded Runge-Kutta formulae", J. Comp. Appl. Math. 6 (1980); Hairer,
//! Norsett & Wanner, *Solving Ordinary Differential Equations I*, sections II.4 to II.6.

use crate::error::Result;
use crate::math::{pow, sqrt};

/// Position (m) along, up and to the right, then velocity (m/s) in the same order.
pub(super) type State = [f64; 6];

/// Weights of the earlier slopes for the second to the sixth.
const A2: [f64; 1] = [1.0 / 5.0];
const A3: [f64; 2] = [3.0 / 40.0, 9.0 / 40.0];
const A4: [f64; 3] = [44.0 / 45.0, -56.0 / 15.0, 32.0 / 9.0];
const A5: [f64; 4] = [19_372.0 / 6_561.0, -25_360.0 / 2_187.0, 64_448.0 / 6_561.0, -212.0 / 729.0];
const A6: [f64; 5] = [9_017.0 / 3_168.0, -355.0 / 33.0, 46_732.0 / 5_247.0, 49.0 / 176.0, -5_103.0 / 18_656.0];

/// Weights of the first, third, fourth, fifth and sixth slope over the whole step, fifth order.
const WHOLE: [f64; 5] = [35.0 / 384.0, 500.0 / 1_113.0, 125.0 / 192.0, -2_187.0 / 6_784.0, 11.0 / 84.0];

/// Fifth order minus fourth: the same slopes, then the seventh.
const ERROR: [f64; 6] =
    [71.0 / 57_600.0, -71.0 / 16_695.0, 71.0 / 1_920.0, -17_253.0 / 339_200.0, 22.0 / 525.0, -1.0 / 40.0];

/// Fourth-order term of the dense output: the same slopes as the error.
const BETWEEN: [f64; 6] = [
    -12_715_105_075.0 / 11_282_082_432.0,
    87_487_479_700.0 / 32_700_410_799.0,
    -10_690_763_975.0 / 1_880_347_072.0,
    701_980_252_875.0 / 199_316_789_632.0,
    -1_453_857_185.0 / 822_651_844.0,
    69_997_945.0 / 29_380_423.0,
];

/// Bounds of the ratio of the next step to the last.
const GROWTH: (f64, f64) = (0.2, 6.0);

/// A step from one state to the next.
pub(super) struct RungeKuttaStep {
    duration_s: f64,
    from: State,
    pub(super) to: State,
    /// First, third to sixth and seventh slope.
    slopes: [State; 6],
}

impl RungeKuttaStep {
    /// A step from `from`, where the slope is `first`, of `duration_s`.
    pub(super) fn take(
        mut slope: impl FnMut(&State) -> Result<State>,
        from: &State,
        first: State,
        duration_s: f64,
    ) -> Result<Self> {
        let h = duration_s;
        let second = slope(&sum(from, h, A2, [&first]))?;
        let third = slope(&sum(from, h, A3, [&first, &second]))?;
        let fourth = slope(&sum(from, h, A4, [&first, &second, &third]))?;
        let fifth = slope(&sum(from, h, A5, [&first, &second, &third, &fourth]))?;
        let sixth = slope(&sum(from, h, A6, [&first, &second, &third, &fourth, &fifth]))?;
        let to = sum(from, h, WHOLE, [&first, &third, &fourth, &fifth, &sixth]);
        let seventh = slope(&to)?;
        Ok(Self { duration_s, from: *from, to, slopes: [first, third, fourth, fifth, sixth, seventh] })
    }

    /// The slope at its end.
    pub(super) fn last_slope(&self) -> State {
        let [.., seventh] = self.slopes;
        seventh
    }

    /// The error over the allowed one (`absolute` plus `relative` of a component), root mean square over the six.
    pub(super) fn excess(&self, relative: f64, absolute: f64) -> f64 {
        let ends = self.from.iter().zip(&self.to);
        let allowed = ends.map(|(from, to)| absolute + relative * from.abs().max(to.abs()));
        let shares = self.combined(&ERROR).into_iter().zip(allowed).map(|(error, allowed)| error / allowed);
        sqrt(shares.map(|share| share * share).sum::<f64>() / 6.0)
    }

    /// Factor for the next step, or for repeating this one, that aims at an excess below 1.
    pub(super) fn growth(excess: f64) -> f64 {
        let (least, most) = GROWTH;
        // NaN, from a step much too long, shortens it.
        if excess <= 1e-6 { most } else { (0.9 * pow(excess, -0.2)).max(least).min(most) }
    }

    fn combined(&self, weights: &[f64; 6]) -> State {
        let [first, third, fourth, fifth, sixth, seventh] = &self.slopes;
        sum(&[0.0; 6], self.duration_s, *weights, [first, third, fourth, fifth, sixth, seventh])
    }

    /// Dense output between the ends.
    pub(super) fn between(&self) -> Between {
        let [first, .., seventh] = &self.slopes;
        let (h, zero) = (self.duration_s, [0.0; 6]);
        let change = sum(&self.to, 1.0, [-1.0], [&self.from]);
        let early = sum(&zero, 1.0, [h, -1.0], [first, &change]);
        let late = sum(&change, 1.0, [-h, -1.0], [seventh, &early]);
        Between { from: self.from, change, early, late, bend: self.combined(&BETWEEN) }
    }
}

/// A step as a fourth-order polynomial in the share of the step; its slope matches at both ends.
pub(super) struct Between {
    from: State,
    change: State,
    early: State,
    late: State,
    bend: State,
}

impl Between {
    /// The state at the share `gone`, 0 to 1, of the step.
    pub(super) fn at(&self, gone: f64) -> State {
        let left = 1.0 - gone;
        let (g, gl) = (gone, gone * left);
        sum(&self.from, g, [1.0, left, gl, gl * left], [&self.change, &self.early, &self.late, &self.bend])
    }
}

/// `start + factor * (w1 s1 + w2 s2 + ...)`.
fn sum<const N: usize>(start: &State, factor: f64, weights: [f64; N], slopes: [&State; N]) -> State {
    let mut total = [0.0; 6];
    for (weight, slope) in weights.into_iter().zip(slopes) {
        for (sum, component) in total.iter_mut().zip(slope) {
            *sum += weight * component;
        }
    }
    for (sum, start) in total.iter_mut().zip(start) {
        *sum = start + factor * *sum;
    }
    total
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::math::{cos, ln, sin};
    use std::vec::Vec;

    /// An oscillation of period 2 pi in position and velocity, cos(1 + t) and -sin(1 + t).
    fn slope(state: &State) -> Result<State> {
        let [x, _, _, v, _, _] = *state;
        Ok([v, 0.0, 0.0, -x, 0.0, 0.0])
    }

    fn place(time_s: f64) -> f64 {
        cos(1.0 + time_s)
    }

    fn start() -> State {
        [cos(1.0), 0.0, 0.0, -sin(1.0), 0.0, 0.0]
    }

    fn step(from: &State, duration_s: f64) -> RungeKuttaStep {
        RungeKuttaStep::take(slope, from, slope(from).unwrap(), duration_s).unwrap()
    }

    /// Error of place and velocity after three seconds in so many equal steps.
    fn error_after(steps: u32) -> f64 {
        let end = (0..steps).fold(start(), |state, _| step(&state, 3.0 / f64::from(steps)).to);
        (end[0] - cos(4.0)).abs().max((end[3] + sin(4.0)).abs())
    }

    /// The power of the step with which an error falls, from the error of a step and of half of it.
    fn order(whole: f64, half: f64) -> f64 {
        ln(whole / half) / ln(2.0)
    }

    #[test]
    fn half_the_step_leaves_a_thirty_second_of_the_error() {
        let errors: Vec<f64> = [8, 16, 32].into_iter().map(error_after).collect();
        for pair in errors.windows(2) {
            let order = order(pair[0], pair[1]);
            assert!((4.8..5.5).contains(&order), "{order}");
        }
    }

    #[test]
    fn between_its_ends_a_step_is_of_fourth_order() {
        let error = |duration: f64| {
            let between = step(&start(), duration).between();
            (between.at(0.4)[0] - place(0.4 * duration)).abs()
        };
        // Locally one order more than over a whole flight.
        let order = order(error(0.1), error(0.05));
        assert!((4.7..5.3).contains(&order), "{order}");
    }

    #[test]
    fn the_error_estimate_is_of_fourth_order() {
        let excess = |duration: f64| step(&start(), duration).excess(0.0, 1.0);
        let order = order(excess(0.1), excess(0.05));
        assert!((4.6..5.3).contains(&order), "{order}");
    }

    #[test]
    fn a_step_meets_its_own_ends_with_the_right_slope() {
        let taken = step(&start(), 0.2);
        let between = taken.between();
        for (gone, state) in [(0.0, start()), (1.0, taken.to)] {
            assert!((between.at(gone)[0] - state[0]).abs() < 1e-15, "{gone}");
            let rise = (between.at(gone + 1e-6)[0] - between.at(gone - 1e-6)[0]) / 2e-6;
            assert!((rise - 0.2 * state[3]).abs() < 1e-9, "{gone}: {rise}");
        }
    }

    #[test]
    fn weights_of_each_slope_add_up() {
        let places = [0.2, 0.3, 0.8, 8.0 / 9.0, 1.0, 1.0, 0.0, 0.0];
        let sums = [&A2[..], &A3, &A4, &A5, &A6, &WHOLE, &ERROR, &BETWEEN].map(|row| row.iter().sum::<f64>());
        for (sum, place) in sums.into_iter().zip(places) {
            assert!((sum - place).abs() < 4e-15, "{sum}, {place}");
        }
    }

    #[test]
    fn a_step_that_went_wrong_shortens_the_next() {
        assert!(
            RungeKuttaStep::growth(f64::NAN) <= 0.2
                && RungeKuttaStep::growth(f64::INFINITY) <= 0.2
                && RungeKuttaStep::growth(0.0) >= 6.0
        );
        assert!((RungeKuttaStep::growth(1.0) - 0.9).abs() < 1e-15);
    }

    /// A step of `y' = -y` in all six components from 1.
    fn decay(duration_s: f64) -> RungeKuttaStep {
        let slope = |state: &State| Ok(state.map(|y| -y));
        RungeKuttaStep::take(slope, &[1.0; 6], [-1.0; 6], duration_s).unwrap()
    }

    #[test]
    fn a_step_multiplies_by_the_pair_s_stability_function() {
        // Hairer, Norsett & Wanner (memory): 1 + z + .. + z^5/120 + z^6/600, and for the error the difference
        // of z^5/120 and 1097/120000 z^5, of z^6/600 and 161/120000 z^6, and z^7/24000.
        for z in [-0.1_f64, -0.5, -1.0] {
            let taken = decay(-z);
            let growth =
                1.0 + z * (1.0 + z / 2.0 * (1.0 + z / 3.0 * (1.0 + z / 4.0 * (1.0 + z / 5.0 * (1.0 + z / 5.0)))));
            assert!((taken.to[0] - growth).abs() < 1e-15, "{z}: {}", taken.to[0] - growth);
            let fifth = z * z * z * z * z / 120_000.0;
            let error = fifth * (-97.0 + 39.0 * z - 5.0 * z * z);
            // Alike in all components, its root mean square is itself.
            assert!((taken.excess(0.0, 1.0) - error.abs()).abs() < 1e-16, "{z}: {}", taken.excess(0.0, 1.0));
            // A relative error counts from the greater end, 1.
            assert!((taken.excess(1e-3, 2e-3) / (error.abs() / 3e-3) - 1.0).abs() < 1e-9, "{z}");
        }
    }
}
