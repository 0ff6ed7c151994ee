//! The two lists of the user: shafts to choose from, and other parts.

use super::fields;
use crate::state::App;
use clothyard_core::schema::{NamedRow, OwnPart, StockShaft, shafts};
use clothyard_core::setup::{MAX_NAME_CHARS, Setup};
use clothyard_core::{Units, format};
use clothyard_web as dom;
use clothyard_web::widgets::field;
use wasm_bindgen::JsCast;
use web_sys::{Element, HtmlInputElement};

/// A list on the page, and where its rows are in a setup.
trait Shown: NamedRow {
    /// Its id in the markup.
    const ID: &'static str;
    /// What a row is called.
    const ROW: &'static str;
    /// The id of the button that adds a row.
    const ADD: &'static str;

    fn of(setup: &mut Setup) -> &mut Vec<Self>;

    /// The row that is added to these.
    fn fresh(rows: &[Self]) -> Option<Self>;

    /// That no more rows can be added.
    fn full() -> String;
}

impl Shown for StockShaft {
    const ID: &'static str = "shafts";
    const ROW: &'static str = "Shaft";
    const ADD: &'static str = "shaft-add";

    fn of(setup: &mut Setup) -> &mut Vec<Self> {
        &mut setup.shafts
    }

    fn fresh(rows: &[Self]) -> Option<Self> {
        rows.last().map(|like| Self { name: "New shaft".to_owned(), ..like.clone() })
    }

    fn full() -> String {
        format!("At most {} shafts.", Self::TABLE.max_rows)
    }
}

impl Shown for OwnPart {
    const ID: &'static str = "own-parts";
    const ROW: &'static str = "Part";
    const ADD: &'static str = "own-part-add";

    fn of(setup: &mut Setup) -> &mut Vec<Self> {
        &mut setup.own_parts
    }

    fn fresh(_: &[Self]) -> Option<Self> {
        Some(Self { name: String::new(), mass_gr: 0.0, center_in: 10.0, length_in: 0.5 })
    }

    fn full() -> String {
        format!("At most {} other parts.", Self::TABLE.max_rows)
    }
}

/// Rewrites both lists.
pub(crate) fn show(app: &App) {
    fields::show_units(app);
    // Rows are made when their part is opened: they would be a third of the page's elements.
    if app.part == "shaft" {
        show_rows(&app.setup.shafts, &app.units);
    }
    show_rows(&app.setup.own_parts, &app.units);
}

fn show_rows<T: Shown>(rows: &[T], units: &Units) {
    dom::write_id(&format!("{}-said", T::ID), "");
    let body = dom::by_id(T::ID).and_then(|table| table.query_selector("tbody").ok()?);
    let Some(body) = body else { return };
    dom::empty(&body);
    for (place, each) in rows.iter().enumerate() {
        row(&body, place, each, units);
    }
}

fn row<T: Shown>(body: &Element, place: usize, each: &T, units: &Units) {
    let Some(row) = dom::add(body, "tr", "", "") else { return };
    let cell = |column: usize, value: &str, label: &str| {
        let Some(cell) = dom::add(&row, "td", "", "") else { return };
        let Some(input) = dom::add(&cell, "input", "", "") else { return };
        for (attribute, value) in [
            ("type", "text"),
            ("inputmode", if column == 0 { "text" } else { "decimal" }),
            ("value", value),
            ("aria-label", &format!("{} {}: {label}", T::ROW, place + 1)),
            ("data-list", T::ID),
            ("data-place", &place.to_string()),
            ("data-column", &column.to_string()),
            ("aria-describedby", &format!("{}-said", T::ID)),
        ] {
            dom::set(&input, attribute, value);
        }
    };
    cell(0, each.name(), "name");
    for (place, (column, number)) in T::TABLE.columns.iter().zip(each.numbers()).enumerate() {
        let unknown = column.optional && number == 0.0;
        let value = if unknown { String::new() } else { format::entered(column.quantity, number, units) };
        cell(place + 1, &value, column.label);
    }
    let Some(last) = dom::add(&row, "td", "", "") else { return };
    if let Some(button) = dom::add(&last, "button", "remove", "×") {
        let name = if each.name().is_empty() { "this row" } else { each.name() };
        dom::set(&button, "type", "button");
        dom::set(&button, "aria-label", &format!("Remove {name}"));
        dom::set(&button, "data-list", T::ID);
        dom::set(&button, "data-place", &place.to_string());
    }
}

