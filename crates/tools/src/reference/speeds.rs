//! Energy and virtual mass from noisy chronograph readings, some with an outlier.

use super::{Case, Dice};
use clothyard_mechanics::launch_speed;
use clothyard_mechanics::measured::{SpeedReading, fit_speeds};
use serde_json::json;

/// Standard deviation of a speed, m/s.
const NOISE: f64 = 0.15;

pub(super) fn case(dice: &mut Dice) -> Result<Case, String> {
    let (energy, virtual_mass) = (dice.between(30.0, 120.0), dice.between(0.004, 0.012));
    let lightest = dice.between(0.015, 0.025);
    // In every fourth case all arrows weigh the same, so that the virtual mass stays assumed.
    let heavier = if dice.pick(4) == 0 { 0.0 } else { dice.between(0.3, 0.8) };
    let count = 4 + dice.pick(12);
    let mut readings = Vec::with_capacity(count);
    for index in 0..count {
        let arrow_mass_kg = lightest * (1.0 + heavier * (index % 4) as f64 / 3.0);
        let exact = launch_speed(energy, arrow_mass_kg, virtual_mass).map_err(|error| error.to_string())?;
        readings.push(SpeedReading { arrow_mass_kg, speed_m_per_s: exact + NOISE * dice.normal() });
    }
    if let (0, Some(slip)) = (dice.pick(3), readings.last_mut()) {
        slip.speed_m_per_s += dice.between(0.5, 4.0);
    }
    let fit = fit_speeds(&readings, virtual_mass).map_err(|error| error.to_string())?;
    let errors = fit.errors(&readings, 0.0).map_err(|error| error.to_string())?;
    let given = json!({
        "massesKg": readings.iter().map(|reading| reading.arrow_mass_kg).collect::<Vec<_>>(),
        "speedsMPerS": readings.iter().map(|reading| reading.speed_m_per_s).collect::<Vec<_>>(),
        "assumedVirtualMassKg": virtual_mass,
    });
    let ours = json!({
        "energyJ": fit.delivered_energy_j,
        "virtualMassKg": fit.virtual_mass_kg,
        "deviationMPerS": fit.standard_deviation_m_per_s.unwrap_or(f64::MAX),
        "energyErrorJ": errors.energy_error_j.unwrap_or(f64::MAX),
        "virtualMassErrorKg": errors.virtual_mass_error_kg.unwrap_or(0.0),
        "suspect": errors.suspect.map_or(-1.0, |suspect| suspect.index as f64),
        "studentized": errors.suspect.map_or(0.0, |suspect| suspect.studentized),
        "chance": errors.suspect.map_or(1.0, |suspect| suspect.chance),
    });
    Case::new(given, ours)
}
