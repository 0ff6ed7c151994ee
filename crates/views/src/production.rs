//! From the set-up to arrows: a batch sorted, the build sheet, the tuning log.

mod batch;
mod log;
mod prices;
mod sheet;

use crate::{ask, save};
use clothyard_web as dom;
use web_sys::{Element, Event};

/// Starts every view, in the order of the page; called once.
pub(crate) fn start() {
    batch::start();
    sheet::start();
    log::start();
}

/// The id of the button pressed; empty where none was.
fn pressed(event: &Event) -> String {
    dom::pressed(event).map_or_else(String::new, |button| button.id())
}

/// While a text is typed here, the keys for undo belong to it and not to the set-up.
fn on_focus(event: Event) {
    if let Some(field) = dom::target::<Element>(&event) {
        let own = field.matches("input[type=text], textarea").unwrap_or(false) && !field.has_attribute("data-quantity");
        if own {
            dom::flag(&field, "data-typing", true);
        }
    }
}

/// Fills a table anew; the first cell of a row is its heading.
fn table(id: &str, headings: &[String], rows: impl IntoIterator<Item = Vec<String>>) {
    ask::headings(id, headings);
    let Some(body) = ask::fresh_body(id) else { return };
    for cells in rows {
        let Some(row) = dom::add(&body, "tr", "", "") else { continue };
        for (place, words) in cells.iter().enumerate() {
            let cell = dom::add(&row, if place == 0 { "th" } else { "td" }, "", words);
            if let Some(cell) = cell.filter(|_| place == 0) {
                dom::set(&cell, "scope", "row");
            }
        }
    }
}

/// Makes a list hold just these lines.
fn lines(id: &str, lines: &[String]) {
    let Some(list) = dom::by_id(id) else { return };
    dom::empty(&list);
    for line in lines {
        dom::add(&list, "li", "", line);
    }
}

/// Offers a table as a file, or says beside the button that it cannot be.
fn file(name: &str, text: &str, said: &str) {
    let done = save::file(name, "text/csv", text).is_some();
    dom::write_id(said, if done { "" } else { "This browser would not write a file." });
}

/// Says beside a field what is wrong with it, or that nothing is.
fn say(field: &str, said: &str, why: &str) {
    dom::write_id(said, why);
    if let Some(field) = dom::by_id(field) {
        dom::set(&field, "aria-invalid", if why.is_empty() { "false" } else { "true" });
    }
}
