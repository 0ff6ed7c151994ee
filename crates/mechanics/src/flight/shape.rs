//! The drag coefficient of an arrow, built up from its parts.

use super::air::Air;
use super::friction::{laminar_cylinder, mixed, turbulent_cylinder};
use super::plates::Plates;
use crate::error::Result;
use crate::math::{clamp, sin, sqrt};
use crate::parameter::Parameter;
use core::f64::consts::{FRAC_PI_4, PI};

/// Where the boundary layer on shaft and vanes is laminar, and where turbulent.
///
/// [`BoundaryLayer::Changing`] decides by the Reynolds number on the diameter, `v d / nu`, and by the point:
/// laminar up to 12 000, turbulent from 24 000 on, a smooth step between; behind a blunt point (a half angle
/// of 45 degrees or more) or blades always turbulent. Of the sources, Ortiz et al. found laminar values at 12
/// 000 in the wind tunnel and a change between turbulent and laminar in free flight at a mean of 18 000;
/// Mukaiyama et al. a laminar layer behind a streamlined point and a turbulent one behind bullet and blunt
/// ones. The two disagree about bullet points: the rule follows the first, whose free flight it reproduces.
/// No source read says where a bullet point on a thicker shaft stays laminar. Laminar and turbulent therefore
/// remain as the range, and a speed measured downrange ([`super::Drag::measured`]) is worth more than the
/// rule.
///
/// # References
/// Mukaiyama, Suzuki, Miyazaki & Sawada, Procedia Eng. 13 (2011) 265; Ortiz et al., Proceedings 49:56 (2020) (abstracts
/// read).
///
/// # Examples
/// ```
/// use clothyard_mechanics::flight::Air;
/// use clothyard_mechanics::flight::{BoundaryLayer, DragShape, Plates};
/// let of = |boundary_layer| DragShape {
///     diameter_m: 0.005, length_m: 0.65, boundary_layer, vanes: Plates::NONE,
///     point_half_angle_rad: 0.0, blades: Plates::NONE,
/// };
/// let (changing, air) = (of(BoundaryLayer::Changing), Air::standard(0.0)?);
/// let at = |reynolds: f64| reynolds * air.kinematic_viscosity_m2_per_s() / 0.005;
/// let whole = |shape: &DragShape, reynolds| Ok(shape.parts(at(reynolds), &air)?.total());
/// assert_eq!(whole(&changing, 11_000.0)?, whole(&of(BoundaryLayer::LAMINAR), 11_000.0)?);
/// assert_eq!(whole(&changing, 25_000.0)?, whole(&of(BoundaryLayer::TURBULENT), 25_000.0)?);
/// let half = (whole(&of(BoundaryLayer::LAMINAR), 18_000.0)? + whole(&of(BoundaryLayer::TURBULENT), 18_000.0)?) / 2.0;
/// assert!((whole(&changing, 18_000.0)? / half - 1.0).abs() < 0.01);
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum BoundaryLayer {
    /// Turbulent over a share of the arrow, or of its flight, at every speed: 0 laminar, 1 turbulent.
    Share(f64),
    /// As point and Reynolds number decide.
    Changing,
}

impl BoundaryLayer {
    /// Laminar at every speed: the minimum drag.
    pub const LAMINAR: Self = Self::Share(0.0);

    /// Turbulent as soon as possible: the maximum drag.
    pub const TURBULENT: Self = Self::Share(1.0);
}

/// Reynolds number on the diameter up to which a changing layer is laminar.
const LAMINAR_BELOW: f64 = 12_000.0;
/// The same above which it is turbulent.
const TURBULENT_ABOVE: f64 = 24_000.0;
/// Half angle above which a point makes it turbulent, rad.
const BLUNT_RAD: f64 = FRAC_PI_4;

