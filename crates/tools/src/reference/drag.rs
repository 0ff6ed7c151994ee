//! Drag coefficients, speed downrange, and drag from a measured speed.

use super::{Case, Dice};
use clothyard_mechanics::Error;
use clothyard_mechanics::flight::{Air, BoundaryLayer, Downrange, Drag, DragShape, Edge, Plates};
use serde_json::json;

pub(super) fn case(dice: &mut Dice) -> Result<Case, String> {
    let air = Air { density_kg_per_m3: dice.between(0.8, 1.3), viscosity_pa_s: dice.between(1.7e-5, 1.9e-5) };
    let vanes = Plates {
        count: 3 + u32::from(dice.pick(2) > 0),
        root_chord_m: dice.between(0.03, 0.11),
        tip_chord_m: dice.between(0.0, 0.03),
        height_m: dice.between(0.005, 0.015),
        sweep_m: dice.between(0.0, 0.04),
        thickness_m: dice.between(3e-4, 1e-3),
        leading_edge: Edge::Square,
    };
    let fixed = Plates::blades(3, dice.between(0.02, 0.04), dice.between(0.01, 0.015), dice.between(5e-4, 1e-3));
    let blades = if dice.pick(2) == 0 { Plates::NONE } else { fixed };
    let share = BoundaryLayer::Share(dice.between(0.0, 1.0));
    let boundary_layer = if dice.pick(2) == 0 { BoundaryLayer::Changing } else { share };
    let shape = DragShape {
        diameter_m: dice.between(0.004, 0.009),
        length_m: dice.between(0.6, 0.85),
        boundary_layer,
        vanes,
        point_half_angle_rad: dice.between(0.0, 0.9),
        blades,
    };
    let (speed, way) = (dice.between(35.0, 100.0), dice.between(15.0, 90.0));
    let reading = Downrange {
        launch_m_per_s: speed,
        downrange_m_per_s: speed * dice.between(0.8, 0.98),
        distance_m: way,
        mass_kg: dice.between(0.015, 0.04),
    };
    let ours = || {
        let shaft = |boundary_layer| Ok::<_, Error>(DragShape { boundary_layer, ..shape }.parts(speed, &air)?.shaft);
        let drag = Drag::built_up(&shape)?;
        Ok::<_, Error>(json!({
            "laminarShaft": shaft(BoundaryLayer::LAMINAR)?,
            "turbulentShaft": shaft(BoundaryLayer::TURBULENT)?,
            "coefficient": drag.coefficient(speed, &air),
            "speedLeft": drag.speed_after_m_per_s(speed, way, reading.mass_kg, &air)?,
            "measuredFactor": drag.measured(&reading, &air)?.factor(),
        }))
    };
    let plates = |plates: Plates| {
        json!([
            plates.count,
            plates.root_chord_m,
            plates.tip_chord_m,
            plates.height_m,
            plates.sweep_m,
            plates.thickness_m,
            u8::from(plates.leading_edge == Edge::Square)
        ])
    };
    let given = json!({
        "density": air.density_kg_per_m3, "viscosity": air.viscosity_pa_s,
        "diameterM": shape.diameter_m, "lengthM": shape.length_m, "turbulentShare": share_of(shape.boundary_layer),
        "pointHalfAngle": shape.point_half_angle_rad, "vanes": plates(shape.vanes), "blades": plates(shape.blades),
        "speed": speed, "wayM": way, "downrange": reading.downrange_m_per_s, "massKg": reading.mass_kg,
    });
    Case::new(given, ours().map_err(|error| error.to_string())?)
}

/// The share that is turbulent; null where point and speed decide.
fn share_of(layer: BoundaryLayer) -> Option<f64> {
    match layer {
        BoundaryLayer::Share(share) => Some(share),
        BoundaryLayer::Changing => None,
    }
}
