//! Whole arrows: inertia, center of pressure, and the oscillation of a small yaw.

use super::{Case, Dice};
use clothyard_mechanics::flight::{ArrowShape, Blades, FlyingArrow, Outline, Vanes, Yaw};
use clothyard_mechanics::{Arrow, Error, Part};
use serde_json::{Value, json};

pub(super) fn case(dice: &mut Dice) -> Result<Case, String> {
    let length_m = dice.between(0.6, 0.85);
    let shape = shape(dice, length_m)?;
    let vanes = shape.vanes.ok_or("no vanes")?;
    let vane = Part {
        from_m: vanes.rear_m,
        to_m: vanes.rear_m + vanes.length_m,
        ..Part::point_mass(vanes.mass_kg, vanes.center_of_mass_m())
    };
    let parts = [
        Part::point_mass(dice.between(3e-4, 2e-3), 0.0),
        vane,
        Part::point_mass(dice.between(5e-3, 2e-2), length_m + 0.01),
    ];
    let per_length = dice.between(0.01, 0.03);
    let (density, drag_area) = (dice.between(0.8, 1.4), dice.between(0.0, 1.5e-4));
    let given = json!({
        "lengthM": length_m, "massPerLength": per_length, "density": density, "dragAreaM2": drag_area,
        "parts": parts.map(|part| [part.mass_kg, part.center_m, part.from_m, part.to_m]),
        "shape": described(&shape),
    });
    let ours = || -> Result<_, Error> {
        let stack = Arrow::new(length_m, 0.014, per_length, 6.0, &parts)?;
        let arrow = FlyingArrow { yaw_rad: 0.05, ..FlyingArrow::new(&stack, shape)? };
        Ok((arrow.transverse_inertia_kg_m2, arrow.stability()?, arrow.yaw(density, drag_area)?))
    };
    let (inertia, held, yaw) = ours().map_err(|error| error.to_string())?;
    let Yaw::Oscillates { wavelength_m, half_distance_m, damping_ratio } = yaw else {
        return Err(format!("{given} does not swing"));
    };
    let ours = json!({
        "inertia": inertia, "pullM2": held.normal_force_area_m2, "centreM": held.center_of_pressure_m,
        "wavelengthM": wavelength_m, "halfDistanceM": half_distance_m, "dampingRatio": damping_ratio,
    });
    Case::new(given, ours)
}

/// Vanes that stabilize the arrow, and blades too small to destabilize it.
pub(super) fn shape(dice: &mut Dice, length_m: f64) -> Result<ArrowShape, String> {
    let outline = Outline::ALL.into_iter().nth(dice.pick(Outline::ALL.len())).ok_or("no outline")?;
    let diameter_m = dice.between(0.004, 0.0095);
    let tip_m = length_m + 0.03;
    let vanes = Vanes {
        count: 3 + dice.pick(2) as u32,
        length_m: dice.between(0.03, 0.11),
        height_m: dice.between(0.009, 0.016),
        outline,
        rear_m: dice.between(0.015, 0.05),
        offset_rad: dice.between(0.01, 0.08),
        mass_kg: dice.between(5e-4, 3e-3),
    };
    let blades = Blades {
        count: 2 + dice.pick(2) as u32,
        length_m: dice.between(0.02, 0.04),
        width_m: diameter_m + dice.between(0.001, 0.012),
        front_m: tip_m,
        mass_kg: 0.0,
    };
    Ok(ArrowShape { diameter_m, tip_m, nose_length_m: 0.02, vanes: Some(vanes), blades: Some(blades) })
}

/// A shape as JSON.
pub(super) fn described(shape: &ArrowShape) -> Value {
    let vanes = shape.vanes.map(|vanes| {
        json!({
            "count": vanes.count, "lengthM": vanes.length_m, "heightM": vanes.height_m,
            "outline": format!("{:?}", vanes.outline), "rearM": vanes.rear_m, "offsetRad": vanes.offset_rad,
        })
    });
    let blades = shape.blades.map(|blades| {
        json!({
            "count": blades.count, "lengthM": blades.length_m, "widthM": blades.width_m, "frontM": blades.front_m,
        })
    });
    json!({
        "diameterM": shape.diameter_m, "tipM": shape.tip_m, "noseM": shape.nose_length_m, "vanes": vanes, "blades": blades,
    })
}
