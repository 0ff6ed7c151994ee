//! The energy of a bow from measured speeds, which replaces every default.

use crate::error::Result;
use crate::math::sqrt;
use crate::parameter::Parameter;
use crate::units::{KILOGRAM_PER_GRAIN, METER_PER_INCH, NEWTON_PER_POUND_FORCE};

/// Draw length less true draw (string to pivot), m: 1.75 in by the AMO/ATA convention.
///
/// Example: see [`Rating::energy_ratio`].
pub const PIVOT_TO_DRAW_LENGTH_M: f64 = 1.75 * METER_PER_INCH;

/// Energy (J) given to arrow and virtual mass, from one chronograph reading.
///
/// The inverse of [`crate::launch_speed`]. Speed 0.1 to 1000 m/s.
///
/// # Errors
/// [`crate::Error::OutOfRange`] for the speed (m/s), a mass (kg) or the energy that follows.
///
/// # Examples
/// ```
/// use clothyard_mechanics::delivered_energy_from_speed;
/// // 20 g of arrow and 5 g of virtual mass at 80 m/s.
/// assert!((delivered_energy_from_speed(80.0, 0.020, 0.005)? - 80.0).abs() < 1e-13);
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
#[inline]
pub fn delivered_energy_from_speed(speed: f64, arrow_mass_kg: f64, virtual_mass_kg: f64) -> Result<f64> {
    let v = Parameter::Speed.check(speed)?;
    let m = Parameter::ArrowMass.check(arrow_mass_kg)?;
    let k = Parameter::VirtualMass.check(virtual_mass_kg)?;
    Parameter::Energy.check(0.5 * (m + k) * v * v)
}

/// Delivered energy (J) and virtual mass (kg), from two readings at different arrow masses.
///
/// Each reading of a speed `v` (m/s) at an arrow mass `m` (kg) gives, with the virtual mass `K` (kg),
///
/// ```text
/// E = (m + K) v^2 / 2                        one reading, K known
/// K = (m2 v2^2 - m1 v1^2) / (v1^2 - v2^2)    two readings at different masses
/// ```
///
/// More than two readings are fitted together: [`crate::measured::fit_speeds`], [`crate::estimate`].
///
/// Speeds 0.1 to 1000 m/s, masses 0.01 g to 40 kg (given in kg), in either order. Similar masses make the result
/// uncertain: the heavier arrow should weigh at least a quarter more.
///
/// # Errors
/// [`crate::Error::OutOfRange`] for a speed or mass; for the heavier arrow's speed, unless it
/// is less than the lighter one's yet carries no less energy; for a virtual mass or energy
/// beyond any bow.
///
/// # Examples
/// ```
/// use clothyard_mechanics::energy_and_virtual_mass_from_two;
/// // 20 g at 80 m/s and 35 g at sqrt(4000) = 63.2 m/s: both are 80 J with 5 g of virtual mass.
/// let (energy_j, virtual_kg) = energy_and_virtual_mass_from_two(80.0, 0.020, f64::sqrt(4_000.0), 0.035)?;
/// assert!((energy_j - 80.0).abs() < 1e-12 && (virtual_kg - 0.005).abs() < 1e-15);
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
///
/// # References
/// Klopsteg, Am. J. Phys. 11 (1943).
#[inline]
pub fn energy_and_virtual_mass_from_two(speed1: f64, mass1_kg: f64, speed2: f64, mass2_kg: f64) -> Result<(f64, f64)> {
    let first = (Parameter::ArrowMass.check(mass1_kg)?, Parameter::Speed.check(speed1)?);
    let second = (Parameter::ArrowMass.check(mass2_kg)?, Parameter::Speed.check(speed2)?);
    let ((light, fast), (heavy, slow)) = if first.0 <= second.0 { (first, second) } else { (second, first) };
    // Minimum speed: the energy of the lighter arrow, so that K is not negative.
    Parameter::Speed.check_within(slow, fast * sqrt(light / heavy), fast * (1.0 - 1e-6))?;
    let (fast2, slow2) = (fast * fast, slow * slow);
    // At that minimum itself rounding may leave K slightly below 0.
    let k = ((heavy * slow2 - light * fast2) / (fast2 - slow2)).max(0.0);
    Parameter::VirtualMass.check(k)?;
    Ok((Parameter::Energy.check(0.5 * (light + k) * fast2)?, k))
}

