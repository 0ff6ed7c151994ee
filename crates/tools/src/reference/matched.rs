//! The best matched set of a few shafts, weighed coarsely so that many are equal.

use super::{Case, Dice};
use clothyard_mechanics::measured::{Shaft, SpreadCost, best_matched_set};
use serde_json::json;

pub(super) fn case(dice: &mut Dice) -> Result<Case, String> {
    let count = 3 + dice.pick(10);
    let shafts: Vec<Shaft> = (0..count)
        .map(|_| Shaft { mass_kg: 0.018 + 1e-5 * dice.pick(80) as f64, sag_m: 0.012 + 1e-5 * dice.pick(80) as f64 })
        .collect();
    let wanted = 2 + dice.pick(count - 2);
    let cost = SpreadCost { per_kg: dice.between(1e3, 1e5), per_m: dice.between(1e3, 1e5) };
    let set = best_matched_set(&shafts, wanted, cost).map_err(|error| error.to_string())?;
    let given = json!({
        "massesKg": shafts.iter().map(|shaft| shaft.mass_kg).collect::<Vec<_>>(),
        "sagsM": shafts.iter().map(|shaft| shaft.sag_m).collect::<Vec<_>>(),
        "wanted": wanted, "costPerKg": cost.per_kg, "costPerM": cost.per_m, "members": set.members(),
    });
    let own = cost.per_kg * set.mass_spread_kg + cost.per_m * set.sag_spread_m;
    Case::new(given, json!({ "leastCost": set.cost, "costOfMembers": own }))
}
