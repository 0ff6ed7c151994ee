//! Shots off the fingers: string, nock and bend at sample times, and when the shaft leaves the button.

use super::{Case, Dice};
use clothyard_mechanics::shot::{Accuracy, Fingers, Phase, Release, Shot};
use clothyard_mechanics::{Arrow, Bow, DrawCurve, Part};
use serde_json::json;

/// Fine enough that the discretization error is small.
const ACCURACY: Accuracy = Accuracy { elements: 40, steps: 3200 };

/// Sample times, s; the last is in flight, the others on the string.
const TIMES_S: [f64; 5] = [0.002, 0.005, 0.008, 0.010, 0.025];

/// Bow of the shaft that is next to none: the reference has a straight one.
const STRAIGHT_M: f64 = 1e-7;

pub(super) fn case(dice: &mut Dice) -> Result<Case, String> {
    let length_m = dice.between(0.65, 0.80);
    let parts = [
        Part::point_mass(dice.between(4e-4, 1e-3), 0.0),
        Part::point_mass(dice.between(1e-3, 2e-3), dice.between(0.04, 0.08)),
        Part::point_mass(dice.between(5e-3, 1e-2), length_m + dice.between(0.005, 0.02)),
    ];
    let (mass_per_length, stiffness) = (dice.between(0.011, 0.02), dice.between(3.5, 6.5));
    let arrow = Arrow::new(length_m, 0.0, mass_per_length, stiffness, &parts).map_err(|error| error.to_string())?;
    let rest_m = length_m - dice.between(0.02, 0.05);
    let curvature = dice.between(0.1, 0.55);
    let stroke_m = rest_m - dice.between(0.17, 0.23);
    let curve = DrawCurve::Smooth { curvature };
    let bow = Bow::new(dice.between(130.0, 230.0), stroke_m, curve, dice.between(0.004, 0.008), 0.0)
        .map_err(|error| error.to_string())?;
    let fingers = Fingers {
        aside_m: dice.between(0.001, 0.003),
        slip_m: dice.between(0.002, 0.005),
        string_mass_kg: dice.between(0.0025, 0.008),
        rest_n_per_m: dice.between(1000.0, 3000.0),
        rest_aside_m: dice.between(0.0, 0.004),
    };
    let release = Release::Fingers(fingers);
    let delivered_energy_j = dice.between(0.85, 1.0) * bow.stored_energy_j();
    let shot = Shot { delivered_energy_j, shaft_bow_m: STRAIGHT_M, release, ..Shot::new(arrow, bow, rest_m) };
    shoot(&shot, &fingers, curvature).map_err(|error| error.to_string())
}

fn shoot(shot: &Shot<'_>, fingers: &Fingers, curvature: f64) -> Result<Case, Box<dyn std::error::Error>> {
    let arrow = &shot.arrow;
    let (mut nock_m, mut middle_m, mut in_flight_m) = (Vec::new(), Vec::new(), Vec::new());
    let dynamics = shot.simulate_with(ACCURACY, &TIMES_S, |sample| {
        let at = |share: f64| sample.deflection_m(share * arrow.length_m);
        let (nock, middle) = (at(0.0), at(0.5) - 0.5 * (at(0.0) + at(1.0)));
        if sample.phase == Phase::Free {
            in_flight_m = vec![nock, middle];
        } else {
            nock_m.push(nock);
            middle_m.push(middle);
        }
    })?;
    let given = json!({
        "lengthM": arrow.length_m, "shaftFromM": arrow.shaft_from_m, "massPerLength": arrow.shaft_mass_kg_per_m,
        "stiffness": arrow.shaft_stiffness_nm2, "restM": shot.rest_m,
        "parts": arrow.parts.iter().map(|part| [part.mass_kg, part.center_m]).collect::<Vec<_>>(),
        "peakForceN": shot.bow.peak_force_n, "strokeM": shot.bow.stroke_m, "virtualMassKg": shot.bow.virtual_mass_kg,
        "curve": ["smooth", curvature], "deliveredEnergyJ": shot.delivered_energy_j, "shaftBowM": 0.0,
        "asideM": fingers.aside_m, "slipM": fingers.slip_m, "stringMassKg": fingers.string_mass_kg,
        "restStiffness": fingers.rest_n_per_m, "restOffsetM": fingers.rest_aside_m, "timesS": TIMES_S,
    });
    let ours = json!({
        "timeOnStringS": dynamics.time_on_string_s, "exitSpeedMPerS": dynamics.exit_speed_m_per_s,
        "nockM": nock_m, "middleM": middle_m, "inFlightM": in_flight_m, "nockExitM": dynamics.nock_exit_m, "restLeftS": dynamics.rest_left_s,
    });
    Ok(Case::new(given, ours)?)
}
