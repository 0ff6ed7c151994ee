//! Measures running times, natively or as wasm. Prints lines of name, tab, microseconds.
//!
//! `scripts/bench-compare.py` compares the two with each other and with SciPy.

use clothyard_core::eval::ResolvedSetup;
use clothyard_core::setup::samples;
use clothyard_core::{Evaluation, Field, Resolved, Setup};
use clothyard_mechanics::flight::{Accuracy, Archer, Conditions, Flight, Sight};
use clothyard_mechanics::shot::{self, Fingers, Release, Shot};
use clothyard_mechanics::{Arrow, Bow, DrawCurve, Part, critical_acceleration};
use clothyard_studies::Report;
use std::hint::black_box;
use std::time::Instant;

/// Microseconds of one call: the shortest of seven rounds of many calls.
fn microseconds(mut call: impl FnMut()) -> f64 {
    let mut least = f64::INFINITY;
    for _ in 0..7 {
        let (start, mut calls) = (Instant::now(), 0_u32);
        while start.elapsed().as_millis() < 60 {
            call();
            calls += 1;
        }
        least = least.min(start.elapsed().as_secs_f64() * 1e6 / f64::from(calls));
    }
    least
}

/// Prevents the compiler from removing unused results.
fn keep<T>(value: T) {
    let _ = black_box(value);
}

fn say(name: &str, microseconds: f64) {
    println!("{name}\t{microseconds:.3}");
}

fn main() {
    let Some(start) = samples::all().into_iter().next() else { return };
    let setup = start.setup;
    let saved = setup.to_saved();
    let resolved = Evaluation::of(&setup).resolved;
    say("full report", microseconds(|| keep(Setup::from_saved(black_box(&saved)).map(|setup| Report::of(&setup)))));
    say("full report as JSON text", microseconds(|| keep(serde_json::to_string(&Report::of(black_box(&setup))))));
    say("answers alone", microseconds(|| keep(Evaluation::of(black_box(&setup)))));
    say("10,000 combinations", 1e4 * combination(&setup, &resolved));
    if let Some([column, shot, off_fingers]) = arrow_on_bow() {
        say("column load", column);
        say("one shot in time", shot);
        say("one shot off the fingers", off_fingers);
    }
    if let Some([trajectory, aim]) = flight() {
        say("trajectory of 100 m", trajectory);
        say("aim at 100 m", aim);
    }
}

/// One flight of 100 m in a crosswind, and the search for its elevation.
fn flight() -> Option<[f64; 2]> {
    let conditions = Conditions { wind_m_per_s: [0.0, 0.0, 3.0], ..Conditions::default() };
    let flight = Flight::new(&|airspeed| 0.001 + 0.004 / airspeed.sqrt(), conditions, Accuracy::default()).ok()?;
    let sight = Sight { peep_height_m: 0.11, sight_radius_m: 0.85, launch_ahead_m: 0.5 };
    let archer = Archer::new(flight, sight, 80.0).ok()?;
    let launch = archer.aim(100.0).ok()?.launch;
    let trajectory = microseconds(|| keep(flight.at_distance(black_box(&launch), 100.0)));
    Some([trajectory, microseconds(|| keep(archer.aim(black_box(100.0))))])
}

/// A 60 lb compound and an arrow of 350 gr: its column load, and its shot until three swings after the string is gone,
/// straight and off the fingers.
fn arrow_on_bow() -> Option<[f64; 3]> {
    let parts = [Part::point_mass(0.0022, 0.05), Part::point_mass(0.0078, 0.72)];
    let arrow = Arrow::new(0.7112, 0.014, 0.018, 6.37, &parts).ok()?;
    let curve = DrawCurve::LetOff { rise: 0.35, valley: 0.25, let_off: 0.80 };
    let shot = Shot::new(arrow, Bow::new(267.0, 0.508, curve, 0.0071, 0.0).ok()?, 0.68);
    let found = shot.simulate().ok()?;
    let [swing_hz, ..] = found.free_frequencies_hz;
    let until = [found.time_on_string_s + 3.0 / swing_hz];
    let column = microseconds(|| keep(critical_acceleration(black_box(&arrow), 0.68)));
    let fingers = Shot { release: Release::Fingers(Fingers::BUTTON), ..shot };
    let film = |shot: &Shot<'_>| {
        microseconds(|| keep(black_box(shot).simulate_with(shot::Accuracy::default(), &until, |_| {})))
    };
    Some([column, film(&shot), film(&fingers)])
}

/// Time of one setup of the combinations: its own draw weight, point and spine, without the inverse questions.
fn combination(setup: &Setup, resolved: &Resolved) -> f64 {
    let spine = resolved.number(Field::StaticSpine);
    let answer = |step: u32| {
        let step = f64::from(step % 50);
        let setup = setup.clone().with(Field::PointMass, 80.0 + 2.0 * step).ok()?;
        let setup = setup.with(Field::PeakDrawWeight, 55.0 + 0.2 * step).ok()?;
        Some(ResolvedSetup::new(&setup.with(Field::StaticSpine, spine + step).ok()?).outputs)
    };
    let mut step = 0;
    microseconds(|| {
        step += 1;
        keep(answer(step));
    })
}
