//! The bow: the energy it stores, how hard it pushes, and how fast the arrow leaves.

use crate::draw_curve::DrawCurve;
use crate::error::Result;
use crate::math::sqrt;
use crate::parameter::Parameter;

/// A bow drawn to one length.
///
/// A draw-force curve `F g(u)`, `F` the peak force (N) and `u = p/S` the drawn share of the stroke `S` (m), stores `E`
/// (J). A share, the loss, reaches nothing that moves with the arrow. The rest accelerates the arrow of mass `m` and a
/// virtual mass `K` (kg) that represents string and limbs, moving as fast as the arrow:
///
/// ```text
/// E = F S integral of g                            stored, J
/// E (1 - loss) = (m + K) v^2 / 2                   launch speed v, m/s
/// ```
///
/// Assumptions: limbs and string move in proportion to the arrow, so that one virtual mass holds at every arrow mass,
/// and the loss is a share of the energy. Shapes, virtual masses and losses by kind of bow are from memory, and give
/// the speed to within about 8 % (memory): a measurement ([`crate::Rating`], [`crate::measured`]) is better.
///
/// The fields may be read and set freely; [`Bow::new`] and every calculation that can fail check them.
///
/// # Examples
/// ```
/// use clothyard_mechanics::{Bow, DrawCurve};
/// let curve = DrawCurve::LetOff { rise: 0.35, valley: 0.25, let_off: 0.80 };
/// let bow = Bow::new(267.0, 0.49, curve, 0.007, 0.2)?;
/// let stored_j = 267.0 * 0.49 * (1.0 - 0.35 / 3.0 - 0.25 * 0.80 / 2.0); // 102.5 J
/// assert!((bow.stored_energy_j() - stored_j).abs() < 1e-13);
/// assert!((bow.delivered_energy_j() - 0.8 * stored_j).abs() < 1e-13);
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
///
/// # References
/// Klopsteg, "Physics of Bows and Arrows", Am. J. Phys. 11 (1943); Tuijn & Kooi, "The measurement of arrow
/// velocities in the students' laboratory", Eur. J. Phys. 13 (1992).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bow {
    /// Peak force of the draw, N.
    pub peak_force_n: f64,
    /// Travel of the string from brace to full draw, m.
    pub stroke_m: f64,
    /// Shape of the draw-force curve.
    pub curve: DrawCurve,
    /// Mass that represents string and limbs at the arrow's speed, kg.
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
mod tests {
    use super::*;
    use crate::error::Error;

    fn let_off(rise: f64, valley: f64, let_off: f64) -> DrawCurve {
        DrawCurve::LetOff { rise, valley, let_off }
    }

    #[test]
    fn speed_energy_and_momentum_agree() {
        let (energy, m, k) = (95.0, 0.0245, 0.007);
        let v = launch_speed(energy, m, k).unwrap();
        assert!((kinetic_energy_j(m + k, v) - energy).abs() < 1e-12);
        assert!((momentum(m, v) * v - 2.0 * kinetic_energy_j(m, v)).abs() < 1e-12);
    }

    #[test]
    fn the_loss_is_taken_from_the_energy() {
        let bow = Bow::new(300.0, 0.5, let_off(0.35, 0.25, 0.8), 0.007, 0.2).unwrap();
        assert!((bow.delivered_energy_j() / bow.stored_energy_j() - 0.8).abs() < 1e-15);
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
}
