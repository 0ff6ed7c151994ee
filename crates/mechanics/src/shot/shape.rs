//! The arrow's shape from one time step to the next.
//!
//! With `y` the total deflection and `w` the unloaded arrow on its supports,
//!
//! ```text
//! M y'' + K (y - w) - a(t) KG y = C(t)^T l + f,    C(t) y = 0
//! ```
//!
//! where `C` is the deflection at the position of a rest that holds to both sides, and `f` the force of springs
//! ([`Springs`]). The state is `y` and the momentum `M y'`. A step `h` is the trapezoidal rule (Newmark's average
//! acceleration), and the rest's impulse acts at the start of the step, sized so that its end satisfies the
//! constraint:
//!
//! ```text
//! (M + h^2/4 A1) y1 = M y0 + h P0 - h^2/4 (A0 y0 - 2 K w) + h C0^T k,    A = K - a KG + springs
//! P1 = P0 + C0^T k - h/2 (A0 y0 + A1 y1 - 2 K w)
//! ```
//!
//! The rule is of second order, stable at every step size as long as the compression is below buckling, and
//! conserves the energy of a free arrow exactly.
//!
//! # References
//! Newmark, J. Eng. Mech. Div. ASCE 85 (1959); position constraints (SHAKE): Hairer, Lubich & Wanner, *Geometric
//! Numerical Integration*, VII.1.

use super::model::{InterpolationRow, Model};
use super::springs::Springs;
use super::vector::{MAX_UNKNOWNS, Vector};
use crate::banded::{Row, dot, factor, solve};

/// How the supports hold the arrow during a step.
#[derive(Default)]
pub(super) struct Constraints {
    /// Sideways displacement of the nock by the string in the step, m; none for a nock that is not led.
    pub(super) nock: Option<f64>,
    /// The position of a rest that holds to both sides at the start and at the end of the step.
    pub(super) rest: Option<(InterpolationRow, InterpolationRow)>,
}

/// What acts on the arrow at one time.
#[derive(Clone, Copy, Default)]
pub(super) struct Load {
    pub(super) acceleration: f64,
    pub(super) springs: Springs,
}

/// What a step does.
pub(super) struct Change {
    pub(super) deflection: Vector,
    /// Impulse of the rest, at its position at the start.
    impulse: Option<(InterpolationRow, f64)>,
}

/// Deflection and momentum of the arrow.
#[derive(Clone)]
pub(super) struct Shape {
    pub(super) deflection: Vector,
    /// The entry of the nock is meaningless while the nock is led.
    momentum: Vector,
    /// `K (y - w)` and `KG y`.
    bending: Vector,
    pressing: Vector,
    /// `K w`.
    unloaded: Vector,
    /// The last step's matrix, its factors, and that step with its acceleration and first row.
    matrix: [Row; MAX_UNKNOWNS],
    factors: [Row; MAX_UNKNOWNS],
    factored: Option<(f64, f64, usize)>,
}

impl Shape {
    /// The unloaded arrow at rest.
    pub(super) fn new(model: &Model, unloaded: Vector) -> Self {
        let nothing = Vector::zeros(model.unknowns());
        Self {
            deflection: unloaded,
            momentum: nothing,
            bending: nothing,
            pressing: model.times(model.geometric(), &unloaded),
            unloaded: model.times(model.stiffness(), &unloaded),
            matrix: [[0.0; 4]; MAX_UNKNOWNS],
            factors: [[0.0; 4]; MAX_UNKNOWNS],
            factored: None,
        }
    }

