//! Sets of fins: normal force slopes, interference, center of pressure, and roll.

use super::{Case, Dice};
use clothyard_mechanics::flight::FinSet;
use serde_json::json;
use std::f64::consts::PI;

pub(super) fn case(dice: &mut Dice) -> Result<Case, String> {
    let root_chord_m = dice.between(0.02, 0.12);
    let fins = FinSet {
        count: 2 + dice.pick(5) as u32,
        root_chord_m,
        tip_chord_m: root_chord_m * dice.between(0.0, 1.0),
        span_m: dice.between(0.002, 0.02),
        sweep_m: root_chord_m * dice.between(0.0, 1.2),
        body_radius_m: dice.between(0.002, 0.005),
        front_m: 0.1,
    };
    let fins = fins.checked().map_err(|error| error.to_string())?;
    let radius = fins.body_radius_m;
    let area = PI * radius * radius;
    let given = json!({
        "count": fins.count, "rootM": fins.root_chord_m, "tipM": fins.tip_chord_m, "spanM": fins.span_m,
        "sweepM": fins.sweep_m, "radiusM": radius,
    });
    let ours = json!({
        "slopeOfOne": fins.fin_normal_force_area_m2() / area, "interference": fins.interference(),
        "slopeOfSet": fins.normal_force_area_m2() / area, "centreM": fins.center_behind_front_m(),
        "rollDrive": fins.roll_drive_m3() / (2.0 * radius * area),
        "meanSquareRadiusM2": fins.mean_square_radius_m2(),
        "driveInterference": fins.drive_interference(), "dampingInterference": fins.damping_interference(),
    });
    Case::new(given, ours)
}
