//! The trajectory of an arrow: a point mass in moving air.

use super::integrator::Integrator;
use super::runge_kutta::State;
use crate::bow::{kinetic_energy_j, momentum};
use crate::error::{Error, Result};
use crate::math::{cos, sin, sqrt};
use crate::parameter::Parameter;
use crate::units::STANDARD_GRAVITY;

/// Maximum time a flight is followed, s: two minutes, far more than an arrow needs.
pub const LONGEST_FLIGHT_S: f64 = 120.0;

/// Gravity, slope and wind.
///
/// # Examples
/// ```
/// use clothyard_mechanics::flight::Conditions;
/// let uphill = Conditions { slope_rad: 0.2, ..Conditions::default() };
/// assert_eq!(uphill.gravity_m_per_s2, 9.80665);
/// assert_eq!(uphill.wind_m_per_s, [0.0; 3]);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Conditions {
    /// Acceleration of gravity, m/s^2, 0 to 30.
    pub gravity_m_per_s2: f64,
    /// Rise of the line of sight above level ground, rad: uphill is above 0; -1.2 to 1.2.
    pub slope_rad: f64,
    /// Wind, m/s: level away from the archer, upright, level to the right. A crosswind from the left is above 0.
    /// Each within 100.
    pub wind_m_per_s: [f64; 3],
}

impl Default for Conditions {
    /// Standard gravity, level, calm.
    fn default() -> Self {
        Self { gravity_m_per_s2: STANDARD_GRAVITY, slope_rad: 0.0, wind_m_per_s: [0.0; 3] }
    }
}

impl Conditions {
    /// The same with a level wind (m/s) from a direction, rad clockwise: 0 from the target, a quarter turn from the
    /// right.
    ///
    /// # Examples
    /// ```
    /// use clothyard_mechanics::flight::Conditions;
    /// let from_the_right = Conditions::default().with_wind_from(5.0, core::f64::consts::FRAC_PI_2);
    /// assert_eq!(from_the_right.wind_m_per_s[2], -5.0);
    /// ```
    #[must_use]
    pub fn with_wind_from(self, speed_m_per_s: f64, from_rad: f64) -> Self {
        let (along, right) = (-speed_m_per_s * cos(from_rad), -speed_m_per_s * sin(from_rad));
        Self { wind_m_per_s: [along, 0.0, right], ..self }
    }

    pub(super) fn check(&self) -> Result<()> {
        Parameter::Gravity.check(self.gravity_m_per_s2)?;
        Parameter::Slope.check(self.slope_rad)?;
        self.wind_m_per_s.iter().try_for_each(|&speed| Parameter::WindSpeed.check(speed).map(drop))
    }
}

/// Error allowed in one step, in each component of position (m) and velocity (m/s). Example: see [`Flight`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Accuracy {
    /// As a fraction of the component, 1e-13 to 1e-2.
    pub relative: f64,
    /// Added to that, 1e-13 to 1e-2 m or m/s.
    pub absolute: f64,
}

impl Default for Accuracy {
    /// 1e-8 both: accurate to a micrometer at 100 m. A hundredth of that takes twice as long.
    fn default() -> Self {
        Self { relative: 1e-8, absolute: 1e-8 }
    }
}

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
    /// [`Error::OutOfRange`] for any of them.
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

