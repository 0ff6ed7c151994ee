//! Mean friction coefficients of a thin cylinder in axial flow and of a flat plate.
//!
//! Each is friction over dynamic pressure and wetted area, for a Reynolds number `R` on the length of the
//! surface. A cylinder's also depends on length over radius: the layer becomes as thick as the shaft, and
//! the momentum deficit spreads over a growing circumference.
//!
//! A *turbulent* layer here is one that is turbulent as soon as it can remain so. Before that it is laminar,
//! and the usual difference is taken: turbulent over the whole, minus turbulent over the front part, plus
//! laminar there (Prandtl; Schlichting, *Boundary-Layer Theory*, ch. XXI).

use crate::math::{cbrt, pow, sqrt};

/// Reynolds number on length below which a layer cannot stay turbulent.
///
/// A layer needs a Reynolds number of 320 on its momentum thickness (Preston, J. Fluid Mech. 3
/// (1958) 373; memory), and a laminar one reaches that where `0.664 sqrt(R) = 320`.
const MIN_TURBULENT: f64 = (320.0 / 0.664) * (320.0 / 0.664);

/// Friction of Blasius's layer, `tau / (rho U^2) = 0.332057 / sqrt(R)`.
const FLAT: f64 = 0.332_057;

/// Cylinder, laminar.
///
/// Local friction is `a tau / (mu U) = 0.33206/s + 0.69432 - 0.65658 s + ...` with
/// `s = sqrt(nu x / U) / a`: Seban & Bond, J. Aero. Sci. 18 (1951) 671, as corrected by Kelly,
/// J. Aero. Sci. 21 (1954) 634 (cited from memory; the three coefficients were recomputed to
/// these digits). An arrow has s = 0.1 to 0.4, where the series diverges. The last two terms are therefore
/// combined into `0.69432 (1 + 4 k s)^(-1/4)`, `k = 0.65658/0.69432`, which has the same two; the power
/// is the one that follows the numerically solved equations, from which the mean over an arrow, taken
/// here, differs by 0.03 % (checked by the reference script).
pub(super) fn laminar_cylinder(reynolds: f64, length_over_radius: f64) -> f64 {
    const ROUND: f64 = 0.694_322;
    const DECAY: f64 = 4.0 * 0.656_578 / ROUND;
    let s = length_over_radius / sqrt(reynolds);
    let b = DECAY * s;
    let g = 1.0 + b;
    let three_quarters = sqrt(g) * sqrt(sqrt(g));
    let decayed = (g * three_quarters - 1.0) / 1.75 - (three_quarters - 1.0) / 0.75;
    let mean = 2.0 * FLAT / s + 2.0 * ROUND * decayed / (b * b);
    2.0 * mean * length_over_radius / reynolds
}

/// Cylinder, turbulent as soon as possible.
///
/// White's fit `0.0015 + (0.30 + 0.015 (L/a)^0.4) R^(-1/3)`, stated for R of 10^6 to 10^9.
///
/// # References
/// F. M. White, *Viscous Fluid Flow*, turbulent flow past a long cylinder; J. Basic Eng. 94 (1972)
/// 200 (the fit from memory). A momentum balance with the friction law of Ali & Dey, J. Fluid Mech.,
/// October 2023 (abstract read), gives the same within 5 % for arrows (checked by the reference script).
pub(super) fn turbulent_cylinder(reynolds: f64, length_over_radius: f64) -> f64 {
    turbulent(
        reynolds,
        |share| laminar_cylinder(share * reynolds, share * length_over_radius),
        |share| 0.0015 + (0.30 + 0.015 * pow(share * length_over_radius, 0.4)) / cbrt(share * reynolds),
    )
}

/// Plate, laminar (Blasius).
pub(super) fn laminar_plate(reynolds: f64) -> f64 {
    4.0 * FLAT / sqrt(reynolds)
}

/// Plate, turbulent as soon as possible: `0.074 R^(-1/5)` (Schlichting, ch. XXI).
pub(super) fn turbulent_plate(reynolds: f64) -> f64 {
    turbulent(reynolds, |share| laminar_plate(share * reynolds), |share| 0.074 * pow(share * reynolds, -0.2))
}

/// Laminar over the front part, turbulent behind it; both laws are means over a front share.
fn turbulent(reynolds: f64, laminar: impl Fn(f64) -> f64, fully: impl Fn(f64) -> f64) -> f64 {
    let front = MIN_TURBULENT / reynolds;
    if front >= 1.0 { laminar(1.0) } else { fully(1.0) - front * (fully(front) - laminar(front)) }
}

