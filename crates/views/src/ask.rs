//! What every view asks of its own fields.

use clothyard_core::schema::{OUTPUTS, Output};
use clothyard_core::{Field, Quantity, Units, format, parse};
use clothyard_web as dom;
use wasm_bindgen::JsCast;
use web_sys::{Element, Event, HtmlElement, HtmlInputElement, HtmlSelectElement};

/// Whether a view is open.
pub(crate) fn is_open(id: &str) -> bool {
    dom::by_id(id).is_some_and(|details| details.has_attribute("open"))
}

/// What is chosen in a list.
pub(crate) fn chosen(id: &str) -> String {
    let select = dom::by_id(id).and_then(|element| element.dyn_into::<HtmlSelectElement>().ok());
    select.map_or_else(String::new, |select| select.value())
}

/// What stands in a text field.
pub(crate) fn text(id: &str) -> String {
    input(id).map_or_else(String::new, |input| input.value())
}

/// Writes into a text field, unless a hand is in it.
pub(crate) fn write(id: &str, text: &str) {
    let focused = dom::document().and_then(|document| document.active_element()).map(|element| element.id());
    if let Some(input) = input(id).filter(|_| focused.as_deref() != Some(id)) {
        input.set_value(text);
    }
}

pub(crate) fn input(id: &str) -> Option<HtmlInputElement> {
    dom::by_id(id)?.dyn_into().ok()
}

/// The result with a key.
pub(crate) fn output(key: &str) -> Option<Output> {
    OUTPUTS.iter().find(|row| row.key == key).map(|row| row.output)
}

/// The input chosen in a list of inputs.
pub(crate) fn field(id: &str) -> Option<Field> {
    Field::by_key(&chosen(id))
}

/// Completes a list with every input or result it does not hold yet: the few most asked for stand first.
pub(crate) fn complete(id: &str, all: impl Iterator<Item = (&'static str, &'static str)>) {
    let Some(select) = dom::by_id(id) else { return };
    for (key, label) in all {
        let known = select.query_selector(&format!("[value=\"{key}\"]")).ok().flatten().is_some();
        if !known && let Some(option) = dom::add(&select, "option", "", label) {
            dom::set(&option, "value", key);
        }
    }
}

/// Every input that is a number and moves results, by key and label.
pub(crate) fn all_fields() -> impl Iterator<Item = (&'static str, &'static str)> {
    let inputs = Field::ALL.into_iter().filter(|field| field.moves_results()).map(Field::input);
    inputs.filter(|input| input.quantity().is_some()).map(|input| (input.key, input.label))
}

/// Every result, by key and label.
pub(crate) fn all_results() -> impl Iterator<Item = (&'static str, &'static str)> {
    OUTPUTS.iter().map(|row| (row.key, row.label))
}

/// Reads a number typed in the unit chosen for its quantity; in the saved unit.
///
/// # Errors
/// What is wrong, naming the field.
pub(crate) fn number(typed: &str, label: &str, quantity: Quantity, units: &Units) -> Result<f64, String> {
    parse::read(typed, quantity, units.of(quantity)).map_err(|_| {
        let unit = units.of(quantity).symbol;
        let behind = if unit.is_empty() { String::new() } else { format!(" of {unit}") };
        format!("{label}: write a number{behind}; 28.5, 28,5 and 28 1/2 are all read.")
    })
}

/// A result in words, or a dash.
pub(crate) fn said(output: Output, number: Option<f64>, units: &Units) -> String {
    number.map_or_else(|| "–".to_owned(), |number| format::measured(output.row().quantity, number, units))
}

/// A body emptied and ready for new rows.
pub(crate) fn fresh_body(table: &str) -> Option<Element> {
    let body = dom::by_id(table)?.query_selector("tbody").ok()??;
    dom::empty(&body);
    Some(body)
}

/// The heading row of a table, with these headings.
pub(crate) fn headings(table: &str, names: &[String]) {
    let row = dom::by_id(table).and_then(|table| table.query_selector("thead tr").ok()?);
    let Some(row) = row else { return };
    dom::empty(&row);
    for name in names {
        dom::add(&row, "th", "", name).iter().for_each(|cell| dom::set(cell, "scope", "col"));
    }
}

/// While a text is typed here, the keys for undo belong to it and not to the set-up.
pub(crate) fn own_undo(event: Event) {
    if let Some(field) = dom::target::<Element>(&event) {
        dom::flag(&field, "data-typing", field.matches("input[type=text], textarea").unwrap_or(false));
    }
}

/// Gives the focus to the first element that a selector finds.
pub(crate) fn focus(selector: &str) {
    let found = dom::document().and_then(|document| document.query_selector(selector).ok().flatten());
    if let Some(element) = found.and_then(|element| element.dyn_into::<HtmlElement>().ok()) {
        let _ = element.focus();
    }
}
