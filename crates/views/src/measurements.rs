//! What was measured: read in, explained, and held against what was reckoned.

mod arrow;
mod fit;
mod proven;
mod readings;

use crate::{ask, page};
use clothyard_studies::measurements;
use clothyard_web as dom;
use web_sys::{Element, Event};

const VIEWS: [&str; 5] = ["bench-force", "bench-speeds", "bench-arrow", "bench-proven", "bench-fit"];

/// Starts every view, in the order of the page; called once.
pub(crate) fn start() {
    let Some(section) = dom::by_id("bench") else { return };
    dom::listen(&section, "toggle", |_: Event| show());
    dom::listen(&section, "click", on_click);
    readings::start(&section);
    page::on_change(|_: Event| show());
    show();
}

/// Shows whatever is open.
fn show() {
    if !VIEWS.iter().any(|view| ask::is_open(view)) {
        return;
    }
    let Some(now) = page::read() else { return };
    dom::write_id("bench-drives", &measurements::drives_sentence(now.all()));
    readings::show(&now);
    arrow::show(&now);
    proven::show(&now);
    fit::show(&now);
}

fn on_click(event: Event) {
    let target = dom::target::<Element>(&event);
    let Some(now) = page::read() else { return };
    match target.map(|target| target.id()).as_deref() {
        Some("bench-force-hand") => readings::hand_back(&now),
        Some("bench-rig-use") => arrow::use_spine(&now),
        Some("bench-proven-use") => proven::make_target(&now),
        Some("bench-proven-drop") => proven::drop_target(&now),
        _ => {}
    }
}

/// Makes a list hold just these lines, touching it only where they differ.
fn fill(id: &str, lines: &[String]) {
    let Some(list) = dom::by_id(id) else { return };
    if list.text_content().unwrap_or_default() == lines.concat() {
        return;
    }
    dom::empty(&list);
    for line in lines {
        dom::add(&list, "li", "", line);
    }
}
