//! The measured draw-force curve: stored energy, uncertainty and suspicious readings.

use clothyard_core::eval::Evaluation;
use clothyard_core::format::{change, measured};
use clothyard_core::schema::Field;
use clothyard_core::schema::List;
use clothyard_core::schema::Output;
use clothyard_core::setup::Resolved;
use clothyard_core::setup::Setup;
use clothyard_core::setup::readings;
use clothyard_core::setup::usual_curve;
use clothyard_core::units::{Quantity, Units};
use clothyard_mechanics::measured::EnergyUncertainty;
use clothyard_mechanics::units::METER_PER_INCH;
use clothyard_mechanics::{Error, MeasuredCurve, Parameter};

/// A share of the peak force below which nothing is let off.
const LET_OFF_AT_LEAST: f64 = 0.02;

/// The curve as far as it was read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DrawForce {
    /// The curve.
    pub curve: MeasuredCurve,
    /// How far its energy may be off.
    pub uncertainty: EnergyUncertainty,
}

/// What the readings of a setup make; none where there are none.
///
/// # Errors
/// Why they make no curve.
pub fn of(setup: &Setup, resolved: &Resolved) -> Option<Result<DrawForce, Error>> {
    let read = !setup.lists.rows(List::DrawForce).is_empty();
    read.then(|| {
        let curve = readings::curve(setup, resolved.si(Field::BraceHeight))?;
        let uncertainty = curve.energy_uncertainty(resolved.si(Field::RuleStep), resolved.si(Field::BowScaleStep))?;
        Ok(DrawForce { curve, uncertainty })
    })
}

/// Place (saved length) and force (saved draw weight) along the readings, from the string at rest.
#[must_use]
pub fn line(curve: &MeasuredCurve) -> Vec<(f64, Option<f64>)> {
    let point = |node: &clothyard_mechanics::DrawReading| {
        (Quantity::Length.from_si(node.draw_m), Some(Quantity::DrawWeight.from_si(node.force_n)))
    };
    curve.readings().iter().map(point).collect()
}

/// The same of the usual curve for the kind of bow, over the stroke in the fields.
#[must_use]
pub fn usual_line(resolved: &Resolved, points: usize) -> Vec<(f64, Option<f64>)> {
    let (rest, drawn) = (resolved.number(Field::BraceHeight), resolved.true_draw_in());
    let (shape, peak) = (usual_curve(resolved), resolved.number(Field::PeakDrawWeight));
    let point = |place: usize| {
        let share = place as f64 / (points.max(2) - 1) as f64;
        (rest + share * (drawn - rest), Some(peak * shape.force_fraction(share)))
    };
    (0..points.max(2)).map(point).collect()
}

/// What it stores, in a sentence.
#[must_use]
pub fn takeaway(force: &DrawForce, all: &Evaluation, units: &Units) -> String {
    let energy = |joules: f64| measured(Quantity::Energy, Quantity::Energy.from_si(joules), units);
    let curve = &force.curve;
    let usual = curve.peak().force_n * curve.stroke_m() * usual_curve(&all.resolved).energy_fraction();
    let used = all.outputs.get(Output::StoredEnergy).map(|saved| measured(Quantity::Energy, saved, units));
    let read = energy(curve.stored_energy_j());
    let scaled = used
        .filter(|used| *used != read)
        .map_or_else(String::new, |used| format!(" With your draw weight and draw length: {used}."));
    format!(
        "Measured stored energy {read}; the standard curve for this bow type stores {} at this peak weight and power stroke.{scaled}",
        energy(usual)
    )
}

/// What else it shows, a sentence each.
#[must_use]
pub fn facts(force: &DrawForce, resolved: &Resolved, units: &Units) -> Vec<String> {
    let inches = |meters: f64| measured(Quantity::Length, meters / METER_PER_INCH, units);
    let pounds = |newtons: f64| measured(Quantity::DrawWeight, Quantity::DrawWeight.from_si(newtons), units);
    let (curve, off) = (&force.curve, &force.uncertainty);
    let (peak, full) = (curve.peak(), curve.full_draw());
    let mut list = vec![format!(
        "Peak {} at {}; holding weight {} at {}, the last reading.",
        pounds(peak.force_n),
        inches(peak.draw_m),
        pounds(full.force_n),
        inches(full.draw_m)
    )];
    if curve.let_off() > LET_OFF_AT_LEAST {
        list.push(format!(
            "Let-off {}; the valley is {} wide (within 10% of the force let off).",
            measured(Quantity::Percent, 100.0 * curve.let_off(), units),
            inches(curve.valley_width_m())
        ));
    }
    list.extend(energy_facts(off, units));
    if curve.setback_n() > 2.0 * resolved.si(Field::BowScaleStep) {
        list.push(format!(
            "Before the peak the force drops by {}. Check for a typing error.",
            pounds(curve.setback_n())
        ));
    }
    list
}

/// How far the stored energy may be off.
fn energy_facts(off: &EnergyUncertainty, units: &Units) -> [String; 2] {
    let energy = |joules: f64| measured(Quantity::Energy, Quantity::Energy.from_si(joules), units);
    let steps = format!(
        "Ruler and scale resolution: energy ± {} (one standard uncertainty), {} at most.",
        energy(off.from_steps_j),
        energy(off.from_steps_at_most_j)
    );
    let spacing = format!(
        "A smooth curve through the same readings stores about {}. Take readings closer together to decide.",
        change(Quantity::Energy, Quantity::Energy.from_si(off.from_spacing_j), units)
    );
    [steps, spacing]
}

/// Why the readings make no curve, and how to correct them.
#[must_use]
pub fn refusal(error: &Error, setup: &Setup, resolved: &Resolved, units: &Units) -> String {
    let inches = |meters: f64| measured(Quantity::Length, meters / METER_PER_INCH, units);
    match *error {
        Error::OutOfRange { parameter: Parameter::Readings, .. } => {
            let count = setup.lists.rows(List::DrawForce).len();
            format!("A curve needs at least three readings; {count} so far.")
        }
        Error::Repeated { value, .. } => {
            format!("Two readings at {}: remove one.", inches(value))
        }
        Error::OutOfRange { parameter: Parameter::DrawPlace, value, .. } => format!(
            "A reading at {} is behind the brace height of {}. Correct one of them.",
            inches(value),
            inches(resolved.si(Field::BraceHeight))
        ),
        Error::OutOfRange { parameter: Parameter::DrawForce, .. } => {
            "At brace height the force should be 0 lb.".to_owned()
        }
        _ => "No bow draws like this. Check the lowest and the longest reading.".to_owned(),
    }
}