/// The conditions under which a bow's speed is rated.
///
/// A published rated speed is one reading under stated conditions. It scales with peak force times stroke,
/// which assumes that the draw-force curve keeps its shape:
///
/// ```text
/// E = E_rated (F S) / (F_rated S_rated)        J; peak force F (N), stroke S (m)
/// ```
///
/// # Examples
/// ```
/// use clothyard_mechanics::Rating;
/// use clothyard_mechanics::units::{KILOGRAM_PER_GRAIN, NEWTON_PER_POUND_FORCE};
/// // Grains of arrow to a pound of peak force: 5 by ASTM, 540 / 60 = 9 by the older rule.
/// let grains_per_pound =
///     |r: Rating| r.arrow_mass_kg / KILOGRAM_PER_GRAIN / (r.peak_force_n / NEWTON_PER_POUND_FORCE);
/// assert!((grains_per_pound(Rating::ASTM_F1544) - 5.0).abs() < 1e-14);
/// assert!((grains_per_pound(Rating::AMO) - 9.0).abs() < 1e-14);
/// ```
///
/// # References
/// ASTM F1544-11; AMO Standards; ATA/BOW-105-2008.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rating {
    /// Mass of the arrow shot, kg.
    pub arrow_mass_kg: f64,
    /// Peak force, N.
    pub peak_force_n: f64,
    /// Draw length in the AMO/ATA convention, m.
    pub draw_length_m: f64,
}

impl Rating {
    /// ASTM F1544: 5 grains per pound at 70 lb, that is 350 gr; 30 in of draw.
    pub const ASTM_F1544: Self = Self {
        arrow_mass_kg: 5.0 * 70.0 * KILOGRAM_PER_GRAIN,
        peak_force_n: 70.0 * NEWTON_PER_POUND_FORCE,
        draw_length_m: 30.0 * METER_PER_INCH,
    };

    /// The older AMO rating: 540 gr, 60 lb, 30 in of draw.
    pub const AMO: Self = Self {
        arrow_mass_kg: 540.0 * KILOGRAM_PER_GRAIN,
        peak_force_n: 60.0 * NEWTON_PER_POUND_FORCE,
        draw_length_m: 30.0 * METER_PER_INCH,
    };

    /// Energy of the bow as it is rated over that at the peak force (N) and stroke (m) of its user.
    ///
    /// The curve is taken to keep its shape. The rating's stroke is its draw length less [`PIVOT_TO_DRAW_LENGTH_M`]
    /// and the brace height (0 to 0.5 m).
    ///
    /// # Errors
    /// [`crate::Error::OutOfRange`] for any input, or a brace height that leaves the rating no stroke.
    ///
    /// # Examples
    /// ```
    /// use clothyard_mechanics::{PIVOT_TO_DRAW_LENGTH_M, Rating};
    /// let (rating, brace_m) = (Rating::ASTM_F1544, 0.165);
    /// let stroke_m = rating.draw_length_m - PIVOT_TO_DRAW_LENGTH_M - brace_m;
    /// // Six sevenths of the peak force over 90 % of the stroke.
    /// let ratio = rating.energy_ratio(rating.peak_force_n * 6.0 / 7.0, 0.9 * stroke_m, brace_m)?;
    /// assert!((ratio - 7.0 / 6.0 / 0.9).abs() < 1e-14);
    /// # Ok::<(), clothyard_mechanics::Error>(())
    /// ```
    #[inline]
    pub fn energy_ratio(&self, peak_force_n: f64, stroke_m: f64, brace_height_m: f64) -> Result<f64> {
        let rated_force = Parameter::PeakForce.check(self.peak_force_n)?;
        let rated_draw = Parameter::DrawLength.check(self.draw_length_m)?;
        let force = Parameter::PeakForce.check(peak_force_n)?;
        let stroke = Parameter::Stroke.check(stroke_m)?;
        let brace = Parameter::BraceHeight.check(brace_height_m)?;
        let rated_stroke = Parameter::Stroke.check(rated_draw - PIVOT_TO_DRAW_LENGTH_M - brace)?;
        Ok(rated_force * rated_stroke / (force * stroke))
    }
}