/// Reads a changed cell; what cannot be read is said and stays as it was typed.
pub(crate) fn typed(app: &mut App, input: &Element, text: &str) {
    let number = |name: &str| input.get_attribute(name)?.parse::<usize>().ok();
    let Some(cell) = number("data-place").zip(number("data-column")) else { return };
    if input.get_attribute("data-list").as_deref() == Some(StockShaft::ID) {
        typed_in::<StockShaft>(app, input, cell, text);
    } else {
        typed_in::<OwnPart>(app, input, cell, text);
    }
}

fn typed_in<T: Shown>(app: &mut App, input: &Element, (place, column): (usize, usize), text: &str) {
    let units = app.units;
    let now = T::of(&mut app.setup).get(place);
    let changed = now.ok_or_else(|| "this row is gone".to_owned()).and_then(|row| changed(row, column, text, &units));
    dom::set(input, "aria-invalid", if changed.is_err() { "true" } else { "false" });
    dom::write_id(&format!("{}-said", T::ID), changed.as_ref().err().map_or("", String::as_str));
    if let Ok(row) = changed {
        app.alter(&format!("{} {place} {column}", T::ID), |setup| {
            if let Some(slot) = T::of(setup).get_mut(place) {
                *slot = row;
            }
        });
        try_again(app, input);
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

/// A row with one cell changed: the name first, then the numbers.
fn changed<T: Shown>(row: &T, column: usize, text: &str, units: &Units) -> Result<T, String> {
    let mut row = row.clone();
    match column.checked_sub(1) {
        None => *row.name_mut() = name(text)?,
        Some(place) => {
            let (column, slot) = T::TABLE.columns.get(place).zip(row.number_mut(place)).ok_or("this column is gone")?;
            let read = if column.optional && text.trim().is_empty() { Ok(0.0) } else { column.read(text, units) };
            *slot = read.map_err(|_| {
                let allowed = format::allowed(column.quantity, column.minimum, column.maximum, units);
                format!("{}: enter a number, {allowed}.", format::upper_first(column.label))
            })?;
            row.check_whole().map_err(|_| "the inside diameter must be less than the outside".to_owned())?;
        }
    }
    Ok(row)
}

fn name(text: &str) -> Result<String, String> {
    if text.chars().count() > MAX_NAME_CHARS {
        return Err(format!("Name: at most {MAX_NAME_CHARS} characters."));
    }
    Ok(text.trim().to_owned())
}

/// Takes a row away.
pub(crate) fn remove(app: &mut App, list: &str, place: usize) {
    if list != StockShaft::ID {
        remove_from::<OwnPart>(app, place);
    } else if app.setup.shafts.len() == 1 {
        dom::write_id("shafts-said", "The list needs at least one shaft.");
    } else {
        remove_from::<StockShaft>(app, place);
    }
}

fn remove_from<T: Shown>(app: &mut App, place: usize) {
    app.alter("", |setup| {
        let rows = T::of(setup);
        if place < rows.len() {
            rows.remove(place);
        }
    });
    show(app);
    // The button that had the focus is gone; the one that adds a row stays.
    dom::by_id(T::ADD).iter().for_each(field::focus_on);
}

/// Adds a row of each kind, or puts the invented shafts back.
pub(crate) fn pressed(app: &mut App, id: &str) {
    match id {
        StockShaft::ADD => add::<StockShaft>(app),
        OwnPart::ADD => add::<OwnPart>(app),
        _ => {
            app.alter("", |setup| setup.shafts = shafts::invented_shafts());
            show(app);
        }
    }
}

fn add<T: Shown>(app: &mut App) {
    if T::of(&mut app.setup).len() >= T::TABLE.max_rows {
        return dom::write_id(&format!("{}-said", T::ID), &T::full());
    }
    app.alter("", |setup| {
        let rows = T::of(setup);
        let fresh = T::fresh(rows);
        rows.extend(fresh);
    });
    show(app);
}