/// The shape of an arrow that determines its drag.
///
/// The coefficient `C` is drag over `rho v^2/2` and the shaft's cross-section `pi d^2/4`:
///
/// ```text
/// C     = C_shaft + C_vanes + C_point + C_base
/// shaft   Cf (4 L / d)                  Cf the mean friction of a thin cylinder, laminar or turbulent
/// vanes   friction on both sides, and 0.85 cos^2(sweep) + 0.12 on square edges
/// point   0.8 sin^2(half angle)         and its blades, as vanes
/// base    0.029 / sqrt(C_shaft)         a thick slow layer fills the wake: less than behind a short body
/// ```
///
/// `L` is the overall length (m), `d` the shaft's diameter (m). The first term dominates. A cylinder's boundary layer
/// becomes as thick as the shaft, so its friction is higher than that of a flat plate; a layer stays laminar where its
/// Reynolds number is too small for turbulence.
///
/// Nothing here is fitted to an arrow. Against the measured coefficients in `tests/published.json` (Ortiz et
/// al., Proceedings 49:56, 2020; KAKENHI 18K03943), of arrows whose sizes had to be assumed, it is within 15
/// %. Not included: the drag of an arrow that still vibrates, the slower air around the vanes, roughness, and
/// parts thicker than the shaft.
///
/// **Laminar or turbulent** doubles the drag: see [`BoundaryLayer`].
///
/// # Examples
/// ```
/// use clothyard_mechanics::flight::{Air, BoundaryLayer, DragShape, Edge, Plates};
/// let vanes = Plates {
///     count: 3, root_chord_m: 0.05, tip_chord_m: 0.01, height_m: 0.012, sweep_m: 0.03,
///     thickness_m: 0.0005, leading_edge: Edge::Square,
/// };
/// let blunt = DragShape {
///     diameter_m: 0.006, length_m: 0.74, boundary_layer: BoundaryLayer::LAMINAR, vanes,
///     point_half_angle_rad: core::f64::consts::FRAC_PI_2, blades: Plates::NONE,
/// };
/// let parts = blunt.parts(60.0, &Air::standard(0.0)?)?;
/// assert!((parts.point - 0.8).abs() < 1e-15); // 0.8 sin^2 of a right angle
/// assert!((parts.base - 0.029 / parts.shaft.sqrt()).abs() < 1e-15);
/// assert!((parts.total() - parts.shaft - parts.vanes - parts.point - parts.base).abs() < 1e-15);
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
///
/// # References
/// Laminar cylinder: Seban & Bond, J. Aero. Sci. 18 (1951) 671, as corrected by Kelly, J. Aero. Sci. 21
/// (1954) 634; turbulent: F. M. White, J. Basic Eng. 94 (1972) 200 (both memory); flat plates: Schlichting,
/// *Boundary-Layer Theory*, ch. XXI. S. F. Hoerner, *Fluid-Dynamic Drag* (1965), ch. 3 (base drag; memory);
/// S. Niskanen, technical documentation of OpenRocket, sections "Fin pressure drag", "Nose cone pressure
/// drag" and "Skin friction drag coefficient", after Barrowman's thesis and Hoerner p. 3-11, 3-12 (points,
/// edges).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DragShape {
    /// Outer diameter of the shaft, m.
    pub diameter_m: f64,
    /// Tip of the point to the end of the nock, m.
    pub length_m: f64,
    /// Laminar or turbulent.
    pub boundary_layer: BoundaryLayer,
    /// Vanes.
    pub vanes: Plates,
    /// Half the angle with which the point meets the shaft, rad: 0 for a bullet or any other round
    /// shoulder, the cone's for a cone, a right angle for a blunt.
    pub point_half_angle_rad: f64,
    /// Blades of a broadhead, or [`Plates::NONE`].
    pub blades: Plates,
}

/// Parts of the coefficient, each on the shaft's cross-section: the result of [`DragShape::parts`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DragParts {
    /// Friction of the shaft.
    pub shaft: f64,
    /// Vanes.
    pub vanes: f64,
    /// Pressure on the point, and its blades.
    pub point: f64,
    /// Suction behind the nock.
    pub base: f64,
}

impl DragParts {
    /// The total coefficient. Example: see [`DragShape`].
    #[must_use]
    pub fn total(&self) -> f64 {
        self.shaft + self.vanes + self.point + self.base
    }
}

