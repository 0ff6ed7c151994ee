//! What a sight shows, against closed forms of the parabola and against the path itself.
#![allow(clippy::unwrap_used, clippy::disallowed_methods)] // closed forms need no equal bits

use clothyard_mechanics::flight::{Accuracy, Archer, Conditions, Flight, Sight};
use clothyard_mechanics::units::STANDARD_GRAVITY;
use clothyard_mechanics::{Error, Parameter};
use proptest::prelude::*;

type Drag = fn(f64) -> f64;

/// Finer than the default, so that the laws show.
const FINE: Accuracy = Accuracy { relative: 1e-10, absolute: 1e-10 };

/// An aim is found to 1e-11 rad; steps and the end of the search add a little.
const ANGLE_RAD: f64 = 1.5e-11;

const VACUUM: Drag = |_| 0.0;
const SMOOTH: Drag = |airspeed| 0.001 + 0.004 / (1.0 + airspeed).sqrt();

const SIGHT: Sight = Sight { peep_height_m: 0.11, sight_radius_m: 0.85, launch_ahead_m: 0.6 };
const ON_THE_LINE: Sight = Sight { peep_height_m: 0.0, sight_radius_m: 0.85, launch_ahead_m: 0.0 };

fn archer(drag: &Drag, conditions: Conditions, sight: Sight, speed: f64) -> Archer<'_> {
    Archer::new(Flight::new(drag, conditions, FINE).unwrap(), sight, speed).unwrap()
}

fn slope(slope_rad: f64) -> Conditions {
    Conditions { slope_rad, ..Conditions::default() }
}

fn crosswind(right: f64) -> Conditions {
    Conditions { wind_m_per_s: [0.0, 0.0, right], ..Conditions::default() }
}

#[test]
fn in_a_vacuum_the_aim_on_a_slope_has_a_closed_form() {
    // d = 2 v^2 cos(e + s) sin e / (g cos^2 s), the lower path of the two.
    let (v, g) = (60.0_f64, STANDARD_GRAVITY);
    for (s, d) in [(-0.7_f64, 50.0), (-0.2, 80.0), (0.0, 90.0), (0.2, 80.0), (0.7, 50.0)] {
        let found = archer(&VACUUM, slope(s), ON_THE_LINE, v).aim(d).unwrap();
        let double = (s.sin() + g * d * s.cos().powi(2) / (v * v)).asin() - s;
        assert!((found.elevation_rad - 0.5 * double).abs() < 1e-11, "{s}: {}", found.elevation_rad - 0.5 * double);
    }
}

#[test]
fn string_and_arrow_turn_about_the_peep() {
    let archer = archer(&VACUUM, slope(0.0), SIGHT, 60.0);
    // Level and straight, raised by 30 degrees, and that turned to the right by 90.
    let (sine, cosine) = (0.5, 0.75_f64.sqrt());
    let (level, height) = (0.6 * cosine + 0.11 * sine, 0.6 * sine - 0.11 * cosine);
    let (raised, aside) = (std::f64::consts::FRAC_PI_6, std::f64::consts::FRAC_PI_2);
    for (elevation, azimuth, place) in
        [(0.0, 0.0, [0.6, -0.11, 0.0]), (raised, 0.0, [level, height, 0.0]), (raised, aside, [0.0, height, level])]
    {
        let launch = archer.launch(elevation, azimuth).unwrap();
        let found = [launch.distance_m, launch.height_m, launch.right_m];
        assert!(found.iter().zip(place).all(|(found, place)| (found - place).abs() < 1e-15), "{found:?}");
    }
}

