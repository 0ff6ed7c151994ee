//! A home spine rig: the standard static spine of its reading, with uncertainty.

use super::standard_uncertainty;
use crate::error::Result;
use crate::math::sqrt;
use crate::parameter::Parameter;
use crate::static_spine::SpineRig;

/// The smallest step that each instrument shows. Example: see [`SpineRig::measured_spine`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RigSteps {
    /// Of the ruler that measured the span, m.
    pub span_m: f64,
    /// Of the scale that weighed the weight, N.
    pub load_n: f64,
    /// Of the dial, m. It counts twice, without the weight and with it.
    pub dial_m: f64,
}

/// A spine measured on a home rig: the result of [`SpineRig::measured_spine`].
///
/// A shaft that deflects by `d` (m) under a weight `W` (N) on a span `s` (m) has `EI = W s^3 / (48 d)`, so on
/// the standard rig it deflects by
///
/// ```text
/// d0 = d (W0 / W) (s0 / s)^3                          m
/// u^2 = u(d)^2 + u(W)^2 + (3 u(s))^2, each relative
/// ```
///
/// with the span's uncertainty counting three times. The assumptions are those of [`crate::SpineRig`], and
/// rigid supports.
///
/// # References
/// ASTM F2031; JCGM 100:2008 (GUM), 5.1.2 and 5.1.6.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeasuredSpine {
    /// Bending stiffness EI, N m^2.
    pub stiffness_nm2: f64,
    /// Deflection on the rig of ASTM F2031, m.
    pub astm_sag_m: f64,
    /// Standard uncertainty of that deflection, m.
    pub uncertainty_m: f64,
    /// Maximum error, every instrument half a step (the dial two halves) off in the worst direction, m.
    pub off_at_most_m: f64,
    /// The instrument to improve first.
    pub weakest: RigInstrument,
}

/// The instruments of a rig. Example: see [`SpineRig::measured_spine`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum RigInstrument {
    /// The ruler along the span.
    Rule,
    /// The scale under the weight.
    Scale,
    /// The dial over the shaft.
    Dial,
}

impl SpineRig {
    /// The standard static spine of a shaft that deflects by `deflection_m` on this rig, whose instruments have these
    /// `steps`.
    ///
    /// # Errors
    /// [`crate::Error::OutOfRange`] for the rig, the deflection or the standard deflection, and for a
    /// step that is negative or more than half of the reading.
    ///
    /// # Examples
    /// ```
    /// use clothyard_mechanics::SpineRig;
    /// use clothyard_mechanics::measured::{RigInstrument, RigSteps};
    /// let (rig, standard) = (SpineRig::new(0.660, 9.0)?, SpineRig::ASTM_F2031);
    /// let steps = RigSteps { span_m: 0.001, load_n: 0.01, dial_m: 0.000_01 };
    /// let spine = rig.measured_spine(0.009, &steps)?;
    /// let by_hand_m = 0.009 * (standard.load_n / 9.0) * (standard.span_m / 0.660).powi(3);
    /// assert!((spine.astm_sag_m / by_hand_m - 1.0).abs() < 1e-14); // spine .425
    /// // Shares: ruler 3 x 1/660, scale 1/900, dial sqrt 2 x 1/900. The ruler is the weakest.
    /// assert_eq!(spine.weakest, RigInstrument::Rule);
    /// let shares = (3.0_f64 / 660.0).powi(2) + (1.0_f64 / 900.0).powi(2) + 2.0 * (1.0_f64 / 900.0).powi(2);
    /// assert!((spine.uncertainty_m / by_hand_m - (shares / 12.0).sqrt()).abs() < 1e-16);
    /// # Ok::<(), clothyard_mechanics::Error>(())
    /// ```
    pub fn measured_spine(&self, deflection_m: f64, steps: &RigSteps) -> Result<MeasuredSpine> {
        let stiffness_nm2 = self.bending_stiffness_nm2(deflection_m)?;
        let astm_sag_m = Self::ASTM_F2031.deflection_m(stiffness_nm2)?;
        let rule = 3.0 * share(steps.span_m, self.span_m)?;
        let scale = share(steps.load_n, self.load_n)?;
        // Zero and reading are two readings of equal uncertainty, independent of each other.
        let dial_once = share(steps.dial_m, deflection_m)?;
        let dial = sqrt(2.0) * dial_once;
        let weakest = [(rule, RigInstrument::Rule), (scale, RigInstrument::Scale), (dial, RigInstrument::Dial)]
            .into_iter()
            .fold((0.0, RigInstrument::Dial), |worst, each| if each.0 > worst.0 { each } else { worst });
        let uncertainty = standard_uncertainty(sqrt(rule * rule + scale * scale + dial * dial));
        Ok(MeasuredSpine {
            stiffness_nm2,
            astm_sag_m,
            uncertainty_m: astm_sag_m * uncertainty,
            off_at_most_m: astm_sag_m * 0.5 * (rule + scale + 2.0 * dial_once),
            weakest: weakest.1,
        })
    }
}

