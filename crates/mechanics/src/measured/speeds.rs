//! Energy and virtual mass of a bow from chronograph readings, with their errors.

mod outlier;

use super::standard_uncertainty;
use crate::error::{Error, Result};
use crate::math::sqrt;
use crate::parameter::Parameter;
use outlier::Residuals;

/// Minimum ratio of the heaviest arrow to the lightest for which the virtual mass is fitted. Example: see
/// [`fit_speeds`].
///
/// There 0.1 m/s still leaves a third of it uncertain; below, readings are worse than the default. The choice is this
/// project's own.
pub const MIN_MASS_RATIO: f64 = 1.05;

/// A virtual mass this far below 0 is rounding, not a contradiction, kg.
const ROUNDING_KG: f64 = 1e-9;

/// Convergence tolerance of the virtual mass, as a share of arrow and virtual mass.
const SETTLED: f64 = 1e-13;

/// Increase of the sum of squares that is rounding: residuals have about 14 digits of a speed.
const SUM_ROUNDING: f64 = 1e-12;

const MAX_ITERATIONS: u32 = 100;

/// One shot over the chronograph. Example: see [`fit_speeds`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpeedReading {
    /// Mass of the arrow, kg.
    pub arrow_mass_kg: f64,
    /// Speed, m/s.
    pub speed_m_per_s: f64,
}

/// The bow that fits the readings best: the result of [`fit_speeds`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpeedFit {
    /// Energy given to arrow and virtual mass, J.
    pub delivered_energy_j: f64,
    /// Virtual mass, kg.
    pub virtual_mass_kg: f64,
    /// Whether the virtual mass was fitted; otherwise it is the one assumed.
    pub virtual_mass_is_measured: bool,
    /// Standard deviation of the speeds about the fit, m/s; none without degrees of freedom.
    pub standard_deviation_m_per_s: Option<f64>,
}

/// Standard errors of a fit, and a reading that may be wrong: the result of [`SpeedFit::errors`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpeedErrors {
    /// Standard error of the energy, J; none if neither spread nor resolution determines it.
    pub energy_error_j: Option<f64>,
    /// Standard error of the virtual mass, kg; none likewise, and if it was assumed.
    pub virtual_mass_error_kg: Option<f64>,
    /// A reading that disagrees so much with the others that it may be wrong. It is still used.
    pub suspect: Option<Suspect>,
}

/// A reading that may be wrong: a field of [`SpeedErrors`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Suspect {
    /// Its index.
    pub index: usize,
    /// Its speed minus that of the fit, m/s.
    pub residual_m_per_s: f64,
    /// Its residual over that residual's standard error, estimated from the other readings alone.
    pub studentized: f64,
    /// Upper bound of the probability that among as many good readings one deviates as far.
    pub chance: f64,
}

impl SpeedFit {
    /// A reading's speed minus that of the fit, m/s. Example: see [`fit_speeds`].
    #[must_use]
    pub fn residual_m_per_s(&self, reading: &SpeedReading) -> f64 {
        self.model().residual(reading)
    }