#[test]
fn an_aimed_arrow_arrives() {
    for (along, right, s) in [(0.0, 0.0, 0.0), (-8.0, 6.0, 0.4), (8.0, -6.0, -0.4)] {
        let conditions = Conditions { wind_m_per_s: [along, 0.5, right], ..slope(s) };
        let archer = archer(&SMOOTH, conditions, SIGHT, 60.0);
        for d in [2.0, 18.0, 50.0, 90.0] {
            let aim = archer.aim(d).unwrap();
            assert!((aim.arrival.distance_m - d).abs() < 1e-11, "{aim:?}");
            assert!(aim.arrival.height_m.abs() < ANGLE_RAD * d, "{aim:?}");
            let against = archer.aim_against_wind(d).unwrap();
            let (up, right_m) = (against.arrival.height_m, against.arrival.right_m);
            assert!(up.abs() < ANGLE_RAD * d && right_m.abs() < ANGLE_RAD * d, "{against:?}");
            assert!(against.azimuth_rad * right <= 0.0);
        }
    }
}

#[test]
fn an_aim_is_found_up_to_the_farthest_distance_and_not_beyond() {
    for (drag, speed) in [(VACUUM, 60.0), (SMOOTH, 60.0), (SMOOTH, 20.0)] {
        let archer = archer(&drag, Conditions::default(), ON_THE_LINE, speed);
        let farthest = archer.flight().farthest(speed, 0.0).unwrap();
        for share in [0.9, 0.99, 0.9999, 0.999_999] {
            let d = share * farthest.landing.distance_m;
            let aim = archer.aim(d).unwrap();
            assert!(
                aim.elevation_rad < farthest.elevation_rad && aim.arrival.height_m.abs() < ANGLE_RAD * d,
                "{aim:?}"
            );
        }
        let beyond = 1.000_001 * farthest.landing.distance_m;
        let refused = Error::NotReached { parameter: Parameter::Distance, value: beyond };
        assert_eq!(archer.aim(beyond), Err(refused));
    }
}

#[test]
fn a_mark_is_where_its_pin_is_and_a_pin_is_on_at_its_distance() {
    let archer = archer(&SMOOTH, Conditions::default(), SIGHT, 60.0);
    let reference = archer.aim(30.0).unwrap().elevation_rad.tan();
    for d in [18.0, 30.0, 50.0, 70.0] {
        let elevation = archer.aim(d).unwrap().elevation_rad;
        let down = 0.85 * (elevation.tan() - reference);
        assert!((archer.mark_m(d, 30.0).unwrap() - down).abs() < 1e-15, "{d}");
        let on = archer.pin_on(SIGHT.pin_height_m(elevation)).unwrap();
        assert!((on.distance_m - d).abs() < 1e-8, "{d}: {}", on.distance_m - d);
    }
}

#[test]
fn in_a_vacuum_the_point_is_on_where_the_parabola_says() {
    // From (h sin e, -h cos e), tan e = h / length: h cos e = v sin e t - g t^2 / 2.
    let (v, g, h, length) = (55.0, STANDARD_GRAVITY, 0.11_f64, 0.75);
    let sight = Sight { launch_ahead_m: 0.0, ..SIGHT };
    let on = archer(&VACUUM, Conditions::default(), sight, v).point_on(length).unwrap();
    let e = (h / length).atan();
    let t = (v * e.sin() + ((v * e.sin()).powi(2) - 2.0 * g * h * e.cos()).sqrt()) / g;
    assert!((on.distance_m - (h * e.sin() + v * e.cos() * t)).abs() < 1e-12, "{on:?}");
    assert!((on.time_s - t).abs() < 1e-13);
}

#[test]
fn a_path_below_the_eye_has_no_point_on_distance() {
    let slow = archer(&SMOOTH, Conditions::default(), SIGHT, 5.0);
    assert_eq!(slow.point_on(0.9), Err(Error::NotReached { parameter: Parameter::SightHeight, value: 0.0 }));
}

#[test]
fn in_a_vacuum_the_highest_place_has_a_closed_form() {
    let (v, d) = (60.0, 60.0);
    let sight = Sight { launch_ahead_m: 0.0, ..SIGHT };
    let archer = archer(&VACUUM, Conditions::default(), sight, v);
    let (e, highest) = (archer.aim(d).unwrap().elevation_rad, archer.highest(d).unwrap());
    let expected = (v * e.sin()).powi(2) / (2.0 * STANDARD_GRAVITY) - 0.11 * e.cos();
    assert!((highest.height_m - expected).abs() < 1e-13, "{highest:?}");
    // So near that the arrow is still on its way up.
    let near = archer.highest(3.0).unwrap();
    assert!((near.distance_m - 3.0).abs() < 1e-12, "{near:?}");
}

