//! Three points by three inserts, cuts, draw weights or shafts, each a button that applies it.

use super::answer::Known;
use crate::state::App;
use clothyard_core::eval::Verdict;
use clothyard_core::eval::glance::{Cell, Down, Glance, Step};
use clothyard_core::schema::Field;
use clothyard_core::{Quantity, format};
use clothyard_web as dom;
use clothyard_web::protocol::attribute;
use clothyard_web::widgets::select;
use web_sys::Element;

/// What is chosen to be down.
fn down() -> Down {
    let chosen = select::chosen("glance-axes");
    Field::by_key(&chosen).map_or(Down::Shaft, Down::Of)
}

/// Shows the table; dashes where there is no answer yet.
pub(crate) fn show(app: &App) {
    let answered = Known::of(app).answers();
    let resolved = &app.evaluation.resolved;
    let table = Glance::of(&app.setup, resolved, down());
    show_heads(app, &table);
    let place = |row: usize, column: usize| format!("{row}{column}");
    for (row, step) in table.steps.iter().enumerate() {
        for (column, point) in table.points.into_iter().enumerate() {
            let Some(button) = dom::by_id(&("glance-".to_owned() + &place(row, column))) else { continue };
            dom::flag(&button, "disabled", !answered);
            let now = answered && (row, column) == (table.row, table.column);
            dom::set(&button, "aria-pressed", if now { "true" } else { "false" });
            let cell = answered.then(|| table.cell(&app.setup, resolved, step, point));
            show_cell(app, &button, cell.as_ref());
            let words = button.text_content().unwrap_or_default();
            let name = format!("{} point, {}: {words}", weight(app, point), step_words(app, step));
            dom::set(&button, "aria-label", &name);
        }
    }
    // A list of shafts may end here.
    if let Some(body) = dom::by_id("glance-table").and_then(|table| table.query_selector("tbody").ok()?) {
        let rows = body.children();
        for row in 0..rows.length() {
            rows.item(row).iter().for_each(|each| dom::flag(each, "hidden", row as usize >= table.steps.len()));
        }
    }
}

fn show_heads(app: &App, table: &Glance) {
    for (column, &point) in table.points.iter().enumerate() {
        dom::write_id(&format!("glance-point-{column}"), &weight(app, point));
    }
    for (row, step) in table.steps.iter().enumerate() {
        dom::write_id(&format!("glance-step-{row}"), &step_words(app, step));
    }
}

fn weight(app: &App, grains: f64) -> String {
    format::entered_with_unit(Quantity::Mass, grains, &app.units)
}

fn step_words(app: &App, step: &Step) -> String {
    match (step, down()) {
        (Step::Number(inches), Down::Of(Field::CutLength)) => format::length(*inches, &app.units),
        (Step::Number(number), Down::Of(Field::PeakDrawWeight)) => {
            format::whole(Quantity::DrawWeight, *number, &app.units)
        }
        (Step::Number(number), _) => weight(app, *number),
        (Step::Shaft(shaft), _) => format::spine_of(shaft.is_solid(), shaft.static_spine_thousandths),
        (Step::Now, _) => format::spine_as_sold(&app.evaluation.resolved),
    }
}

fn show_cell(app: &App, button: &Element, cell: Option<&Cell>) {
    let (class, words) = match cell {
        None => ("", "–".to_owned()),
        Some(Cell { forbidden: true, .. }) => ("wrong", "do not shoot".to_owned()),
        Some(Cell { verdict: Some(Verdict::WellMatched), .. }) => ("good", "✓ match".to_owned()),
        Some(Cell { off_lb: Some(off), .. }) => {
            let pounds = format::whole(Quantity::DrawWeight, off.abs(), &app.units);
            ("", format!("{pounds} {}", if *off > 0.0 { "stiff" } else { "weak" }))
        }
        _ => ("", "no match".to_owned()),
    };
    let foc = cell.and_then(|cell| cell.foc).map_or_else(String::new, |foc| format::said(foc, 1) + "%");
    let weight = cell.and_then(|cell| cell.weight_gr);
    let weight = weight.map_or_else(String::new, |grains| format::whole(Quantity::Mass, grains, &app.units));
    let parts = [words, foc, weight];
    let children = button.children();
    for (place, text) in (0..).zip(parts) {
        if let Some(part) = children.item(place) {
            dom::write(&part, &text);
            if place == 0 {
                dom::set(&part, "class", class);
            }
        }
    }
}

/// Puts a cell on the arrow, undoably.
pub(crate) fn press(app: &mut App, button: &Element) {
    let place = |name: &str| button.get_attribute(name)?.parse::<usize>().ok();
    let Some((row, column)) = place(attribute::PLACE).zip(place("data-column")) else { return };
    let table = Glance::of(&app.setup, &app.evaluation.resolved, down());
    if let Some((step, point)) = table.steps.get(row).zip(table.points.get(column)) {
        app.alter("", |setup| drop(table.apply(setup, step, *point)));
    }
}
