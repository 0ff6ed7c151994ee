//! The shape of a draw-force curve, by kind of bow or as measured.

use crate::error::Result;
use crate::measured::MeasuredCurve;
use crate::parameter::Parameter;

/// The shape of a draw-force curve: force over peak force against drawn share of the stroke.
///
/// With rise `r`, valley `w`, let-off `q` and curvature `k`:
///
/// ```text
/// compound            1 - (1 - u/r)^2  up to r, then 1, then a smooth step down to 1 - q over the last w
///                     integral  1 - r/3 - w q/2
/// recurve, longbow    (1 + k) u - k u^2
///                     integral  1/2 + k/6
/// ```
///
/// # Examples
/// ```
/// use clothyard_mechanics::DrawCurve;
/// let compound = DrawCurve::LetOff { rise: 0.35, valley: 0.25, let_off: 0.80 };
/// // Nothing at brace, the peak from 0.35 to 0.75 of the stroke, a fifth of it at full draw.
/// assert_eq!([0.0, 0.35, 0.75].map(|u| compound.force_fraction(u)), [0.0, 1.0, 1.0]);
/// assert!((compound.force_fraction(1.0) - 0.20).abs() < 1e-15);
/// assert!((compound.energy_fraction() - (1.0 - 0.35 / 3.0 - 0.25 * 0.80 / 2.0)).abs() < 1e-15);
/// // Four recurves stored 0.5811 to 0.5953 (Tuijn & Kooi 1992, Table I).
/// assert!((0.5811..0.5953).contains(&DrawCurve::RECURVE.energy_fraction()));
/// assert!((DrawCurve::LONGBOW.energy_fraction() - (0.5 + 0.12 / 6.0)).abs() < 1e-15);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[expect(clippy::large_enum_variant, reason = "a kilobyte in place, in a crate that does not allocate")]
pub enum DrawCurve {
    /// A compound: a parabola up to the peak, a plateau, a smooth step down into the valley.
    LetOff {
        /// Share of the stroke in which the force rises to its peak, 0 to 1.
        rise: f64,
        /// Share of the stroke in which the force falls at the end, 0 to 1 less the rise.
        valley: f64,
        /// Share of the peak force by which the force drops at full draw, 0 to 0.99.
        let_off: f64,
    },
    /// A recurve or longbow: `g(u) = (1 + k) u - k u^2`, rising to its peak at full draw.
    Smooth {
        /// `k`, -1 to 1; 0 is a straight line, above 0 the force comes early.
        curvature: f64,
    },
    /// Readings of draw and force, with straight lines between.
    Measured(MeasuredCurve),
}

/// How fast a compound's force rises and falls.
///
/// # Examples
/// ```
/// use clothyard_mechanics::{Cam, DrawCurve};
/// let stored = |cam: Cam| {
///     let (rise, valley) = cam.rise_and_valley();
///     DrawCurve::LetOff { rise, valley, let_off: 0.80 }.energy_fraction()
/// };
/// assert!((stored(Cam::Soft) - (1.0 - 0.50 / 3.0 - 0.30 * 0.80 / 2.0)).abs() < 1e-15); // 0.713
/// assert!((stored(Cam::Hard) - (1.0 - 0.20 / 3.0 - 0.18 * 0.80 / 2.0)).abs() < 1e-15); // 0.861
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Cam {
    /// Slow rise and fall.
    Soft,
    /// Between the two.
    Medium,
    /// Quick rise and fall: the most energy for a given peak force.
    Hard,
}

impl Cam {
    /// Rise and valley of a [`DrawCurve::LetOff`], as shares of the stroke (from memory).
    #[must_use]
    pub const fn rise_and_valley(self) -> (f64, f64) {
        match self {
            Self::Soft => (0.50, 0.30),
            Self::Medium => (0.35, 0.25),
            Self::Hard => (0.20, 0.18),
        }
    }
}

impl DrawCurve {
    /// Curvature of a typical recurve: it stores 0.585 of peak force times stroke, within the
    /// 0.581 to 0.595 measured on four (Tuijn & Kooi 1992, Table I).
    pub const RECURVE: Self = Self::Smooth { curvature: 0.51 };

    /// Curvature of a typical longbow (from memory).
    pub const LONGBOW: Self = Self::Smooth { curvature: 0.12 };

    /// Force over peak force with the string at the share `drawn` (0 to 1) of the stroke.
    ///
    /// Below 0 it is 0; above 1 it is that at full draw.
    #[must_use]
    pub fn force_fraction(&self, drawn: f64) -> f64 {
        let u = share(drawn);
        match *self {
            Self::LetOff { rise, valley, let_off } => {
                if u < rise {
                    let short = 1.0 - u / rise;
                    1.0 - short * short
                } else {
                    1.0 - let_off * fall(u, valley)
                }
            }
            Self::Smooth { curvature: k } => u * (1.0 + k * (1.0 - u)),
            Self::Measured(ref curve) => curve.force_fraction(u),
        }
    }

