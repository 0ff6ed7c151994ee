//! Does the arrow fly point first: center of pressure and static margin of the whole arrow.

use core::f64::consts::PI;

use crate::arrow::Arrow;
use crate::error::Result;
use crate::math::sin_small;
use crate::parameter::Parameter;
use crate::solve::{Solution, find_root};

use super::fins::FinSet;
use super::vanes::{Blades, Growth, Vanes};

/// Default yaw at which the shaft's normal-force slope is taken: 2 degrees.
pub const DEFAULT_YAW_RAD: f64 = 2.0 * PI / 180.0;

/// Side force of a long round body in cross-flow over `q A sin^2(alpha)` (Galejs, from memory).
pub const BODY_LIFT_FACTOR: f64 = 1.1;

/// Sizes tried between the smallest and the largest vane, so that no crossing is missed.
const GROWTH_STEPS: u32 = 32;

/// The outer shape of an arrow. Example: see [`FlyingArrow`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ArrowShape {
    /// Outer diameter of the shaft, m.
    pub diameter_m: f64,
    /// Foremost end of the point from the nock groove, m.
    pub tip_m: f64,
    /// Length over which the point tapers, m.
    pub nose_length_m: f64,
    /// Vanes, if any.
    pub vanes: Option<Vanes>,
    /// Blades of a broadhead, if any.
    pub blades: Option<Blades>,
}

/// An arrow in the air: its shape, and the distribution of its mass.
///
/// ```text
/// X = sum(S x) / sum(S),   margin = xb - X    S a part's normal-force area (m^2), x its position, xb the balance point (m)
/// ```
///
/// Vanes, blades, shaft and point each produce a normal force when the arrow yaws; the resultant acts at the
/// center of pressure `X`. The arrow is stable when that is behind its balance point.
///
/// **The shaft** contributes by its side-on area `A`, `N / q = K A sin^2(alpha)`: zero at zero yaw, and at 2
/// degrees about a fifth of three vanes of 50 by 12 mm. Plain Barrowman theory omits it. As it is quadratic,
/// its slope is taken at a stated yaw, `K A sin^2(alpha) / alpha`; two degrees by default, about what an
/// arrow that flies well shows (common practice, no source). An oscillation of amplitude `a` does the same
/// work against it as against the straight line at `8 a / (3 pi)`, 0.85 of `a`.
///
/// **The point** contributes twice the shaft's cross-section, whatever its shape (slender body), at the
/// center of a cone. Yaw up to 0.35 rad is accepted; the theory of the fins is for a few degrees.
///
/// # Examples
/// ```
/// use clothyard_mechanics::flight::{ArrowShape, FlyingArrow, Growth, Outline, Vanes};
/// use clothyard_mechanics::{Arrow, Part, Solution};
/// let (outline, rear_m, offset_rad) = (Outline::Shield, 0.03, 0.03);
/// let vanes = Vanes { count: 3, length_m: 0.05, height_m: 0.012, outline, rear_m, offset_rad, mass_kg: 0.0012 };
/// let parts = [Part::point_mass(0.0012, vanes.center_of_mass_m()), Part::point_mass(0.0065, 0.72)];
/// let arrow = Arrow::new(0.7112, 0.014, 0.019, 6.365, &parts)?;
/// let shape = ArrowShape { diameter_m: 0.006, tip_m: 0.74, nose_length_m: 0.015, vanes: Some(vanes), blades: None };
/// let flying = FlyingArrow::new(&arrow, shape)?;
/// // Bare and at no yaw only the point contributes: twice its cross-section, 2/3 of 15 mm behind the tip.
/// let bare = FlyingArrow { yaw_rad: 0.0, ..flying.with_vanes(None)? }.stability()?;
/// assert!((bare.normal_force_slope - 2.0).abs() < 1e-14);
/// assert!((bare.center_of_pressure_m - 0.730).abs() < 1e-14 && bare.margin_m < 0.0);
/// // Vanes of the size found for a margin of 25 cm have that margin.
/// let growth = flying.vane_growth_for_margin(Growth::Both, 0.25, 0.3, 3.0)?;
/// let margin = |f| flying.with_vanes(Some(vanes.grown(f, Growth::Both)))?.stability().map(|s| s.margin_m);
/// assert!(matches!(growth, Solution::At(f) if margin(f).is_ok_and(|m| (m - 0.25).abs() < 1e-11)));
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
///
/// # References
/// Barrowman & Barrowman (1966); shaft: Galejs, "Wind instability: what Barrowman left out", with `K = 1.1`
/// as Niskanen (2013) has it, both from memory; the same term as cross-flow drag on a long cylinder: Allen &
/// Perkins, NACA Report 1048 (1951), from memory. Slender nose: Munk, NACA Report 184 (1924), from memory.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FlyingArrow {
    /// Nock groove to the front end of the shaft, m: what the margin is compared with.
    pub length_m: f64,
    /// Mass, kg, vanes and blades included.
    pub mass_kg: f64,
    /// Balance point from the nock groove, m.
    pub balance_m: f64,
    /// Moment of inertia across the arrow about the balance point, kg m^2.
    pub transverse_inertia_kg_m2: f64,
    /// ArrowShape.
    pub shape: ArrowShape,
    /// Yaw at which the shaft's normal-force slope is taken, rad; 0 omits the shaft, as plain Barrowman theory does.
    pub yaw_rad: f64,
}

