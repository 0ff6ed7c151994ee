//! Spin of arrows with offset vanes, and with broadhead blades offset the same or the other way.

use super::yaw::{described, shape};
use super::{Case, Dice};
use clothyard_mechanics::flight::FlyingArrow;
use serde_json::json;

/// Distances at which the spin is compared, m.
const WAYS_M: [f64; 2] = [3.0, 18.0];

pub(super) fn case(dice: &mut Dice) -> Result<Case, String> {
    let length_m = dice.between(0.6, 0.85);
    let (shape, density, inertia) = (shape(dice, length_m)?, dice.between(0.8, 1.4), dice.between(1e-7, 1e-6));
    let arrow = FlyingArrow {
        length_m,
        mass_kg: 0.025,
        balance_m: 0.6 * length_m,
        transverse_inertia_kg_m2: 0.0015,
        shape,
        yaw_rad: 0.05,
    };
    let spin = arrow.spin(density, inertia).map_err(|error| error.to_string())?.ok_or("no spin")?;
    let given = json!({ "shape": described(&shape), "density": density, "inertia": inertia });
    let (turning, turned) = (WAYS_M.map(|way| spin.turning_rad_per_m(way)), WAYS_M.map(|way| spin.turned_rad(way)));
    let ours = json!({
        "settled": spin.settled_rad_per_m, "settlingM": spin.settling_m,
        "turning": turning, "turned": turned,
    });
    Case::new(given, ours)
}
