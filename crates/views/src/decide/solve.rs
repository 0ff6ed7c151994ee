//! Solve for one value: a result locked, one input moved.

use crate::{ask, page};
use clothyard_dom as dom;
use clothyard_workbench::choose::solve::{Answer, solve};
use clothyard_workbench::{Build, Evaluation, Field, Outcome, Units, wording};
use std::cell::Cell;
use web_sys::Event;

thread_local! {
    /// The answer last shown, for the button that loads it.
    static FOUND: Cell<Option<(Field, f64)>> = const { Cell::new(None) };
}

/// Starts the view; called once.
pub(super) fn start() {
    let Some(view) = dom::by_id("solve") else { return };
    for kind in ["toggle", "input", "change"] {
        dom::listen(&view, kind, |_: Event| show());
    }
    if let Some(button) = dom::by_id("solve-load") {
        dom::listen(&button, "click", |_: Event| load());
    }
    ask::complete("solve-result", ask::all_results());
    ask::complete("solve-field", ask::all_fields());
    page::on_change(|_: Event| show());
    show();
}

/// Works out the answer and says it.
fn show() {
    if !ask::is_open("solve") {
        return;
    }
    let Some(now) = page::read() else { return };
    let (build, units) = (&now.build, now.units);
    let outcome = ask::outcome(&ask::chosen("solve-result"));
    dom::hide("solve-target-row", outcome.is_none());
    if let Some(outcome) = outcome {
        dom::write_id("solve-unit", units.of(outcome.row().quantity).symbol);
    }
    FOUND.set(None);
    let (answer, error) = match answer(build, outcome, &units) {
        Ok(answer) => (answer, String::new()),
        Err(error) => (String::new(), error),
    };
    dom::write_id("solve-answer", &answer);
    dom::write_id("solve-said", &error);
    dom::hide("solve-load", FOUND.get().is_none());
}

fn answer(build: &Build, outcome: Option<Outcome>, units: &Units) -> Result<String, String> {
    let field = ask::field("solve-field").ok_or("Choose an input to move.")?;
    let (asked, target) = match outcome {
        Some(outcome) if ask::text("solve-target").trim().is_empty() => {
            return Err(format!("Say what {} is to be.", outcome.row().label));
        }
        Some(outcome) => {
            let row = outcome.row();
            (outcome, ask::number(&ask::text("solve-target"), row.label, row.quantity, units)?)
        }
        None => (Outcome::ColumnLoad, target_load(build)?),
    };
    let label = field.input().label;
    let of_field = |value: f64| {
        field.input().quantity().map_or_else(String::new, |quantity| wording::measured(quantity, value, units))
    };
    let wanted = if outcome.is_some() { ask::said(asked, Some(target), units) } else { "a dead-on match".to_owned() };
    match solve(build, asked, target, field) {
        Ok(Answer::At(value)) => {
            FOUND.set(Some((field, value)));
            Ok(format!("{label} {} gives {wanted}.", of_field(value)))
        }
        Ok(Answer::OutOfReach { nearest, result }) => {
            FOUND.set(Some((field, nearest)));
            let best = if outcome.is_some() {
                ask::said(asked, Some(result), units)
            } else {
                format!(
                    "a column load {} of its target",
                    wording::measured(clothyard_workbench::Quantity::Percent, 100.0 * result / target, units)
                )
            };
            Ok(format!(
                "{wanted} cannot be reached by {}: best is {best}, at {}.",
                label.to_ascii_lowercase(),
                of_field(nearest)
            ))
        }
        Err(_) => Err(format!("{} has no number on this set-up: see the cautions.", asked.row().label)),
    }
}

/// The column load at which this bow's arrows match.
fn target_load(build: &Build) -> Result<f64, String> {
    let numbers = Evaluation::numbers_alone(build).ok();
    numbers
        .and_then(|numbers| numbers.get(Outcome::TargetLoad))
        .ok_or_else(|| "This set-up has no match: see the cautions.".to_owned())
}

/// The fields of the shaft, which the page would propose anew once the answer is on the arrow.
const SHAFT: [Field; 5] =
    [Field::StaticSpine, Field::CutLength, Field::ShaftLinearMass, Field::OuterDiameter, Field::Bore];

/// Puts the answer on the arrow, with the shaft it was worked out for.
fn load() {
    let (Some((field, value)), Some(now)) = (FOUND.get(), page::read()) else { return };
    let (mut build, settled) = (now.build.clone(), &now.all().settled);
    for shaft in SHAFT {
        // A weighed bare shaft gives its weight for its length already.
        let weighed =
            shaft == Field::ShaftLinearMass && settled.given(Field::BareShaft).is_some() && field != Field::CutLength;
        if !weighed && let Some(held) = settled.value(shaft) {
            let _ = build.set(shaft, Some(held));
        }
    }
    if let Ok(build) = build.with(field, value) {
        page::load(&build);
    }
}
