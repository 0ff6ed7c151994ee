//! Bending stiffness from geometry: the tubes and plugs that stiffen an end of the shaft.

use core::f64::consts::PI;

use crate::error::Result;
use crate::math::sqrt;
use crate::parameter::Parameter;

/// What a sleeve, insert or outsert is made of.
///
/// Typical values of the common alloys, from memory: no data sheet was read.
///
/// # Examples
/// ```
/// use clothyard_mechanics::Material;
/// // A centimeter of solid rod, 5 mm thick, by weight: steel is near three times aluminum.
/// let grams = |m: Material| m.density_kg_per_m3() * 0.01 * core::f64::consts::PI * 0.005_f64.powi(2) / 4.0 * 1e3;
/// assert!((grams(Material::Aluminum) - 0.530).abs() < 5e-4);
/// assert!((grams(Material::Steel) - 1.571).abs() < 5e-4);
/// assert!(Material::Steel.young_modulus_pa() > Material::Titanium.young_modulus_pa());
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Material {
    /// Wrought aluminum alloy.
    Aluminum,
    /// Austenitic stainless steel.
    Steel,
    /// Titanium with 6 % aluminum and 4 % vanadium.
    Titanium,
    /// Free-cutting brass.
    Brass,
}

impl Material {
    /// Young's modulus, Pa (from memory).
    #[must_use]
    pub const fn young_modulus_pa(self) -> f64 {
        match self {
            Self::Aluminum => 69e9,
            Self::Steel => 193e9,
            Self::Titanium => 114e9,
            Self::Brass => 100e9,
        }
    }

    /// Density, kg/m^3 (from memory).
    #[must_use]
    pub const fn density_kg_per_m3(self) -> f64 {
        match self {
            Self::Aluminum => 2_700.0,
            Self::Steel => 8_000.0,
            Self::Titanium => 4_430.0,
            Self::Brass => 8_500.0,
        }
    }
}

/// Bending stiffness EI (N m^2) of a round tube; an inner diameter of 0 makes it a rod.
///
/// A ring of outer diameter `D` and inner diameter `d` (m), of a material of modulus `E` (Pa) and density
/// `rho` (kg/m^3), has over a length `l` (m)
///
/// ```text
/// EI = E pi (D^4 - d^4) / 64        bending stiffness, N m^2
/// m  = rho l pi (D^2 - d^2) / 4     mass, kg
/// ```
///
/// The wall of a sleeve or insert is rarely stated; its mass and length are, and they determine the wall
/// ([`sleeve_outer_diameter_m`], [`plug_inner_diameter_m`]). The tube is assumed to be round, of one material
/// and wall, and bonded so that it bends with the shaft.
///
/// Modulus 1e8 to 1e12 Pa, diameters 0 to 0.1 m.
///
/// # Errors
/// [`crate::Error::OutOfRange`] for the modulus, a diameter, or an inner diameter above the outer.
///
/// # Examples
/// ```
/// use clothyard_mechanics::tube_stiffness_nm2;
/// // A solid rod of 10 mm at 69 GPa: 69e9 x pi x 1e-8 / 64. Bored to 5 mm it keeps 15/16.
/// let rod_nm2 = tube_stiffness_nm2(69e9, 0.010, 0.0)?;
/// assert!((rod_nm2 - 33.87).abs() < 5e-3);
/// assert!((tube_stiffness_nm2(69e9, 0.010, 0.005)? / rod_nm2 - 15.0 / 16.0).abs() < 1e-15);
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
///
/// # References
/// Second moment of area: Gere & Timoshenko, *Mechanics of Materials*.
pub fn tube_stiffness_nm2(young_modulus_pa: f64, outer_diameter_m: f64, inner_diameter_m: f64) -> Result<f64> {
    let e = Parameter::YoungModulus.check(young_modulus_pa)?;
    let outer = Parameter::Diameter.check(outer_diameter_m)?;
    let inner = Parameter::Diameter.check_within(inner_diameter_m, 0.0, outer)?;
    let (outer_squared, inner_squared) = (outer * outer, inner * inner);
    // Factored, so that a thin wall does not cancel in the difference of two fourth powers.
    let difference = (outer_squared + inner_squared) * (outer + inner) * (outer - inner);
    Ok(e * PI * difference / 64.0)
}

/// Outer diameter (m) of a sleeve of known mass (0 to 1 kg) and length (0.1 mm to 2 m), its wall outside the
/// bore.
///
/// # Errors
/// [`crate::Error::OutOfRange`] for the mass, length or diameter, or when the sleeve would be
/// thicker than any arrow.
///
/// # Examples
/// ```
/// use clothyard_mechanics::{Material, sleeve_outer_diameter_m};
/// let (mass_kg, length_m, bore_m) = (0.001, 0.020, 0.006);
/// let outer_m = sleeve_outer_diameter_m(Material::Aluminum, mass_kg, length_m, bore_m)?;
/// // Its mass from the wall: rho l pi (D^2 - d^2) / 4.
/// let ring_m2 = core::f64::consts::PI * (outer_m * outer_m - bore_m * bore_m) / 4.0;
/// assert!((2_700.0 * length_m * ring_m2 - mass_kg).abs() < 1e-17);
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
pub fn sleeve_outer_diameter_m(material: Material, mass_kg: f64, length_m: f64, inner_diameter_m: f64) -> Result<f64> {
    let inner = Parameter::Diameter.check(inner_diameter_m)?;
    let ring = diameter_squared_of_mass(material, mass_kg, length_m)?;
    Parameter::Diameter.check(sqrt(inner * inner + ring))
}

