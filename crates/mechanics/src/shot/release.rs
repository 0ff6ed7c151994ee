//! How the string is released.

use crate::error::Result;
use crate::parameter::Parameter;

/// How the string is released. Example: see [`super::Shot`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Release {
    /// In its plane, as from a release aid, over a rest that holds the shaft to either side.
    Straight,
    /// Off the fingers, against a button or shelf that can only push.
    Fingers(Fingers),
}

/// What the fingers, the string and the button or shelf do to the arrow sideways. Example: see [`super::Shot`].
///
/// Away from the button is above 0, and 0 is the plane in which the string comes to rest:
///
/// ```text
/// fingertips   y(0) = (aside / slip) s             until the string has traveled s = slip
/// string       m_s on the nock, force -(F(p) / p) y(0)        until brace
/// button       force k max(0, c - y(x)) at x = rest - s       while the arrow passes it
/// ```
///
/// `y(x)` is the deflection (m) at `x` from the nock groove, `s` the string's travel (m), `p` its distance from brace
/// (m), `F(p)` the force that drives arrow and virtual mass (N). The string is straight between nock and limb tips, so
/// it pulls the nock toward its plane as hard as it pushes it forward, in proportion of the two distances.
///
/// **Validity.** The shaft leaves the button before the string, as Kooi (1998) found; it swings about once on the
/// string, by about a centimeter (memory), more the weaker it is. Of 600 recurves and longbows with button or shelf at
/// most 5 mm (0.2 in) from center all do so but five, with arrows far too weak; a shaft that still touches as the string lets go
/// ([`super::ShotDynamics::touches_at_exit`]) is outside what the model is known for. No measured curve could be read,
/// and string mass and button stiffness were chosen among plausible ones with these features in view. Whether the rear
/// of the shaft clears the bow in flight depends on those constants: it is no result.
///
/// Farther from center the model presses the rear of the shaft against the shelf as the string lets go, which films of
/// matched arrows do not show, so it is refused ([`Parameter::RestAside`]).
///
/// # References
/// Kooi & Sparenberg, J. Eng. Math. 31 (1997) (the nock moved sideways by the fingers, a moving support); Kooi, J.
/// Sports Sci. 16 (1998) (the button a support that can only push): first pages and abstract read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fingers {
    /// How far the fingertips lead the nock aside, m.
    pub aside_m: f64,
    /// String travel in which they do, m.
    pub slip_m: f64,
    /// Mass that moves sideways with the nock: string, serving and what takes part of the limb tips, kg.
    pub string_mass_kg: f64,
    /// Stiffness of the button or shelf, N/m.
    pub rest_n_per_m: f64,
    /// The shaft's axis from the string's plane where it touches the unpressed button or shelf, m.
    pub rest_aside_m: f64,
}

impl Fingers {
    /// A center-cut riser with a button.
    ///
    /// 2 mm aside in 3 mm: a simulation by Kooi as quoted by J. Tapley, "The Loose". String 4 g, button 1500 N/m:
    /// memory. Button 2 mm out: common practice, no source.
    pub const BUTTON: Self =
        Self { aside_m: 0.002, slip_m: 0.003, string_mass_kg: 0.004, rest_n_per_m: 1500.0, rest_aside_m: 0.002 };

    /// A hard shelf whose side is so far (m) from the string's plane to the shaft's axis: 20 000 N/m, memory.
    #[must_use]
    pub const fn shelf(rest_aside_m: f64) -> Self {
        Self { rest_n_per_m: 20_000.0, rest_aside_m, ..Self::BUTTON }
    }

    /// Way aside over way forward on the fingertips.
    pub(super) fn slope(&self) -> f64 {
        self.aside_m / self.slip_m
    }
}

impl Release {
    pub(super) fn check(self, stroke_m: f64) -> Result<()> {
        if let Self::Fingers(fingers) = self {
            Parameter::ReleaseOffset.check(fingers.aside_m)?;
            let (minimum, _) = Parameter::ReleaseTravel.range();
            Parameter::ReleaseTravel.check_within(fingers.slip_m, minimum, stroke_m)?;
            Parameter::StringSideMass.check(fingers.string_mass_kg)?;
            Parameter::RestStiffness.check(fingers.rest_n_per_m)?;
            Parameter::RestAside.check(fingers.rest_aside_m)?;
        }
        Ok(())
    }

    pub(super) fn fingers(self) -> Option<Fingers> {
        match self {
            Self::Straight => None,
            Self::Fingers(fingers) => Some(fingers),
        }
    }
}
