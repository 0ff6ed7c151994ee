//! The user's list of other parts.

use super::fields;
use crate::state::App;
use clothyard_core::parse::named;
use clothyard_core::schema::{NamedRow, OwnPart};
use clothyard_core::{Units, format};
use clothyard_web as dom;
use clothyard_web::widgets::field;
use web_sys::Element;

const ID: &str = "own-parts";
/// The id of the button that adds a row.
pub(crate) const ADD: &str = "own-part-add";

/// Rewrites the list.
pub(crate) fn show(app: &App) {
    fields::show_units(app);
    dom::write_id("own-parts-said", "");
    let body = dom::by_id(ID).and_then(|table| table.query_selector("tbody").ok()?);
    let Some(body) = body else { return };
    dom::empty(&body);
    for (place, part) in app.setup.own_parts.iter().enumerate() {
        row(&body, place, part, &app.units);
    }
}

fn row(body: &Element, place: usize, part: &OwnPart, units: &Units) {
    let Some(row) = dom::add(body, "tr", "", "") else { return };
    let cell = |column: usize, value: &str, label: &str| {
        let Some(cell) = dom::add(&row, "td", "", "") else { return };
        let Some(input) = dom::add(&cell, "input", "", "") else { return };
        for (attribute, value) in [
            ("type", "text"),
            ("inputmode", if column == 0 { "text" } else { "decimal" }),
            ("value", value),
            ("aria-label", &format!("Part {}: {label}", place + 1)),
            ("data-list", ID),
            ("data-place", &place.to_string()),
            ("data-column", &column.to_string()),
            ("aria-describedby", "own-parts-said"),
        ] {
            dom::set(&input, attribute, value);
        }
    };
    cell(0, &part.name, "name");
    for (place, (column, number)) in OwnPart::TABLE.columns.iter().zip(part.numbers()).enumerate() {
        cell(place + 1, &format::entered(column.quantity, number, units), column.label);
    }
    let Some(last) = dom::add(&row, "td", "", "") else { return };
    if let Some(button) = dom::add(&last, "button", "remove", "×") {
        let name = if part.name.is_empty() { "this row" } else { &part.name };
        dom::set(&button, "type", "button");
        dom::set(&button, "aria-label", &format!("Remove {name}"));
        dom::set(&button, "data-list", ID);
        dom::set(&button, "data-place", &place.to_string());
    }
}

/// Reads a changed cell; what cannot be read is said and stays as it was typed.
pub(crate) fn typed(app: &mut App, input: &Element, text: &str) {
    let number = |name: &str| input.get_attribute(name)?.parse::<usize>().ok();
    let Some((place, column)) = number("data-place").zip(number("data-column")) else { return };
    let Some(part) = app.setup.own_parts.get(place) else { return };
    let changed = named::with_cell(part, column, text, &app.units);
    dom::set(input, "aria-invalid", if changed.is_err() { "true" } else { "false" });
    dom::write_id("own-parts-said", changed.as_ref().err().map_or("", String::as_str));
    if let Ok(part) = changed {
        app.alter(&format!("{ID} {place} {column}"), |setup| {
            if let Some(slot) = setup.own_parts.get_mut(place) {
                *slot = part;
            }
        });
    }
}

/// Takes a row away.
pub(crate) fn remove(app: &mut App, place: usize) {
    app.alter("", |setup| drop((place < setup.own_parts.len()).then(|| setup.own_parts.remove(place))));
    show(app);
    // The button that had the focus is gone; the one that adds a row stays.
    dom::by_id(ADD).iter().for_each(field::focus_on);
}

/// Adds a row.
pub(crate) fn add(app: &mut App) {
    let most = OwnPart::TABLE.max_rows;
    if app.setup.own_parts.len() >= most {
        return dom::write_id("own-parts-said", &format!("At most {most} other parts."));
    }
    app.alter("", |setup| {
        setup.own_parts.push(OwnPart { name: String::new(), mass_gr: 0.0, center_in: 10.0, length_in: 0.5 });
    });
    show(app);
}
