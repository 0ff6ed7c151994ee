//! One estimate of a bow: the energy it delivers and its virtual mass, from everything that is known of it.
//!
//! Unknown are the energy `E` (J) given to arrow and virtual mass, and the virtual mass `K` (kg) of the bare
//! string. What is usual for the kind of bow ([`crate::BowKind`]) says something of both, and every speed `v`
//! (m/s) of an arrow of mass `m` (kg) with `h` (kg) hung on the string says
//!
//! ```text
//! ln v = [ln(2 E q) - ln(m + K + h)] / 2      q the reading's energy over E: 1 for the bow as it is
//! ```
//!
//! All of it is weighed in one least-squares fit of the logarithms, so that a reading counts by how sure it is:
//!
//! - **usual**: `E` and `K` with the errors of their [`Prior`], independent of each other;
//! - **chronograph**: the scatter of a shot, and a scale that all readings share, true to 0.5 %;
//! - **rated speed**: 3 %, without anything on the string.
//!
//! The scatter is estimated with them: 1.5 fps, counted as three readings, and the readings' own departures. The fit's
//! covariance then tells how sure the speed is at any arrow mass. It is least near the masses that were shot:
//!
//! ```text
//! u(m)^2 = a' C a,   a = (1/2, -K / (2 (m + K + h)))          standard error of ln v; C the covariance of ln E, ln K
//! ```
//!
//! Energy is off by `2 u`, momentum by `u`, the push on the arrow and so its match by `2 u`.
//!
//! **Validity.** The errors of a rated speed and of a scale, and the scatter before any reading, are common
//! practice, no source. One virtual mass at every arrow weight is an approximation, the more so for
//! compounds; the error that grows away from the masses shot allows for some of that. A wild reading counts
//! like any other: [`crate::measured::fit_speeds`] names it.
//!
//! # References
//! Klopsteg, Am. J. Phys. 11 (1943) (virtual mass); Seber & Wild, *Nonlinear Regression*, chapter 2 (Gauss and
//! Newton's step; memory); JCGM 100:2008, 5.2 (covariance carried on). Held to SciPy's `least_squares` over
//! seeded cases by `tests/reference/estimate.py`.

mod fit;

use crate::error::Result;
use crate::math::{exp, ln, sqrt};
use crate::measured::SpeedReading;
use crate::parameter::Parameter;
use crate::units::METER_PER_SECOND_PER_FPS;
use fit::{Logs, Problem, Symmetric};

/// Standard error of a rated speed's logarithm: 3 %.
pub const RATED_LOG_ERROR: f64 = 0.03;

/// Standard error of the scale that all readings of a chronograph share: 0.5 %.
pub const SCALE_LOG_ERROR: f64 = 0.005;

/// Scatter of one shot before any was read, m/s: 1.5 fps.
pub const USUAL_SCATTER_M_PER_S: f64 = 1.5 * METER_PER_SECOND_PER_FPS;

/// A standard error that says nothing: what the readings alone tell of the energy.
const NO_IDEA: f64 = 1e3;

/// What is known of a bow before any speed is read. Example: see [`Estimate`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Prior {
    /// Energy given to arrow and virtual mass, J.
    pub energy_j: f64,
    /// Standard error of its logarithm.
    pub energy_log_error: f64,
    /// Virtual mass of the bare string, kg; above 1 mg.
    pub virtual_mass_kg: f64,
    /// Standard error of its logarithm.
    pub virtual_mass_log_error: f64,
}

/// Every speed that was read of one bow. Example: see [`Estimate`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Readings<'a> {
    /// Shots over a chronograph.
    pub shots: &'a [SpeedReading],
    /// What hung on the string during them, kg: at the nock in full, along the string a third.
    pub hung_mass_kg: f64,
    /// Energy of the bow they were shot from over that of the bow asked about; 1 where it was not altered since.
    pub energy_ratio: f64,
    /// Steps of the chronograph, m/s; 0 for none.
    pub resolution_m_per_s: f64,
    /// A speed the bow's maker states.
    pub rated: Option<RatedReading>,
}

/// A speed the bow's maker states. Example: see [`crate::Rating::energy_ratio`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RatedReading {
    /// The speed, m/s.
    pub speed_m_per_s: f64,
    /// Mass of the arrow it belongs to, kg.
    pub arrow_mass_kg: f64,
    /// Energy of the bow it was read from over that of the bow asked about.
    pub energy_ratio: f64,
}

