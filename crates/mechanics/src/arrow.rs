//! The arrow as the sum of its parts: mass, balance, and what each part adds to the shaft.

use crate::error::{Error, Result};
use crate::math::clamp;
use crate::parameter::Parameter;

/// Maximum number of parts of an [`Arrow`] besides its shaft. More are refused with [`Error::TooManyParts`].
///
/// # Examples
/// ```
/// use clothyard_mechanics::{Arrow, Error, MAX_PARTS, Part};
/// let parts = [Part::point_mass(0.0001, 0.3); MAX_PARTS + 1];
/// let refused = Arrow::new(0.70, 0.0, 0.020, 6.0, &parts).unwrap_err();
/// assert_eq!(refused, Error::TooManyParts { given: 33, maximum: 32 });
/// ```
pub const MAX_PARTS: usize = 32;

/// One component fixed to the shaft.
///
/// # Examples
/// ```
/// use clothyard_mechanics::{Arrow, Part};
/// // A sleeve of 1 g over the last 2 cm doubles the shaft's stiffness there.
/// let sleeve = Part {
///     mass_kg: 0.001, center_m: 0.69, from_m: 0.68, to_m: 0.70, added_stiffness_nm2: 6.0,
/// };
/// let parts = [Part::point_mass(0.006, 0.70), sleeve];
/// let arrow = Arrow::new(0.70, 0.0, 0.020, 6.0, &parts)?;
/// assert_eq!([0.50, 0.69].map(|x_m| arrow.stiffness_at_nm2(x_m)), [6.0, 12.0]);
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Part {
    /// Mass, kg.
    pub mass_kg: f64,
    /// Center of mass from the nock groove, m; negative behind the nock groove.
    pub center_m: f64,
    /// Rear end from the nock groove, m.
    pub from_m: f64,
    /// Front end from the nock groove, m.
    pub to_m: f64,
    /// Bending stiffness it adds to the shaft from `from_m` to `to_m`, N m^2.
    pub added_stiffness_nm2: f64,
}

impl Part {
    /// A mass (0 to 1 kg) at one position (-1 to 3 m from the nock groove) that adds no stiffness.
    ///
    /// Example: see [`Part`].
    #[must_use]
    pub const fn point_mass(mass_kg: f64, center_m: f64) -> Self {
        Self { mass_kg, center_m, from_m: center_m, to_m: center_m, added_stiffness_nm2: 0.0 }
    }

    /// Whether it stiffens the shaft at `x`.
    fn stiffens(&self, x: f64) -> bool {
        self.from_m <= x && x <= self.to_m
    }

    fn check(&self) -> Result<()> {
        Parameter::PartMass.check(self.mass_kg)?;
        Parameter::Position.check(self.center_m)?;
        Parameter::Position.check(self.from_m)?;
        let (_, foremost) = Parameter::Position.range();
        Parameter::Position.check_within(self.to_m, self.from_m, foremost)?;
        Parameter::AddedStiffness.check(self.added_stiffness_nm2)?;
        Ok(())
    }
}

/// A shaft and its parts.
///
/// `x` (m) runs from the nock groove (0) toward the point. With masses `m_i` (kg) centered at `x_i`, the shaft
/// among them,
///
/// ```text
/// m = sum m_i        A = sum(m_i x_i) / m        FOC = A / L - 1/2
/// It = sum m_i ((x_i - A)^2 + l_i^2 / 12)        transverse inertia about A, kg m^2
/// ```
///
/// `A` is the balance point, `L` the length from the nock groove to the front end of the shaft, `l_i` the extent
/// of a part.
///
/// The shaft's mass is uniform from its rear end to `length_m`; its stiffness extends over all of
/// `[0, length_m]`, as the nock bridges the short distance to the string. A part ahead of `length_m` is rigid
/// with the shaft's front end.
///
/// The fields may be read and set freely; [`Arrow::new`] and every calculation that can fail
/// check them.
///
/// # Examples
/// ```
/// use clothyard_mechanics::{Arrow, Part};
/// // A shaft of 14 g, its middle at 0.35 m, and a point of 6 g at 0.70 m.
/// let point = [Part::point_mass(0.006, 0.70)];
/// let arrow = Arrow::new(0.70, 0.0, 0.020, 6.0, &point)?;
/// assert!((arrow.mass_kg() - 0.020).abs() < 1e-16);
/// assert!((arrow.balance_m() - (14.0 * 0.35 + 6.0 * 0.70) / 20.0).abs() < 1e-15); // 0.455 m
/// assert!((arrow.front_of_center() - (0.455 / 0.70 - 0.5)).abs() < 1e-15); // 15 %
/// assert!((arrow.mass_ahead_of_kg(0.35) - 0.013).abs() < 1e-16); // half the shaft, and the point
/// let about_balance = 0.014 * (0.105_f64.powi(2) + 0.70_f64.powi(2) / 12.0) + 0.006 * 0.245_f64.powi(2);
/// assert!((arrow.transverse_inertia_kg_m2() - about_balance).abs() < 1e-17);
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
///
/// # References
/// AMO Standards FP-3 (2000) states FOC in percent; the length, point excluded, is the AMO/ATA convention.
#[derive(Clone, Copy, Debug)]
pub struct Arrow<'a> {
    /// Nock groove to the front end of the shaft, point excluded (AMO/ATA convention), m.
    pub length_m: f64,
    /// Rear end of the bare shaft from the nock groove, m.
    pub shaft_from_m: f64,
    /// Mass of the shaft per length, kg/m.
    pub shaft_mass_kg_per_m: f64,
    /// Bending stiffness EI of the shaft, N m^2.
    pub shaft_stiffness_nm2: f64,
    /// Everything fixed to the shaft, in any order.
    pub parts: &'a [Part],
}

