//! The chronograph's shots against the bow that explains them best.

use clothyard_core::eval::Evaluation;
use clothyard_core::format::{change, entered_with_unit, fixed, measured};
use clothyard_core::schema::Output;
use clothyard_core::schema::{DefaultRule, Field};
use clothyard_core::setup::Resolved;
use clothyard_core::setup::assumed_virtual_mass_kg;
use clothyard_core::setup::readings::ChronographReadings;
use clothyard_core::units::{Quantity, Units};
use clothyard_mechanics::Error;
use clothyard_mechanics::measured::{SpeedErrors, SpeedFit, SpeedReading, fit_speeds};

/// The fit and its shots.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Speeds {
    /// Every shot: those of the list, then the one of the fields.
    pub shots: ChronographReadings,
    /// The bow that explains them best.
    pub fit: SpeedFit,
    /// How far off it may be.
    pub errors: SpeedErrors,
}

/// What the shots of a set-up say; none where there are none.
///
/// # Errors
/// Why no bow explains them.
pub fn of(resolved: &Resolved) -> Option<Result<Speeds, Error>> {
    let shots = resolved.chronograph_readings();
    (!shots.all().is_empty()).then(|| {
        let fit = fit_speeds(shots.all(), assumed_virtual_mass_kg(resolved)?)?;
        Ok(Speeds { shots, fit, errors: fit.errors(shots.all(), resolved.si(Field::ChronographStep))? })
    })
}

/// Energy and virtual mass, in a sentence.
#[must_use]
pub fn takeaway(speeds: &Speeds, units: &Units) -> String {
    let energy = measured(Quantity::Energy, Quantity::Energy.from_si(speeds.fit.delivered_energy_j), units);
    let mass = measured(Quantity::Mass, Quantity::Mass.from_si(speeds.fit.virtual_mass_kg), units);
    if speeds.fit.virtual_mass_is_measured {
        format!("Your bow gives {energy} to arrow and limbs, and its virtual mass is {mass}: both measured.")
    } else {
        format!(
            "Your bow gives {energy} to arrow and limbs, measured, if its virtual mass is {mass}, which is assumed: an arrow at least a quarter heavier or lighter would tell it."
        )
    }
}

/// How far to trust it, a sentence each.
#[must_use]
pub fn facts(speeds: &Speeds, all: &Evaluation, units: &Units) -> Vec<String> {
    let speed = |m_per_s: f64| measured(Quantity::Speed, Quantity::Speed.from_si(m_per_s), units);
    let grains = |kilograms: f64| measured(Quantity::Mass, Quantity::Mass.from_si(kilograms), units);
    let mut list = vec![match speeds.fit.standard_deviation_m_per_s {
        Some(deviation) => format!("The shots scatter about the fit by {} (one standard deviation).", speed(deviation)),
        None => "The fit goes through every shot: one more would show how far to trust them.".to_owned(),
    }];
    if let Some(error) = speeds.errors.energy_error_j {
        list.push(format!(
            "The energy is known within {} (one standard error){}.",
            measured(Quantity::Energy, Quantity::Energy.from_si(error), units),
            speeds
                .errors
                .virtual_mass_error_kg
                .map_or_else(String::new, |mass| { format!(", the virtual mass within {}", grains(mass)) })
        ));
    }
    list.extend(moved_match(speeds, all, units));
    list.extend(suspect_words(speeds, units));
    list
}

/// The shot that may be wrong, if one may.
fn suspect_words(speeds: &Speeds, units: &Units) -> Option<String> {
    let suspect = speeds.errors.suspect?;
    let shot = speeds.shots.all().get(suspect.index)?;
    let [arrow, read, ..] = row(speeds, shot, units);
    Some(format!(
        "Shot {}, {arrow} at {read}, strays from the fit by {}: among so many good shots, chance takes one as far in about {} % of all cases. It still counts: shoot it again, or take it out yourself.",
        suspect.index + 1,
        change(Quantity::Speed, Quantity::Speed.from_si(suspect.residual_m_per_s), units),
        fixed((100.0 * suspect.chance).max(1.0), 0)
    ))
}

/// A measured virtual mass moves the match, for the push on the nock hangs on it as well.
fn moved_match(speeds: &Speeds, all: &Evaluation, units: &Units) -> Option<String> {
    let off = speeds.errors.virtual_mass_error_kg?;
    let best = all.outputs.get(Output::IdealDrawWeight)?;
    let arrow = Quantity::Mass.to_si(all.outputs.get(Output::TotalWeight)?);
    // The load goes with 1 / (m + K), so the draw weight it suits with m + K.
    let by = best * off / (arrow + speeds.fit.virtual_mass_kg);
    let usual = match Field::VirtualMass.input().default {
        DefaultRule::Number(usual) => measured(Quantity::Mass, usual, units),
        _ => return None,
    };
    Some(format!(
        "The match follows the virtual mass: its error moves the draw weight this arrow suits by {}. The usual target was set with {}; an arrow of your own that tunes well is then the better target.",
        measured(Quantity::DrawWeight, by, units),
        usual
    ))
}

/// What the shot at a place is called: its number in the list of so many, or the one in the fields.
#[must_use]
pub fn shot_name(speeds: &Speeds, place: usize, listed: usize) -> String {
    let name = if place < listed { (place + 1).to_string() } else { "in the fields".to_owned() };
    let suspect = speeds.errors.suspect.is_some_and(|suspect| suspect.index == place);
    if suspect { name + ", look at it" } else { name }
}

/// A shot against the fit, in words: arrow, speed, speed of the fit, and the difference.
#[must_use]
pub fn row(speeds: &Speeds, shot: &SpeedReading, units: &Units) -> [String; 4] {
    let residual = Quantity::Speed.from_si(speeds.fit.residual_m_per_s(shot));
    let read = Quantity::Speed.from_si(shot.speed_m_per_s);
    [
        entered_with_unit(Quantity::Mass, Quantity::Mass.from_si(shot.arrow_mass_kg), units),
        entered_with_unit(Quantity::Speed, read, units),
        measured(Quantity::Speed, read - residual, units),
        change(Quantity::Speed, residual, units),
    ]
}

/// Why no bow explains the shots.
#[must_use]
pub fn refusal(error: &Error) -> &'static str {
    use clothyard_mechanics::Parameter;
    match error {
        Error::OutOfRange { parameter: Parameter::Energy, .. } => {
            "Heavier arrows were read as no slower than lighter ones: no bow does that. Look at the heaviest and the lightest shot."
        }
        Error::OutOfRange { parameter: Parameter::VirtualMass, .. } => {
            "Heavier arrows were read with less energy than lighter ones, or hardly slower: no bow does that. Look at the heaviest and the lightest shot."
        }
        _ => "No bow explains these shots: look for a slipped digit.",
    }
}
