//! The string from release to brace: `(m + K) p'' = -F(p)`, `p` being its distance from brace.
//!
//! Each step is one of the classical fourth-order Runge-Kutta rule.

use super::Shot;
use crate::draw_curve::DrawCurve;
use crate::error::Result;
use crate::math::sqrt;
use crate::parameter::Parameter;

/// The force that drives the arrow.
pub(super) struct StringForce {
    curve: DrawCurve,
    stroke_m: f64,
    /// Acceleration under the peak force.
    peak: f64,
    /// That force on arrow and virtual mass, N.
    peak_n: f64,
}

/// Position and forward speed of the string.
#[derive(Clone, Copy)]
pub(super) struct StringState {
    pub(super) string_m: f64,
    pub(super) speed: f64,
}

impl StringForce {
    /// The bow's curve, scaled so that it delivers the energy of the shot.
    pub(super) fn new(shot: &Shot<'_>) -> Result<Self> {
        shot.bow.check()?;
        let energy = Parameter::Energy.check(shot.delivered_energy_j)?;
        let mass = Parameter::ArrowMass.check(shot.arrow.mass_kg())? + shot.bow.virtual_mass_kg;
        let share = energy / shot.bow.stored_energy_j();
        let peak_n = share * shot.bow.peak_force_n;
        let peak = Parameter::Acceleration.check(peak_n / mass)?;
        Ok(Self { curve: shot.bow.curve, stroke_m: shot.bow.stroke_m, peak, peak_n })
    }

    /// Acceleration with the string at `string_m`.
    pub(super) fn acceleration(&self, string_m: f64) -> f64 {
        self.peak * self.curve.force_fraction(string_m / self.stroke_m)
    }

    /// Sideways stiffness (N/m) of the string at `string_m`: its forward force over its distance from brace.
    pub(super) fn sideways_n_per_m(&self, string_m: f64) -> f64 {
        let drawn = (string_m / self.stroke_m).max(LEAST_DRAWN);
        self.peak_n * self.curve.force_fraction(drawn) / (drawn * self.stroke_m)
    }

    /// The time the stroke would take under the peak force throughout: the scale of the time steps.
    pub(super) fn time_scale_s(&self) -> f64 {
        sqrt(2.0 * self.stroke_m / self.peak)
    }

    /// The motion `step` later.
    pub(super) fn after(&self, from: StringState, step: f64) -> StringState {
        let StringState { string_m: p, speed: v } = from;
        let half = 0.5 * step;
        let a1 = self.acceleration(p);
        let v2 = v + half * a1;
        let a2 = self.acceleration(p - half * v);
        let v3 = v + half * a2;
        let a3 = self.acceleration(p - half * v2);
        let v4 = v + step * a3;
        let a4 = self.acceleration(p - step * v3);
        let sixth = step / 6.0;
        StringState { string_m: p - sixth * (v + 2.0 * (v2 + v3) + v4), speed: v + sixth * (a1 + 2.0 * (a2 + a3) + a4) }
    }

    /// The step (s) after which the string is at `place_m`, and its motion then.
    ///
    /// Newton's method from a step that ends beyond; the position is convex in time, so no iteration
    /// overshoots.
    pub(super) fn reach(&self, from: StringState, place_m: f64, beyond: f64) -> (f64, StringState) {
        let mut step = beyond;
        let mut to = self.after(from, step);
        for _ in 0..MAX_REACH_ITERATIONS {
            let ahead = place_m - to.string_m;
            if ahead.abs() <= 1e-14 * self.stroke_m || to.speed <= 0.0 {
                break;
            }
            step = (step - ahead / to.speed).max(0.0);
            to = self.after(from, step);
        }
        (step, StringState { string_m: place_m, ..to })
    }
}

/// Nearer to brace, as a share of the stroke, the sideways stiffness no longer changes.
const LEAST_DRAWN: f64 = 1e-3;

/// Newton's method doubles the digits in each iteration.
const MAX_REACH_ITERATIONS: u32 = 20;