    /// Standard errors of the fit, from the readings it was made of.
    ///
    /// The chronograph shows steps of `resolution_m_per_s` (0 if unknown): errors are not below what such
    /// steps allow, and a reading within one step is not suspected.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] for the resolution.
    ///
    /// # Examples
    /// ```
    /// use clothyard_mechanics::measured::{SpeedReading, fit_speeds};
    /// let shot = |speed_m_per_s| SpeedReading { arrow_mass_kg: 0.020, speed_m_per_s };
    /// let readings = [79.9, 80.1, 80.0, 89.9, 80.1].map(shot);
    /// let fit = fit_speeds(&readings, 0.005)?;
    /// let off = fit.errors(&readings, 0.1)?;
    /// assert!(off.suspect.is_some_and(|suspect| suspect.index == 3)); // a wrong digit; it is still used
    /// // The error of the mean of five speeds is their deviation over sqrt 5, and the energy is proportional to v^2.
    /// let share = 2.0 * fit.standard_deviation_m_per_s.unwrap_or(0.0) / (82.0 * f64::sqrt(5.0));
    /// assert!(off.energy_error_j.is_some_and(|error| (error / fit.delivered_energy_j - share).abs() < 1e-15));
    /// # Ok::<(), clothyard_mechanics::Error>(())
    /// ```
    pub fn errors(&self, readings: &[SpeedReading], resolution_m_per_s: f64) -> Result<SpeedErrors> {
        let resolution = Parameter::Resolution.check(resolution_m_per_s)?;
        let (model, measured) = (self.model(), self.virtual_mass_is_measured);
        let residuals = Residuals::of(readings, model, measured);
        let known = self.standard_deviation_m_per_s.unwrap_or(0.0).max(standard_uncertainty(resolution));
        let deviation = (known > 0.0).then_some(known);
        let (scale_error, mass_error) = residuals.slopes.standard_errors(measured);
        Ok(SpeedErrors {
            energy_error_j: deviation.map(|deviation| deviation * scale_error * model.scale),
            virtual_mass_error_kg: deviation.filter(|_| measured).map(|deviation| deviation * mass_error),
            suspect: residuals.suspect(readings, resolution),
        })
    }

    fn model(&self) -> Model {
        Model { scale: sqrt(2.0 * self.delivered_energy_j), virtual_mass: self.virtual_mass_kg }
    }
}

/// Energy and virtual mass from one reading or more.
///
/// With the energy `E` (J) given to arrow and virtual mass `K` (kg), each reading of a speed `v` (m/s) at an
/// arrow mass `m` (kg) should be `v = sqrt(2 E / (m + K))`. Masses are known far better than speeds, so
///
/// ```text
/// sum of (v - sqrt(2 E / (m + K)))^2        is minimized
/// ```
///
/// `E` enters as the factor `s = sqrt(2 E)` and is solved for exactly at every `K`; the Gauss-Newton step in
/// `K` alone then needs the part of its derivative that is orthogonal to that of `s` (Kaufman's form of
/// variable projection). It starts from the straight line `m = E (2 / v^2) - K`.
///
/// The virtual mass is fitted if the heaviest arrow is at least [`MIN_MASS_RATIO`] times the lightest; otherwise
/// `assumed_virtual_mass_kg` (0 to 0.5) is used and only the energy is fitted.
///
/// # Errors
/// [`Error::OutOfRange`] for the count (1 to 1000), a mass or a speed; for readings that no energy or no
/// virtual mass explains, as when heavier arrows were faster or had less energy. [`Error::NoConvergence`] for
/// readings too scattered.
///
/// # Examples
/// ```
/// use clothyard_mechanics::measured::{MIN_MASS_RATIO, SpeedReading, fit_speeds};
/// // 80 J and 5 g of virtual mass throw 20 g at 80, 27 g at 70.7 and 35 g at 63.2 m/s.
/// let exact = |m: f64| SpeedReading { arrow_mass_kg: m, speed_m_per_s: f64::sqrt(2.0 * 80.0 / (m + 0.005)) };
/// let fit = fit_speeds(&[exact(0.020), exact(0.027), exact(0.035)], 0.0)?;
/// assert!(fit.virtual_mass_is_measured && 0.035 / 0.020 > MIN_MASS_RATIO);
/// assert!((fit.delivered_energy_j - 80.0).abs() < 1e-12 && (fit.virtual_mass_kg - 0.005).abs() < 1e-15);
/// assert!(fit.residual_m_per_s(&exact(0.027)).abs() < 1e-12);
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
///
/// # References
/// Klopsteg, Am. J. Phys. 11 (1943); Kaufman, BIT 15 (1975); Seber & Wild, *Nonlinear Regression*, chapter 2,
/// for the standard errors; Cook & Weisberg, *Residuals and Influence in Regression*, chapter 2, for the
/// outlier; Grubbs, Technometrics 11 (1969).
#[inline]
pub fn fit_speeds(readings: &[SpeedReading], assumed_virtual_mass_kg: f64) -> Result<SpeedFit> {
    let (lightest, heaviest) = check(readings)?;
    let assumed = Parameter::VirtualMass.check(assumed_virtual_mass_kg)?;
    let measured = heaviest >= MIN_MASS_RATIO * lightest;
    let virtual_mass_kg = if measured { fitted_virtual_mass(readings, lightest)? } else { assumed };
    let model = Model::at(readings, virtual_mass_kg);
    let degrees_of_freedom = degrees_of_freedom(readings, measured);
    Ok(SpeedFit {
        delivered_energy_j: Parameter::Energy.check(model.energy())?,
        virtual_mass_kg,
        virtual_mass_is_measured: measured,
        standard_deviation_m_per_s: (degrees_of_freedom > 0)
            .then(|| sqrt(model.sum_of_squares(readings) / degrees_of_freedom as f64)),
    })
}

