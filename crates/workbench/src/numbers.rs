//! The numbers that follow from a set-up directly, without asking "what if".

use crate::inputs::Field;
use crate::outcome::{OUTCOME_COUNT, Outcome};
use crate::settle::Settled;
use crate::setup::{Setup, SetupError};
use clothyard_mechanics as mechanics;
use clothyard_mechanics::units::METRE_PER_INCH;

/// A number for every result that has one, in the saved unit of its quantity.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Numbers([Option<f64>; OUTCOME_COUNT]);

impl Numbers {
    /// No result has a number.
    pub const NONE: Self = Self([None; OUTCOME_COUNT]);

    /// The number of a result, if it has one.
    #[must_use]
    pub fn get(&self, outcome: Outcome) -> Option<f64> {
        self.0.get(outcome as usize).copied().flatten()
    }

    /// Keeps a number; one that is not finite is kept as none.
    pub fn put(&mut self, outcome: Outcome, saved: f64) {
        if let Some(slot) = self.0.get_mut(outcome as usize) {
            *slot = saved.is_finite().then_some(saved);
        }
    }

    fn put_si(&mut self, outcome: Outcome, value: f64) {
        self.put(outcome, outcome.row().quantity.from_si(value));
    }
}

/// Lengths that need no arrow: true draw, rest, suggested and shortest safe lengths.
pub fn put_lengths(numbers: &mut Numbers, settled: &Settled) {
    let throat = settled.number(Field::ThroatToShaft);
    let safe = settled.shortest_safe_length_in();
    for (outcome, value) in [
        (Outcome::TrueDraw, settled.true_draw_in()),
        (Outcome::RestPlace, settled.rest_in()),
        (Outcome::Stroke, settled.true_draw_in() - settled.number(Field::BraceHeight)),
        (Outcome::ArrowLength, settled.number(Field::CutLength) + throat),
        (Outcome::SuggestedLength, settled.suggested_length_in()),
        (Outcome::SuggestedCut, settled.suggested_cut_in()),
        (Outcome::ShortestSafeLength, safe),
        (Outcome::ShortestSafeCut, safe - throat),
    ] {
        numbers.put(outcome, value);
    }
}

/// Weight, balance, energy, speed and column load. A shaft that ends at or behind the rest leaves the
/// column load, and what hangs on it, without a number.
///
/// # Errors
/// [`SetupError`] where the arrow itself cannot stand.
pub fn put_arrow(numbers: &mut Numbers, settled: &Settled, setup: &Setup) -> Result<(), SetupError> {
    let arrow = setup.arrow()?;
    let mass = arrow.mass_kg();
    let balance = arrow.balance_m();
    let speed = mechanics::launch_speed(setup.delivered_energy_j, mass, setup.bow.virtual_mass_kg)?;
    let energy = mechanics::kinetic_energy_j(mass, speed);
    let stored = setup.bow.stored_energy_j();
    for (outcome, value) in [
        (Outcome::TotalWeight, mass),
        (Outcome::ShaftWeight, setup.shaft().mass_kg),
        (Outcome::GrainsPerPound, mass / setup.bow.peak_force_n),
        (Outcome::BalancePoint, balance),
        (Outcome::FrontOfCentre, arrow.front_of_centre()),
        (Outcome::StoredEnergy, stored),
        (Outcome::DeliveredEnergy, setup.delivered_energy_j),
        (Outcome::MovingMass, setup.bow.virtual_mass_kg),
        (Outcome::LaunchSpeed, speed),
        (Outcome::SpeedSpread, setup.speed_spread(speed)),
        (Outcome::KineticEnergy, energy),
        (Outcome::Momentum, mechanics::momentum(mass, speed)),
        (Outcome::Efficiency, energy / stored),
        (Outcome::PeakAcceleration, setup.peak_acceleration()?),
        (Outcome::TargetLoad, setup.target_load),
    ] {
        numbers.put_si(outcome, value);
    }
    if setup.rest_m < setup.length_m
        && let Ok(critical) = setup.critical_acceleration()
    {
        put_match(numbers, settled, setup, critical)?;
    }
    Ok(())
}

fn put_match(numbers: &mut Numbers, settled: &Settled, setup: &Setup, critical: f64) -> Result<(), SetupError> {
    let load = setup.peak_acceleration()? / critical;
    let best = settled.number(Field::PeakDrawWeight) * setup.target_load / load;
    numbers.put(Outcome::CriticalAcceleration, critical);
    numbers.put(Outcome::ColumnLoad, load);
    numbers.put(Outcome::IdealDrawWeight, best);
    numbers.put(Outcome::SuitsFrom, best * (1.0 - BAND));
    numbers.put(Outcome::SuitsTo, best * (1.0 + BAND));
    Ok(())
}

/// Half the width of the band of draw weights that still shoots well, as a share: 5 lb at 60 lb (common
/// practice, no source).
pub const BAND: f64 = 1.0 / 12.0;

/// Over this share of its target a column load is called badly weak (our own margin, no source: three
/// times the band).
pub const BADLY_WEAK: f64 = 1.0 + 3.0 * BAND;

/// How a spine suits the bow.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// It bends less than the bow needs.
    ActsStiff,
    /// It suits.
    WellMatched,
    /// It bends more than the bow needs.
    ActsWeak,
}

impl Verdict {
    /// The verdict on a column load; none where there is no load.
    #[must_use]
    pub fn of(numbers: &Numbers) -> Option<Self> {
        let share = numbers.get(Outcome::ColumnLoad)? / numbers.get(Outcome::TargetLoad)?;
        // The band is one of draw weights about F*: F within F* (1 ± 1/12), and F / F* = λ / target.
        Some(if share > 1.0 + BAND {
            Self::ActsWeak
        } else if share < 1.0 - BAND {
            Self::ActsStiff
        } else {
            Self::WellMatched
        })
    }

    /// Key in a report.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::ActsStiff => "actsStiff",
            Self::WellMatched => "wellMatched",
            Self::ActsWeak => "actsWeak",
        }
    }

    /// In words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::ActsStiff => "acts stiff",
            Self::WellMatched => "well matched",
            Self::ActsWeak => "acts weak",
        }
    }
}

/// Metres in inches.
#[must_use]
pub fn in_inches(metres: f64) -> f64 {
    metres / METRE_PER_INCH
}
