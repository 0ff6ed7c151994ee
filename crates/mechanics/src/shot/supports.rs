//! What holds the arrow to the side: a rest that holds both ways until it drops away, or fingers and a button.

use super::Shot;
use super::model::{InterpolationRow, Model};
use super::release::Fingers;
use super::shape::{Change, Constraints, Load, Shape};
use super::springs::{RestSpring, Springs};
use super::state::{Phase, State};
use super::string_motion::StringForce;

/// One step.
pub(super) struct Stride {
    pub(super) from: State,
    pub(super) to: State,
    pub(super) step_s: f64,
}

/// The supports of an arrow, in a straight release or off the fingers.
pub(super) enum Supports {
    /// The position, along the arrow, of a rest that holds; the string holds the nock in its plane.
    Straight(Option<InterpolationRow>),
    Fingers(OffFingers),
}

/// Solutions of one step: whether the shaft touches at its end is tried until it agrees with what was assumed.
const MAX_TRIES: u32 = 3;

impl Supports {
    pub(super) fn new(shot: &Shot<'_>, model: &Model) -> Self {
        match shot.release.fingers() {
            None => Self::Straight((shot.rest_share > 0.0).then(|| model.deflection_at(shot.rest_m))),
            Some(fingers) => {
                Self::Fingers(OffFingers { fingers, on_tips: true, touches: true, springs: Springs::default() })
            }
        }
    }

    /// What holds the arrow while the string drives it.
    pub(super) fn phase(&self) -> Phase {
        let touches = match self {
            Self::Straight(rest) => rest.is_some(),
            Self::Fingers(fingers) => fingers.touches,
        };
        if touches { Phase::StringAndRest } else { Phase::String }
    }

    /// The string's next position at which the supports change.
    pub(super) fn next_change_m(&self, shot: &Shot<'_>) -> f64 {
        let stroke = shot.bow.stroke_m;
        match self {
            Self::Straight(Some(_)) => stroke * (1.0 - shot.rest_share),
            Self::Fingers(OffFingers { on_tips: true, fingers, .. }) => stroke - fingers.slip_m,
            Self::Straight(None) | Self::Fingers(_) => 0.0,
        }
    }

    /// Bends the arrow over one step; none where it collapses.
    pub(super) fn advance(
        &mut self,
        shape: &mut Shape,
        (model, pull): (&Model, &StringForce),
        stride: &Stride,
    ) -> Option<()> {
        let Stride { from, to, step_s } = stride;
        match self {
            Self::Straight(rest) => {
                // The rest is fixed in space: along the arrow it moves rearward by the travel.
                let next = rest.map(|_| model.deflection_at(to.rest_m));
                let held = rest.zip(next);
                *rest = next;
                let nock = (from.phase != Phase::Free).then_some(0.0);
                let load = |state: &State| Load { acceleration: state.acceleration, ..Load::default() };
                let loads = [&load(from), &load(to)];
                let change = shape.change(model, &Constraints { nock, rest: held }, *step_s, loads)?;
                shape.apply(model, &change, *step_s, loads);
            }
            Self::Fingers(fingers) => fingers.advance(shape, (model, pull), stride)?,
        }
        Some(())
    }

    /// The push of a button that is pressed, N.
    pub(super) fn push_n(&self, shape: &Shape) -> f64 {
        match self {
            Self::Straight(_) => 0.0,
            Self::Fingers(fingers) => fingers.springs.rest.map_or(0.0, |rest| rest.push_n(&shape.deflection)),
        }
    }

    /// Changes the supports at [`Self::next_change_m`].
    pub(super) fn change(&mut self, shape: &mut Shape, model: &Model, pull: &StringForce, state: &State) -> Option<()> {
        match self {
            Self::Straight(rest) => {
                if let Some(rest) = rest.take() {
                    let rate = state.motion.speed * model.slope_at(state.rest_m).of(&shape.deflection);
                    shape.leave_rest(model, rest, rate, Some(0.0))?;
                }
                if state.motion.string_m <= 0.0 {
                    let velocity = shape.velocity(model, Some(0.0), 0.0)?;
                    shape.move_with(model, &velocity, 0.0);
                }
            }
            Self::Fingers(fingers) => fingers.change(shape, model, pull, state)?,
        }
        Some(())
    }
}

/// Fingertips, then the string alone, and a button that can only push.
pub(super) struct OffFingers {
    fingers: Fingers,
    on_tips: bool,
    touches: bool,
    /// At the end of the last step.
    springs: Springs,
}

impl OffFingers {
    fn advance(
        &mut self,
        shape: &mut Shape,
        (model, pull): (&Model, &StringForce),
        &Stride { ref from, ref to, step_s }: &Stride,
    ) -> Option<()> {
        let nock = self.on_tips.then(|| self.fingers.slope() * (to.travel_m - from.travel_m));
        let constraints = Constraints { nock, rest: None };
        let before = Load { acceleration: from.acceleration, springs: self.springs };
        let string =
            if self.on_tips || from.phase == Phase::Free { 0.0 } else { pull.sideways_n_per_m(to.motion.string_m) };
        let mut after =
            Load { acceleration: to.acceleration, springs: Springs { nock_n_per_m: string, ..self.springs } };
        let rest = self.rest_at(model, to);
        let mut change: Option<Change> = None;
        for _ in 0..MAX_TRIES {
            after.springs.rest = rest.filter(|_| self.touches);
            let tried = shape.change(model, &constraints, step_s, [&before, &after])?;
            let touches = rest
                .is_some_and(|rest| rest.push_n(&shape.deflection) > rest.n_per_m * rest.place.of(&tried.deflection));
            change = Some(tried);
            if touches == self.touches {
                break;
            }
            self.touches = touches;
        }
        shape.apply(model, &change?, step_s, [&before, &after]);
        self.springs = after.springs;
        Some(())
    }

    /// The button as a spring, until the nock has passed it.
    fn rest_at(&self, model: &Model, state: &State) -> Option<RestSpring> {
        let Fingers { rest_n_per_m: n_per_m, rest_aside_m: unpressed_m, .. } = self.fingers;
        (state.rest_m > 0.0).then(|| RestSpring { place: model.deflection_at(state.rest_m), n_per_m, unpressed_m })
    }

    /// The string slips off the fingertips, or the nock off the string.
    fn change(&mut self, shape: &mut Shape, model: &Model, pull: &StringForce, state: &State) -> Option<()> {
        let led = self.on_tips.then(|| self.fingers.slope() * state.motion.speed);
        let velocity = shape.velocity(model, led, self.springs.nock_mass_kg)?;
        let on_string = state.motion.string_m > 0.0;
        self.on_tips = false;
        self.springs.nock_mass_kg = if on_string { self.fingers.string_mass_kg } else { 0.0 };
        self.springs.nock_n_per_m = if on_string { pull.sideways_n_per_m(state.motion.string_m) } else { 0.0 };
        shape.move_with(model, &velocity, self.springs.nock_mass_kg);
        Some(())
    }
}
