//! The answers: the four headlines, and every result with its working.

use crate::app::App;
use crate::sentences;
use clothyard_dom as dom;
use clothyard_workbench::cautions::ALWAYS;
use clothyard_workbench::inputs::Field;
use clothyard_workbench::numbers::Numbers;
use clothyard_workbench::outcome::{OUTCOMES, Outcome, Term};
use clothyard_workbench::{Evaluation, Quantity, Units, wording};
use core::cell::{Cell, RefCell};
use web_sys::Element;

/// How long a moved number shows by how much.
const MOVED_MS: f64 = 2500.0;

/// The headline answers that are numbers: their element, and what stands beside them.
const HEADLINES: [(&str, Outcome); 3] = [
    ("total-weight", Outcome::TotalWeight),
    ("foc", Outcome::FrontOfCentre),
    ("kinetic-energy", Outcome::KineticEnergy),
];

/// The elements of one result, and what they show.
struct Result {
    outcome: Outcome,
    output: Element,
    details: Element,
    shown: RefCell<String>,
    open: Cell<bool>,
}

/// The elements of the answers, and the numbers they rest from.
pub(crate) struct Answers {
    results: Vec<Result>,
    rested: Option<Numbers>,
    moved_at: f64,
    said_at: f64,
    to_say: Option<String>,
}

impl Answers {
    /// Finds every result's elements; none where one is missing.
    pub(crate) fn find() -> Option<Self> {
        let result = |outcome: Outcome| {
            let output = dom::by_id(outcome.row().key)?;
            dom::set(&output, "aria-live", "off");
            let details = output.closest("details").ok()??;
            let open = Cell::new(details.has_attribute("open"));
            Some(Result { outcome, output, details, shown: RefCell::default(), open })
        };
        let results: Vec<_> = OUTCOMES.iter().filter_map(|row| result(row.outcome)).collect();
        let list = dom::by_id("always")?;
        for words in ALWAYS {
            dom::add(&list, "li", "", words);
        }
        (results.len() == OUTCOMES.len()).then_some(Self {
            results,
            rested: None,
            moved_at: 0.0,
            said_at: 0.0,
            to_say: None,
        })
    }

    /// Something changed: numbers show by how much they moved, for a moment.
    pub(crate) fn moved(&mut self) {
        self.moved_at = dom::now();
        dom::later(MOVED_MS as i32 + 50, || {
            crate::app::with(|app| {
                if dom::now() - app.answers.moved_at >= MOVED_MS {
                    app.answers.rested = Some(app.evaluation.numbers);
                    show_moved(app);
                }
            })
        });
    }

    /// The numbers as they stand are the ones to move from.
    pub(crate) fn rest(&mut self, now: &Evaluation) {
        self.rested = Some(now.numbers);
    }

    /// Says a sentence aloud, at most one a second; the newest wins.
    pub(crate) fn announce(&mut self, words: String) {
        let waiting = self.to_say.replace(words).is_some();
        if waiting {
            return;
        }
        let wait = (self.said_at + 1000.0 - dom::now()).max(250.0);
        dom::later(wait as i32, || {
            crate::app::with(|app| {
                if let Some(words) = app.answers.to_say.take() {
                    app.answers.said_at = dom::now();
                    dom::write_id("status", &words);
                }
            })
        });
    }
}

pub(crate) fn say(app: &App, outcome: Outcome) -> String {
    let number = app.evaluation.numbers.get(outcome);
    number.map_or_else(|| "–".to_owned(), |number| wording::measured(outcome.row().quantity, number, &app.units))
}

