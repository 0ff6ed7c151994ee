//! The build sheet: parts, cut, steps, checks and cautions on one page, and that page printed alone.

use super::{file, lines, on_focus, pressed, prices, table};
use crate::{ask, page};
use clothyard_core::format::{fixed, heading, trimmed};
use clothyard_core::{Field, Quantity, Units};
use clothyard_studies::production::sheet;
use clothyard_studies::production::sheet::{PartLine, Sheet, WorkStep};
use clothyard_web as dom;
use web_sys::Event;

/// Starts the view; called once.
pub(super) fn start() {
    let (Some(view), Some(window)) = (dom::by_id("sheet"), dom::window()) else { return };
    dom::listen(&view, "toggle", |_| show());
    dom::listen(&view, "focusin", on_focus);
    dom::listen(&view, "change", prices::on_change);
    dom::listen(&view, "click", on_click);
    dom::listen(&window, "afterprint", |_| print_alone(false));
    page::on_change(|_| show());
    show();
}

fn made(now: &page::Reading) -> Option<Sheet> {
    sheet::sheet(&now.setup, now.all(), &now.units)
}

fn show() {
    if !ask::is_open("sheet") {
        return;
    }
    let Some(now) = page::read() else { return };
    prices::show(&now);
    let sheet = made(&now);
    dom::hide("sheet-none", sheet.is_some());
    dom::hide("sheet-page", sheet.is_none());
    let Some(sheet) = sheet else { return };
    dom::write_id("sheet-heading", &sheet.heading);
    dom::write_id("sheet-cut", &sheet.cut);
    show_parts(&sheet.parts, &now);
    show_steps(&sheet.steps, &now.units);
    lines("sheet-checks", &sheet.checks);
    lines("sheet-cautions", &sheet.warnings);
}

fn show_parts(parts: &[PartLine], now: &page::Reading) {
    let (units, currency) = (&now.units, now.setup.currency.as_str());
    let arrows = now.all().resolved.number(Field::ArrowsToMake);
    let cost = sheet::cost_sentence(parts, arrows, currency);
    dom::write_id("sheet-cost", &cost);
    let mut headings = vec!["Part".to_owned(), "To have".to_owned(), heading("One weighs", Quantity::Mass, units)];
    if !cost.is_empty() {
        headings.push("Cost".to_owned());
    }
    let row = |part: &PartLine| {
        let mut cells = vec![part.name.clone(), trimmed(part.wanted, 0), tenth(part.weight_gr, units)];
        if !cost.is_empty() {
            cells.push(part.cost().map_or_else(|| "–".to_owned(), |cost| sheet::money(cost, currency)));
        }
        cells
    };
    table("sheet-parts", &headings, parts.iter().map(row));
}

/// A weight with one decimal more than a result has.
fn tenth(grains: f64, units: &Units) -> String {
    fixed(units.show(Quantity::Mass, grains), units.of(Quantity::Mass).decimals + 1)
}

fn show_steps(steps: &[WorkStep], units: &Units) {
    let headings = ["No.".to_owned(), "Step".to_owned(), heading("Weighs", Quantity::Mass, units), "Yours".to_owned()];
    let rows = steps.iter().enumerate().map(|(place, step)| {
        let weight = step.weight_gr.map_or_else(|| "–".to_owned(), |grains| tenth(grains, units));
        vec![(place + 1).to_string(), step.words.clone(), weight, String::new()]
    });
    table("sheet-steps", &headings, rows);
}

fn on_click(event: Event) {
    match pressed(&event).as_str() {
        "sheet-print" => {
            print_alone(true);
            let done = dom::window().is_some_and(|window| window.print().is_ok());
            dom::write_id("sheet-said", if done { "" } else { "This browser would not print." });
        }
        "sheet-csv" => {
            let Some(now) = page::read() else { return };
            if let Some(sheet) = made(&now) {
                let text = sheet::to_csv(&sheet, &now.setup.currency, &now.units);
                file("clothyard-parts.csv", &text, "sheet-said");
            }
        }
        _ => {}
    }
}

/// Tells the style sheet to leave everything else off the paper.
fn print_alone(alone: bool) {
    if let Some(root) = dom::document().and_then(|document| document.document_element()) {
        dom::flag(&root, "data-sheet-alone", alone);
    }
}
