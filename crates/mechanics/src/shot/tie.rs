//! Two shafts on the tie: which of them bends more nearly as it should.
//!
//! The column load of two neighboring shafts may lie as far above its target as below. Then
//! their **magnification** decides: the ratio of each one's to that of a shaft which meets the
//! target, on a logarithmic scale, so that twice as much and half as much are equally far off.
//!
//! The reference is shot from the same bow, but with a let-off of 80 %
//! ([`Shot::at_reference_let_off`]). A greater let-off lets the force come up more gently and
//! the shaft bends less, which speaks for the weaker of two shafts; a smaller one for the
//! stiffer. Around the pairings of common practice a tenth more magnification is worth about a
//! tenth more column load; a let-off of 65 % in place of 80 % is 16 to 19 % more, 90 % is 10 to
//! 12 % less. That is more than stands between two neighboring shafts, so the measure is one for
//! the tie alone. That let-off matters there, and only there, is common practice, no source.
//! Without let-off the reference is the target's own magnification.

use super::{Release, Shot};
use crate::error::Result;

/// The magnifications of a reference and of two shots, and which is nearer: what [`tie()`] gives.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tie {
    /// Of the shaft that meets the target, at the reference let-off.
    pub reference: f64,
    /// Of the first shot.
    pub first: f64,
    /// Of the second shot.
    pub second: f64,
    /// Whether the first lies no farther from the reference than the second.
    pub first_is_nearer: bool,
}

/// Compares two shots with the `ideal` one, that of a shaft which meets the target column load.
///
/// The release counts as straight in all three, and the fields of [`Tie`] are magnifications.
///
/// # Errors
/// As [`Shot::simulate`], for any of the three.
///
/// # Examples
/// ```
/// use clothyard_mechanics::shot::{Shot, tie};
/// use clothyard_mechanics::{Arrow, Bow, DrawCurve, Part};
/// let parts = [Part::point_mass(0.0006, 0.0), Part::point_mass(0.0078, 0.72)];
/// let curve = DrawCurve::LetOff { rise: 0.35, valley: 0.25, let_off: 0.80 };
/// let bow = Bow::new(267.0, 0.508, curve, 0.0071, 0.0)?;
/// let of_stiffness = |nm2| Ok(Shot::new(Arrow::new(0.7112, 0.014, 0.016, nm2, &parts)?, bow, 0.68));
/// let (ideal, weaker, stiffer) = (of_stiffness(6.4)?, of_stiffness(6.3)?, of_stiffness(7.4)?);
/// let found = tie(&ideal, &weaker, &stiffer)?;
/// // The weaker bends more, the stiffer less, and the one is far nearer.
/// assert!(found.first > found.reference && found.reference > found.second);
/// assert!(found.first_is_nearer);
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
pub fn tie(ideal: &Shot<'_>, first: &Shot<'_>, second: &Shot<'_>) -> Result<Tie> {
    let magnification = |shot: &Shot<'_>| {
        let straight = Shot { release: Release::Straight, ..*shot };
        straight.simulate().map(|dynamics| dynamics.magnification)
    };
    let reference = magnification(&ideal.at_reference_let_off())?;
    let (first, second) = (magnification(first)?, magnification(second)?);
    let off = |other: f64| (other / reference).max(reference / other);
    Ok(Tie { reference, first, second, first_is_nearer: off(first) <= off(second) })
}
