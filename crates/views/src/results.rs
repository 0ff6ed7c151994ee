//! Every result with its formula, the numbers put in and its source, and what the results rest on.

mod sentences;

use crate::context::{Context, Reading};
use clothyard_core::eval::warnings::ALWAYS;
use clothyard_core::schema::{OUTPUTS, Output, Term};
use clothyard_core::{Quantity, Units, format};
use clothyard_web::widgets::list;
use clothyard_web::widgets::table::{Row, Table};
use clothyard_web::{self as dom, Dom, Kind, View};
use web_sys::Element;

pub(crate) struct Results {
    parts: Table,
}

impl Results {
    pub(crate) fn new() -> Self {
        Self { parts: Table::new("parts") }
    }
}

impl View<Context> for Results {
    fn id(&self) -> &'static str {
        "results"
    }

    fn start(&mut self, _: &Context) {
        list::lines("always", &ALWAYS.map(str::to_owned));
    }

    fn show(&mut self, context: &Context) {
        let Some(now) = context.read() else { return };
        for row in &OUTPUTS {
            let Some(output) = dom::by_id(row.key) else { continue };
            dom::write(&output, &words(&now, row.output));
            output.closest("details[open]").ok().flatten().iter().for_each(|details| show_terms(&now, details));
        }
        sentences::show(&now);
        self.parts.show_rows(sentences::parts(&now).into_iter().map(Row::plain).collect());
    }

    fn other(&mut self, dom: &Dom, context: &Context) {
        if let (Kind::Toggle, Some(now)) = (dom.kind, context.read()) {
            show_terms(&now, &dom.target);
        }
    }
}

/// A result as it is said.
fn say(now: &Reading, output: Output) -> String {
    now.all().said(output, &now.units)
}

/// A result with what is to be said of it.
fn words(now: &Reading, output: Output) -> String {
    let out = now.all().out_of_reach.iter().find(|out| out.output == output);
    match (out, output) {
        (Some(out), _) => {
            format!("none; nearest {}", format::measured(output.row().quantity, out.nearest, &now.units))
        }
        (None, Output::TotalWeight) => format!("{} ({})", say(now, output), other_mass(now)),
        (None, _) if now.all().is_measured(output) => format!("{} measured", say(now, output)),
        (None, _) => say(now, output),
    }
}

/// The total weight in the unit not chosen: grains and grams are both said.
fn other_mass(now: &Reading) -> String {
    let mut other = Units::ARCHERY;
    other.choose(Quantity::Mass, 1 - now.units.index(Quantity::Mass).min(1));
    let mass = now.all().outputs.get(Output::TotalWeight);
    mass.map_or_else(String::new, |mass| format::measured(Quantity::Mass, mass, &other))
}

/// Fills the numbers that went into a result.
fn show_terms(now: &Reading, details: &Element) {
    let key = details.get_attribute("data-result").unwrap_or_default();
    let Some(row) = OUTPUTS.iter().find(|row| row.key == key) else { return };
    for (_, term) in row.terms {
        let (key, words) = match *term {
            Term::Of(field) => (field.input().key, sentences::field_words(now, field)),
            Term::From(output) => (output.row().key, say(now, output)),
        };
        if let Ok(Some(cell)) = details.query_selector(&format!("[data-term=\"{key}\"]")) {
            dom::write(&cell, &words);
        }
    }
}
