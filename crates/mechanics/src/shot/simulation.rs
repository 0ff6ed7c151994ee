//! A shot from release to flight, step by step, and what is measured on the way.
//!
//! ```text
//! straight           string and rest, until the rest drops away after its share of the stroke; string alone
//! off the fingers    fingertips; string; a button that is pressed or not, at any time
//! free               until the rest's position is behind the nock, and all samples are taken
//! ```
//!
//! The last step before a change is shortened to end there. At exit the shape is projected onto the first mode of
//! flight, of unit modal mass: with `q` (m kg^(1/2)) its coordinate and `w` (rad/s) its frequency, the phase is
//! `atan2(-q' / w, q)`, and the amplitude at the nock is the mode's value there times `sqrt(q^2 + (q' / w)^2)`.

use super::measures::{Chord, Measures};
use super::model::Model;
use super::modes::free_modes;
use super::sample::{Film, Sample};
use super::shape::Shape;
use super::state::{Phase, State};
use super::string_motion::{StringForce, StringState};
use super::supports::{Stride, Supports};
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

struct Run<'s> {
    shot: &'s Shot<'s>,
    model: &'s Model,
    pull: StringForce,
    step_s: f64,
    unloaded: Vector,
    state: State,
    shape: Shape,
    supports: Supports,
    measures: Measures,
}

impl<'s> Run<'s> {
    fn new(shot: &'s Shot<'s>, model: &'s Model, accuracy: Accuracy) -> Result<Self> {
        let pull = StringForce::new(shot)?;
        let motion = StringState { string_m: shot.bow.stroke_m, speed: 0.0 };
        let supports = Supports::new(shot, model);
        let state = State {
            time_s: 0.0,
            phase: supports.phase(),
            motion,
            travel_m: 0.0,
            acceleration: pull.acceleration(motion.string_m),
            rest_m: shot.rest_m,
        };
        let unloaded = unloaded(shot, model);
        let chord = if shot.release.fingers().is_some() { Chord::ToFrontEnd } else { Chord::ToRest };
        let measures = Measures::new(model, accuracy.elements, chord);
        let step_s = pull.time_scale_s() / accuracy.steps as f64;
        let shape = Shape::new(model, unloaded);
        Ok(Self { shot, model, pull, step_s, unloaded, state, shape, supports, measures })
    }

    /// One step, then measures and samples.
    fn step(&mut self, film: &mut Film<'_, impl FnMut(&Sample<'_>)>) -> Result<()> {
        let (before, shape_before) = (self.state, self.shape.deflection);
        let (step_s, arrives) = if before.phase == Phase::Free { self.fly() } else { self.drive() };
        if step_s > 0.0 {
            let stride = Stride { from: before, to: self.state, step_s };
            let done = self.supports.advance(&mut self.shape, (self.model, &self.pull), &stride);
            done.ok_or(Error::NoConvergence { iterations: 1 })?;
        }
        if before.phase != Phase::Free {
            self.state.phase = self.supports.phase();
        }
        let push_n = self.supports.push_n(&self.shape);
        if arrives {
            self.change_phase().ok_or(Error::Unsupported)?;
        }
        self.measures.take(self.model, before.phase, &self.state, &self.shape.deflection, push_n);
        film.show((&before, &shape_before), (&self.state, &self.shape.deflection));
        Ok(())
    }

    /// The straight motion of a free arrow; the step.
    fn fly(&mut self) -> (f64, bool) {
        let state = &mut self.state;
        state.time_s += self.step_s;
        state.travel_m += self.step_s * state.motion.speed;
        state.rest_m = self.shot.rest_m - state.travel_m;
        (self.step_s, false)
    }

    /// The motion with the string; the step, and whether it ends at the next change of the supports.
    ///
    /// The string's motion does not depend on the bend, so it is advanced first; a step that would pass the change is
    /// shortened to end on it.
    fn drive(&mut self) -> (f64, bool) {
        let (from, place) = (self.state.motion, self.supports.next_change_m(self.shot));
        let mut step = self.step_s;
        let mut to = self.pull.after(from, step);
        let arrives = to.string_m <= place;
        if arrives {
            (step, to) = self.pull.reach(from, place, step);
        }
        self.state.time_s += step;
        self.state.motion = to;
        self.state.travel_m = self.shot.bow.stroke_m - to.string_m;
        self.state.acceleration = self.pull.acceleration(to.string_m);
        self.state.rest_m = self.shot.rest_m - self.state.travel_m;
        (step, arrives)
    }

    /// The supports change, or nothing more drives the arrow.
    fn change_phase(&mut self) -> Option<()> {
        self.supports.change(&mut self.shape, self.model, &self.pull, &self.state)?;
        self.state.phase = self.supports.phase();
        if self.state.motion.string_m <= 0.0 {
            self.state.phase = Phase::Free;
            self.state.acceleration = 0.0;
        }
        Some(())
    }

    /// The results at exit.
    fn at_exit(&self) -> Result<ShotDynamics> {
        let (frequencies_hz, mode) = free_modes(&self.shot.arrow, self.model)?;
        let (place, speed) = self.shape.modal(self.model, &mode, &self.unloaded);
        let [first_hz, ..] = frequencies_hz;
        let swing = speed / (core::f64::consts::TAU * first_hz);
        let nock_velocity = self.shape.velocity(self.model, None, 0.0).ok_or(Error::Unsupported)?;
        let (greatest_bend_at_s, greatest_bend_m) = self.measures.bend.greatest;
        Ok(ShotDynamics {
            time_on_string_s: self.state.time_s,
            exit_speed_m_per_s: self.state.motion.speed,
            greatest_bend_m,
            greatest_bend_at_s,
            magnification: Parameter::Magnification.check(greatest_bend_m / self.shot.shaft_bow_m)?,
            free_frequencies_hz: frequencies_hz,
            exit_phase_rad: atan2(-swing, place),
            exit_swing_m: mode.nock().abs() * sqrt(place * place + swing * swing),
            nock_exit_m: self.shape.deflection.nock(),
            nock_exit_m_per_s: nock_velocity.nock(),
            nock_aside_m: self.measures.nock_aside_m,
            rest_excursion_m: 0.0,
            rest_push_n: self.measures.push_n,
            rest_left_s: self.measures.rest_left_s,
        })
    }
}

/// The shaft's own bow, resting on string and rest: zero at the nock, at the rest as far aside as the rest.
fn unloaded(shot: &Shot<'_>, model: &Model) -> Vector {
    let mut shape = model.half_sine();
    let tilt = model.deflection_at(shot.rest_m).of(&shape) / shot.rest_m;
    shape.add(-tilt, &model.shape(|x| (x, 1.0)));
    shape.scale(shot.shaft_bow_m);
    if let Some(fingers) = shot.release.fingers() {
        shape.add(fingers.rest_aside_m / shot.rest_m, &model.shape(|x| (x, 1.0)));
    }
    shape
}
