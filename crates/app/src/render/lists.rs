//! The two lists a person keeps: shafts to choose from, and parts of their own.

use super::fields;
use crate::state::App;
use clothyard_core::schema::shafts::SHAFT_RANGES;
use clothyard_core::schema::{StockShaft, shafts};
use clothyard_core::setup::{MOST_NAME_CHARS, MOST_OWN_PARTS, MOST_SHAFTS, OWN_PART_RANGES, OwnPart, Setup};
use clothyard_core::{Quantity, Units, format, parse};
use clothyard_web as dom;
use clothyard_web::widgets::field;
use wasm_bindgen::JsCast;
use web_sys::{Element, HtmlInputElement};

const SHAFT_QUANTITIES: [Quantity; 4] =
    [Quantity::StaticSpine, Quantity::LinearMass, Quantity::SmallLength, Quantity::SmallLength];
const SHAFT_LABELS: [&str; 4] = ["static spine", "weight", "outer diameter", "inner diameter"];
const PART_QUANTITIES: [Quantity; 3] = [Quantity::Mass, Quantity::Length, Quantity::Length];
const PART_LABELS: [&str; 3] = ["weight", "centre from the throat", "length"];

/// Writes both lists anew.
pub(crate) fn show(app: &App) {
    fields::show_units(app);
    dom::write_id("shafts-said", "");
    dom::write_id("own-parts-said", "");
    if let Some(body) = body("shafts") {
        dom::empty(&body);
        for (place, shaft) in app.setup.shafts.iter().enumerate() {
            row(&body, "shafts", place, &shaft.name, &shaft.numbers(), &SHAFT_QUANTITIES, &SHAFT_LABELS, &app.units);
        }
    }
    if let Some(body) = body("own-parts") {
        dom::empty(&body);
        for (place, part) in app.setup.own_parts.iter().enumerate() {
            let numbers = [part.mass_gr, part.centre_in, part.length_in];
            row(&body, "own-parts", place, &part.name, &numbers, &PART_QUANTITIES, &PART_LABELS, &app.units);
        }
    }
}

fn body(id: &str) -> Option<Element> {
    dom::by_id(id)?.query_selector("tbody").ok()?
}

#[allow(clippy::too_many_arguments, reason = "one row of either list, spelled out")]
fn row(
    body: &Element,
    list: &str,
    place: usize,
    name: &str,
    numbers: &[f64],
    quantities: &[Quantity],
    labels: &[&str],
    units: &Units,
) {
    let Some(row) = dom::add(body, "tr", "", "") else { return };
    let cell = |column: usize, value: &str, label: &str| {
        let Some(cell) = dom::add(&row, "td", "", "") else { return };
        let Some(input) = dom::add(&cell, "input", "", "") else { return };
        for (attribute, value) in [
            ("type", "text"),
            ("inputmode", if column == 0 { "text" } else { "decimal" }),
            ("value", value),
            ("aria-label", &format!("{} {}: {label}", if list == "shafts" { "Shaft" } else { "Part" }, place + 1)),
            ("data-list", list),
            ("data-place", &place.to_string()),
            ("data-column", &column.to_string()),
            ("aria-describedby", &format!("{list}-said")),
        ] {
            dom::set(&input, attribute, value);
        }
    };
    cell(0, name, "name");
    for (column, ((&number, &quantity), label)) in numbers.iter().zip(quantities).zip(labels).enumerate() {
        cell(column + 1, &format::entered(quantity, number, units), label);
    }
    let Some(last) = dom::add(&row, "td", "", "") else { return };
    if let Some(button) = dom::add(&last, "button", "remove", "×") {
        dom::set(&button, "type", "button");
        dom::set(&button, "aria-label", &format!("Remove {}", if name.is_empty() { "this row" } else { name }));
        dom::set(&button, "data-list", list);
        dom::set(&button, "data-place", &place.to_string());
    }
}

/// Reads a changed cell; what cannot be read is said and stays as it was typed.
pub(crate) fn typed(app: &mut App, input: &Element, text: &str) {
    let attribute = |name: &str| input.get_attribute(name).unwrap_or_default();
    let (list, Ok(place), Ok(column)) =
        (attribute("data-list"), attribute("data-place").parse::<usize>(), attribute("data-column").parse::<usize>())
    else {
        return;
    };
    let changed =
        if list == "shafts" { shaft_with(app, place, column, text) } else { part_with(app, place, column, text) };
    let said = format!("{list}-said");
    dom::set(input, "aria-invalid", if changed.is_err() { "true" } else { "false" });
    match changed {
        Ok(setup) => {
            dom::write_id(&said, "");
            let (shafts, own_parts) = (setup.shafts, setup.own_parts);
            app.alter(&format!("{list} {place} {column}"), |setup| {
                (setup.shafts, setup.own_parts) = (shafts, own_parts)
            });
            try_again(app, input);
        }
        Err(why) => dom::write_id(&said, &why),
    }
}