/// How an arrow flies, from any launch.
///
/// The x axis runs along the line of sight, y upward perpendicular to it, z to the right (m). Where the line
/// of sight rises by the slope s (rad) above level ground, gravity points along `(-sin s, -cos s, 0)`. Drag
/// acts against the velocity through the air, and there is no lift:
///
/// ```text
/// dv/dt = g - k(|u|) |u| u,   u = v - wind,   k = rho Cd A / (2 m)
/// ```
///
/// `k`, in 1/m, is the fraction of its airspeed that the arrow loses per meter. It is a function of airspeed
/// supplied by the caller: [`super::Drag::per_meter`], or any other.
///
/// Assumptions: zero yaw, uniform air and wind, flat ground and uniform gravity: adequate for the hundreds of
/// meters of an arrow's flight. Lift, yaw and spin are not included.
///
/// # Examples
/// Without air, the parabola of the textbooks:
/// ```
/// use clothyard_mechanics::flight::{Accuracy, Conditions, Flight, TrajectoryPoint};
/// let (v, g) = (60.0_f64, 9.80665);
/// let vacuum = Flight::new(&|_airspeed| 0.0, Conditions::default(), Accuracy::default())?;
/// let launch = TrajectoryPoint::launch([0.0; 3], v, 0.10, 0.0)?;
/// let (along, up) = (v * f64::cos(0.10), v * f64::sin(0.10));
///
/// let apex = vacuum.apex(&launch)?;
/// assert!((apex.height_m - up * up / (2.0 * g)).abs() < 1e-12);
/// let down = vacuum.descent(&apex, 0.0)?;
/// assert!((down.distance_m - along * 2.0 * up / g).abs() < 1e-12);
/// let there = vacuum.at_distance(&launch, 40.0)?;
/// assert!((there.height_m - (40.0 * f64::tan(0.10) - g * (40.0 / along).powi(2) / 2.0)).abs() < 1e-12);
/// vacuum.at_times(&launch, [0.5, 1.0], |point| {
///     assert!((point.distance_m - along * point.time_s).abs() < 1e-12);
/// })?;
/// // When is it first a meter up?
/// let a_meter_up = vacuum.crossing(&launch, apex.time_s, |point| point.height_m - 1.0)?;
/// let t = (up - f64::sqrt(up * up - 2.0 * g * 1.0)) / g;
/// assert!(a_meter_up.is_some_and(|point| (point.time_s - t).abs() < 1e-12));
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
/// With drag and no gravity, `v0 exp(-k x)`:
/// ```
/// use clothyard_mechanics::flight::{Accuracy, Conditions, Flight, TrajectoryPoint};
/// let accuracy = Accuracy { relative: 1e-10, absolute: 1e-10 };
/// let flight = Flight::new(&|_airspeed| 0.0015, Conditions::default(), accuracy)?;
/// let weightless = flight.under(Conditions { gravity_m_per_s2: 0.0, ..*flight.conditions() })?;
/// let launch = TrajectoryPoint::launch([0.0; 3], 60.0, 0.0, 0.0)?;
/// weightless.at_distances(&launch, [20.0, 40.0, 60.0], |point| {
///     let left = 60.0 * f64::exp(-0.0015 * point.distance_m);
///     assert!((point.speed_m_per_s() - left).abs() < 1e-8);
/// })?;
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
///
/// # References
/// McCoy, *Modern Exterior Ballistics*, 2nd ed., 2012: the point-mass trajectory.
#[derive(Clone, Copy)]
pub struct Flight<'a> {
    drag: &'a dyn Fn(f64) -> f64,
    conditions: Conditions,
    pub(super) accuracy: Accuracy,
    /// Gravity along the line of sight and perpendicular to it, m/s^2.
    gravity: [f64; 2],
    /// Wind along the line of sight, upward perpendicular to it, and to the right, m/s.
    wind: [f64; 3],
}

impl<'a> Flight<'a> {
    /// The flight of an arrow whose drag (deceleration over the square of airspeed, 1/m) is a function of
    /// airspeed (m/s).
    ///
    /// The drag is evaluated at any airspeed, and must be between 0 and 1.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] for the conditions or the accuracy.
    pub fn new(drag: &'a dyn Fn(f64) -> f64, conditions: Conditions, accuracy: Accuracy) -> Result<Self> {
        conditions.check()?;
        Parameter::StepError.check(accuracy.relative)?;
        Parameter::StepError.check(accuracy.absolute)?;
        let (sin, cos) = (sin(conditions.slope_rad), cos(conditions.slope_rad));
        let g = conditions.gravity_m_per_s2;
        let [along, up, right] = conditions.wind_m_per_s;
        let wind = [along * cos + up * sin, up * cos - along * sin, right];
        Ok(Self { drag, conditions, accuracy, gravity: [-g * sin, -g * cos], wind })
    }

    /// The same arrow in other conditions.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] for the conditions.
    pub fn under(&self, conditions: Conditions) -> Result<Self> {
        Self::new(self.drag, conditions, self.accuracy)
    }

    /// The conditions of the flight.
    #[must_use]
    pub fn conditions(&self) -> &Conditions {
        &self.conditions
    }

    /// Calls `each` with the point at each of the distances (m), in ascending order.
    ///
    /// If a strong headwind turns the arrow back, the first passage counts.
    ///
    /// # Errors
    /// [`Error::NotReached`] for a distance the arrow does not reach within
    /// [`LONGEST_FLIGHT_S`]; [`Error::OutOfRange`] for one behind the launch or the one before, and for
    /// drag that is not 0 to 1 per meter; [`Error::NoConvergence`] where a discontinuous drag
    /// makes the steps too short.
    pub fn at_distances(
        &self,
        launch: &TrajectoryPoint,
        distances_m: impl IntoIterator<Item = f64>,
        each: impl FnMut(TrajectoryPoint),
    ) -> Result<()> {
        self.at_each(launch, Parameter::Distance, distances_m, |point| point.distance_m, each)
    }

