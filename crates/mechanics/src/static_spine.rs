//! Static spine: the deflection of a shaft under a weight, and the bending stiffness it implies.

use crate::error::Result;
use crate::parameter::Parameter;
use crate::units::{METER_PER_INCH, NEWTON_PER_POUND_FORCE, STANDARD_GRAVITY};

/// A spine rig: two supports and a weight at the middle.
///
/// A shaft on two supports a span `s` (m) apart, with a weight `W` (N) hung at the middle, deflects there by
///
/// ```text
/// d = W s^3 / (48 EI)        m, with the bending stiffness EI in N m^2
/// ```
///
/// Two rigs are standards; any other rig of known span and weight measures the same EI, so every reading
/// converts to every other. The trade's spine number is the deflection on the rig of ASTM F2031 in thousandths
/// of an inch ("400" is 0.400 in), so a stiffer shaft has a smaller number.
///
/// Assumptions: a uniform straight shaft, supports that let it rotate and slide, small slopes (0.500 in is a
/// fifty-sixth of 28 in). Shear and the shaft's own weight are neglected; the latter cancels where the dial is
/// zeroed before the weight is hung.
///
/// # Examples
/// ```
/// use clothyard_mechanics::{SpineRig, units::METER_PER_INCH};
/// // A shaft of spine .500 on a home rig of 24 in and 9 N: the deflection is proportional to W s^3.
/// let home = SpineRig::new(24.0 * METER_PER_INCH, 9.0)?;
/// let standard = SpineRig::ASTM_F2031;
/// let sag_m = home.deflection_m(standard.bending_stiffness_nm2(0.500 * METER_PER_INCH)?)?;
/// let by_hand_m = 0.500 * METER_PER_INCH * 9.0 / standard.load_n * (24.0_f64 / 28.0).powi(3);
/// assert!((sag_m - by_hand_m).abs() < 1e-16);
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
///
/// # References
/// ASTM F2031 (28 in, 880 g); AMO Standards (26 in, 2 lb); deflection of a simply supported beam: Timoshenko &
/// Gere, *Theory of Elastic Stability*.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpineRig {
    /// Distance between the supports, m.
    pub span_m: f64,
    /// Weight hung at the middle, N.
    pub load_n: f64,
}

impl SpineRig {
    /// ASTM F2031: 28 in and 880 g. The spine number is the deflection in thousandths of an inch.
    ///
    /// The weight is also given as 1.94 lb, which is 31 mg less: 35 parts in a million of EI.
    pub const ASTM_F2031: Self = Self { span_m: 28.0 * METER_PER_INCH, load_n: 0.880 * STANDARD_GRAVITY };

    /// The older AMO method: 26 in and 2 lb.
    ///
    /// # Examples
    /// ```
    /// use clothyard_mechanics::SpineRig;
    /// // The same shaft deflects less on it: (2 / 1.94) (26 / 28)^3 times as far as under 1.94 lb on 28 in.
    /// let ratio = SpineRig::AMO.deflection_m(6.0)? / SpineRig::ASTM_F2031.deflection_m(6.0)?;
    /// assert!((ratio / 0.825_418_5 - 1.0).abs() < 4e-5); // 880 g are not quite 1.94 lb
    /// # Ok::<(), clothyard_mechanics::Error>(())
    /// ```
    pub const AMO: Self = Self { span_m: 26.0 * METER_PER_INCH, load_n: 2.0 * NEWTON_PER_POUND_FORCE };

    /// A rig of any span (0.1 to 2 m) and weight (0.1 to 1000 N).
    ///
    /// # Errors
    /// [`crate::Error::OutOfRange`] for the span or the load.
    pub fn new(span_m: f64, load_n: f64) -> Result<Self> {
        Parameter::Span.check(span_m)?;
        Parameter::SpineLoad.check(load_n)?;
        Ok(Self { span_m, load_n })
    }