/// Another cell of the row may have waited for this one: an inner diameter for the outer.
fn try_again(app: &mut App, input: &Element) {
    let row = input.closest("tr").ok().flatten();
    let waiting = row.and_then(|row| row.query_selector("[aria-invalid=\"true\"]").ok()?);
    if let Some(cell) = waiting
        && let Some(text) = cell.dyn_ref::<HtmlInputElement>().map(HtmlInputElement::value)
    {
        typed(app, &cell, &text);
    }
}

fn shaft_with(app: &App, place: usize, column: usize, text: &str) -> Result<Setup, String> {
    let mut setup = app.setup.clone();
    let shaft = setup.shafts.get_mut(place).ok_or("this row is gone")?;
    if column == 0 {
        shaft.name = name(text)?;
        return Ok(setup);
    }
    let value = number(text, column, &SHAFT_QUANTITIES, &SHAFT_LABELS, &SHAFT_RANGES, &app.units)?;
    let slots = [
        &mut shaft.static_spine_thousandths,
        &mut shaft.shaft_gr_per_in,
        &mut shaft.outer_diameter_in,
        &mut shaft.bore_in,
    ];
    put(slots, column, value);
    shafts::check_shaft(shaft).map_err(|_| "the inner diameter must be less than the outer".to_owned())?;
    Ok(setup)
}

fn part_with(app: &App, place: usize, column: usize, text: &str) -> Result<Setup, String> {
    let mut setup = app.setup.clone();
    let part = setup.own_parts.get_mut(place).ok_or("this row is gone")?;
    if column == 0 {
        part.name = name(text)?;
        return Ok(setup);
    }
    let value = number(text, column, &PART_QUANTITIES, &PART_LABELS, &OWN_PART_RANGES, &app.units)?;
    put([&mut part.mass_gr, &mut part.centre_in, &mut part.length_in], column, value);
    Ok(setup)
}

fn put<const N: usize>(slots: [&mut f64; N], column: usize, value: f64) {
    if let Some(slot) = slots.into_iter().nth(column - 1) {
        *slot = value;
    }
}

fn name(text: &str) -> Result<String, String> {
    if text.chars().count() > MOST_NAME_CHARS {
        return Err(format!("Name: at most {MOST_NAME_CHARS} characters."));
    }
    Ok(text.trim().to_owned())
}

fn number(
    text: &str,
    column: usize,
    quantities: &[Quantity],
    labels: &[&str],
    ranges: &[(&str, f64, f64)],
    units: &Units,
) -> Result<f64, String> {
    let at = column.saturating_sub(1);
    let (Some(&quantity), Some(label), Some(&(_, minimum, maximum))) =
        (quantities.get(at), labels.get(at), ranges.get(at))
    else {
        return Err("this column is gone".to_owned());
    };
    let allowed = format::allowed(quantity, minimum, maximum, units);
    match parse::read(text, quantity, units.of(quantity)) {
        Ok(value) if (minimum..=maximum).contains(&value) => Ok(value),
        _ => Err(format!("{}: write a number, {allowed}.", format::upper_first(label))),
    }
}

/// Takes a row away.
pub(crate) fn remove(app: &mut App, list: &str, place: usize) {
    if list == "shafts" && app.setup.shafts.len() == 1 {
        dom::write_id("shafts-said", "The list needs at least one shaft.");
        return;
    }
    app.alter("", |setup| {
        if list == "shafts" && place < setup.shafts.len() {
            setup.shafts.remove(place);
        } else if list != "shafts" && place < setup.own_parts.len() {
            setup.own_parts.remove(place);
        }
    });
    show(app);
    // The button that had the focus is gone; the one that adds a row stays.
    let add = if list == "shafts" { "shaft-add" } else { "own-part-add" };
    dom::by_id(add).iter().for_each(field::focus_on);
}

/// Adds a row of each kind, or puts the invented shafts back.
pub(crate) fn pressed(app: &mut App, id: &str) {
    match id {
        "shaft-add" if app.setup.shafts.len() < MOST_SHAFTS => app.alter("", |setup| {
            let like = setup.shafts.last().cloned();
            setup.shafts.extend(like.map(|like| StockShaft { name: "New shaft".to_owned(), ..like }));
        }),
        "own-part-add" if app.setup.own_parts.len() < MOST_OWN_PARTS => app.alter("", |setup| {
            setup.own_parts.push(OwnPart { name: String::new(), mass_gr: 0.0, centre_in: 10.0, length_in: 0.5 });
        }),
        "shafts-reset" => app.alter("", |setup| setup.shafts = shafts::invented_shafts()),
        "shaft-add" => return dom::write_id("shafts-said", &format!("The list holds at most {MOST_SHAFTS} shafts.")),
        _ => {
            return dom::write_id(
                "own-parts-said",
                &format!("An arrow holds at most {MOST_OWN_PARTS} parts of your own."),
            );
        }
    }
    show(app);
}
