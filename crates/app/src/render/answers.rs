//! Every result with its working, and what is announced.

use super::sentences;
use crate::state::{App, timer};
use clothyard_core::eval::warnings::ALWAYS;
use clothyard_core::schema::{OUTPUTS, Output, Term};
use clothyard_core::{Quantity, Units, format};
use clothyard_web as dom;
use clothyard_web::bus::{self, Tick};
use core::cell::{Cell, RefCell};
use web_sys::Element;

/// Time to say aloud what waits.
const SAY: Tick = timer("say");

/// The elements of one result, and what they show.
struct Result {
    output: Output,
    shown_in: Element,
    details: Element,
    shown: RefCell<String>,
    open: Cell<bool>,
}

/// The elements of the results, and what waits to be announced.
pub(crate) struct Answers {
    results: Vec<Result>,
    said_at: f64,
    to_say: Option<String>,
}

impl Answers {
    /// Finds every result's elements; none where one is missing.
    pub(crate) fn find() -> Option<Self> {
        let result = |output: Output| {
            let shown_in = dom::by_id(output.row().key)?;
            dom::set(&shown_in, "aria-live", "off");
            let details = shown_in.closest("details").ok()??;
            let open = Cell::new(details.has_attribute("open"));
            Some(Result { output, shown_in, details, shown: RefCell::default(), open })
        };
        let results: Vec<_> = OUTPUTS.iter().filter_map(|row| result(row.output)).collect();
        let list = dom::by_id("always")?;
        for words in ALWAYS {
            dom::add(&list, "li", "", words);
        }
        (results.len() == OUTPUTS.len()).then_some(Self { results, said_at: 0.0, to_say: None })
    }

    /// Says a sentence aloud, at most one a second; the newest wins.
    pub(crate) fn announce(&mut self, words: String) {
        let waiting = self.to_say.replace(words).is_some();
        if waiting {
            return;
        }
        let wait = (self.said_at + 1000.0 - dom::now()).max(250.0);
        bus::later(crate::post, wait as i32, SAY);
    }
}

/// It is time to say something aloud.
pub(crate) fn on_tick(app: &mut App, tick: Tick) {
    if tick == SAY
        && let Some(words) = app.answers.to_say.take()
    {
        app.answers.said_at = dom::now();
        dom::write_id("status", &words);
    }
}

pub(crate) fn say(app: &App, output: Output) -> String {
    format::result(output, app.evaluation.outputs.get(output), &app.units)
}

/// Shows every result.
pub(crate) fn show(app: &App) {
    for result in &app.answers.results {
        let words = result_words(app, result.output);
        if *result.shown.borrow() != words {
            dom::write(&result.shown_in, &words);
            result.shown.replace(words);
        }
        if result.open.get() {
            show_working(app, &result.details);
        }
    }
    sentences::show(app);
    sentences::show_cautions(app);
}

/// The total weight in the unit not chosen: grains and grams are both said.
fn other_mass(app: &App) -> String {
    let mut other = Units::ARCHERY;
    other.choose(Quantity::Mass, 1 - app.units.index(Quantity::Mass).min(1));
    app.evaluation
        .outputs
        .get(Output::TotalWeight)
        .map_or_else(String::new, |mass| format::measured(Quantity::Mass, mass, &other))
}

fn result_words(app: &App, output: Output) -> String {
    let out = app.evaluation.out_of_reach.iter().find(|out| out.output == output);
    match (out, output) {
        (Some(out), _) => {
            format!("Out of range (closest {})", format::measured(output.row().quantity, out.nearest, &app.units))
        }
        (None, Output::TotalWeight) => format!("{} ({})", say(app, output), other_mass(app)),
        (None, _) if app.evaluation.is_measured(output) => format!("{} measured", say(app, output)),
        (None, _) => say(app, output),
    }
}

/// Fills the numbers that went into a result.
pub(crate) fn show_working(app: &App, details: &Element) {
    let key = details.get_attribute("data-result").unwrap_or_default();
    let Some(row) = OUTPUTS.iter().find(|row| row.key == key) else { return };
    for (_, term) in row.terms {
        let (key, words) = match *term {
            Term::Of(field) => (field.input().key, sentences::field_words(app, field)),
            Term::From(output) => (output.row().key, say(app, output)),
        };
        if let Ok(Some(cell)) = details.query_selector(&format!("[data-term=\"{key}\"]")) {
            dom::write(&cell, &words);
        }
    }
}

/// An answer has been opened, and is filled, or closed.
pub(crate) fn toggled(app: &App, details: &Element, open: bool) {
    if let Some(result) = app.answers.results.iter().find(|result| result.details == *details) {
        result.open.set(open);
    }
    if open {
        show_working(app, details);
        sentences::show_parts(app);
    }
}
