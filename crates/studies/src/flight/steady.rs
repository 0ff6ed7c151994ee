//! Does it fly point first, and how soon does it settle: margin, swing and spin, and whether the vanes are enough for
//! the point.

use super::says::distance;
use super::shot::{Answer, FlightError, Shot};
use clothyard_core::eval::Evaluation;
use clothyard_core::format::{fixed, measured};
use clothyard_core::schema::Field;
use clothyard_core::setup::flying;
use clothyard_core::units::{Quantity, Units};
use clothyard_mechanics::Solution;
use clothyard_mechanics::flight::{ArrowShape, FlyingArrow, Growth, Spin, Stability, Yaw};
use core::f64::consts::PI;

/// Least and most the vanes' height is made, as factors, for the margin wanted.
const GROWTH: (f64, f64) = (0.1, 4.0);

/// How an arrow behaves in the air.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Steady {
    /// Center of pressure and margin of the arrow as it is.
    pub now: Stability,
    /// The same arrow, vanes and balance with a field point in place of its blades; none without blades.
    pub with_a_field_point: Option<Stability>,
    /// The static margin wanted, as a fraction of the arrow's length.
    pub wanted: f64,
    /// How high the vanes must be for that, in meters, with the point as it is; none without vanes or out of reach.
    pub height_m: Option<f64>,
    /// The same with a field point in place of the blades.
    pub height_with_a_field_point_m: Option<f64>,
    /// What becomes of a small yaw.
    pub yaw: Yaw,
    /// The spin the vanes' offset gives; none where nothing turns it.
    pub spin: Option<Spin>,
    /// Whether there are vanes that steer.
    fletched: bool,
}

impl Steady {
    /// The steadiness of a setup.
    ///
    /// # Errors
    /// [`FlightError`].
    pub fn of(all: &Evaluation, shot: &Shot) -> Answer<Self> {
        let (resolved, model) = (&all.resolved, all.model.as_ref().ok_or(FlightError::NoLaunch)?);
        let arrow = flying(resolved, model)?;
        let now = arrow.stability()?;
        let plain = FlyingArrow { shape: ArrowShape { blades: None, ..arrow.shape }, ..arrow };
        let with_a_field_point = arrow.shape.blades.map(|_| plain.stability()).transpose()?;
        let wanted = resolved.si(Field::MarginWanted);
        let density = shot.air.density_kg_per_m3;
        let inertia = arrow.axial_inertia_kg_m2(model.shaft().mass_kg, resolved.si(Field::Bore))?;
        Ok(Self {
            now,
            with_a_field_point,
            wanted,
            height_m: height_m(&arrow, wanted),
            height_with_a_field_point_m: height_m(&plain, wanted),
            yaw: arrow.yaw(density, shot.drag_area_m2())?,
            spin: arrow.spin(density, inertia)?,
            fletched: arrow.shape.vanes.is_some(),
        })
    }

    /// Whether it flies point first, and how firmly, in a sentence.
    #[must_use]
    pub fn margin_sentence(&self, units: &Units) -> String {
        let Stability { margin_m, margin_of_length, .. } = self.now;
        if margin_m <= 0.0 {
            return "Not stable: does not fly point first. The center of pressure is ahead of the balance point. Use more vane, or a heavier point without blades.".to_owned();
        }
        let margin = measured(Quantity::Length, Quantity::Length.from_si(margin_m), units);
        format!(
            "Stable. Center of pressure {margin} behind the balance point ({}% of arrow length).",
            fixed(100.0 * margin_of_length, 1)
        )
    }

    /// What becomes of a yaw, in a sentence.
    #[must_use]
    pub fn yaw_sentence(&self, units: &Units) -> String {
        let said = |meters: f64| distance(meters, units);
        match self.yaw {
            Yaw::Oscillates { wavelength_m, half_distance_m, .. } => {
                format!("One wobble every {}; it halves in {}.", said(wavelength_m), said(half_distance_m))
            }
            Yaw::Decays { half_distance_m } => {
                format!("A wobble dies out without swinging; it halves in {}.", said(half_distance_m))
            }
            Yaw::Grows { .. } => "A wobble grows.".to_owned(),
        }
    }

    /// The spin, in a sentence.
    #[must_use]
    pub fn spin_sentence(&self, shot: &Shot, units: &Units) -> String {
        let said = |meters: f64| distance(meters, units);
        match self.spin {
            Some(spin) if spin.settled_rad_per_m > 0.0 => format!(
                "Full spin: one turn per {}, {} turns a second at launch speed; two thirds of that after {}.",
                said(2.0 * PI / spin.settled_rad_per_m),
                fixed(spin.settled_rad_per_m * shot.speed_m_per_s / (2.0 * PI), 0),
                said(spin.settling_m)
            ),
            _ => "No spin: the vanes have no offset.".to_owned(),
        }
    }