    /// Bending stiffness EI (N m^2) of a shaft that deflects by `deflection_m` (0.1 to 500 mm) on this rig.
    ///
    /// # Errors
    /// [`crate::Error::OutOfRange`] for the deflection, the rig, or a stiffness beyond any shaft.
    ///
    /// # Examples
    /// ```
    /// use clothyard_mechanics::{SpineRig, units::METER_PER_INCH};
    /// let stiffness_nm2 = SpineRig::ASTM_F2031.bending_stiffness_nm2(0.400 * METER_PER_INCH)?;
    /// // W s^3 / (48 d): 0.880 x 9.80665 x 0.7112^3 / (48 x 0.01016)
    /// assert!((stiffness_nm2 - 6.3657).abs() < 5e-5);
    /// # Ok::<(), clothyard_mechanics::Error>(())
    /// ```
    pub fn bending_stiffness_nm2(&self, deflection_m: f64) -> Result<f64> {
        Parameter::Deflection.check(deflection_m)?;
        Parameter::BendingStiffness.check(self.stiffness_times_deflection()? / deflection_m)
    }

    /// Deflection (m) on this rig of a shaft of bending stiffness `stiffness_nm2` (0.001 to 100 000 N m^2).
    ///
    /// # Errors
    /// [`crate::Error::OutOfRange`] for the stiffness, the rig, or a deflection outside the measurable range.
    pub fn deflection_m(&self, stiffness_nm2: f64) -> Result<f64> {
        Parameter::BendingStiffness.check(stiffness_nm2)?;
        Parameter::Deflection.check(self.stiffness_times_deflection()? / stiffness_nm2)
    }

    fn stiffness_times_deflection(&self) -> Result<f64> {
        let Self { span_m: s, load_n: w } = Self::new(self.span_m, self.load_n)?;
        Ok(w * s * s * s / 48.0)
    }
}

/// The AMO rating's constant, 26 lb in: the rating in pounds is 26 over the deflection in inches.
const AMO_RATING_NM: f64 = 26.0 * NEWTON_PER_POUND_FORCE * METER_PER_INCH;

/// AMO spine rating as a draw weight (N) of a shaft of bending stiffness `stiffness_nm2` (N m^2).
///
/// Wood shafts are sold by it: 26 divided by the AMO deflection in inches, in pounds.
///
/// # Errors
/// [`crate::Error::OutOfRange`] for the stiffness.
///
/// # Examples
/// ```
/// use clothyard_mechanics::{amo_rating_n, stiffness_from_amo_rating_nm2};
/// use clothyard_mechanics::{SpineRig, units::{METER_PER_INCH, NEWTON_PER_POUND_FORCE}};
/// // A shaft for 50 lb deflects by 26 / 50 = 0.52 in.
/// let stiffness_nm2 = SpineRig::AMO.bending_stiffness_nm2(0.52 * METER_PER_INCH)?;
/// assert!((amo_rating_n(stiffness_nm2)? / NEWTON_PER_POUND_FORCE - 50.0).abs() < 1e-13);
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
///
/// # References
/// AMO Standards, static spine of wood arrows.
pub fn amo_rating_n(stiffness_nm2: f64) -> Result<f64> {
    Ok(AMO_RATING_NM / SpineRig::AMO.deflection_m(stiffness_nm2)?)
}

