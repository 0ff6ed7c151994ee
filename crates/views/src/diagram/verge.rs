//! On the verge between two stock spines: the sentence beside them that says which bends more nearly as it should.

use crate::page;
use clothyard_studies::shot::verge::broken;
use clothyard_web as dom;
use web_sys::Event;

/// Starts it; called once.
pub(crate) fn start() {
    page::on_change(|_: Event| show());
    show();
}

fn show() {
    // The page shows the place for it only on the verge; elsewhere nothing need be worked out.
    if dom::by_id("verge-words").is_none_or(|words| words.has_attribute("hidden")) {
        return;
    }
    let Some(reading) = page::read() else { return };
    let decided = broken(&reading.setup, reading.all()).ok().flatten();
    dom::write_id("verge-words", &decided.map_or_else(String::new, |broken| broken.sentence()));
}