/// Center of pressure and static margin: the result of [`FlyingArrow::stability`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stability {
    /// Normal force per radian of yaw and dynamic pressure, m^2.
    pub normal_force_area_m2: f64,
    /// The same over the shaft's cross-section: `C_N_alpha`.
    pub normal_force_slope: f64,
    /// Center of pressure from the nock groove, m.
    pub center_of_pressure_m: f64,
    /// Static margin: balance point minus center of pressure, m; negative for an unstable arrow.
    pub margin_m: f64,
    /// Static margin in shaft diameters.
    pub margin_calibers: f64,
    /// Static margin as a fraction of the arrow's length.
    pub margin_of_length: f64,
}

/// The normal force of one part.
#[derive(Clone, Copy, Debug)]
pub(super) struct NormalForce {
    /// Normal force per radian and dynamic pressure, m^2.
    pub(super) area_m2: f64,
    /// Position where it acts, from the nock groove, m.
    pub(super) center_m: f64,
    /// Variance of its distribution about that position, m^2.
    pub(super) spread_m2: f64,
}

impl FlyingArrow {
    /// The flying arrow of these parts and this shape, at the default yaw. Example: see [`FlyingArrow`].
    ///
    /// # Errors
    /// [`crate::Error::OutOfRange`] for anything in the arrow or the shape.
    pub fn new(arrow: &Arrow<'_>, shape: ArrowShape) -> Result<Self> {
        arrow.check()?;
        let flying = Self {
            length_m: arrow.length_m,
            mass_kg: arrow.mass_kg(),
            balance_m: arrow.balance_m(),
            transverse_inertia_kg_m2: arrow.transverse_inertia_kg_m2(),
            shape,
            yaw_rad: DEFAULT_YAW_RAD,
        };
        flying.normal_forces().map(|_| flying)
    }

    /// Center of pressure, static margin and normal-force slope.
    ///
    /// # Errors
    /// [`crate::Error::OutOfRange`] for anything in the arrow's mass or shape.
    pub fn stability(&self) -> Result<Stability> {
        let normal_forces = self.normal_forces()?;
        let normal_force_area_m2: f64 = normal_forces.iter().map(|force| force.area_m2).sum();
        let center_of_pressure_m =
            normal_forces.iter().map(|force| force.area_m2 * force.center_m).sum::<f64>() / normal_force_area_m2;
        let margin_m = self.balance_m - center_of_pressure_m;
        Ok(Stability {
            normal_force_area_m2,
            normal_force_slope: normal_force_area_m2 / self.cross_section_m2(),
            center_of_pressure_m,
            margin_m,
            margin_calibers: margin_m / self.shape.diameter_m,
            margin_of_length: margin_m / self.length_m,
        })
    }

