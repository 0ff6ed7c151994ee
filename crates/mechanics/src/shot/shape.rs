//! The arrow's shape from one time step to the next.
//!
//! With `y` the total deflection and `w` the unloaded arrow on its supports,
//!
//! ```text
//! M y'' + K (y - w) - a(t) KG y = C(t)^T l,    C(t) y = 0
//! ```
//!
//! where `C` is the deflection at the rest's current position. The state is `y` and the momentum `M y'`. A step
//! `h` is the trapezoidal rule (Newmark's average acceleration), and the rest's impulse acts at the start of the
//! step, sized so that its end satisfies the constraint:
//!
//! ```text
//! (M + h^2/4 A1) y1 = M y0 + h P0 - h^2/4 (A0 y0 - 2 K w) + h C0^T k,    A = K - a KG
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
use super::vector::{MAX_UNKNOWNS, Vector};
use crate::banded::{Row, dot, factor, solve};

/// How the supports hold the arrow during a step.
pub(super) struct Constraints {
    /// Sideways displacement of the nock by the string in the step, m; none once the nock is free.
    pub(super) nock: Option<f64>,
    /// The rest's position at the start and at the end of the step.
    pub(super) rest: Option<(InterpolationRow, InterpolationRow)>,
}

/// Deflection and momentum of the arrow.
#[derive(Clone)]
pub(super) struct Shape {
    pub(super) deflection: Vector,
    /// The entry of the nock is meaningless while the string holds it.
    momentum: Vector,
    /// `K (y - w)` and `KG y`.
    bending: Vector,
    pressing: Vector,
    /// `K w`.
    unloaded: Vector,
    /// The factors of the last step's matrix, and that step with its acceleration and first row.
    factors: [Row; MAX_UNKNOWNS],
    factored: (f64, f64, usize),
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
            factors: [[0.0; 4]; MAX_UNKNOWNS],
            factored: (f64::NAN, 0.0, 0),
        }
    }

    /// One step from acceleration `before` to `after`; false where the matrix is not positive.
    pub(super) fn advance(
        &mut self,
        model: &Model,
        constraints: &Constraints,
        step: f64,
        before: f64,
        after: f64,
    ) -> bool {
        // A nock held by the string is prescribed: its row and column drop out of the system.
        let first = usize::from(constraints.nock.is_some());
        if !self.refactor(model, first, step, after) {
            return false;
        }
        // The right-hand side for the change y1 - y0, so that nothing large cancels: with M y0 and
        // h^2/4 A1 y0 moved over, h P0 - h^2/4 (2 K (y0 - w) - (a0 + a1) KG y0) remains.
        let quarter = 0.25 * step * step;
        let mut change = Vector::zeros(model.unknowns());
        let forces = self.momentum.iter().zip(self.bending.iter().zip(self.pressing.iter()));
        for (change, (momentum, (bending, pressing))) in change.iter_mut().zip(forces) {
            *change = step * momentum - quarter * (2.0 * bending - (before + after) * pressing);
        }
        if let Some(aside) = constraints.nock {
            carry(model, &mut change, aside, quarter, after);
        }
        solve(&self.factors, change.tail_mut(first));
        if let Some(aside) = constraints.nock {
            change.set_nock(aside);
        }
        // The constraint adds one multiplier: solve for the response to a unit impulse at the rest's old
        // position, then scale it so that the shaft passes through the rest's new one.
        if let Some((from, to)) = constraints.rest {
            let mut push = Vector::zeros(model.unknowns());
            from.add_to(&mut push, 1.0);
            push.clear_before(first);
            solve(&self.factors, push.tail_mut(first));
            let miss = to.of(&self.deflection) + to.of(&change);
            let share = -miss / to.of(&push);
            change.add(share, &push);
            from.add_to(&mut self.momentum, share / step);
        }
        // Trapezoidal rule for the momentum: half the impulse of the old forces, half of the new ones.
        self.kick(0.5 * step, before);
        self.deflection.add(1.0, &change);
        self.bend(model);
        self.kick(0.5 * step, after);
        true
    }

    /// The forces at the current deflection.
    fn bend(&mut self, model: &Model) {
        self.bending = model.times(model.stiffness(), &self.deflection);
        self.bending.add(-1.0, &self.unloaded);
        self.pressing = model.times(model.geometric(), &self.deflection);
    }

    /// Adds the impulse of the forces over a time to the momentum.
    fn kick(&mut self, time: f64, acceleration: f64) {
        let forces = self.bending.iter().zip(self.pressing.iter());
        for (momentum, (bending, pressing)) in self.momentum.iter_mut().zip(forces) {
            *momentum -= time * (bending - acceleration * pressing);
        }
    }

    /// Factors the step's matrix, unless the last step's was the same.
    fn refactor(&mut self, model: &Model, first: usize, step: f64, after: f64) -> bool {
        let asked = (step, after, first);
        if self.factored == asked {
            return true;
        }
        let rows = system(model, 0.25 * step * step, after).skip(first);
        self.factored = asked;
        factor(rows, 0.0, &mut self.factors)
    }

    /// Sideways velocities from the momentum; `nock` is the velocity of a nock on the string.
    ///
    /// None where the mass matrix is not positive definite.
    pub(super) fn velocity(&self, model: &Model, nock: Option<f64>) -> Option<Vector> {
        let mut velocity = self.momentum;
        // With the nock's speed prescribed, its coupling moves to the right-hand side, as in `carry`.
        if let Some(speed) = nock {
            for (index, row) in model.mass().iter().enumerate().take(4).skip(1) {
                if let (Some(value), Some(entry)) = (velocity.get_mut(index), row.get(index)) {
                    *value -= speed * entry;
                }
            }
        }
        solve_mass(model, usize::from(nock.is_some()), &mut velocity)?;
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
        let velocity = self.velocity(model, nock)?;
        let mut push = Vector::zeros(model.unknowns());
        rest.add_to(&mut push, 1.0);
        solve_mass(model, usize::from(nock.is_some()), &mut push)?;
        let share = (rate - rest.of(&velocity)) / rest.of(&push);
        rest.add_to(&mut self.momentum, share);
        Some(())
    }

    /// Releases the nock, which moved sideways with the string at `speed`.
    pub(super) fn leave_string(&mut self, model: &Model, speed: f64) -> Option<()> {
        let velocity = self.velocity(model, Some(speed))?;
        self.momentum = model.times(model.mass(), &velocity);
        Some(())
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

/// Moves the coupling of a prescribed nock displacement to its neighbors to the right-hand side.
fn carry(model: &Model, right: &mut Vector, aside: f64, quarter: f64, acceleration: f64) {
    let rows = system(model, quarter, acceleration);
    for (index, (value, row)) in right.iter_mut().zip(rows).enumerate().take(4).skip(1) {
        *value -= aside * row.get(index).copied().unwrap_or_default();
    }
}

/// Solves `M v = b` in place for the unknowns from `first` on.
fn solve_mass(model: &Model, first: usize, right: &mut Vector) -> Option<()> {
    let mut factors = [[0.0; 4]; MAX_UNKNOWNS];
    if !factor(model.mass().iter().copied().skip(first), 0.0, &mut factors) {
        return None;
    }
    solve(&factors, right.tail_mut(first));
    Some(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::arrow::{Arrow, Part};
    use crate::math::{sin, sqrt};
    use core::f64::consts::PI;

    const LENGTH_M: f64 = 0.7;
    const STIFFNESS_NM2: f64 = 6.0;

    /// Kinetic and bending energy, where a fixed rest holds the arrow.
    fn energy(
        shape: &Shape,
        model: &Model,
        unloaded: &Vector,
        rest: Option<InterpolationRow>,
        nock: Option<f64>,
    ) -> f64 {
        let mut shape = shape.clone();
        if let Some(rest) = rest {
            shape.leave_rest(model, rest, 0.0, nock).unwrap();
        }
        let velocity = shape.velocity(model, nock).unwrap();
        let mut bent = shape.deflection;
        bent.add(-1.0, unloaded);
        let kinetic = dot(&velocity, &model.times(model.mass(), &velocity));
        0.5 * (kinetic + dot(&bent, &model.times(model.stiffness(), &bent)))
    }

    /// Difference between energy and the work of a compression that rises and falls, over the work.
    fn imbalance(steps: u32, with_rest: bool) -> f64 {
        let parts = [Part::point_mass(0.0006, 0.0), Part::point_mass(0.0065, 0.715)];
        let arrow = Arrow::new(LENGTH_M, 0.014, 0.017, STIFFNESS_NM2, &parts).unwrap();
        let model = Model::new(&arrow, 12).unwrap();
        let mut unloaded = model.half_sine();
        let place = model.deflection_at(0.5);
        unloaded.add(-place.of(&unloaded) / 0.5, &model.shape(|x| (x, 1.0)));
        let mut shape = Shape::new(&model, unloaded);
        let rest = with_rest.then_some(place);
        let constraints = Constraints { nock: Some(0.0), rest: rest.map(|rest| (rest, rest)) };
        let step = 0.012 / f64::from(steps);
        let acceleration = |time: f64| 5000.0 * sin(time / 0.012 * PI);
        let shortening = |shape: &Shape| 0.5 * dot(&shape.deflection, &shape.pressing);
        let mut work = 0.0;
        for index in 0..steps {
            let (before, after) = (acceleration(f64::from(index) * step), acceleration(f64::from(index + 1) * step));
            let short = shortening(&shape);
            assert!(shape.advance(&model, &constraints, step, before, after));
            work += 0.5 * (before + after) * (shortening(&shape) - short);
        }
        (energy(&shape, &model, &unloaded, rest, Some(0.0)) - work) / work
    }

    #[test]
    fn the_axial_load_does_the_work_to_second_order() {
        for with_rest in [false, true] {
            let (coarse, fine) = (imbalance(200, with_rest).abs(), imbalance(400, with_rest).abs());
            assert!(fine < 1e-5, "{fine:e}");
            assert!((3.9..4.1).contains(&(coarse / fine)), "{coarse:e} {fine:e}");
        }
    }

    #[test]
    fn an_arrow_in_flight_keeps_its_energy() {
        let point = [Part::point_mass(0.0065, 0.715)];
        let arrow = Arrow::new(LENGTH_M, 0.014, 0.017, STIFFNESS_NM2, &point).unwrap();
        let model = Model::new(&arrow, 12).unwrap();
        let nothing = Vector::zeros(model.unknowns());
        let mut shape = Shape::new(&model, nothing);
        shape.deflection = model.half_sine();
        shape.bend(&model);
        let constraints = Constraints { nock: None, rest: None };
        let before = energy(&shape, &model, &nothing, None, None);
        for _ in 0..1000 {
            assert!(shape.advance(&model, &constraints, 5e-5, 0.0, 0.0));
        }
        let after = energy(&shape, &model, &nothing, None, None);
        assert!((after / before - 1.0).abs() < 2e-12, "{before} {after}");
    }

    /// A column pinned at both ends under a load put on at once: greatest bend over its own bow,
    /// and when its middle is first back.
    ///
    /// Nearly all the loading mass is at the front pin; the shaft is a ten-thousandth of it.
    fn sudden(share_of_critical: f64) -> (f64, f64) {
        let front_mass = [Part::point_mass(0.7, LENGTH_M)];
        let arrow = Arrow::new(LENGTH_M, 0.0, 1e-4, STIFFNESS_NM2, &front_mass).unwrap();
        let model = Model::new(&arrow, 16).unwrap();
        let critical = PI * PI * STIFFNESS_NM2 / (LENGTH_M * LENGTH_M) / 0.7;
        let acceleration = share_of_critical * critical;
        let front = model.deflection_at(LENGTH_M);
        let constraints = Constraints { nock: Some(0.0), rest: Some((front, front)) };
        let mut shape = Shape::new(&model, model.half_sine());
        let middle = model.deflection_at(0.5 * LENGTH_M);
        let free_period = 2.0 * LENGTH_M * LENGTH_M / PI * sqrt(1e-4 / STIFFNESS_NM2);
        let step = free_period / 2000.0;
        let (mut greatest, mut velocity, mut time) = (0.0_f64, 0.0, 0.0);
        loop {
            let before = middle.of(&shape.deflection);
            assert!(shape.advance(&model, &constraints, step, acceleration, acceleration));
            let after = middle.of(&shape.deflection);
            greatest = greatest.max(after);
            let (was, is) = (velocity, (after - before) / step);
            velocity = is;
            time += step;
            // The return ends where the velocity, known half a step earlier, changes sign again.
            if was < 0.0 && is >= 0.0 {
                return (greatest, (time - 0.5 * step - step * is / (is - was)) / free_period);
            }
        }
    }

    #[test]
    fn a_sudden_load_bends_a_column_and_slows_its_swing_in_closed_form() {
        // y / w = 1 + r / (1 - r) (1 - cos), at the frequency of Blevins: sqrt(1 - r).
        for r in [0.2, 0.5, 0.8] {
            let (greatest, period) = sudden(r);
            let expected = 1.0 + 2.0 * r / (1.0 - r);
            assert!((greatest / expected - 1.0).abs() < 4e-4, "{r}: {greatest} against {expected}");
            let ratio = 1.0 / period;
            assert!((ratio / sqrt(1.0 - r) - 1.0).abs() < 2e-4, "{r}: {ratio}");
        }
    }

    #[test]
    fn an_arrow_that_moves_as_one_piece_has_the_velocity_it_was_given() {
        let parts = [Part::point_mass(0.0006, 0.0), Part::point_mass(0.0065, 0.715)];
        let arrow = Arrow::new(LENGTH_M, 0.014, 0.017, STIFFNESS_NM2, &parts).unwrap();
        let model = Model::new(&arrow, 12).unwrap();
        let given = model.shape(|x| (0.2 + 0.5 * x, 0.5));
        let mut shape = Shape::new(&model, Vector::zeros(model.unknowns()));
        shape.momentum = model.times(model.mass(), &given);
        let apart = |found: &Vector| found.iter().zip(given.iter()).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
        assert!(apart(&shape.velocity(&model, None).unwrap()) < 1e-12);
        // For a nock on the string the momentum is meaningless; its speed is given.
        shape.momentum.set_nock(9.0);
        assert!(apart(&shape.velocity(&model, Some(0.2)).unwrap()) < 1e-12);
        shape.leave_string(&model, 0.2).unwrap();
        assert!(apart(&shape.velocity(&model, None).unwrap()) < 1e-12);
    }
}
