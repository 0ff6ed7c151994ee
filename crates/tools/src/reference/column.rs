//! Mass, balance point and critical acceleration of arrows on their rests.

use super::{Case, Dice};
use clothyard_mechanics::{Arrow, Part, critical_acceleration_with};
use serde_json::json;

/// Number of elements, so many that the discretization error is negligible.
const ELEMENTS: usize = 48;

pub(super) fn case(dice: &mut Dice) -> Result<Case, String> {
    let length_m = dice.between(0.6, 0.85);
    let parts = [
        Part::point_mass(dice.between(3e-4, 2e-3), 0.0),
        Part::point_mass(dice.between(5e-4, 4e-3), dice.between(0.03, 0.09)),
        Part { added_stiffness_nm2: dice.between(0.0, 10.0), ..stretch(dice, length_m - 0.03, length_m) },
        Part::point_mass(dice.between(3e-3, 2e-2), length_m + dice.between(0.005, 0.05)),
    ];
    let (mass_per_length, stiffness) = (dice.between(0.01, 0.03), dice.between(2.0, 12.0));
    let rest_m = length_m - dice.between(0.01, 0.12);
    let arrow = Arrow::new(length_m, 0.014, mass_per_length, stiffness, &parts).map_err(|error| error.to_string())?;
    let critical = critical_acceleration_with(&arrow, rest_m, ELEMENTS).map_err(|error| error.to_string())?;
    let given = json!({
        "lengthM": length_m, "shaftFromM": 0.014, "massPerLength": mass_per_length, "stiffness": stiffness, "restM": rest_m,
        "parts": parts.map(|part| [part.mass_kg, part.center_m, part.from_m, part.to_m, part.added_stiffness_nm2]),
    });
    let ours = json!({
        "massKg": arrow.mass_kg(), "balanceM": arrow.balance_m(), "criticalAcceleration": critical,
    });
    Case::new(given, ours)
}

/// A part with an extent.
fn stretch(dice: &mut Dice, from_m: f64, to_m: f64) -> Part {
    Part { from_m, to_m, ..Part::point_mass(dice.between(1e-3, 5e-3), 0.5 * (from_m + to_m)) }
}