impl DragShape {
    /// The parts of the coefficient at a speed through the air, 0.1 to 1000 m/s.
    ///
    /// # Errors
    /// [`crate::Error::OutOfRange`] for the shape, the speed or the air.
    ///
    /// # Examples
    /// ```
    /// use clothyard_mechanics::flight::{Air, BoundaryLayer, DragShape, Plates};
    /// let bare = DragShape {
    ///     diameter_m: 0.0056, length_m: 0.72, boundary_layer: BoundaryLayer::LAMINAR, vanes: Plates::NONE,
    ///     point_half_angle_rad: 0.0, blades: Plates::NONE,
    /// };
    /// let (air, speed) = (Air::standard(0.0)?, 60.0);
    /// // Blasius's flat plate has 1.328 / sqrt(R); around a shaft this thin it is 10 to 16 % more.
    /// let reynolds = speed * bare.length_m / air.kinematic_viscosity_m2_per_s();
    /// let as_a_plate = 1.328 / reynolds.sqrt() * 4.0 * bare.length_m / bare.diameter_m;
    /// assert!((1.10..1.16).contains(&(bare.parts(speed, &air)?.shaft / as_a_plate)));
    /// # Ok::<(), clothyard_mechanics::Error>(())
    /// ```
    pub fn parts(&self, speed_m_per_s: f64, air: &Air) -> Result<DragParts> {
        self.check()?;
        let per_m = Parameter::Speed.check(speed_m_per_s)? / air.checked()?.kinematic_viscosity_m2_per_s();
        Ok(self.parts_at(per_m))
    }

    pub(super) fn check(&self) -> Result<()> {
        Parameter::Diameter.check_within(self.diameter_m, 1e-3, 0.1)?;
        Parameter::ArrowLength.check(self.length_m)?;
        if let BoundaryLayer::Share(share) = self.boundary_layer {
            Parameter::TurbulentShare.check(share)?;
        }
        Parameter::HalfAngle.check(self.point_half_angle_rad)?;
        self.vanes.check()?;
        self.blades.check()
    }

    pub(super) fn area_m2(&self) -> f64 {
        FRAC_PI_4 * self.diameter_m * self.diameter_m
    }

    /// Share of the layer that is turbulent, at `per_length_per_m` Reynolds numbers for each meter.
    fn turbulent_share(&self, per_length_per_m: f64) -> f64 {
        match self.boundary_layer {
            BoundaryLayer::Share(share) => share,
            BoundaryLayer::Changing if self.point_half_angle_rad >= BLUNT_RAD || self.blades.count > 0 => 1.0,
            BoundaryLayer::Changing => {
                let reynolds = self.diameter_m * per_length_per_m;
                let t = clamp((reynolds - LAMINAR_BELOW) / (TURBULENT_ABOVE - LAMINAR_BELOW), 0.0, 1.0);
                t * t * (3.0 - 2.0 * t)
            }
        }
    }

