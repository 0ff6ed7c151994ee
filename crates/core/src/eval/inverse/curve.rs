//! A function known at some points, asked where it takes a value.

use crate::units::clamp;
use clothyard_mechanics::Solution;

/// How many points an interpolation passes through.
const THROUGH: usize = 4;

/// After so many interpolations the bracket is halved instead: there is a corner or a jump.
const MOST_INTERPOLATIONS: u32 = 8;

/// Points of a function. Every one that was tried for one question serves the next.
pub(super) struct Curve<F> {
    function: F,
    /// Arguments and values, in order.
    points: Vec<(f64, f64)>,
    tolerance: f64,
}

impl<F: FnMut(f64) -> Option<f64>> Curve<F> {
    /// A function between two arguments, one point of which may be known; none where it has no value at an end.
    /// Arguments are found to within `tolerance`.
    pub(super) fn new(mut function: F, (low, high): (f64, f64), known: (f64, f64), tolerance: f64) -> Option<Self> {
        let mut points = vec![(low, function(low)?), (high, function(high)?)];
        if low < known.0 && known.0 < high {
            points.insert(1, known);
        }
        Some(Self { function, points, tolerance })
    }

    /// The ends of the range, with the values there.
    pub(super) fn ends(&self) -> Option<((f64, f64), (f64, f64))> {
        Some((*self.points.first()?, *self.points.last()?))
    }

    /// Where the function takes a value; none where it has none on the way there.
    pub(super) fn argument_of(&mut self, value: f64) -> Option<Solution> {
        for round in 0.. {
            let Some((place, from, to)) = self.bracket(value) else { break };
            let middle = from + 0.5 * (to - from);
            // At the latest the ends are adjacent floating-point numbers.
            if to - from <= 2.0 * self.tolerance || middle <= from || middle >= to {
                return Some(Solution::At(middle));
            }
            let guess = through(self.nearest(place, value, THROUGH), value);
            let is_between = from <= guess && guess <= to;
            // What one point fewer makes of it tells how far off it may be, if not all points are the first, far apart.
            let off = (guess - through(self.nearest(place, value, THROUGH - 1), value)).abs();
            if is_between && off <= self.tolerance && self.points.len() > THROUGH {
                return Some(Solution::At(guess));
            }
            let next = if is_between && round < MOST_INTERPOLATIONS {
                clamp(guess, from + self.tolerance, to - self.tolerance)
            } else {
                middle
            };
            let there = (self.function)(next)?;
            self.points.insert(place, (next, there));
        }
        let (low, high) = self.ends()?;
        let (nearest, there) = if (low.1 - value).abs() <= (high.1 - value).abs() { low } else { high };
        Some(Solution::NoSignChange { nearest, value: there - value })
    }

    /// Two arguments between which the function takes a value, and the place of the second.
    fn bracket(&self, value: f64) -> Option<(usize, f64, f64)> {
        let pairs = self.points.iter().zip(self.points.iter().skip(1));
        let (behind, (&(from, _), &(to, _))) =
            pairs.enumerate().find(|(_, (from, to))| (from.1 < value) != (to.1 < value))?;
        Some((behind + 1, from, to))
    }

    /// The points about a place whose values come nearest to this one.
    fn nearest(&self, place: usize, value: f64, count: usize) -> &[(f64, f64)] {
        let (mut from, mut to) = (place, place);
        let off = |place: usize| self.points.get(place).map_or(f64::INFINITY, |point| (point.1 - value).abs());
        while to - from < count.min(self.points.len()) {
            if from > 0 && off(from - 1) <= off(to) {
                from -= 1;
            } else {
                to += 1;
            }
        }
        self.points.get(from..to).unwrap_or_default()
    }
}

