//! Two shafts equally far from the target column load: which one bends closer to what it should.

use super::{Release, Shot};
use crate::error::Result;

/// The magnifications of a reference and of two shots, and which is closer: the result of [`tie()`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tie {
    /// Magnification of the shaft that meets the target, at the reference let-off.
    pub reference: f64,
    /// Magnification of the first shot.
    pub first: f64,
    /// Magnification of the second shot.
    pub second: f64,
    /// Whether the first is at least as close to the reference as the second.
    pub first_is_nearer: bool,
}

/// Compares two shots with the `ideal` one, that of a shaft which meets the target column load.
///
/// The column loads of two neighboring shafts may be equally far above and below the target. Then their
/// **magnification** decides: the ratio of each to that of a shaft which meets the target, on a logarithmic
/// scale, so that twice and half are equally far off.
///
/// The reference is shot from the same bow, but with a let-off of 80 % ([`Shot::at_reference_let_off`]). A
/// larger let-off lets the force rise more gently and the shaft bends less, which favors the weaker of two
/// shafts; a smaller one favors the stiffer. Around the pairings of common practice 10 % more magnification
/// is worth about 10 % more column load; a let-off of 65 % instead of 80 % gives 16 to 19 % more, 90 % gives
/// 10 to 12 % less. That is more than the difference of two neighboring shafts, so the measure applies to a
/// tie only. That let-off matters there, and only there, is common practice, no source. Without let-off the
/// reference is the target's own magnification.
///
/// The release is taken as straight in all three.
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
/// // The weaker bends more, the stiffer less, and the weaker is much closer.
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