    pub(super) fn parts_at(&self, per_length_per_m: f64) -> DragParts {
        let (area_m2, turbulent_share) = (self.area_m2(), self.turbulent_share(per_length_per_m));
        let plates = |plates: &Plates| plates.drag_area_m2(per_length_per_m, turbulent_share) / area_m2;
        let (reynolds, slender) = (self.length_m * per_length_per_m, 2.0 * self.length_m / self.diameter_m);
        let friction =
            mixed(turbulent_share, || laminar_cylinder(reynolds, slender), || turbulent_cylinder(reynolds, slender));
        let shaft = friction * PI * self.diameter_m * self.length_m / area_m2;
        let sine = sin(self.point_half_angle_rad);
        DragParts {
            shaft,
            vanes: plates(&self.vanes),
            point: 0.8 * sine * sine + plates(&self.blades),
            base: 0.029 / sqrt(shaft),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::plates::Edge;
    use super::*;

    const PER_M: f64 = 3e6;
    const BARE: DragShape = DragShape {
        diameter_m: 0.006,
        length_m: 0.72,
        boundary_layer: BoundaryLayer::LAMINAR,
        vanes: Plates::NONE,
        point_half_angle_rad: 0.0,
        blades: Plates::NONE,
    };
    const THIN: Plates = Plates {
        count: 3,
        root_chord_m: 0.05,
        tip_chord_m: 0.03,
        height_m: 0.01,
        sweep_m: 0.01,
        thickness_m: 0.0,
        leading_edge: Edge::Square,
    };

    /// Drag area of vanes in a laminar layer.
    fn area_m2(vanes: Plates) -> f64 {
        DragShape { vanes, ..BARE }.parts_at(PER_M).vanes * FRAC_PI_4 * 0.006 * 0.006
    }

    #[test]
    fn thin_vanes_have_blasius_s_friction_on_both_sides() {
        // 1.328 / sqrt(R) on the mean chord of 0.04 m, three vanes of two sides.
        let friction = 1.328_228 / sqrt(0.04 * PER_M);
        assert!((area_m2(THIN) / (6.0 * 0.04 * 0.01 * friction) - 1.0).abs() < 1e-14);
    }

    #[test]
    fn edges_add_pressure_by_their_thickness_and_sweep() {
        // A front swept by 45 degrees takes half of 0.85, the rear 0.12; the sides grow by 2 t / c.
        let thick = Plates { thickness_m: 0.001, ..THIN };
        let edges = |plates| area_m2(plates) - area_m2(THIN) * (1.0 + 2.0 * 0.001 / 0.04);
        let rear = 3.0 * 0.001 * 0.01 * 0.12;
        assert!((edges(thick) / (3.0 * 0.001 * 0.01 * 0.425 + rear) - 1.0).abs() < 1e-13);
        assert!((edges(Plates { leading_edge: Edge::Sharp, ..thick }) / rear - 1.0).abs() < 1e-13);
    }

    #[test]
    fn what_has_no_area_has_no_drag() {
        for plates in [
            Plates { count: 0, ..THIN },
            Plates { height_m: 0.0, sweep_m: 0.0, ..THIN },
            Plates { root_chord_m: 0.0, tip_chord_m: 0.0, ..THIN },
        ] {
            assert!(area_m2(Plates { thickness_m: 0.001, ..plates }).abs() < f64::MIN_POSITIVE, "{plates:?}");
        }
    }

    #[test]
    fn the_shaft_s_friction_is_on_its_side_and_its_base_follows_hoerner() {
        // pi d L over pi d^2 / 4, on a cylinder 2 L / d radii long.
        let parts = BARE.parts_at(PER_M);
        let friction = laminar_cylinder(0.72 * PER_M, 240.0);
        assert!((parts.shaft / (480.0 * friction) - 1.0).abs() < 1e-14);
        assert!((parts.base * parts.base * parts.shaft / (0.029 * 0.029) - 1.0).abs() < 1e-14);
    }

    #[test]
    fn a_point_resists_by_the_squared_sine_of_its_half_angle() {
        for (half_angle, coefficient) in [(0.0, 0.0), (PI / 6.0, 0.2), (PI / 4.0, 0.4), (PI / 2.0, 0.8)] {
            let found = DragShape { point_half_angle_rad: half_angle, ..BARE }.parts_at(PER_M).point;
            assert!((found - coefficient).abs() < 1e-15, "{half_angle}: {found}");
        }
        let blades = Plates { thickness_m: 0.001, ..THIN };
        let [vanes, both] = [BARE, DragShape { point_half_angle_rad: PI / 6.0, ..BARE }]
            .map(|shape| DragShape { vanes: blades, blades, ..shape }.parts_at(PER_M));
        assert!((vanes.point / vanes.vanes - 1.0).abs() < 1e-15);
        assert!((both.point - vanes.point - 0.2).abs() < 1e-15);
    }

    #[test]
    fn a_changing_layer_goes_by_diameter_speed_and_point() {
        let share = |shape: DragShape, reynolds: f64| {
            DragShape { boundary_layer: BoundaryLayer::Changing, ..shape }.turbulent_share(reynolds / shape.diameter_m)
        };
        for (reynolds, turbulent) in
            [(0.0, 0.0), (12_000.0, 0.0), (15_000.0, 0.156_25), (18_000.0, 0.5), (24_000.0, 1.0), (1e6, 1.0)]
        {
            assert!((share(BARE, reynolds) - turbulent).abs() < 1e-12, "{reynolds}");
        }
        // Behind a blunt point or blades the layer is turbulent at any speed.
        let blunt = DragShape { point_half_angle_rad: FRAC_PI_4, ..BARE };
        let bladed = DragShape { blades: THIN, ..BARE };
        let pointed = DragShape { point_half_angle_rad: 0.99 * FRAC_PI_4, ..BARE };
        let shares = [blunt, bladed, pointed].map(|shape| share(shape, 5_000.0) as u8);
        assert_eq!(shares, [1, 1, 0]);
    }
}
