//! The path of an arrow against closed forms and laws.
#![allow(clippy::unwrap_used, clippy::indexing_slicing, clippy::disallowed_methods)] // closed forms need no equal bits

use clothyard_mechanics::flight::{Accuracy, Conditions, Flight, TrajectoryPoint};
use clothyard_mechanics::units::STANDARD_GRAVITY;
use clothyard_mechanics::{Error, Parameter};
use proptest::prelude::*;

type Drag = fn(f64) -> f64;

/// Finer than the default, so that the laws show.
const FINE: Accuracy = Accuracy { relative: 1e-10, absolute: 1e-10 };

const VACUUM: Drag = |_| 0.0;
/// Less at high speed, as where skin friction counts.
const SMOOTH: Drag = |airspeed| 0.001 + 0.004 / (1.0 + airspeed).sqrt();

fn flight(drag: &Drag, conditions: Conditions) -> Flight<'_> {
    Flight::new(drag, conditions, FINE).unwrap()
}

fn windy(wind_m_per_s: [f64; 3]) -> Conditions {
    Conditions { wind_m_per_s, ..Conditions::default() }
}

fn at_times(flight: &Flight<'_>, launch: &TrajectoryPoint, times_s: &[f64]) -> Vec<TrajectoryPoint> {
    let mut points = Vec::new();
    flight.at_times(launch, times_s.iter().copied(), |point| points.push(point)).unwrap();
    points
}

fn at_distances(flight: &Flight<'_>, launch: &TrajectoryPoint, distances_m: &[f64]) -> Vec<TrajectoryPoint> {
    let mut points = Vec::new();
    flight.at_distances(launch, distances_m.iter().copied(), |point| points.push(point)).unwrap();
    points
}

fn launch(speed: f64, elevation: f64) -> TrajectoryPoint {
    TrajectoryPoint::launch([0.0; 3], speed, elevation, 0.0).unwrap()
}

fn place(point: &TrajectoryPoint) -> [f64; 3] {
    [point.distance_m, point.height_m, point.right_m]
}

/// The largest difference of place (m) and velocity (m/s).
fn apart(one: &TrajectoryPoint, other: &TrajectoryPoint) -> f64 {
    let places = place(one).into_iter().zip(place(other));
    let velocities = one.velocity_m_per_s.into_iter().zip(other.velocity_m_per_s);
    places.chain(velocities).fold(0.0, |most, (one, other)| f64::max(most, (one - other).abs()))
}

#[test]
fn in_a_vacuum_the_path_is_a_parabola_on_any_slope() {
    let (v, up, g) = (60.0, 0.2_f64, STANDARD_GRAVITY);
    for slope_rad in [-0.6_f64, 0.0, 0.4] {
        let flight = flight(&VACUUM, Conditions { slope_rad, ..Conditions::default() });
        for point in at_times(&flight, &launch(v, up), &[0.0, 0.3, 1.0, 2.5]) {
            let t = point.time_s;
            let x = v * up.cos() * t - 0.5 * g * slope_rad.sin() * t * t;
            let y = v * up.sin() * t - 0.5 * g * slope_rad.cos() * t * t;
            assert!((point.distance_m - x).abs() < 1e-13 && (point.height_m - y).abs() < 1e-13, "{point:?}");
        }
    }
}

#[test]
fn the_apex_of_a_parabola_is_where_it_should_be() {
    let (v, up, g) = (60.0, 0.2_f64, STANDARD_GRAVITY);
    let apex = flight(&VACUUM, Conditions::default()).apex(&launch(v, up)).unwrap();
    assert!((apex.height_m - (v * up.sin()).powi(2) / (2.0 * g)).abs() < 1e-12);
    assert!((apex.distance_m - v * v * (2.0 * up).sin() / (2.0 * g)).abs() < 1e-11);
    let level = launch(v, 0.0);
    assert_eq!(flight(&VACUUM, Conditions::default()).apex(&level), Ok(level));
}

#[test]
fn a_launch_points_where_its_angles_say() {
    let point = TrajectoryPoint::launch([1.0, 2.0, 3.0], 60.0, 0.7, -0.4).unwrap();
    let [along, up, right] = point.velocity_m_per_s;
    assert_eq!(place(&point).map(f64::to_bits), [1.0, 2.0, 3.0].map(f64::to_bits));
    assert!((point.speed_m_per_s() - 60.0).abs() < 1e-13);
    assert!((up.atan2(along.hypot(right)) - 0.7).abs() < 1e-15 && (right.atan2(along) + 0.4).abs() < 1e-15);
}

