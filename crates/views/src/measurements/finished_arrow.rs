//! The finished arrow compared with its parts, and the spine tester.

use crate::context::Context;
use clothyard_core::Field;
use clothyard_studies::measurements::arrow;
use clothyard_web::widgets::list;
use clothyard_web::{self as dom, Dom, View};

pub(crate) struct FinishedArrow;

impl View<Context> for FinishedArrow {
    fn id(&self) -> &'static str {
        "bench-arrow"
    }

    fn show(&mut self, context: &Context) {
        let Some(now) = super::read(context) else { return };
        let finished = arrow::finished(&now.setup, now.all());
        let words = finished.as_ref().map(|finished| arrow::finished_words(finished, &now.units));
        dom::write_id("bench-arrow-words", &words.unwrap_or_default());
        let parts = finished.map(|finished| arrow::explanation_words(&finished, &now.units));
        list::lines("bench-arrow-parts", &parts.unwrap_or_default());
        let spine = arrow::spine(&now.all().resolved);
        dom::write_id("bench-rig-words", &spine.as_ref().map(arrow::spine_words).unwrap_or_default());
        dom::hide("bench-rig-use", !matches!(spine, Some(Ok(_))));
    }

    /// Gives the spine field what the rig says.
    fn click(&mut self, dom: &Dom, context: &Context) {
        let ("bench-rig-use", Some(now)) = (dom.button_id().as_str(), context.read()) else { return };
        let Some(Ok(spine)) = arrow::spine(&now.all().resolved) else { return };
        if !super::give(context, &now, Field::StaticSpine, Some(arrow::spine_to_use(&spine))) {
            dom::write_id("bench-rig-words", "No shaft is this stiff or this weak. Check span, weight and reading.");
        }
    }
}