#[test]
fn in_a_vacuum_the_window_of_distances_is_between_roots_of_the_parabola() {
    let (v, g, radius) = (60.0_f64, STANDARD_GRAVITY, 0.1);
    let archer = archer(&VACUUM, Conditions::default(), ON_THE_LINE, v);
    let e = archer.aim(50.0).unwrap().elevation_rad;
    // x tan e - g x^2 / (2 v^2 cos^2 e) = height, on the way down.
    let a = g / (2.0 * (v * e.cos()).powi(2));
    let down = |height: f64| (e.tan() + (e.tan().powi(2) - 4.0 * a * height).sqrt()) / (2.0 * a);
    let window = archer.misjudged(50.0, 2.0 * radius).unwrap();
    assert!((window.near_m - down(radius)).abs() < 1e-12 && (window.far_m - down(-radius)).abs() < 1e-12);
}

#[test]
fn the_window_reaches_from_edge_to_edge_of_the_zone() {
    // The arrow leaves over the top; is never high enough to, but low at launch; is still on its way up at the distance
    // judged; and is in the zone from launch on.
    let archer = archer(&SMOOTH, Conditions::default(), SIGHT, 60.0);
    for (judged, zone) in [(60.0, 0.2), (20.0, 0.16), (5.0, 0.02), (20.0, 0.4)] {
        let window = archer.misjudged(judged, zone).unwrap();
        assert!(window.near_m < judged && judged < window.far_m, "{window:?}");
        let launch = archer.aim(judged).unwrap().launch;
        let height = |d: f64| archer.flight().at_distance(&launch, d).unwrap().height_m.abs();
        assert!((height(window.far_m) - 0.5 * zone).abs() < 3e-10, "{window:?}");
        if window.near_m > launch.distance_m {
            assert!((height(window.near_m) - 0.5 * zone).abs() < 3e-10, "{window:?}");
            assert!(height(window.near_m - 0.01) > 0.5 * zone);
        } else {
            assert!(0.5 * zone >= launch.height_m.abs());
        }
        for step in 1..20 {
            let within = window.near_m + f64::from(step) / 20.0 * (window.far_m - window.near_m);
            assert!(height(within) < 0.5 * zone, "{judged}, {within}");
        }
        assert!(height(window.far_m + 0.01) > 0.5 * zone);
    }
}

#[test]
fn a_crosswind_carries_as_the_lag_rule_says_to_either_side() {
    let archer_in = |right| archer(&SMOOTH, crosswind(right), SIGHT, 70.0);
    let calm = archer_in(0.0);
    let (right, left) = (calm.drift(60.0, 3.0).unwrap(), calm.drift(60.0, -3.0).unwrap());
    assert!((right.right_m + left.right_m).abs() < 1e-15 && (right.up_m - left.up_m).abs() < 1e-15);
    let launch = calm.aim(60.0).unwrap().launch;
    let there = archer_in(3.0).flight().at_distance(&launch, 60.0).unwrap();
    let [along, ..] = launch.velocity_m_per_s;
    let lag = there.time_s - (60.0 - launch.distance_m) / along;
    assert!((right.right_m - 3.0 * lag).abs() < 1e-14, "{}", right.right_m - 3.0 * lag);
    assert!(right.up_m < 0.0 && right.up_m > -0.01 * right.right_m);
    assert_eq!(calm.drift(60.0, 0.0).map(|drift| (drift.right_m, drift.up_m)), Ok((0.0, 0.0)));
}

