//! The zero of a function nearest to a start.
//!
//! The function need not rise or fall all the way, and may have no value here and there. Its range is
//! walked in coarse steps outward from the start, and the first crossing is narrowed by bracketing.

use clothyard_core::units::clamp;
use clothyard_mechanics::{Error, Solution, find_root};

/// A value tried, and the value of the function there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Trial {
    /// The value.
    pub(crate) value: f64,
    /// The function's value there, if it has one.
    pub(crate) miss: Option<f64>,
}

impl Trial {
    fn off(self) -> f64 {
        self.miss.map_or(f64::INFINITY, f64::abs)
    }

    /// Whether the function crosses zero on the way to another trial.
    fn crosses(self, other: Self) -> bool {
        matches!((self.miss, other.miss), (Some(a), Some(b)) if (a > 0.0) != (b > 0.0))
    }
}

/// What is searched.
pub(crate) struct Search<'a> {
    /// The function.
    pub(crate) miss: &'a dyn Fn(f64) -> Option<f64>,
    /// Least value.
    pub(crate) low: f64,
    /// Greatest value.
    pub(crate) high: f64,
    /// The coarse step.
    pub(crate) step: f64,
    /// Whether only whole steps count.
    pub(crate) whole: bool,
    /// A miss no greater than this is as good as none.
    pub(crate) shown: f64,
}

impl Search<'_> {
    /// The zero nearest to `start`, or else the value that misses by the least; a miss of none where the
    /// function has no value at all.
    pub(crate) fn from(&self, start: f64) -> Trial {
        let start = self.trial(start);
        let mut best = start;
        let mut sides = [(self.step, start), (-self.step, start)];
        for ring in 1_u32.. {
            let mut found: Option<Trial> = None;
            for (step, last) in &mut sides {
                let next = self.trial(start.value + *step * f64::from(ring));
                let way = |trial: Trial| (trial.value - start.value).abs();
                if let Some(zero) = self.narrow(*last, next)
                    && found.is_none_or(|other| way(zero) < way(other))
                {
                    found = Some(zero);
                }
                if next.off() < best.off() {
                    best = next;
                }
                *last = next;
            }
            if let Some(zero) = found {
                return zero;
            }
            let [(_, up), (_, down)] = sides;
            if up.value >= self.high && down.value <= self.low {
                break;
            }
        }
        if self.whole { best } else { self.refined(best) }
    }

    fn trial(&self, value: f64) -> Trial {
        let value = clamp(value, self.low, self.high);
        Trial { value, miss: (self.miss)(value) }
    }

    /// The zero between two trials; none where nothing crosses, or the function jumps over zero.
    fn narrow(&self, a: Trial, b: Trial) -> Option<Trial> {
        if self.whole || !a.crosses(b) {
            return None;
        }
        let no_value = Error::NoConvergence { iterations: 0 };
        let miss = |value| (self.miss)(value).ok_or(no_value);
        let (low, high) = (a.value.min(b.value), a.value.max(b.value));
        match find_root(miss, low, high, (self.high - self.low) * 1e-11) {
            Ok(Solution::At(value)) => Some(self.trial(value)).filter(|zero| zero.off() <= self.shown),
            _ => None,
        }
    }

    /// The least miss about the best coarse trial, by narrowing to thirds: within a range, at its end, or
    /// where the function ceases to have a value.
    fn refined(&self, best: Trial) -> Trial {
        let (mut low, mut high) = (self.trial(best.value - self.step), self.trial(best.value + self.step));
        for _ in 0..60 {
            let third = (high.value - low.value) / 3.0;
            let (a, b) = (self.trial(low.value + third), self.trial(high.value - third));
            if a.off() <= b.off() { high = b } else { low = a }
        }
        [low, high].into_iter().fold(best, |best, end| if end.off() < best.off() { end } else { best })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn search(miss: &dyn Fn(f64) -> Option<f64>, start: f64) -> Trial {
        Search { miss, low: 0.0, high: 10.0, step: 0.3, whole: false, shown: 1e-6 }.from(start)
    }

    #[test]
    fn of_two_zeros_the_nearer_is_taken() {
        let parabola = |x: f64| Some((x - 2.0) * (x - 7.1));
        for (start, zero) in [(0.0, 2.0), (4.4, 2.0), (4.7, 7.1), (10.0, 7.1), (2.0, 2.0)] {
            assert!((search(&parabola, start).value - zero).abs() < 1e-9, "{start}");
        }
        // Both within the first ring: the nearer still.
        let close = |x: f64| Some((x - 4.8) * (x - 5.1));
        assert!((search(&close, 5.0).value - 5.1).abs() < 1e-9);
    }

    #[test]
    fn the_least_miss_may_be_anywhere() {
        let within_range = search(&|x: f64| Some((x - 3.05).powi(2) + 1.0), 9.0);
        assert!((within_range.value - 3.05).abs() < 1e-6);
        assert_eq!(search(&|x: f64| Some(x + 1.0), 9.0), Trial { value: 0.0, miss: Some(1.0) });
        assert_eq!(search(&|x: f64| Some(x - 12.0), 9.0), Trial { value: 10.0, miss: Some(-2.0) });
        for start in [5.0, 9.0] {
            let from_a_half = search(&|x: f64| (x >= 0.5).then_some(x + 1.0), start);
            assert!((from_a_half.value - 0.5).abs() < 1e-8, "{from_a_half:?}");
            let to_a_half = search(&|x: f64| (x <= 9.5).then_some(x - 12.0), start);
            assert!((to_a_half.value - 9.5).abs() < 1e-8, "{to_a_half:?}");
        }
    }

    #[test]
    fn a_touch_is_found_and_a_jump_is_not_a_zero() {
        assert!(search(&|x: f64| Some((x - 4.0).powi(2)), 9.0).miss.unwrap() < 1e-9);
        let steps = |x: f64| {
            Some(if x < 2.0 {
                -0.5
            } else if x < 4.0 {
                -1.0
            } else {
                2.0
            })
        };
        assert_eq!(search(&steps, 9.0).miss, Some(-0.5), "past the jump");
    }

    #[test]
    fn gaps_are_stepped_over_and_nothing_is_none() {
        let gap = |x: f64| (!(3.0..5.0).contains(&x)).then_some(x - 1.0);
        assert!((search(&gap, 8.0).value - 1.0).abs() < 1e-9);
        assert_eq!(search(&|_| None, 8.0).miss, None);
    }

    #[test]
    fn whole_steps_stay_whole() {
        let whole = |shift: f64| {
            let miss = move |x: f64| Some(x - shift);
            Search { miss: &miss, low: 0.0, high: 6.0, step: 1.0, whole: true, shown: 1e-6 }.from(1.0)
        };
        assert_eq!(whole(4.0), Trial { value: 4.0, miss: Some(0.0) });
        assert_eq!(whole(4.2), Trial { value: 4.0, miss: Some(4.0 - 4.2) });
    }

    #[test]
    fn where_all_are_alike_one_stays() {
        assert_eq!(search(&|_| Some(0.0), 4.0), Trial { value: 4.0, miss: Some(0.0) });
        assert_eq!(search(&|_| Some(1.0), 4.0), Trial { value: 4.0, miss: Some(1.0) });
    }
}