    /// The same arrow with other vanes, balance and inertia following from their masses.
    ///
    /// # Errors
    /// [`crate::Error::OutOfRange`] for the vanes, or where the old ones outweigh the arrow.
    pub fn with_vanes(&self, vanes: Option<Vanes>) -> Result<Self> {
        let rod = |vanes: Option<Vanes>| {
            vanes.map_or((0.0, 0.0, 0.0), |v| {
                let (mass, center) = (v.mass_kg, v.center_of_mass_m());
                (mass, mass * center, mass * (center * center + v.length_m * v.length_m / 12.0))
            })
        };
        let ((old0, old1, old2), (new0, new1, new2)) = (rod(self.shape.vanes), rod(vanes));
        // Moments of inertia about the nock groove add; those about the balance point do not.
        let about_throat = self.transverse_inertia_kg_m2 + self.mass_kg * self.balance_m * self.balance_m;
        let mass_kg = Parameter::ArrowMass.check(self.mass_kg - old0 + new0)?;
        let balance_m = (self.mass_kg * self.balance_m - old1 + new1) / mass_kg;
        let changed = Self {
            mass_kg,
            balance_m,
            transverse_inertia_kg_m2: about_throat - old2 + new2 - mass_kg * balance_m * balance_m,
            shape: ArrowShape { vanes, ..self.shape },
            ..*self
        };
        changed.normal_forces().map(|_| changed)
    }

    /// The smallest factor between `low` and `high` by which the vanes must grow for this static margin (m).
    ///
    /// For the stability of a field point with a broadhead, call this for the arrow with the broadhead and
    /// the margin of the other. Rear end, outline, offset and count are kept; mass and balance follow.
    /// [`Solution::NoSignChange`] names the size that comes closest and its margin minus the requested one
    /// (m): positive if the smallest already has more, negative if none has enough. For an arrow without
    /// vanes the factor is 1.
    ///
    /// Length alone soon has little effect: see [`super::FinSet`].
    ///
    /// # Errors
    /// [`crate::Error::OutOfRange`] for limits out of order, and for anything of the arrow at a size tried.
    pub fn vane_growth_for_margin(&self, growth: Growth, margin_m: f64, low: f64, high: f64) -> Result<Solution> {
        Parameter::StaticMargin.check(margin_m)?;
        let (_, maximum) = Parameter::VaneGrowth.range();
        Parameter::VaneGrowth.check(low)?;
        Parameter::VaneGrowth.check_within(high, low, maximum)?;
        let beyond = |factor: f64| {
            let vanes = self.shape.vanes.map(|vanes| vanes.grown(factor, growth));
            Ok(self.with_vanes(vanes)?.stability()?.margin_m - margin_m)
        };
        if self.shape.vanes.is_none() {
            return Ok(Solution::NoSignChange { nearest: 1.0, value: beyond(1.0)? });
        }
        let (mut best, mut before) = ((low, beyond(low)?), low);
        if best.1 > 0.0 {
            return Ok(Solution::NoSignChange { nearest: low, value: best.1 });
        }
        for step in 1..=GROWTH_STEPS {
            let factor = low + (high - low) * f64::from(step) / f64::from(GROWTH_STEPS);
            let value = beyond(factor)?;
            if value >= 0.0 {
                return find_root(beyond, before, factor, 1e-9);
            }
            if value > best.1 {
                best = (factor, value);
            }
            before = factor;
        }
        Ok(Solution::NoSignChange { nearest: best.0, value: best.1 })
    }

    /// Vanes, blades, shaft and point; 0 for one that is absent.
    pub(super) fn normal_forces(&self) -> Result<[NormalForce; 4]> {
        self.check()?;
        let ArrowShape { diameter_m, tip_m, nose_length_m, .. } = self.shape;
        let fins = |fins: Option<FinSet>| match fins {
            Some(fins) => {
                NormalForce { area_m2: fins.normal_force_area_m2(), center_m: fins.center_m(), spread_m2: 0.0 }
            }
            None => NormalForce { area_m2: 0.0, center_m: 0.0, spread_m2: 0.0 },
        };
        let sine = sin_small(self.yaw_rad); // the yaw angle is checked to be small
        let across = if self.yaw_rad > 0.0 { BODY_LIFT_FACTOR * sine * sine / self.yaw_rad } else { 0.0 };
        let straight = tip_m - nose_length_m;
        let shaft = NormalForce {
            area_m2: across * diameter_m * straight,
            center_m: 0.5 * straight,
            spread_m2: straight * straight / 12.0,
        };
        let point = NormalForce {
            area_m2: 2.0 * self.cross_section_m2() + across * 0.5 * diameter_m * nose_length_m,
            center_m: tip_m - 2.0 / 3.0 * nose_length_m,
            spread_m2: nose_length_m * nose_length_m / 18.0,
        };
        Ok([fins(self.vane_fins()?), fins(self.blade_fins()?), shaft, point])
    }

