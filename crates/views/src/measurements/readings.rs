//! Draw-force and chronograph readings: two texts of two columns, the curve and the fit.

use super::fill;
use crate::ask;
use crate::chart::{self, Axis, Chart, Series};
use crate::page::{self, Reading};
use clothyard_core::parse::columns;
use clothyard_core::schema::List;
use clothyard_core::{Field, Quantity, Units};
use clothyard_studies::measurements::{draw_force, speeds};
use clothyard_web::{self as dom, store};
use std::cell::Cell;
use wasm_bindgen::JsCast;
use web_sys::{Element, Event, HtmlTextAreaElement};

/// After this long without a key a text is read.
const READ_AFTER_MS: i32 = 1000;

/// Points of the usual curve.
const USUAL_POINTS: usize = 61;

/// Each list with the view it stands in.
const TEXTS: [(List, &str); 2] = [(List::DrawForce, "bench-force"), (List::Speeds, "bench-speeds")];

thread_local! {
    /// The units the texts are written in.
    static UNITS: Cell<Option<Units>> = const { Cell::new(None) };
}

/// What stays in this browser of a text that cannot be read.
fn kept_as(view: &str) -> String {
    format!("clothyard.{view}")
}

pub(super) fn start(section: &Element) {
    dom::listen(section, "input", on_input);
    dom::listen(section, "change", |event: Event| {
        if let Some((list, view)) = text_of(&event) {
            take(list, view);
        }
    });
    chart::start("force");
    for (list, view) in TEXTS {
        let Some(area) = area(view) else { continue };
        if !area.value().is_empty() {
            // Typed while the views were on their way.
            take(list, view);
        } else if let Some(text) = store::get(&kept_as(view)) {
            area.set_value(&text);
        }
    }
}

fn area(view: &str) -> Option<HtmlTextAreaElement> {
    dom::by_id(&format!("{view}-text"))?.dyn_into().ok()
}

fn text_of(event: &Event) -> Option<(List, &'static str)> {
    let id = event.target()?.dyn_into::<Element>().ok()?.id();
    TEXTS.into_iter().find(|(_, view)| id.strip_suffix("-text") == Some(view))
}

/// Reads a text once the hand rests.
fn on_input(event: Event) {
    let Some((list, view)) = text_of(&event) else { return };
    let Some(area) = area(view) else { return };
    let typed = area.value();
    dom::later(READ_AFTER_MS, move || {
        if area.value() == typed {
            take(list, view);
        }
    });
}

/// Puts the readings of a text on the set-up; one that cannot be read changes nothing and is kept.
fn take(list: List, view: &str) {
    let (Some(area), Some(now)) = (area(view), page::read()) else { return };
    let read = columns::read(&area.value(), list.of(), &now.units);
    dom::set(&area, "aria-invalid", if read.is_err() { "true" } else { "false" });
    let said = format!("{view}-said");
    match read {
        Ok(rows) => {
            dom::write_id(&said, "");
            store::forget(&kept_as(view));
            let mut setup = now.setup.clone();
            // The rows were read against the list's own ranges.
            if setup.lists.rows(list) != rows && setup.lists.set(list, rows).is_ok() {
                page::load(&setup);
            }
        }
        Err(error) => {
            let _ = store::put(&kept_as(view), &area.value());
            let words = error.message();
            dom::write_id(&said, &format!("{words} The readings from before stand."));
        }
    }
}

pub(super) fn show(now: &Reading) {
    for (list, view) in TEXTS {
        write_text(list, view, now);
    }
    UNITS.set(Some(now.units));
    if ask::is_open("bench-force") {
        show_force(now);
    }
    if ask::is_open("bench-speeds") {
        show_speeds(now);
    }
}

/// Writes the readings into their text, unless it says the same already, cannot be read, or a hand is in it. A text
/// was written in the units shown before.
fn write_text(list: List, view: &str, now: &Reading) {
    let Some(area) = area(view) else { return };
    let focused = dom::document().and_then(|document| document.active_element()).map(|element| element.id());
    let rows = now.setup.lists.rows(list);
    let units = UNITS.get().unwrap_or(now.units);
    let same = match columns::read(&area.value(), list.of(), &units) {
        Ok(_) if units != now.units => false,
        Ok(read) => columns::write(&read, list.of(), &now.units) == columns::write(rows, list.of(), &now.units),
        Err(error) => {
            dom::set(&area, "aria-invalid", "true");
            dom::write_id(&format!("{view}-said"), &error.message());
            true
        }
    };
    if !same && focused != Some(area.id()) {
        area.set_value(&columns::write(rows, list.of(), &now.units));
    }
}

