//! The peak push on the arrow, from the speed of the bow.

use crate::bow_kind::BowKind;
use crate::draw_curve::DrawCurve;
use crate::error::Result;
use crate::math::clamp;
use crate::parameter::Parameter;

/// Relative change of the column load per percent of let-off.
const PER_LET_OFF_PERCENT: f64 = 0.0033;
/// The let-off, percent, at which the factor is 1.
const USUAL_LET_OFF_PERCENT: f64 = 80.0;
/// Relative change of the column load for a rise shorter by one cam step.
const PER_CAM: f64 = 0.05;
/// The rise at which the factor is 1: a medium cam's.
const USUAL_RISE: f64 = 0.35;
/// Difference of rise from one cam to the next, share of the stroke.
const CAM_STEP: f64 = 0.15;

/// Peak push (m/s^2) on an arrow that this bow shoots at `speed`, and a usual one of its kind at `usual_speed` (m/s).
///
/// Since `E (1 - loss) = (m + K) v^2 / 2`, a bow that shoots faster than its kind pushes harder. The peak
/// push `a` (m/s^2) on an arrow of mass `m` (kg) is therefore that of the reference bow of its kind, times
/// the square of the speed ratio:
///
/// ```text
/// a = F (1 - loss_ref) / (m + K_ref) (v / v_ref)^2
/// ```
///
/// `F` is the peak force (N), `K_ref` (kg) and `loss_ref` those of [`BowKind::reference`]; `v` (m/s) is the
/// speed predicted for this arrow from all that is known of the bow, `v_ref` that of an unmeasured bow of its
/// kind. Two chronograph readings determine the speed well and the virtual mass poorly: for one matched
/// setup, shot at 380 and 420 gr three times each with 1 fps of scatter, this push has a standard deviation
/// of 0.3 %, `F (1 - loss) / (m + K)` with a fitted `K` one of 9 %.
///
/// # Errors
/// [`crate::Error::OutOfRange`] for the peak force (N), the arrow's mass (kg), a speed or the push.
///
/// # Examples
/// ```
/// use clothyard_mechanics::{BowKind, peak_push};
/// // As fast as its kind, a compound pushes 26.5 g with 0.97 of 267 N on them and 4.9 g.
/// let push = peak_push(BowKind::Compound, 267.0, 0.0265, 80.0, 80.0)?;
/// assert!((push - 267.0 * 0.97 / 0.0314).abs() < 1e-9);
/// // A tenth faster, a fifth more.
/// assert!((peak_push(BowKind::Compound, 267.0, 0.0265, 88.0, 80.0)? / push - 1.21).abs() < 1e-14);
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
///
/// # References
/// Klopsteg, Am. J. Phys. 11 (1943) (virtual mass).
#[inline]
pub fn peak_push(kind: BowKind, peak_force_n: f64, arrow_mass_kg: f64, speed: f64, usual_speed: f64) -> Result<f64> {
    let force_n = Parameter::PeakForce.check(peak_force_n)?;
    let mass_kg = Parameter::ArrowMass.check(arrow_mass_kg)?;
    let faster = Parameter::Speed.check(speed)? / Parameter::Speed.check(usual_speed)?;
    let reference = kind.reference();
    let push = force_n * (1.0 - reference.loss) / (mass_kg + reference.virtual_mass_kg) * faster * faster;
    Parameter::Acceleration.check(push)
}

/// Factor of let-off and cam on the column load; 1 for bows without cams.
///
/// A smaller let-off or a harder cam magnifies the shaft's bend in the shot ([`crate::shot`]); a third of
/// that effect, as a factor on the column load, is what common practice requires:
///
/// ```text
/// (1 + 0.0033 (80 - q)) (1 + 0.05 (0.35 - r) / 0.15)        q let-off, percent; r rise, share of the stroke
/// ```
///
/// **Validity.** The factor is common practice, no source, with the simulation as its reason: 65 against 90 %
/// of let-off is 8.5 %, less than one usual step of spine; a hard against a soft cam is 6 lb at 60 lb. It is
/// 1 for 80 % and a medium cam, and for bows without cams.
///
/// A measured curve's rise is read where the force first reaches three quarters of its peak, its let-off at full draw.
/// The rise counts from 0.10 to 0.60 of the stroke.
///
/// # Examples
/// ```
/// use clothyard_mechanics::{BowKind, Cam, DrawCurve, curve_factor};
/// let factor = |cam: Cam, let_off| {
///     let (rise, valley) = cam.rise_and_valley();
///     curve_factor(BowKind::Compound, &DrawCurve::LetOff { rise, valley, let_off })
/// };
/// assert!((factor(Cam::Medium, 0.80) - 1.0).abs() < 1e-15);
/// assert!((factor(Cam::Medium, 0.65) - 1.0495).abs() < 1e-15);
/// assert!((factor(Cam::Hard, 0.80) - 1.05).abs() < 1e-15);
/// assert_eq!(curve_factor(BowKind::Longbow, &DrawCurve::LONGBOW), 1.0);
/// ```
#[must_use]
#[inline]
pub fn curve_factor(kind: BowKind, curve: &DrawCurve) -> f64 {
    if kind != BowKind::Compound {
        return 1.0;
    }
    let let_off_percent = 100.0 * clamp(1.0 - curve.force_fraction(1.0), 0.0, 0.99);
    let gentle = 1.0 + PER_LET_OFF_PERCENT * (USUAL_LET_OFF_PERCENT - let_off_percent);
    gentle * (1.0 + PER_CAM * (USUAL_RISE - rise(curve)) / CAM_STEP)
}

