//! Checks of the shot in time.

use super::{study_arrow, study_parts};
use clothyard_mechanics::shot::{Fingers, Release, Shot, natural_frequencies_hz, pivoted_frequencies_hz};
use clothyard_mechanics::units::{METER_PER_INCH, NEWTON_PER_POUND_FORCE};
use clothyard_mechanics::{Arrow, Bow, DrawCurve, Error, Part};

/// `beta L` of a shaft with a tip mass, given as a multiple of the shaft's mass; 64 elements.
pub(super) fn beta_length(held: &str, tip_share: f64, mode: &str) -> Result<f64, String> {
    let (length_m, per_length, stiffness): (_, _, f64) = (0.7, 0.02, 6.0);
    let tip = [Part::point_mass(tip_share * per_length * length_m, length_m)];
    let arrow = Arrow::new(length_m, 0.0, per_length, stiffness, &tip).map_err(|error| error.to_string())?;
    let solve = if held == "free" { natural_frequencies_hz } else { pivoted_frequencies_hz };
    let frequencies = solve(&arrow, 64).map_err(|error| error.to_string())?;
    let order: usize = mode.parse().map_err(|_| format!("{mode} is no mode"))?;
    let hertz = frequencies.get(order.wrapping_sub(1)).ok_or("no such mode")?;
    Ok(length_m * (core::f64::consts::TAU * hertz).sqrt() * (per_length / stiffness).powf(0.25))
}

/// The smallest or largest magnification of the pairings at 80% let-off.
pub(super) fn bend(which: &str) -> Result<f64, Error> {
    let pairings = [
        (70.0, 28.0, 0.340),
        (60.0, 28.0, 0.400),
        (50.0, 28.0, 0.500),
        (40.0, 28.0, 0.600),
        (70.0, 30.0, 0.300),
        (60.0, 30.0, 0.340),
        (60.0, 26.0, 0.450),
    ];
    let (mut least, mut greatest) = (f64::INFINITY, 0.0_f64);
    for (pull_lb, length_in, spine_in) in pairings {
        let parts = study_parts(length_in);
        let arrow = study_arrow(length_in, spine_in, &parts)?;
        let rest_m = (length_in - 1.25) * METER_PER_INCH;
        let curve = DrawCurve::LetOff { rise: 0.35, valley: 0.25, let_off: 0.80 };
        let stroke_m = rest_m - 6.75 * METER_PER_INCH;
        let bow = Bow::new(pull_lb * NEWTON_PER_POUND_FORCE, stroke_m, curve, 0.0071, 0.0)?;
        let found = Shot::new(arrow, bow, rest_m).simulate()?.magnification;
        (least, greatest) = (least.min(found), greatest.max(found));
    }
    Ok(if which == "least" { least } else { greatest })
}

/// A recurve of 40 lb shot off the fingers with a shaft of spine .637: when the shaft leaves the plunger (share of the
/// time on the string), swings on the string, or the nock's greatest movement to the side (mm).
pub(super) fn off_fingers(what: &str) -> Result<f64, Error> {
    let parts = study_parts(28.0);
    let arrow = study_arrow(28.0, 0.637, &parts)?;
    let rest_m = 26.75 * METER_PER_INCH;
    let stroke_m = rest_m - 8.5 * METER_PER_INCH;
    let bow = Bow::new(40.0 * NEWTON_PER_POUND_FORCE, stroke_m, DrawCurve::RECURVE, 0.0059, 0.04)?;
    let release = Release::Fingers(Fingers::BUTTON);
    let shot = Shot { release, shaft_bow_m: 1e-7, ..Shot::new(arrow, bow, rest_m) }.simulate()?;
    Ok(match what {
        "leaves" => shot.rest_left_s / shot.time_on_string_s,
        "swings" => shot.swings_on_string(),
        _ => 1e3 * shot.nock_aside_m,
    })
}
