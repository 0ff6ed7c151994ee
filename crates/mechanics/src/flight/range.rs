//! The maximum range of an arrow, for the ground that has to be kept clear.

use core::f64::consts::FRAC_PI_2;

use super::path::Flight;
use super::point::TrajectoryPoint;
use crate::error::Result;
use crate::golden_section::golden_section_max;
use crate::parameter::Parameter;

/// Tolerance of the launch angle of the farthest shot, rad; its distance is far more accurate.
const ELEVATION_TOLERANCE_RAD: f64 = 1e-5;

/// The farthest shot: the result of [`Flight::farthest`].
///
/// The launch angle (rad) at which the arrow lands farthest (m) is found by golden-section search over the
/// trajectories of [`Flight`]. Without air it would be 45 degrees on level ground, and
///
/// ```text
/// X = v^2 / g        m
/// ```
///
/// Drag lowers both. The result holds for a whole arrow with the drag stated, not for one that has lost its point or
/// flies off line.
///
/// # References
/// The vacuum range is that of the parabola; golden section: Kiefer, Proc. Amer. Math. Soc. 4 (1953).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Farthest {
    /// Launch angle above the line of sight, rad, to within about 1e-5.
    pub elevation_rad: f64,
    /// The arrow at landing; its distance is the maximum.
    pub landing: TrajectoryPoint,
}

impl Flight<'_> {
    /// The farthest shot over ground parallel to the line of sight, a launch height (0 to 1000 m) below the launch.
    ///
    /// This is the range by gravity, drag and this wind alone. It does not say how much ground to keep clear: local
    /// rules decide that, and an arrow may ricochet.
    ///
    /// # Errors
    /// [`crate::Error::OutOfRange`] for speed or height; [`crate::Error::NotReached`] where the arrow does
    /// not land within [`super::LONGEST_FLIGHT_S`], such as without gravity; otherwise as
    /// [`Self::at_distances`].
    ///
    /// # Examples
    /// ```
    /// use clothyard_mechanics::flight::{Accuracy, Conditions, Flight};
    /// let vacuum = Flight::new(&|_| 0.0, Conditions::default(), Accuracy::default())?;
    /// let farthest = vacuum.farthest(60.0, 0.0)?;
    /// assert!((farthest.landing.distance_m - 60.0 * 60.0 / 9.80665).abs() < 1e-8);
    /// # Ok::<(), clothyard_mechanics::Error>(())
    /// ```
    pub fn farthest(&self, speed_m_per_s: f64, launch_height_m: f64) -> Result<Farthest> {
        let height_m = Parameter::LaunchHeight.check(launch_height_m)?;
        self.farthest_of(|elevation| TrajectoryPoint::launch([0.0, height_m, 0.0], speed_m_per_s, elevation, 0.0))
    }

    /// The same for a launch that depends on its angle, landing on the line of sight.
    pub(super) fn farthest_of(&self, launch: impl Fn(f64) -> Result<TrajectoryPoint>) -> Result<Farthest> {
        let landing = |elevation| self.landing(&launch(elevation)?);
        let steepest = FRAC_PI_2 - self.conditions().slope_rad;
        let distance = |elevation| landing(elevation).map(|point| point.distance_m);
        let (elevation_rad, _) = golden_section_max(distance, 0.0, steepest, ELEVATION_TOLERANCE_RAD)?;
        Ok(Farthest { elevation_rad, landing: landing(elevation_rad)? })
    }

    /// Where the arrow descends through the line of sight: its apex if that is not above it.
    pub(super) fn landing(&self, launch: &TrajectoryPoint) -> Result<TrajectoryPoint> {
        let apex = self.apex(launch)?;
        if apex.height_m > 0.0 { self.descent(&apex, 0.0) } else { Ok(apex) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::flight::motion::{Accuracy, Conditions};
    use crate::math::sin;
    use crate::units::STANDARD_GRAVITY;

    #[test]
    fn in_a_vacuum_the_farthest_shot_up_or_down_a_slope_has_a_closed_form() {
        // v^2 / (g (1 + sin s)), the launch half-way between slope and vertical.
        for slope_rad in [0.6, 0.0, -0.4, -1.0] {
            let conditions = Conditions { slope_rad, ..Conditions::default() };
            let flight = Flight::new(&|_| 0.0, conditions, Accuracy::default()).unwrap();
            let found = flight.farthest(60.0, 0.0).unwrap();
            let distance = 3600.0 / (STANDARD_GRAVITY * (1.0 + sin(slope_rad)));
            assert!((found.landing.distance_m / distance - 1.0).abs() < 1e-9, "{slope_rad}: {found:?}");
            assert!((found.elevation_rad - 0.5 * (FRAC_PI_2 - slope_rad)).abs() < 2e-5, "{slope_rad}: {found:?}");
        }
    }

    #[test]
    fn a_level_shot_on_the_line_of_sight_is_down_at_once() {
        let flight = Flight::new(&|_| 0.0, Conditions::default(), Accuracy::default()).unwrap();
        let launch = TrajectoryPoint::launch([0.0; 3], 60.0, 0.0, 0.0).unwrap();
        assert_eq!(flight.landing(&launch), Ok(launch));
    }
}