#[test]
fn wind_comes_from_where_the_clock_says() {
    // At 12 o'clock, at 3, at half past 4 and at 9.
    let half = 5.0 * std::f64::consts::FRAC_1_SQRT_2;
    for (hours, along, right) in [(0.0, -5.0, 0.0), (3.0, 0.0, -5.0), (4.5, half, -half), (9.0, 0.0, 5.0)] {
        let from_rad = hours * std::f64::consts::TAU / 12.0;
        let [found_along, up, found_right] = windy([0.0; 3]).with_wind_from(5.0, from_rad).wind_m_per_s;
        assert!((found_along - along).abs() < 1e-14 && (found_right - right).abs() < 1e-14, "{hours}");
        assert!(up.abs() < f64::MIN_POSITIVE);
    }
}

#[test]
fn a_crossing_is_after_its_start_and_by_its_end() {
    let flight = flight(&VACUUM, Conditions::default());
    let at = |time: f64| flight.crossing(&launch(60.0, 0.2), 1.0, |point| point.time_s - time).unwrap();
    assert!((at(0.995).unwrap().time_s - 0.995).abs() < 1e-14);
    assert_eq!(at(1.005), None);
    let past = |time: f64| {
        let way = 60.0 * 0.2_f64.cos() * time;
        flight.crossing(&launch(60.0, 0.2), 1.0, |point| point.distance_m - way).unwrap()
    };
    assert!((past(0.99).unwrap().time_s - 0.99).abs() < 1e-13);
    assert_eq!(past(1.01), None);
    // A level shot from the line of sight leaves it and does not cross it.
    assert_eq!(flight.crossing(&launch(60.0, 0.0), 1.0, |point| point.height_m), Ok(None));
}

#[test]
fn without_gravity_speed_falls_exponentially_with_the_way() {
    let (k, v) = (0.002_f64, 70.0);
    let drag: Drag = |_| 0.002;
    let flight = flight(&drag, Conditions { gravity_m_per_s2: 0.0, ..Conditions::default() });
    for point in at_distances(&flight, &launch(v, 0.0), &[0.0, 10.0, 50.0, 90.0, 300.0]) {
        let x = point.distance_m;
        assert!((point.speed_m_per_s() / (v * (-k * x).exp()) - 1.0).abs() < 1e-10, "{x}");
        assert!((point.time_s - (k * x).exp_m1() / (k * v)).abs() < 5e-10 * point.time_s.max(1.0), "{x}");
    }
}

#[test]
fn a_crosswind_drifts_by_the_lag_rule() {
    // McCoy, Modern Exterior Ballistics, ch. 7: W (t - X / v). Drag points along the airspeed, so sideways and
    // forward airspeed keep their ratio: with t the time in this wind and v the level speed at launch the rule is
    // exact at any drag. It is linear in place and time, which every Runge-Kutta step keeps: rounding is what is left.
    let (v, up, w) = (75.0, 0.06_f64, 4.0);
    let flight = flight(&SMOOTH, windy([0.0, 0.0, w]));
    for point in at_distances(&flight, &launch(v, up), &[20.0, 50.0, 90.0]) {
        let lag = point.time_s - point.distance_m / (v * up.cos());
        assert!((point.right_m - w * lag).abs() < 5e-15, "{}", point.right_m - w * lag);
        assert!(point.right_m > 0.01);
    }
}

#[test]
fn a_steady_wind_is_calm_air_that_moves() {
    let wind = [5.0, -1.5, 3.0];
    let (times, start) = ([0.4, 1.1, 2.3], launch(65.0, 0.1));
    let [along, up, right] = start.velocity_m_per_s;
    let carried = TrajectoryPoint { velocity_m_per_s: [along - wind[0], up - wind[1], right - wind[2]], ..start };
    let in_wind = at_times(&flight(&SMOOTH, windy(wind)), &start, &times);
    let in_calm = at_times(&flight(&SMOOTH, Conditions::default()), &carried, &times);
    for (in_wind, in_calm) in in_wind.iter().zip(in_calm) {
        let ([x, y, z], [along, up, right], t) = (place(&in_calm), in_calm.velocity_m_per_s, in_calm.time_s);
        let seen = TrajectoryPoint {
            time_s: t,
            distance_m: x + wind[0] * t,
            height_m: y + wind[1] * t,
            right_m: z + wind[2] * t,
            velocity_m_per_s: [along + wind[0], up + wind[1], right + wind[2]],
        };
        assert!(apart(in_wind, &seen) < 2e-9, "{}", apart(in_wind, &seen));
    }
}

