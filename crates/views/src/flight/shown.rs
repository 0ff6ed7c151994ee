//! How a view of this section shows an answer or why there is none, its tables and its drawings.

use crate::ask;
use clothyard_core::drawing::Shape;
use clothyard_core::format::fixed;
use clothyard_web::{self as dom, shapes};
use web_sys::Element;

/// Shows the body of a view, or says why it has none.
pub(super) fn or_why<T>(view: &str, answer: Result<T, String>) -> Option<T> {
    let why = answer.as_ref().err().cloned().unwrap_or_default();
    dom::write_id(&format!("{view}-said"), &why);
    dom::hide(&format!("{view}-body"), answer.is_err());
    answer.ok()
}

/// A row of a table, its first cell a heading.
pub(super) fn row<'a>(body: &Element, heading: &str, cells: impl IntoIterator<Item = &'a String>) -> Option<Element> {
    let row = dom::add(body, "tr", "", "")?;
    dom::add(&row, "th", "", heading).iter().for_each(|cell| dom::set(cell, "scope", "row"));
    for cell in cells {
        dom::add(&row, "td", "", cell);
    }
    Some(row)
}

/// A whole table: headings and rows.
pub(super) fn table<const N: usize>(id: &str, headings: &[String; N], rows: &[[String; N]]) {
    ask::headings(id, headings);
    let Some(body) = ask::fresh_body(id) else { return };
    for cells in rows {
        if let Some((first, others)) = cells.split_first() {
            row(&body, first, others);
        }
    }
}

/// A table of names and numbers.
pub(super) fn terms(id: &str, rows: &[(&'static str, String)]) {
    let Some(body) = ask::fresh_body(id) else { return };
    for (name, number) in rows {
        row(&body, name, [number]);
    }
}

/// Width of a drawing in pixels.
pub(super) fn width(id: &str) -> f64 {
    dom::by_id(id).map_or(700.0, |drawing| drawing.get_bounding_client_rect().width().max(280.0))
}

/// A drawing filled anew, a unit of it a pixel or, of a tape, a millimetre.
pub(super) fn draw(id: &str, shapes: &[(&'static str, Shape)], (width, height): (f64, f64), unit: &str) {
    let (Some(drawing), Some(group)) = (dom::by_id(id), dom::by_id(&format!("{id}-shapes"))) else { return };
    dom::empty(&group);
    let (wide, high) = (fixed(width, 2), fixed(height, 2));
    dom::set(&drawing, "viewBox", &format!("0 0 {wide} {high}"));
    if unit == "mm" {
        dom::set(&drawing, "width", &format!("{wide}{unit}"));
    }
    dom::set(&drawing, "height", &format!("{high}{unit}"));
    for (style, shape) in shapes {
        let _ = shapes::add(&group, shape, style);
    }
}
