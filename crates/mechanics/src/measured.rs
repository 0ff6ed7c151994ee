//! What was measured overrules what was assumed.
//!
//! Each module takes readings as they come from the workshop or the range, says what they tell
//! and how surely, and refuses what contradicts itself. Nothing read is ever dropped: what looks
//! wrong is named, and whoever measured decides.
//!
//! | Read with | Module | Tells |
//! |---|---|---|
//! | bow scale and rule | [`draw_force`] | the draw-force curve, the stored energy |
//! | chronograph | [`speeds`] | energy and virtual mass |
//! | home spine rig | [`rig`], [`stiff_side`] | the standard spine; the stiff side of a shaft |
//! | grain scale and edge | [`compare`] | which part explains weight and balance |
//! | all shafts of a batch | [`matched`], [`spread`] | the best set; what unlike weight does to the group |
//!
//! Instruments that show steps of `r` are taken to be off by anything up to half a step, each
//! value alike likely, and what follows from several readings `x_i` adds their parts as squares:
//!
//! ```text
//! u(x) = r / sqrt(12)                            standard uncertainty, in the unit of x
//! u(y)^2 = sum of (dy/dx_i)^2 u(x_i)^2           readings independent of each other
//! ```
//!
//! That leaves out what no instrument shows: a scale out of true, an archer who pulls aside.
//!
//! # Examples
//! A bow read with scale and rule, then shot: how much of what it stores reaches arrow and virtual mass?
//! ```
//! use clothyard_mechanics::measured::speeds::{SpeedReading, fit_speeds};
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

// What every evaluation asks of these is marked `inline`: it is then built with the crate that asks, for size where
// that one is, and not for speed like the rest of the mechanics.

pub mod compare;
pub mod draw_force;
pub mod matched;
pub mod rig;
pub mod speeds;
pub mod spread;
pub mod stiff_side;

mod student;

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
