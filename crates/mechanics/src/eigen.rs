//! The smallest eigenvalue `a` of `K v = a KG v` for banded matrices, with a proof that it is the smallest.
//!
//! Inverse iteration converges to the lowest mode; the Rayleigh quotient of its shape is an upper bound of
//! the smallest eigenvalue. A shift is a lower bound as long as `K - shift KG` factors with positive pivots.
//! The result is accepted when the two bounds meet, so the eigenvalue of another mode cannot be returned;
//! close modes cost iterations, not correctness.
//!
//! # References
//! Parlett, *The Symmetric Eigenvalue Problem*, chapters 3 (inertia), 4 (inverse iteration) and 15 (pencils).

use crate::banded::{MAX_UNKNOWNS, Row, dot, factor, multiply, solve};
use crate::error::{Error, Result};
use crate::math::sqrt;
use crate::parameter::Parameter;

/// Halving alone closes the bounds in some 40 rounds.
const MAX_ITERATIONS: u32 = 200;

/// How near the two bounds of the root must come, relative to it.
const RELATIVE_GAP: f64 = 1e-10;

/// A pivot of `K` that keeps less than this share of its diagonal has no digits left.
const MIN_PIVOT: f64 = 1e-14;

/// How far below the quotient of a start shape the first shift is, relative to it.
const START_GAP: f64 = 1e-2;

/// The least root of `stiffness v = a geometric v`; leaves its mode, to any scale, in `shape`.
///
/// If that holds the mode of a similar pencil at the start, `is_near`, most of the work is saved.
pub(crate) fn smallest_eigenvalue(
    stiffness: &[Row],
    geometric: &[Row],
    is_near: bool,
    shape: &mut [f64],
) -> Result<f64> {
    let (mut factors, mut spare) = ([[0.0; 4]; MAX_UNKNOWNS], [[0.0; 4]; MAX_UNKNOWNS]);
    let mut load = [0.0; MAX_UNKNOWNS];
    let unknowns = stiffness.len();
    let mut pencil = Pencil {
        stiffness,
        geometric,
        factors: first(unknowns, &mut factors),
        spare: first(unknowns, &mut spare),
        shift: 0.0,
        load: first(unknowns, &mut load),
        shape: first(unknowns, shape),
    };
    pencil.search(is_near)
}

fn first<T>(count: usize, room: &mut [T]) -> &mut [T] {
    room.get_mut(..count).unwrap_or_default()
}

/// The problem `K v = a KG v` with the shape reached so far and a shift proved too low.
///
/// It borrows its room, so that neither it nor the two factors are ever copied.
struct Pencil<'a> {
    stiffness: &'a [Row],
    geometric: &'a [Row],
    factors: &'a mut [Row],
    spare: &'a mut [Row],
    shift: f64,
    /// `KG v`, scaled so that `v KG v` is 1.
    load: &'a mut [f64],
    shape: &'a mut [f64],
}