fn show_force(now: &Reading) {
    let (all, units) = (now.all(), &now.units);
    let force = draw_force::of(&now.setup, &all.resolved);
    let (takeaway, facts) = match &force {
        None => ("Nothing is read yet: the page goes by the usual curve of this kind of bow.".to_owned(), Vec::new()),
        Some(Err(error)) => (draw_force::refusal(error, &now.setup, &all.resolved, units), Vec::new()),
        Some(Ok(force)) => (draw_force::takeaway(force, all, units), draw_force::facts(force, &all.resolved, units)),
    };
    dom::write_id("bench-force-words", &takeaway);
    fill("bench-force-facts", &facts);
    let given = [Field::PeakDrawWeight, Field::DrawLength].iter().any(|&field| all.resolved.is_user_given(field));
    dom::hide("bench-force-hand", !(given && matches!(force, Some(Ok(_)))));
    let read = force.and_then(Result::ok);
    let mut series = Vec::new();
    if let Some(force) = &read {
        series.push(Series { name: "measured", dashed: false, points: draw_force::line(&force.curve) });
    }
    series.push(Series {
        name: "usual",
        dashed: read.is_some(),
        points: draw_force::usual_line(&all.resolved, USUAL_POINTS),
    });
    draw(series, *units);
}

fn draw(series: Vec<Series>, units: Units) {
    let both = series.len() > 1;
    chart::show(
        "force",
        Chart {
            title: "Force against the place of the string.".to_owned(),
            takeaway: if both {
                "Solid as you read it, dashed the usual curve of this kind of bow; the area below is the energy."
                    .to_owned()
            } else {
                "The usual curve of this kind of bow; the area below is the energy.".to_owned()
            },
            x: Axis { label: "String to pivot", quantity: Quantity::Length, exact: true },
            y: Axis { label: "Force", quantity: Quantity::DrawWeight, exact: false },
            units,
            series,
            now: None,
            reading: Box::new(Chart::at_words),
        },
    );
}

fn show_speeds(now: &Reading) {
    let (all, units) = (now.all(), &now.units);
    let fit = speeds::of(&all.resolved);
    let (takeaway, facts) = match &fit {
        None => ("No shot is read yet.".to_owned(), Vec::new()),
        Some(Err(error)) => (speeds::refusal(error).to_owned(), Vec::new()),
        Some(Ok(fit)) => (speeds::takeaway(fit, units), speeds::facts(fit, all, units)),
    };
    dom::write_id("bench-speeds-words", &takeaway);
    fill("bench-speeds-facts", &facts);
    let fit = fit.and_then(Result::ok);
    dom::hide("bench-shots", fit.is_none());
    if let Some(fit) = fit {
        show_shots(&fit, now.setup.lists.rows(List::Speeds).len(), units);
    }
}

fn show_shots(fit: &speeds::Speeds, listed: usize, units: &Units) {
    let names = ["Shot", "Arrow", "Read", "Fit", "Read less fit"].map(str::to_owned);
    ask::headings("bench-shots", &names);
    let Some(body) = ask::fresh_body("bench-shots") else { return };
    for (place, shot) in fit.shots.all().iter().enumerate() {
        let Some(row) = dom::add(&body, "tr", "", "") else { continue };
        let suspect = fit.errors.suspect.is_some_and(|suspect| suspect.index == place);
        let number = (place + 1).to_string();
        let name = match (place < listed, suspect) {
            (true, false) => number,
            (true, true) => format!("{number}, look at it"),
            (false, false) => "in the fields".to_owned(),
            (false, true) => "in the fields, look at it".to_owned(),
        };
        dom::add(&row, "th", "", &name).iter().for_each(|cell| dom::set(cell, "scope", "row"));
        for words in speeds::row(fit, shot, units) {
            dom::add(&row, "td", "", &words);
        }
    }
}

/// Leaves to the page what the readings tell as well.
pub(super) fn hand_back(now: &Reading) {
    let mut setup = now.setup.clone();
    for field in [Field::PeakDrawWeight, Field::DrawLength] {
        // Handing a field back cannot fail.
        let _ = setup.set(field, None);
    }
    page::load(&setup);
    // The button that had the focus is gone.
    dom::later(0, || drop(area("bench-force").map(|area| area.focus())));
}
