//! How a yawed arrow oscillates and settles: wavelength and damping along the distance flown.

use core::f64::consts::{LN_2, PI};

use crate::error::Result;
use crate::math::sqrt;
use crate::parameter::Parameter;

use super::stability::FlyingArrow;

/// The evolution of a small yaw: the result of [`FlyingArrow::yaw`].
///
/// Yaw `a` (shaft against flight) and rotation `w` (rad per meter flown), with `s` the distance flown:
///
/// ```text
/// a' = w - (rho / 2 m) ((S0 - D) a + S1 w)             the trajectory bends toward the nose
/// w' = (rho / 2 m) D w - (rho / 2 I) (S1 a + S2 w)     the air turns the arrow back
/// S0 = sum S    S1 = sum S l    S2 = sum S (l^2 + spread^2)
/// ```
///
/// `S` is each part's normal-force area, `l` its distance behind the balance point, `D` the drag area. A part
/// a distance `l` behind meets the air at `a + l w`: the pitch damping. Speed cancels, as every force is
/// proportional to its square: a fast arrow oscillates over the same meters as a slow one. Only the
/// deceleration leaves a trace, the term in `D w`. The roots of
///
/// ```text
/// k^2 + H k + M = 0
/// H = (rho / 2 m) (S0 - 2 D) + (rho / 2 I) S2
/// M = (rho / 2 I) S1 (1 - (rho / 2 m) S1) + (rho / 2 m) (S0 - D) ((rho / 2 I) S2 - (rho / 2 m) D)
/// ```
///
/// give a wavelength `2 pi / sqrt(M - H^2 / 4)`, approximately `2 pi sqrt(2 I / (rho S0 margin))`, and an
/// amplitude that halves every `2 ln 2 / H`. Spin is neglected: see [`super::Spin`] for why. So is gravity:
/// an arrow on its curved trajectory lags behind it by `(S2 / S1) g / V^2`, below a tenth of a degree at 50
/// m/s, and oscillates about that.
///
/// # References
/// McCoy, *Modern Exterior Ballistics*, the linear theory of pitching and yawing motion of a non-rolling
/// symmetric projectile: `H` and `M` are his (chapter from memory: 10), written for normal-force areas and
/// their positions instead of coefficients. Without the lag of the downwash (`C_m_alpha_dot`).
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Yaw {
    /// A damped oscillation.
    Oscillates {
        /// Distance flown in one oscillation, m.
        wavelength_m: f64,
        /// Distance flown in which the amplitude halves, m.
        half_distance_m: f64,
        /// Damping over critical damping.
        damping_ratio: f64,
    },
    /// An aperiodic decay.
    Decays {
        /// Distance flown in which the slower part halves, m.
        half_distance_m: f64,
    },
    /// Growth: the arrow does not fly point first.
    Grows {
        /// Distance flown in which it doubles, m; infinite if it remains constant.
        double_distance_m: f64,
    },
}

