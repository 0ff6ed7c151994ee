//! The shot off the fingers: a study before this code, and what is described of it.
#![allow(clippy::unwrap_used, clippy::indexing_slicing)]

use clothyard_mechanics::shot::{Accuracy, Fingers, Phase, Release, Shot, ShotDynamics};
use clothyard_mechanics::units::{
    KILOGRAM_PER_GRAIN as GRAIN, KILOGRAM_PER_METER_PER_GRAIN_PER_INCH as GRAIN_PER_INCH, METER_PER_INCH as INCH,
    NEWTON_PER_POUND_FORCE as POUND,
};
use clothyard_mechanics::{Arrow, Bow, DrawCurve, Error, Parameter, Part, SpineRig, stiffness_from_amo_rating_nm2};

const REST_M: f64 = 26.75 * INCH;

fn lump(grains: f64, inches: f64) -> Part {
    Part::point_mass(grains * GRAIN, inches * INCH)
}

/// A carbon arrow of 28 in and 100 gr of point.
fn carbon_parts() -> [Part; 4] {
    [lump(10.0, 0.0), lump(24.0, 2.0), lump(20.0, 27.6), lump(100.0, 28.6)]
}

/// Off the fingers over a button, a straight shaft of a spine (in) from a recurve of a draw weight (lb).
fn recurve(draw_lb: f64, spine_in: f64, parts: &[Part]) -> Shot<'_> {
    let stiffness = SpineRig::ASTM_F2031.bending_stiffness_nm2(spine_in * INCH).unwrap();
    let per_length = (10.2 - 11.0 * (spine_in - 0.3)) * GRAIN_PER_INCH;
    let arrow = Arrow::new(28.0 * INCH, 0.0, per_length, stiffness, parts).unwrap();
    let bow = Bow::new(draw_lb * POUND, REST_M - 8.5 * INCH, DrawCurve::RECURVE, 0.0059, 0.04).unwrap();
    off(Fingers::BUTTON, Shot::new(arrow, bow, REST_M))
}

/// A wood arrow whose rating is the draw weight of 50 lb, from a longbow over a shelf 4 mm out.
fn longbow(parts: &[Part]) -> Shot<'_> {
    let stiffness = stiffness_from_amo_rating_nm2(50.0 * POUND).unwrap();
    let arrow = Arrow::new(28.0 * INCH, 0.0, 340.0 / 28.0 * GRAIN_PER_INCH, stiffness, parts).unwrap();
    let bow = Bow::new(50.0 * POUND, REST_M - 6.75 * INCH, DrawCurve::LONGBOW, 0.0071, 0.10).unwrap();
    off(Fingers::shelf(0.004), Shot::new(arrow, bow, REST_M))
}

fn wood_parts() -> [Part; 3] {
    [lump(10.0, 0.0), lump(24.0, 3.0), lump(125.0, 28.3)]
}

