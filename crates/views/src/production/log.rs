//! The tuning log: entries put in and taken out, what is read from them, and what a step of the match is worth.

use super::{file, on_focus, pressed, say};
use crate::{ask, page};
use clothyard_core::schema::List;
use clothyard_core::{Quantity, Units, format};
use clothyard_studies::production::log::{Entry, Tear, entries, left_handed, step};
use clothyard_studies::production::log_words::{last_two_sentence, to_csv};
use clothyard_web as dom;
use std::cell::Cell;
use wasm_bindgen::JsCast;
use web_sys::{Element, Event, HtmlElement};

/// A step of the match as it stands at first, in pounds.
const USUAL_STEP_LB: f64 = 2.0;

/// Steps that are looked at, in pounds.
const STEPS_LB: (f64, f64) = (0.1, 20.0);

thread_local! {
    /// The step in pounds, and the units in which its field shows it.
    static STEP: Cell<(f64, Option<Units>)> = const { Cell::new((USUAL_STEP_LB, None)) };
}

/// Starts the view; called once.
pub(super) fn start() {
    let Some(view) = dom::by_id("tuning") else { return };
    dom::listen(&view, "toggle", |_| show());
    dom::listen(&view, "focusin", on_focus);
    dom::listen(&view, "submit", |event| {
        event.prevent_default();
        put_in();
    });
    dom::listen(&view, "input", |event| {
        if dom::target::<Element>(&event).is_some_and(|element| element.id() == "tuning-step") {
            read_step();
        }
    });
    dom::listen(&view, "click", on_click);
    page::on_change(|_| show());
    show();
}

fn show() {
    if !ask::is_open("tuning") {
        return;
    }
    let Some(now) = page::read() else { return };
    let fields = [
        ("tuning-distance-unit", Quantity::Distance),
        ("tuning-across-unit", Quantity::Length),
        ("tuning-height-unit", Quantity::Length),
        ("tuning-step-unit", Quantity::DrawWeight),
    ];
    fields.iter().for_each(|&(id, quantity)| dom::write_id(id, now.units.of(quantity).symbol));
    let (pounds, shown_in) = STEP.get();
    if shown_in != Some(now.units) {
        STEP.set((pounds, Some(now.units)));
        ask::write("tuning-step", &format::entered(Quantity::DrawWeight, pounds, &now.units));
    }
    show_entries(&now);
    show_step(&now);
}

fn show_entries(now: &page::Reading) {
    let list = entries(now.setup.lists.rows(List::Tuning));
    dom::hide("tuning-none", !list.is_empty());
    dom::hide("tuning-list", list.is_empty());
    dom::hide("tuning-csv", list.is_empty());
    dom::write_id(
        "tuning-two",
        if list.is_empty() { String::new() } else { last_two_sentence(&list, &now.units) }.as_str(),
    );
    let Some(element) = dom::by_id("tuning-list") else { return };
    dom::empty(&element);
    for (place, entry) in list.iter().enumerate().rev() {
        show_entry(&element, place, entry, now);
    }
}

fn show_entry(list: &Element, place: usize, entry: &Entry, now: &page::Reading) {
    let Some(item) = dom::add(list, "li", "", "") else { return };
    let what = entry.what(&now.units);
    dom::add(&item, "b", "", &what);
    dom::add(&item, "p", "", &entry.reading(left_handed(now.all())));
    dom::add(&item, "p", "quiet", &entry.with_what(&now.units));
    if let Some(button) = dom::add(&item, "button", "", "Remove") {
        dom::set(&button, "type", "button");
        dom::set(&button, "data-entry", &place.to_string());
        dom::set(&button, "aria-label", &format!("Remove entry {}: {what}", place + 1));
    }
}

fn show_step(now: &page::Reading) {
    let (pounds, _) = STEP.get();
    for (id, by) in [("tuning-weaker", pounds), ("tuning-stiffer", -pounds)] {
        dom::write_id(id, &step(&now.setup, by).sentence(&now.units));
    }
}

fn read_step() {
    let Some(now) = page::read() else { return };
    let (least, most) = STEPS_LB;
    let label = "A step of the match";
    let step = ask::number(&ask::text("tuning-step"), label, Quantity::DrawWeight, &now.units).and_then(|pounds| {
        let said = |pounds: f64| format::entered_with_unit(Quantity::DrawWeight, pounds, &now.units);
        let allowed = (least..=most).contains(&pounds);
        if allowed { Ok(pounds) } else { Err(format!("{label}: {} to {}.", said(least), said(most))) }
    });
    match step {
        Err(why) => say("tuning-step", "tuning-step-said", &why),
        Ok(pounds) => {
            say("tuning-step", "tuning-step-said", "");
            STEP.set((pounds, Some(now.units)));
            show_step(&now);
        }
    }
}

