//! The shot in time as its film shows it: what is measured on the way is what a watcher would measure.
#![allow(clippy::unwrap_used, clippy::panic, clippy::disallowed_methods)] // closed forms need no equal bits

use clothyard_mechanics::measured::{DrawReading, MeasuredCurve};
use clothyard_mechanics::shot::{
    Accuracy, Fingers, Phase, Release, Sample, Shot, ShotDynamics, natural_frequencies_hz,
};
use clothyard_mechanics::{Arrow, Bow, DrawCurve, Error, Parameter, Part};
use std::f64::consts::{PI, TAU};

const LENGTH_M: f64 = 0.71;
const REST_M: f64 = 0.68;
const STROKE_M: f64 = 0.5;
const FINE: Accuracy = Accuracy { elements: 24, steps: 1600 };

/// A force that does not change.
const EVEN: DrawCurve = DrawCurve::LetOff { rise: 0.0, valley: 0.0, let_off: 0.0 };
const COMPOUND: DrawCurve = DrawCurve::LetOff { rise: 0.35, valley: 0.25, let_off: 0.8 };

fn shot<'a>(parts: &'a [Part], curve: DrawCurve) -> Shot<'a> {
    let arrow = Arrow::new(LENGTH_M, 0.0, 0.017, 6.0, parts).unwrap();
    Shot::new(arrow, Bow::new(200.0, STROKE_M, curve, 0.006, 0.0).unwrap(), REST_M)
}

fn parts() -> [Part; 3] {
    [Part::point_mass(0.0006, 0.0), Part::point_mass(0.0016, 0.05), Part::point_mass(0.0078, 0.725)]
}

fn watch(shot: &Shot<'_>, accuracy: Accuracy, times_s: &[f64], seen: impl FnMut(&Sample<'_>)) -> ShotDynamics {
    shot.simulate_with(accuracy, times_s, seen).unwrap()
}

#[test]
fn an_even_force_moves_the_string_as_falling_bodies_move() {
    let parts = parts();
    let shot = Shot { rest_share: 0.5, ..shot(&parts, EVEN) };
    let acceleration = 200.0 / (shot.arrow.mass_kg() + 0.006);
    let end_s = (2.0 * STROKE_M / acceleration).sqrt();
    let (drops_s, step_s) = (end_s / 2.0_f64.sqrt(), end_s / 200.0);
    let times: Vec<f64> = (0..=100_u32).map(|index| 0.0137 * end_s * f64::from(index)).collect();
    let mut moments = 0;
    watch(&shot, Accuracy::default(), &times, |sample| {
        let t = sample.time_s;
        let (speed, way, push) = if t < end_s {
            (acceleration * t, 0.5 * acceleration * t * t, acceleration)
        } else {
            (acceleration * end_s, STROKE_M + acceleration * end_s * (t - end_s), 0.0)
        };
        assert!((sample.speed_m_per_s / speed.max(1.0) - speed / speed.max(1.0)).abs() < 1e-9, "{t}");
        // The film runs straight between steps: by less than a h^2 / 8 beside the parabola.
        let beside = sample.travel_m - way;
        assert!((-1e-9..acceleration * step_s * step_s / 8.0 + 1e-9).contains(&beside), "{t}: {beside:e}");
        assert!((sample.acceleration - push).abs() < 1e-6 * acceleration, "{t}");
        let phase = match t {
            t if t < drops_s => Phase::StringAndRest,
            t if t < end_s => Phase::String,
            _ => Phase::Free,
        };
        assert_eq!(sample.phase, phase, "{t}");
        moments += 1;
    });
    assert_eq!(moments, times.len());
}

#[test]
fn the_hold_changes_at_the_very_moment() {
    let parts = parts();
    let shot = shot(&parts, COMPOUND);
    let end_s = shot.simulate().unwrap().time_on_string_s;
    let mut phases = Vec::new();
    let times = [end_s * (1.0 - 1e-9), end_s, end_s * (1.0 + 1e-9)];
    watch(&shot, Accuracy::default(), &times, |sample| phases.push(sample.phase));
    assert_eq!(phases, [Phase::StringAndRest, Phase::Free, Phase::Free]);
}

