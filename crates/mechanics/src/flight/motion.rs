//! The equation of motion: gravity, drag and wind on a point mass. [`super::Flight`] documents it.

use super::point::length;
use super::runge_kutta::State;
use crate::error::Result;
use crate::math::{cos, sin};
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

/// Error allowed in one step, in each component of position (m) and velocity (m/s). Example: see [`super::Flight`].
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

/// Velocity and acceleration of an arrow at any point of its flight.
#[derive(Clone, Copy)]
pub(super) struct Motion<'a> {
    pub(super) drag: &'a dyn Fn(f64) -> f64,
    pub(super) accuracy: Accuracy,
    /// Gravity along the line of sight and perpendicular to it, m/s^2.
    gravity: [f64; 2],
    /// Wind along the line of sight, upward perpendicular to it, and to the right, m/s.
    wind: [f64; 3],
}

impl<'a> Motion<'a> {
    pub(super) fn new(drag: &'a dyn Fn(f64) -> f64, conditions: &Conditions, accuracy: Accuracy) -> Result<Self> {
        conditions.check()?;
        Parameter::StepError.check(accuracy.relative)?;
        Parameter::StepError.check(accuracy.absolute)?;
        let (sin, cos) = (sin(conditions.slope_rad), cos(conditions.slope_rad));
        let g = conditions.gravity_m_per_s2;
        let [along, up, right] = conditions.wind_m_per_s;
        let wind = [along * cos + up * sin, up * cos - along * sin, right];
        Ok(Self { drag, accuracy, gravity: [-g * sin, -g * cos], wind })
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
