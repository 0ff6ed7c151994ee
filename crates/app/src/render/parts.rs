//! The parts of the arrow: their names over the drawing, and the fields of the one that is open.

use super::answer::Known;
use super::lists;
use crate::state::App;
use clothyard_core::format;
use clothyard_core::schema::{Field, Group, Value};
use clothyard_web as dom;
use clothyard_web::protocol::attribute;
use clothyard_web::widgets::field;
use wasm_bindgen::JsCast;
use web_sys::Element;

/// The attribute of a button that opens a part.
pub(crate) const PART: &str = "data-part";
/// The panel's page of defaults.
const DEFAULTS: &str = "defaults";

/// Each part's name over the drawing: the element of its value, and the fields that the value is of.
const NAMES: [(&str, &[Field]); 5] = [
    ("part-nock", &[Field::NockMass]),
    ("part-vanes", &[Field::VaneCount, Field::VaneMass]),
    ("part-shaft", &[Field::StaticSpine]),
    ("part-front", &[Field::InsertMass]),
    ("part-point", &[Field::PointMass]),
];

/// Writes the values beside the names of the parts, and what is open.
pub(crate) fn show(app: &App) {
    let answers = Known::of(app).answers();
    for (id, fields) in NAMES {
        let own = fields.iter().any(|field| app.evaluation.resolved.is_user_given(*field));
        let words = |field: &Field| value_words(app, *field);
        // A default is nobody's number before there is an answer. The space keeps that before it for screen readers.
        let words = if own || answers {
            fields.iter().map(words).collect::<Vec<_>>().join(" × ")
        } else {
            "\u{a0}".to_owned()
        };
        if let Some(element) = dom::by_id(id) {
            dom::write(&element, &words);
            dom::class(&element, "own", own);
        }
    }
    let count = match defaults(app).len() {
        _ if !answers => "Defaults".to_owned(),
        1 => "1 default".to_owned(),
        count => format!("{count} defaults"),
    };
    dom::write_id("defaults-count", &count);
    show_words(app);
}

pub(crate) fn value_words(app: &App, field: Field) -> String {
    let value = app.evaluation.resolved.value(field);
    value.map_or_else(|| "–".to_owned(), |value| format::value(field.input(), value, &app.units))
}

/// The fields in use whose values are defaults worth a word.
fn defaults(app: &App) -> Vec<Field> {
    let resolved = &app.evaluation.resolved;
    let assumed = |field: &Field| {
        !resolved.is_user_given(*field)
            && resolved.applies(*field)
            && field.moves_results()
            && field.input().group != Group::Instruments
            && !resolved.is_read(*field)
            && resolved.value(*field).is_some_and(|value| value != Value::Number(0.0))
    };
    Field::ALL.into_iter().filter(assumed).collect()
}

/// Opens a part, or closes it where it is open.
pub(crate) fn toggle(app: &mut App, part: &str) {
    if app.part == part {
        return close(app);
    }
    open(app, part);
    field::focus("#part-list [aria-current=true]");
}

/// Closes the open part; its name takes the focus.
pub(crate) fn close(app: &mut App) {
    let name = format!("[data-part={}][aria-expanded]", app.part);
    open(app, "");
    field::focus(&name);
}

/// Opens a part; an empty one closes what is open.
pub(crate) fn open(app: &mut App, part: &str) {
    part.clone_into(&mut app.part);
    dom::hide("part-fields", part.is_empty());
    let Some(document) = dom::document() else { return };
    if let Ok(all) = document.query_selector_all("#part-fields > fieldset, [data-part]") {
        for place in 0..all.length() {
            if let Some(element) = all.get(place).and_then(|node| node.dyn_into::<Element>().ok()) {
                show_open(&element, part);
            }
        }
    }
    lists::show(app);
    show_words(app);
}

fn show_open(element: &Element, part: &str) {
    if let Some(group) = element.get_attribute(attribute::GROUP) {
        return dom::flag(element, "hidden", group != part);
    }
    let is_it = element.get_attribute(PART).as_deref() == Some(part);
    let state = if element.has_attribute("aria-expanded") { "aria-expanded" } else { "aria-current" };
    dom::set(element, state, if is_it { "true" } else { "false" });
}

/// What is said of the open part: the user's values, or the list of defaults.
fn show_words(app: &App) {
    if app.part == DEFAULTS {
        dom::write_id("part-words", "Values you did not enter. Select one to change it.");
        return show_defaults(app);
    }
    let resolved = &app.evaluation.resolved;
    show_nock_fit(app);
    let own = |field: &Field| field.input().group.key() == app.part && resolved.is_user_given(*field);
    let words = |field: Field| format!("{} {}", format::lower_first(field.input().label), value_words(app, field));
    let list: Vec<_> = Field::ALL.into_iter().filter(own).map(words).collect();
    let all = if list.is_empty() { "All defaults.".to_owned() } else { format!("Your values: {}.", list.join("; ")) };
    dom::write_id("part-words", if app.part == "own" { "" } else { &all });
}

/// Whether nock and serving fit, or what would fit the one that was measured.
fn show_nock_fit(app: &App) {
    let Some(line) = dom::by_id("nock-fit") else { return };
    let fit = format::nock_fit(&app.evaluation.resolved, &app.units);
    dom::class(&line, "caution", fit.as_ref().is_some_and(|fit| fit.warning));
    dom::write(&line, &fit.map_or_else(String::new, |fit| fit.words));
}

fn show_defaults(app: &App) {
    let Some(body) = dom::by_id("defaults-table").and_then(|table| table.query_selector("tbody").ok()?) else { return };
    let all = defaults(app);
    dom::empty(&body);
    for field in all {
        let Some(row) = dom::add(&body, "tr", "", "") else { continue };
        if let Some(cell) = dom::add(&row, "td", "", "")
            && let Some(link) = dom::add(&cell, "a", "", field.input().label)
        {
            dom::set(&link, "href", &format!("#{}", field.input().key));
        }
        dom::add(&row, "td", "", &value_words(app, field));
        dom::add(&row, "td", "", why(app, field));
    }
}

/// Where a default comes from.
fn why(app: &App, field: Field) -> &'static str {
    use clothyard_core::schema::DefaultRule::{Absent, Choice, Follows, Number};
    if field == Field::DrawLength && app.evaluation.resolved.draw_length_estimated() {
        return "arm span";
    }
    match field.input().default {
        Follows(what) => what,
        Number(_) | Choice(_) => "usual value",
        Absent => "",
    }
}
