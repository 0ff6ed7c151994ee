//! The air: density and viscosity from what an archer can read or look up.

use crate::error::Result;
use crate::math::{exp, pow, sqrt};
use crate::parameter::Parameter;
use crate::units::STANDARD_GRAVITY;

/// Kelvin at 0 degrees Celsius, exact.
///
/// Example: see [`Air`].
pub const KELVIN_AT_ZERO_CELSIUS: f64 = 273.15;

/// Specific gas constant of dry air in ISO 2533, J/(kg K).
const GAS_CONSTANT: f64 = 287.052_87;
/// Temperature at sea level in ISO 2533, K.
const SEA_LEVEL_TEMPERATURE_K: f64 = 288.15;
/// Pressure at sea level in ISO 2533, Pa.
const SEA_LEVEL_PRESSURE_PA: f64 = 101_325.0;
/// Temperature lapse per geopotential meter up to 11 km in ISO 2533, K/m.
const LAPSE_K_PER_M: f64 = 0.0065;
/// Nominal radius of the Earth in ISO 2533, m.
const EARTH_RADIUS_M: f64 = 6_356_766.0;

/// Density and viscosity of the air: what of it determines the drag.
///
/// Density (kg/m^3) is that of moist air, CIPM-2007, and viscosity (Pa s) that of dry air by Sutherland's law:
///
/// ```text
/// rho = 3.483740e-3 p / (Z T) (1 - 0.3780 x)
/// mu  = 1.458e-6 T^(3/2) / (T + 110.4)
/// ```
///
/// with `p` the pressure (Pa), `T` the temperature (K), `x` the mole fraction of water vapor and `Z` the
/// compressibility, for 400 ppm of carbon dioxide. Without a barometer, pressure follows from altitude in the lowest
/// layer of ISO 2533, and so does temperature without a thermometer.
///
/// CIPM-2007 is stated for 15 to 27 °C and 60 to 110 kPa; ISO 2533's lowest layer ends at 11 km.
///
/// # Examples
/// ```
/// use clothyard_mechanics::flight::{Air, KELVIN_AT_ZERO_CELSIUS};
/// let at = |celsius: f64, humidity| Air::at_altitude(KELVIN_AT_ZERO_CELSIUS + celsius, humidity, 500.0);
/// // Warm air is thinner than cold, damp air thinner than dry.
/// assert!(at(30.0, 0.0)?.density_kg_per_m3 < at(0.0, 0.0)?.density_kg_per_m3);
/// assert!(at(30.0, 1.0)?.density_kg_per_m3 < at(30.0, 0.0)?.density_kg_per_m3);
/// let air = Air { density_kg_per_m3: 1.2, viscosity_pa_s: 1.8e-5 };
/// assert!((air.kinematic_viscosity_m2_per_s() - 1.5e-5).abs() < 1e-19);
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
///
/// # References
/// A. Picard, R. S. Davis, M. Gläser, K. Fujii, *Revised formula for the density of moist air (CIPM-2007)*,
/// Metrologia 45 (2008) 149; ISO 2533:1975, *Standard atmosphere*.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Air {
    /// Mass per volume, kg/m^3.
    pub density_kg_per_m3: f64,
    /// Dynamic viscosity, Pa s.
    pub viscosity_pa_s: f64,
}

impl Air {
    /// Moist air at a temperature (220 to 335 K), relative humidity (0 to 1) and pressure (30 to 120 kPa, given in Pa).
    ///
    /// The pressure is that at the location itself, not the one reduced to sea level that weather reports give.
    /// CIPM-2007 is stated for 15 to 27 °C and 60 to 110 kPa, where it is accurate to 22 ppm; outside, it
    /// extrapolates smoothly and the difference does not matter to an arrow. Viscosity is that of dry air:
    /// vapor lowers it by less than 1 % below 35 °C (memory).
    ///
    /// # Errors
    /// [`crate::Error::OutOfRange`] for temperature, humidity or pressure.
    ///
    /// # Examples
    /// ```
    /// use clothyard_mechanics::flight::Air;
    /// let air = Air::moist(293.15, 0.5, 101_325.0)?;
    /// assert!((air.density_kg_per_m3 - 1.199314).abs() < 5e-7); // as CIPM-2007 gives it
    /// # Ok::<(), clothyard_mechanics::Error>(())
    /// ```
    pub fn moist(temperature_k: f64, relative_humidity: f64, pressure_pa: f64) -> Result<Self> {
        let t = Parameter::AirTemperature.check(temperature_k)?;
        let h = Parameter::Humidity.check(relative_humidity)?;
        let p = Parameter::AirPressure.check(pressure_pa)?;
        // In thin hot air the fraction could exceed 1; no such place exists on Earth.
        let x = (h * enhancement(t, p) * saturation_pressure_pa(t) / p).min(1.0);
        let density_kg_per_m3 = 3.483_740e-3 * p / (compressibility(t, p, x) * t) * (1.0 - 0.3780 * x);
        Ok(Self { density_kg_per_m3, viscosity_pa_s: viscosity_pa_s(t) })
    }

