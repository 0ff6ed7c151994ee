//! Arrows of unequal mass on one sight mark: how far apart they hit.

use crate::error::Result;
use crate::parameter::Parameter;

/// Derivatives of the height of impact at one distance. Example: see [`MeanShot`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HeightSensitivity {
    /// Height gained per m/s of launch speed, m per m/s, that is s.
    pub per_speed_s: f64,
    /// Height gained per kg of arrow at the same launch speed, m/kg; 0 neglects the air.
    pub per_mass_m_per_kg: f64,
}

/// The mean arrow of a set, at its launch.
///
/// At the same energy `E` (J), with arrow mass `m` and virtual mass `K` (kg), the speed `v` (m/s) and the
/// height of impact `h` (m) follow
///
/// ```text
/// v = sqrt(2 E / (m + K)),   dv/dm = -v / (2 (m + K))        m/s per kg
/// dh/dm = (dh/dv) (dv/dm) + (dh/dm at constant speed)        m per kg
/// ```
///
/// A heavier arrow also loses less speed in the air; that last term comes from the trajectory
/// ([`crate::flight`]), as does `dh/dv`. Both derivatives are taken at the mean arrow, which holds for
/// spreads of a few percent.
///
/// # Examples
/// ```
/// use clothyard_mechanics::measured::{HeightSensitivity, MeanShot};
/// let shot = MeanShot { speed_m_per_s: 60.0, arrow_mass_kg: 0.020, virtual_mass_kg: 0.006 };
/// assert!((shot.speed_per_mass_m_per_s_per_kg()? + 60.0 / (2.0 * 0.026)).abs() < 1e-12); // -1.15 m/s a gram
/// // 70 m in a vacuum: a fall of g x^2 / (2 v^2), so g x^2 / v^3 = 0.2225 m per m/s.
/// let per_speed_s = 9.80665 * 70.0 * 70.0 / 60.0_f64.powi(3);
/// let height = HeightSensitivity { per_speed_s, per_mass_m_per_kg: 0.0 };
/// let spread_m = shot.height_spread_m(0.0001, &height)?;
/// assert!((spread_m - per_speed_s * 0.0001 * 60.0 / 0.052).abs() < 1e-15); // 26 mm for 0.1 g
/// // The inverse: which spread of mass gives that?
/// let tolerance = shot.mass_tolerance_kg(spread_m, &height)?;
/// assert!(tolerance.is_some_and(|kg| (kg - 0.0001).abs() < 1e-17));
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
///
/// # References
/// The derivative of the energy balance in Klopsteg, Am. J. Phys. 11 (1943).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeanShot {
    /// Speed, m/s.
    pub speed_m_per_s: f64,
    /// Mass of the arrow, kg.
    pub arrow_mass_kg: f64,
    /// Virtual mass of the bow, kg.
    pub virtual_mass_kg: f64,
}

impl MeanShot {
    /// Speed lost for each kg of arrow, as a negative number of m/s per kg.
    ///
    /// # Errors
    /// [`crate::Error::OutOfRange`] for the speed or a mass.
    pub fn speed_per_mass_m_per_s_per_kg(&self) -> Result<f64> {
        let v = Parameter::Speed.check(self.speed_m_per_s)?;
        let m = Parameter::ArrowMass.check(self.arrow_mass_kg)?;
        let k = Parameter::VirtualMass.check(self.virtual_mass_kg)?;
        Ok(-0.5 * v / (m + k))
    }

    /// Vertical spread (m) of arrows whose masses spread over `mass_spread_kg` (0 to 1 kg). Example: see [`MeanShot`].
    ///
    /// # Errors
    /// [`crate::Error::OutOfRange`] for the shot, a sensitivity or the spread.
    pub fn height_spread_m(&self, mass_spread_kg: f64, height: &HeightSensitivity) -> Result<f64> {
        let spread = Parameter::PartMass.check(mass_spread_kg)?;
        Parameter::HeightSpread.check(self.height_per_mass(height)?.abs() * spread)
    }

