//! What hangs on the bow's string, as mass that has to be accelerated with the arrow.

use crate::error::Result;
use crate::parameter::Parameter;

/// Mass added to the string, beyond the string that the bow's virtual mass already includes.
///
/// The nocking point moves as fast as the arrow and the string's ends (nearly) not at all, with the
/// speed proportional to the distance in between. A mass spread evenly along the string therefore has
/// the kinetic energy of a third of it at the nock:
///
/// ```text
/// K' = K + m_nock + m_spread / 3        kg;   integral of s^2 ds from 0 to 1 is 1/3
/// ```
///
/// # References
/// C. N. Hickman, "Effect of String Weight on Arrow Velocity and Efficiency of Bows", in Hickman,
/// Nagler & Klopsteg, *Archery: The Technical Side* (1947), measured it: "The velocity of an arrow is
/// reduced about the same amount as if the arrow were increased in weight by one-third the increase in
/// weight of the string."
///
/// # Examples
/// ```
/// use clothyard_mechanics::StringMass;
/// // A nocking point of 0.5 g and 1.2 g of thicker serving: 0.9 g more to move.
/// let added = StringMass { at_nock_kg: 0.0005, spread_kg: 0.0012 };
/// assert!((added.virtual_mass_kg(0.005)? - 0.0059).abs() < 1e-17);
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct StringMass {
    /// Mass at the nocking point, kg; counts in full.
    pub at_nock_kg: f64,
    /// Mass spread along the string, kg; counts a third.
    pub spread_kg: f64,
}

impl StringMass {
    /// Virtual mass (kg) of a bow whose virtual mass is `bare_kg` (0 to 0.5) without it.
    ///
    /// # Errors
    /// [`crate::Error::OutOfRange`] for a mass (0 to 1 kg each) or the sum (0 to 0.5 kg).
    pub fn virtual_mass_kg(&self, bare_kg: f64) -> Result<f64> {
        Parameter::VirtualMass.check(bare_kg)?;
        Parameter::PartMass.check(self.at_nock_kg)?;
        Parameter::PartMass.check(self.spread_kg)?;
        Parameter::VirtualMass.check(bare_kg + self.at_nock_kg + self.spread_kg / 3.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_spread_mass_has_the_kinetic_energy_of_a_third_at_the_nock() {
        // Midpoint sum of m s^2 over the half string, s from the fixed end to the nock.
        let strips = 1_000_u32;
        let shares = (0..strips).map(|strip| (f64::from(strip) + 0.5) / f64::from(strips));
        let energy: f64 = shares.map(|share| share * share / f64::from(strips)).sum();
        let added = StringMass { at_nock_kg: 0.0, spread_kg: 0.003 };
        assert!((added.virtual_mass_kg(0.0).unwrap() - 0.003 * energy).abs() < 1e-9);
    }

    #[test]
    fn nothing_added_changes_nothing_and_less_than_nothing_is_refused() {
        assert!((StringMass::default().virtual_mass_kg(0.007).unwrap() - 0.007).abs() < 1e-18);
        assert!(StringMass { at_nock_kg: -1e-4, spread_kg: 0.0 }.virtual_mass_kg(0.007).is_err());
        assert!(StringMass { at_nock_kg: 0.0, spread_kg: f64::NAN }.virtual_mass_kg(0.007).is_err());
        assert!(StringMass { at_nock_kg: 0.5, spread_kg: 0.0 }.virtual_mass_kg(0.007).is_err());
    }
}
