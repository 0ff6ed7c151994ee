//! Readings of the bow: draw force along the draw, and speeds of arrows of known weight.
//!
//! They belong to the bow as it was set when read. Resolved inputs hold them, so that a "what if" keeps them.

use crate::schema::{List, MAX_SPEED_READINGS};
use crate::setup::Setup;
use crate::units::Quantity;
use clothyard_mechanics::measured::{DrawReading, MAX_DRAW_READINGS, MeasuredCurve, SpeedReading};

/// Maximum number of readings: those of the list, and the one of the inputs.
const MAX_READINGS: usize = MAX_SPEED_READINGS + 1;

/// Chronograph readings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ChronographReadings {
    all: [SpeedReading; MAX_READINGS],
    count: usize,
}

impl ChronographReadings {
    /// The readings of a setup's list.
    #[must_use]
    pub fn of(setup: &Setup) -> Self {
        let mut readings =
            Self { all: [SpeedReading { arrow_mass_kg: 0.0, speed_m_per_s: 0.0 }; MAX_READINGS], count: 0 };
        setup.lists.pairs_si(List::Speeds).for_each(|(mass, speed)| readings.push(mass, speed));
        readings
    }

    /// Adds a reading: arrow mass in kg, speed in m/s. A reading beyond the maximum is dropped.
    pub fn push(&mut self, arrow_mass_kg: f64, speed_m_per_s: f64) {
        if let Some(slot) = self.all.get_mut(self.count) {
            *slot = SpeedReading { arrow_mass_kg, speed_m_per_s };
            self.count += 1;
        }
    }

    /// All readings, in the order of the list.
    #[must_use]
    pub fn all(&self) -> &[SpeedReading] {
        self.all.get(..self.count).unwrap_or_default()
    }
}

/// The draw-force readings of a setup.
pub fn draw_readings(setup: &Setup) -> impl Iterator<Item = DrawReading> {
    setup.lists.pairs_si(List::DrawForce).map(|(draw_m, force_n)| DrawReading { draw_m, force_n })
}

/// String to pivot at the reading with zero force, in inches: the brace height.
#[must_use]
pub fn brace_in(setup: &Setup) -> Option<f64> {
    draw_readings(setup).find(|reading| reading.force_n <= 0.0).map(|rest| Quantity::Length.from_si(rest.draw_m))
}

/// The curve through a setup's draw-force readings, from a brace height in meters.
///
/// # Errors
/// As [`MeasuredCurve::new`], also without readings.
pub fn curve(setup: &Setup, brace_m: f64) -> clothyard_mechanics::Result<MeasuredCurve> {
    let mut readings = [DrawReading { draw_m: 0.0, force_n: 0.0 }; MAX_DRAW_READINGS];
    let mut count = 0;
    for (slot, reading) in readings.iter_mut().zip(draw_readings(setup)) {
        *slot = reading;
        count += 1;
    }
    MeasuredCurve::new(readings.get(..count).unwrap_or_default(), brace_m)
}
