//! The column load an arrow should carry, by the way the string is released.

use crate::bow_kind::BowKind;

/// How the string is released, and where the riser lets the arrow pass.
///
/// The column load `lambda` ([`crate::column_load`], a ratio) says how close the shaft comes to buckling, not how
/// much bend a bow requires. The target is calibrated, for each way of releasing, on pairings of bow and arrow
/// that are agreed to fly well:
///
/// ```text
/// lambda > target   acts weak        lambda < target   acts stiff
/// draw weight that meets the target = draw weight x target / lambda
/// ```
///
/// The last line is exact while the arrow is unchanged, as the load is proportional to the peak force. Small
/// deviations still shoot well: 5 lb either way at 60 lb is common practice, no source.
///
/// **Validity.** A target belongs to the push of [`crate::peak_push`] with the reference bow of its kind
/// ([`BowKind::reference`]). A compound's and a recurve's rest on common practice, no source; a longbow's follows from
/// the AMO rule for wood arrows, and is the same at every draw weight:
///
/// ```
/// use clothyard_mechanics::units::*;
/// use clothyard_mechanics::*;
/// // Spine rating equal to draw weight, 28 in, 125 gr of point; a nock of 10 gr and vanes of 24 gr.
/// let grains = |gr: f64, inch: f64| Part::point_mass(gr * KILOGRAM_PER_GRAIN, inch * METER_PER_INCH);
/// let parts = [grains(10.0, 0.0), grains(24.0, 3.0), grains(125.0, 28.3)];
/// let per_meter = 340.0 / 28.0 * KILOGRAM_PER_METER_PER_GRAIN_PER_INCH;
/// for draw_weight_n in [30.0, 50.0, 70.0].map(|lb| lb * NEWTON_PER_POUND_FORCE) {
///     let stiffness_nm2 = stiffness_from_amo_rating_nm2(draw_weight_n)?;
///     let arrow = Arrow::new(28.0 * METER_PER_INCH, 0.0, per_meter, stiffness_nm2, &parts)?;
///     let critical = critical_acceleration(&arrow, 26.75 * METER_PER_INCH)?;
///     // A bow as fast as its kind.
///     let push = peak_push(BowKind::Longbow, draw_weight_n, arrow.mass_kg(), 50.0, 50.0)?;
///     let target = Launch::FingersShelf.target_load(BowKind::Longbow);
///     assert!((column_load(push, critical)? - target).abs() < 5e-4);
/// }
/// # Ok::<(), Error>(())
/// ```
///
/// The load of an arrow that the user has proven is always the better target.
///
/// # Examples
/// ```
/// use clothyard_mechanics::{BowKind, Launch};
/// let target = |launch: Launch| launch.target_load(BowKind::Compound);
/// // At 60 lb an arrow carries a load of 1.0125: it would match a bow of 64 lb.
/// let draw_weight_lb = 60.0 * target(Launch::ReleaseAid) / 1.0125;
/// assert!((draw_weight_lb - 64.0).abs() < 1e-13);
/// // The farther the arrow must bend around the riser, the greater the load it should carry.
/// let [straight, round] = [Launch::FingersCenterCut, Launch::FingersShelf].map(target);
/// assert!(target(Launch::ReleaseAid) < straight && straight < round);
/// ```
///
/// # References
/// AMO Standards, the spine rule for wood arrows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Launch {
    /// Release aid on a bow that lets the arrow pass along its center.
    ReleaseAid,
    /// Fingers, on a riser cut to or past the center.
    FingersCenterCut,
    /// Fingers, over a shelf that ends short of the center.
    FingersShelf,
}

impl Launch {
    /// Target column load, a ratio, on a kind of bow. Example: see [`Launch`].
    ///
    /// The product of two numbers. The launch's was calibrated with 7.1 g of virtual mass and no loss:
    ///
    /// - release aid, 1.04: common practice, no source;
    /// - fingers on a center-cut riser, 1.10: common practice, no source;
    /// - fingers over a shelf, 1.385: the AMO rule for wood arrows (spine rating in pounds equal to draw
    ///   weight, 28 in, 125 gr point) gives this number at every draw weight.
    ///
    /// The kind's carries that over to its reference bow:
    ///
    /// - compound, 1.08 / 1.04: the seven pairings of common practice come out at 1.078, with a spread of 2.5 %;
    /// - recurve, 1: four finger-shot setups keep their loads, for which its reference was chosen;
    /// - longbow, 0.90: its loss. The rule for wood arrows stays one number, 1.246.
    #[must_use]
    pub const fn target_load(self, kind: BowKind) -> f64 {
        let launch = match self {
            Self::ReleaseAid => 1.04,
            Self::FingersCenterCut => 1.10,
            Self::FingersShelf => 1.385,
        };
        let carried_over = match kind {
            BowKind::Compound => 1.08 / 1.04,
            BowKind::Recurve => 1.0,
            BowKind::Longbow => 0.90,
        };
        launch * carried_over
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_kind_of_bow_has_the_target_of_its_usual_launch() {
        for (launch, kind, target) in [
            (Launch::ReleaseAid, BowKind::Compound, 1.08),
            (Launch::FingersCenterCut, BowKind::Recurve, 1.10),
            (Launch::FingersShelf, BowKind::Longbow, 1.2465),
        ] {
            assert!((launch.target_load(kind) - target).abs() < 1e-15);
        }
    }

    #[test]
    fn the_farther_an_arrow_must_bend_the_greater_its_load() {
        for kind in [BowKind::Compound, BowKind::Recurve, BowKind::Longbow] {
            let launches = [Launch::ReleaseAid, Launch::FingersCenterCut, Launch::FingersShelf];
            assert!(launches.map(|launch| launch.target_load(kind)).is_sorted_by(|a, b| a < b));
        }
    }
}
