//! The chronograph's shots against the estimate of the bow that they went into.

use crate::production::batch::Spread;
use clothyard_core::eval::{COVERAGE, Evaluation};
use clothyard_core::format::{change, entered, entered_with_unit, fixed, measured};
use clothyard_core::schema::{Field, List, Output};
use clothyard_core::setup::readings::ChronographReadings;
use clothyard_core::setup::{BowEstimate, Setup};
use clothyard_core::units::{Quantity, Units};
use clothyard_mechanics::measured::{SpeedReading, Suspect, fit_speeds};

/// The shots, and the bow.
#[derive(Clone, Copy, Debug)]
pub struct Speeds {
    /// Every shot: those of the list, then the one of the fields.
    pub shots: ChronographReadings,
    /// The bow that they and all else that is known of it make.
    pub bow: BowEstimate,
    /// The shot that may be wrong. It counts all the same.
    pub suspect: Option<Suspect>,
}

/// What the shots of a setup say; none where there are none, or no bow.
#[must_use]
pub fn of(all: &Evaluation) -> Option<Speeds> {
    let (shots, bow) = (all.resolved.chronograph_readings(), all.model.as_ref()?.estimate);
    // Whether a shot strays is asked of the shots alone, without what is usual.
    let alone = fit_speeds(shots.all(), bow.bow.virtual_mass_kg).ok();
    let errors = alone.and_then(|fit| fit.errors(shots.all(), all.resolved.si(Field::ChronographStep)).ok());
    let suspect = errors.and_then(|errors| errors.suspect);
    (!shots.all().is_empty()).then_some(Speeds { shots, bow, suspect })
}

/// The weight of the arrow shot next, in grains, until another is typed: that of the last shot, else of this arrow.
#[must_use]
pub fn next_arrow_gr(setup: &Setup, all: &Evaluation) -> Option<f64> {
    let last = setup.lists.first_numbers(List::Speeds).last();
    let of_form = || all.resolved.given(Field::ChronographArrow).or_else(|| all.resolved.given(Field::FinishedWeight));
    let calculated = || all.outputs.get(Output::TotalWeight).map(f64::round);
    last.or_else(of_form).or_else(calculated)
}

/// For each arrow weight how many shots there are, their mean and their spread, a sentence each.
#[must_use]
pub fn groups(shots: &[SpeedReading], units: &Units) -> Vec<String> {
    let mut weights: Vec<f64> = Vec::new();
    for shot in shots {
        if !weights.contains(&shot.arrow_mass_kg) {
            weights.push(shot.arrow_mass_kg);
        }
    }
    let group = |&weight: &f64| {
        let of_weight = shots.iter().filter(|shot| shot.arrow_mass_kg.total_cmp(&weight).is_eq());
        let speeds: Vec<_> = of_weight.map(|shot| Quantity::Speed.from_si(shot.speed_m_per_s)).collect();
        Some(group_words(weight, Spread::of(&speeds)?, units))
    };
    weights.iter().filter_map(group).collect()
}

fn group_words(arrow_mass_kg: f64, speeds: Spread, units: &Units) -> String {
    let unit = units.of(Quantity::Speed);
    let tenth = |fps: f64| fixed(units.show(Quantity::Speed, fps), unit.decimals + 1);
    let arrow = entered_with_unit(Quantity::Mass, Quantity::Mass.from_si(arrow_mass_kg), units);
    let mean = format!("{}\u{a0}{}", tenth(speeds.mean), unit.symbol);
    let Some(deviation) = speeds.deviation else { return format!("{arrow}: 1 shot, {mean}.") };
    let bare = |fps: f64| entered(Quantity::Speed, fps, units);
    format!(
        "{arrow}: {} shots, mean {mean}, {} to {}, standard deviation {}.",
        speeds.count,
        bare(speeds.least),
        bare(speeds.most),
        tenth(deviation)
    )
}

/// Energy and virtual mass, in a sentence.
#[must_use]
pub fn takeaway(speeds: &Speeds, units: &Units) -> String {
    let give_or_take = |quantity: Quantity, si: f64, log_error: f64| {
        let say = |si: f64| measured(quantity, quantity.from_si(si), units);
        format!("{} ± {}", say(si), say(COVERAGE * log_error * si))
    };
    let (energy, mass) = (speeds.bow.delivered_energy_j(), speeds.bow.virtual_mass_kg());
    let energy = give_or_take(Quantity::Energy, energy.value, energy.log_error);
    let mass = give_or_take(Quantity::Mass, mass.value, mass.log_error);
    let more = if speeds.bow.virtual_mass_is_measured() {
        ""
    } else {
        " The virtual mass is mostly the default for the bow type. Shoot an arrow 25% heavier or lighter to measure it."
    };
    format!("Your bow delivers {energy} to arrow and limbs; its virtual mass is {mass}.{more}")
}

/// How far to trust it, a sentence each.
#[must_use]
pub fn facts(speeds: &Speeds, all: &Evaluation, units: &Units) -> Vec<String> {
    let say = |fps: f64| measured(Quantity::Speed, fps, units);
    let scatter = Quantity::Speed.from_si(speeds.bow.scatter_m_per_s());
    let mut list = vec![format!("Scatter of one shot: {} (one standard deviation).", say(scatter))];
    list.extend(all.outputs.get(Output::SpeedSpread).map(|spread| format!("Speed of this arrow: ± {}.", say(spread))));
    list.extend(suspect_words(speeds, units));
    list
}

/// The shot that may be wrong, if one may.
fn suspect_words(speeds: &Speeds, units: &Units) -> Option<String> {
    let suspect = speeds.suspect?;
    let shot = speeds.shots.all().get(suspect.index)?;
    let [arrow, read, ..] = row(speeds, shot, units);
    Some(format!(
        "Shot {}, {arrow} at {read}, is {} off the fit of the others; chance does that in about {}% of such series. It still counts. Shoot it again, or delete it.",
        suspect.index + 1,
        change(Quantity::Speed, Quantity::Speed.from_si(suspect.residual_m_per_s), units),
        fixed((100.0 * suspect.chance).max(1.0), 0)
    ))
}

/// What the shot at a place is called: its number in the list of so many, or the one in the fields.
#[must_use]
pub fn shot_name(speeds: &Speeds, place: usize, listed: usize) -> String {
    let name = if place < listed { (place + 1).to_string() } else { "on the form".to_owned() };
    let suspect = speeds.suspect.is_some_and(|suspect| suspect.index == place);
    if suspect { name + ", check" } else { name }
}

/// A shot's speed less that of the bow, in saved units; none for an arrow beyond any bow.
#[must_use]
pub fn residual_fps(speeds: &Speeds, shot: &SpeedReading) -> Option<f64> {
    let of_bow = speeds.bow.launch_speed(shot.arrow_mass_kg).ok()?;
    Some(Quantity::Speed.from_si(shot.speed_m_per_s - of_bow.value))
}

/// A shot against the bow, in words: arrow, speed, and how much faster it is than the bow's estimate.
#[must_use]
pub fn row(speeds: &Speeds, shot: &SpeedReading, units: &Units) -> [String; 3] {
    let residual = residual_fps(speeds, shot).unwrap_or(0.0);
    let read = Quantity::Speed.from_si(shot.speed_m_per_s);
    [
        entered_with_unit(Quantity::Mass, Quantity::Mass.from_si(shot.arrow_mass_kg), units),
        entered_with_unit(Quantity::Speed, read, units),
        change(Quantity::Speed, residual, units),
    ]
}