impl FlyingArrow {
    /// The evolution of a small yaw in air of this density (0.01 to 10 kg/m^3), with this drag over dynamic
    /// pressure (0 to 0.1 m^2).
    ///
    /// The shaft's normal force is that at the arrow's own yaw. Drag delays the decay by a few percent; a
    /// drag area of 0 neglects that.
    ///
    /// # Errors
    /// [`crate::Error::OutOfRange`] for the air, the drag, and anything of the arrow.
    ///
    /// # Examples
    /// ```
    /// use clothyard_mechanics::flight::{ArrowShape, DEFAULT_YAW_RAD, FlyingArrow, Outline, Vanes, Yaw};
    ///
    /// let vanes = Vanes {
    ///     count: 3, length_m: 0.05, height_m: 0.012, outline: Outline::Shield,
    ///     rear_m: 0.03, offset_rad: 0.03, mass_kg: 0.0012,
    /// };
    /// let shape = ArrowShape {
    ///     diameter_m: 0.006, tip_m: 0.735, nose_length_m: 0.015, vanes: Some(vanes), blades: None,
    /// };
    /// let arrow = FlyingArrow {
    ///     length_m: 0.71, mass_kg: 0.022, balance_m: 0.46, transverse_inertia_kg_m2: 0.00145,
    ///     shape, yaw_rad: DEFAULT_YAW_RAD,
    /// };
    /// // A weathercock's wavelength is 2 pi sqrt(2 I / (rho S margin)), 17 m; damping makes it slightly longer.
    /// let held = arrow.stability()?;
    /// let undamped_m = core::f64::consts::TAU
    ///     * f64::sqrt(2.0 * 0.00145 / (1.2 * held.normal_force_area_m2 * held.margin_m));
    /// let yaw = arrow.yaw(1.2, 0.0)?;
    /// assert!(matches!(yaw, Yaw::Oscillates { wavelength_m, .. } if (1.0..1.03).contains(&(wavelength_m / undamped_m))));
    /// # Ok::<(), clothyard_mechanics::Error>(())
    /// ```
    pub fn yaw(&self, air_density_kg_per_m3: f64, drag_area_m2: f64) -> Result<Yaw> {
        let rho = Parameter::AirDensity.check(air_density_kg_per_m3)?;
        let drag = Parameter::DragArea.check(drag_area_m2)?;
        let sum = |moment: fn(f64, f64) -> f64| {
            let normal_forces = self.normal_forces()?;
            Ok(normal_forces.iter().map(|p| p.area_m2 * moment(self.balance_m - p.center_m, p.spread_m2)).sum::<f64>())
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

/// The motion whose rates are the roots of `k^2 + damping k + stiffness = 0`.
fn motion(damping: f64, stiffness: f64) -> Yaw {
    let turn = stiffness - 0.25 * damping * damping;
    if damping > 0.0 && turn > 0.0 {
        return Yaw::Oscillates {
            wavelength_m: 2.0 * PI / sqrt(turn),
            half_distance_m: 2.0 * LN_2 / damping,
            damping_ratio: 0.5 * damping / sqrt(stiffness),
        };
    }
    // The root that decays slowest, or grows fastest.
    let slowest = -0.5 * damping + sqrt((-turn).max(0.0));
    if slowest < 0.0 {
        Yaw::Decays { half_distance_m: LN_2 / -slowest }
    } else {
        Yaw::Grows { double_distance_m: LN_2 / slowest }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::flight::example::ARROW;
    use crate::flight::stability::{ArrowShape, DEFAULT_YAW_RAD};

    #[test]
    fn in_thin_air_the_wavelength_is_that_of_a_weathercock() {
        // Damping is proportional to the density, so its effect on the wavelength vanishes with it.
        let held = ARROW.stability().unwrap();
        for (rho, off) in [(1.2, 3e-2), (0.12, 3e-3), (0.012, 3e-4)] {
            let Yaw::Oscillates { wavelength_m, .. } = ARROW.yaw(rho, 0.0).unwrap() else { panic!() };
            let inertia = ARROW.transverse_inertia_kg_m2;
            let expected = 2.0 * PI * sqrt(2.0 * inertia / (rho * held.normal_force_area_m2 * held.margin_m));
            let seen = (wavelength_m / expected - 1.0).abs();
            assert!(seen < off && seen > off / 10.0, "{rho}: {seen}");
        }
    }

    #[test]
    fn drag_lets_the_swing_die_out_a_few_percent_later() {
        let half = |drag| match ARROW.yaw(1.2, drag).unwrap() {
            Yaw::Oscillates { half_distance_m, .. } => half_distance_m,
            other => panic!("{other:?}"),
        };
        assert!((1.02..1.06).contains(&(half(2.0 * PI * 9e-6) / half(0.0))));
    }

    #[test]
    fn an_arrow_without_vanes_turns_over_as_plain_theory_has_it() {
        let bare = FlyingArrow { shape: ArrowShape { vanes: None, ..ARROW.shape }, yaw_rad: 0.0, ..ARROW };
        assert!(matches!(bare.yaw(1.2, 0.0).unwrap(), Yaw::Grows { double_distance_m } if double_distance_m > 1.0));
    }

    #[test]
    fn every_motion_has_the_roots_it_was_made_of() {
        // Roots -0.1 +- 0.5 i: sum -0.2, product 0.26.
        let Yaw::Oscillates { wavelength_m, half_distance_m, damping_ratio } = motion(0.2, 0.26) else { panic!() };
        assert!((wavelength_m - 4.0 * PI).abs() < 1e-13);
        assert!((half_distance_m - LN_2 / 0.1).abs() < 1e-13);
        assert!((damping_ratio - 0.1 / sqrt(0.26)).abs() < 1e-15);
        // Roots -0.1 and -0.5; 0.1 and -0.5; 0.1 +- 0.5 i; 0 and -0.2.
        let Yaw::Decays { half_distance_m } = motion(0.6, 0.05) else { panic!() };
        assert!((half_distance_m - LN_2 / 0.1).abs() < 1e-13);
        for (damping, stiffness) in [(0.4, -0.05), (-0.2, 0.26)] {
            let Yaw::Grows { double_distance_m } = motion(damping, stiffness) else { panic!() };
            assert!((double_distance_m - LN_2 / 0.1).abs() < 1e-13);
        }
        assert_eq!(motion(0.2, 0.0), Yaw::Grows { double_distance_m: f64::INFINITY });
        // Undamped it remains, and critically damped it does not oscillate.
        assert_eq!(motion(0.0, 0.26), Yaw::Grows { double_distance_m: f64::INFINITY });
        assert_eq!(motion(0.5, 0.0625), Yaw::Decays { half_distance_m: LN_2 / 0.25 });
    }

    #[test]
    fn air_and_drag_out_of_range_are_refused() {
        assert!(ARROW.yaw(0.0, 0.0).is_err());
        assert!(ARROW.yaw(1.2, -1e-6).is_err());
        assert!(FlyingArrow { transverse_inertia_kg_m2: 0.0, ..ARROW }.yaw(1.2, 0.0).is_err());
    }

    #[test]
    fn a_bare_shaft_swings_as_the_sum_of_its_strips() {
        // Each strip normal_forces by its side-on area at a + l w. The two equations' matrix gives wavelength
        // and damping: its trace is -H, its determinant M.
        let shape = ArrowShape { diameter_m: 0.006, tip_m: 0.735, nose_length_m: 0.15, vanes: None, blades: None };
        let arrow = FlyingArrow { balance_m: 0.5, shape, ..ARROW };
        let (rho, drag, straight) = (1.2, 6e-5, 0.585);
        let sine = crate::math::sin(DEFAULT_YAW_RAD);
        let across = 1.1 * sine * sine / DEFAULT_YAW_RAD;
        let strips = 2_000_u32;
        let sum = |moment: &dyn Fn(f64) -> f64| -> f64 {
            let middle = |strip: u32, length: f64| length * (f64::from(strip) + 0.5) / f64::from(strips);
            let shaft = |strip| across * 0.006 * straight / f64::from(strips) * moment(0.5 - middle(strip, straight));
            // On the cone side area and cross-section both grow with the distance from the tip.
            let of_point = 2.0 * PI * 9e-6 + across * 0.5 * 0.006 * 0.15;
            let point = |strip| {
                let from_tip = middle(strip, 0.15);
                of_point * 2.0 * from_tip / (0.15 * f64::from(strips)) * moment(0.5 - (0.735 - from_tip))
            };
            (0..strips).map(|strip| shaft(strip) + point(strip)).sum()
        };
        let (s0, s1, s2) = (sum(&|_| 1.0), sum(&|l| l), sum(&|l| l * l));
        let (c, e) = (0.5 * rho / arrow.mass_kg, 0.5 * rho / arrow.transverse_inertia_kg_m2);
        let [[aa, aw], [wa, ww]] = [[-c * (s0 - drag), 1.0 - c * s1], [-e * s1, c * drag - e * s2]];
        let (trace, determinant) = (aa + ww, aa * ww - aw * wa);
        let Yaw::Oscillates { wavelength_m, half_distance_m, .. } = arrow.yaw(rho, drag).unwrap() else { panic!() };
        assert!((half_distance_m * trace / (-2.0 * LN_2) - 1.0).abs() < 1e-6, "{half_distance_m}");
        let turn = sqrt(determinant - 0.25 * trace * trace);
        assert!((wavelength_m * turn / (2.0 * PI) - 1.0).abs() < 1e-6, "{wavelength_m}");
    }
}
