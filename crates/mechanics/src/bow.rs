//! The bow: what it stores, how hard it pushes, and how fast the arrow leaves.
//!
//! A draw-force curve `F g(u)`, `F` the peak force (N) and `u = p/S` the drawn share of the stroke `S`
//! (m), stores `E` (J). A share, the loss, reaches nothing that flies. The rest moves the arrow of mass
//! `m` and a virtual mass `K` (kg) that stands for string and limbs, moving as fast as the arrow:
//!
//! ```text
//! E = F S integral of g                            stored, J
//! E (1 - loss) = (m + K) v^2 / 2                   launch speed v, m/s
//! a_pk = F (1 - loss) / (m + K)                    peak acceleration, m/s^2
//! ```
//!
//! The shapes `g`, with rise `r`, valley `w`, let-off `q` and curvature `k`:
//!
//! ```text
//! compound            1 - (1 - u/r)^2  up to r, then 1, then down by a smooth step to 1 - q over the last w
//!                     integral  1 - r/3 - w q/2
//! recurve, longbow    (1 + k) u - k u^2
//!                     integral  1/2 + k/6
//! ```
//!
//! It takes for granted that limbs and string keep step with the arrow, so that one virtual mass serves
//! at every arrow weight; and that the loss is a share of the energy. Shapes, virtual masses and losses
//! by kind of bow are from memory, and bring the speed to within about 8 % (memory): a measurement
//! ([`crate::Rating`], [`crate::measured`]) is better.
//!
//! # References
//! Klopsteg, "Physics of Bows and Arrows", Am. J. Phys. 11 (1943); Tuijn & Kooi, "The
//! measurement of arrow velocities in the students' laboratory", Eur. J. Phys. 13 (1992).

use crate::error::Result;
use crate::math::sqrt;
use crate::measured::MeasuredCurve;
use crate::parameter::Parameter;

