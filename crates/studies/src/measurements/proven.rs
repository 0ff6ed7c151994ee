//! The reference arrow: one known to tune, as the target for all others.

use clothyard_core::eval::{Evaluation, Outputs, ResolvedSetup};
use clothyard_core::format::entered;
use clothyard_core::schema::Field;
use clothyard_core::schema::Output;
use clothyard_core::setup::Setup;
use clothyard_core::units::{Quantity, Units};

/// Beyond so great a share of the usual target either way, a proven load is asked about (our own margin, no source).
const FAR: f64 = 0.25;

/// The column load of a setup's arrow on its own bow; none where it has none, or one that can be no target.
#[must_use]
pub fn load(setup: &Setup) -> Option<f64> {
    let load = ResolvedSetup::new(setup).outputs.get(Output::ColumnLoad)?;
    Field::ProvenLoad.input().check(clothyard_core::Value::Number(load)).ok().map(|_| load)
}

/// Which target is in use, in a sentence or two.
#[must_use]
pub fn words(setup: &Setup, all: &Evaluation, units: &Units) -> String {
    let target = |outputs: &Outputs| outputs.get(Output::TargetLoad).unwrap_or(0.0);
    let shown = |load: f64| entered(Quantity::Ratio, load, units);
    match all.resolved.given(Field::ProvenLoad) {
        None => {
            let usual = shown(target(&all.outputs));
            format!("In use: the standard target for this release, column load {usual}.")
        }
        Some(load) => {
            let mut without = setup.clone();
            // Handing a field back cannot fail.
            let _ = without.set(Field::ProvenLoad, None);
            let usual = target(&ResolvedSetup::new(&without).outputs);
            let far = if (load / usual - 1.0).abs() > FAR {
                " The two differ a lot. Was that arrow shot from this bow with these settings?"
            } else {
                ""
            };
            format!(
                "In use: your reference arrow, column load {}. The standard target is {}.{far}",
                shown(load),
                shown(usual)
            )
        }
    }
}
