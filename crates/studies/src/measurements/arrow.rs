//! The arrow measured: a shaft on a spine tester, the finished arrow weighed and balanced.

use clothyard_core::eval::Evaluation;
use clothyard_core::format::{change, entered_with_unit, measured, part_label, signed, trimmed};
use clothyard_core::schema::Field;
use clothyard_core::setup::PhysicalModel;
use clothyard_core::setup::Resolved;
use clothyard_core::setup::Setup;
use clothyard_core::units::{Quantity, Units};
use clothyard_mechanics::measured::{
    Change, Component, Explanation, MeasuredSpine, RigInstrument, RigSteps, Weighed, explanations,
};
use clothyard_mechanics::units::{METER_PER_INCH, STANDARD_GRAVITY};
use clothyard_mechanics::{Error, SpineRig};

/// A kitchen scale, which weighs what is hung on a rig, shows steps of a gram.
const RIG_SCALE_STEP_KG: f64 = 0.001;

/// So many explanations are named.
const MOST_NAMED: usize = 3;

/// Below so many standard uncertainties nothing need be wrong; above the second no single part explains it.
const AGREES: f64 = 2.0;
const EXPLAINS: f64 = 3.0;

/// The spine that the rig's reading says; none without a reading.
///
/// # Errors
/// What no rig shows.
#[must_use]
pub fn spine(resolved: &Resolved) -> Option<Result<MeasuredSpine, Error>> {
    resolved.given(Field::RigReading)?;
    let steps = RigSteps {
        span_m: resolved.si(Field::RuleStep),
        load_n: RIG_SCALE_STEP_KG * STANDARD_GRAVITY,
        dial_m: resolved.si(Field::DialStep),
    };
    let rig = SpineRig::new(resolved.si(Field::RigSpan), resolved.si(Field::RigWeight));
    Some(rig.and_then(|rig| rig.measured_spine(resolved.si(Field::RigReading), &steps)))
}

/// The static spine in thousandths that a button may take over, to a tenth.
#[must_use]
pub fn spine_to_use(spine: &MeasuredSpine) -> f64 {
    (thousandths(spine.astm_sag_m) * 10.0).round() / 10.0
}

fn thousandths(meters: f64) -> f64 {
    1000.0 * meters / METER_PER_INCH
}

/// What the rig's reading says, in a sentence.
#[must_use]
pub fn spine_words(spine: &Result<MeasuredSpine, Error>) -> String {
    let Ok(spine) = spine else {
        return "No shaft deflects like this. Check span, weight and reading.".to_owned();
    };
    let better = match spine.weakest {
        RigInstrument::Rule => "the span",
        RigInstrument::Scale => "the weight",
        RigInstrument::Dial => "the deflection",
    };
    format!(
        "Measured static spine {}, ± {} (one standard uncertainty), {} at most. To improve it, measure {better} more closely first. The test weight is taken as accurate to a gram.",
        trimmed(spine_to_use(spine), 1),
        trimmed(thousandths(spine.uncertainty_m), 1),
        trimmed(thousandths(spine.off_at_most_m), 1)
    )
}

/// The finished arrow against the one of the parts.
#[derive(Clone, Debug, PartialEq)]
pub struct Finished {
    /// Measured less predicted weight, in grains; none where it was not weighed.
    pub weight_off_gr: Option<f64>,
    /// Measured less predicted balance point, in inches; none where it was not balanced.
    pub balance_off_in: Option<f64>,
    /// What the parts leave unexplained, in standard uncertainties; none unless both were measured.
    pub misfit: Option<f64>,
    /// Single changes that explain both, the likeliest first, with the part's mass (kg) and place (m) as taken.
    pub named: Vec<(Explanation, String, f64)>,
}