    /// Moist air at an altitude (geometric, -1000 to 9000 m), with the standard pressure there.
    ///
    /// Weather changes the pressure by about 2 % either way (memory), so a barometer is better.
    ///
    /// # Errors
    /// [`crate::Error::OutOfRange`] for temperature, humidity or altitude.
    ///
    /// # Examples
    /// ```
    /// use clothyard_mechanics::flight::Air;
    /// // At sea level the standard pressure is 101 325 Pa.
    /// assert_eq!(Air::at_altitude(293.15, 0.5, 0.0)?, Air::moist(293.15, 0.5, 101_325.0)?);
    /// # Ok::<(), clothyard_mechanics::Error>(())
    /// ```
    pub fn at_altitude(temperature_k: f64, relative_humidity: f64, altitude_m: f64) -> Result<Self> {
        Self::moist(temperature_k, relative_humidity, standard_pressure_pa(altitude_m)?)
    }

    /// The standard atmosphere at an altitude (geometric, -1000 to 9000 m), for when nothing else is known.
    ///
    /// Dry, and an ideal gas: 0.04 % thinner than [`Self::moist`] for the same conditions.
    ///
    /// # Errors
    /// [`crate::Error::OutOfRange`] for the altitude.
    ///
    /// # Examples
    /// ```
    /// use clothyard_mechanics::flight::Air;
    /// let [sea, hill] = [Air::standard(0.0)?, Air::standard(1_000.0)?];
    /// assert!((hill.density_kg_per_m3 - 1.11166).abs() < 5e-6); // ISO 2533
    /// // Sutherland's law by hand: 1.458e-6 x 288.15^1.5 / 398.55
    /// assert!((sea.viscosity_pa_s - 1.7894e-5).abs() < 5e-10);
    /// # Ok::<(), clothyard_mechanics::Error>(())
    /// ```
    ///
    /// # References
    /// ISO 2533:1975.
    pub fn standard(altitude_m: f64) -> Result<Self> {
        let t = standard_temperature_k(altitude_m)?;
        let density_kg_per_m3 = standard_pressure_pa(altitude_m)? / (GAS_CONSTANT * t);
        Ok(Self { density_kg_per_m3, viscosity_pa_s: viscosity_pa_s(t) })
    }

    /// Viscosity over density, m^2/s. Example: see [`Air`].
    #[must_use]
    pub fn kinematic_viscosity_m2_per_s(&self) -> f64 {
        self.viscosity_pa_s / self.density_kg_per_m3
    }

    /// This air, if both its values are in range.
    pub(super) fn checked(self) -> Result<Self> {
        Parameter::AirDensity.check(self.density_kg_per_m3)?;
        Parameter::AirViscosity.check(self.viscosity_pa_s)?;
        Ok(self)
    }
}

/// Temperature (K) of the standard atmosphere at a geometric altitude (-1000 to 9000 m).
///
/// # Errors
/// [`crate::Error::OutOfRange`] for the altitude.
///
/// # Examples
/// ```
/// use clothyard_mechanics::flight::standard_temperature_k;
/// // 6.5 K per geopotential kilometer, which is 0.16 m short of the geometric one.
/// assert!((standard_temperature_k(1_000.0)? - (288.15 - 6.5 * 0.999_843)).abs() < 1e-5);
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
pub fn standard_temperature_k(altitude_m: f64) -> Result<f64> {
    Ok(SEA_LEVEL_TEMPERATURE_K - LAPSE_K_PER_M * geopotential_m(altitude_m)?)
}

/// Pressure (Pa) of the standard atmosphere at a geometric altitude (-1000 to 9000 m).
///
/// # Errors
/// [`crate::Error::OutOfRange`] for the altitude.
///
/// # Examples
/// ```
/// use clothyard_mechanics::flight::{Air, standard_pressure_pa, standard_temperature_k};
/// assert_eq!(standard_pressure_pa(0.0)?, 101_325.0);
/// // p = rho R T, with the density of ISO 2533 at 1000 m.
/// let (p, t) = (standard_pressure_pa(1_000.0)?, standard_temperature_k(1_000.0)?);
/// assert!((p / (287.052_87 * t) - 1.111_66).abs() < 5e-6);
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
pub fn standard_pressure_pa(altitude_m: f64) -> Result<f64> {
    let cooling = standard_temperature_k(altitude_m)? / SEA_LEVEL_TEMPERATURE_K;
    Ok(SEA_LEVEL_PRESSURE_PA * pow(cooling, STANDARD_GRAVITY / (GAS_CONSTANT * LAPSE_K_PER_M)))
}

/// The height under constant gravity with the same potential.
fn geopotential_m(altitude_m: f64) -> Result<f64> {
    let h = Parameter::Altitude.check(altitude_m)?;
    Ok(EARTH_RADIUS_M * h / (EARTH_RADIUS_M + h))
}

