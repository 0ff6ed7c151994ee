//! The build sheet: parts, cut, steps, checks and warnings on one page, printed alone.

use super::{prices, save_table};
use crate::context::{Context, Reading};
use clothyard_core::format::{fixed, heading, trimmed};
use clothyard_core::{Field, Quantity, Units};
use clothyard_studies::production::sheet;
use clothyard_studies::production::sheet::{PartLine, Sheet, WorkStep};
use clothyard_web::bus::Event;
use clothyard_web::widgets::table::{Row, Table};
use clothyard_web::widgets::{field, list};
use clothyard_web::{self as dom, Dom, Kind, View};

pub(crate) struct BuildSheet {
    parts: Table,
    steps: Table,
    arrows: Table,
}

impl Default for BuildSheet {
    fn default() -> Self {
        Self { parts: Table::new("sheet-parts"), steps: Table::new("sheet-steps"), arrows: Table::new("sheet-arrows") }
    }
}

impl View<Context> for BuildSheet {
    fn id(&self) -> &'static str {
        "sheet"
    }

    fn changed(&mut self, event: &Event, _: &Context) -> bool {
        if matches!(event, Event::AfterPrint) {
            print_alone(false);
        }
        event.moves_answers()
    }

    fn show(&mut self, context: &Context) {
        let Some(now) = context.read() else { return };
        prices::show(&now);
        let sheet = sheet_of(&now);
        dom::hide("sheet-none", sheet.is_some());
        dom::hide("sheet-page", sheet.is_none());
        let Some(sheet) = sheet else { return };
        dom::write_id("sheet-heading", &sheet.heading);
        dom::write_id("sheet-shaft", &sheet.shaft);
        dom::write_id("sheet-cut", &sheet.cut);
        self.arrows.show(&sheet::arrow_headings(&now.units), sheet.arrows.iter().map(arrow).collect());
        self.show_parts(&sheet.parts, &now);
        self.show_steps(&sheet.steps, &now.units);
        list::lines("sheet-checks", &sheet.checks);
        list::lines("sheet-cautions", &sheet.warnings);
    }

    fn click(&mut self, dom: &Dom, context: &Context) {
        match dom.button_id().as_str() {
            "sheet-print" => {
                print_alone(true);
                let done = dom::window().is_some_and(|window| window.print().is_ok());
                dom::write_id("sheet-said", if done { "" } else { "The browser blocked printing." });
            }
            "sheet-csv" => {
                let Some(now) = context.read() else { return };
                if let Some(sheet) = sheet_of(&now) {
                    let text = sheet::to_csv(&sheet, &now.setup.currency, &now.units);
                    save_table("clothyard-parts.csv", &text, "sheet-said");
                }
            }
            _ => {}
        }
    }

    fn change(&mut self, dom: &Dom, context: &Context) {
        prices::change(dom, context);
    }

    fn other(&mut self, dom: &Dom, _: &Context) {
        if dom.kind == Kind::Focus {
            field::own_undo(dom);
        }
    }
}

impl BuildSheet {
    fn show_parts(&mut self, parts: &[PartLine], now: &Reading) {
        let (units, currency) = (&now.units, now.setup.currency.as_str());
        let arrows = now.all().resolved.number(Field::ArrowsToMake);
        let cost = sheet::cost_sentence(parts, arrows, currency);
        dom::write_id("sheet-cost", &cost);
        let mut headings =
            vec!["Part".to_owned(), "Quantity".to_owned(), heading("Weight each", Quantity::Mass, units)];
        if !cost.is_empty() {
            headings.push("Cost".to_owned());
        }
        let row = |part: &PartLine| {
            let mut cells = vec![part.name.clone(), trimmed(part.wanted, 0), tenth(part.weight_gr, units)];
            if !cost.is_empty() {
                cells.push(part.cost().map_or_else(|| "–".to_owned(), |cost| sheet::money(cost, currency)));
            }
            Row::of(cells)
        };
        self.parts.show(&headings, parts.iter().map(row).collect());
    }

    fn show_steps(&mut self, steps: &[WorkStep], units: &Units) {
        let headings =
            ["No.".to_owned(), "Step".to_owned(), heading("Weighs", Quantity::Mass, units), "Actual".to_owned()];
        let rows = steps.iter().enumerate().map(|(place, step)| {
            let weight = step.weight_gr.map_or_else(|| "–".to_owned(), |grains| tenth(grains, units));
            Row::of([(place + 1).to_string(), step.words.clone(), weight, String::new()])
        });
        self.steps.show(&headings, rows.collect());
    }
}

/// An arrow's row; one to be filled in by hand is for paper alone.
fn arrow(cells: &[String; 4]) -> Row {
    let blank = cells.iter().all(String::is_empty);
    Row { class: if blank { "blank" } else { "" }, ..Row::plain(cells.clone()) }
}

fn sheet_of(now: &Reading) -> Option<Sheet> {
    sheet::sheet(&now.setup, now.all(), &now.units)
}

/// A weight with one decimal more than a result has.
fn tenth(grains: f64, units: &Units) -> String {
    fixed(units.show(Quantity::Mass, grains), units.of(Quantity::Mass).decimals + 1)
}

/// Tells the style sheet to leave everything else off the paper.
fn print_alone(alone: bool) {
    if let Some(root) = dom::document().and_then(|document| document.document_element()) {
        dom::flag(&root, "data-sheet-alone", alone);
    }
}
