//! A set of thin fins on a round body: the normal force when the body yaws, and where it acts.

use core::f64::consts::PI;

use crate::error::Result;
use crate::math::sqrt;
use crate::parameter::Parameter;

/// Equal trapezoidal fins spread evenly around a body.
///
/// A fin of span `s`, root chord `a`, tip chord `b` and mid-chord line of length `l` (all m) has
///
/// ```text
/// N / (q alpha) = 2 pi s^2 / (1 + sqrt(1 + (2 l / (a + b))^2))        one fin perpendicular to the yaw
/// set of n      = K (n / 2) times that,     K = 1 + r / (s + r)       body of radius r
/// X             = m (a + 2 b) / (3 (a + b)) + (a + b - a b / (a + b)) / 6
/// ```
///
/// with `N` the normal force (N), `q` the dynamic pressure (Pa), `alpha` the yaw in radians, `m` the sweep of
/// the leading edge and `X` the distance from the front of the root back to the center of pressure (m). The
/// slope is given as an area, `N / (q alpha)`, m^2: the areas of different parts add, and divided by a
/// reference area they are the coefficient `C_N_alpha`.
///
/// The theory is linear and incompressible: small yaw, thin flat fins. The normal force of a low fin depends
/// on its span alone (the limit is `pi s^2`), so more length adds little force and moves its center forward.
/// Neglected are edge vortices, which depend on the area and add to the force beyond a few degrees, and the
/// boundary layer of the shaft, which reduces the force of a low fin: on a flat plate of 0.7 m at 60 m/s it
/// is 2 mm thick when laminar and 13 mm when turbulent.
///
/// # Examples
/// A fin, and a set of three, as `RocketPy` 1.13.0 gives them:
/// ```
/// use clothyard_mechanics::flight::FinSet;
/// let fins = FinSet {
///     count: 3,
///     root_chord_m: 0.0508,
///     tip_chord_m: 0.0254,
///     span_m: 0.0127,
///     sweep_m: 0.0254,
///     body_radius_m: 0.0031,
///     front_m: 0.08,
/// }
/// .checked()?;
/// assert!((fins.fin_area_m2() - (0.0508 + 0.0254) / 2.0 * 0.0127).abs() < 1e-15);
/// let reference_m2 = core::f64::consts::PI * 0.0031 * 0.0031;
/// assert!((fins.fin_normal_force_area_m2() / reference_m2 - 15.942_272_352_7).abs() < 5e-10);
/// assert!((fins.interference() - 1.196_202_531_6).abs() < 1e-10);
/// assert!((fins.normal_force_area_m2() / reference_m2 - 28.605_279_8).abs() < 5e-8);
/// assert!((fins.center_behind_front_m() - 0.021_166_666_7).abs() < 5e-11);
/// assert!((fins.center_m() - (0.08 - 0.021_166_666_7)).abs() < 5e-11);
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
/// In roll, of rectangular fins of span `s` on a radius `r`, with the spin's formulas ([`super::Spin`]):
/// ```
/// use clothyard_mechanics::flight::FinSet;
/// let (s, r, a) = (0.012, 0.003, 0.05);
/// let fins = FinSet {
///     count: 3, root_chord_m: a, tip_chord_m: a, span_m: s, sweep_m: 0.0, body_radius_m: r, front_m: 0.08,
/// };
/// // The mean of y^2 from r to r + s, and the mean of y.
/// assert!((fins.mean_square_radius_m2() - (r * r + r * s + s * s / 3.0)).abs() < 1e-18);
/// let three = 3.0 * fins.fin_normal_force_area_m2();
/// let drive_m3 = fins.drive_interference() * three * (r + s / 2.0);
/// let damping_m4 = fins.damping_interference() * three * fins.mean_square_radius_m2();
/// assert!((fins.roll_drive_m3() / drive_m3 - 1.0).abs() < 1e-14);
/// assert!((fins.roll_damping_m4() / damping_m4 - 1.0).abs() < 1e-14);
/// // A vanishing fin: the body doubles the damping and leaves the drive unchanged.
/// let low = FinSet { span_m: 1e-9, ..fins };
/// assert!((low.drive_interference() - 1.0).abs() < 2e-4);
/// assert!((low.damping_interference() - 2.0).abs() < 2e-4);
/// ```
///
/// # References
/// Barrowman & Barrowman, "The Theoretical Prediction of the Center of Pressure" (1966), eqs. 57-59 (one
/// fin), 76a and 77 (the set and its interference), 79 and 80 (center). Five and six fins: Niskanen,
/// *OpenRocket technical documentation* (2013), as `RocketPy` 1.13.0 gives it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FinSet {
    /// How many, 2 to 6.
    ///
    /// With three or more the force is the same in every direction. With two it is between 0 and twice the mean,
    /// depending on roll; the mean over a revolution is taken, for a spinning arrow.
    pub count: u32,
    /// Chord where the fin meets the body, m.
    pub root_chord_m: f64,
    /// Chord at the outer end, m; 0 for a triangle.
    pub tip_chord_m: f64,
    /// Height above the body, m; 0 for no fin at all.
    pub span_m: f64,
    /// Distance the leading edge runs back from root to tip, m.
    pub sweep_m: f64,
    /// Radius of the body under the fins, m.
    pub body_radius_m: f64,
    /// Front end of the root chord from the nock groove, m.
    pub front_m: f64,
}