/// The shape of a draw-force curve: force over peak force against drawn share of the stroke.
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
        /// Share of the peak force let off at full draw, 0 to 0.99.
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
    /// Slow to rise and to fall.
    Soft,
    /// Between the two.
    Medium,
    /// Quick to rise and to fall: the most energy for a peak force.
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

    /// Force over peak force when the string has come the share `drawn` (0 to 1) of the stroke.
    ///
    /// Short of 0 it is 0; beyond 1 it is that at full draw.
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

    fn check(&self) -> Result<()> {
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

/// `drawn` held to 0..1; what is not a number counts as 0, which `clamp` would let through.
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

/// A bow drawn to one length.
///
/// The fields may be read and set freely; [`Bow::new`] and every calculation that can fail
/// check them.
///
/// # Examples
/// ```
/// use clothyard_mechanics::{Bow, DrawCurve};
/// let curve = DrawCurve::LetOff { rise: 0.35, valley: 0.25, let_off: 0.80 };
/// let bow = Bow::new(267.0, 0.49, curve, 0.007, 0.2)?;
/// let stored_j = 267.0 * 0.49 * (1.0 - 0.35 / 3.0 - 0.25 * 0.80 / 2.0); // 102.5 J
/// assert!((bow.stored_energy_j() - stored_j).abs() < 1e-13);
/// assert!((bow.delivered_energy_j() - 0.8 * stored_j).abs() < 1e-13);
/// // 80 % of 267 N on 23 g of arrow and 7 g of virtual mass.
/// assert!((bow.peak_acceleration(0.023)? - 267.0 * 0.8 / 0.030).abs() < 1e-11);
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bow {
    /// Peak force of the draw, N.
    pub peak_force_n: f64,
    /// Way of the string from brace to full draw, m.
    pub stroke_m: f64,
    /// Shape of the draw-force curve.
    pub curve: DrawCurve,
    /// Mass that stands for string and limbs at the arrow's speed, kg.
    pub virtual_mass_kg: f64,
    /// Share of the stored energy that reaches neither arrow nor virtual mass.
    pub loss: f64,
}

impl Bow {
    /// A bow of checked properties: peak force (1 to 2000 N), stroke (0.01 to 1.5 m), curve, virtual mass
    /// (0 to 0.5 kg), loss (0 to 0.9).
    ///
    /// Example: see [`Bow`].
    ///
    /// # Errors
    /// [`crate::Error::OutOfRange`] for any of them, and for a valley that begins before the
    /// rise ends.
    pub fn new(peak_force_n: f64, stroke_m: f64, curve: DrawCurve, virtual_mass_kg: f64, loss: f64) -> Result<Self> {
        let bow = Self { peak_force_n, stroke_m, curve, virtual_mass_kg, loss };
        bow.check()?;
        Ok(bow)
    }

    pub(crate) fn check(&self) -> Result<()> {
        Parameter::PeakForce.check(self.peak_force_n)?;
        Parameter::Stroke.check(self.stroke_m)?;
        self.curve.check()?;
        Parameter::VirtualMass.check(self.virtual_mass_kg)?;
        Parameter::Loss.check(self.loss)?;
        Ok(())
    }

    /// Energy stored at full draw, J.
    #[must_use]
    pub fn stored_energy_j(&self) -> f64 {
        self.peak_force_n * self.stroke_m * self.curve.energy_fraction()
    }

    /// Energy given to arrow and virtual mass, J.
    #[must_use]
    pub fn delivered_energy_j(&self) -> f64 {
        self.stored_energy_j() * (1.0 - self.loss)
    }

    /// Peak acceleration of an arrow (0.01 g to 40 kg), m/s^2: `F (1 - loss) / (m + K)`. Example: see [`Bow`].
    ///
    /// # Errors
    /// [`crate::Error::OutOfRange`] for the bow or the arrow's mass.
    pub fn peak_acceleration(&self, arrow_mass_kg: f64) -> Result<f64> {
        self.check()?;
        let m = Parameter::ArrowMass.check(arrow_mass_kg)?;
        Ok(self.peak_force_n * (1.0 - self.loss) / (m + self.virtual_mass_kg))
    }
}

/// Speed (m/s) at which an arrow leaves: `sqrt(2 E / (m + K))`.
///
/// Energy 0.001 to 10 000 J, arrow 0.01 g to 40 kg, virtual mass 0 to 0.5 kg.
///
/// # Errors
/// [`crate::Error::OutOfRange`] for the energy or a mass.
///
/// # Examples
/// ```
/// use clothyard_mechanics::launch_speed;
/// // 80 J in 20 g of arrow and 5 g of virtual mass: 80 m/s.
/// assert!((launch_speed(80.0, 0.020, 0.005)? - 80.0).abs() < 1e-13);
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
///
/// # References
/// Klopsteg, Am. J. Phys. 11 (1943).
pub fn launch_speed(delivered_energy_j: f64, arrow_mass_kg: f64, virtual_mass_kg: f64) -> Result<f64> {
    let e = Parameter::Energy.check(delivered_energy_j)?;
    let m = Parameter::ArrowMass.check(arrow_mass_kg)?;
    let k = Parameter::VirtualMass.check(virtual_mass_kg)?;
    Ok(sqrt(2.0 * e / (m + k)))
}

/// Kinetic energy `m v^2 / 2` (J) of a mass (kg) at a speed (m/s).
///
/// # Examples
/// ```
/// use clothyard_mechanics::kinetic_energy_j;
/// assert!((kinetic_energy_j(0.020, 50.0) - 25.0).abs() < 1e-14);
/// ```
#[must_use]
pub fn kinetic_energy_j(mass_kg: f64, speed: f64) -> f64 {
    0.5 * mass_kg * speed * speed
}

/// Momentum `m v` (kg m/s) of a mass (kg) at a speed (m/s).
///
/// # Examples
/// ```
/// use clothyard_mechanics::momentum;
/// assert!((momentum(0.020, 50.0) - 1.0).abs() < 1e-15);
/// ```
#[must_use]
pub fn momentum(mass_kg: f64, speed: f64) -> f64 {
    mass_kg * speed
}

#[cfg(test)]
#[allow(clippy::float_cmp)] // joints of the curve are exact
mod tests {
    use super::*;
    use crate::error::Error;

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
    fn speed_energy_and_momentum_agree() {
        let (energy, m, k) = (95.0, 0.0245, 0.007);
        let v = launch_speed(energy, m, k).unwrap();
        assert!((kinetic_energy_j(m + k, v) - energy).abs() < 1e-12);
        assert!((momentum(m, v) * v - 2.0 * kinetic_energy_j(m, v)).abs() < 1e-12);
    }

    #[test]
    fn the_loss_is_taken_from_energy_and_push_alike() {
        let bow = Bow::new(300.0, 0.5, let_off(0.35, 0.25, 0.8), 0.007, 0.2).unwrap();
        assert!((bow.delivered_energy_j() / bow.stored_energy_j() - 0.8).abs() < 1e-15);
        let push = bow.peak_acceleration(0.023).unwrap();
        assert!((push - 300.0 * 0.8 / 0.030).abs() < 1e-9, "{push}");
    }

    #[test]
    fn what_no_bow_does_is_refused_by_name() {
        let parameter = |bow: Result<Bow>| match bow.unwrap_err() {
            Error::OutOfRange { parameter, .. } => parameter,
            other => panic!("{other}"),
        };
        let bow = |curve, loss| Bow::new(300.0, 0.5, curve, 0.007, loss);
        assert_eq!(parameter(bow(let_off(0.8, 0.3, 0.5), 0.0)), Parameter::Valley);
        assert_eq!(parameter(bow(let_off(0.4, 0.3, 1.0), 0.0)), Parameter::LetOff);
        assert_eq!(parameter(bow(DrawCurve::RECURVE, 1.0)), Parameter::Loss);
        let steep = DrawCurve::Smooth { curvature: 1.5 };
        assert_eq!(parameter(bow(steep, 0.0)), Parameter::Curvature);
        assert!(launch_speed(f64::NAN, 0.02, 0.0).is_err());
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