/// Saturation vapor pressure over water, Pa; CIPM-2007, A1.1.
fn saturation_pressure_pa(t: f64) -> f64 {
    exp((1.237_884_7e-5 * t - 1.912_131_6e-2) * t + 33.937_110_47 - 6.343_164_5e3 / t)
}

/// Enhancement factor of the vapor pressure; CIPM-2007, A1.2.
fn enhancement(t: f64, p: f64) -> f64 {
    let celsius = t - KELVIN_AT_ZERO_CELSIUS;
    1.000_62 + 3.14e-8 * p + 5.6e-7 * celsius * celsius
}

/// Volume over that of an ideal gas; CIPM-2007, A1.4.
fn compressibility(t: f64, p: f64, x: f64) -> f64 {
    let celsius = t - KELVIN_AT_ZERO_CELSIUS;
    let dry = 1.581_23e-6 + (-2.9331e-8 + 1.1043e-10 * celsius) * celsius;
    let mixed = (5.707e-6 - 2.051e-8 * celsius) * x;
    let wet = (1.9898e-4 - 2.376e-6 * celsius) * x * x;
    let ratio = p / t;
    1.0 - ratio * (dry + mixed + wet) + ratio * ratio * (1.83e-11 - 0.765e-8 * x * x)
}

/// Sutherland's law with the constants of ISO 2533, Pa s.
fn viscosity_pa_s(t: f64) -> f64 {
    1.458e-6 * t * sqrt(t) / (t + 110.4)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::error::Error;

    #[test]
    fn moist_air_is_that_of_cipm_2007() {
        // Dry and half saturated at 20 °C and 1 atm, from the paper's equations.
        for (humidity, density) in [(0.0, 1.204_557), (0.5, 1.199_314)] {
            let air = Air::moist(293.15, humidity, 101_325.0).unwrap();
            assert!((air.density_kg_per_m3 - density).abs() < 5e-7, "{air:?}");
        }
        // Water boils at 100 °C under 1 atm; the formula is for cooler air and comes within 0.1 %.
        assert!((saturation_pressure_pa(373.15) / 101_325.0 - 1.0).abs() < 1e-3);
    }

    #[test]
    fn the_standard_atmosphere_is_that_of_iso_2533() {
        // ISO 2533, by geometric height; sea level exactly. The reference script says the same.
        let sea = Air::standard(0.0).unwrap();
        assert!((sea.density_kg_per_m3 - 1.225).abs() < 5e-7);
        assert!((sea.viscosity_pa_s - 1.7894e-5).abs() < 5e-10);
        for (altitude_m, density) in [(1_000.0, 1.111_66), (2_000.0, 1.006_55), (5_000.0, 0.736_429)] {
            let found = Air::standard(altitude_m).unwrap().density_kg_per_m3;
            assert!((found - density).abs() < 5e-6, "{altitude_m}: {found}");
        }
    }

    #[test]
    fn dry_moist_air_is_nearly_standard_air() {
        for altitude_m in [-500.0, 0.0, 1_500.0, 5_000.0] {
            let t = standard_temperature_k(altitude_m).unwrap();
            let real = Air::at_altitude(t, 0.0, altitude_m).unwrap();
            let ratio = real.density_kg_per_m3 / Air::standard(altitude_m).unwrap().density_kg_per_m3;
            assert!((2e-4..6e-4).contains(&(ratio - 1.0)), "{altitude_m}: {ratio}");
        }
    }

    #[test]
    fn warmth_height_and_damp_thin_the_air() {
        let density = |t, h, z| Air::at_altitude(t, h, z).unwrap().density_kg_per_m3;
        let usual = density(288.15, 0.5, 200.0);
        for thinner in [density(298.15, 0.5, 200.0), density(288.15, 0.9, 200.0), density(288.15, 0.5, 1_200.0)] {
            assert!(thinner < usual);
        }
    }

    #[test]
    fn air_of_no_place_is_refused() {
        assert!(matches!(
            Air::moist(20.0, 0.5, 101_325.0),
            Err(Error::OutOfRange { parameter: Parameter::AirTemperature, .. })
        ));
        assert!(Air::moist(293.15, 50.0, 101_325.0).is_err());
        assert!(Air::moist(293.15, 0.5, 1_013.25).is_err());
        assert!(Air::standard(12_000.0).is_err());
        assert!(Air { density_kg_per_m3: f64::NAN, viscosity_pa_s: 1.8e-5 }.checked().is_err());
    }

    #[test]
    fn viscosity_over_density_is_that_of_iso_2533() {
        // ISO 2533, sea level: 1.4607e-5 m^2/s.
        let found = Air::standard(0.0).unwrap().kinematic_viscosity_m2_per_s();
        assert!((found - 1.4607e-5).abs() < 5e-10, "{found:e}");
    }
}
