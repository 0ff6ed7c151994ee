//! Vanes behind the balance point and blades ahead of it, as archers measure them.

use crate::error::Result;
use crate::math::clamp;
use crate::parameter::Parameter;

use super::fins::FinSet;

/// The outline of a vane, seen from the side.
///
/// Typical shapes, made of straight lines and parabolas: common practice, no source. `u` is the
/// share of the base from the rear end.
///
/// # Examples
/// ```
/// use clothyard_mechanics::flight::Outline;
/// // Two arcs of a parabola: two thirds of the rectangle, highest at 0.3.
/// assert_eq!(Outline::Parabola.height_at(0.3), 1.0);
/// assert_eq!(Outline::Parabola.area_share(), 2.0 / 3.0);
/// // Each center is where the outline balances, as a sum of a thousand strips confirms.
/// for outline in Outline::ALL {
///     let strips = || (0..1_000).map(|i| (f64::from(i) + 0.5) / 1_000.0);
///     let area: f64 = strips().map(|u| outline.height_at(u)).sum();
///     let moment: f64 = strips().map(|u| u * outline.height_at(u)).sum();
///     assert!((moment / area - outline.center_share()).abs() < 1e-6);
/// }
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Outline {
    /// Rounded at both ends, highest at `u` = 0.3.
    Parabola,
    /// Rounded in front, hollow behind, highest at `u` = 0.2.
    Shield,
    /// A straight slope down from `u` = 0.4, level behind it, square at the rear.
    StraightCut,
    /// Long straight slopes, level from `u` = 0.15 to 0.5.
    LowProfile,
}

impl Outline {
    /// Every outline.
    pub const ALL: [Self; 4] = [Self::Parabola, Self::Shield, Self::StraightCut, Self::LowProfile];

    /// Height at the share `u` of the base from its rear end, as a share of the full height.
    #[must_use]
    pub fn height_at(self, u: f64) -> f64 {
        let arch = |from_top: f64| 1.0 - from_top * from_top;
        let height = match self {
            Self::Parabola if u < 0.3 => arch(1.0 - u / 0.3),
            Self::Parabola => arch((u - 0.3) / 0.7),
            Self::Shield if u < 0.2 => (u / 0.2) * (u / 0.2),
            Self::Shield => arch((u - 0.2) / 0.8),
            Self::StraightCut => (1.0 - u) / 0.6,
            Self::LowProfile => (u / 0.15).min((1.0 - u) / 0.5),
        };
        clamp(height, 0.0, 1.0)
    }

    /// Area as a share of length times height.
    #[must_use]
    pub const fn area_share(self) -> f64 {
        self.facts().0
    }

    /// Center of area from the rear end as a share of the length.
    #[must_use]
    pub const fn center_share(self) -> f64 {
        self.facts().1
    }

    /// The integrals of [`Self::height_at`], in closed form.
    const fn facts(self) -> (f64, f64) {
        match self {
            Self::Parabola => (2.0 / 3.0, 9.0 / 20.0),
            Self::Shield => (3.0 / 5.0, 83.0 / 180.0),
            Self::StraightCut => (7.0 / 10.0, 13.0 / 35.0),
            Self::LowProfile => (27.0 / 40.0, 691.0 / 1_620.0),
        }
    }
}

/// A set of equal vanes.
///
/// A vane is described by length, height and outline. Its normal force is that of the trapezoid of the same
/// base, height and area, with the center of area at the same position along the shaft. With `f` the
/// outline's share of length times height, `g` its center from the rear as a share of the length, and `a` the
/// length (m),
///
/// ```text
/// tip chord  b = (2 f - 1) a
/// sweep      m = (3 (a + b) (1 - g) a - (a^2 + a b + b^2)) / (a + 2 b)
/// ```
///
/// Vanes are assumed to be flat, thin and stiff: a soft vane that bends over has less normal force. Helical
/// vanes count by their mean angle.
///
/// # Examples
/// ```
/// use clothyard_mechanics::flight::{Growth, Outline, Vanes};
/// let vanes = Vanes {
///     count: 3, length_m: 0.05, height_m: 0.012, outline: Outline::Parabola,
///     rear_m: 0.03, offset_rad: 0.03, mass_kg: 0.0012,
/// };
/// // Two thirds of 50 x 12 mm, three times over: 12 cm^2, centerd at 0.45 of the length.
/// assert!((vanes.area_m2() - 0.0012).abs() < 1e-17);
/// assert!((vanes.center_of_mass_m() - (0.03 + 0.45 * 0.05)).abs() < 1e-16);
/// // The fins have that area too.
/// assert!((3.0 * vanes.fins(0.003)?.fin_area_m2() - vanes.area_m2()).abs() < 1e-17);
/// // Twice the size both ways: four times the area and the mass, the rear end unchanged.
/// let grown = vanes.grown(2.0, Growth::Both);
/// assert!((grown.area_m2() / vanes.area_m2() - 4.0).abs() < 1e-14);
/// assert_eq!((grown.mass_kg, grown.rear_m), (0.0048, 0.03));
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
///
/// # References
/// The equivalent trapezoid is this project's own device; the outlines are common practice, no source.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Vanes {
    /// How many, 2 to 6.
    pub count: u32,
    /// Length of the base along the shaft, m.
    pub length_m: f64,
    /// Height above the shaft, m.
    pub height_m: f64,
    /// Outline.
    pub outline: Outline,
    /// Rear end of the base from the nock groove, m.
    pub rear_m: f64,
    /// Angle to the shaft's axis, rad, positive or negative by the sense of the turn; of a helical vane, the mean.
    pub offset_rad: f64,
    /// Mass of all of them, kg, part of the arrow's.
    pub mass_kg: f64,
}