#[test]
fn what_energy_is_lost_went_into_drag() {
    // Simpson's rule over the power of drag, by 4000 intervals.
    let (wind, mass, count) = ([-4.0, 0.5, 3.0], 0.024, 4000_u32);
    let times: Vec<f64> = (0..=count).map(|step| 2.0 * f64::from(step) / f64::from(count)).collect();
    let points = at_times(&flight(&SMOOTH, windy(wind)), &launch(70.0, 0.15), &times);
    let power = |point: &TrajectoryPoint| {
        let v = point.velocity_m_per_s;
        let through = [v[0] - wind[0], v[1] - wind[1], v[2] - wind[2]];
        let airspeed = through.iter().map(|u| u * u).sum::<f64>().sqrt();
        mass * SMOOTH(airspeed) * airspeed * through.iter().zip(v).map(|(u, v)| u * v).sum::<f64>()
    };
    let weight = |step: usize| if step.is_multiple_of(2) { 2.0 } else { 4.0 };
    let inner: f64 = (1..points.len() - 1).map(|step| weight(step) * power(&points[step])).sum();
    let (first, last) = (&points[0], &points[points.len() - 1]);
    let work = (power(first) + inner + power(last)) * 2.0 / (3.0 * f64::from(count));
    let energy = |point: &TrajectoryPoint| point.kinetic_energy_j(mass) + mass * STANDARD_GRAVITY * point.height_m;
    let lost = energy(first) - energy(last);
    assert!((lost - work).abs() < 3e-10 && lost > 10.0, "{lost} J lost, {work} J of work");
    assert!((last.momentum_kg_m_per_s(mass) * last.speed_m_per_s() - 2.0 * last.kinetic_energy_j(mass)).abs() < 1e-13);
}

#[test]
fn a_mirrored_wind_mirrors_the_path_to_the_last_bit() {
    let distances = [15.0, 40.0, 80.0];
    let both = [3.7, -3.7].map(|right| {
        let flight = flight(&SMOOTH, windy([2.0, 0.3, right]));
        at_distances(&flight, &launch(60.0, 0.1), &distances)
    });
    for (right, left) in both[0].iter().zip(&both[1]) {
        let [along, up, across] = left.velocity_m_per_s;
        let mirrored = TrajectoryPoint { right_m: -left.right_m, velocity_m_per_s: [along, up, -across], ..*left };
        assert_eq!(*right, mirrored);
    }
}

#[test]
fn in_a_vacuum_a_path_uphill_is_a_path_downhill_run_backwards() {
    let flight = flight(&VACUUM, Conditions { slope_rad: 0.5, ..Conditions::default() });
    let start = launch(60.0, 0.1);
    let top = flight.at_distance(&start, 60.0).unwrap();
    let [along, up, right] = top.velocity_m_per_s;
    let back = TrajectoryPoint { time_s: 0.0, velocity_m_per_s: [-along, -up, -right], ..top };
    let returned = at_times(&flight, &back, &[top.time_s])[0];
    let [along, up, right] = returned.velocity_m_per_s;
    let turned = TrajectoryPoint { velocity_m_per_s: [-along, -up, -right], ..returned };
    assert!(apart(&turned, &start) < 3e-14, "{}", apart(&turned, &start));
}

#[test]
fn the_error_follows_the_accuracy_asked_for() {
    let end = |error: f64| {
        let accuracy = Accuracy { relative: error, absolute: error };
        let drag = &SMOOTH;
        Flight::new(drag, windy([1.0, 0.0, 3.0]), accuracy).unwrap().at_distance(&launch(60.0, 0.1), 90.0).unwrap()
    };
    let best = end(1e-13);
    for error in [1e-5, 1e-7, 1e-9] {
        let off = apart(&end(error), &best) / error;
        assert!((0.1..10.0).contains(&off), "{off} times {error}");
    }
}

#[test]
fn the_farthest_shot_in_a_vacuum_has_a_closed_form() {
    let (v, g) = (60.0_f64, STANDARD_GRAVITY);
    let level = flight(&VACUUM, Conditions::default());
    let farthest = level.farthest(v, 0.0).unwrap();
    assert!((farthest.landing.distance_m - v * v / g).abs() < 2e-8);
    assert!((farthest.elevation_rad - core::f64::consts::FRAC_PI_4).abs() < 1e-5);
    let high = level.farthest(v, 20.0).unwrap().landing.distance_m;
    assert!((high - v / g * (v * v + 40.0 * g).sqrt()).abs() < 2e-8);
    for slope_rad in [-0.4_f64, 0.4] {
        let flight = flight(&VACUUM, Conditions { slope_rad, ..Conditions::default() });
        let farthest = flight.farthest(v, 0.0).unwrap().landing.distance_m;
        assert!((farthest - v * v / (g * (1.0 + slope_rad.sin()))).abs() < 2e-8, "{slope_rad}");
    }
}

#[test]
fn drag_shortens_the_farthest_shot_and_a_tailwind_lengthens_it() {
    let range = |drag: &Drag, along| flight(drag, windy([along, 0.0, 0.0])).farthest(60.0, 1.5).unwrap();
    let (vacuum, calm, tail) = (range(&VACUUM, 0.0), range(&SMOOTH, 0.0), range(&SMOOTH, 8.0));
    assert!(calm.landing.distance_m < tail.landing.distance_m);
    assert!(tail.landing.distance_m < vacuum.landing.distance_m);
    assert!(calm.elevation_rad < vacuum.elevation_rad);
}