/// Inner diameter (m) of a plug of known mass (0 to 1 kg) and length (0.1 mm to 2 m), its wall inside the
/// outer diameter.
///
/// 0 when the mass fills the plug or more: it is then solid, and the excess is elsewhere.
///
/// # Errors
/// [`crate::Error::OutOfRange`] for the mass, length or diameter.
///
/// # Examples
/// ```
/// use clothyard_mechanics::{Material, plug_inner_diameter_m};
/// let (length_m, outer_m) = (0.020, 0.006);
/// let inner_m = plug_inner_diameter_m(Material::Brass, 0.002, length_m, outer_m)?;
/// let ring_m2 = core::f64::consts::PI * (outer_m * outer_m - inner_m * inner_m) / 4.0;
/// assert!((8_500.0 * length_m * ring_m2 - 0.002).abs() < 1e-17);
/// // 8500 x 0.020 x pi x 0.006^2 / 4 = 4.8 g fill it.
/// assert_eq!(plug_inner_diameter_m(Material::Brass, 0.005, length_m, outer_m)?, 0.0);
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
pub fn plug_inner_diameter_m(material: Material, mass_kg: f64, length_m: f64, outer_diameter_m: f64) -> Result<f64> {
    let outer = Parameter::Diameter.check(outer_diameter_m)?;
    let ring = diameter_squared_of_mass(material, mass_kg, length_m)?;
    Ok(sqrt((outer * outer - ring).max(0.0)))
}

/// `D^2 - d^2` (m^2) of the ring that holds the mass.
fn diameter_squared_of_mass(material: Material, mass_kg: f64, length_m: f64) -> Result<f64> {
    let m = Parameter::PartMass.check(mass_kg)?;
    let l = Parameter::PartLength.check(length_m)?;
    Ok(4.0 * m / (PI * material.density_kg_per_m3() * l))
}

#[cfg(test)]
#[allow(clippy::float_cmp)] // a solid plug's bore is exactly 0
mod tests {
    use super::*;

    #[test]
    fn stiffness_is_modulus_times_second_moment() {
        // By hand: 200 GPa, 10 mm rod: I = pi 1e-8 / 64 m^4, EI = 31.25 pi = 98.1748 N m^2.
        let rod = tube_stiffness_nm2(200e9, 0.010, 0.0).unwrap();
        assert!((rod - 31.25 * PI).abs() < 1e-12);
        let bore = tube_stiffness_nm2(200e9, 0.008, 0.0).unwrap();
        let tube = tube_stiffness_nm2(200e9, 0.010, 0.008).unwrap();
        assert!((tube - (rod - bore)).abs() < 1e-12);
    }

    #[test]
    fn walls_hold_the_mass_they_were_grown_from() {
        let (mass, length, diameter) = (0.0013, 0.025, 0.0062);
        for material in [Material::Aluminum, Material::Steel, Material::Titanium, Material::Brass] {
            let outer = sleeve_outer_diameter_m(material, mass, length, diameter).unwrap();
            let inner = plug_inner_diameter_m(material, mass, length, diameter).unwrap();
            for (large, small) in [(outer, diameter), (diameter, inner)] {
                let area = PI * (large * large - small * small) / 4.0;
                let held = material.density_kg_per_m3() * length * area;
                assert!((held / mass - 1.0).abs() < 1e-12, "{material:?}: {held}");
            }
        }
    }

    #[test]
    fn a_plug_of_too_much_mass_is_solid() {
        assert_eq!(plug_inner_diameter_m(Material::Aluminum, 0.01, 0.01, 0.005), Ok(0.0));
    }

    #[test]
    fn a_bore_wider_than_the_tube_is_refused() {
        assert!(tube_stiffness_nm2(69e9, 0.006, 0.0061).is_err());
        assert!(sleeve_outer_diameter_m(Material::Brass, 0.5, 1e-3, 0.006).is_err());
    }

    #[test]
    fn the_light_metals_and_steel_are_as_stiff_for_their_weight() {
        // E / rho of steel, aluminum and titanium is some 25 MN m/kg; of brass half of that (memory).
        let stiff = |material: Material| 1e-6 * material.young_modulus_pa() / material.density_kg_per_m3();
        for material in [Material::Aluminum, Material::Steel, Material::Titanium] {
            assert!((24.0..26.0).contains(&stiff(material)), "{material:?}: {}", stiff(material));
        }
        assert!((11.0..13.0).contains(&stiff(Material::Brass)));
        let heavy = [Material::Aluminum, Material::Titanium, Material::Steel, Material::Brass];
        assert!(heavy.map(Material::density_kg_per_m3).is_sorted_by(|less, more| less < more));
    }
}
