//! How far an arrow can fly at all, for the ground that has to be kept clear.
//!
//! The launch angle (rad) is sought at which the arrow comes down farthest (m), by golden section over
//! the paths of [`super::Flight`]. Without air it would be 45 degrees on the level, and
//!
//! ```text
//! X = v^2 / g        m
//! ```
//!
//! Drag brings both down. The answer holds for a whole arrow with the drag stated; one that has lost
//! its point or flies off line is another matter.
//!
//! # References
//! The vacuum range is that of the parabola; golden section: Kiefer, Proc. Amer. Math. Soc. 4 (1953).

use core::f64::consts::FRAC_PI_2;

use super::path::{Flight, TrajectoryPoint};
use crate::error::Result;
use crate::golden_section::golden_section_max;
use crate::parameter::Parameter;

/// Launch angle to which the farthest shot is found, rad; its distance is then known far better.
const ELEVATION_TOLERANCE_RAD: f64 = 1e-5;

/// The farthest shot: what [`Flight::farthest`] gives.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Farthest {
    /// Launch angle above the line of sight, rad, to within about 1e-5.
    pub elevation_rad: f64,
    /// The arrow as it comes down; its distance is the farthest.
    pub landing: TrajectoryPoint,
}

impl Flight<'_> {
    /// The farthest shot over ground that runs along the line of sight, a launch height (0 to 1000 m) below the launch.
    ///
    /// This is how far the arrow can go by gravity, drag and this wind alone. It does not say how much ground to
    /// keep clear: that is for local rules, and an arrow may glance off and go on.
    ///
    /// # Errors
    /// [`crate::Error::OutOfRange`] for speed or height; [`crate::Error::NotReached`] where the arrow does not come down within
    /// [`super::LONGEST_FLIGHT_S`], as for want of gravity; else as [`Self::at_distances`].
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

    /// The same for a launch that depends on its angle, coming down through the line of sight.
    pub(super) fn farthest_of(&self, launch: impl Fn(f64) -> Result<TrajectoryPoint>) -> Result<Farthest> {
        let landing = |elevation| self.landing(&launch(elevation)?);
        let steepest = FRAC_PI_2 - self.conditions().slope_rad;
        let distance = |elevation| landing(elevation).map(|point| point.distance_m);
        let (elevation_rad, _) = golden_section_max(distance, 0.0, steepest, ELEVATION_TOLERANCE_RAD)?;
        Ok(Farthest { elevation_rad, landing: landing(elevation_rad)? })
    }

    /// Where the arrow comes down through the line of sight: its apex when that is not above it.
    pub(super) fn landing(&self, launch: &TrajectoryPoint) -> Result<TrajectoryPoint> {
        let apex = self.apex(launch)?;
        if apex.height_m > 0.0 { self.descent(&apex, 0.0) } else { Ok(apex) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::flight::path::{Accuracy, Conditions};
    use crate::math::sin;
    use crate::units::STANDARD_GRAVITY;

    #[test]
    fn in_a_vacuum_the_farthest_shot_up_or_down_a_slope_has_a_closed_form() {
        // v^2 / (g (1 + sin s)), the launch half way between slope and plumb.
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