fn off(fingers: Fingers, shot: Shot<'_>) -> Shot<'_> {
    Shot { release: Release::Fingers(fingers), shaft_bow_m: 1e-7, ..shot }
}

/// Draw weight lb, spine in; then ms on the string, swings, ms of leaving the button, its push N, and mm: the nock's
/// greatest way aside and its place at exit, the bend.
const STUDY: [(f64, f64, [f64; 7]); 6] = [
    (40.0, 0.500, [13.761, 1.000, 9.743, 3.79, 17.116, 3.231, 12.276]),
    (40.0, 0.600, [13.302, 0.928, 10.116, 4.80, 18.598, 4.575, 13.287]),
    (40.0, 0.637, [13.128, 0.908, 10.19, 5.20, 19.129, 5.036, 14.402]),
    (40.0, 0.750, [12.581, 0.864, 10.216, 6.80, 20.713, 6.552, 18.123]),
    (40.0, 0.900, [11.817, 0.847, 9.837, 10.6, 22.765, 8.822, 24.085]),
    (50.0, 0.500, [12.308, 0.894, 9.816, 5.53, 18.699, 4.227, 13.965]),
];

fn found(dynamics: &ShotDynamics) -> [f64; 7] {
    [
        1e3 * dynamics.time_on_string_s,
        dynamics.swings_on_string(),
        1e3 * dynamics.rest_left_s,
        dynamics.rest_push_n,
        1e3 * dynamics.nock_aside_m,
        1e3 * dynamics.nock_exit_m,
        1e3 * dynamics.greatest_bend_m,
    ]
}

#[test]
fn it_moves_as_in_the_study() {
    let parts = carbon_parts();
    for (draw, spine, expected) in STUDY {
        let found = found(&recurve(draw, spine, &parts).simulate().unwrap());
        for (index, allowed) in [0.001, 0.0006, 0.1, 0.06, 0.02, 0.02, 0.04].into_iter().enumerate() {
            assert!((found[index] - expected[index]).abs() < allowed, "{draw}/{spine} {index}: {found:?}");
        }
    }
}

#[test]
fn its_film_is_that_of_the_study() {
    // 40 lb, .637, each ms: nock, and the middle from the line between the ends, mm.
    let nock = [
        0.0, 2.0568, 5.5866, 8.7329, 11.5526, 13.9574, 16.7153, 18.5347, 19.1292, 18.0044, 15.4663, 12.762, 9.3326,
        5.5566,
    ];
    let middle = [
        0.0, -1.0159, -4.0528, -6.3097, -8.3423, -11.0419, -12.1777, -13.6186, -13.0988, -10.7003, -7.2155, -1.7858,
        3.2766, 9.0995,
    ];
    let parts = carbon_parts();
    let times: Vec<f64> = (0..14_u32).map(|ms| 1e-3 * f64::from(ms)).collect();
    let mut seen = 0;
    recurve(40.0, 0.637, &parts)
        .simulate_with(Accuracy::default(), &times, |sample| {
            let at = |share: f64| 1e3 * sample.deflection_m(share * 28.0 * INCH);
            let departs = at(0.5) - 0.5 * (at(0.0) + at(1.0));
            assert!((at(0.0) - nock[seen]).abs() < 0.02, "{seen} ms: {}", at(0.0));
            assert!((departs - middle[seen]).abs() < 0.03, "{seen} ms: {departs}");
            seen += 1;
        })
        .unwrap();
    assert_eq!(seen, 14);
}

#[test]
fn the_shaft_leaves_button_or_shelf_before_the_string() {
    // Kooi (1998), abstract read.
    let (carbon, wood) = (carbon_parts(), wood_parts());
    let recurves = [(25.0, 0.9), (40.0, 0.45), (40.0, 0.637), (40.0, 0.9), (50.0, 0.4), (50.0, 0.6)];
    let shots = recurves.map(|(draw, spine)| (recurve(draw, spine, &carbon), vec![1000.0, 3000.0, 20_000.0]));
    for (shot, stiffnesses) in shots.into_iter().chain([(longbow(&wood), vec![20_000.0])]) {
        for rest_n_per_m in stiffnesses {
            for (rest_aside_m, string_mass_kg) in [(0.0, 0.0025), (0.0, 0.008), (0.004, 0.0025), (0.004, 0.008)] {
                let fingers = Fingers { rest_aside_m, rest_n_per_m, string_mass_kg, ..Fingers::BUTTON };
                let dynamics = off(fingers, shot).simulate().unwrap();
                let share = dynamics.rest_left_s / dynamics.time_on_string_s;
                assert!((0.3..0.95).contains(&share), "{fingers:?}: {share}");
                assert!((0.75..1.1).contains(&dynamics.swings_on_string()), "{fingers:?}: {dynamics:?}");
            }
        }
    }
}

#[test]
fn a_shelf_far_from_center_is_refused_by_name() {
    // There the model would press the rear of the shaft against the shelf as the string lets go.
    let parts = wood_parts();
    let refused = off(Fingers::shelf(0.008), longbow(&parts)).simulate();
    assert!(matches!(refused, Err(Error::OutOfRange { parameter: Parameter::RestAside, .. })), "{refused:?}");
}

/// Times (ms) at which a shaft comes to the button or shelf and leaves it, on the string and after the first 2 ms.
fn touches(shot: &Shot<'_>) -> (Vec<f64>, f64) {
    let dynamics = shot.simulate().unwrap();
    let times: Vec<f64> = (0..4000_u32).map(|index| dynamics.time_on_string_s * f64::from(index) / 4000.0).collect();
    let (mut changes, mut before) = (Vec::new(), Phase::StringAndRest);
    shot.simulate_with(Accuracy::default(), &times, |sample| {
        if sample.phase != before && sample.time_s > 0.002 {
            changes.push(1e3 * sample.time_s);
        }
        before = sample.phase;
    })
    .unwrap();
    (changes, 1e3 * dynamics.time_on_string_s)
}

#[test]
fn the_shaft_touches_the_button_at_once_and_twice_more() {
    // It bounces in the first 2 ms. The times are those of the study.
    let parts = carbon_parts();
    let (changes, end) = touches(&recurve(40.0, 0.637, &parts));
    assert!(changes.len() == 2 && (changes[0] - 2.76).abs() < 0.1 && (changes[1] - 10.19).abs() < 0.1, "{changes:?}");
    assert!((end - 13.128).abs() < 0.001, "{end}");
}

#[test]
fn a_weaker_shaft_bends_more() {
    let parts = carbon_parts();
    let bend = |spine| recurve(40.0, spine, &parts).simulate().unwrap().greatest_bend_m;
    let bends = [0.55, 0.6, 0.65, 0.7, 0.8, 0.9].map(bend);
    assert!(bends.is_sorted_by(|less, more| more > less), "{bends:?}");
    assert!((1.9..2.1).contains(&(bends[5] / bends[0])), "{bends:?}");
}

#[test]
fn twice_as_far_aside_bends_twice_as_much_beside_a_button_at_center() {
    // Pressed or not, everything scales, so the times of touching are the same.
    let parts = carbon_parts();
    let shot = recurve(40.0, 0.637, &parts);
    let at = |aside_m| off(Fingers { aside_m, rest_aside_m: 0.0, ..Fingers::BUTTON }, shot).simulate().unwrap();
    let (one, two) = (at(0.001), at(0.002));
    assert!((two.nock_aside_m / one.nock_aside_m - 2.0).abs() < 1e-3, "{one:?} {two:?}");
    assert!((two.greatest_bend_m / one.greatest_bend_m - 2.0).abs() < 1e-3);
    assert!((two.rest_push_n / one.rest_push_n - 2.0).abs() < 1e-3);
    assert!((two.rest_left_s - one.rest_left_s).abs() < 1e-9);
}

#[test]
fn the_string_takes_as_long_and_the_arrow_is_as_fast_as_in_a_straight_release() {
    let parts = carbon_parts();
    let shot = recurve(40.0, 0.6, &parts);
    let straight = Shot { release: Release::Straight, ..shot }.simulate().unwrap();
    let fingers = shot.simulate().unwrap();
    assert!((fingers.time_on_string_s / straight.time_on_string_s - 1.0).abs() < 1e-9);
    assert!((fingers.exit_speed_m_per_s / straight.exit_speed_m_per_s - 1.0).abs() < 1e-8);
    assert_eq!((straight.nock_aside_m, straight.rest_push_n, straight.rest_left_s), (0.0, 0.0, 0.0));
}

#[test]
fn the_fingertips_lead_the_nock() {
    let parts = carbon_parts();
    let shot = recurve(40.0, 0.6, &parts);
    let times: Vec<f64> = (0..60_u32).map(|index| 2e-5 * f64::from(index)).collect();
    let mut led = 0;
    shot.simulate_with(Accuracy { elements: 12, steps: 4000 }, &times, |sample| {
        if sample.travel_m < 0.003 {
            assert!((sample.deflection_m(0.0) - sample.travel_m / 1.5).abs() < 1e-12, "{}", sample.travel_m);
            led += 1;
        }
    })
    .unwrap();
    assert!(led > 20, "{led}");
}

#[test]
fn the_default_accuracy_is_as_documented() {
    let parts = carbon_parts();
    for (draw, spine) in [(40.0, 0.5), (40.0, 0.637), (40.0, 0.9), (50.0, 0.5)] {
        let shot = recurve(draw, spine, &parts);
        let at = |accuracy| shot.simulate_with(accuracy, &[], |_| {}).unwrap();
        let (usual, fine) = (at(Accuracy::default()), at(Accuracy { elements: 40, steps: 3200 }));
        for (usual, fine) in [
            (usual.nock_aside_m, fine.nock_aside_m),
            (usual.greatest_bend_m, fine.greatest_bend_m),
            (usual.nock_exit_m + fine.nock_aside_m, fine.nock_exit_m + fine.nock_aside_m),
        ] {
            assert!((usual / fine - 1.0).abs() < 3e-3, "{draw}/{spine}: {usual} {fine}");
        }
    }
}

#[test]
fn a_stiff_button_holds_the_shaft_at_its_face() {
    // A hundred times the stiffness: the shaft presses in by less than a tenth of what it does.
    let parts = carbon_parts();
    let shot = recurve(40.0, 0.637, &parts);
    let pressed = |rest_n_per_m| {
        let dynamics = off(Fingers { rest_n_per_m, ..Fingers::BUTTON }, shot).simulate().unwrap();
        dynamics.rest_push_n / rest_n_per_m
    };
    assert!(pressed(150_000.0) < 0.1 * pressed(1500.0), "{} {}", pressed(150_000.0), pressed(1500.0));
}
