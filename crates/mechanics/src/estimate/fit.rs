//! The least-squares fit behind [`super::Estimate`]: normal equations in one pass over the readings, no store.

use super::{Prior, RATED_LOG_ERROR, Readings, SCALE_LOG_ERROR, USUAL_SCATTER_M_PER_S};
use crate::error::{Error, Result};
use crate::math::{exp, ln, sqrt};
use crate::measured::SpeedReading;
use crate::measured::standard_uncertainty;
use crate::parameter::Parameter;

/// How many readings the usual scatter counts for.
const USUAL_SCATTER_COUNTS: f64 = 3.0;

/// A step of the logarithms not worth taking.
const SETTLED: f64 = 1e-11;

/// Growth of the sum of squares that is rounding.
const SUM_ROUNDING: f64 = 1e-12;

const MAX_ROUNDS: u32 = 60;

/// The unknowns: ln E and ln K.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Logs {
    pub(super) energy: f64,
    pub(super) virtual_mass: f64,
}

/// A symmetric matrix over the unknowns.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Symmetric {
    pub(super) ee: f64,
    pub(super) ek: f64,
    pub(super) kk: f64,
}

impl Symmetric {
    #[inline]
    fn determinant(self) -> f64 {
        self.ee * self.kk - self.ek * self.ek
    }

    /// Solution of `self x = (e, k)`.
    #[inline]
    fn solved(self, (e, k): (f64, f64)) -> Logs {
        let determinant = self.determinant();
        Logs {
            energy: (self.kk * e - self.ek * k) / determinant,
            virtual_mass: (self.ee * k - self.ek * e) / determinant,
        }
    }

    #[inline]
    pub(super) fn inverse(self) -> Self {
        let determinant = self.determinant();
        Self { ee: self.kk / determinant, ek: -self.ek / determinant, kk: self.ee / determinant }
    }

    /// `a' self a` for `a = (e, k)`.
    #[inline]
    pub(super) fn along(self, e: f64, k: f64) -> f64 {
        self.ee * e * e + 2.0 * self.ek * e * k + self.kk * k * k
    }
}

/// Everything that is fitted, for a given scatter of the shots.
#[derive(Clone, Copy)]
pub(super) struct Problem<'a> {
    mean: Logs,
    prior: &'a Prior,
    readings: &'a Readings<'a>,
    scatter_m_per_s: f64,
}

/// The normal equations at one place, the chronograph's scale eliminated.
pub(super) struct Sums {
    pub(super) normal: Symmetric,
    /// Right side.
    gradient: (f64, f64),
    /// Sum of squares.
    cost: f64,
    /// What the second derivative of the model in ln K adds to the normal equations.
    bend: f64,
    /// Logarithm of the scale that suits the shots best.
    pub(super) log_scale: f64,
}

/// One reading at one place: its residual, the slope of the model in ln K, and that slope's own.
struct Term {
    residual: f64,
    slope: f64,
    curvature: f64,
    weight: f64,
}

/// The slope of the model in ln E.
const BY_ENERGY: f64 = 0.5;

impl Sums {
    /// Adds a reading of its own error.
    #[inline]
    fn add(&mut self, term: &Term) {
        let &Term { residual, slope, curvature, weight } = term;
        self.normal.ee += weight * BY_ENERGY * BY_ENERGY;
        self.normal.ek += weight * BY_ENERGY * slope;
        self.normal.kk += weight * slope * slope;
        self.gradient.0 += weight * BY_ENERGY * residual;
        self.gradient.1 += weight * slope * residual;
        self.cost += weight * residual * residual;
        self.bend += weight * residual * curvature;
    }

    /// The step toward the least sum. Newton's where it leads down, for readings far from every bow have Gauss's go
    /// astray; else Gauss's.
    #[inline]
    fn step(&self) -> Logs {
        let newton = Symmetric { kk: self.normal.kk + self.bend, ..self.normal };
        let leads_down = newton.kk > 0.0 && newton.determinant() > 0.0;
        let step = if leads_down { newton } else { self.normal }.solved(self.gradient);
        let longest = step.longest();
        if longest > 1.0 { step.times(1.0 / longest) } else { step }
    }
}

impl Logs {
    #[inline]
    fn longest(self) -> f64 {
        self.energy.abs().max(self.virtual_mass.abs())
    }

    #[inline]
    fn times(self, factor: f64) -> Self {
        Self { energy: factor * self.energy, virtual_mass: factor * self.virtual_mass }
    }

    #[inline]
    fn plus(self, step: Self) -> Self {
        Self { energy: self.energy + step.energy, virtual_mass: self.virtual_mass + step.virtual_mass }
    }
}

impl<'a> Problem<'a> {
    #[inline]
    pub(super) fn new(prior: &'a Prior, readings: &'a Readings<'a>, scatter_m_per_s: f64) -> Result<Self> {
        Parameter::LogError.check(prior.energy_log_error)?;
        Parameter::LogError.check(prior.virtual_mass_log_error)?;
        let (_, heaviest) = Parameter::VirtualMass.range();
        let mean = Logs {
            energy: ln(Parameter::Energy.check(prior.energy_j)?),
            virtual_mass: ln(Parameter::VirtualMass.check_within(prior.virtual_mass_kg, 1e-6, heaviest)?),
        };
        Ok(Self { mean, prior, readings, scatter_m_per_s })
    }