impl FinSet {
    /// The same set, if every number is in range: 2 to 6 fins, root chord 0.1 mm to 2 m, span to 0.2 m, body
    /// radius 0.1 to 50 mm, position -1 to 3 m.
    ///
    /// Example: see [`FinSet`].
    ///
    /// # Errors
    /// [`crate::Error::OutOfRange`] naming the first number that is not.
    pub fn checked(self) -> Result<Self> {
        Parameter::FinCount.check(f64::from(self.count))?;
        Parameter::PartLength.check(self.root_chord_m)?;
        Parameter::TipChord.check(self.tip_chord_m)?;
        Parameter::FinSpan.check(self.span_m)?;
        Parameter::Sweep.check(self.sweep_m)?;
        Parameter::BodyRadius.check(self.body_radius_m)?;
        Parameter::Position.check(self.front_m)?;
        Ok(self)
    }

    /// Area of one side of one fin, m^2.
    #[must_use]
    pub fn fin_area_m2(&self) -> f64 {
        0.5 * (self.root_chord_m + self.tip_chord_m) * self.span_m
    }

    /// Normal force of one fin alone, perpendicular to the yaw, per radian and dynamic pressure, m^2.
    #[must_use]
    pub fn fin_normal_force_area_m2(&self) -> f64 {
        let (a, b, s) = (self.root_chord_m, self.tip_chord_m, self.span_m);
        let mid_chord_run = self.sweep_m + 0.5 * (b - a);
        let slenderness = 2.0 * sqrt(s * s + mid_chord_run * mid_chord_run) / (a + b);
        2.0 * PI * s * s / (1.0 + sqrt(1.0 + slenderness * slenderness))
    }

    /// Factor, at least 1, by which the body increases the normal force of the fins on it.
    #[must_use]
    pub fn interference(&self) -> f64 {
        1.0 + self.body_radius_m / (self.span_m + self.body_radius_m)
    }

    /// Normal force of the set on its body per radian of yaw and dynamic pressure, m^2.
    #[must_use]
    pub fn normal_force_area_m2(&self) -> f64 {
        self.interference() * self.effective_count() * self.fin_normal_force_area_m2()
    }

    /// Center of pressure behind the front of the root, m.
    #[must_use]
    pub fn center_behind_front_m(&self) -> f64 {
        let (a, b) = (self.root_chord_m, self.tip_chord_m);
        self.sweep_m * (a + 2.0 * b) / (3.0 * (a + b)) + (a + b - a * b / (a + b)) / 6.0
    }

    /// Center of pressure from the nock groove, m.
    #[must_use]
    pub fn center_m(&self) -> f64 {
        self.front_m - self.center_behind_front_m()
    }