#[test]
fn a_further_crosswind_carries_by_the_difference_of_two_flights() {
    let drift =
        |wind: f64, further: f64| archer(&SMOOTH, crosswind(wind), SIGHT, 60.0).drift(50.0, further).unwrap().right_m;
    let aim = archer(&SMOOTH, crosswind(2.0), SIGHT, 60.0).aim(50.0).unwrap();
    let carried = |wind: f64| {
        let conditions = crosswind(wind);
        Flight::new(&SMOOTH, conditions, FINE).unwrap().at_distance(&aim.launch, 50.0).unwrap().right_m
    };
    assert!((drift(2.0, 1.0) - (carried(3.0) - carried(2.0))).abs() < 1e-9);
    assert!(drift(2.0, -2.0) < 0.0 && drift(-2.0, 2.0) > 0.0);
}

#[test]
fn what_no_archer_has_is_refused_by_name() {
    let parameter = |error: Error| match error {
        Error::OutOfRange { parameter, .. } => parameter,
        _ => Parameter::Span, // none of those asked for
    };
    let ours = archer(&SMOOTH, Conditions::default(), SIGHT, 60.0);
    assert_eq!(parameter(ours.aim(0.5).unwrap_err()), Parameter::TargetDistance);
    assert_eq!(parameter(ours.aim_against_wind(f64::NAN).unwrap_err()), Parameter::TargetDistance);
    assert_eq!(parameter(ours.misjudged(30.0, 0.0).unwrap_err()), Parameter::ZoneDiameter);
    assert_eq!(parameter(ours.point_on(0.0).unwrap_err()), Parameter::ArrowLength);
    assert_eq!(parameter(ours.drift(30.0, 200.0).unwrap_err()), Parameter::WindSpeed);
    let flight = *ours.flight();
    let refused = |sight, speed| Archer::new(flight, sight, speed).err().map(parameter);
    assert_eq!(refused(SIGHT, 0.0), Some(Parameter::Speed));
    assert_eq!(refused(Sight { peep_height_m: 1.0, ..SIGHT }, 60.0), Some(Parameter::PeepHeight));
    assert_eq!(refused(Sight { sight_radius_m: 0.0, ..SIGHT }, 60.0), Some(Parameter::SightRadius));
    assert_eq!(refused(Sight { launch_ahead_m: 9.0, ..SIGHT }, 60.0), Some(Parameter::LaunchAhead));
}

fn wide(parameter: Parameter) -> impl Strategy<Value = f64> {
    let (low, high) = parameter.range();
    prop_oneof![30 => low..=high, 4 => Just(low), 4 => Just(high)]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]
    #[test]
    fn any_aim_ends_at_its_target_or_in_a_refusal(
        (speed, distance) in (wide(Parameter::Speed), wide(Parameter::TargetDistance)),
        (along, up, right) in (-30.0..30.0, -5.0..5.0, -30.0..30.0),
        (peep_height_m, launch_ahead_m) in (wide(Parameter::PeepHeight), wide(Parameter::LaunchAhead)),
        (slope_rad, zone) in (wide(Parameter::Slope), wide(Parameter::ZoneDiameter)),
    ) {
        let conditions = Conditions { slope_rad, wind_m_per_s: [along, up, right], ..Conditions::default() };
        let sight = Sight { peep_height_m, launch_ahead_m, ..SIGHT };
        let archer = archer(&SMOOTH, conditions, sight, speed);
        if let Ok(aim) = archer.aim(distance) {
            prop_assert!((aim.arrival.distance_m - distance).abs() < 1e-8);
            prop_assert!(aim.arrival.height_m.abs() < 1e-6 * distance, "{aim:?}");
        }
        let against = archer.aim_against_wind(distance);
        prop_assert!(against.is_err() || against.is_ok_and(|aim| aim.arrival.right_m.abs() < 1e-6 * distance));
        let window = archer.misjudged(distance, zone);
        prop_assert!(window.is_err() || window.is_ok_and(|found| found.near_m <= found.far_m));
    }

    #[test]
    fn a_farther_target_needs_a_higher_arrow_on_its_way_down(near in 15.0..60.0, further in 0.5..30.0) {
        let archer = archer(&SMOOTH, Conditions::default(), SIGHT, 60.0);
        prop_assert!(archer.mark_m(near + further, near).unwrap() > 0.0);
    }
}
