//! The answers: the four headlines, and every result with its working.

use super::sentences;
use crate::state::{App, timer};
use clothyard_core::eval::Outputs;
use clothyard_core::eval::warnings::ALWAYS;
use clothyard_core::schema::Field;
use clothyard_core::schema::{OUTPUTS, Output, Term};
use clothyard_core::{Evaluation, Quantity, Units, format};
use clothyard_web as dom;
use clothyard_web::bus::{self, Debounce, Tick};
use clothyard_web::widgets::field;
use core::cell::{Cell, RefCell};
use web_sys::Element;

/// How long a moved number shows by how much.
const MOVED_MS: i32 = 2500;
/// Time to say aloud what waits.
const SAY: Tick = timer("say");

/// The headline answers that are numbers: their element, and what stands beside them.
const HEADLINES: [(&str, Output); 3] =
    [("total-weight", Output::TotalWeight), ("foc", Output::FrontOfCentre), ("kinetic-energy", Output::KineticEnergy)];

/// The elements of one result, and what they show.
struct Result {
    output: Output,
    shown_in: Element,
    details: Element,
    shown: RefCell<String>,
    open: Cell<bool>,
}

/// The elements of the answers, and the numbers they rest from.
pub(crate) struct Answers {
    results: Vec<Result>,
    rested: Option<Outputs>,
    moving: Debounce,
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
        (results.len() == OUTPUTS.len()).then_some(Self {
            results,
            rested: None,
            moving: Debounce::new(timer("rest"), MOVED_MS),
            said_at: 0.0,
            to_say: None,
        })
    }

    /// Something changed: numbers show by how much they moved, for a moment.
    pub(crate) fn moved(&mut self) {
        self.moving.restart(crate::post);
    }

    /// The numbers as they stand are the ones to move from.
    pub(crate) fn rest(&mut self, now: &Evaluation) {
        self.rested = Some(now.outputs);
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

/// Numbers have rested, or it is time to say something aloud.
pub(crate) fn on_tick(app: &mut App, tick: Tick) {
    if app.answers.moving.is_over(tick) {
        app.answers.rested = Some(app.evaluation.outputs);
        show_moved(app);
    } else if tick == SAY
        && let Some(words) = app.answers.to_say.take()
    {
        app.answers.said_at = dom::now();
        dom::write_id("status", &words);
    }
}

pub(crate) fn say(app: &App, output: Output) -> String {
    format::result(output, app.evaluation.outputs.get(output), &app.units)
}

/// Shows every answer.
pub(crate) fn show(app: &mut App) {
    if app.answers.rested.is_none() {
        app.answers.rested = Some(app.evaluation.outputs);
    }
    show_headline(app);
    show_moved(app);
    show_stale(app);
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
    app.answers.announce(summary(app));
}

/// One sentence that says the answer.
fn summary(app: &App) -> String {
    format!(
        "{}; {}; {} front of center; {}; {}",
        app.evaluation.headline(&app.units).title,
        say(app, Output::TotalWeight),
        say(app, Output::FrontOfCentre),
        say(app, Output::KineticEnergy),
        say(app, Output::LaunchSpeed)
    )
}

fn show_headline(app: &App) {
    let headline = app.evaluation.headline(&app.units);
    dom::write_id("match-words", &headline.title);
    dom::write_id("match-sentence", &headline.reason);
    dom::write_id("mend", &app.evaluation.remedy_sentence(&app.units));
    for (id, output) in HEADLINES {
        write_big(id, &say(app, output));
    }
    dom::write_id("total-weight-beside", &say(app, Output::GrainsPerPound));
    dom::write_id("foc-beside", &format!("balance {}", say(app, Output::BalancePoint)));
    let how = if app.evaluation.is_measured(Output::LaunchSpeed) { "measured," } else { "at" };
    dom::write_id("launch-speed", &format!("{how} {}", say(app, Output::LaunchSpeed)));
}

/// A headline number, large, and its unit, smaller.
fn write_big(id: &str, words: &str) {
    let Some(output) = dom::by_id(id) else { return };
    if output.text_content().as_deref() == Some(words) {
        return;
    }
    dom::empty(&output);
    let (number, unit) = words.split_once('\u{a0}').unwrap_or((words, ""));
    dom::add(&output, "span", "", number);
    dom::add(&output, "span", "small", &if unit.is_empty() { String::new() } else { format!("\u{a0}{unit}") });
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

/// By how much each headline number moved.
fn show_moved(app: &App) {
    for (id, output) in HEADLINES {
        let moved = dom::by_id(id)
            .and_then(|output| output.closest("div").ok()?)
            .and_then(|cell| cell.query_selector(".moved").ok()?);
        let Some(moved) = moved else { continue };
        let quantity = output.row().quantity;
        let before = app.answers.rested.as_ref().and_then(|rested| rested.get(output));
        let by = app.evaluation.outputs.get(output).zip(before).map_or(0.0, |(now, before)| now - before);
        let words = format::bare(quantity, by, &app.units);
        dom::write(&moved, &format::signed(&words).unwrap_or_default());
    }
}

/// Where a field cannot be read, on the page or in a tool not loaded yet, the answers stay as they were and say so.
pub(crate) fn show_stale(app: &App) {
    let bad: Vec<_> = app
        .drafts
        .0
        .iter()
        .filter_map(|(key, _)| Field::by_key(key))
        .filter(|&field| app.error_in(field).is_some())
        .collect();
    let shown: Vec<_> = bad
        .into_iter()
        .filter(|&field| dom::by_id(field.input().key).is_none() || field::is_invalid(field.input().key))
        .map(|field| field.input().label)
        .collect();
    if let Some(headline) = dom::by_id("headline") {
        dom::class(&headline, "stale", !shown.is_empty());
    }
    dom::hide("stale", shown.is_empty());
    dom::write_id(
        "stale",
        &format!(
            "Not updated: {} cannot be read as it stands. The answers are those from before.",
            shown.join(" and ")
        ),
    );
}

fn result_words(app: &App, output: Output) -> String {
    let out = app.evaluation.out_of_reach.iter().find(|out| out.output == output);
    match (out, output) {
        (Some(out), _) => {
            format!("none; nearest {}", format::measured(output.row().quantity, out.nearest, &app.units))
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