    /// What a step from one load to another does; none where the matrix is not positive.
    pub(super) fn change(
        &mut self,
        model: &Model,
        constraints: &Constraints,
        step: f64,
        [before, after]: [&Load; 2],
    ) -> Option<Change> {
        // A led nock is prescribed: its row and column drop out of the system.
        let first = usize::from(constraints.nock.is_some());
        if !self.refactor(model, first, step, after) {
            return None;
        }
        let mut change = self.right_side(model, step, [before, after]);
        if let Some(aside) = constraints.nock {
            self.carry(&mut change, aside);
        }
        solve(&self.factors, change.tail_mut(first));
        if let Some(aside) = constraints.nock {
            change.set_nock(aside);
        }
        let mut impulse = None;
        if let Some((from, to)) = constraints.rest {
            let share = self.hold(model, first, (from, to), &mut change);
            impulse = Some((from, share / step));
        }
        Some(Change { deflection: change, impulse })
    }

    /// The right-hand side for the change `y1 - y0`, so that nothing large cancels.
    ///
    /// With `M y0` and `h^2/4 A1 y0` moved over, `h P0 - h^2/4 (2 K (y0 - w) - (a0 + a1) KG y0 - f0 - f1)` remains.
    fn right_side(&self, model: &Model, step: f64, [before, after]: [&Load; 2]) -> Vector {
        let quarter = 0.25 * step * step;
        let mut right = Vector::zeros(model.unknowns());
        let forces = self.momentum.iter().zip(self.bending.iter().zip(self.pressing.iter()));
        for (right, (momentum, (bending, pressing))) in right.iter_mut().zip(forces) {
            *right =
                step * momentum - quarter * (2.0 * bending - (before.acceleration + after.acceleration) * pressing);
        }
        for load in [before, after] {
            load.springs.add_forces(&self.deflection, quarter, &mut right);
        }
        right
    }

    /// Adds to a change the multiple of the response to an impulse at the rest's old position with which the shaft
    /// passes through the rest's new one; that multiple.
    fn hold(
        &self,
        model: &Model,
        first: usize,
        (from, to): (InterpolationRow, InterpolationRow),
        change: &mut Vector,
    ) -> f64 {
        let mut push = Vector::zeros(model.unknowns());
        from.add_to(&mut push, 1.0);
        push.clear_before(first);
        solve(&self.factors, push.tail_mut(first));
        let miss = to.of(&self.deflection) + to.of(change);
        let share = -miss / to.of(&push);
        change.add(share, &push);
        share
    }

    /// Makes a step whose change is known.
    pub(super) fn apply(&mut self, model: &Model, change: &Change, step: f64, [before, after]: [&Load; 2]) {
        if let Some((place, impulse)) = change.impulse {
            place.add_to(&mut self.momentum, impulse);
        }
        // Trapezoidal rule for the momentum: half the impulse of the old forces, half of the new ones.
        self.kick(0.5 * step, before);
        self.deflection.add(1.0, &change.deflection);
        self.bend(model);
        self.kick(0.5 * step, after);
    }

    /// The forces at the current deflection.
    fn bend(&mut self, model: &Model) {
        self.bending = model.times(model.stiffness(), &self.deflection);
        self.bending.add(-1.0, &self.unloaded);
        self.pressing = model.times(model.geometric(), &self.deflection);
    }

    /// Adds the impulse of the forces over a time to the momentum.
    fn kick(&mut self, time: f64, load: &Load) {
        let forces = self.bending.iter().zip(self.pressing.iter());
        for (momentum, (bending, pressing)) in self.momentum.iter_mut().zip(forces) {
            *momentum -= time * (bending - load.acceleration * pressing);
        }
        load.springs.add_forces(&self.deflection, time, &mut self.momentum);
    }

    /// Factors the step's matrix, unless the last step's was the same.
    fn refactor(&mut self, model: &Model, first: usize, step: f64, after: &Load) -> bool {
        let asked = after.springs.are_none().then_some((step, after.acceleration, first));
        if asked.is_some() && self.factored == asked {
            return true;
        }
        let quarter = 0.25 * step * step;
        let rows = self.matrix.iter_mut().zip(system(model, quarter, after.acceleration));
        rows.for_each(|(row, entries)| *row = entries);
        after.springs.add_to(quarter, &mut self.matrix);
        self.factored = asked;
        factor(self.matrix.iter().copied().take(model.unknowns()).skip(first), 0.0, &mut self.factors)
    }

