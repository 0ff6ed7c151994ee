//! What was measured overrules what was assumed.
//!
//! Each module takes readings as they come from the workshop or the range, says what they tell
//! and how surely, and refuses what contradicts itself. Nothing read is ever dropped: what looks
//! wrong is named, and whoever measured decides.
//!
//! Instruments that show steps of `r` are taken to be off by anything up to half a step, each
//! value alike likely: a standard uncertainty of `r / sqrt(12)`.
//!
//! # References
//! JCGM 100:2008 (GUM), 5.1.2 for the propagation of uncertainty, F.2.2.1 for the steps of an
//! indication.

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
fn standard_uncertainty(resolution: f64) -> f64 {
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
