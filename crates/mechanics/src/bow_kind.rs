//! Usual properties of a kind of bow, with their uncertainty.

use crate::error::Result;
use crate::estimate::Prior;
use crate::math::{ln, sqrt};
use crate::parameter::Parameter;
use crate::units::NEWTON_PER_POUND_FORCE;

/// How surely the virtual mass follows the draw weight as [`BowKind::usual`] says: standard error of the
/// power (memory).
const POWER_ERROR: f64 = 0.5;

/// Virtual mass of a longbow for each newton of draw weight, kg/N: 0.2 g per lb.
const LONGBOW_KG_PER_N: f64 = 0.2e-3 / NEWTON_PER_POUND_FORCE;

/// Kind of bow.
///
/// It has two sets of constants, for two purposes:
///
/// - [`BowKind::reference`]: the virtual mass and loss with which the targets of [`crate::Launch`] were calibrated. They belong to the
///   match and are the same at every draw weight, as the agreed pairings and the rule for wood arrows require.
/// - [`BowKind::usual`]: what to expect of an unmeasured bow, each value with its standard error. It belongs to the speed
///   ([`crate::estimate`]), may depend on the draw weight, and yields to every measurement.
///
/// **Validity.** Everything is from memory except the stored share of recurves (0.581 to 0.595, Tuijn & Kooi 1992,
/// Table I). For longbows Hickman's speeds of three wooden bows were read with their energies: the usual values give
/// 1 to 7 % more, 4 % in the mean (`tests/accuracy.md`), within their own error of 6 %. No speed of a compound, a
/// recurve, a child's bow or a longbow over 80 lb could be read together with the data of its bow. The errors are wide
/// for that reason.
///
/// # Examples
/// ```
/// use clothyard_mechanics::BowKind;
/// use clothyard_mechanics::units::NEWTON_PER_POUND_FORCE;
/// let usual = BowKind::Recurve.usual(40.0 * NEWTON_PER_POUND_FORCE)?;
/// assert_eq!((usual.virtual_mass_kg, usual.loss), (0.0059, 0.04));
/// assert!((usual.virtual_mass_log_error - 0.35).abs() < 1e-15);
/// // A child's bow is farther from what the numbers were chosen for.
/// assert!(BowKind::Recurve.usual(20.0 * NEWTON_PER_POUND_FORCE)?.virtual_mass_log_error > 0.45);
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
///
/// # References
/// Klopsteg, Am. J. Phys. 11 (1943) (virtual mass); Tuijn & Kooi, Eur. J. Phys. 13 (1992); Hickman, "Effect
/// of String Weight on Arrow Velocity and Efficiency of Bows", in Hickman, Nagler & Klopsteg, *Archery: The
/// Technical Side* (1947).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum BowKind {
    /// With cams and let-off.
    Compound,
    /// With recurved limbs.
    Recurve,
    /// With straight limbs.
    Longbow,
}

/// The bow behind the targets: what [`BowKind::reference`] gives.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ReferenceBow {
    /// Virtual mass, kg.
    pub virtual_mass_kg: f64,
    /// Share of the stored energy that reaches neither arrow nor virtual mass.
    pub loss: f64,
}

/// A bow that nobody has measured: what [`BowKind::usual`] gives. Errors are standard errors of logarithms, that is
/// shares, of the delivered energy or the virtual mass.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct UsualBow {
    /// Virtual mass with a usual string, kg.
    pub virtual_mass_kg: f64,
    /// Its error.
    pub virtual_mass_log_error: f64,
    /// Share of the stored energy that reaches neither arrow nor virtual mass.
    pub loss: f64,
    /// Error of the delivered energy by that.
    pub loss_log_error: f64,
    /// Error of the delivered energy by the stored one, where the draw-force curve was not measured.
    pub stored_log_error: f64,
}

impl BowKind {
    /// Virtual mass and loss that the targets were calibrated with. Example: see [`crate::peak_push`].
    ///
    /// The compound's bring the seven pairings of common practice together (1.078 with a spread of 2.5 %),
    /// the longbow's make the rule for wood arrows one number at every draw weight; the recurve's keep the
    /// calibration of four finger-shot setups. Prior calculation with SciPy, `tests/pairings.rs`.
    #[must_use]
    pub const fn reference(self) -> ReferenceBow {
        let (virtual_mass_kg, loss) = match self {
            Self::Compound => (0.0049, 0.03),
            Self::Recurve => (0.0059, 0.04),
            Self::Longbow => (0.0071, 0.10),
        };
        ReferenceBow { virtual_mass_kg, loss }
    }

