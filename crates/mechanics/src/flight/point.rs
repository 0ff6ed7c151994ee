//! Where an arrow is in its flight, and how fast.

use super::runge_kutta::State;
use crate::bow::{kinetic_energy_j, momentum};
use crate::error::Result;
use crate::math::{cos, sin, sqrt};
use crate::parameter::Parameter;

/// Position and velocity of an arrow at one time of its flight.
///
/// # Examples
/// ```
/// use clothyard_mechanics::flight::TrajectoryPoint;
/// // 50 m/s at a rise of 3 in 4, no wind yet: 40 m/s along and 30 m/s up.
/// let launch = TrajectoryPoint::launch([0.0, 1.5, 0.0], 50.0, f64::atan(3.0 / 4.0), 0.0)?;
/// let [along, up, right] = launch.velocity_m_per_s;
/// assert!((along - 40.0).abs() < 1e-13 && (up - 30.0).abs() < 1e-13 && right == 0.0);
/// assert!((launch.speed_m_per_s() - 50.0).abs() < 1e-13);
/// assert!((launch.kinetic_energy_j(0.020) - 25.0).abs() < 1e-13);
/// assert!((launch.momentum_kg_m_per_s(0.020) - 1.0).abs() < 1e-15);
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TrajectoryPoint {
    /// Time since launch, s.
    pub time_s: f64,
    /// Distance along the line of sight, m.
    pub distance_m: f64,
    /// Height over the line of sight, perpendicular to it, m.
    pub height_m: f64,
    /// Distance to the right, m.
    pub right_m: f64,
    /// Velocity along the line of sight, upward perpendicular to it, and to the right, m/s.
    pub velocity_m_per_s: [f64; 3],
}

impl TrajectoryPoint {
    /// The launch from a position (m along, up, right; each within 1000 m), with a speed (0.1 to 1000 m/s),
    /// at an angle (-3 to 3 rad) above the line of sight and an angle (-1.6 to 1.6 rad) to the right of it.
    ///
    /// Example: see [`TrajectoryPoint`].
    ///
    /// # Errors
    /// [`crate::Error::OutOfRange`] for any of them.
    pub fn launch(place_m: [f64; 3], speed_m_per_s: f64, elevation_rad: f64, azimuth_rad: f64) -> Result<Self> {
        let v = Parameter::Speed.check(speed_m_per_s)?;
        let up = Parameter::Elevation.check(elevation_rad)?;
        let right = Parameter::Azimuth.check(azimuth_rad)?;
        let velocity_m_per_s = [v * cos(up) * cos(right), v * sin(up), v * cos(up) * sin(right)];
        let [distance_m, height_m, right_m] = place_m;
        place_m.iter().try_for_each(|&way| Parameter::LaunchPlace.check(way).map(drop))?;
        Ok(Self { time_s: 0.0, distance_m, height_m, right_m, velocity_m_per_s })
    }

    /// Speed over ground, m/s.
    #[must_use]
    pub fn speed_m_per_s(&self) -> f64 {
        length(self.velocity_m_per_s)
    }

    /// Kinetic energy (J) of an arrow of this mass.
    #[must_use]
    pub fn kinetic_energy_j(&self, mass_kg: f64) -> f64 {
        kinetic_energy_j(mass_kg, self.speed_m_per_s())
    }

    /// Momentum (kg m/s) of an arrow of this mass.
    #[must_use]
    pub fn momentum_kg_m_per_s(&self, mass_kg: f64) -> f64 {
        momentum(mass_kg, self.speed_m_per_s())
    }

    pub(super) fn of(time_s: f64, state: &State) -> Self {
        let [distance_m, height_m, right_m, along, up, right] = *state;
        Self { time_s, distance_m, height_m, right_m, velocity_m_per_s: [along, up, right] }
    }

    pub(super) fn state(&self) -> State {
        let [along, up, right] = self.velocity_m_per_s;
        [self.distance_m, self.height_m, self.right_m, along, up, right]
    }
}

pub(super) fn length([x, y, z]: [f64; 3]) -> f64 {
    sqrt(x * x + y * y + z * z)
}