#[test]
fn the_greatest_bend_and_excursion_are_those_a_watcher_sees() {
    let parts = parts();
    for rest_share in [1.0, 0.5, 0.0] {
        let shot = Shot { rest_share, ..shot(&parts, COMPOUND) };
        let times: Vec<f64> = (0..2_000_u32).map(|index| 1.2e-5 * f64::from(index)).collect();
        let (mut bend, mut bent_at, mut excursion) = (0.0_f64, 0.0, 0.0_f64);
        let accuracy = Accuracy { elements: 12, steps: 800 };
        let dynamics = watch(&shot, accuracy, &times, |sample| {
            let at_rest = sample.deflection_m(sample.rest_m);
            if sample.phase != Phase::Free {
                let nock = sample.deflection_m(0.0);
                let tilt = (at_rest - nock) / sample.rest_m;
                let departure = |x: f64| (sample.deflection_m(x) - nock - tilt * x).abs();
                let most =
                    (1..60_u32).map(|part| departure(sample.rest_m * f64::from(part) / 60.0)).fold(0.0, f64::max);
                if most > bend {
                    (bend, bent_at) = (most, sample.time_s);
                }
            }
            if sample.phase != Phase::StringAndRest && sample.rest_m > 0.0 {
                excursion = excursion.max(at_rest.abs());
            }
        });
        let (bends, excursions) = (bend / dynamics.greatest_bend_m - 1.0, excursion / dynamics.rest_excursion_m - 1.0);
        assert!((-1e-3..1e-4).contains(&bends), "{rest_share}: {bends:e}");
        assert!((bent_at - dynamics.greatest_bend_at_s).abs() < 1e-4, "{rest_share}: {bent_at} {dynamics:?}");
        // Seen every 12 microseconds. Over a rest that holds throughout it grows until the nock passes, within the last
        // step.
        let seen = if rest_share < 1.0 { -2e-3..1e-3 } else { -2e-3..2e-2 };
        assert!(seen.contains(&excursions), "{rest_share}: {excursions:e}");
    }
}

#[test]
fn off_the_fingers_bend_nock_and_button_are_what_a_watcher_sees() {
    let parts = parts();
    let release = Release::Fingers(Fingers::BUTTON);
    let shot = Shot { release, ..shot(&parts, DrawCurve::RECURVE) };
    let times: Vec<f64> = (0..4_000_u32).map(|index| 5e-6 * f64::from(index)).collect();
    let (mut bend, mut aside, mut push, mut left) = (0.0_f64, 0.0_f64, 0.0_f64, 0.0);
    let dynamics = watch(&shot, Accuracy { elements: 12, steps: 1600 }, &times, |sample| {
        if sample.phase == Phase::Free {
            return;
        }
        let (nock, front) = (sample.deflection_m(0.0), sample.deflection_m(LENGTH_M));
        let departure = |share: f64| (sample.deflection_m(share * LENGTH_M) - nock - share * (front - nock)).abs();
        bend = bend.max((1..60_u32).map(|part| departure(f64::from(part) / 60.0)).fold(0.0, f64::max));
        aside = aside.max(nock.abs());
        push = push.max(1500.0 * (0.002 - sample.deflection_m(sample.rest_m)));
        if sample.phase == Phase::StringAndRest {
            left = sample.time_s;
        }
    });
    assert!((bend / dynamics.greatest_bend_m - 1.0).abs() < 1e-3, "{bend} {dynamics:?}");
    assert!((aside / dynamics.nock_aside_m - 1.0).abs() < 1e-4, "{aside} {dynamics:?}");
    assert!((push / dynamics.rest_push_n - 1.0).abs() < 1e-2, "{push} {dynamics:?}");
    assert!((left - dynamics.rest_left_s).abs() < 3e-5, "{left} {dynamics:?}");
}

#[test]
fn watching_changes_nothing() {
    let parts = parts();
    for rest_share in [0.0, 0.4, 1.0] {
        let shot = Shot { release: Release::Fingers(Fingers::BUTTON), rest_share, ..shot(&parts, COMPOUND) };
        let mut frames = 0;
        let watched = watch(&shot, Accuracy::default(), &[0.0, 0.011, 0.011, 0.2], |_| frames += 1);
        assert_eq!((Ok(watched), frames), (shot.simulate(), 4));
    }
}

#[test]
fn stations_are_evenly_spaced_from_nock_to_front_end() {
    let parts = parts();
    watch(&shot(&parts, COMPOUND), Accuracy::default(), &[0.008], |sample| {
        let mut stations = [f64::NAN; 8];
        sample.deflections_m(&mut stations);
        for (station, index) in stations.into_iter().zip(0_u32..) {
            let there = sample.deflection_m(LENGTH_M * f64::from(index) / 7.0);
            assert!((station - there).abs() < 1e-15 && there.is_finite(), "{index}");
        }
        assert!(stations.iter().any(|station| station.abs() > 1e-6));
    });
}

