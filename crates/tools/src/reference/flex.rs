//! Shots in time: string, bend, frequencies, and the tip's deflection at sample times.

use super::{Case, Dice};
use clothyard_mechanics::shot::{Accuracy, FREQUENCY_ELEMENTS, Shot, pivoted_frequencies_hz};
use clothyard_mechanics::{Arrow, Bow, DrawCurve, Part};
use serde_json::{Value, json};

/// Fine enough that the discretization error is negligible.
const ACCURACY: Accuracy = Accuracy { elements: 40, steps: 3200 };

/// Sample times of the tip, s; the last is in flight.
const TIMES_S: [f64; 4] = [0.004, 0.008, 0.011, 0.035];

pub(super) fn case(dice: &mut Dice) -> Result<Case, String> {
    let length_m = dice.between(0.65, 0.80);
    let parts = [
        Part::point_mass(dice.between(4e-4, 1e-3), 0.0),
        Part::point_mass(dice.between(1e-3, 3e-3), dice.between(0.04, 0.08)),
        Part::point_mass(dice.between(4e-3, 1e-2), length_m + dice.between(0.005, 0.03)),
    ];
    let (mass_per_length, stiffness) = (dice.between(0.014, 0.022), dice.between(5.0, 9.0));
    let arrow = Arrow::new(length_m, 0.014, mass_per_length, stiffness, &parts).map_err(|error| error.to_string())?;
    let rest_m = length_m - dice.between(0.01, 0.06);
    let (curve, named) = curve(dice);
    let stroke_m = rest_m - dice.between(0.15, 0.2);
    let bow = Bow::new(dice.between(160.0, 300.0), stroke_m, curve, dice.between(0.005, 0.01), 0.0)
        .map_err(|error| error.to_string())?;
    let rest_share = if dice.pick(2) == 0 { 1.0 } else { dice.between(0.3, 0.9) };
    let shot = Shot {
        delivered_energy_j: dice.between(0.8, 1.0) * bow.stored_energy_j(),
        rest_share,
        shaft_bow_m: dice.between(5e-5, 2e-4),
        ..Shot::new(arrow, bow, rest_m)
    };
    shoot(&shot, &named).map_err(|error| error.to_string())
}

/// A draw-force curve and its name.
fn curve(dice: &mut Dice) -> (DrawCurve, Value) {
    if dice.pick(2) == 0 {
        let (rise, valley) = (dice.between(0.2, 0.5), dice.between(0.18, 0.3));
        let let_off = dice.between(0.65, 0.9);
        (DrawCurve::LetOff { rise, valley, let_off }, json!(["let-off", rise, valley, let_off]))
    } else {
        let curvature = dice.between(0.0, 0.6);
        (DrawCurve::Smooth { curvature }, json!(["smooth", curvature]))
    }
}

fn shoot(shot: &Shot<'_>, named: &Value) -> Result<Case, Box<dyn std::error::Error>> {
    let arrow = &shot.arrow;
    let mut tip_m = Vec::new();
    let dynamics = shot.simulate_with(ACCURACY, &TIMES_S, |sample| tip_m.push(sample.deflection_m(arrow.length_m)))?;
    let given = json!({
        "lengthM": arrow.length_m, "shaftFromM": arrow.shaft_from_m, "massPerLength": arrow.shaft_mass_kg_per_m,
        "stiffness": arrow.shaft_stiffness_nm2, "restM": shot.rest_m, "restShare": shot.rest_share,
        "parts": arrow.parts.iter().map(|part| [part.mass_kg, part.center_m]).collect::<Vec<_>>(),
        "peakForceN": shot.bow.peak_force_n, "strokeM": shot.bow.stroke_m, "virtualMassKg": shot.bow.virtual_mass_kg,
        "curve": named, "deliveredEnergyJ": shot.delivered_energy_j, "shaftBowM": shot.shaft_bow_m,
        "timesS": TIMES_S,
    });
    let ours = json!({
        "timeOnStringS": dynamics.time_on_string_s, "exitSpeedMPerS": dynamics.exit_speed_m_per_s,
        "magnification": dynamics.magnification, "freeHz": dynamics.free_frequencies_hz,
        "pivotedHz": pivoted_frequencies_hz(arrow, FREQUENCY_ELEMENTS)?, "tipOverBow":
            tip_m.iter().map(|tip| tip / shot.shaft_bow_m).collect::<Vec<_>>(),
    });
    Ok(Case::new(given, ours)?)
}
