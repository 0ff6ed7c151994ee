//! Integration of a trajectory with adaptive steps.
//!
//! With `e` the error of a step of `h` seconds over the allowed one, as the root mean square of its six
//! components, a step with `e` above 1 is repeated, and the next one lasts
//!
//! ```text
//! 0.9 h e^(-1/5)        between a fifth and six times h
//! ```
//!
//! An event within a step (a distance reached, a height passed) is a root of the polynomial between the
//! step's ends, which needs no further evaluation of the drag.
//!
//! # References
//! Hairer, Norsett & Wanner, *Solving Ordinary Differential Equations I*, section II.4.

use super::motion::{Accuracy, LONGEST_FLIGHT_S, Motion};
use super::point::{TrajectoryPoint, length};
use super::runge_kutta::{RungeKuttaStep, State};
use crate::error::{Error, Result};
use crate::math::sqrt;
use crate::solve::{Solution, find_root};

/// Maximum number of steps tried in one flight; 100 m takes about seven.
const MAX_STEPS: u32 = 10_000;

/// Tolerance of an event, as a share of the step.
const SHARE_TOLERANCE: f64 = 1e-14;

/// A trajectory in progress, from a point until a time.
pub(super) struct Integrator<'a> {
    motion: &'a Motion<'a>,
    now: TrajectoryPoint,
    rate: State,
    /// The next step to try, s.
    duration_s: f64,
    until_s: f64,
    tried: u32,
}

impl<'a> Integrator<'a> {
    pub(super) fn new(motion: &'a Motion<'a>, from: &TrajectoryPoint, until_s: f64) -> Result<Self> {
        let rate = motion.rate(&from.state())?;
        let [.., x, y, z] = rate;
        // A fraction of the time in which the velocity would change completely; the next steps adapt.
        let change_s = from.speed_m_per_s() / length([x, y, z]).max(f64::MIN_POSITIVE);
        let duration_s = sqrt(sqrt(motion.accuracy.relative)) * change_s.min(LONGEST_FLIGHT_S);
        Ok(Self { motion, now: *from, rate, duration_s, until_s, tried: 0 })
    }

    /// The next step, or none at the end of the time.
    pub(super) fn step(&mut self) -> Result<Option<Step>> {
        if self.now.time_s >= self.until_s {
            return Ok(None);
        }
        while self.tried < MAX_STEPS {
            self.tried += 1;
            if let Some(step) = self.try_leg()? {
                return Ok(Some(step));
            }
        }
        Err(Error::NoConvergence { iterations: MAX_STEPS })
    }

    /// A step if it is accurate enough; otherwise none, and the next try is shorter.
    fn try_leg(&mut self) -> Result<Option<Step>> {
        let (Accuracy { relative, absolute }, from) = (self.motion.accuracy, self.now);
        let left_s = self.until_s - from.time_s;
        let (duration_s, is_last) = (self.duration_s.min(left_s), self.duration_s >= left_s);
        let step = RungeKuttaStep::take(|state| self.motion.rate(state), &from.state(), self.rate, duration_s)?;
        let excess = step.excess(relative, absolute);
        self.duration_s = duration_s * RungeKuttaStep::growth(excess);
        // NaN counts as too large.
        if excess > 1.0 || excess.is_nan() {
            return Ok(None);
        }
        let end_s = if is_last { self.until_s } else { from.time_s + duration_s };
        self.now = TrajectoryPoint::of(end_s, &step.to);
        self.rate = step.last_slope();
        Ok(Some(Step { from_s: from.time_s, duration_s, end_s, step }))
    }
}

/// One accepted step, with its times.
pub(super) struct Step {
    from_s: f64,
    duration_s: f64,
    end_s: f64,
    step: RungeKuttaStep,
}

impl Step {
    pub(super) fn end(&self) -> TrajectoryPoint {
        TrajectoryPoint::of(self.end_s, &self.step.to)
    }

    /// The point of the step where `event` is zero; its end if rounding hides a zero exactly there.
    pub(super) fn find(&self, event: impl Fn(&TrajectoryPoint) -> f64) -> Result<TrajectoryPoint> {
        let between = self.step.between();
        let point = |gone: f64| TrajectoryPoint::of(self.from_s + gone * self.duration_s, &between.at(gone));
        match find_root(|gone| Ok(event(&point(gone))), 0.0, 1.0, SHARE_TOLERANCE)? {
            Solution::At(gone) => Ok(point(gone)),
            Solution::NoSignChange { nearest, .. } => Ok(point(nearest)),
        }
    }
}