/// Share of the stroke in which the force rises. A parabola to the peak at `r` reaches three quarters of it at `r/2`.
#[inline]
fn rise(curve: &DrawCurve) -> f64 {
    let rise = match curve {
        DrawCurve::LetOff { rise, .. } => *rise,
        DrawCurve::Smooth { .. } => USUAL_RISE,
        DrawCurve::Measured(curve) => 2.0 * curve.first_share_at(0.75),
    };
    clamp(rise, 0.10, 0.60)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bow::{Bow, launch_speed};
    use crate::draw_curve::Cam;
    use crate::measured::{DrawReading, MeasuredCurve};
    use crate::units::{METER_PER_INCH, NEWTON_PER_POUND_FORCE};
    use std::vec::Vec;

    fn curve(cam: Cam, let_off: f64) -> DrawCurve {
        let (rise, valley) = cam.rise_and_valley();
        DrawCurve::LetOff { rise, valley, let_off }
    }

    #[test]
    fn a_bow_of_which_nothing_is_known_pushes_as_its_speed_says() {
        // Prior calculation with SciPy: 60 lb, 29 in of draw, brace 6.5 in, 26.489794408 g; v^2 / (2 S f) is the same.
        let (stroke_m, mass_kg) = (20.75 * METER_PER_INCH, 0.026_489_794_408);
        let bow = Bow::new(60.0 * NEWTON_PER_POUND_FORCE, stroke_m, curve(Cam::Medium, 0.80), 0.0049, 0.03).unwrap();
        let speed = launch_speed(bow.delivered_energy_j(), mass_kg, bow.virtual_mass_kg).unwrap();
        let push = peak_push(BowKind::Compound, bow.peak_force_n, mass_kg, speed, speed).unwrap();
        assert!((push - 8_247.473_514_582_221).abs() < 1e-6, "{push}");
        let from_speed = speed * speed / (2.0 * stroke_m * bow.curve.energy_fraction());
        assert!((push / from_speed - 1.0).abs() < 1e-14, "{from_speed}");
    }

    #[test]
    fn let_off_and_cam_count_as_in_the_prior_calculation() {
        for (cam, let_off, factor) in [
            (Cam::Medium, 0.65, 1.0495),
            (Cam::Medium, 0.80, 1.0),
            (Cam::Medium, 0.90, 0.967),
            (Cam::Soft, 0.80, 0.95),
            (Cam::Hard, 0.80, 1.05),
            (Cam::Hard, 0.65, 1.05 * 1.0495),
        ] {
            assert!(
                (curve_factor(BowKind::Compound, &curve(cam, let_off)) - factor).abs() < 1e-12,
                "{cam:?} {let_off}"
            );
        }
    }

    #[test]
    fn let_off_and_cam_are_worth_what_the_trade_knows() {
        // Common practice, no source: let-off decides between neighboring spines at most, so 65 against 90 %
        // is less than one usual step (.300 to .340 is 13 %); a hard cam wants 5 to 10 lb more spine than a
        // soft one at 60 lb.
        let factor = |cam, let_off| curve_factor(BowKind::Compound, &curve(cam, let_off));
        let by_let_off = factor(Cam::Medium, 0.65) / factor(Cam::Medium, 0.90) - 1.0;
        assert!(by_let_off > 0.0 && by_let_off < 0.340 / 0.300 - 1.0, "{by_let_off}");
        let by_cam_lb = 60.0 * (factor(Cam::Hard, 0.80) - factor(Cam::Soft, 0.80));
        assert!((5.0..10.0).contains(&by_cam_lb), "{by_cam_lb}");
    }

    #[test]
    fn a_measured_curve_counts_as_the_one_it_was_read_from() {
        for (cam, let_off) in [(Cam::Soft, 0.80), (Cam::Medium, 0.65), (Cam::Hard, 0.90)] {
            let shape = curve(cam, let_off);
            let at = |index: u32| {
                let u = f64::from(index) / 60.0;
                DrawReading { draw_m: 0.16 + 0.5 * u, force_n: 250.0 * shape.force_fraction(u) }
            };
            let readings: Vec<_> = (1..=60).map(at).collect();
            let read = DrawCurve::Measured(MeasuredCurve::new(&readings, 0.16).unwrap());
            let [read, shape] = [&read, &shape].map(|curve| curve_factor(BowKind::Compound, curve));
            assert!((read / shape - 1.0).abs() < 1e-3, "{cam:?}: {read} {shape}");
        }
    }

    #[test]
    fn a_bow_without_cams_has_no_such_factor() {
        let bows = [(BowKind::Recurve, DrawCurve::RECURVE), (BowKind::Longbow, curve(Cam::Hard, 0.65))];
        for (kind, curve) in bows {
            assert!((curve_factor(kind, &curve) - 1.0).abs() < f64::MIN_POSITIVE);
        }
    }
}
