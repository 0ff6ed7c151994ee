//! The finished arrow against its parts, and a spine rig's reading.

use super::fill;
use crate::ask;
use crate::page::{self, Reading};
use clothyard_dom as dom;
use clothyard_workbench::bench::arrow;
use clothyard_workbench::{Field, Value};

pub(super) fn show(now: &Reading) {
    if !ask::is_open("bench-arrow") {
        return;
    }
    let finished = arrow::finished(&now.build, now.all());
    let words = finished.as_ref().map(|finished| arrow::finished_words(finished, &now.units));
    dom::write_id("bench-arrow-words", &words.unwrap_or_default());
    let parts = finished.map(|finished| arrow::explanation_words(&finished, &now.units));
    fill("bench-arrow-parts", &parts.unwrap_or_default());
    let spine = arrow::spine(&now.all().settled);
    dom::write_id("bench-rig-words", &spine.as_ref().map(arrow::spine_words).unwrap_or_default());
    dom::hide("bench-rig-use", !matches!(spine, Some(Ok(_))));
}

/// Gives the spine field what the rig says.
pub(super) fn use_spine(now: &Reading) {
    let mut build = now.build.clone();
    if let Some(Ok(spine)) = arrow::spine(&now.all().settled) {
        let value = Value::Number(arrow::spine_to_use(&spine));
        if build.set(Field::StaticSpine, Some(value)).is_ok() {
            page::load(&build);
        } else {
            dom::write_id(
                "bench-rig-words",
                "No shaft is as stiff or as weak as this: look at span, weight and reading.",
            );
        }
    }
}
