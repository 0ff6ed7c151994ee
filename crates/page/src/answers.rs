//! The answers: the four headlines, every result with its working, the cautions and the sentences.

use crate::app::App;
use clothyard_dom as dom;
use clothyard_workbench::cautions::{ALWAYS, Caution, Weight};
use clothyard_workbench::inputs::Field;
use clothyard_workbench::numbers::Numbers;
use clothyard_workbench::outcome::{OUTCOMES, Outcome, Term};
use clothyard_workbench::setup::{PartName, SpeedFrom};
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
    fn announce(&mut self, words: String) {
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

fn say(app: &App, outcome: Outcome) -> String {
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
    show_sentences(app);
    show_cautions(app);
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
    let mends = wording::mends(&app.evaluation.numbers, &app.units);
    let mend =
        if mends.is_empty() { String::new() } else { format!("Dead on with one change: {}.", mends.join(", or ")) };
    dom::write_id("mend", &mend);
    for (id, outcome) in HEADLINES {
        write_big(id, &say(app, outcome));
    }
    dom::write_id("total-weight-beside", &say(app, Outcome::GrainsPerPound));
    dom::write_id("foc-beside", &format!("balance {}", say(app, Outcome::BalancePoint)));
    dom::write_id("launch-speed", &format!("at {}", say(app, Outcome::LaunchSpeed)));
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
        let nothing = words.bytes().all(|byte| !(b'1'..=b'9').contains(&byte));
        dom::write(
            &moved,
            &if nothing {
                String::new()
            } else if by > 0.0 {
                format!("+{words}")
            } else {
                words.replace('-', "−")
            },
        );
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
        (None, _) => say(app, outcome),
    }
}

/// Fills the numbers that went into a result.
pub(crate) fn show_working(app: &App, details: &Element) {
    let key = details.get_attribute("data-result").unwrap_or_default();
    let Some(row) = OUTCOMES.iter().find(|row| row.key == key) else { return };
    for (_, term) in row.terms {
        let (key, words) = match *term {
            Term::Of(field) => (field.input().key, field_words(app, field)),
            Term::From(outcome) => (outcome.row().key, say(app, outcome)),
        };
        if let Ok(Some(cell)) = details.query_selector(&format!("[data-term=\"{key}\"]")) {
            dom::write(&cell, &words);
        }
    }
}

fn field_words(app: &App, field: Field) -> String {
    app.evaluation
        .settled
        .value(field)
        .map_or_else(|| "–".to_owned(), |value| wording::value(field.input(), value, &app.units))
}

fn show_sentences(app: &App) {
    dom::write_id("given", &wording::given_sentence(&app.evaluation.settled, &app.units));
    dom::write_id("assumed", &wording::assumed_sentence(&app.evaluation.settled, &app.units));
    dom::write_id("order", &order(app));
    dom::write_id("stock-words", &stock_words(app));
    dom::write_id("speed-from", &speed_words(app));
    show_parts(app);
}

/// The arrow one would order.
fn order(app: &App) -> String {
    let all = &app.evaluation;
    let settled = &all.settled;
    let spine = settled.number(Field::StaticSpine);
    let name = all.nearest.as_ref().filter(|_| !settled.is_mine(Field::StaticSpine));
    let shaft = name.map_or_else(
        || format!("a shaft of spine {}", wording::trimmed(spine, 1)),
        |shaft| format!("{} (spine {})", shaft.name, wording::trimmed(spine, 1)),
    );
    let part = |field: Field| field_words(app, field);
    format!(
        "This arrow: {shaft}, cut to {}; insert {}, point {}; {} vanes of {}.",
        part(Field::CutLength),
        part(Field::InsertMass),
        part(Field::PointMass),
        part(Field::VaneCount),
        part(Field::VaneMass)
    )
}

fn stock_words(app: &App) -> String {
    let all = &app.evaluation;
    let (Some(nearest), Some(ideal)) = (&all.nearest, all.numbers.get(Outcome::IdealSpine)) else {
        return String::new();
    };
    let ideal = wording::fixed(ideal, 0);
    match all.verge {
        Some((stiffer, weaker)) => format!(
            "The ideal spine, {ideal}, lies about midway between {} and {}: either can be tuned, and on a compound the let-off may tip it. Nearest in your list: {}.",
            wording::trimmed(stiffer, 1),
            wording::trimmed(weaker, 1),
            nearest.name
        ),
        None => format!("The ideal spine is {ideal}; nearest in your list: {}.", nearest.name),
    }
}

