//! The reading that fits the others worst, by Grubbs's test on studentized residuals.

use super::{Model, Slopes, SpeedReading, Suspect, degrees_of_freedom};
use crate::math::sqrt;
use crate::measured::standard_uncertainty;
use crate::measured::student::tails;

/// Probability below which a reading is named: Grubbs's test at 5 %.
const SUSPECT_CHANCE: f64 = 0.05;

/// Residuals of the readings about the fit, and the test for an outlier.
pub(super) struct Residuals {
    model: Model,
    pub(super) slopes: Slopes,
    mass_is_fitted: bool,
    sum_of_squares: f64,
    /// Degrees of freedom of the residuals.
    degrees_of_freedom: usize,
}

impl Residuals {
    pub(super) fn of(readings: &[SpeedReading], model: Model, mass_is_fitted: bool) -> Self {
        Self {
            model,
            slopes: Slopes::of(readings, model),
            mass_is_fitted,
            sum_of_squares: model.sum_of_squares(readings),
            degrees_of_freedom: degrees_of_freedom(readings, mass_is_fitted),
        }
    }

    /// The reading with the largest studentized residual, if Grubbs's test names it.
    pub(super) fn suspect(&self, readings: &[SpeedReading], resolution: f64) -> Option<Suspect> {
        let degrees = self.degrees_of_freedom.checked_sub(1).filter(|degrees| *degrees > 0)?;
        let (index, residual, studentized) = readings
            .iter()
            .enumerate()
            .filter_map(|(index, reading)| {
                let residual = self.model.residual(reading);
                Some((index, residual, self.studentized(reading, residual, degrees, resolution)?))
            })
            .max_by(|a, b| a.2.abs().total_cmp(&b.2.abs()))?;
        let chance = (readings.len() as f64 * tails(studentized, degrees)).min(1.0);
        let named = chance < SUSPECT_CHANCE && residual.abs() > resolution;
        named.then_some(Suspect { index, residual_m_per_s: residual, studentized, chance })
    }

    /// The residual over its standard error, estimated from the other readings; none for a reading that the fit follows
    /// exactly.
    fn studentized(&self, reading: &SpeedReading, residual: f64, degrees: usize, resolution: f64) -> Option<f64> {
        let free = 1.0 - self.slopes.leverage(self.model.slopes(reading), self.mass_is_fitted);
        if free < 1e-9 {
            return None;
        }
        let others = (self.sum_of_squares - residual * residual / free).max(0.0) / degrees as f64;
        // If the others agree to the last digit, their spread is bounded below by the instrument's steps, or rounding.
        let minimum = standard_uncertainty(resolution).max(1e-9 * reading.speed_m_per_s);
        Some(residual / (sqrt(others).max(minimum) * sqrt(free)))
    }
}
