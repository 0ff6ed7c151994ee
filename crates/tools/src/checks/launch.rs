//! Published launch speeds with the energy of their bow, compared with the default of the bow type.
//!
//! C. N. Hickman, "Effect of String Weight on Arrow Velocity and Efficiency of Bows", in Hickman, Nagler & Klopsteg,
//! *Archery: The Technical Side* (1947), read at archerylibrary.com: speed and efficiency of three wooden bows, each with
//! a string of 108 and one of 254 gr, for an arrow of 400 gr. Draw weights are not given; a power stroke of 19.5 in and
//! a stored share of 0.52 are assumed for them (30 to 37 lb). The lighter string counts as the usual one, and of the
//! heavier a third of what it weighs more: in Hickman's words, speed is reduced "about the same amount as if the arrow
//! were increased in weight by one-third the increase in weight of the string".

use clothyard_mechanics::estimate::{Estimate, Readings};
use clothyard_mechanics::units::{KILOGRAM_PER_GRAIN, METER_PER_INCH, METER_PER_SECOND_PER_FPS};
use clothyard_mechanics::{BowKind, Error, kinetic_energy_j};

const ARROW_KG: f64 = 400.0 * KILOGRAM_PER_GRAIN;

/// Speed, fps, that a longbow of which nothing but its energy is known is expected to give; the energy follows from
/// the speed read (fps), the efficiency (percent) and the string (gr).
pub(super) fn predicted_fps(speed_fps: f64, efficiency_percent: f64, string_gr: f64) -> Result<f64, Error> {
    let arrow_j = kinetic_energy_j(ARROW_KG, speed_fps * METER_PER_SECOND_PER_FPS);
    let stored_j = 100.0 * arrow_j / efficiency_percent;
    let peak_force_n = stored_j / (19.5 * METER_PER_INCH * 0.52);
    let prior = BowKind::Longbow.usual(peak_force_n)?.prior(stored_j);
    let hung_kg = (string_gr - 108.0) / 3.0 * KILOGRAM_PER_GRAIN;
    Ok(Estimate::new(&prior, &Readings::NONE)?.speed(ARROW_KG, hung_kg)?.value / METER_PER_SECOND_PER_FPS)
}