/// A step as a share of the reading.
fn share(step: f64, of: f64) -> Result<f64> {
    Ok(Parameter::Resolution.check_within(step, 0.0, 0.5 * of)? / of)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::METER_PER_INCH;

    const STEPS: RigSteps = RigSteps { span_m: 0.001, load_n: 0.02, dial_m: 0.000_025_4 };

    #[test]
    fn the_standard_rig_reads_itself() {
        let sag_m = 0.4 * METER_PER_INCH;
        let spine = SpineRig::ASTM_F2031.measured_spine(sag_m, &STEPS).unwrap();
        assert!((spine.astm_sag_m - sag_m).abs() < 1e-17);
    }

    #[test]
    fn the_uncertainty_is_that_of_small_changes_summed_in_squares() {
        // GUM 5.1.2, each slope by a central difference instead of the rule for products.
        let (span, load, sag) = (0.66, 9.0, 0.009);
        let spine = |span, load, sag| SpineRig::new(span, load).unwrap().measured_spine(sag, &STEPS).unwrap();
        let astm = |span, load, sag| spine(span, load, sag).astm_sag_m;
        let h = 1e-4;
        let by_span = (astm(span * (1.0 + h), load, sag) - astm(span * (1.0 - h), load, sag)) / (2.0 * h * span);
        let by_load = (astm(span, load * (1.0 + h), sag) - astm(span, load * (1.0 - h), sag)) / (2.0 * h * load);
        let by_sag = (astm(span, load, sag * (1.0 + h)) - astm(span, load, sag * (1.0 - h))) / (2.0 * h * sag);
        let terms = [by_span * STEPS.span_m, by_load * STEPS.load_n, by_sag * STEPS.dial_m, by_sag * STEPS.dial_m];
        let expected = sqrt(terms.iter().map(|term| term * term / 12.0).sum::<f64>());
        let found = spine(span, load, sag).uncertainty_m;
        assert!((found / expected - 1.0).abs() < 1e-7, "{found} against {expected}");
        let worst: f64 = terms.iter().map(|term| 0.5 * term.abs()).sum();
        assert!((spine(span, load, sag).off_at_most_m / worst - 1.0).abs() < 1e-7);
    }

    #[test]
    fn the_weakest_instrument_is_named() {
        let rig = SpineRig::new(0.66, 9.0).unwrap();
        let weakest = |steps: RigSteps| rig.measured_spine(0.009, &steps).unwrap().weakest;
        assert_eq!(weakest(STEPS), RigInstrument::Rule);
        assert_eq!(weakest(RigSteps { dial_m: 0.000_1, ..STEPS }), RigInstrument::Dial);
        assert_eq!(weakest(RigSteps { load_n: 0.5, ..STEPS }), RigInstrument::Scale);
    }

    #[test]
    fn a_step_that_swallows_the_reading_is_refused() {
        let rig = SpineRig::new(0.66, 9.0).unwrap();
        for steps in [RigSteps { dial_m: 0.005, ..STEPS }, RigSteps { span_m: -0.001, ..STEPS }] {
            let refused = rig.measured_spine(0.009, &steps).unwrap_err();
            assert!(matches!(refused, crate::Error::OutOfRange { parameter: Parameter::Resolution, .. }));
        }
    }
}