    /// Moves the coupling of a prescribed nock displacement to its neighbors to the right-hand side.
    fn carry(&self, right: &mut Vector, aside: f64) {
        for (index, (value, row)) in right.iter_mut().zip(&self.matrix).enumerate().take(4).skip(1) {
            *value -= aside * row.get(index).copied().unwrap_or_default();
        }
    }

    /// Sideways velocities from the momentum; `nock` is the velocity of a nock that is led.
    ///
    /// None where the mass matrix is not positive definite.
    pub(super) fn velocity(&self, model: &Model, nock: Option<f64>, nock_mass_kg: f64) -> Option<Vector> {
        let mut velocity = self.momentum;
        // With the nock's speed prescribed, its coupling moves to the right-hand side, as in `carry`.
        if let Some(speed) = nock {
            for (index, row) in model.mass().iter().enumerate().take(4).skip(1) {
                if let (Some(value), Some(entry)) = (velocity.get_mut(index), row.get(index)) {
                    *value -= speed * entry;
                }
            }
        }
        solve_mass(model, usize::from(nock.is_some()), nock_mass_kg, &mut velocity)?;
        if let Some(speed) = nock {
            velocity.set_nock(speed);
        }
        Some(velocity)
    }

    /// Releases the arrow from the rest: the last impulse leaves it moving with the rest at `rate`, m/s.
    pub(super) fn leave_rest(
        &mut self,
        model: &Model,
        rest: InterpolationRow,
        rate: f64,
        nock: Option<f64>,
    ) -> Option<()> {
        let velocity = self.velocity(model, nock, 0.0)?;
        let mut push = Vector::zeros(model.unknowns());
        rest.add_to(&mut push, 1.0);
        solve_mass(model, usize::from(nock.is_some()), 0.0, &mut push)?;
        let share = (rate - rest.of(&velocity)) / rest.of(&push);
        rest.add_to(&mut self.momentum, share);
        Some(())
    }

    /// Takes over the velocities as the momentum of an arrow with a mass on its nock that is not led.
    pub(super) fn move_with(&mut self, model: &Model, velocity: &Vector, nock_mass_kg: f64) {
        self.momentum = model.times(model.mass(), velocity);
        self.momentum.set_nock(self.momentum.nock() + nock_mass_kg * velocity.nock());
    }

    /// Generalized coordinate and velocity in a mode of unit modal mass.
    pub(super) fn modal(&self, model: &Model, mode: &Vector, unloaded: &Vector) -> (f64, f64) {
        let mut bent = self.deflection;
        bent.add(-1.0, unloaded);
        (dot(mode, &model.times(model.mass(), &bent)), dot(mode, &self.momentum))
    }
}

/// `M + q (K - a KG)`.
fn system(model: &Model, quarter: f64, acceleration: f64) -> impl Iterator<Item = Row> {
    let rows = model.mass().iter().zip(model.stiffness().iter().zip(model.geometric()));
    rows.map(move |(m, (k, g))| {
        let entry = |m: f64, k: f64, g: f64| m + quarter * (k - acceleration * g);
        [entry(m[0], k[0], g[0]), entry(m[1], k[1], g[1]), entry(m[2], k[2], g[2]), entry(m[3], k[3], g[3])]
    })
}

/// Solves `M v = b` in place for the unknowns from `first` on, with a mass on the nock.
fn solve_mass(model: &Model, first: usize, nock_mass_kg: f64, right: &mut Vector) -> Option<()> {
    let mut factors = [[0.0; 4]; MAX_UNKNOWNS];
    let on_nock = core::iter::once(nock_mass_kg).chain(core::iter::repeat(0.0));
    let rows = model.mass().iter().zip(on_nock).map(|(&[m0, m1, m2, m3], more)| [m0 + more, m1, m2, m3]);
    if !factor(rows.skip(first), 0.0, &mut factors) {
        return None;
    }
    solve(&factors, right.tail_mut(first));
    Some(())
}

#[cfg(test)]
mod tests;