#[test]
fn what_cannot_be_reached_is_refused_by_name() {
    let flight = flight(&SMOOTH, Conditions::default());
    let beyond = flight.at_distance(&launch(60.0, 0.1), 5000.0);
    assert_eq!(beyond, Err(Error::NotReached { parameter: Parameter::Distance, value: 5000.0 }));
    assert_eq!(beyond.unwrap_err().to_string(), "the arrow never reaches a distance of 5000 m");
    let apex = flight.apex(&launch(60.0, 0.1)).unwrap();
    let height = Error::NotReached { parameter: Parameter::SightHeight, value: 50.0 };
    assert_eq!(flight.descent(&apex, 50.0), Err(height));
    let weightless = Conditions { gravity_m_per_s2: 0.0, ..Conditions::default() };
    let rising = flight.under(weightless).unwrap().farthest(60.0, 0.0);
    assert_eq!(rising, Err(Error::NotReached { parameter: Parameter::FlightTime, value: 120.0 }));
}

#[test]
fn what_makes_no_sense_is_refused_by_name() {
    let parameter = |error: Error| match error {
        Error::OutOfRange { parameter, .. } => parameter,
        _ => Parameter::Span, // none of those asked for
    };
    let start = launch(60.0, 0.1);
    let level = flight(&SMOOTH, Conditions::default());
    let unsorted = level.at_distances(&start, [20.0, 10.0], |_| {}).unwrap_err();
    let behind = level.at_distance(&start, -1.0).unwrap_err();
    let drags: [Drag; 3] = [|_| f64::NAN, |_| -0.001, |_| 2.0];
    assert_eq!([parameter(unsorted), parameter(behind)], [Parameter::Distance; 2]);
    for drag in drags {
        let refused = flight(&drag, Conditions::default()).at_distance(&start, 20.0).unwrap_err();
        assert_eq!(parameter(refused), Parameter::DragPerMeter);
    }
    let steep = Flight::new(&VACUUM, Conditions { slope_rad: 1.5, ..Conditions::default() }, FINE);
    assert_eq!(parameter(steep.err().unwrap()), Parameter::Slope);
    let release = Accuracy { relative: 0.1, absolute: 1e-10 };
    assert_eq!(parameter(Flight::new(&VACUUM, Conditions::default(), release).err().unwrap()), Parameter::StepError);
}

/// Drag as odd as a caller may come up with, within the range allowed.
const ODD: [Drag; 4] = [
    |_| 1.0,
    |airspeed| if airspeed < 30.0 { 0.5 } else { 0.0 },
    |airspeed| 0.5 + 0.5 * (1e3 * airspeed).sin(),
    |airspeed| if (airspeed * 10.0) % 2.0 < 1.0 { 0.01 } else { 0.02 },
];

fn wide(parameter: Parameter) -> impl Strategy<Value = f64> {
    let (low, high) = parameter.range();
    prop_oneof![30 => low..=high, 4 => Just(low), 4 => Just(high), 1 => any::<f64>()]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]
    #[test]
    fn any_flight_ends_with_a_finite_answer_or_a_refusal(
        (speed, elevation, azimuth) in (wide(Parameter::Speed), wide(Parameter::Elevation), wide(Parameter::Azimuth)),
        (along, up, right) in (wide(Parameter::WindSpeed), wide(Parameter::WindSpeed), wide(Parameter::WindSpeed)),
        (gravity_m_per_s2, slope_rad) in (wide(Parameter::Gravity), wide(Parameter::Slope)),
        (relative, absolute) in (wide(Parameter::StepError), wide(Parameter::StepError)),
        (distance, drag) in (wide(Parameter::Distance), 0..6_usize),
    ) {
        let drag = [VACUUM, SMOOTH, ODD[0], ODD[1], ODD[2], ODD[3]][drag];
        let conditions = Conditions { gravity_m_per_s2, slope_rad, wind_m_per_s: [along, up, right] };
        let Ok(flight) = Flight::new(&drag, conditions, Accuracy { relative, absolute }) else { return Ok(()) };
        let Ok(start) = TrajectoryPoint::launch([0.0; 3], speed, elevation, azimuth) else { return Ok(()) };
        for answer in [flight.at_distance(&start, distance), flight.apex(&start)].into_iter().flatten() {
            prop_assert!(answer.speed_m_per_s().is_finite() && place(&answer).iter().all(|way| way.is_finite()));
        }
        if let Ok(farthest) = flight.farthest(speed, 1.0) {
            prop_assert!(farthest.landing.distance_m.is_finite());
        }
    }
}