impl Readings<'_> {
    /// Nothing was read.
    pub const NONE: Self =
        Self { shots: &[], hung_mass_kg: 0.0, energy_ratio: 1.0, resolution_m_per_s: 0.0, rated: None };

    /// Whether nothing was read.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        self.shots.is_empty() && self.rated.is_none()
    }

    #[inline]
    fn check(&self) -> Result<()> {
        for shot in self.shots {
            Parameter::Speed.check(shot.speed_m_per_s)?;
            Parameter::ArrowMass.check(shot.arrow_mass_kg)?;
        }
        Parameter::VirtualMass.check(self.hung_mass_kg)?;
        Parameter::EnergyRatio.check(self.energy_ratio)?;
        Parameter::Resolution.check(self.resolution_m_per_s)?;
        if let Some(rated) = self.rated {
            Parameter::Speed.check(rated.speed_m_per_s)?;
            Parameter::ArrowMass.check(rated.arrow_mass_kg)?;
            Parameter::EnergyRatio.check(rated.energy_ratio)?;
        }
        Ok(())
    }
}

/// A number and how sure it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Uncertain {
    /// The number.
    pub value: f64,
    /// Standard error of its logarithm: its standard error as a share of itself.
    pub log_error: f64,
}

/// Energy and virtual mass of a bow, with their covariance.
///
/// # Examples
/// ```
/// use clothyard_mechanics::estimate::{Estimate, Prior, Readings};
/// use clothyard_mechanics::measured::SpeedReading;
/// // A compound that stores 110 J: 3 % lost, and 4.9 g of virtual mass give or take a third.
/// let prior = Prior {
///     energy_j: 106.9, energy_log_error: 0.076, virtual_mass_kg: 0.0049, virtual_mass_log_error: 0.35,
/// };
/// let unread = Estimate::new(&prior, &Readings::NONE)?;
/// let guessed = unread.speed(0.026, 0.0)?;
/// assert!((guessed.value - f64::sqrt(2.0 * 106.9 / 0.0309)).abs() < 1e-12);
/// assert!((0.045..0.050).contains(&guessed.log_error)); // 4.7 %
/// // One shot tells the speed of such an arrow to 0.7 %, of a much heavier one less surely.
/// let shots = [SpeedReading { arrow_mass_kg: 0.025, speed_m_per_s: 85.0 }];
/// let read = Estimate::new(&prior, &Readings { shots: &shots, ..Readings::NONE })?;
/// assert!((read.speed(0.025, 0.0)?.value - 85.0).abs() < 0.05);
/// assert!(read.speed(0.026, 0.0)?.log_error < 0.008 && read.speed(0.037, 0.0)?.log_error > 0.009);
/// // The virtual mass is hardly better known for it.
/// assert!(read.virtual_mass_kg().log_error > 0.25);
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Estimate {
    at: Logs,
    covariance: Symmetric,
    prior_energy_log_error: f64,
    scatter_m_per_s: f64,
}

impl Estimate {
    /// The bow that explains best what is known of it before and what was read.
    ///
    /// # Errors
    /// [`crate::Error::OutOfRange`] for a number of the prior or a reading, or for an energy or virtual mass
    /// beyond any bow; [`crate::Error::NoConvergence`] for readings too wild.
    #[inline]
    pub fn new(prior: &Prior, readings: &Readings<'_>) -> Result<Self> {
        let found = Self::fitted(prior, readings)?;
        Parameter::Energy.check(found.energy_j().value)?;
        Parameter::VirtualMass.check(found.virtual_mass_kg().value)?;
        Ok(found)
    }

    /// In two passes, the first with the usual scatter, to estimate that of these shots.
    #[inline]
    fn fitted(prior: &Prior, readings: &Readings<'_>) -> Result<Self> {
        readings.check()?;
        let first = Problem::new(prior, readings, USUAL_SCATTER_M_PER_S)?;
        let (mut at, mut sums) = first.least()?;
        let mut scatter_m_per_s = USUAL_SCATTER_M_PER_S;
        if !readings.shots.is_empty() {
            scatter_m_per_s = first.scatter_m_per_s(at, sums.log_scale);
            (at, sums) = first.with_scatter(scatter_m_per_s).least()?;
        }
        let (covariance, prior_energy_log_error) = (sums.normal.inverse(), prior.energy_log_error);
        Ok(Self { at, covariance, prior_energy_log_error, scatter_m_per_s })
    }

    /// Energy (J) given to arrow and virtual mass.
    #[must_use]
    #[inline]
    pub fn energy_j(&self) -> Uncertain {
        Uncertain { value: exp(self.at.energy), log_error: sqrt(self.covariance.ee) }
    }

    /// Virtual mass (kg) of the bare string.
    #[must_use]
    #[inline]
    pub fn virtual_mass_kg(&self) -> Uncertain {
        Uncertain { value: exp(self.at.virtual_mass), log_error: sqrt(self.covariance.kk) }
    }