/// Degrees of freedom of the residuals.
#[inline]
fn degrees_of_freedom(readings: &[SpeedReading], mass_is_fitted: bool) -> usize {
    readings.len().saturating_sub(1 + usize::from(mass_is_fitted))
}

/// Checks the readings; the masses of the lightest and the heaviest arrow.
#[inline]
fn check(readings: &[SpeedReading]) -> Result<(f64, f64)> {
    Parameter::Readings.check(readings.len() as f64)?;
    let (mut lightest, mut heaviest) = (f64::INFINITY, 0.0_f64);
    for reading in readings {
        Parameter::Speed.check(reading.speed_m_per_s)?;
        let mass = Parameter::ArrowMass.check(reading.arrow_mass_kg)?;
        (lightest, heaviest) = (lightest.min(mass), heaviest.max(mass));
    }
    Ok((lightest, heaviest))
}

/// `v = scale / sqrt(m + virtual_mass)`.
#[derive(Clone, Copy)]
struct Model {
    /// `sqrt(2 E)`, sqrt(J).
    scale: f64,
    /// `K`, kg.
    virtual_mass: f64,
}

impl Model {
    /// The best energy for a virtual mass.
    #[inline]
    fn at(readings: &[SpeedReading], virtual_mass: f64) -> Self {
        let (mut along, mut squares) = (0.0, 0.0);
        for reading in readings {
            let per_scale = 1.0 / sqrt(reading.arrow_mass_kg + virtual_mass);
            along += per_scale * reading.speed_m_per_s;
            squares += per_scale * per_scale;
        }
        Self { scale: along / squares, virtual_mass }
    }

    #[inline]
    fn energy(&self) -> f64 {
        0.5 * self.scale * self.scale
    }

    /// Derivatives of a reading's speed with the scale and with the virtual mass.
    #[inline]
    fn slopes(&self, reading: &SpeedReading) -> (f64, f64) {
        let per_scale = 1.0 / sqrt(reading.arrow_mass_kg + self.virtual_mass);
        (per_scale, -0.5 * self.scale * per_scale * per_scale * per_scale)
    }

    #[inline]
    fn residual(&self, reading: &SpeedReading) -> f64 {
        reading.speed_m_per_s - self.scale / sqrt(reading.arrow_mass_kg + self.virtual_mass)
    }

    #[inline]
    fn sum_of_squares(&self, readings: &[SpeedReading]) -> f64 {
        readings.iter().map(|reading| self.residual(reading)).map(|residual| residual * residual).sum()
    }

    /// Gauss-Newton step in the virtual mass.
    #[inline]
    fn step(&self, readings: &[SpeedReading]) -> f64 {
        let Slopes { scale, cross, .. } = Slopes::of(readings, *self);
        let (mut along, mut squares) = (0.0, 0.0);
        for reading in readings {
            let (per_scale, per_mass) = self.slopes(reading);
            let own = per_mass - per_scale * (cross / scale);
            along += own * self.residual(reading);
            squares += own * own;
        }
        along / squares
    }