/// The direction in which a vane grows, its rear end fixed. Example: see [`Vanes`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Growth {
    /// Longer at the same height.
    Length,
    /// Higher at the same length.
    Height,
    /// Both equally: the same shape, larger.
    Both,
}

impl Vanes {
    /// The equivalent fins, on a body of this radius (0.1 to 50 mm, given in m). Example: see [`Vanes`].
    ///
    /// # Errors
    /// [`crate::Error::OutOfRange`] for a count, a length, a position, an angle or a mass.
    pub fn fins(&self, body_radius_m: f64) -> Result<FinSet> {
        Parameter::PartLength.check(self.length_m)?;
        Parameter::OffsetAngle.check(self.offset_rad)?;
        Parameter::PartMass.check(self.mass_kg)?;
        let a = self.length_m;
        let b = (2.0 * self.outline.area_share() - 1.0) * a;
        let center = (1.0 - self.outline.center_share()) * a;
        FinSet {
            count: self.count,
            root_chord_m: a,
            tip_chord_m: b,
            span_m: self.height_m,
            sweep_m: (3.0 * (a + b) * center - (a * a + a * b + b * b)) / (a + 2.0 * b),
            body_radius_m,
            front_m: self.rear_m + a,
        }
        .checked()
    }

    /// Area of one side of all of them, m^2.
    #[must_use]
    pub fn area_m2(&self) -> f64 {
        f64::from(self.count) * self.outline.area_share() * self.length_m * self.height_m
    }

    /// Center of mass from the nock groove, m: that of the outline's area.
    #[must_use]
    pub fn center_of_mass_m(&self) -> f64 {
        self.rear_m + self.outline.center_share() * self.length_m
    }

    /// The same vanes `factor` times as large in one or both directions, with mass in proportion to area.
    #[must_use]
    pub fn grown(self, factor: f64, growth: Growth) -> Self {
        let (length, height) = match growth {
            Growth::Length => (factor, 1.0),
            Growth::Height => (1.0, factor),
            Growth::Both => (factor, factor),
        };
        Self {
            length_m: length * self.length_m,
            height_m: height * self.height_m,
            mass_kg: length * height * self.mass_kg,
            ..self
        }
    }
}

/// Height of folded blades above the ferrule in flight, m (memory; a ruler on the head is better).
pub const FOLDED_BLADE_SPAN_M: f64 = 0.0015;

/// The blades of a broadhead.
///
/// # Examples
/// ```
/// use clothyard_mechanics::flight::{Blades, FOLDED_BLADE_SPAN_M};
/// let blades = Blades { count: 3, length_m: 0.03, width_m: 0.028, front_m: 0.75, mass_kg: 0.003 };
/// // On a shaft of 6 mm each has a height of half of 28 - 6 mm.
/// let fins = blades.fins(0.003)?;
/// assert!((fins.span_m - 0.011).abs() < 1e-17);
/// assert!((fins.fin_area_m2() - 0.03 * 0.011 / 2.0).abs() < 1e-18);
/// let folded = blades.folded(0.006).fins(0.003)?;
/// assert!((folded.span_m - FOLDED_BLADE_SPAN_M).abs() < 1e-17);
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Blades {
    /// How many, 2 to 6.
    pub count: u32,
    /// From the foremost point of the blades to their widest, m.
    pub length_m: f64,
    /// Diameter of the circle they cut, in flight, m; no wider than the body, they have no effect.
    pub width_m: f64,
    /// Foremost point of the blades from the nock groove, m.
    pub front_m: f64,
    /// Mass of all of them, kg, part of the arrow's.
    pub mass_kg: f64,
}

