//! The stiff side of a shaft, from deflections read at equal angles around it.

use core::f64::consts::{PI, TAU};

use super::standard_uncertainty;
use crate::error::Result;
use crate::math::{atan2, cos, sin, sqrt};
use crate::parameter::Parameter;

/// Minimum number of readings: two planes.
const MIN_READINGS: f64 = 4.0;

/// Maximum number of readings around a shaft.
const MAX_READINGS: f64 = 64.0;

/// A difference of this many standard uncertainties counts as real.
const SIGNIFICANT: f64 = 2.0;

/// Variation of a shaft's deflection around it: the result of [`stiff_side`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StiffSide {
    /// Mean deflection, m: the shaft's spine.
    pub mean_sag_m: f64,
    /// Deflection of the weak plane minus that of the stiff one, m; of four readings, of the planes read.
    pub plane_difference_m: f64,
    /// Angle from the first reading to the stiff plane, rad, 0 to less than pi; it repeats after half a turn.
    /// None if the steps of the dial may explain the difference. Nocking every shaft of a set with this plane
    /// in the same direction makes them equal.
    pub stiff_plane_rad: Option<f64>,
    /// Greatest difference between opposite sides, m: not stiffness but a bow in the shaft, or a dial not set to zero.
    pub side_difference_m: f64,
    /// Angle from the first reading to the side of the greatest deflection of that part, rad, 0 to less than 2 pi.
    pub side_rad: f64,
}

/// The stiff side of a shaft from 4 to 64 deflections (m), read at equal angles around it on a dial with
/// steps of `dial_m`.
///
/// The bending stiffness of a section is the same from opposite sides: it varies twice per revolution. A bow
/// in the shaft, or a dial off its zero, varies once. So the deflection (m) at an angle `t` (rad) is
///
/// ```text
/// mean + A cos(t - a) + B cos 2 (t - b)
/// ```
///
/// and sums over the readings separate the three. Four readings, a quarter turn apart, may be at the crests
/// or at the nodes of the second wave and cannot tell which: they give the difference of the two planes read,
/// which may be less than the greatest, and which of the two is stiffer. From five readings on, size and
/// direction are both found. Readings of one plane each may be given twice, as if from opposite sides.
///
/// Assumptions: small deflections, and a shaft uniform along its length.
///
/// # Errors
/// [`crate::Error::OutOfRange`] for fewer than 4 or more than 64 readings, a deflection or the steps.
///
/// # Examples
/// ```
/// use clothyard_mechanics::measured::stiff_side;
/// // At 0, 90, 180 and 270 degrees: stiffer after a quarter turn.
/// let side = stiff_side(&[0.012_70, 0.012_50, 0.012_72, 0.012_52], 0.000_01)?;
/// assert!((side.plane_difference_m - 0.000_20).abs() < 1e-16);
/// assert!((side.stiff_plane_rad.unwrap().to_degrees() - 90.0).abs() < 1e-12);
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
///
/// # References
/// Timoshenko, *Strength of Materials*, on unsymmetrical bending; the sums are those of any harmonic analysis.
pub fn stiff_side(sags_m: &[f64], dial_m: f64) -> Result<StiffSide> {
    let count = Parameter::Readings.check_within(sags_m.len() as f64, MIN_READINGS, MAX_READINGS)?;
    let step = Parameter::Resolution.check(dial_m)?;
    for sag in sags_m {
        Parameter::Deflection.check(*sag)?;
    }
    let mean = sags_m.iter().sum::<f64>() / count;
    let once = Wave::of(sags_m, 1.0);
    let twice = if sags_m.len() == 4 { planes(sags_m) } else { Wave::of(sags_m, 2.0) };
    // The amplitude is 2/n times a sum of readings whose squared weights add to n/2; of four, half that.
    let uncertainty = standard_uncertainty(step) * sqrt(2.0 / count) * if sags_m.len() == 4 { sqrt(0.5) } else { 1.0 };
    let significant = twice.size() > (SIGNIFICANT * uncertainty).max(mean * 1e-12);
    Ok(StiffSide {
        mean_sag_m: mean,
        plane_difference_m: 2.0 * twice.size(),
        // The deflection is smallest half a wave from its crest.
        stiff_plane_rad: significant.then(|| turned(0.5 * (twice.crest() + PI), PI)),
        side_difference_m: 2.0 * once.size(),
        side_rad: turned(once.crest(), TAU),
    })
}

/// `cosine cos(k t) + sine sin(k t)`.
struct Wave {
    cosine: f64,
    sine: f64,
}