    /// Calls `each` with the point at each of the times (0 to 120 s since launch), in ascending order.
    /// Example: see [`Flight`].
    ///
    /// # Errors
    /// As [`Self::at_distances`].
    pub fn at_times(
        &self,
        launch: &TrajectoryPoint,
        times_s: impl IntoIterator<Item = f64>,
        each: impl FnMut(TrajectoryPoint),
    ) -> Result<()> {
        self.at_each(launch, Parameter::FlightTime, times_s, |point| point.time_s, each)
    }

    /// The point at a distance (m). Example: see [`Flight`].
    ///
    /// # Errors
    /// As [`Self::at_distances`].
    pub fn at_distance(&self, launch: &TrajectoryPoint, distance_m: f64) -> Result<TrajectoryPoint> {
        let mut there = *launch;
        self.at_distances(launch, [distance_m], |point| there = point)?;
        Ok(there)
    }

    /// The point highest over the line of sight; the launch if the arrow never rises.
    ///
    /// # Errors
    /// [`Error::NotReached`] where it rises for all of [`LONGEST_FLIGHT_S`]; otherwise as [`Self::at_distances`].
    pub fn apex(&self, launch: &TrajectoryPoint) -> Result<TrajectoryPoint> {
        let climb = |point: &TrajectoryPoint| {
            let [_, up, _] = point.velocity_m_per_s;
            up
        };
        if climb(launch) <= 0.0 {
            return Ok(*launch);
        }
        let not_reached = Error::NotReached { parameter: Parameter::FlightTime, value: LONGEST_FLIGHT_S };
        self.crossing(launch, LONGEST_FLIGHT_S, climb)?.ok_or(not_reached)
    }

    /// The point where the arrow descends from its apex to a height (m) over the line of sight.
    ///
    /// # Errors
    /// [`Error::NotReached`] where the apex is below it, or without gravity; otherwise as [`Self::at_distances`].
    pub fn descent(&self, apex: &TrajectoryPoint, height_m: f64) -> Result<TrajectoryPoint> {
        let crossing = if apex.height_m < height_m {
            None
        } else {
            self.crossing(apex, LONGEST_FLIGHT_S, |point| point.height_m - height_m)?
        };
        crossing.ok_or(Error::NotReached { parameter: Parameter::SightHeight, value: height_m })
    }

    /// The first point after `from`, and by `until_s`, at which `event` changes its sign.
    ///
    /// Two changes within one step cancel, so the event should change sign once, as a height does before or after the
    /// apex.
    ///
    /// # Errors
    /// As [`Self::at_distances`].
    pub fn crossing(
        &self,
        from: &TrajectoryPoint,
        until_s: f64,
        event: impl Fn(&TrajectoryPoint) -> f64,
    ) -> Result<Option<TrajectoryPoint>> {
        let mut integrator = Integrator::new(self, from, until_s)?;
        let mut positive = event(from) > 0.0;
        while let Some(step) = integrator.step()? {
            let still_positive = event(&step.end()) > 0.0;
            if positive != still_positive {
                return step.find(&event).map(Some);
            }
            positive = still_positive;
        }
        Ok(None)
    }

    fn at_each(
        &self,
        launch: &TrajectoryPoint,
        parameter: Parameter,
        wanted: impl IntoIterator<Item = f64>,
        measure: impl Fn(&TrajectoryPoint) -> f64,
        mut each: impl FnMut(TrajectoryPoint),
    ) -> Result<()> {
        let mut integrator = Integrator::new(self, launch, LONGEST_FLIGHT_S)?;
        let (mut step, (_, maximum)) = (None, parameter.range());
        let (mut last, mut reached) = (measure(launch), measure(launch));
        for value in wanted {
            last = parameter.check_within(value, last, maximum)?;
            while reached < value {
                let next = integrator.step()?.ok_or(Error::NotReached { parameter, value })?;
                reached = measure(&next.end());
                step = Some(next);
            }
            each(match &step {
                Some(step) => step.find(|point| measure(point) - value)?,
                None => *launch,
            });
        }
        Ok(())
    }

    /// Velocity and acceleration.
    pub(super) fn rate(&self, state: &State) -> Result<State> {
        let [_, _, _, along, up, right] = *state;
        let [wind_along, wind_up, wind_right] = self.wind;
        let through_air = [along - wind_along, up - wind_up, right - wind_right];
        let airspeed = length(through_air);
        let pull = -airspeed * Parameter::DragPerMeter.check((self.drag)(airspeed))?;
        let ([x, y, z], [g_along, g_up]) = (through_air, self.gravity);
        Ok([along, up, right, g_along + pull * x, g_up + pull * y, pull * z])
    }
}

pub(super) fn length([x, y, z]: [f64; 3]) -> f64 {
    sqrt(x * x + y * y + z * z)
}