impl Blades {
    /// Blades that fly folded along a body of this diameter (m) and open when they strike.
    #[must_use]
    pub fn folded(self, body_diameter_m: f64) -> Self {
        Self { width_m: body_diameter_m + 2.0 * FOLDED_BLADE_SPAN_M, ..self }
    }

    /// The equivalent fins, on a body of this radius (0.1 to 50 mm, given in m). Example: see [`Blades`].
    ///
    /// # Errors
    /// [`crate::Error::OutOfRange`] for a count, a length, a position or a mass.
    pub fn fins(&self, body_radius_m: f64) -> Result<FinSet> {
        Parameter::PartMass.check(self.mass_kg)?;
        Parameter::BladeWidth.check(self.width_m)?;
        FinSet {
            count: self.count,
            root_chord_m: self.length_m,
            tip_chord_m: 0.0,
            span_m: (0.5 * self.width_m - body_radius_m).max(0.0),
            sweep_m: self.length_m,
            body_radius_m,
            front_m: self.front_m,
        }
        .checked()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::flight::example::VANES;

    /// Simpson's rule, exact on each parabola once the joints fall on the grid of 1/20.
    fn integral(f: impl Fn(f64) -> f64) -> f64 {
        let piece = |i: u32| {
            // Just inside each piece, as one outline ends in a step.
            let (from, to) = (f64::from(i) / 20.0 + 1e-13, f64::from(i + 1) / 20.0 - 1e-13);
            (f(from) + 4.0 * f(0.5 * (from + to)) + f(to)) / 120.0
        };
        (0..20).map(piece).sum()
    }

    #[test]
    fn area_and_center_are_the_integrals_of_the_outline() {
        for outline in Outline::ALL {
            let area = integral(|u| outline.height_at(u));
            let center = integral(|u| u * outline.height_at(u)) / area;
            assert!((outline.area_share() - area).abs() < 1e-11, "{outline:?} {area}");
            assert!((outline.center_share() - center).abs() < 1e-11, "{outline:?} {center}");
        }
    }

    #[test]
    fn the_trapezoid_has_the_vane_s_area_and_center() {
        for outline in Outline::ALL {
            let vanes = Vanes { outline, ..VANES };
            let fins = vanes.fins(0.003).unwrap();
            assert!((3.0 * fins.fin_area_m2() / vanes.area_m2() - 1.0).abs() < 1e-15);
            // The chord at height y runs from m y back over a + (b - a) y: its middle, by its length.
            let chord = |y: f64| fins.root_chord_m + (fins.tip_chord_m - fins.root_chord_m) * y;
            let middle = |y: f64| fins.front_m - fins.sweep_m * y - 0.5 * chord(y);
            let center = integral(|y| chord(y) * middle(y)) / integral(chord);
            assert!((center - vanes.center_of_mass_m()).abs() < 1e-13, "{outline:?}");
        }
    }

    #[test]
    fn folded_blades_pull_little_and_hidden_ones_nothing() {
        let blades = Blades { count: 3, length_m: 0.03, width_m: 0.028, front_m: 0.75, mass_kg: 0.003 };
        let open = blades.fins(0.003).unwrap().normal_force_area_m2();
        let folded = blades.folded(0.006).fins(0.003).unwrap();
        assert!((folded.span_m - FOLDED_BLADE_SPAN_M).abs() < 1e-17);
        assert!(folded.normal_force_area_m2() < 0.05 * open);
        let hidden = Blades { width_m: 0.005, ..blades }.fins(0.003).unwrap();
        assert!(hidden.normal_force_area_m2().abs() < f64::MIN_POSITIVE);
    }

    #[test]
    fn growth_keeps_the_rear_and_carries_the_mass() {
        for (growth, area) in [(Growth::Length, 2.0), (Growth::Height, 2.0), (Growth::Both, 4.0)] {
            let grown = VANES.grown(2.0, growth);
            assert!((grown.area_m2() / VANES.area_m2() - area).abs() < 1e-15);
            assert!((grown.mass_kg / VANES.mass_kg - area).abs() < 1e-15);
            assert!((grown.rear_m - VANES.rear_m).abs() < 1e-17);
        }
    }

    #[test]
    fn what_is_no_vane_or_blade_is_refused() {
        assert!(Vanes { count: 7, ..VANES }.fins(0.003).is_err());
        assert!(Vanes { offset_rad: 1.0, ..VANES }.fins(0.003).is_err());
        assert!(Vanes { mass_kg: -1.0, ..VANES }.fins(0.003).is_err());
        let blades = Blades { count: 2, length_m: 0.03, width_m: f64::NAN, front_m: 0.75, mass_kg: 0.003 };
        assert!(blades.fins(0.003).is_err());
        assert!(Blades { width_m: 0.03, mass_kg: 2.0, ..blades }.fins(0.003).is_err());
    }
}