/// Holds the finished arrow against its parts; none where nothing of it was measured.
#[must_use]
pub fn finished(setup: &Setup, all: &Evaluation) -> Option<Finished> {
    let (resolved, model) = (&all.resolved, all.model.as_ref()?);
    let (weight, balance) = (resolved.given(Field::FinishedWeight), resolved.given(Field::FinishedBalance));
    if weight.is_none() && balance.is_none() {
        return None;
    }
    let arrow = model.arrow().ok()?;
    let weighed = weight.zip(balance).map(|_| Weighed {
        mass_kg: resolved.si(Field::FinishedWeight),
        balance_m: resolved.si(Field::FinishedBalance),
        mass_uncertainty_kg: of_steps(resolved.si(Field::GrainScaleStep)),
        balance_uncertainty_m: of_steps(resolved.si(Field::RuleStep)),
    });
    let found = weighed.and_then(|weighed| explanations(&arrow, &weighed).ok());
    let named = found.as_ref().map(|found| {
        let fits = found.ranked().iter().filter(|each| each.misfit < EXPLAINS && is_there(model, each.component));
        fits.take(MOST_NAMED).map(|each| name(each, model, setup, resolved)).collect()
    });
    Some(Finished {
        weight_off_gr: weight.map(|weight| weight - Quantity::Mass.from_si(arrow.mass_kg())),
        balance_off_in: balance.map(|balance| balance - Quantity::Length.from_si(arrow.balance_m())),
        misfit: found.map(|found| found.misfit_unchanged),
        named: named.unwrap_or_default(),
    })
}

/// Standard uncertainty of a reading in steps: anything within half a step, alike likely (JCGM 100:2008, F.2.2.1).
fn of_steps(step: f64) -> f64 {
    (step / 12.0_f64.sqrt()).max(1e-9)
}

fn is_there(model: &PhysicalModel, piece: Component) -> bool {
    match piece {
        Component::Shaft => true,
        Component::Part(index) => model.parts().nth(index).is_some_and(|(_, part)| part.mass_kg > 0.0),
    }
}

fn name(each: &Explanation, model: &PhysicalModel, setup: &Setup, resolved: &Resolved) -> (Explanation, String, f64) {
    let (name, of) = match each.component {
        Component::Part(index) => model
            .parts()
            .nth(index)
            .map_or((clothyard_core::setup::PartId::Shaft, model.shaft()), |(name, part)| (name, *part)),
        Component::Shaft => (clothyard_core::setup::PartId::Shaft, model.shaft()),
    };
    let taken = match each.change {
        Change::Mass(_) => of.mass_kg,
        Change::Position(_) => of.center_m,
    };
    (*each, part_label(name, resolved, &setup.own_parts), taken)
}

/// Measured against predicted, in a sentence or two.
#[must_use]
pub fn finished_words(finished: &Finished, units: &Units) -> String {
    let weight = finished.weight_off_gr.map(|off| {
        let words = entered_with_unit(Quantity::Mass, off, units);
        format!("{} on the scale", signed(&words).unwrap_or(words))
    });
    let balance =
        finished.balance_off_in.map(|off| format!("{} in balance point", change(Quantity::Length, off, units)));
    let off: Vec<_> = weight.into_iter().chain(balance).collect();
    let verdict = match finished.misfit {
        None if finished.weight_off_gr.is_none() => "Weigh it too, to find the part most likely entered wrong.",
        None => "Balance it too, to find the part most likely entered wrong.",
        Some(misfit) if misfit < AGREES => "Within measuring error.",
        Some(_) if finished.named.is_empty() => "No single part explains both: two or more are entered wrong.",
        Some(_) => {
            "Any one of these explains both, most likely first. Check that part; until then the results use the parts as entered."
        }
    };
    format!("Measured minus calculated: {}. {verdict}", off.join(", "))
}

/// The likeliest explanations, a sentence each; none where nothing need be wrong.
#[must_use]
pub fn explanation_words(finished: &Finished, units: &Units) -> Vec<String> {
    if finished.misfit.is_none_or(|misfit| misfit < AGREES) {
        return Vec::new();
    }
    finished.named.iter().map(|(each, name, taken)| one_explanation(each, name, *taken, units)).collect()
}

fn one_explanation(each: &Explanation, name: &str, taken: f64, units: &Units) -> String {
    match each.change {
        Change::Mass(by) => {
            let grains = |kilograms: f64| entered_with_unit(Quantity::Mass, Quantity::Mass.from_si(kilograms), units);
            format!("{name}: weighs {}, not {}.", grains(taken + by), grains(taken))
        }
        Change::Position(by) => {
            let way = if by > 0.0 { "farther forward" } else { "farther back" };
            format!("{name}: {} {way}.", measured(Quantity::Length, by.abs() / METER_PER_INCH, units))
        }
    }
}
