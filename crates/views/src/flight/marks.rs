//! Sight marks, and the tape that prints to scale.

use super::now::Now;
use super::shown;
use clothyard_studies::flight::marks;
use clothyard_studies::flight::marks::{Marks, WIDTH_MM};
use clothyard_web as dom;
use web_sys::{Element, Event};

/// While the root carries this class only the tape is printed.
const ALONE: &str = "tape-alone";

pub(super) fn start() {
    if let Some(button) = dom::by_id("marks-print") {
        dom::listen(&button, "click", |_: Event| print());
    }
    if let Some(window) = dom::window() {
        dom::listen(&window, "afterprint", |_: Event| alone(false));
    }
}

pub(super) fn show(now: &Now) {
    let units = &now.units;
    let answer = now.shot().and_then(|shot| {
        let marks = Marks::of(shot, &now.distances_m, units).map_err(|error| error.sentence().to_owned())?;
        Ok((shot, marks))
    });
    let Some((shot, marks)) = shown::or_why("marks", answer) else { return };
    dom::write_id("marks-words", &marks::takeaway(shot, &marks.list, units));
    dom::write_id("marks-point-on", &marks::point_on(shot, units));
    shown::table("marks-table", &marks::headings(units), &marks::rows(&marks.list, units));
    let tape = marks::tape(&marks, units);
    dom::hide("marks-paper", tape.is_none());
    dom::hide("marks-none", tape.is_some());
    if let Some(tape) = tape {
        shown::draw("marks-tape", &tape.shapes, (WIDTH_MM, tape.height_mm), "mm");
        dom::write_id("marks-tape-words", &tape.words);
    }
}

fn root() -> Option<Element> {
    dom::document()?.document_element()
}

fn alone(on: bool) {
    if let Some(root) = root() {
        dom::class(&root, ALONE, on);
    }
}

fn print() {
    alone(true);
    let printed = dom::window().and_then(|window| window.print().ok());
    dom::write_id("marks-printed", if printed.is_some() { "" } else { "This browser would not print." });
    if printed.is_none() {
        alone(false);
    }
}
