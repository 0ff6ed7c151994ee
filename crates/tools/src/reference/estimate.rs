//! Bows of every type, some untypical, with up to six readings, some of them outliers, and some with a rated speed.

use super::{Case, Dice};
use clothyard_mechanics::estimate::{Estimate, Prior, RatedReading, Readings, energy_excess};
use clothyard_mechanics::measured::SpeedReading;
use clothyard_mechanics::{BowKind, Error, UsualBow, launch_speed};
use serde_json::{Value, json};

pub(super) fn case(dice: &mut Dice) -> Result<Case, String> {
    answered(dice).map_err(|error| error.to_string()).and_then(|(given, ours)| Case::new(given, ours))
}

/// Inputs and this program's results.
fn answered(dice: &mut Dice) -> Result<(Value, Value), Error> {
    let kind = [BowKind::Compound, BowKind::Recurve, BowKind::Longbow].into_iter().nth(dice.pick(3));
    let usual = kind.unwrap_or(BowKind::Compound).usual(dice.between(60.0, 500.0))?;
    let stored_j = dice.between(20.0, 130.0);
    let bow = Truth::drawn(dice, &usual.prior(stored_j));
    let hung_mass_kg = sometimes(dice, 0.0, (0.0, 0.002));
    let energy_ratio = sometimes(dice, 1.0, (0.8, 1.25));
    let shots = bow.shots(dice, hung_mass_kg, energy_ratio)?;
    let rated = if dice.pick(5) < 2 { Some(bow.rated(dice)?) } else { None };
    let resolution_m_per_s = sometimes(dice, 0.0, (0.0, 0.3));
    let readings = Readings { shots: &shots, hung_mass_kg, energy_ratio, resolution_m_per_s, rated };
    let asked_kg = dice.between(0.015, 0.04);
    Ok((given(&usual, stored_j, &readings, asked_kg), ours(&usual, stored_j, &readings, asked_kg)?))
}

fn sometimes(dice: &mut Dice, usual: f64, (low, high): (f64, f64)) -> f64 {
    if dice.pick(2) == 0 { usual } else { dice.between(low, high) }
}

/// The true bow.
struct Truth {
    energy_j: f64,
    virtual_mass_kg: f64,
}

impl Truth {
    fn drawn(dice: &mut Dice, prior: &Prior) -> Self {
        Self {
            energy_j: prior.energy_j * (0.1 * dice.normal()).exp(),
            virtual_mass_kg: prior.virtual_mass_kg * (0.4 * dice.normal()).exp(),
        }
    }

    fn shots(&self, dice: &mut Dice, hung_kg: f64, ratio: f64) -> Result<Vec<SpeedReading>, Error> {
        let masses = [(); 3].map(|()| dice.between(0.015, 0.04));
        let (count, weights) = (dice.pick(7), 1 + dice.pick(3));
        let mut shots = Vec::with_capacity(count);
        for _ in 0..count {
            let arrow_mass_kg = masses.into_iter().nth(dice.pick(weights)).unwrap_or(0.02);
            let exact = launch_speed(self.energy_j * ratio, arrow_mass_kg, self.virtual_mass_kg + hung_kg)?;
            shots.push(SpeedReading { arrow_mass_kg, speed_m_per_s: exact + 0.4 * dice.normal() });
        }
        if let (0, Some(wild)) = (dice.pick(7), shots.first_mut()) {
            wild.speed_m_per_s *= if dice.pick(2) == 0 { 0.7 } else { 1.35 };
        }
        Ok(shots)
    }

    fn rated(&self, dice: &mut Dice) -> Result<RatedReading, Error> {
        let (energy_ratio, arrow_mass_kg) = (dice.between(0.7, 1.6), 0.022_68);
        let exact = launch_speed(self.energy_j * energy_ratio, arrow_mass_kg, self.virtual_mass_kg)?;
        let speed_m_per_s = exact * (1.0 + 0.03 * dice.normal());
        Ok(RatedReading { speed_m_per_s, arrow_mass_kg, energy_ratio })
    }
}

fn given(usual: &UsualBow, stored_j: f64, readings: &Readings<'_>, asked_kg: f64) -> Value {
    let prior = usual.prior(stored_j);
    let shots: Vec<_> = readings.shots.iter().map(|shot| (shot.speed_m_per_s, shot.arrow_mass_kg)).collect();
    let rated: Vec<_> =
        readings.rated.iter().map(|rated| (rated.speed_m_per_s, rated.arrow_mass_kg, rated.energy_ratio)).collect();
    json!({
        "priorEnergyJ": prior.energy_j, "priorEnergyLogError": prior.energy_log_error,
        "priorVirtualMassKg": prior.virtual_mass_kg, "priorVirtualMassLogError": prior.virtual_mass_log_error,
        "shots": shots, "hungMassKg": readings.hung_mass_kg, "energyRatio": readings.energy_ratio,
        "resolutionMPerS": readings.resolution_m_per_s, "rated": rated,
        "storedEnergyJ": stored_j, "storedLogError": usual.stored_log_error, "askedMassKg": asked_kg,
    })
}

fn ours(usual: &UsualBow, stored_j: f64, readings: &Readings<'_>, asked_kg: f64) -> Result<Value, Error> {
    let prior = usual.prior(stored_j);
    let found = Estimate::new(&prior, readings)?;
    let (energy, virtual_mass, launch) = (found.energy_j(), found.virtual_mass_kg(), found.speed(asked_kg, 0.0)?);
    let excess = energy_excess(&prior, readings, stored_j, usual.stored_log_error)?;
    Ok(json!({
        "energyJ": energy.value, "virtualMassKg": virtual_mass.value,
        "logErrors": [energy.log_error, virtual_mass.log_error], "scatterMPerS": found.scatter_m_per_s(),
        "speedMPerS": launch.value, "speedLogError": launch.log_error,
        "excess": excess.map_or(0.0, |excess| excess.deviations),
    }))
}
