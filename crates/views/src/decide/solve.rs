//! Solve for one value: a result locked, one input moved.

use crate::{ask, page};
use clothyard_core::{Evaluation, Field, Output, Setup, Units, format};
use clothyard_studies::analysis::solve::{Answer, solve};
use clothyard_web as dom;
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
    let (setup, units) = (&now.setup, now.units);
    let output = ask::output(&ask::chosen("solve-result"));
    dom::hide("solve-target-row", output.is_none());
    if let Some(output) = output {
        dom::write_id("solve-unit", units.of(output.row().quantity).symbol);
    }
    FOUND.set(None);
    let (answer, error) = match answer(setup, output, &units) {
        Ok(answer) => (answer, String::new()),
        Err(error) => (String::new(), error),
    };
    dom::write_id("solve-answer", &answer);
    dom::write_id("solve-said", &error);
    dom::hide("solve-load", FOUND.get().is_none());
}

fn answer(setup: &Setup, output: Option<Output>, units: &Units) -> Result<String, String> {
    let field = ask::field("solve-field").ok_or("Choose an input to move.")?;
    let (asked, target) = match output {
        Some(output) if ask::text("solve-target").trim().is_empty() => {
            return Err(format!("Say what {} is to be.", output.row().label));
        }
        Some(output) => {
            let row = output.row();
            (output, ask::number(&ask::text("solve-target"), row.label, row.quantity, units)?)
        }
        None => (Output::ColumnLoad, target_load(setup)?),
    };
    let label = field.input().label;
    let of_field = |value: f64| {
        field.input().quantity().map_or_else(String::new, |quantity| format::measured(quantity, value, units))
    };
    let wanted = if output.is_some() { ask::said(asked, Some(target), units) } else { "a dead-on match".to_owned() };
    match solve(setup, asked, target, field) {
        Ok(Answer::At(value)) => {
            FOUND.set(Some((field, value)));
            Ok(format!("{label} {} gives {wanted}.", of_field(value)))
        }
        Ok(Answer::OutOfReach { nearest, result }) => {
            FOUND.set(Some((field, nearest)));
            let best = if output.is_some() {
                ask::said(asked, Some(result), units)
            } else {
                format!(
                    "a column load {} of its target",
                    format::measured(clothyard_core::Quantity::Percent, 100.0 * result / target, units)
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
fn target_load(setup: &Setup) -> Result<f64, String> {
    let outputs = Evaluation::outputs_alone(setup).ok();
    outputs
        .and_then(|outputs| outputs.get(Output::TargetLoad))
        .ok_or_else(|| "This set-up has no match: see the cautions.".to_owned())
}

/// The fields of the shaft, which the page would propose anew once the answer is on the arrow.
const SHAFT: [Field; 5] =
    [Field::StaticSpine, Field::CutLength, Field::ShaftLinearMass, Field::OuterDiameter, Field::Bore];

/// Puts the answer on the arrow, with the shaft it was worked out for.
fn load() {
    let (Some((field, value)), Some(now)) = (FOUND.get(), page::read()) else { return };
    let (mut setup, resolved) = (now.setup.clone(), &now.all().resolved);
    for shaft in SHAFT {
        // A weighed bare shaft gives its weight for its length already.
        let weighed =
            shaft == Field::ShaftLinearMass && resolved.given(Field::BareShaft).is_some() && field != Field::CutLength;
        if !weighed && let Some(held) = resolved.value(shaft) {
            let _ = setup.set(shaft, Some(held));
        }
    }
    if let Ok(setup) = setup.with(field, value) {
        page::load(&setup);
    }
}