impl Pencil<'_> {
    fn search(&mut self, is_near: bool) -> Result<f64> {
        let mut upper = if is_near { self.begin_with_shape()? } else { self.begin()? };
        let mut previous = upper;
        for _ in 0..MAX_ITERATIONS {
            let quotient = self.improve()?;
            upper = quotient.min(upper);
            // The last step's gain predicts what is left to gain, once the shape has settled; the closer the shift, the
            // less.
            let gain = previous - quotient;
            previous = quotient;
            if gain < 0.1 * upper {
                upper = self.raise_shift(upper, gain * (upper - self.shift) / upper);
            }
            if upper - self.shift <= RELATIVE_GAP * upper {
                return Ok(upper);
            }
        }
        Err(Error::NoConvergence { iterations: MAX_ITERATIONS })
    }

    /// Begins with the same load on every unknown; nothing is known of the root.
    fn begin(&mut self) -> Result<f64> {
        if !self.try_shift(0.0, MIN_PIVOT) {
            return Err(Error::Unsupported);
        }
        // Equal loads on every free unknown favor no mode and no side; held unknowns stay at 0.
        for (load, geometric) in self.load.iter_mut().zip(self.geometric) {
            *load = if geometric[0] > 0.0 { 1.0 } else { 0.0 };
        }
        Ok(f64::INFINITY)
    }

    /// Begins with the shape at hand, that of a similar pencil; the Rayleigh quotient after one inverse iteration.
    fn begin_with_shape(&mut self) -> Result<f64> {
        for (value, geometric) in self.shape.iter_mut().zip(self.geometric) {
            *value = if geometric[0] > 0.0 { *value } else { 0.0 };
        }
        multiply(self.stiffness, self.shape, self.load);
        let work = dot(self.shape, self.load);
        let quotient = work / self.load_shape()?;
        if self.try_shift(quotient * (1.0 - START_GAP), 0.0) || self.try_shift(0.0, MIN_PIVOT) {
            self.improve()
        } else {
            Err(Error::Unsupported)
        }
    }

    /// One inverse iteration; the Rayleigh quotient of the new shape.
    fn improve(&mut self) -> Result<f64> {
        self.shape.copy_from_slice(self.load);
        solve(self.factors, self.shape);
        // v (K - shift KG) v, as (K - shift KG) v is the old load.
        let work = dot(self.shape, self.load);
        Ok(self.shift + work / self.load_shape()?)
    }

    /// Makes the load that of the shape, scaled; `v KG v` of the shape.
    fn load_shape(&mut self) -> Result<f64> {
        multiply(self.geometric, self.shape, self.load);
        let shortening = dot(self.shape, self.load);
        Parameter::AxialLoad.check_within(shortening, f64::MIN_POSITIVE, f64::MAX)?;
        let scale = 1.0 / sqrt(shortening);
        self.load.iter_mut().for_each(|load| *load *= scale);
        Ok(shortening)
    }

    /// Moves the shift close below the root; the upper bound of the root, lower if that failed.
    fn raise_shift(&mut self, mut upper: f64, gain: f64) -> f64 {
        let mut trial = upper - gain.max(0.5 * RELATIVE_GAP * upper);
        while trial > self.shift && !self.try_shift(trial, 0.0) {
            upper = trial;
            trial = 0.5 * (self.shift + upper);
        }
        upper
    }

    /// Takes the shift if it is below every root.
    fn try_shift(&mut self, shift: f64, min_pivot: f64) -> bool {
        let rows = self
            .stiffness
            .iter()
            .zip(self.geometric)
            .map(|(k, g)| [k[0] - shift * g[0], k[1] - shift * g[1], k[2] - shift * g[2], k[3] - shift * g[3]]);
        let below = factor(rows, min_pivot, self.spare);
        if below {
            core::mem::swap(&mut self.factors, &mut self.spare);
            self.shift = shift;
        }
        below
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Uncoupled unknowns with stiffness `k` and load 1: the roots are the stiffnesses.
    fn least_of<const N: usize>(stiffnesses: [f64; N]) -> Result<f64> {
        let row = |diagonal| [diagonal, 0.0, 0.0, 0.0];
        smallest_eigenvalue(&stiffnesses.map(row), &[row(1.0); N], false, &mut [0.0; N])
    }

    #[test]
    fn the_least_of_roots_far_close_and_equal_is_found() {
        for roots in
            [[5.0, 1.0, 9.0, 2.0], [1.0, 1.01, 1.02, 1.03], [2.0, 1.0 + 1e-7, 1.0, 1.0 + 1e-5], [3.0, 1.0, 1.0, 1.0]]
        {
            let found = least_of(roots).unwrap();
            assert!((found - 1.0).abs() < 2e-10, "{roots:?}: {found}");
        }
    }

    #[test]
    fn a_start_without_the_lowest_mode_does_not_mislead() {
        // Mode (1, -1) has the root 1; the start (1, 1) is the other mode, of root 3, exactly.
        let stiffness = [[2.0, 0.0, 0.0, 0.0], [2.0, 1.0, 0.0, 0.0]];
        let found = smallest_eigenvalue(&stiffness, &[[1.0, 0.0, 0.0, 0.0]; 2], false, &mut [0.0; 2]).unwrap();
        assert!((found - 1.0).abs() < 2e-10, "{found}");
    }

    #[test]
    fn any_start_leads_to_the_lowest_mode() {
        let (stiffness, geometric) = ([[2.0, 0.0, 0.0, 0.0], [2.0, 1.0, 0.0, 0.0]], [[1.0, 0.0, 0.0, 0.0]; 2]);
        for start in [[1.0, -1.0], [1.0, -0.99], [1.0, 0.0], [1.0, 1.0]] {
            let mut shape = start;
            let found = smallest_eigenvalue(&stiffness, &geometric, true, &mut shape).unwrap();
            assert!((found - 1.0).abs() < 2e-10 && found >= 1.0, "{start:?}: {found}");
            assert!((shape[1] / shape[0] + 1.0).abs() < 1e-4, "{start:?}: {shape:?}");
        }
    }

    #[test]
    fn no_load_and_no_stiffness_are_refused() {
        let (one, nothing) = ([1.0, 0.0, 0.0, 0.0], [0.0; 4]);
        assert!(matches!(
            smallest_eigenvalue(&[one], &[nothing], false, &mut [0.0]),
            Err(Error::OutOfRange { parameter: Parameter::AxialLoad, .. })
        ));
        assert_eq!(smallest_eigenvalue(&[nothing], &[one], false, &mut [0.0]), Err(Error::Unsupported));
    }
}
