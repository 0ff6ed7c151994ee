//! What was read off the bow: force along the draw, and speeds of arrows of known weight.
//!
//! Both belong to the bow as it was set then. They are resolved like the fields, so that a "what if" has them too.

use crate::schema::{List, MAX_SPEED_READINGS};
use crate::setup::Setup;
use crate::units::Quantity;
use clothyard_mechanics::measured::{DrawReading, MAX_DRAW_READINGS, MIN_MASS_RATIO, MeasuredCurve, SpeedReading};

/// Most shots: the rows of the list, and the one of the fields.
const MOST_SHOTS: usize = MAX_SPEED_READINGS + 1;

/// Shots over the chronograph.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shots {
    all: [SpeedReading; MOST_SHOTS],
    count: usize,
}

impl Shots {
    /// The shots of a setup's list.
    #[must_use]
    pub fn of(setup: &Setup) -> Self {
        let mut shots = Self { all: [SpeedReading { arrow_mass_kg: 0.0, speed_m_per_s: 0.0 }; MOST_SHOTS], count: 0 };
        setup.lists.pairs_si(List::Speeds).for_each(|(mass, speed)| shots.push(mass, speed));
        shots
    }

    /// Adds one reading: arrow mass in kg, speed in m/s. One more than fits is dropped.
    pub fn push(&mut self, arrow_mass_kg: f64, speed_m_per_s: f64) {
        if let Some(slot) = self.all.get_mut(self.count) {
            *slot = SpeedReading { arrow_mass_kg, speed_m_per_s };
            self.count += 1;
        }
    }

    /// All shots, in the order of the list.
    #[must_use]
    pub fn all(&self) -> &[SpeedReading] {
        self.all.get(..self.count).unwrap_or_default()
    }

    /// Whether the arrows differ enough in weight to tell the virtual mass.
    #[must_use]
    pub fn tell_virtual_mass(&self) -> bool {
        let masses = || self.all().iter().map(|shot| shot.arrow_mass_kg);
        masses().fold(0.0, f64::max) >= MIN_MASS_RATIO * masses().fold(f64::INFINITY, f64::min)
    }
}

/// The draw-force readings of a setup.
pub fn draw_readings(setup: &Setup) -> impl Iterator<Item = DrawReading> {
    setup.lists.pairs_si(List::DrawForce).map(|(draw_m, force_n)| DrawReading { draw_m, force_n })
}

/// The place of a reading without force, in inches: the string at rest.
#[must_use]
pub fn brace_in(setup: &Setup) -> Option<f64> {
    draw_readings(setup).find(|reading| reading.force_n <= 0.0).map(|rest| Quantity::Length.from_si(rest.draw_m))
}

/// The curve through a setup's draw-force readings, from a brace height in meters.
///
/// # Errors
/// As [`MeasuredCurve::new`], for no readings as well.
pub fn curve(setup: &Setup, brace_m: f64) -> clothyard_mechanics::Result<MeasuredCurve> {
    let mut readings = [DrawReading { draw_m: 0.0, force_n: 0.0 }; MAX_DRAW_READINGS];
    let mut count = 0;
    for (slot, reading) in readings.iter_mut().zip(draw_readings(setup)) {
        *slot = reading;
        count += 1;
    }
    MeasuredCurve::new(readings.get(..count).unwrap_or_default(), brace_m)
}
