//! Fit and clearance.

use crate::context::Context;
use clothyard_studies::measurements::fit;
use clothyard_web::{self as dom, View};

pub(crate) struct Fits;

impl View<Context> for Fits {
    fn id(&self) -> &'static str {
        "bench-fit"
    }

    fn show(&mut self, context: &Context) {
        let (Some(now), Some(list)) = (super::read(context), dom::by_id("bench-fits")) else { return };
        dom::empty(&list);
        for fit in fit::all(&now.all().resolved, &now.units) {
            let Some(group) = dom::add(&list, "div", if fit.warning { "look" } else { "" }, "") else { continue };
            dom::add(&group, "dt", "", fit.label);
            let words = if fit.warning { format!("Check: {}", fit.words) } else { fit.words };
            dom::add(&group, "dd", "", &words);
        }
    }
}
