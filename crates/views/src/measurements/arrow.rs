//! The finished arrow against its parts, and a spine rig's reading.

use super::fill;
use crate::ask;
use crate::page::{self, Reading};
use clothyard_core::{Field, Value};
use clothyard_studies::measurements::arrow;
use clothyard_web as dom;

pub(super) fn show(now: &Reading) {
    if !ask::is_open("bench-arrow") {
        return;
    }
    let finished = arrow::finished(&now.setup, now.all());
    let words = finished.as_ref().map(|finished| arrow::finished_words(finished, &now.units));
    dom::write_id("bench-arrow-words", &words.unwrap_or_default());
    let parts = finished.map(|finished| arrow::explanation_words(&finished, &now.units));
    fill("bench-arrow-parts", &parts.unwrap_or_default());
    let spine = arrow::spine(&now.all().resolved);
    dom::write_id("bench-rig-words", &spine.as_ref().map(arrow::spine_words).unwrap_or_default());
    dom::hide("bench-rig-use", !matches!(spine, Some(Ok(_))));
}

/// Gives the spine field what the rig says.
pub(super) fn use_spine(now: &Reading) {
    let mut setup = now.setup.clone();
    if let Some(Ok(spine)) = arrow::spine(&now.all().resolved) {
        let value = Value::Number(arrow::spine_to_use(&spine));
        if setup.set(Field::StaticSpine, Some(value)).is_ok() {
            page::load(&setup);
        } else {
            dom::write_id(
                "bench-rig-words",
                "No shaft is as stiff or as weak as this: look at span, weight and reading.",
            );
        }
    }
}