    #[inline]
    pub(super) fn with_scatter(self, scatter_m_per_s: f64) -> Self {
        Self { scatter_m_per_s, ..self }
    }

    /// The place of the least sum of squares, and the normal equations there.
    #[inline]
    pub(super) fn least(&self) -> Result<(Logs, Sums)> {
        let mut at = self.mean;
        let mut sums = self.sums(at);
        for _ in 0..MAX_ROUNDS {
            let mut step = sums.step();
            let (next, longest) = loop {
                let next = self.sums(at.plus(step));
                let longest = step.longest();
                if next.cost <= sums.cost * (1.0 + SUM_ROUNDING) || longest < SETTLED {
                    break (next, longest);
                }
                step = step.times(0.5);
            };
            (at, sums) = (at.plus(step), next);
            if longest < SETTLED {
                return Ok((at, sums));
            }
        }
        Err(Error::NoConvergence { iterations: MAX_ROUNDS })
    }

    #[inline]
    fn sums(&self, at: Logs) -> Sums {
        let mut sums = self.usual(at);
        let bow = (exp(at.energy), exp(at.virtual_mass));
        if let Some(rated) = self.readings.rated {
            let weight = 1.0 / (RATED_LOG_ERROR * RATED_LOG_ERROR);
            let (speed, mass_kg) = (rated.speed_m_per_s, rated.arrow_mass_kg);
            sums.add(&term(bow, speed, mass_kg, rated.energy_ratio, weight));
        }
        // The scale, one more unknown with mean 0, is eliminated exactly: it is linear in every equation.
        let (mut along_e, mut along_k, mut residuals, mut curvatures) = (0.0, 0.0, 0.0, 0.0);
        let mut weights = 1.0 / (SCALE_LOG_ERROR * SCALE_LOG_ERROR);
        for shot in self.readings.shots {
            let relative = shot.speed_m_per_s / self.scatter_m_per_s;
            let term = self.shot(bow, shot, relative * relative);
            sums.add(&term);
            weights += term.weight;
            along_e += term.weight * BY_ENERGY;
            along_k += term.weight * term.slope;
            residuals += term.weight * term.residual;
            curvatures += term.weight * term.curvature;
        }
        sums.log_scale = residuals / weights;
        sums.normal.ee -= along_e * along_e / weights;
        sums.normal.ek -= along_e * along_k / weights;
        sums.normal.kk -= along_k * along_k / weights;
        sums.gradient.0 -= along_e * sums.log_scale;
        sums.gradient.1 -= along_k * sums.log_scale;
        sums.cost -= residuals * sums.log_scale;
        sums.bend -= curvatures * sums.log_scale;
        sums
    }

    /// The prior's part of the sums.
    #[inline]
    fn usual(&self, at: Logs) -> Sums {
        let weight = |error: f64| 1.0 / (error * error);
        let (e, k) = (weight(self.prior.energy_log_error), weight(self.prior.virtual_mass_log_error));
        let off = (self.mean.energy - at.energy, self.mean.virtual_mass - at.virtual_mass);
        Sums {
            normal: Symmetric { ee: e, ek: 0.0, kk: k },
            gradient: (e * off.0, k * off.1),
            cost: e * off.0 * off.0 + k * off.1 * off.1,
            bend: 0.0,
            log_scale: 0.0,
        }
    }

    #[inline]
    fn shot(&self, bow: (f64, f64), shot: &SpeedReading, weight: f64) -> Term {
        let unmoved_kg = shot.arrow_mass_kg + self.readings.hung_mass_kg;
        term(bow, shot.speed_m_per_s, unmoved_kg, self.readings.energy_ratio, weight)
    }

    /// Scatter of the shots about a bow and a scale: the usual one and their own departures, by their counts, and
    /// what the chronograph's steps hide.
    #[inline]
    pub(super) fn scatter_m_per_s(&self, at: Logs, log_scale: f64) -> f64 {
        let Readings { shots, hung_mass_kg, energy_ratio, resolution_m_per_s, .. } = *self.readings;
        let (energy, k) = (exp(log_scale + log_scale + at.energy) * energy_ratio, exp(at.virtual_mass));
        let mut squares = USUAL_SCATTER_COUNTS * USUAL_SCATTER_M_PER_S * USUAL_SCATTER_M_PER_S;
        for shot in shots {
            let off = shot.speed_m_per_s - sqrt(2.0 * energy / (shot.arrow_mass_kg + hung_mass_kg + k));
            squares += off * off;
        }
        let steps = standard_uncertainty(resolution_m_per_s);
        sqrt(squares / (USUAL_SCATTER_COUNTS + shots.len() as f64 - 1.0) + steps * steps)
    }
}

/// A reading of a speed, with `unmoved_kg` of arrow and hung mass, on a bow of energy and virtual mass.
#[inline]
fn term((energy, k): (f64, f64), speed: f64, unmoved_kg: f64, energy_ratio: f64, weight: f64) -> Term {
    let mass = unmoved_kg + k;
    Term {
        residual: 0.5 * ln(speed * speed * mass / (2.0 * energy * energy_ratio)),
        slope: -0.5 * k / mass,
        curvature: 0.5 * k * unmoved_kg / (mass * mass),
        weight,
    }
}
