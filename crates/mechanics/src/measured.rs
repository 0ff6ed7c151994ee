//! Measurements, which replace what was assumed.
//!
//! Each function takes readings as they come from the workshop or the range, computes what they imply
//! with its uncertainty, and refuses contradictory ones. No reading is ever dropped: one that looks
//! wrong is named, and the person who measured decides.
//!
//! | Read with | Entry point | Result |
//! |---|---|---|
//! | bow scale and ruler | [`MeasuredCurve`] | the draw-force curve, the stored energy |
//! | chronograph | [`fit_speeds`] | energy and virtual mass |
//! | home spine rig | [`crate::SpineRig::measured_spine`], [`stiff_side`] | the standard spine; the stiff side of a shaft |
//! | grain scale and balance edge | [`explanations`] | which part explains mass and balance |
//! | all shafts of a batch | [`best_matched_set`], [`MeanShot`] | the best set; effect of unequal mass on the group |
//!
//! Instruments that show steps of `r` are taken to be off by up to half a step, each value equally
//! likely, and the parts of several readings `x_i` add as squares:
//!
//! ```text
//! u(x) = r / sqrt(12)                            standard uncertainty, in the unit of x
//! u(y)^2 = sum of (dy/dx_i)^2 u(x_i)^2           readings independent of each other
//! ```
//!
//! This does not include what no instrument shows: a miscalibrated scale, an archer who pulls aside.
//!
//! # Examples
//! A bow measured with scale and ruler, then shot: how much of the stored energy reaches arrow and virtual mass?
//! ```
//! use clothyard_mechanics::measured::{SpeedReading, fit_speeds};
//! use clothyard_mechanics::{DrawReading, MeasuredCurve};
//!
//! let reading = |draw_m, force_n| DrawReading { draw_m, force_n };
//! let readings = [reading(0.30, 60.0), reading(0.40, 110.0), reading(0.50, 150.0), reading(0.60, 180.0)];
//! let curve = MeasuredCurve::new(&readings, 0.20)?;
//! // Trapezoids of 10 cm: 3 + 8.5 + 13 + 16.5 = 41 J.
//! assert!((curve.stored_energy_j() - 41.0).abs() < 1e-13);
//!
//! // 20 g of arrow at 50 m/s, with 6 g of virtual mass assumed: 32.5 J of it.
//! let shot = SpeedReading { arrow_mass_kg: 0.020, speed_m_per_s: 50.0 };
//! let fit = fit_speeds(&[shot], 0.006)?;
//! let efficiency = fit.delivered_energy_j / curve.stored_energy_j();
//! assert!((efficiency - 32.5 / 41.0).abs() < 1e-15); // 79 %
//! # Ok::<(), clothyard_mechanics::Error>(())
//! ```
//!
//! # References
//! JCGM 100:2008 (GUM), 5.1.2 for the propagation of uncertainty, F.2.2.1 for the steps of an
//! indication.

// Functions called by every evaluation are marked `inline`: they are then compiled with the calling crate, which may be
// optimized for size; not so the rest of the mechanics.

mod comparison;
mod draw_force;
mod matched;
mod rig;
mod speeds;
mod spread;
mod stiff_side;
mod student;

pub use comparison::{Change, Component, Explanation, Explanations, Weighed, explanations};
pub use draw_force::{DrawReading, EnergyUncertainty, MAX_DRAW_READINGS, MeasuredCurve};
pub use matched::{MAX_SHAFTS, MatchedSet, Shaft, SpreadCost, best_matched_set};
pub use rig::{MeasuredSpine, RigInstrument, RigSteps};
pub use speeds::{MIN_MASS_RATIO, SpeedErrors, SpeedFit, SpeedReading, Suspect, fit_speeds};
pub use spread::{HeightSensitivity, MeanShot};
pub use stiff_side::{StiffSide, stiff_side};

use crate::math::sqrt;

/// Standard uncertainty of a reading from an instrument with steps of `resolution`.
pub(crate) fn standard_uncertainty(resolution: f64) -> f64 {
    resolution / sqrt(12.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_step_counts_as_0_29_of_itself() {
        // GUM F.2.2.1 prints u = 0.29 for a step of 1.
        assert!((standard_uncertainty(1.0) - 0.29).abs() < 0.005);
    }
}