/// First mode of a bare shaft (Blevins, table 8-1), of unit modal mass, its middle on the positive side.
fn first_mode(x: f64) -> f64 {
    let (wave, sigma) = (4.730_040_744_863 * x / LENGTH_M, 0.982_502_214_576);
    let published = wave.cosh() + wave.cos() - sigma * (wave.sinh() + wave.sin());
    -published / (0.017 * LENGTH_M).sqrt()
}

#[test]
fn a_bare_shaft_swings_on_in_its_first_mode_as_told_at_its_exit() {
    for rest_share in [1.0, 0.6] {
        let shot = Shot { rest_share, ..shot(&[], COMPOUND) };
        let dynamics = watch(&shot, FINE, &[], |_| {});
        let [first_hz, ..] = dynamics.free_frequencies_hz;
        let times = [0.0, 0.2, 0.55, 0.9].map(|turns| dynamics.time_on_string_s + turns / first_hz);
        // The shaft's own bow as it lies on string and rest.
        let half_sine = |x: f64| (PI * x / LENGTH_M).sin();
        let own = |x: f64| shot.shaft_bow_m * (half_sine(x) - x / REST_M * half_sine(REST_M));
        watch(&shot, FINE, &times, |sample| {
            let piece = LENGTH_M / 600.0;
            let weight = |index: u32| if index.is_multiple_of(600) { 1.0 } else { f64::from(2 + 2 * (index % 2)) };
            let term = |index: u32| {
                let x = piece * f64::from(index);
                weight(index) * first_mode(x) * (sample.deflection_m(x) - own(x))
            };
            let place = 0.017 * piece / 3.0 * (0..=600).map(term).sum::<f64>();
            let phase = dynamics.exit_phase_rad + TAU * first_hz * (sample.time_s - dynamics.time_on_string_s);
            let swing = dynamics.exit_swing_m / first_mode(0.0).abs();
            assert!((place / swing - phase.cos()).abs() < 2e-4, "{rest_share}: {} {}", place / swing, phase.cos());
        });
    }
}

#[test]
fn a_rest_that_drops_at_once_is_none() {
    let parts = parts();
    let [at_once, none] =
        [1e-17, 0.0].map(|rest_share| Shot { rest_share, ..shot(&parts, COMPOUND) }.simulate().unwrap());
    assert!((at_once.magnification / none.magnification - 1.0).abs() < 1e-6, "{at_once:?} {none:?}");
    assert!((at_once.exit_phase_rad - none.exit_phase_rad).abs() < 1e-6);
}

#[test]
fn a_string_that_nothing_pulls_never_comes_to_brace() {
    let reading = |draw_m, force_n| DrawReading { draw_m, force_n };
    let slack = MeasuredCurve::new(&[reading(0.3, 150.0), reading(0.5, 200.0), reading(0.7, 0.0)], 0.2).unwrap();
    let parts = parts();
    let stuck =
        shot(&parts, DrawCurve::Measured(slack)).simulate_with(Accuracy { elements: 2, steps: 20 }, &[], |_| {});
    // Fifty times the usual number of steps.
    assert_eq!(stuck, Err(Error::NoConvergence { iterations: 1000 }));
}

#[test]
fn the_most_elements_see_the_same_bend() {
    let parts = parts();
    let bend = |elements| {
        let dynamics = shot(&parts, COMPOUND).simulate_with(Accuracy { elements, steps: 200 }, &[], |_| {});
        dynamics.unwrap().greatest_bend_m
    };
    assert!((bend(64) / bend(12) - 1.0).abs() < 5e-4);
}

#[test]
fn steps_too_few_are_refused_by_name() {
    let parts = parts();
    let coarse = shot(&parts, COMPOUND).simulate_with(Accuracy { elements: 12, steps: 19 }, &[], |_| {});
    assert!(matches!(coarse, Err(Error::OutOfRange { parameter: Parameter::Steps, .. })));
}

#[test]
fn the_heaviest_and_softest_beam_swings_by_the_same_law() {
    // Thomson: (beta L)^2 / L^2 sqrt(EI / m').
    let soft = Arrow::new(2.0, 0.0, 1.0, 1e-3, &[]).unwrap();
    let published = [4.730_040_744_863_f64, 7.853_204_624_096].map(|wave| wave * wave / 4.0 * 1e-3_f64.sqrt() / TAU);
    let found = natural_frequencies_hz(&soft, 64).unwrap();
    for (found, published) in found.into_iter().zip(published) {
        assert!((found / published - 1.0).abs() < 2e-7, "{found} against {published}");
    }
}