    /// Standard deviation of one shot about the mean speed of such arrows, m/s: apart from how sure the mean is.
    #[must_use]
    pub const fn scatter_m_per_s(&self) -> f64 {
        self.scatter_m_per_s
    }

    /// Launch speed (m/s) of an arrow (0.01 g to 40 kg) with a mass hung on the string (0 to 0.5 kg).
    ///
    /// Kinetic energy is off by twice its error, momentum by as much.
    ///
    /// # Errors
    /// [`crate::Error::OutOfRange`] for a mass or a speed beyond any arrow.
    #[inline]
    pub fn speed(&self, arrow_mass_kg: f64, hung_mass_kg: f64) -> Result<Uncertain> {
        let unmoved_kg = Parameter::ArrowMass.check(arrow_mass_kg)? + Parameter::VirtualMass.check(hung_mass_kg)?;
        let (energy, k) = (exp(self.at.energy), exp(self.at.virtual_mass));
        let value = Parameter::Speed.check(sqrt(2.0 * energy / (unmoved_kg + k)))?;
        let (by_energy, by_mass) = self.slopes(unmoved_kg);
        Ok(Uncertain { value, log_error: sqrt(self.covariance.along(by_energy, by_mass)) })
    }

    /// How far that speed follows the energy of the prior: d ln v / d ln E, a half where nothing was read.
    ///
    /// Where the prior's energy is off by a further share, its draw weight misread say, the speed is off by this times it.
    #[must_use]
    #[inline]
    pub fn follows_prior_energy(&self, arrow_mass_kg: f64, hung_mass_kg: f64) -> f64 {
        let (by_energy, by_mass) = self.slopes(arrow_mass_kg + hung_mass_kg);
        let carried = by_energy * self.covariance.ee + by_mass * self.covariance.ek;
        carried / (self.prior_energy_log_error * self.prior_energy_log_error)
    }

    /// What ln v gains with ln E and with ln K, for so much arrow and hung mass.
    #[inline]
    fn slopes(&self, unmoved_kg: f64) -> (f64, f64) {
        let k = exp(self.at.virtual_mass);
        (0.5, -0.5 * k / (unmoved_kg + k))
    }
}

/// Energy that readings ask for, over what the bow stores: what [`energy_excess`] gives.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EnergyExcess {
    /// The one over the other.
    pub ratio: f64,
    /// How far it is above 1, in standard deviations of its logarithm. Beyond 3 the two contradict each other.
    pub deviations: f64,
}

/// How much more energy the readings ask for than the bow stores; none where nothing was read.
///
/// The readings alone are fitted, with the virtual mass of the prior. `stored_energy_j` is known to the share
/// `stored_log_error`.
///
/// # Errors
/// As [`Estimate::new`].
///
/// # Examples
/// ```
/// use clothyard_mechanics::estimate::{Prior, Readings, energy_excess};
/// use clothyard_mechanics::measured::SpeedReading;
/// let prior = Prior {
///     energy_j: 106.9, energy_log_error: 0.076, virtual_mass_kg: 0.0049, virtual_mass_log_error: 0.35,
/// };
/// let excess = |speed_m_per_s| {
///     let shots = [SpeedReading { arrow_mass_kg: 0.025, speed_m_per_s }];
///     energy_excess(&prior, &Readings { shots: &shots, ..Readings::NONE }, 110.0, 0.07)
/// };
/// assert!(excess(85.0)?.is_some_and(|excess| excess.deviations < 0.5));
/// // 110 m/s: 27.5 g of arrow and virtual mass have 1.6 times what the bow stores.
/// assert!(excess(110.0)?.is_some_and(|excess| excess.deviations > 3.0 && excess.ratio > 1.5));
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
#[inline]
pub fn energy_excess(
    prior: &Prior,
    readings: &Readings<'_>,
    stored_energy_j: f64,
    stored_log_error: f64,
) -> Result<Option<EnergyExcess>> {
    let stored = ln(Parameter::Energy.check(stored_energy_j)?);
    let error = Parameter::LogError.check(stored_log_error)?;
    if readings.is_empty() {
        return Ok(None);
    }
    let prior = Prior { energy_j: stored_energy_j, energy_log_error: NO_IDEA, ..*prior };
    let found = Estimate::fitted(&prior, readings)?;
    let above = found.at.energy - stored;
    Ok(Some(EnergyExcess { ratio: exp(above), deviations: above / sqrt(found.covariance.ee + error * error) }))
}

#[cfg(test)]
#[path = "estimate/tests.rs"]
mod tests;