/// The argument at a value on the polynomial through some points, by Lagrange's formula.
fn through(points: &[(f64, f64)], value: f64) -> f64 {
    let mut sum = 0.0;
    for (place, (argument, own)) in points.iter().enumerate() {
        let others = points.iter().enumerate().filter(|(other, _)| *other != place);
        sum += argument * others.map(|(_, (_, other))| (value - other) / (own - other)).product::<f64>();
    }
    sum
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Functions over 0 to 10, and where they take the values -0.5, 0 and 0.5.
    type Function = fn(f64) -> f64;
    const CASES: [(Function, [f64; 3]); 5] = [
        (|x| x - 7.25, [6.75, 7.25, 7.75]),
        (|x| x * x - 3.0, [1.581_138_830_084_189_8, 1.732_050_807_568_877_2, 1.870_828_693_386_970_7]),
        (|x| 1.0 - 5.0 / (x + 0.1), [3.233_333_333_333_333_4, 4.9, 9.9]),
        (|x| 2.0 - 0.5 * x, [5.0, 4.0, 3.0]),
        // A jump, as the column load makes one where an element more begins.
        (|x| x - 5.0 + if x < 5.2 { 0.0 } else { 1e-3 }, [4.5, 5.0, 5.499]),
    ];

    #[test]
    fn arguments_are_within_the_tolerance_in_few_calls() {
        for (case, (function, expected)) in CASES.into_iter().enumerate() {
            for known in [-1.0, 0.5, 5.0, 5.199_999_99, 9.9] {
                let mut calls = 0;
                let counted = |x: f64| {
                    calls += 1;
                    Some(function(x))
                };
                let mut curve = Curve::new(counted, (0.0, 10.0), (known, function(known)), 1e-8).unwrap();
                for (value, expected) in [0.0, -0.5, 0.5].into_iter().zip([expected[1], expected[0], expected[2]]) {
                    let found = curve.argument_of(value);
                    let near = |x: f64| (x - expected).abs() <= 1e-8;
                    assert!(matches!(found, Some(Solution::At(x)) if near(x)), "{case} {known}: {found:?} {expected}");
                }
                assert!(calls <= 30, "{case} {known}: {calls}");
            }
        }
    }

    #[test]
    fn a_value_in_a_jump_is_where_the_jump_is() {
        let step = |x: f64| Some(if x < 3.0 { x - 4.0 } else { x + 4.0 });
        let mut curve = Curve::new(step, (0.0, 10.0), (5.0, 9.0), 1e-8).unwrap();
        let found = curve.argument_of(0.0);
        assert!(matches!(found, Some(Solution::At(x)) if (x - 3.0).abs() <= 1e-8), "{found:?}");
    }

    #[test]
    fn a_tolerance_below_the_spacing_of_numbers_still_ends() {
        let cube = |x: f64| Some(if x < 7.0 / 3.0 { -1.0 } else { x * x * x });
        let mut curve = Curve::new(cube, (0.0, 10.0), (5.0, 125.0), 1e-18).unwrap();
        assert!(matches!(curve.argument_of(0.0), Some(Solution::At(x)) if (x - 7.0 / 3.0).abs() < 1e-15));
    }

    #[test]
    fn a_value_out_of_range_names_the_end() {
        let mut curve = Curve::new(Some, (1.0, 2.0), (1.5, 1.5), 1e-8).unwrap();
        assert_eq!(curve.argument_of(0.5), Some(Solution::NoSignChange { nearest: 1.0, value: 0.5 }));
        assert_eq!(curve.argument_of(2.5), Some(Solution::NoSignChange { nearest: 2.0, value: -0.5 }));
        assert!(matches!(curve.argument_of(1.25), Some(Solution::At(x)) if (x - 1.25).abs() <= 1e-8));
    }

    #[test]
    fn where_the_function_has_no_value_there_is_no_answer() {
        let partly = |x: f64| (!(4.0..6.0).contains(&x)).then_some(x);
        assert!(Curve::new(partly, (5.0, 10.0), (0.0, 0.0), 1e-8).is_none());
        let mut curve = Curve::new(partly, (0.0, 10.0), (2.0, 2.0), 1e-8).unwrap();
        assert_eq!(curve.argument_of(5.0), None);
    }
}
