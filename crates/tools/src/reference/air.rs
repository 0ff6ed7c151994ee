//! Air by weather, and the standard atmosphere.

use super::{Case, Dice};
use clothyard_mechanics::Error;
use clothyard_mechanics::flight::{Air, standard_pressure_pa, standard_temperature_k};
use serde_json::json;

pub(super) fn case(dice: &mut Dice) -> Result<Case, String> {
    let (temperature_k, humidity) = (dice.between(253.0, 318.0), dice.between(0.0, 1.0));
    let (pressure_pa, altitude_m) = (dice.between(60_000.0, 110_000.0), dice.between(-400.0, 5_000.0));
    let ours = || {
        let moist = Air::moist(temperature_k, humidity, pressure_pa)?;
        let standard = Air::standard(altitude_m)?;
        Ok::<_, Error>(json!({
            "moistDensity": moist.density_kg_per_m3,
            "temperatureK": standard_temperature_k(altitude_m)?,
            "pressurePa": standard_pressure_pa(altitude_m)?,
            "standardDensity": standard.density_kg_per_m3,
            "viscosity": standard.viscosity_pa_s,
        }))
    };
    let given = json!({
        "temperatureK": temperature_k, "humidity": humidity, "pressurePa": pressure_pa, "altitudeM": altitude_m,
    });
    Case::new(given, ours().map_err(|error| error.to_string())?)
}
