//! A shot from release to flight, step by step, and what is measured on the way.
//!
//! ```text
//! string and rest    until the rest drops away, after its share of the stroke
//! string alone       until the string is at brace
//! free               until the rest's position is behind the nock, and all samples are taken
//! ```
//!
//! The last step before a change of phase is shortened to end there. At exit the shape is projected onto the first
//! mode of flight, of unit modal mass: with `q` (m kg^(1/2)) its coordinate and `w` (rad/s) its frequency, the phase
//! is `atan2(-q' / w, q)`, and the amplitude at the nock is the mode's value there times `sqrt(q^2 + (q' / w)^2)`.

use super::measures::Measures;
use super::model::{InterpolationRow, Model};
use super::modes::modes;
use super::sample::{Film, Phase, Sample};
use super::shape::{Constraints, Shape};
use super::string_motion::{StringForce, StringState};
use super::vector::Vector;
use super::{Accuracy, Shot, ShotDynamics};
use crate::error::{Error, Result};
use crate::math::{atan2, sqrt};
use crate::parameter::Parameter;

/// Steps on the string, over those of the time scale, after which the string counts as stuck.
const MAX_TIMES: usize = 50;

/// Simulates a shot and samples it at `times_s`.
pub(super) fn run(
    shot: &Shot<'_>,
    accuracy: Accuracy,
    times_s: &[f64],
    seen: impl FnMut(&Sample<'_>),
) -> Result<ShotDynamics> {
    let model = Model::new(&shot.arrow, accuracy.elements)?;
    let mut run = Run::new(shot, &model, accuracy)?;
    let mut film = Film::new(&shot.arrow, &model, times_s, seen);
    film.show((&run.state, &run.shape.deflection), (&run.state, &run.shape.deflection));
    for _ in 0..MAX_TIMES * accuracy.steps {
        if run.state.phase == Phase::Free {
            break;
        }
        run.step(&mut film)?;
    }
    if run.state.phase != Phase::Free {
        return Err(Error::NoConvergence { iterations: (MAX_TIMES * accuracy.steps) as u32 });
    }
    let dynamics = run.at_exit()?;
    while run.state.rest_m > 0.0 || film.has_more() {
        run.step(&mut film)?;
    }
    Ok(ShotDynamics { rest_excursion_m: run.measures.excursion_m, ..dynamics })
}

/// Time, phase and longitudinal motion.
#[derive(Clone, Copy)]
pub(super) struct State {
    pub(super) time_s: f64,
    pub(super) phase: Phase,
    pub(super) motion: StringState,
    pub(super) travel_m: f64,
    pub(super) acceleration: f64,
    pub(super) rest_m: f64,
}

struct Run<'s> {
    shot: &'s Shot<'s>,
    model: &'s Model,
    pull: StringForce,
    step_s: f64,
    unloaded: Vector,
    state: State,
    shape: Shape,
    /// The rest's position as an interpolation row, while it touches.
    rest: Option<InterpolationRow>,
    measures: Measures,
}

impl<'s> Run<'s> {
    fn new(shot: &'s Shot<'s>, model: &'s Model, accuracy: Accuracy) -> Result<Self> {
        let pull = StringForce::new(shot)?;
        let motion = StringState { string_m: shot.bow.stroke_m, speed: 0.0 };
        let on_rest = shot.rest_share > 0.0;
        let state = State {
            time_s: 0.0,
            phase: if on_rest { Phase::StringAndRest } else { Phase::String },
            motion,
            travel_m: 0.0,
            acceleration: pull.acceleration(motion.string_m),
            rest_m: shot.rest_m,
        };
        let rest = model.deflection_at(shot.rest_m);
        let unloaded = unloaded(shot, model, rest);
        let measures = Measures::new(model, accuracy.elements);
        let step_s = pull.time_scale_s() / accuracy.steps as f64;
        let shape = Shape::new(model, unloaded);
        Ok(Self { shot, model, pull, step_s, unloaded, state, shape, rest: on_rest.then_some(rest), measures })
    }