#[cfg(test)]
#[allow(clippy::float_cmp)] // an error carries the very value given
mod tests {
    use super::*;
    use crate::bow::launch_speed;
    use crate::units::METER_PER_SECOND_PER_FPS;

    #[test]
    fn the_rating_arrow_weighs_350_grains() {
        // ASTM F1544-11: 5 gr per lb, 70 lb.
        let grains = Rating::ASTM_F1544.arrow_mass_kg / KILOGRAM_PER_GRAIN;
        assert!((grains - 350.0).abs() < 1e-12);
    }

    #[test]
    fn readings_invert_launch_speed() {
        for (energy, k, light, heavy) in [(95.0, 0.007, 0.02, 0.03), (40.0, 0.0, 0.018, 0.05)] {
            let v1 = launch_speed(energy, light, k).unwrap();
            let v2 = launch_speed(energy, heavy, k).unwrap();
            let one = delivered_energy_from_speed(v1, light, k).unwrap();
            assert!((one - energy).abs() < 1e-12, "{one}");
            for found in [
                energy_and_virtual_mass_from_two(v1, light, v2, heavy),
                energy_and_virtual_mass_from_two(v2, heavy, v1, light),
            ] {
                let (e, virtual_mass) = found.unwrap();
                assert!((e - energy).abs() < 1e-11, "{e}");
                assert!((virtual_mass - k).abs() < 1e-15, "{virtual_mass}");
            }
        }
    }

    #[test]
    fn readings_that_contradict_the_bow_are_refused() {
        // The heavier arrow faster, as fast, and carrying less energy than the lighter.
        for v2 in [81.0, 80.0, 60.0] {
            let refused = energy_and_virtual_mass_from_two(80.0, 0.02, v2, 0.03).unwrap_err();
            assert!(matches!(
                refused,
                crate::Error::OutOfRange { parameter: Parameter::Speed, value, .. } if value == v2
            ));
        }
        assert!(energy_and_virtual_mass_from_two(80.0, 0.02, 79.99, 0.03).is_err());
    }

    #[test]
    fn the_rating_bow_itself_gets_the_rated_energy() {
        let rated_speed = 320.0 * METER_PER_SECOND_PER_FPS;
        for rating in [Rating::ASTM_F1544, Rating::AMO] {
            let (brace, k) = (0.165, 0.007);
            let stroke = rating.draw_length_m - PIVOT_TO_DRAW_LENGTH_M - brace;
            let rated_j = delivered_energy_from_speed(rated_speed, rating.arrow_mass_kg, k).unwrap();
            let energy = |force, stroke| rated_j / rating.energy_ratio(force, stroke, brace).unwrap();
            let own = energy(rating.peak_force_n, stroke);
            let speed = launch_speed(own, rating.arrow_mass_kg, k).unwrap();
            assert!((speed - rated_speed).abs() < 1e-12, "{speed}");
            let scaled = energy(0.8 * rating.peak_force_n, 0.9 * stroke);
            assert!((scaled / own - 0.72).abs() < 1e-14);
        }
    }

    #[test]
    fn a_brace_height_beyond_the_draw_is_refused() {
        let short = Rating { draw_length_m: 0.5, ..Rating::AMO };
        assert!(short.energy_ratio(200.0, 0.5, 0.46).is_err());
    }

    #[test]
    fn the_older_rating_is_nine_grains_a_pound() {
        // AMO: 540 gr at 60 lb and 30 in, which are 34.99 g, 266.9 N and 0.762 m.
        let Rating { arrow_mass_kg, peak_force_n, draw_length_m } = Rating::AMO;
        assert!((arrow_mass_kg - 0.034_991_411_4).abs() < 1e-12);
        assert!((peak_force_n - 266.893_296_9).abs() < 1e-6);
        assert!((draw_length_m - 0.762).abs() < 1e-15);
        // Both are shot at the same draw.
        assert!((Rating::ASTM_F1544.draw_length_m - draw_length_m).abs() < 1e-15);
    }
}