/// A field of the form: its id, its label and its column's place in the list.
type Asked = (&'static str, &'static str, usize);
const DISTANCE: Asked = ("tuning-distance", "Distance", 0);
const ACROSS: Asked = ("tuning-across", "Left or right", 1);
const HEIGHT: Asked = ("tuning-height", "Low or high", 2);

/// The number in a field of the form; none where it is empty. What is wrong is said, and the field named.
fn asked(&(id, label, place): &Asked, units: &Units) -> Result<Option<f64>, (&'static str, String)> {
    let typed = ask::text(id);
    if typed.trim().is_empty() {
        return Ok(None);
    }
    let Some(column) = List::Tuning.of().columns.get(place) else { return Ok(None) };
    let number = ask::number(&typed, label, column.quantity, units).map_err(|why| (id, why))?;
    let said = |number: f64| format::entered_with_unit(column.quantity, number, units);
    // The side is chosen beside it: a size is wanted here.
    let least = column.minimum.max(0.0);
    if (least..=column.maximum).contains(&number) {
        Ok(Some(number))
    } else {
        Err((id, format!("{label}: {} to {}.", said(least), said(column.maximum))))
    }
}

/// The entry as typed.
fn typed(now: &page::Reading) -> Result<Vec<Option<f64>>, (&'static str, String)> {
    let distance = asked(&DISTANCE, &now.units)?;
    let across =
        asked(&ACROSS, &now.units)?.map(|size| if ask::chosen("tuning-side") == "left" { -size } else { size });
    let height = asked(&HEIGHT, &now.units)?.map(|size| if ask::chosen("tuning-way") == "low" { -size } else { size });
    let tear = Tear::ALL.iter().enumerate().find(|(place, _)| ask::chosen("tuning-tear") == place.to_string());
    let distance = distance.ok_or_else(|| (DISTANCE.0, "Distance: say how far away you stood.".to_owned()))?;
    if across.or(height).is_none() && tear.is_none() {
        return Err((
            ACROSS.0,
            "Say where the bare shaft struck, or how the paper tore; nought if they struck together.".into(),
        ));
    }
    Ok(Entry::row(distance, [across, height], tear.map(|(_, &tear)| tear), now.all()))
}

fn put_in() {
    let Some(now) = page::read() else { return };
    for id in [DISTANCE.0, ACROSS.0, HEIGHT.0] {
        say(id, "tuning-said", "");
    }
    let row = match typed(&now) {
        Ok(row) => row,
        Err((id, why)) => {
            dom::write_id("tuning-done", "");
            return say(id, "tuning-said", &why);
        }
    };
    let mut setup = now.setup.clone();
    let mut rows = setup.lists.rows(List::Tuning).to_vec();
    rows.push(row);
    let (count, most) = (rows.len(), List::Tuning.of().most);
    if setup.lists.set(List::Tuning, rows).is_err() {
        return dom::write_id(
            "tuning-said",
            &format!("Not put in: the log holds {most} entries; save it and remove some."),
        );
    }
    page::load(&setup);
    dom::write_id("tuning-done", &format!("Entry {count} is in the log."));
}

fn on_click(event: Event) {
    if pressed(&event) == "tuning-csv" {
        let Some(now) = page::read() else { return };
        let list = entries(now.setup.lists.rows(List::Tuning));
        return file("clothyard-tuning.csv", &to_csv(&list, left_handed(now.all()), &now.units), "tuning-said");
    }
    let place =
        dom::target::<Element>(&event).and_then(|button| button.get_attribute("data-entry")?.parse::<usize>().ok());
    if let Some(place) = place {
        remove(place);
    }
}

fn remove(place: usize) {
    let Some(mut setup) = page::setup() else { return };
    let mut rows = setup.lists.rows(List::Tuning).to_vec();
    if place >= rows.len() {
        return;
    }
    rows.remove(place);
    if setup.lists.set(List::Tuning, rows).is_ok() {
        page::load(&setup);
        dom::write_id("tuning-done", "Removed. Undo brings it back.");
        let form = dom::by_id("tuning-distance").and_then(|field| field.dyn_into::<HtmlElement>().ok());
        // The button is gone; the form takes the focus.
        form.iter().for_each(|field| drop(field.focus()));
    }
}