    pub(super) fn vane_fins(&self) -> Result<Option<FinSet>> {
        self.shape.vanes.map(|vanes| vanes.fins(0.5 * self.shape.diameter_m)).transpose()
    }

    pub(super) fn blade_fins(&self) -> Result<Option<FinSet>> {
        self.shape.blades.map(|blades| blades.fins(0.5 * self.shape.diameter_m)).transpose()
    }

    fn cross_section_m2(&self) -> f64 {
        0.25 * PI * self.shape.diameter_m * self.shape.diameter_m
    }

    fn check(&self) -> Result<()> {
        Parameter::ArrowLength.check(self.length_m)?;
        Parameter::ArrowMass.check(self.mass_kg)?;
        Parameter::Position.check(self.balance_m)?;
        Parameter::TransverseInertia.check(self.transverse_inertia_kg_m2)?;
        Parameter::BodyRadius.check(0.5 * self.shape.diameter_m)?;
        let (_, foremost) = Parameter::Position.range();
        Parameter::Position.check_within(self.shape.tip_m, self.length_m, foremost)?;
        let (_, longest) = Parameter::NoseLength.range();
        Parameter::NoseLength.check_within(self.shape.nose_length_m, 0.0, longest.min(0.5 * self.shape.tip_m))?;
        Parameter::YawAngle.check(self.yaw_rad)?;
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::arrow::Part;
    use crate::flight::example::{SHAPE, VANES};

    fn arrow(vanes: Option<Vanes>, blades: Option<Blades>) -> FlyingArrow {
        let rod = |v: Vanes| Part {
            from_m: v.rear_m,
            to_m: v.rear_m + v.length_m,
            ..Part::point_mass(v.mass_kg, v.center_of_mass_m())
        };
        let parts = [vanes.map_or(Part::point_mass(0.0, 0.0), rod), Part::point_mass(0.0065, 0.72)];
        let stack = Arrow::new(0.7112, 0.014, 0.019, 6.365, &parts).unwrap();
        FlyingArrow::new(&stack, ArrowShape { vanes, blades, ..SHAPE }).unwrap()
    }

    #[test]
    fn a_bare_arrow_is_held_at_its_point_by_plain_theory_and_at_mid_length_in_a_crosswind() {
        let bare = arrow(None, None);
        let plain = FlyingArrow { yaw_rad: 0.0, ..bare }.stability().unwrap();
        assert!((plain.normal_force_slope - 2.0).abs() < 1e-15);
        assert!((plain.center_of_pressure_m - (0.735 - 0.010)).abs() < 1e-15);
        assert!(plain.margin_m < 0.0);
        // By hand at 2 degrees: side-on areas 0.72 x 0.006 and 0.015 x 0.006 / 2, each 1.1 sin^2 / alpha.
        let sine = 0.034_899_496_702_500_97;
        let across = 1.1 * sine * sine / DEFAULT_YAW_RAD;
        let (shaft, point) = (across * 0.004_32, across * 0.000_045 + 2.0 * PI * 9e-6);
        let center = (shaft * 0.36 + point * 0.725) / (shaft + point);
        let held = bare.stability().unwrap();
        assert!((held.normal_force_area_m2 / (shaft + point) - 1.0).abs() < 1e-14);
        assert!((held.center_of_pressure_m - center).abs() < 1e-14);
    }

    #[test]
    fn the_shaft_pulls_a_fifth_of_what_vanes_do() {
        let (flying, shaft) = (arrow(Some(VANES), None), arrow(None, None));
        let vanes = VANES.fins(0.003).unwrap().normal_force_area_m2();
        let point = FlyingArrow { yaw_rad: 0.0, ..shaft }.stability().unwrap().normal_force_area_m2;
        let share = (shaft.stability().unwrap().normal_force_area_m2 - point) / vanes;
        assert!((0.18..0.25).contains(&share), "{share}");
        assert!(
            (flying.stability().unwrap().normal_force_area_m2
                / (vanes + shaft.stability().unwrap().normal_force_area_m2)
                - 1.0)
                .abs()
                < 1e-15
        );
    }

    #[test]
    fn other_vanes_are_the_same_as_an_arrow_built_with_them() {
        let other = Vanes { count: 4, length_m: 0.1, mass_kg: 0.003, ..VANES };
        for (from, to) in [(Some(VANES), Some(other)), (Some(VANES), None), (None, Some(other))] {
            let (changed, built) = (arrow(from, None).with_vanes(to).unwrap(), arrow(to, None));
            assert!((changed.mass_kg / built.mass_kg - 1.0).abs() < 1e-15);
            assert!((changed.balance_m / built.balance_m - 1.0).abs() < 1e-15);
            let inertia = changed.transverse_inertia_kg_m2 / built.transverse_inertia_kg_m2;
            assert!((inertia - 1.0).abs() < 1e-14);
        }
    }

    #[test]
    fn the_vanes_answered_have_the_margin_asked_for_and_no_smaller_ones_do() {
        let blades = Blades { count: 2, length_m: 0.03, width_m: 0.027, front_m: 0.745, mass_kg: 0.003 };
        let broadhead = arrow(Some(VANES), Some(blades));
        let wanted = broadhead.stability().unwrap().margin_m + 0.02;
        for growth in [Growth::Height, Growth::Both] {
            let Solution::At(factor) = broadhead.vane_growth_for_margin(growth, wanted, 0.5, 2.0).unwrap() else {
                panic!("{growth:?}")
            };
            let margin = |factor| {
                let vanes = Some(VANES.grown(factor, growth));
                broadhead.with_vanes(vanes).unwrap().stability().unwrap().margin_m
            };
            assert!((margin(factor) - wanted).abs() < 1e-9, "{growth:?} {factor}");
            assert!((1..100).all(|part| margin(0.5 + (factor - 0.5) * f64::from(part) / 100.0) < wanted));
        }
    }

    #[test]
    fn a_margin_out_of_reach_says_what_comes_nearest() {
        let blades = Blades { count: 4, length_m: 0.04, width_m: 0.035, front_m: 0.745, mass_kg: 0.003 };
        let broadhead = arrow(Some(VANES), Some(blades));
        // More length takes the vanes forward and normal_forces hardly more: it never makes up for such blades.
        let field = arrow(Some(VANES), None).stability().unwrap().margin_m;
        let answer = broadhead.vane_growth_for_margin(Growth::Length, field, 0.2, 4.0).unwrap();
        assert!(matches!(answer, Solution::NoSignChange { value, .. } if value < 0.0));
        // Whatever already has enough at its smallest says so.
        let answer = broadhead.vane_growth_for_margin(Growth::Height, -0.5, 0.8, 2.0).unwrap();
        assert!(
            matches!(answer, Solution::NoSignChange { nearest, value } if (nearest - 0.8).abs() < 1e-15 && value > 0.0)
        );
        let bare = arrow(None, Some(blades)).vane_growth_for_margin(Growth::Both, field, 0.5, 2.0).unwrap();
        assert!(matches!(bare, Solution::NoSignChange { value, .. } if value < 0.0));
    }

    #[test]
    fn what_cannot_fly_is_refused() {
        let sound = arrow(Some(VANES), None);
        assert!(sound.stability().is_ok());
        let refused = |flying: FlyingArrow| flying.stability().is_err();
        assert!(refused(FlyingArrow { yaw_rad: 0.5, ..sound }));
        assert!(refused(FlyingArrow { balance_m: f64::NAN, ..sound }));
        assert!(refused(FlyingArrow { shape: ArrowShape { tip_m: 0.7, ..SHAPE }, ..sound }));
        assert!(refused(FlyingArrow { shape: ArrowShape { diameter_m: 0.0, ..SHAPE }, ..sound }));
        assert!(refused(FlyingArrow { shape: ArrowShape { nose_length_m: -0.01, ..SHAPE }, ..sound }));
        assert!(sound.vane_growth_for_margin(Growth::Both, 0.1, 2.0, 1.0).is_err());
        assert!(FlyingArrow { mass_kg: 0.001, ..sound }.with_vanes(None).is_err());
    }
}
