//! Pairings of bow and arrow: a prior calculation, and what common practice says of them.
//!
//! The prior calculation is a study made with SciPy before this crate, with the set-up written
//! out below. It is no published source: agreement shows that two programs solve one problem.
#![allow(clippy::unwrap_used)]

use clothyard_mechanics::units::{
    KILOGRAM_PER_GRAIN as GRAIN, KILOGRAM_PER_METER_PER_GRAIN_PER_INCH as GRAIN_PER_INCH, METER_PER_INCH as INCH,
    METER_PER_SECOND_PER_FPS as FPS, NEWTON_PER_POUND_FORCE as POUND,
};
use clothyard_mechanics::{
    Arrow, Bow, DEFAULT_ELEMENTS, DrawCurve, Launch, PIVOT_TO_DRAW_LENGTH_M, Part, Rating, SpineRig, column_load,
    critical_acceleration, critical_acceleration_with, launch_speed, stiffness_from_amo_rating_nm2,
};

/// The virtual mass of the study, kg.
const VIRTUAL_MASS_KG: f64 = 0.0071;

/// Column load of an arrow of `length_in`, its rest 1.25 in behind the shaft's front end.
fn load_of(arrow: &Arrow<'_>, draw_lb: f64, length_in: f64) -> f64 {
    let bow = Bow::new(draw_lb * POUND, 0.5, DrawCurve::RECURVE, VIRTUAL_MASS_KG, 0.0).unwrap();
    let peak = bow.peak_acceleration(arrow.mass_kg()).unwrap();
    let critical = critical_acceleration(arrow, (length_in - 1.25) * INCH).unwrap();
    column_load(peak, critical).unwrap()
}

/// Column load in the study: draw weight lb, length in, spine in, point gr.
fn load(draw_lb: f64, length_in: f64, spine_in: f64, point_gr: f64) -> f64 {
    let parts = [
        Part::point_mass(10.0 * GRAIN, 0.0),
        Part::point_mass(24.0 * GRAIN, 2.0 * INCH),
        Part::point_mass(20.0 * GRAIN, (length_in - 0.4) * INCH),
        Part::point_mass(point_gr * GRAIN, (length_in + 0.6) * INCH),
    ];
    let stiffness = SpineRig::ASTM_F2031.bending_stiffness_nm2(spine_in * INCH).unwrap();
    let per_length = (10.2 - 11.0 * (spine_in - 0.3)) * GRAIN_PER_INCH;
    let arrow = Arrow::new(length_in * INCH, 0.0, per_length, stiffness, &parts).unwrap();
    load_of(&arrow, draw_lb, length_in)
}

#[test]
fn seven_pairings_of_the_prior_calculation() {
    let pairings = [
        (70.0, 28.0, 0.340, 1.0322),
        (60.0, 28.0, 0.400, 1.0401),
        (50.0, 28.0, 0.500, 1.0821),
        (40.0, 28.0, 0.600, 1.0376),
        (70.0, 30.0, 0.300, 1.0473),
        (60.0, 30.0, 0.340, 1.0168),
        (60.0, 26.0, 0.450, 1.0078),
    ];
    let mut sum = 0.0;
    for (draw, length, spine, calculated) in pairings {
        let found = load(draw, length, spine, 100.0);
        assert!((found - calculated).abs() < 5e-5, "{draw}/{length}/{spine}: {found}");
        sum += found;
    }
    assert!((sum / 7.0 - 1.038).abs() < 5e-4);
    assert!((sum / 7.0 - Launch::ReleaseAid.target_load()).abs() < 0.005);
}

#[test]
fn the_default_elements_are_as_accurate_as_documented() {
    let point = [Part::point_mass(100.0 * GRAIN, 28.6 * INCH)];
    let arrow = Arrow::new(28.0 * INCH, 0.0, 9.1 * GRAIN_PER_INCH, 6.37, &point).unwrap();
    let at = |elements| critical_acceleration_with(&arrow, 26.75 * INCH, elements).unwrap();
    let error = at(DEFAULT_ELEMENTS) / at(64) - 1.0;
    assert!((1e-6..3e-6).contains(&error), "{error:e}");
    let coarser = at(DEFAULT_ELEMENTS / 2) / at(64) - 1.0;
    assert!((15.0..18.0).contains(&(coarser / error)), "fourth order: {coarser:e}");
}