    /// What to expect of a bow of this kind, at a peak force of 1 to 2000 N.
    ///
    /// A compound's and a recurve's virtual mass is taken to be the reference's, a longbow's to grow with the
    /// draw weight (0.2 g per lb). How it really follows the draw weight is not known: its error grows away
    /// from the draw weight the numbers were chosen at (60, 40 and 45 lb), by half the logarithm of the
    /// ratio. So a child's bow of 20 lb has a virtual mass known to about half.
    ///
    /// # Errors
    /// [`crate::Error::OutOfRange`] for the peak force.
    #[inline]
    pub fn usual(self, peak_force_n: f64) -> Result<UsualBow> {
        let force_n = Parameter::PeakForce.check(peak_force_n)?;
        let ReferenceBow { virtual_mass_kg, loss } = self.reference();
        let (virtual_mass_kg, log_error, loss_log_error, stored_log_error, at_lb) = match self {
            Self::Compound => (virtual_mass_kg, 0.35, 0.03, 0.07, 60.0),
            Self::Recurve => (virtual_mass_kg, 0.35, 0.04, 0.05, 40.0),
            Self::Longbow => (LONGBOW_KG_PER_N * force_n, 0.45, 0.06, 0.07, 45.0),
        };
        let away = POWER_ERROR * ln(force_n / (at_lb * NEWTON_PER_POUND_FORCE));
        let virtual_mass_log_error = sqrt(log_error * log_error + away * away);
        Ok(UsualBow { virtual_mass_kg, virtual_mass_log_error, loss, loss_log_error, stored_log_error })
    }
}

impl UsualBow {
    /// What is known of the delivered energy and the virtual mass of a bow that stores `stored_energy_j`.
    ///
    /// # Examples
    /// ```
    /// use clothyard_mechanics::BowKind;
    /// let usual = BowKind::Recurve.usual(180.0)?;
    /// let prior = usual.prior(45.0);
    /// assert!((prior.energy_j - 0.96 * 45.0).abs() < 1e-14);
    /// assert!((prior.energy_log_error - f64::hypot(0.04, 0.05)).abs() < 1e-15);
    /// # Ok::<(), clothyard_mechanics::Error>(())
    /// ```
    #[must_use]
    #[inline]
    pub fn prior(&self, stored_energy_j: f64) -> Prior {
        let (by_loss, by_stored) = (self.loss_log_error, self.stored_log_error);
        Prior {
            energy_j: stored_energy_j * (1.0 - self.loss),
            energy_log_error: sqrt(by_loss * by_loss + by_stored * by_stored),
            virtual_mass_kg: self.virtual_mass_kg,
            virtual_mass_log_error: self.virtual_mass_log_error,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const KINDS: [BowKind; 3] = [BowKind::Compound, BowKind::Recurve, BowKind::Longbow];

    #[test]
    fn at_the_draw_weight_it_was_chosen_for_the_error_is_the_least() {
        for (kind, at_lb, error) in [(KINDS[0], 60.0, 0.35), (KINDS[1], 40.0, 0.35), (KINDS[2], 45.0, 0.45)] {
            let at = |lb: f64| kind.usual(lb * NEWTON_PER_POUND_FORCE).unwrap().virtual_mass_log_error;
            assert!((at(at_lb) - error).abs() < 1e-15);
            // e^0.8 times the draw weight adds 0.4, and so does a bow as much lighter.
            let away = sqrt(error * error + 0.16);
            assert!((at(at_lb * libm::exp(0.8)) - away).abs() < 1e-12);
            assert!((at(at_lb * libm::exp(-0.8)) - away).abs() < 1e-12);
        }
    }

    #[test]
    fn a_longbow_s_virtual_mass_grows_with_its_draw_weight_and_no_other_s() {
        let at = |kind: BowKind, lb: f64| kind.usual(lb * NEWTON_PER_POUND_FORCE).unwrap().virtual_mass_kg;
        assert!((at(BowKind::Longbow, 50.0) - 0.010).abs() < 1e-15);
        assert!((at(BowKind::Longbow, 100.0) - 0.020).abs() < 1e-15);
        for kind in [BowKind::Compound, BowKind::Recurve] {
            assert!((at(kind, 15.0) - at(kind, 70.0)).abs() < f64::MIN_POSITIVE);
            assert!((at(kind, 15.0) - kind.reference().virtual_mass_kg).abs() < f64::MIN_POSITIVE);
        }
        assert!(BowKind::Longbow.usual(0.5).is_err());
    }

    #[test]
    fn the_usual_loss_is_the_one_the_targets_were_calibrated_with() {
        for kind in KINDS {
            let usual = kind.usual(200.0).unwrap();
            assert!((usual.loss - kind.reference().loss).abs() < f64::MIN_POSITIVE);
            assert!(usual.loss_log_error > 0.0 && usual.stored_log_error > usual.loss_log_error);
        }
    }
}
