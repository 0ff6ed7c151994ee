//! The outputs that follow from a setup directly: one pass through the mechanics, no search.

use crate::eval::safety;
use crate::schema::Field;
use crate::schema::{OUTPUT_COUNT, Output};
use crate::setup::Resolved;
use crate::setup::{ModelError, PhysicalModel};
use crate::units::other_spine;
use clothyard_mechanics as mechanics;
use clothyard_mechanics::units::METER_PER_INCH;

/// A number for every output that has one, in the saved unit of its quantity.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Outputs([Option<f64>; OUTPUT_COUNT]);

impl Outputs {
    /// No output has a number.
    pub const NONE: Self = Self([None; OUTPUT_COUNT]);

    /// The number of an output, if it has one.
    #[must_use]
    pub fn get(&self, output: Output) -> Option<f64> {
        self.0.get(output as usize).copied().flatten()
    }

    /// Keeps a number; one that is not finite is kept as none.
    pub fn put(&mut self, output: Output, saved: f64) {
        if let Some(slot) = self.0.get_mut(output as usize) {
            *slot = saved.is_finite().then_some(saved);
        }
    }

    /// Column load as a share of its target: 1 is an ideal match, more is weak. None where there is no column load.
    #[must_use]
    pub fn match_share(&self) -> Option<f64> {
        Some(self.get(Output::ColumnLoad)? / self.get(Output::TargetLoad)?)
    }

    fn put_si(&mut self, output: Output, value: f64) {
        self.put(output, output.quantity().from_si(value));
    }
}

/// Computes what needs no model: true draw, rest, suggested and shortest safe lengths, the spine in pounds.
pub fn compute_lengths(outputs: &mut Outputs, resolved: &Resolved) {
    for (output, value) in [
        (Output::TrueDraw, resolved.true_draw_in()),
        (Output::RestPlace, resolved.rest_in()),
        (Output::Stroke, resolved.true_draw_in() - resolved.number(Field::BraceHeight)),
        (Output::ArrowLength, resolved.arrow_length_in()),
        (Output::SuggestedLength, resolved.suggested_length_in()),
        (Output::SuggestedCut, resolved.suggested_cut_in()),
        (Output::ShortestSafeLength, resolved.shortest_safe_length_in()),
        (Output::ShortestSafeCut, resolved.shortest_safe_cut_in()),
        (Output::SpinePounds, other_spine(resolved.number(Field::StaticSpine))),
    ] {
        outputs.put(output, value);
    }
}

/// Computes weight, balance, energy, speed and column load. A shaft that ends at or behind the rest leaves the column
/// load, and what depends on it, without a number: there is no free length to buckle.
///
/// # Errors
/// [`ModelError`] where the mechanics refuse the arrow or its speed; nothing is put then.
pub fn compute_arrow(outputs: &mut Outputs, resolved: &Resolved, model: &PhysicalModel) -> Result<(), ModelError> {
    // Arrow and peak acceleration are dear and asked for again below: once each.
    let arrow = model.arrow()?;
    let mass = arrow.mass_kg();
    let balance = arrow.balance_m();
    let launch = model.estimate.launch_speed(mass)?;
    let speed = launch.value;
    let energy = mechanics::kinetic_energy_j(mass, speed);
    let stored = model.bow.stored_energy_j();
    let peak = model.estimate.peak_push(mass)?;
    for (output, value) in [
        (Output::TotalWeight, mass),
        (Output::ShaftWeight, model.shaft().mass_kg),
        (Output::GrainsPerPound, mass / model.bow.peak_force_n),
        (Output::BalancePoint, balance),
        (Output::FrontOfCentre, arrow.front_of_center()),
        (Output::StoredEnergy, stored),
        (Output::DeliveredEnergy, model.estimate.delivered_energy_j().value),
        (Output::MovingMass, model.bow.virtual_mass_kg),
        (Output::LaunchSpeed, speed),
        (Output::SpeedSpread, COVERAGE * launch.log_error * speed),
        (Output::KineticEnergy, energy),
        (Output::Momentum, mechanics::momentum(mass, speed)),
        (Output::Efficiency, energy / stored),
        (Output::PeakAcceleration, peak),
        (Output::TargetLoad, model.target_load),
    ] {
        outputs.put_si(output, value);
    }
    if !safety::shaft_behind_rest(resolved)
        && let Ok(critical) = model.critical_acceleration(&arrow)
    {
        outputs.put(Output::CriticalAcceleration, critical);
        compute_match(outputs, resolved, model, peak / critical * model.estimate.curve_factor());
    }
    Ok(())
}

/// The column load and the draw weights the arrow suits; the load grows in proportion to the draw weight.
fn compute_match(outputs: &mut Outputs, resolved: &Resolved, model: &PhysicalModel, load: f64) {
    let best = resolved.number(Field::PeakDrawWeight) * model.target_load / load;
    outputs.put(Output::ColumnLoad, load);
    outputs.put(Output::IdealDrawWeight, best);
    outputs.put(Output::SuitsFrom, best * (1.0 - BAND));
    outputs.put(Output::SuitsTo, best * (1.0 + BAND));
}

/// How many standard errors a result is said to be good to, either way: 19 times in 20 (JCGM 100:2008, GUM, 6.2).
pub const COVERAGE: f64 = 2.0;

/// Half the width of the band of draw weights that still shoots well, as a share: 5 lb at 60 lb (common
/// practice, no source).
pub const BAND: f64 = 1.0 / 12.0;

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
    pub fn of(outputs: &Outputs) -> Option<Self> {
        let share = outputs.match_share()?;
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
}

/// Meters in inches.
#[must_use]
pub fn in_inches(meters: f64) -> f64 {
    meters / METER_PER_INCH
}