/// Shows every answer.
pub(crate) fn show(app: &mut App) {
    if app.answers.rested.is_none() {
        app.answers.rested = Some(app.evaluation.numbers);
    }
    show_headline(app);
    show_moved(app);
    show_stale(app);
    for result in &app.answers.results {
        let words = result_words(app, result.outcome);
        if *result.shown.borrow() != words {
            dom::write(&result.output, &words);
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
    let verdict = app.evaluation.verdict.map_or("no match can be worked out", |verdict| verdict.words());
    format!(
        "{verdict}; {}; {} front of centre; {}; {}",
        say(app, Outcome::TotalWeight),
        say(app, Outcome::FrontOfCentre),
        say(app, Outcome::KineticEnergy),
        say(app, Outcome::LaunchSpeed)
    )
}

fn show_headline(app: &App) {
    let verdict = app.evaluation.verdict;
    dom::write_id("match-words", verdict.map_or("no match", |verdict| verdict.words()));
    let draw_weight = app.evaluation.settled.number(Field::PeakDrawWeight);
    dom::write_id("match-sentence", &wording::match_sentence(&app.evaluation.numbers, draw_weight, &app.units));
    dom::write_id("mend", &wording::mend_sentence(&app.evaluation.settled, &app.evaluation.numbers, &app.units));
    for (id, outcome) in HEADLINES {
        write_big(id, &say(app, outcome));
    }
    dom::write_id("total-weight-beside", &say(app, Outcome::GrainsPerPound));
    dom::write_id("foc-beside", &format!("balance {}", say(app, Outcome::BalancePoint)));
    let how = if app.evaluation.is_measured(Outcome::LaunchSpeed) { "measured," } else { "at" };
    dom::write_id("launch-speed", &format!("{how} {}", say(app, Outcome::LaunchSpeed)));
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
        .numbers
        .get(Outcome::TotalWeight)
        .map_or_else(String::new, |mass| wording::measured(Quantity::Mass, mass, &other))
}

/// By how much each headline number moved.
fn show_moved(app: &App) {
    for (id, outcome) in HEADLINES {
        let moved = dom::by_id(id)
            .and_then(|output| output.closest("div").ok()?)
            .and_then(|cell| cell.query_selector(".moved").ok()?);
        let Some(moved) = moved else { continue };
        let quantity = outcome.row().quantity;
        let before = app.answers.rested.as_ref().and_then(|rested| rested.get(outcome));
        let by = app.evaluation.numbers.get(outcome).zip(before).map_or(0.0, |(now, before)| now - before);
        let words = wording::bare(quantity, by, &app.units);
        dom::write(&moved, &wording::signed(&words).unwrap_or_default());
    }
}

/// Where a field cannot be read, the answers stand as they were and say so.
pub(crate) fn show_stale(app: &App) {
    let bad: Vec<_> = app
        .drafts
        .0
        .iter()
        .filter_map(|(key, _)| Field::by_key(key))
        .filter(|&field| app.error_in(field).is_some())
        .collect();
    let shown: Vec<_> = bad.into_iter().filter(|&field| is_marked(field)).map(|field| field.input().label).collect();
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

fn is_marked(field: Field) -> bool {
    dom::by_id(field.input().key).is_some_and(|input| input.get_attribute("aria-invalid").as_deref() == Some("true"))
}

fn result_words(app: &App, outcome: Outcome) -> String {
    let out = app.evaluation.out_of_reach.iter().find(|out| out.outcome == outcome);
    match (out, outcome) {
        (Some(out), _) => {
            format!("none; nearest {}", wording::measured(outcome.row().quantity, out.nearest, &app.units))
        }
        (None, Outcome::TotalWeight) => format!("{} ({})", say(app, outcome), other_mass(app)),
        (None, _) if app.evaluation.is_measured(outcome) => format!("{} measured", say(app, outcome)),
        (None, _) => say(app, outcome),
    }
}

/// Fills the numbers that went into a result.
pub(crate) fn show_working(app: &App, details: &Element) {
    let key = details.get_attribute("data-result").unwrap_or_default();
    let Some(row) = OUTCOMES.iter().find(|row| row.key == key) else { return };
    for (_, term) in row.terms {
        let (key, words) = match *term {
            Term::Of(field) => (field.input().key, sentences::field_words(app, field)),
            Term::From(outcome) => (outcome.row().key, say(app, outcome)),
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