/// The change in draw weight (lb) around 60/28/.400 that changes the load as much.
fn in_draw_weight(changed: f64) -> f64 {
    60.0 * (changed / load(60.0, 28.0, 0.400, 100.0) - 1.0)
}

#[test]
fn what_point_and_length_are_worth_in_the_prior_calculation() {
    let point = in_draw_weight(load(60.0, 28.0, 0.400, 125.0));
    assert!((point - 3.09).abs() < 5e-3, "{point}");
    let length = in_draw_weight(load(60.0, 29.0, 0.400, 100.0));
    assert!((length - 4.39).abs() < 5e-3, "{length}");
}

#[test]
fn what_point_and_length_are_worth_in_common_practice() {
    // Common practice, no source: +25 gr of point is 2 to 5 lb of draw, +1 in is 3 to 6 lb.
    assert!((2.0..5.0).contains(&in_draw_weight(load(60.0, 28.0, 0.400, 125.0))));
    assert!((3.0..6.0).contains(&in_draw_weight(load(60.0, 29.0, 0.400, 100.0))));
}

/// Column load under the AMO rule for wood arrows: spine rating equal to draw weight, 28 in,
/// 125 gr point. The nock of 10 gr is that of the study.
fn wood_load(draw_lb: f64, shaft_gr: f64) -> f64 {
    let parts = [
        Part::point_mass(10.0 * GRAIN, 0.0),
        Part::point_mass(24.0 * GRAIN, 3.0 * INCH),
        Part::point_mass(125.0 * GRAIN, 28.3 * INCH),
    ];
    let stiffness = stiffness_from_amo_rating_nm2(draw_lb * POUND).unwrap();
    let per_length = shaft_gr / 28.0 * GRAIN_PER_INCH;
    let arrow = Arrow::new(28.0 * INCH, 0.0, per_length, stiffness, &parts).unwrap();
    load_of(&arrow, draw_lb, 28.0)
}

#[test]
fn the_rule_for_wood_arrows_is_one_load_at_every_draw_weight() {
    // The rule: AMO Standards. The load it comes to: prior calculation.
    for draw in [30.0, 40.0, 50.0, 60.0, 70.0] {
        let found = wood_load(draw, 340.0);
        assert!((found - Launch::FingersShelf.target_load()).abs() < 5e-4, "{draw} lb: {found}");
        assert!((found / wood_load(30.0, 340.0) - 1.0).abs() < 1e-9);
        for shaft in [300.0, 380.0] {
            let moved = (wood_load(draw, shaft) - found).abs();
            assert!(moved < 0.002, "{shaft} gr of shaft: {moved}");
        }
    }
}

/// Speed in fps at 70 lb from a bow rated 320 fps; draw length in inches, masses in grains.
fn speed_fps(draw_in: f64, arrow_gr: f64, string_gr: f64) -> f64 {
    let brace = 6.5 * INCH;
    let stroke = draw_in * INCH - PIVOT_TO_DRAW_LENGTH_M - brace;
    let energy =
        Rating::ASTM_F1544.delivered_energy_j(320.0 * FPS, VIRTUAL_MASS_KG, 70.0 * POUND, stroke, brace).unwrap();
    let virtual_mass = VIRTUAL_MASS_KG + string_gr * GRAIN;
    launch_speed(energy, arrow_gr * GRAIN, virtual_mass).unwrap() / FPS
}

#[test]
fn what_draw_and_mass_are_worth_in_speed_in_common_practice() {
    // Common practice, no source: off the rating, an inch of draw is 7 to 12 fps, 5 gr of arrow
    // 1 to 2 fps, 5 gr on the string 1 to 4 fps.
    let rated = speed_fps(30.0, 350.0, 0.0);
    assert!((rated - 320.0).abs() < 1e-9, "{rated}");
    assert!((7.0..12.0).contains(&(rated - speed_fps(29.0, 350.0, 0.0))));
    assert!((1.0..2.0).contains(&(rated - speed_fps(30.0, 355.0, 0.0))));
    assert!((1.0..4.0).contains(&(rated - speed_fps(30.0, 350.0, 5.0))));
}