    /// Whether the vanes are enough for the point, and by how much blades ask for more, in sentences.
    #[must_use]
    pub fn vanes_sentence(&self, units: &Units) -> String {
        if !self.fletched {
            return "No vanes: nothing steers it.".to_owned();
        }
        let enough = if self.now.margin_of_length >= self.wanted { "enough" } else { "too small" };
        let mut words = format!("For the target margin of {}%, the vanes are {enough}", percent(self.wanted));
        words += &match self.height_m {
            Some(height) => format!(". In this shape and length, a height of {} is enough.", small(height, units)),
            None => ". In this shape and length, no height up to four times theirs is enough.".to_owned(),
        };
        if let Some(plain) = self.with_a_field_point {
            words += &self.blades_sentence(&plain, units);
        }
        words
    }

    fn blades_sentence(&self, plain: &Stability, units: &Units) -> String {
        let lost = percent(1.0 - self.now.margin_m / plain.margin_m);
        let height = self.height_with_a_field_point_m.map_or_else(String::new, |height| {
            format!(" With a field point of the same weight, {} is high enough.", small(height, units))
        });
        format!(
            " The blades steer too, ahead of the balance point: they take {lost}% of the margin a field point has.{height}"
        )
    }
}

fn percent(share: f64) -> String {
    fixed(100.0 * share, 0)
}

fn small(meters: f64, units: &Units) -> String {
    measured(Quantity::SmallLength, Quantity::SmallLength.from_si(meters), units)
}

/// The least height of the vanes that gives a margin, as a fraction of the arrow's length.
fn height_m(arrow: &FlyingArrow, wanted: f64) -> Option<f64> {
    let vanes = arrow.shape.vanes?;
    let factor = match arrow.vane_growth_for_margin(Growth::Height, wanted * arrow.length_m, GROWTH.0, GROWTH.1).ok()? {
        Solution::At(factor) => factor,
        Solution::NoSignChange { nearest, value } if value > 0.0 => nearest,
        Solution::NoSignChange { .. } => return None,
    };
    Some(factor * vanes.height_m)
}

#[cfg(test)]
mod tests {
    use super::*;
    use clothyard_core::schema::PointKind;
    use clothyard_core::setup::Setup;
    use clothyard_core::setup::samples;

    fn steady(setup: &Setup) -> Steady {
        let all = Evaluation::of(setup);
        Steady::of(&all, &Shot::of(&all).unwrap()).unwrap()
    }

    fn with_point(kind: PointKind) -> Setup {
        let mut setup = samples::all().remove(0).setup;
        setup.choose(kind);
        setup
    }

    #[test]
    fn a_fixed_blade_wants_more_vane_than_a_folding_one_and_that_more_than_a_field_point() {
        let [field, fixed, folding] =
            [PointKind::Field, PointKind::FixedBlade, PointKind::FoldingBlade].map(|kind| steady(&with_point(kind)));
        assert!(field.now.margin_m > folding.now.margin_m && folding.now.margin_m > fixed.now.margin_m);
        let [field, fixed, folding] = [field, fixed, folding].map(|steady| steady.height_m.unwrap());
        assert!(fixed > 1.2 * folding && folding > 1.2 * field, "{field} {folding} {fixed}");
    }

    #[test]
    fn vanes_of_that_height_give_the_margin_wanted() {
        let setup = with_point(PointKind::FixedBlade).with(Field::MarginWanted, 20.0).unwrap();
        let height = steady(&setup).height_m.unwrap();
        let grown = Quantity::SmallLength.from_si(height) / 0.5;
        let setup = setup.with(Field::VaneHeight, 0.5 * grown).unwrap().with(Field::VaneMass, 7.0 * grown).unwrap();
        // The stack has the vanes' mass at half their length, the search at the center of their outline.
        let margin = steady(&setup).now.margin_of_length;
        assert!((margin - 0.2).abs() < 3e-4, "{margin}");
    }

    #[test]
    fn a_heavier_point_steadies() {
        let setup = samples::all().remove(0).setup;
        let margin = |point: f64| steady(&setup.clone().with(Field::PointMass, point).unwrap()).now.margin_of_length;
        assert!(margin(100.0) < margin(150.0));
    }

    #[test]
    fn no_vanes_no_spin_and_no_steadiness_under_blades() {
        let setup = with_point(PointKind::FixedBlade).with(Field::VaneCount, 0.0).unwrap();
        let steady = steady(&setup);
        assert!(steady.now.margin_m < 0.0 && matches!(steady.yaw, Yaw::Grows { .. }));
        assert!(steady.margin_sentence(&Units::ARCHERY).contains("not fly point first"));
    }
}