    /// Spread of mass (kg) that keeps the vertical spread to `height_spread_m`; none where no
    /// spread of mass would pass it.
    ///
    /// # Errors
    /// [`crate::Error::OutOfRange`] for the shot, a sensitivity or the spread.
    pub fn mass_tolerance_kg(&self, height_spread_m: f64, height: &HeightSensitivity) -> Result<Option<f64>> {
        let spread = Parameter::HeightSpread.check(height_spread_m)?;
        let tolerance = spread / self.height_per_mass(height)?.abs();
        Ok(Parameter::PartMass.check(tolerance).ok())
    }

    /// Height gained for each kg of arrow, m/kg.
    fn height_per_mass(&self, height: &HeightSensitivity) -> Result<f64> {
        let per_speed = Parameter::HeightSensitivity.check(height.per_speed_s)?;
        let per_mass = Parameter::HeightSensitivity.check(height.per_mass_m_per_kg)?;
        Ok(per_speed * self.speed_per_mass_m_per_s_per_kg()? + per_mass)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bow::launch_speed;
    use crate::units::STANDARD_GRAVITY;

    const SHOT: MeanShot = MeanShot { speed_m_per_s: 62.0, arrow_mass_kg: 0.021, virtual_mass_kg: 0.006 };

    #[test]
    fn the_slope_is_that_of_launch_speed() {
        let energy = 0.5 * (SHOT.arrow_mass_kg + SHOT.virtual_mass_kg) * SHOT.speed_m_per_s * SHOT.speed_m_per_s;
        let h = 1e-6;
        let speed = |mass| launch_speed(energy, mass, SHOT.virtual_mass_kg).unwrap();
        let slope = (speed(SHOT.arrow_mass_kg + h) - speed(SHOT.arrow_mass_kg - h)) / (2.0 * h);
        assert!((SHOT.speed_per_mass_m_per_s_per_kg().unwrap() / slope - 1.0).abs() < 1e-8);
    }

    #[test]
    fn in_a_vacuum_arrows_fall_apart_as_the_parabola_says() {
        // Shot level, h = -g x^2 / (2 v^2) = -g x^2 (m + K) / (4 E): a straight line in the mass.
        let (distance, spread) = (50.0, 0.0004);
        let v = SHOT.speed_m_per_s;
        let height = HeightSensitivity {
            per_speed_s: STANDARD_GRAVITY * distance * distance / (v * v * v),
            per_mass_m_per_kg: 0.0,
        };
        let energy = 0.5 * (SHOT.arrow_mass_kg + SHOT.virtual_mass_kg) * v * v;
        let expected = STANDARD_GRAVITY * distance * distance * spread / (4.0 * energy);
        let found = SHOT.height_spread_m(spread, &height).unwrap();
        assert!((found / expected - 1.0).abs() < 1e-14, "{found} against {expected}");
        let tolerance = SHOT.mass_tolerance_kg(found, &height).unwrap().unwrap();
        assert!((tolerance / spread - 1.0).abs() < 1e-14);
    }

    #[test]
    fn a_height_that_follows_nothing_sets_no_tolerance() {
        let height = HeightSensitivity { per_speed_s: 0.0, per_mass_m_per_kg: 0.0 };
        assert_eq!(SHOT.mass_tolerance_kg(0.05, &height), Ok(None));
        assert!(SHOT.height_spread_m(-1.0, &height).is_err());
        assert!(SHOT.height_spread_m(0.001, &HeightSensitivity { per_speed_s: f64::NAN, ..height }).is_err());
    }

    #[test]
    fn what_the_air_leaves_a_heavier_arrow_counts_against_its_slower_launch() {
        // 0.4 s for each m/s of 62 / (2 x 0.027) m/s lost a kilogram, and 100 m gained.
        let height = HeightSensitivity { per_speed_s: 0.4, per_mass_m_per_kg: 100.0 };
        let lost = 0.4 * 62.0 / 0.054 - 100.0;
        assert!((SHOT.height_spread_m(1e-3, &height).unwrap() / (1e-3 * lost) - 1.0).abs() < 1e-14);
    }
}
