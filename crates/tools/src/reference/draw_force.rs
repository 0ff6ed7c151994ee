//! Noisy draw-force readings of compounds and recurves, in random order.

use super::{Case, Dice};
use clothyard_mechanics::curve_factor;
use clothyard_mechanics::{BowKind, DrawCurve, DrawReading, MeasuredCurve};
use serde_json::json;

const BRACE_M: f64 = 0.19;

pub(super) fn case(dice: &mut Dice) -> Result<Case, String> {
    let count = 4 + dice.pick(25);
    let steepness = dice.between(1.5, 8.0);
    let (stroke, peak, let_off) = (dice.between(0.35, 0.6), dice.between(100.0, 320.0), dice.between(0.0, 0.9));
    let mut readings: Vec<DrawReading> = (1..=count)
        .map(|index| {
            let u = (index as f64 - dice.between(0.0, 0.8)) / count as f64;
            let rise = (steepness * u).min(1.0);
            let fall = if u > 0.8 { let_off * (u - 0.8) / 0.2 } else { 0.0 };
            DrawReading { draw_m: BRACE_M + stroke * u, force_n: peak * (rise - fall) * dice.between(0.97, 1.0) }
        })
        .collect();
    readings.rotate_left(dice.pick(count));
    let curve = MeasuredCurve::new(&readings, BRACE_M).map_err(|error| error.to_string())?;
    let (rule, scale) = (dice.between(0.0, 0.005), dice.between(0.0, 2.0));
    let uncertainty = curve.energy_uncertainty(rule, scale).map_err(|error| error.to_string())?;
    let places: Vec<f64> = (0..20).map(|_| dice.between(0.0, 0.9)).collect();
    let end = dice.between(BRACE_M + 0.05, curve.full_draw().draw_m);
    let shorter = curve.up_to(end).map_err(|error| error.to_string())?;
    let given = json!({
        "drawM": readings.iter().map(|reading| reading.draw_m).collect::<Vec<_>>(),
        "forceN": readings.iter().map(|reading| reading.force_n).collect::<Vec<_>>(),
        "braceM": BRACE_M, "ruleM": rule, "scaleN": scale, "placesM": places, "endM": end,
    });
    let ours = json!({
        "energyJ": curve.stored_energy_j(), "energyFraction": curve.energy_fraction(), "peakN": curve.peak().force_n,
        "peakAtM": curve.peak().draw_m, "letOff": curve.let_off(), "valleyWidthM": curve.valley_width_m(),
        "setbackN": curve.setback_n(), "fromStepsJ": uncertainty.from_steps_j, "atMostJ": uncertainty.from_steps_at_most_j,
        "betweenJ": uncertainty.from_spacing_j, "shorterEnergyJ": shorter.stored_energy_j(),
        "threeQuartersAt": curve.first_share_at(0.75),
        "pushFactor": curve_factor(BowKind::Compound, &DrawCurve::Measured(curve)),
        "forcesN": places.iter().map(|place| curve.force_n(*place)).collect::<Vec<_>>(),
    });
    Case::new(given, ours)
}