    /// Number of fins perpendicular to the yaw with the same normal force as the set.
    fn effective_count(&self) -> f64 {
        match self.count {
            5 => 2.37,
            6 => 2.74,
            count => 0.5 * f64::from(count),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const FINS: FinSet = FinSet {
        count: 3,
        root_chord_m: 0.0508,
        tip_chord_m: 0.0254,
        span_m: 0.0127,
        sweep_m: 0.0254,
        body_radius_m: 0.0031,
        front_m: 0.08,
    };

    #[test]
    fn a_slender_fin_pulls_by_its_span_and_a_tall_one_by_its_area() {
        // Slender wing (Jones 1946): pi s^2 for half a wing. Strip (Prandtl): 2 pi times its area.
        let square =
            |root_chord_m, span_m| FinSet { root_chord_m, tip_chord_m: root_chord_m, span_m, sweep_m: 0.0, ..FINS };
        let slender = square(1.0, 0.001);
        assert!((slender.fin_normal_force_area_m2() / (PI * 1e-6) - 1.0).abs() < 3e-7);
        let tall = square(1e-4, 0.1);
        assert!((tall.fin_normal_force_area_m2() / (2.0 * PI * tall.fin_area_m2()) - 1.0).abs() < 1.1e-3);
    }

    #[test]
    fn a_triangle_has_its_center_half_way_back_and_a_rectangle_a_quarter() {
        let delta = FinSet { tip_chord_m: 0.0, sweep_m: 0.0508, ..FINS };
        assert!((delta.center_behind_front_m() - 0.0508 / 2.0).abs() < 1e-17);
        let rectangle = FinSet { tip_chord_m: 0.0508, sweep_m: 0.0, ..FINS };
        assert!((rectangle.center_behind_front_m() - 0.0508 / 4.0).abs() < 1e-17);
    }

    #[test]
    fn the_body_doubles_the_pull_of_fins_that_barely_stick_out_of_it() {
        assert!((FinSet { span_m: 1e-6, ..FINS }.interference() - 2.0).abs() < 4e-4);
        assert!((FinSet { body_radius_m: 1e-4, ..FINS }.interference() - 1.0).abs() < 8e-3);
        assert!((FINS.interference() - (1.0 + 3.1 / 15.8)).abs() < 1e-15);
    }

    #[test]
    fn no_height_is_no_pull_and_more_fins_pull_more() {
        assert!(FinSet { span_m: 0.0, ..FINS }.normal_force_area_m2().abs() < f64::MIN_POSITIVE);
        let pulls = [2, 3, 4, 5, 6].map(|count| FinSet { count, ..FINS }.normal_force_area_m2());
        assert!(pulls.is_sorted_by(|less, more| less < more));
        assert!((pulls[2] / pulls[0] - 2.0).abs() < 1e-15);
    }

    #[test]
    fn what_is_no_fin_is_refused_by_name() {
        let refused = |fins: FinSet| match fins.checked() {
            Err(crate::Error::OutOfRange { parameter, .. }) => parameter,
            other => panic!("{other:?}"),
        };
        assert_eq!(refused(FinSet { count: 1, ..FINS }), Parameter::FinCount);
        assert_eq!(refused(FinSet { root_chord_m: 0.0, ..FINS }), Parameter::PartLength);
        assert_eq!(refused(FinSet { tip_chord_m: -1e-3, ..FINS }), Parameter::TipChord);
        assert_eq!(refused(FinSet { span_m: f64::NAN, ..FINS }), Parameter::FinSpan);
        assert_eq!(refused(FinSet { sweep_m: -1e-3, ..FINS }), Parameter::Sweep);
        assert_eq!(refused(FinSet { body_radius_m: 0.0, ..FINS }), Parameter::BodyRadius);
        assert!(FINS.checked().is_ok());
    }

    #[test]
    fn a_trapezoid_is_as_in_rocketpy() {
        // RocketPy 1.13.0, on the cross-section of the body: one fin, the set of three and its center.
        let reference = PI * FINS.body_radius_m * FINS.body_radius_m;
        assert!((FINS.fin_normal_force_area_m2() / reference - 15.942_272_352_7).abs() < 1e-9);
        assert!((FINS.interference() - 1.196_202_531_6).abs() < 1e-10);
        assert!((FINS.normal_force_area_m2() / reference - 28.605_279_8).abs() < 1e-7);
        assert!((FINS.center_behind_front_m() - 0.021_166_666_7).abs() < 1e-10);
        assert!((FINS.center_m() - (0.08 - 0.021_166_666_7)).abs() < 1e-10);
    }
}