    /// One step, then measures and samples.
    fn step(&mut self, film: &mut Film<'_, impl FnMut(&Sample<'_>)>) -> Result<()> {
        let (before, shape_before) = (self.state, self.shape.deflection);
        if before.phase == Phase::Free {
            self.fly()?
        } else {
            self.drive()?
        }
        let shape = &self.shape.deflection;
        self.measures.take(self.model, before.phase, &self.state, shape);
        film.show((&before, &shape_before), (&self.state, shape));
        Ok(())
    }

    fn fly(&mut self) -> Result<()> {
        let state = &mut self.state;
        state.time_s += self.step_s;
        state.travel_m += self.step_s * state.motion.speed;
        state.rest_m = self.shot.rest_m - state.travel_m;
        self.advance(&Constraints { nock: None, rest: None }, self.step_s, 0.0)
    }

    fn drive(&mut self) -> Result<()> {
        let (from, held) = (self.state.motion, self.state.phase == Phase::StringAndRest);
        let stroke = self.shot.bow.stroke_m;
        let place = if held { stroke * (1.0 - self.shot.rest_share) } else { 0.0 };
        // The string's motion does not depend on the bend, so it is advanced first; a step that would pass
        // the next change of phase is shortened to end on it.
        let mut step = self.step_s;
        let mut to = self.pull.after(from, step);
        let arrives = to.string_m <= place;
        if arrives {
            (step, to) = self.pull.reach(from, place, step);
        }
        let before = self.state.acceleration;
        self.state.time_s += step;
        self.state.motion = to;
        self.state.travel_m = stroke - to.string_m;
        self.state.acceleration = self.pull.acceleration(to.string_m);
        self.state.rest_m = self.shot.rest_m - self.state.travel_m;
        // The rest is fixed in space: along the arrow it moves rearward by the travel.
        let aside = |motion: StringState| self.shot.release.aside(stroke - motion.string_m, stroke).0;
        let after = self.model.deflection_at(self.state.rest_m);
        let rest = self.rest.map(|row_at| (row_at, after));
        self.rest = rest.map(|(_, after)| after);
        let constraints = Constraints { nock: Some(aside(to) - aside(from)), rest };
        if step > 0.0 {
            self.advance(&constraints, step, before)?;
        }
        if arrives { self.change_phase().ok_or(Error::Unsupported) } else { Ok(()) }
    }

    fn advance(&mut self, constraints: &Constraints, step: f64, before: f64) -> Result<()> {
        let after = self.state.acceleration;
        let done = self.shape.advance(self.model, constraints, step, before, after);
        if done { Ok(()) } else { Err(Error::NoConvergence { iterations: 1 }) }
    }

    /// The rest drops away, or nothing more holds the arrow.
    fn change_phase(&mut self) -> Option<()> {
        let speed = self.state.motion.speed;
        let sideways = self.nock_speed();
        if let Some(rest) = self.rest.take() {
            let rate = speed * self.model.slope_at(self.state.rest_m).of(&self.shape.deflection);
            self.shape.leave_rest(self.model, rest, rate, Some(sideways))?;
        }
        self.state.phase = Phase::String;
        if self.state.motion.string_m <= 0.0 {
            self.shape.leave_string(self.model, sideways)?;
            self.state.phase = Phase::Free;
            self.state.acceleration = 0.0;
        }
        Some(())
    }

    /// Sideways speed of the string's middle.
    fn nock_speed(&self) -> f64 {
        let (_, growth) = self.shot.release.aside(self.state.travel_m, self.shot.bow.stroke_m);
        growth * self.state.motion.speed
    }

    /// The results at exit.
    fn at_exit(&self) -> Result<ShotDynamics> {
        let (free, pivoted) = (modes(self.model, false)?, modes(self.model, true)?);
        let (place, speed) = self.shape.modal(self.model, &free.first, &self.unloaded);
        let [first_hz, ..] = free.frequencies_hz;
        let swing = speed / (core::f64::consts::TAU * first_hz);
        let (greatest_bend_at_s, greatest_bend_m) = self.measures.bend.greatest;
        Ok(ShotDynamics {
            time_on_string_s: self.state.time_s,
            exit_speed_m_per_s: self.state.motion.speed,
            greatest_bend_m,
            greatest_bend_at_s,
            magnification: Parameter::Magnification.check(greatest_bend_m / self.shot.shaft_bow_m)?,
            free_frequencies_hz: free.frequencies_hz,
            pivoted_frequencies_hz: pivoted.frequencies_hz,
            exit_phase_rad: atan2(-swing, place),
            exit_swing_m: free.first.nock().abs() * sqrt(place * place + swing * swing),
            nock_exit_m: self.shape.deflection.nock(),
            nock_exit_m_per_s: self.nock_speed(),
            rest_excursion_m: 0.0,
        })
    }
}

/// The shaft's own bow, resting on string and rest: zero at both.
fn unloaded(shot: &Shot<'_>, model: &Model, rest: InterpolationRow) -> Vector {
    let mut shape = model.half_sine();
    let tilt = rest.of(&shape) / shot.rest_m;
    shape.add(-tilt, &model.shape(|x| (x, 1.0)));
    shape.scale(shot.shaft_bow_m);
    shape
}