    /// A model closer to the readings; none at convergence.
    #[inline]
    fn improved(&self, readings: &[SpeedReading], lightest: f64) -> Option<Self> {
        // Near its minimum the sum of squares is too flat to compare models; the step still can.
        let sum = self.sum_of_squares(readings) * (1.0 + SUM_ROUNDING);
        let settled = SETTLED * (lightest + self.virtual_mass);
        let mut step = self.step(readings);
        // Halve the step while it increases the sum or passes the pole at m + K = 0.
        while step.abs() > settled {
            let trial = Self::at(readings, self.virtual_mass + step);
            if lightest + trial.virtual_mass > 0.0 && trial.sum_of_squares(readings) < sum {
                return Some(trial);
            }
            step *= 0.5;
        }
        None
    }
}

/// The virtual mass that minimizes the sum of squares.
#[inline]
fn fitted_virtual_mass(readings: &[SpeedReading], lightest: f64) -> Result<f64> {
    let mut model = Model::at(readings, straight_line(readings)?.max(-0.5 * lightest));
    for _ in 0..MAX_ITERATIONS {
        match model.improved(readings, lightest) {
            Some(better) => model = better,
            None => return checked_virtual_mass(model.virtual_mass),
        }
    }
    Err(Error::NoConvergence { iterations: MAX_ITERATIONS })
}

#[inline]
fn checked_virtual_mass(virtual_mass: f64) -> Result<f64> {
    let rounding = -ROUNDING_KG < virtual_mass && virtual_mass < 0.0;
    Parameter::VirtualMass.check(if rounding { 0.0 } else { virtual_mass })
}

/// The virtual mass of the straight line through `(2 / v^2, m)`; an error if its slope, the energy, is out of range.
#[inline]
fn straight_line(readings: &[SpeedReading]) -> Result<f64> {
    let count = readings.len() as f64;
    let per_energy = |reading: &SpeedReading| 2.0 / (reading.speed_m_per_s * reading.speed_m_per_s);
    let mean = |value: &dyn Fn(&SpeedReading) -> f64| readings.iter().map(value).sum::<f64>() / count;
    let (mean_x, mean_mass) = (mean(&per_energy), mean(&|reading| reading.arrow_mass_kg));
    let squares = mean(&|reading| (per_energy(reading) - mean_x) * (per_energy(reading) - mean_x));
    let along = mean(&|reading| (per_energy(reading) - mean_x) * (reading.arrow_mass_kg - mean_mass));
    let energy = Parameter::Energy.check(along / squares)?;
    Ok(energy * mean_x - mean_mass)
}

/// Sums over all readings of the products of their derivatives.
#[derive(Clone, Copy)]
struct Slopes {
    scale: f64,
    cross: f64,
    mass: f64,
}

impl Slopes {
    #[inline]
    fn of(readings: &[SpeedReading], model: Model) -> Self {
        let mut sums = Self { scale: 0.0, cross: 0.0, mass: 0.0 };
        for reading in readings {
            let (per_scale, per_mass) = model.slopes(reading);
            sums.scale += per_scale * per_scale;
            sums.cross += per_scale * per_mass;
            sums.mass += per_mass * per_mass;
        }
        sums
    }

    fn determinant(&self) -> f64 {
        self.scale * self.mass - self.cross * self.cross
    }

    /// Standard errors of scale and virtual mass for speeds of standard deviation 1.
    fn standard_errors(&self, mass_is_fitted: bool) -> (f64, f64) {
        if mass_is_fitted {
            (sqrt(self.mass / self.determinant()), sqrt(self.scale / self.determinant()))
        } else {
            (1.0 / sqrt(self.scale), 0.0)
        }
    }

    /// Leverage: the share of a reading's own error that the fit follows.
    fn leverage(&self, (per_scale, per_mass): (f64, f64), mass_is_fitted: bool) -> f64 {
        if mass_is_fitted {
            let products = self.mass * per_scale * per_scale - 2.0 * self.cross * per_scale * per_mass
                + self.scale * per_mass * per_mass;
            products / self.determinant()
        } else {
            per_scale * per_scale / self.scale
        }
    }
}

#[cfg(test)]
#[path = "speeds/tests.rs"]
mod tests;