impl<'a> Arrow<'a> {
    /// An arrow of checked parts.
    ///
    /// In order: length (0.1 to 2 m), rear end of the shaft (0 to half the length), mass per length
    /// (0.0001 to 1 kg/m), bending stiffness (0.001 to 100 000 N m^2), and up to [`MAX_PARTS`] parts.
    /// Example: see [`Arrow`].
    ///
    /// # Errors
    /// [`Error::TooManyParts`] beyond [`MAX_PARTS`]; [`Error::OutOfRange`] for any length, mass,
    /// stiffness or position, and for a part whose front end is behind its rear end.
    pub fn new(
        length_m: f64,
        shaft_from_m: f64,
        shaft_mass_kg_per_m: f64,
        shaft_stiffness_nm2: f64,
        parts: &'a [Part],
    ) -> Result<Self> {
        let arrow = Self { length_m, shaft_from_m, shaft_mass_kg_per_m, shaft_stiffness_nm2, parts };
        arrow.check()?;
        Ok(arrow)
    }

    pub(crate) fn check(&self) -> Result<()> {
        Parameter::ArrowLength.check(self.length_m)?;
        Parameter::ShaftStart.check_within(self.shaft_from_m, 0.0, 0.5 * self.length_m)?;
        Parameter::MassPerLength.check(self.shaft_mass_kg_per_m)?;
        Parameter::BendingStiffness.check(self.shaft_stiffness_nm2)?;
        let (given, maximum) = (self.parts.len(), MAX_PARTS);
        if given > maximum {
            return Err(Error::TooManyParts { given, maximum });
        }
        self.parts.iter().try_for_each(Part::check)
    }

    /// Mass of the shaft and all its parts, kg.
    #[must_use]
    pub fn mass_kg(&self) -> f64 {
        self.shaft_mass_kg() + self.parts.iter().map(|part| part.mass_kg).sum::<f64>()
    }

    /// Balance point (center of mass) from the nock groove, m.
    #[must_use]
    pub fn balance_m(&self) -> f64 {
        let shaft = self.shaft_mass_kg() * 0.5 * (self.shaft_from_m + self.length_m);
        let parts: f64 = self.parts.iter().map(|part| part.mass_kg * part.center_m).sum();
        (shaft + parts) / self.mass_kg()
    }

    /// Moment of inertia (kg m^2) about an axis through the balance point across the arrow.
    ///
    /// Shaft and parts count as thin rods over their extents. The neglected term, `m d^2 / 16` for a
    /// shaft of diameter `d`, is below 0.01 %.
    #[must_use]
    pub fn transverse_inertia_kg_m2(&self) -> f64 {
        let balance = self.balance_m();
        let rod = |mass: f64, center: f64, length: f64| {
            mass * ((center - balance) * (center - balance) + length * length / 12.0)
        };
        let shaft_center = 0.5 * (self.shaft_from_m + self.length_m);
        let shaft = rod(self.shaft_mass_kg(), shaft_center, self.length_m - self.shaft_from_m);
        let parts = self.parts.iter().map(|part| rod(part.mass_kg, part.center_m, part.to_m - part.from_m));
        shaft + parts.sum::<f64>()
    }

    /// Front of center as a fraction of the length: `A / L - 1/2`, `A` being the balance point.
    ///
    /// # References
    /// AMO Standards FP-3 (2000), which states it in percent.
    #[must_use]
    pub fn front_of_center(&self) -> f64 {
        self.balance_m() / self.length_m - 0.5
    }

    /// Bending stiffness EI at `x_m` from the nock groove, N m^2. Example: see [`Part`].
    #[must_use]
    pub fn stiffness_at_nm2(&self, x_m: f64) -> f64 {
        let stiffening = self.parts.iter().filter(|part| part.stiffens(x_m));
        self.shaft_stiffness_nm2 + stiffening.map(|part| part.added_stiffness_nm2).sum::<f64>()
    }

    /// Mass ahead of `x_m` from the nock groove, kg: what the section there pushes.
    #[must_use]
    pub fn mass_ahead_of_kg(&self, x_m: f64) -> f64 {
        let shaft = self.length_m - clamp(x_m, self.shaft_from_m, self.length_m);
        let ahead = self.parts.iter().filter(|part| part.center_m > x_m);
        self.shaft_mass_kg_per_m * shaft + ahead.map(|part| part.mass_kg).sum::<f64>()
    }