/// Bending stiffness EI (N m^2) of a shaft of AMO spine rating `rating_n` (1 to 2000 N).
///
/// The inverse of [`amo_rating_n`].
///
/// # Errors
/// [`crate::Error::OutOfRange`] for the rating.
///
/// # Examples
/// ```
/// use clothyard_mechanics::{SpineRig, stiffness_from_amo_rating_nm2};
/// use clothyard_mechanics::units::{METER_PER_INCH, NEWTON_PER_POUND_FORCE};
/// let stiffness_nm2 = stiffness_from_amo_rating_nm2(50.0 * NEWTON_PER_POUND_FORCE)?;
/// let sag_m = SpineRig::AMO.deflection_m(stiffness_nm2)?;
/// assert!((sag_m / METER_PER_INCH - 26.0 / 50.0).abs() < 1e-15);
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
pub fn stiffness_from_amo_rating_nm2(rating_n: f64) -> Result<f64> {
    Parameter::PeakForce.check(rating_n)?;
    SpineRig::AMO.bending_stiffness_nm2(AMO_RATING_NM / rating_n)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::error::Error;
    use crate::units::KILOGRAM_PER_POUND;

    /// The weight of ASTM F2031 as 1.94 lb, by which the table below was printed.
    fn rig_of_1_94_lb() -> SpineRig {
        SpineRig::new(28.0 * METER_PER_INCH, 1.94 * NEWTON_PER_POUND_FORCE).unwrap()
    }

    /// Spine in inches and EI in N m^2, from the definition in ASTM F2031, worked to 8 decimals.
    const STIFFNESS: [(f64, f64); 5] = [
        (0.300, 8.487_253_64),
        (0.340, 7.488_753_21),
        (0.400, 6.365_440_23),
        (0.500, 5.092_352_18),
        (0.600, 4.243_626_82),
    ];

    #[test]
    fn stiffness_follows_from_the_spine() {
        for (spine_in, published) in STIFFNESS {
            let found = rig_of_1_94_lb().bending_stiffness_nm2(spine_in * METER_PER_INCH).unwrap();
            assert!((found - published).abs() < 5e-9, "{spine_in}: {found}");
            let in_grams = SpineRig::ASTM_F2031.bending_stiffness_nm2(spine_in * METER_PER_INCH).unwrap();
            let ratio = 0.880 / (1.94 * KILOGRAM_PER_POUND);
            assert!((in_grams / found - ratio).abs() < 1e-14);
        }
    }

    #[test]
    fn the_amo_sag_is_a_fixed_share_of_the_astm_sag() {
        // Beam theory: (2 / 1.94) (26 / 28)^3 = 0.8254185.
        for (_, stiffness) in STIFFNESS {
            let amo = SpineRig::AMO.deflection_m(stiffness).unwrap();
            let ratio = amo / rig_of_1_94_lb().deflection_m(stiffness).unwrap();
            assert!((ratio - 0.825_418_5).abs() < 5e-8, "{ratio}");
        }
    }

    #[test]
    fn any_rig_returns_the_sag_it_was_given() {
        let rig = SpineRig::new(0.5, 12.0).unwrap();
        let stiffness = rig.bending_stiffness_nm2(0.006).unwrap();
        assert!((rig.deflection_m(stiffness).unwrap() - 0.006).abs() < 1e-17);
    }

    #[test]
    fn a_shaft_rated_52_lb_sags_half_an_inch_on_the_amo_rig() {
        // AMO: rating in pounds = 26 / deflection in inches.
        let stiffness = SpineRig::AMO.bending_stiffness_nm2(0.5 * METER_PER_INCH).unwrap();
        let rating_n = amo_rating_n(stiffness).unwrap();
        assert!((rating_n / NEWTON_PER_POUND_FORCE - 52.0).abs() < 1e-12);
        assert!((stiffness_from_amo_rating_nm2(rating_n).unwrap() - stiffness).abs() < 1e-14);
    }

    #[test]
    fn what_no_rig_shows_is_refused() {
        let refused = SpineRig::ASTM_F2031.bending_stiffness_nm2(0.0);
        assert!(matches!(refused, Err(Error::OutOfRange { parameter: Parameter::Deflection, .. })));
        assert!(SpineRig::new(f64::NAN, 8.6).is_err());
        assert!(SpineRig { span_m: 0.0, load_n: 8.6 }.deflection_m(6.0).is_err());
        assert!(stiffness_from_amo_rating_nm2(f64::INFINITY).is_err());
    }
}
