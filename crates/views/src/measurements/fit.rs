//! What must fit what.

use crate::ask;
use crate::page::Reading;
use clothyard_studies::measurements::fit;
use clothyard_web as dom;

pub(super) fn show(now: &Reading) {
    let Some(list) = dom::by_id("bench-fits").filter(|_| ask::is_open("bench-fit")) else { return };
    dom::empty(&list);
    for fit in fit::all(&now.all().resolved, &now.units) {
        let Some(group) = dom::add(&list, "div", if fit.warning { "look" } else { "" }, "") else { continue };
        dom::add(&group, "dt", "", fit.label);
        let words = if fit.warning { format!("Check: {}", fit.words) } else { fit.words };
        dom::add(&group, "dd", "", &words);
    }
}