    fn shaft_mass_kg(&self) -> f64 {
        self.shaft_mass_kg_per_m * (self.length_m - self.shaft_from_m)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bare_shaft_and_a_point_balance_in_closed_form() {
        // Uniform mass M over [0, L] and a point m at L: A/L - 1/2 = m / (2 (M + m)).
        let (length, per_length, point) = (0.72, 0.018, 0.0065);
        let parts = [Part::point_mass(point, length)];
        let arrow = Arrow::new(length, 0.0, per_length, 6.0, &parts).unwrap();
        let shaft = per_length * length;
        assert!((arrow.mass_kg() - (shaft + point)).abs() < 1e-17);
        assert!((arrow.front_of_center() - point / (2.0 * (shaft + point))).abs() < 1e-15);
    }

    #[test]
    fn a_bare_shaft_that_begins_ahead_of_the_nock_groove_balances_ahead_of_half() {
        let arrow = Arrow::new(0.7, 0.014, 0.018, 6.0, &[]).unwrap();
        assert!((arrow.balance_m() - 0.357).abs() < 1e-15);
        assert!((arrow.front_of_center() - 0.01).abs() < 1e-15);
    }

    #[test]
    fn mass_and_stiffness_are_counted_where_they_are() {
        let insert = Part { mass_kg: 0.001, center_m: 0.68, from_m: 0.66, to_m: 0.70, added_stiffness_nm2: 5.0 };
        let parts = [Part::point_mass(0.002, 0.05), insert];
        let arrow = Arrow::new(0.7, 0.1, 0.02, 6.0, &parts).unwrap();
        for (x, ahead, stiffness) in [
            (0.0, 0.015, 6.0),
            (0.06, 0.013, 6.0),
            (0.4, 0.007, 6.0),
            (0.67, 0.0016, 11.0),
            (0.69, 0.0002, 11.0),
            (0.8, 0.0, 6.0),
        ] {
            assert!((arrow.mass_ahead_of_kg(x) - ahead).abs() < 1e-16, "mass ahead of {x}");
            assert!((arrow.stiffness_at_nm2(x) - stiffness).abs() < 1e-14, "stiffness at {x}");
        }
    }

    #[test]
    fn inertia_is_that_of_rods_and_point_masses() {
        // A rod of mass M over [0, L] with m at its end, about their balance:
        // M L^2 / 12 + (M m / (M + m)) (L / 2)^2, the reduced mass at the distance between their centers.
        let (length, per_length, point) = (0.72, 0.018, 0.0065);
        let parts = [Part::point_mass(point, length)];
        let arrow = Arrow::new(length, 0.0, per_length, 6.0, &parts).unwrap();
        let shaft = per_length * length;
        let reduced = shaft * point / (shaft + point);
        let expected = shaft * length * length / 12.0 + reduced * length * length / 4.0;
        assert!((arrow.transverse_inertia_kg_m2() / expected - 1.0).abs() < 1e-15);
        // A rod in two halves is the same rod.
        let half = Part { from_m: 0.35, to_m: 0.7, ..Part::point_mass(0.35 * 0.018, 0.525) };
        let halves = [half];
        let two = Arrow::new(0.35, 0.0, 0.018, 6.0, &halves).unwrap();
        let one = Arrow::new(0.7, 0.0, 0.018, 6.0, &[]).unwrap();
        assert!((two.transverse_inertia_kg_m2() / one.transverse_inertia_kg_m2() - 1.0).abs() < 1e-15);
        // Of a shaft that begins ahead of the nock groove, only what there is of it: m' l^3 / 12.
        let ahead = Arrow::new(0.7, 0.1, 0.018, 6.0, &[]).unwrap();
        assert!((ahead.transverse_inertia_kg_m2() / (0.018 * 0.216 / 12.0) - 1.0).abs() < 1e-14);
    }

    #[test]
    fn what_cannot_be_an_arrow_is_refused_by_name() {
        let refused = |parts: &[Part]| Arrow::new(0.7, 0.0, 0.02, 6.0, parts).unwrap_err();
        let too_many = [Part::point_mass(0.001, 0.3); MAX_PARTS + 1];
        assert_eq!(refused(&too_many), Error::TooManyParts { given: 33, maximum: 32 });
        let inside_out = [Part { from_m: 0.5, to_m: 0.4, ..Part::point_mass(0.001, 0.45) }];
        assert!(matches!(refused(&inside_out), Error::OutOfRange { parameter: Parameter::Position, .. }));
        let negative = [Part::point_mass(-0.001, 0.3)];
        assert!(matches!(refused(&negative), Error::OutOfRange { parameter: Parameter::PartMass, .. }));
        assert!(Arrow::new(0.7, 0.0, 0.02, f64::NAN, &[]).is_err());
        assert!(Arrow::new(0.7, 0.6, 0.02, 6.0, &[]).is_err());
    }
}