fn speed_words(app: &App) -> String {
    let Some(setup) = &app.evaluation.setup else { return String::new() };
    let from = match setup.speed_from {
        SpeedFrom::BowKind => "from the kind of bow alone: give a rated speed, or better a chronograph reading",
        SpeedFrom::RatedSpeed => "from the speed its maker states",
        SpeedFrom::Chronograph => "from your chronograph",
    };
    format!("The speed is {from}; it may be off by {} either way.", say(app, Outcome::SpeedSpread))
}

fn part_label(app: &App, name: PartName) -> String {
    match name {
        PartName::Nock => "Nock".to_owned(),
        PartName::Bushing => "Bushing".to_owned(),
        PartName::Vanes => "Vanes".to_owned(),
        PartName::Wrap => "Wrap".to_owned(),
        PartName::RearGlue => "Glue under the vanes".to_owned(),
        PartName::Shaft => "Bare shaft".to_owned(),
        PartName::Insert => field_words(app, Field::InsertKind).split(',').next().unwrap_or_default().to_owned(),
        PartName::Collar => "Collar".to_owned(),
        PartName::Sleeve => "Front sleeve".to_owned(),
        PartName::FrontGlue => "Glue at the insert".to_owned(),
        PartName::Point => "Point".to_owned(),
        PartName::Own(place) => {
            let name = app.build.own_parts.get(usize::from(place)).map(|part| part.name.clone()).unwrap_or_default();
            if name.is_empty() { format!("Part {} of your own", place + 1) } else { name }
        }
    }
}

fn show_parts(app: &App) {
    let body = dom::by_id("parts").and_then(|table| table.query_selector("tbody").ok()?);
    let (Some(body), Some(setup)) = (body, &app.evaluation.setup) else { return };
    let open = body.closest("details").ok().flatten().is_some_and(|details| details.has_attribute("open"));
    if !open {
        return;
    }
    dom::empty(&body);
    for (name, part) in setup.from_the_rear() {
        let Some(row) = dom::add(&body, "tr", "", "") else { continue };
        dom::add(&row, "td", "", &part_label(app, name));
        let mass = wording::entered_with_unit(Quantity::Mass, Quantity::Mass.from_si(part.mass_kg), &app.units);
        dom::add(&row, "td", "", &mass);
        dom::add(
            &row,
            "td",
            "",
            &wording::measured(Quantity::Length, Quantity::Length.from_si(part.centre_m), &app.units),
        );
    }
}

fn show_cautions(app: &App) {
    let sentence = |caution: &Caution| format!("{}: {}", caution.weight().word(), caution.sentence(&app.units));
    let cautions = &app.evaluation.cautions;
    let loud = cautions.iter().filter(|caution| {
        caution.weight() == Weight::Danger
            || matches!(
                caution,
                Caution::NoStroke { .. }
                    | Caution::BoreTooWide { .. }
                    | Caution::EnergyBeyondBelief
                    | Caution::NoAnswer
            )
    });
    fill("dangers", &loud.map(sentence).collect::<Vec<_>>());
    fill("caution-list", &cautions.iter().map(sentence).collect::<Vec<_>>());
    dom::hide("cautions", cautions.is_empty());
}

/// Makes a list hold just these lines, touching it only where they differ.
fn fill(id: &str, lines: &[String]) {
    let Some(list) = dom::by_id(id) else { return };
    let joined = lines.concat();
    if list.text_content().unwrap_or_default() == joined {
        return;
    }
    dom::empty(&list);
    for line in lines {
        dom::add(&list, "li", "", line);
    }
}

/// An answer has been opened, and is filled, or closed.
pub(crate) fn toggled(app: &App, details: &Element, open: bool) {
    if let Some(result) = app.answers.results.iter().find(|result| result.details == *details) {
        result.open.set(open);
    }
    if open {
        show_working(app, details);
        show_parts(app);
    }
}