/// The share-weighted mean of both; a value with weight 0 is not computed.
pub(super) fn mixed(turbulent_share: f64, laminar: impl Fn() -> f64, turbulent: impl Fn() -> f64) -> f64 {
    if turbulent_share <= 0.0 {
        laminar()
    } else if turbulent_share >= 1.0 {
        turbulent()
    } else {
        (1.0 - turbulent_share) * laminar() + turbulent_share * turbulent()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_short_wide_cylinder_is_a_plate() {
        // s = 1e-3: over the length the round term adds 0.694/0.664 s, a thousandth.
        let (reynolds, length_over_radius) = (1e6, 1.0);
        let ratio = laminar_cylinder(reynolds, length_over_radius) / laminar_plate(reynolds);
        assert!((ratio - 1.0 - 0.694_322 / 0.664_114 * 1e-3).abs() < 2e-6, "{ratio}");
    }

    #[test]
    fn the_mean_of_the_local_friction_is_taken() {
        // Midpoint sum of the local law over the length, in sqrt(x).
        let (reynolds, length_over_radius) = (1.5e6, 250.0);
        let s = length_over_radius / sqrt(reynolds);
        let local = |s: f64| 0.332_057 / s + 0.694_322 * pow(1.0 + 4.0 * 0.656_578 / 0.694_322 * s, -0.25);
        let steps = 4_000_u32;
        let mean: f64 = (0..steps)
            .map(|step| (f64::from(step) + 0.5) / f64::from(steps))
            .map(|root| local(s * root) * 2.0 * root / f64::from(steps))
            .sum();
        let found = laminar_cylinder(reynolds, length_over_radius);
        assert!((found / (2.0 * mean * length_over_radius / reynolds) - 1.0).abs() < 1e-7);
    }

    #[test]
    fn turbulence_sets_in_without_a_jump() {
        for law in [|r| turbulent_cylinder(r, 200.0), turbulent_plate as fn(f64) -> f64] {
            let before = law(MIN_TURBULENT * (1.0 - 1e-9));
            let behind = law(MIN_TURBULENT * (1.0 + 1e-9));
            assert!((behind / before - 1.0).abs() < 1e-8);
            // A laminar layer's coefficient falls by 1/sqrt(2) as its length doubles; this one's does not.
            assert!(law(2.0 * MIN_TURBULENT) > 0.85 * law(MIN_TURBULENT));
        }
    }

    #[test]
    fn turbulent_laws_are_as_published() {
        // By hand: 32^0.4 = 4 and the cube root of 1e9 is 1000, so White's fit is 0.0015 + 0.36 / 1000; the laminar
        // front takes 4e-4 of it. 0.074 R^(-1/5) at R = 1e10 is 0.00074, of which the front takes 5e-5.
        let cylinder = turbulent_cylinder(1e9, 32.0) / 0.001_86 - 1.0;
        assert!((-5e-4..-4e-4).contains(&cylinder), "{cylinder:e}");
        let plate = turbulent_plate(1e10) / 0.000_74 - 1.0;
        assert!((-2e-4..0.0).contains(&plate), "{plate:e}");
    }

    #[test]
    fn behind_the_onset_a_layer_grows_as_if_turbulent_from_the_front() {
        // Prandtl's difference: friction, which goes by R C, gains with length what the turbulent law gains.
        let over_radius = |reynolds: f64| reynolds / 8e3;
        let white = |r: f64| 0.0015 + (0.30 + 0.015 * pow(over_radius(r), 0.4)) / cbrt(r);
        let schlichting = |r: f64| 0.074 * pow(r, -0.2);
        let onset = MIN_TURBULENT;
        let beyond_white = |r: f64| r * (turbulent_cylinder(r, over_radius(r)) - white(r));
        let beyond_schlichting = |r: f64| r * (turbulent_plate(r) - schlichting(r));
        let at_onset = onset * (laminar_cylinder(onset, over_radius(onset)) - white(onset));
        let plate_at_onset = onset * (1.328_228 / sqrt(onset) - schlichting(onset));
        for times in [1.5, 4.0, 30.0] {
            assert!((beyond_white(times * onset) / at_onset - 1.0).abs() < 1e-11, "{times}");
            assert!((beyond_schlichting(times * onset) / plate_at_onset - 1.0).abs() < 1e-11, "{times}");
        }
    }

    #[test]
    fn a_layer_can_be_turbulent_where_its_momentum_thickness_reaches_preston_s() {
        // Blasius's momentum thickness has the Reynolds number 0.664 sqrt(R), and 320 are needed.
        assert!((0.664 * sqrt(MIN_TURBULENT) - 320.0).abs() < 1e-10);
    }
}
