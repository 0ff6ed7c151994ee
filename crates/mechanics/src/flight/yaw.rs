//! How a yawed arrow swings and steadies: wavelength and damping along the way it flies.
//!
//! Yaw `a` (shaft against flight) and turning `w` (rad for each metre flown), with `s` the way flown:
//!
//! ```text
//! a' = w - (rho / 2 m) ((S0 - D) a + S1 w)             the path bends toward the nose
//! w' = (rho / 2 m) D w - (rho / 2 I) (S1 a + S2 w)     the air turns the arrow back
//! S0 = sum S    S1 = sum S l    S2 = sum S (l^2 + spread^2)
//! ```
//!
//! `S` is each part's pull, `l` its distance behind the balance point, `D` the drag area. A part that
//! stands `l` behind meets the air at `a + l w`: that is the pitch damping. Speed has cancelled, as
//! every force goes by its square: a fast arrow swings over the same metres as a slow one. Only the
//! slowing down has a trace, the term in `D w`. The roots of
//!
//! ```text
//! k^2 + H k + M = 0
//! H = (rho / 2 m) (S0 - 2 D) + (rho / 2 I) S2
//! M = (rho / 2 I) S1 (1 - (rho / 2 m) S1) + (rho / 2 m) (S0 - D) ((rho / 2 I) S2 - (rho / 2 m) D)
//! ```
//!
//! give a wavelength `2 pi / sqrt(M - H^2 / 4)`, near `2 pi sqrt(2 I / (rho S0 margin))`, and an
//! amplitude that halves every `2 ln 2 / H`. Spin is left out: see [`super::spin`] for why. So is
//! gravity, which turns the path by less than a degree over a wavelength.
//!
//! # References
//! McCoy, *Modern Exterior Ballistics*, the linear theory of pitching and yawing motion of a
//! non-rolling symmetric projectile: `H` and `M` are his (chapter from memory: 10), written for a
//! pull and its place in place of coefficients. No lag of the downwash (`C_m_alpha_dot`).

use core::f64::consts::{LN_2, PI};

use crate::error::{Quantity, Result};
use crate::math::sqrt;

use super::stability::FlyingArrow;

/// What becomes of a small yaw.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Yaw {
    /// It swings to and fro and dies out.
    Swings {
        /// Way flown in one swing to and fro, m.
        wavelength_m: f64,
        /// Way flown in which the amplitude halves, m.
        half_distance_m: f64,
        /// Damping as a share of that at which it would no longer swing.
        damping_ratio: f64,
    },
    /// It dies out without a swing.
    Returns {
        /// Way flown in which the slower part of it halves, m.
        half_distance_m: f64,
    },
    /// It grows: the arrow does not fly point first.
    Grows {
        /// Way flown in which it doubles, m; infinite where it just stays.
        double_distance_m: f64,
    },
}

impl FlyingArrow {
    /// What becomes of a small yaw in air of this density (kg/m^3), with this drag over dynamic pressure (m^2).
    ///
    /// The shaft's pull is that at the arrow's own yaw. A drag area of 0 leaves out that the arrow
    /// slows down, which lengthens the half distance by about a tenth less.
    ///
    /// # Errors
    /// [`crate::Error::OutOfRange`] for the air, the drag, and anything of the arrow.
    pub fn yaw(&self, air_density_kg_per_m3: f64, drag_area_m2: f64) -> Result<Yaw> {
        let rho = Quantity::DensityOfAir.check(air_density_kg_per_m3)?;
        let drag = Quantity::DragArea.check(drag_area_m2)?;
        let sum = |moment: fn(f64, f64) -> f64| {
            let pulls = self.pulls()?;
            Ok(pulls.iter().map(|p| p.area_m2 * moment(self.balance_m - p.centre_m, p.spread_m2)).sum::<f64>())
        };
        let (s0, s1, s2) = (sum(|_, _| 1.0)?, sum(|l, _| l)?, sum(|l, spread| l * l + spread)?);
        let by_mass = 0.5 * rho / self.mass_kg;
        let by_inertia = 0.5 * rho / self.transverse_inertia_kg_m2;
        let turning_damped = by_inertia * s2 - by_mass * drag;
        let damping = by_mass * (s0 - drag) + turning_damped;
        let stiffness = by_inertia * s1 * (1.0 - by_mass * s1) + by_mass * (s0 - drag) * turning_damped;
        Ok(motion(damping, stiffness))
    }
}

/// The motion whose roots solve `k^2 + damping k + stiffness = 0`.
fn motion(damping: f64, stiffness: f64) -> Yaw {
    let turn = stiffness - 0.25 * damping * damping;
    if damping > 0.0 && turn > 0.0 {
        return Yaw::Swings {
            wavelength_m: 2.0 * PI / sqrt(turn),
            half_distance_m: 2.0 * LN_2 / damping,
            damping_ratio: 0.5 * damping / sqrt(stiffness),
        };
    }
    // The root that dies out slowest, or grows fastest.
    let slowest = -0.5 * damping + sqrt((-turn).max(0.0));
    if slowest < 0.0 {
        Yaw::Returns { half_distance_m: LN_2 / -slowest }
    } else {
        Yaw::Grows { double_distance_m: LN_2 / slowest }
    }
}
