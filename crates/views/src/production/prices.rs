//! Prices of the parts, and their currency.

use crate::context::{Context, Reading};
use clothyard_core::schema::{Column, List};
use clothyard_core::setup::MAX_CURRENCY_CHARS;
use clothyard_core::{Quantity, format};
use clothyard_studies::production::sheet::{PRICED, with_price};
use clothyard_web::widgets::field;
use clothyard_web::{self as dom, Dom};
use web_sys::Element;

/// Shows the prices; an invalid entry stays in its field to be corrected.
pub(super) fn show(now: &Reading) {
    field::write("sheet-currency", &now.setup.currency);
    let Some(body) = dom::by_id("sheet-price-table").and_then(|table| table.query_selector("tbody").ok()?) else {
        return;
    };
    let rows = now.setup.lists.rows(List::Prices);
    for (place, (name, _)) in PRICED.iter().enumerate() {
        let id = format!("sheet-price-{place}");
        if dom::by_id(&id).is_none() {
            row(&body, &id, name);
        }
        let price = rows.get(place).and_then(|row| *row.first()?);
        if !field::is_invalid(&id) {
            field::write(&id, &price.map_or_else(String::new, |price| format::trimmed(price, 4)));
        }
    }
}

fn row(body: &Element, id: &str, name: &str) -> Option<Element> {
    let row = dom::add(body, "tr", "", "")?;
    let heading = dom::add(&row, "th", "", "")?;
    dom::set(&heading, "scope", "row");
    let label = dom::add(&heading, "label", "", name)?;
    dom::set(&label, "for", id);
    let field = dom::add(&dom::add(&row, "td", "", "")?, "input", "", "")?;
    for (attribute, value) in [
        ("type", "text"),
        ("inputmode", "decimal"),
        ("autocomplete", "off"),
        ("id", id),
        ("aria-describedby", "sheet-price-said"),
    ] {
        dom::set(&field, attribute, value);
    }
    Some(field)
}

/// A price or the sign was changed.
pub(super) fn change(dom: &Dom, context: &Context) {
    let id = dom.id();
    if id == "sheet-currency" {
        return change_sign(field::text(&id).trim(), context);
    }
    let Some(place) = (0..PRICED.len()).find(|place| id == format!("sheet-price-{place}")) else { return };
    let price = read(&field::text(&id), place, context);
    field::say(&id, "sheet-price-said", price.as_ref().err().map_or("", String::as_str));
    if let (Ok(price), Some(mut setup)) = (price, context.setup()) {
        let rows = with_price(setup.lists.rows(List::Prices), place, price);
        if setup.lists.rows(List::Prices) != rows && setup.lists.set(List::Prices, rows).is_ok() {
            context.load(&setup);
        }
    }
}

fn read(typed: &str, place: usize, context: &Context) -> Result<Option<f64>, String> {
    let name = PRICED.get(place).map_or("", |(name, _)| name);
    if typed.trim().is_empty() {
        return Ok(None);
    }
    let price = field::number(typed, name, Quantity::Ratio, &context.units())?;
    let allowed = List::Prices.spec().columns.first().is_none_or(|column: &Column| column.check(Some(price)).is_ok());
    if allowed { Ok(Some(price)) } else { Err(format!("{name}: enter 0 to 100000.")) }
}

fn change_sign(sign: &str, context: &Context) {
    let Some(mut setup) = context.setup() else { return };
    let fits = sign.chars().count() <= MAX_CURRENCY_CHARS;
    let why = if fits { String::new() } else { format!("Currency: at most {MAX_CURRENCY_CHARS} letters.") };
    field::say("sheet-currency", "sheet-currency-said", &why);
    if fits && setup.currency != sign {
        sign.clone_into(&mut setup.currency);
        context.load(&setup);
    }
}
