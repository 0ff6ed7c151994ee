use super::super::springs::RestSpring;
use super::*;
use crate::arrow::{Arrow, Part};
use crate::math::{sin, sqrt};
use core::f64::consts::PI;

const LENGTH_M: f64 = 0.7;
const STIFFNESS_NM2: f64 = 6.0;

/// One step between two accelerations; whether it could be made.
fn advance(shape: &mut Shape, model: &Model, constraints: &Constraints, step: f64, before: f64, after: f64) -> bool {
    let load = |acceleration| Load { acceleration, ..Load::default() };
    let loads = [&load(before), &load(after)];
    let change = shape.change(model, constraints, step, loads);
    change.iter().for_each(|change| shape.apply(model, change, step, loads));
    change.is_some()
}

/// Kinetic and bending energy, where a fixed rest holds the arrow.
fn energy(shape: &Shape, model: &Model, unloaded: &Vector, rest: Option<InterpolationRow>, nock: Option<f64>) -> f64 {
    let mut shape = shape.clone();
    if let Some(rest) = rest {
        shape.leave_rest(model, rest, 0.0, nock).unwrap();
    }
    let velocity = shape.velocity(model, nock, 0.0).unwrap();
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
        assert!(advance(&mut shape, &model, &constraints, step, before, after));
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
        assert!(advance(&mut shape, &model, &constraints, 5e-5, 0.0, 0.0));
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
        assert!(advance(&mut shape, &model, &constraints, step, acceleration, acceleration));
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
    assert!(apart(&shape.velocity(&model, None, 0.0).unwrap()) < 1e-12);
    // For a nock on the string the momentum is meaningless; its speed is given.
    shape.momentum.set_nock(9.0);
    assert!(apart(&shape.velocity(&model, Some(0.2), 0.0).unwrap()) < 1e-12);
    let led = shape.velocity(&model, Some(0.2), 0.0).unwrap();
    shape.move_with(&model, &led, 0.0);
    assert!(apart(&shape.velocity(&model, None, 0.0).unwrap()) < 1e-12);
}

#[test]
fn springs_and_a_mass_on_the_nock_keep_the_energy() {
    let point = [Part::point_mass(0.0065, 0.715)];
    let arrow = Arrow::new(LENGTH_M, 0.014, 0.017, STIFFNESS_NM2, &point).unwrap();
    let model = Model::new(&arrow, 12).unwrap();
    let place = model.deflection_at(0.5);
    let rest = RestSpring { place, n_per_m: 1500.0, unpressed_m: 0.002 };
    let springs = Springs { nock_mass_kg: 0.004, nock_n_per_m: 400.0, rest: Some(rest) };
    let load = Load { acceleration: 0.0, springs };
    let mut shape = Shape::new(&model, model.shape(|x| (0.01 - 0.02 * x, -0.02)));
    let energy = |shape: &Shape| {
        let (nock, pressed) = (shape.deflection.nock(), rest.push_n(&shape.deflection) / rest.n_per_m);
        let velocity = shape.velocity(&model, None, springs.nock_mass_kg).unwrap();
        let moving = dot(&velocity, &shape.momentum);
        let bent = dot(&shape.deflection, &shape.bending);
        0.5 * (moving + bent + springs.nock_n_per_m * nock * nock + rest.n_per_m * pressed * pressed)
    };
    let before = energy(&shape);
    for _ in 0..1000 {
        let change = shape.change(&model, &Constraints::default(), 5e-5, [&load; 2]).unwrap();
        shape.apply(&model, &change, 5e-5, [&load; 2]);
    }
    assert!((energy(&shape) / before - 1.0).abs() < 1e-10, "{before} {}", energy(&shape));
    assert!((shape.deflection.nock() - 0.01).abs() > 1e-3, "it moves");
}

#[test]
fn a_mass_on_a_spring_swings_at_its_frequency() {
    // Nearly all the mass is on the nock, and nothing else holds the arrow.
    let arrow = Arrow::new(LENGTH_M, 0.0, 1e-4, STIFFNESS_NM2, &[]).unwrap();
    let model = Model::new(&arrow, 4).unwrap();
    let springs = Springs { nock_mass_kg: 1.0, nock_n_per_m: 400.0, rest: None };
    let load = Load { acceleration: 0.0, springs };
    let mut shape = Shape::new(&model, model.shape(|_| (0.01, 0.0)));
    // A quarter of a period of 2 pi / 20 s.
    let step = PI / 40.0 / 1000.0;
    for _ in 0..1000 {
        let change = shape.change(&model, &Constraints::default(), step, [&load; 2]).unwrap();
        shape.apply(&model, &change, step, [&load; 2]);
    }
    assert!(shape.deflection.nock().abs() < 1e-6, "{}", shape.deflection.nock());
    let speed = shape.velocity(&model, None, 1.0).unwrap().nock();
    assert!((speed + 0.2).abs() < 1e-5, "{speed}");
}
