//! The trajectory of an arrow: a point mass in moving air.

use super::integrator::Integrator;
use super::motion::{Accuracy, Conditions, LONGEST_FLIGHT_S, Motion};
use super::point::TrajectoryPoint;
use crate::error::{Error, Result};
use crate::parameter::Parameter;

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
    motion: Motion<'a>,
    conditions: Conditions,
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
        Ok(Self { motion: Motion::new(drag, &conditions, accuracy)?, conditions })
    }

    /// The same arrow in other conditions.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] for the conditions.
    pub fn under(&self, conditions: Conditions) -> Result<Self> {
        Self::new(self.motion.drag, conditions, self.motion.accuracy)
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
        let mut integrator = Integrator::new(&self.motion, from, until_s)?;
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
        let mut integrator = Integrator::new(&self.motion, launch, LONGEST_FLIGHT_S)?;
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
}