impl Wave {
    /// The part of the readings that varies `turns` times per revolution.
    fn of(readings: &[f64], turns: f64) -> Self {
        let count = readings.len() as f64;
        let mut wave = Self { cosine: 0.0, sine: 0.0 };
        for (index, reading) in readings.iter().enumerate() {
            let angle = turns * TAU * index as f64 / count;
            wave.cosine += reading * cos(angle) * 2.0 / count;
            wave.sine += reading * sin(angle) * 2.0 / count;
        }
        wave
    }

    fn size(&self) -> f64 {
        sqrt(self.cosine * self.cosine + self.sine * self.sine)
    }

    fn crest(&self) -> f64 {
        atan2(self.sine, self.cosine)
    }
}

/// The second wave from four readings: half the difference of the planes' means.
fn planes(sags: &[f64]) -> Wave {
    let alternating = sags.iter().zip([1.0, -1.0, 1.0, -1.0]).map(|(sag, sign)| sag * sign);
    Wave { cosine: alternating.sum::<f64>() / 4.0, sine: 0.0 }
}

/// An angle reduced to 0 or more and less than `period`.
fn turned(angle: f64, period: f64) -> f64 {
    let positive = if angle < 0.0 { angle + period } else { angle };
    // Slightly below 0 can round up to the period itself.
    if positive >= period { positive - period } else { positive }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::vec::Vec;

    const STEP_M: f64 = 1e-6;

    /// Sags of a shaft that has all three parts.
    fn sags(count: usize, [mean, once, side, twice, weak]: [f64; 5]) -> Vec<f64> {
        let sag = |t: f64| mean + once * cos(t - side) + twice * cos(2.0 * (t - weak));
        (0..count).map(|i| sag(TAU * i as f64 / count as f64)).collect()
    }

    #[test]
    fn five_readings_or_more_find_every_part_again() {
        for count in [5, 6, 8, 12, 64] {
            for weak in [0.0, 0.4, 1.6, 3.1] {
                let side = stiff_side(&sags(count, [0.0127, 2e-5, 4.0, 5e-5, weak]), STEP_M).unwrap();
                assert!((side.mean_sag_m - 0.0127).abs() < 1e-16);
                assert!((side.plane_difference_m - 1e-4).abs() < 1e-15, "{count}: {side:?}");
                assert!((side.side_difference_m - 4e-5).abs() < 1e-15);
                assert!((side.side_rad - 4.0).abs() < 1e-10);
                let stiff = (weak + 0.5 * PI) % PI;
                assert!((side.stiff_plane_rad.unwrap() - stiff).abs() < 1e-10, "{count}, {weak}: {side:?}");
            }
        }
    }

    #[test]
    fn four_readings_give_the_planes_read_and_no_more() {
        // Turned by `weak`, the planes read differ by cos(2 weak) of the greatest difference.
        for weak in [0.0, 0.3, 0.6] {
            let side = stiff_side(&sags(4, [0.0127, 2e-5, 1.0, 5e-5, weak]), STEP_M).unwrap();
            assert!((side.plane_difference_m - 1e-4 * cos(2.0 * weak)).abs() < 1e-15);
            assert!((side.stiff_plane_rad.unwrap() - 0.5 * PI).abs() < 1e-10);
            assert!((side.side_difference_m - 4e-5).abs() < 1e-15);
        }
        let hidden = stiff_side(&sags(4, [0.0127, 0.0, 0.0, 5e-5, 0.25 * PI]), STEP_M).unwrap();
        assert_eq!(hidden.stiff_plane_rad, None);
    }

    #[test]
    fn a_difference_within_the_steps_of_the_dial_points_nowhere() {
        let differing = |planes: f64, step| stiff_side(&[0.0127, 0.0127 - planes, 0.0127, 0.0127 - planes], step);
        // Half the difference of planes has the standard uncertainty step / sqrt(12) / 2.
        let limit = 2.0 * 1e-5 / sqrt(12.0);
        assert_eq!(differing(0.99 * limit, 1e-5).unwrap().stiff_plane_rad, None);
        assert!(differing(1.01 * limit, 1e-5).unwrap().stiff_plane_rad.is_some());
        assert_eq!(differing(0.0, 0.0).unwrap().stiff_plane_rad, None);
    }

    #[test]
    fn three_readings_and_no_sag_are_refused() {
        assert!(stiff_side(&[0.0127; 3], STEP_M).is_err());
        assert!(stiff_side(&[0.0127, 0.0127, 0.0, 0.0127], STEP_M).is_err());
        assert!(stiff_side(&[0.0127; 4], -1.0).is_err());
    }
}