    /// Stored energy over peak force times stroke: the integral of [`Self::force_fraction`].
    #[must_use]
    pub fn energy_fraction(&self) -> f64 {
        match *self {
            Self::LetOff { rise, valley, let_off } => 1.0 - rise / 3.0 - 0.5 * valley * let_off,
            Self::Smooth { curvature: k } => 0.5 + k / 6.0,
            Self::Measured(ref curve) => curve.energy_fraction(),
        }
    }

    pub(crate) fn check(&self) -> Result<()> {
        match *self {
            Self::LetOff { rise, valley, let_off } => {
                Parameter::Rise.check(rise)?;
                Parameter::Valley.check_within(valley, 0.0, 1.0 - rise)?;
                Parameter::LetOff.check(let_off)?;
            }
            Self::Smooth { curvature } => {
                Parameter::Curvature.check(curvature)?;
            }
            Self::Measured(_) => {} // checked when it was read
        }
        Ok(())
    }
}

/// `drawn` limited to 0..1; NaN counts as 0, which `clamp` would pass on.
fn share(drawn: f64) -> f64 {
    if drawn > 0.0 { drawn.min(1.0) } else { 0.0 }
}

/// Smooth step from 0, a `valley` before full draw, to 1 at full draw.
fn fall(u: f64, valley: f64) -> f64 {
    let begun = u - (1.0 - valley);
    if u >= 1.0 {
        1.0
    } else if begun <= 0.0 {
        0.0
    } else {
        let t = begun / valley;
        t * t * (3.0 - 2.0 * t)
    }
}

#[cfg(test)]
#[allow(clippy::float_cmp)] // joints of the curve are exact
mod tests {
    use super::*;

    fn let_off(rise: f64, valley: f64, let_off: f64) -> DrawCurve {
        DrawCurve::LetOff { rise, valley, let_off }
    }

    /// Simpson's rule between the joints of a curve, each piece a cubic at most: no error at all.
    fn quadrature(curve: &DrawCurve, joints: &[f64]) -> f64 {
        let piece = |ends: &[f64]| {
            let (a, b) = (ends[0], ends[1]);
            let g = |u| curve.force_fraction(u);
            (b - a) / 6.0 * (g(a) + 4.0 * g(0.5 * (a + b)) + g(b))
        };
        joints.windows(2).map(piece).sum()
    }

    #[test]
    fn stored_energy_is_the_area_under_the_force() {
        for (r, w, q) in [(0.5, 0.3, 0.65), (0.35, 0.25, 0.8), (0.2, 0.18, 0.9), (0.6, 0.4, 0.0)] {
            let curve = let_off(r, w, q);
            let area = quadrature(&curve, &[0.0, r, 1.0 - w, 1.0]);
            assert!((curve.energy_fraction() - area).abs() < 1e-15, "{curve:?}: {area}");
        }
        for curve in [DrawCurve::RECURVE, DrawCurve::LONGBOW] {
            let area = quadrature(&curve, &[0.0, 1.0]);
            assert!((curve.energy_fraction() - area).abs() < 1e-15, "{curve:?}: {area}");
        }
    }

    #[test]
    fn a_recurve_stores_what_four_recurves_were_measured_to_store() {
        // W / (F S) = 0.5811, 0.5813, 0.5822, 0.5953: Tuijn & Kooi (1992), Table I.
        assert!((0.5811..=0.5953).contains(&DrawCurve::RECURVE.energy_fraction()));
    }

    #[test]
    fn the_force_rises_to_its_peak_and_falls_into_the_valley() {
        let curve = let_off(0.35, 0.25, 0.8);
        let at = |u| curve.force_fraction(u);
        assert_eq!([at(0.0), at(0.35), at(0.5), at(0.75)], [0.0, 1.0, 1.0, 1.0]);
        assert!((at(1.0) - 0.2).abs() < 1e-15);
        assert!((at(0.875) - 0.6).abs() < 1e-15, "half let off at half the valley");
        assert_eq!([at(-1.0), at(f64::NAN), at(2.0)], [0.0, 0.0, at(1.0)]);
    }

    #[test]
    fn edges_of_the_allowed_curves_stay_finite() {
        let curves = [let_off(0.0, 0.0, 0.5), let_off(1.0, 0.0, 0.0), let_off(0.0, 1.0, 0.99)];
        for curve in curves {
            for u in [0.0, 0.5, 1.0] {
                assert!((0.0..=1.0).contains(&curve.force_fraction(u)), "{curve:?} at {u}");
            }
        }
    }

    #[test]
    fn a_harder_cam_stores_more() {
        let curve = |cam: Cam| {
            let (rise, valley) = cam.rise_and_valley();
            let_off(rise, valley, 0.8)
        };
        let stored = [Cam::Soft, Cam::Medium, Cam::Hard].map(|cam| {
            assert_eq!(curve(cam).check(), Ok(()), "{cam:?}");
            curve(cam).energy_fraction()
        });
        assert!(stored.is_sorted_by(|less, more| less < more) && stored[0] > 0.5 && stored[2] < 1.0, "{stored:?}");
    }
}
