//! One value along a range: any result against any input, as a chart, a table and a file.

use crate::chart::{self, Axis, Chart};
use crate::{ask, page, save};
use clothyard_core::{Evaluation, Field, Output, Quantity, Setup, Units, format};
use clothyard_studies::analysis::sweep::{Point, fifty_more_grains, honest_range, sweep, to_csv};
use clothyard_web as dom;
use std::cell::RefCell;
use web_sys::{Element, Event};

/// Points of the line.
const POINTS: usize = 101;

/// What the chart shows now, for the file.
struct Shown {
    field: Field,
    output: Output,
    points: Vec<Point>,
}

thread_local! {
    static SHOWN: RefCell<Option<Shown>> = const { RefCell::new(None) };
    /// The input whose range stands in the fields.
    static RANGE_OF: RefCell<Option<(Field, Units)>> = const { RefCell::new(None) };
}

/// Starts the view; called once.
pub(super) fn start() {
    let Some(view) = dom::by_id("sweep") else { return };
    for kind in ["toggle", "input", "change"] {
        dom::listen(&view, kind, |_: Event| show());
    }
    dom::listen(&view, "click", on_click);
    chart::start("sweep");
    ask::complete("sweep-result", ask::all_results());
    ask::complete("sweep-field", ask::all_fields());
    page::on_change(|_: Event| show());
    show();
}

fn show() {
    if !ask::is_open("sweep") {
        return;
    }
    let Some(now) = page::read() else { return };
    let (setup, units, all) = (&now.setup, now.units, now.all());
    let (Some(field), Some(output)) = (ask::field("sweep-field"), ask::output(&ask::chosen("sweep-result"))) else {
        return;
    };
    let Some(quantity) = field.input().quantity() else { return };
    if RANGE_OF.replace(Some((field, units))) != Some((field, units))
        && let Some((from, to)) = honest_range(field, &all.resolved)
    {
        ask::write("sweep-from", &format::entered(quantity, from, &units));
        ask::write("sweep-to", &format::entered(quantity, to, &units));
    }
    match points(setup, field, output, &units) {
        Ok(points) => {
            dom::write_id("sweep-said", "");
            let held =
                page::held().and_then(|held| self::points(&held.setup, field, output, &units).ok()).unwrap_or_default();
            draw(all, field, output, (points, held), &units);
        }
        Err(why) => dom::write_id("sweep-said", &why),
    }
}

fn points(setup: &Setup, field: Field, output: Output, units: &Units) -> Result<Vec<Point>, String> {
    let quantity = field.input().quantity().unwrap_or(Quantity::Ratio);
    let end = |id: &str, label: &str| {
        let value = ask::number(&ask::text(id), label, quantity, units)?;
        let allowed = field.input().check(clothyard_core::Value::Number(value));
        allowed.map_err(|error| format::entry_message(field.input(), &error, units))?;
        Ok::<f64, String>(value)
    };
    let (from, to) = (end("sweep-from", "From")?, end("sweep-to", "To")?);
    sweep(setup, field, from, to, POINTS, &[output]).map_err(|_| "To must be more than from.".to_owned())
}

fn draw(all: &Evaluation, field: Field, output: Output, (points, held): (Vec<Point>, Vec<Point>), units: &Units) {
    let mut chart = Chart {
        title: format!("{} against {}.", output.row().label, field.input().label.to_ascii_lowercase()),
        takeaway: String::new(),
        x: Axis::of_field(field),
        y: Axis::of_result(output),
        units: *units,
        series: chart::lines(line(&points), Some(line(&held))),
        now: Some(all.resolved.number(field)),
        reading: Box::new(Chart::at_words),
    };
    chart.takeaway = chart.end_to_end();
    SHOWN.set(chart::show("sweep", chart).then_some(Shown { field, output, points }));
}

fn line(points: &[Point]) -> chart::Points {
    points.iter().map(|point| (point.value, point.outputs.first().copied().flatten())).collect()
}

fn on_click(event: Event) {
    match dom::target::<Element>(&event).map(|target| target.id()).as_deref() {
        Some("sweep-csv") => SHOWN.with_borrow(|shown| {
            if let Some(shown) = shown {
                let text = to_csv(shown.field, &[shown.output], &shown.points, &page::units());
                if save::file("clothyard-range.csv", "text/csv", &text).is_none() {
                    dom::write_id("sweep-said", "This browser would not write a file.");
                }
            }
        }),
        Some("sweep-fifty") => fifty(),
        _ => {}
    }
}

/// The coach's question, answered in a sentence.
fn fifty() {
    let Some(now) = page::read() else { return };
    let Ok(changes) = fifty_more_grains(&now.setup) else {
        return dom::write_id("sweep-fifty-answer", "The point would be heavier than this page allows.");
    };
    let names = ["FOC", "the draw weight it suits best", "speed", "energy"];
    let list: Vec<_> = names
        .into_iter()
        .zip(&changes)
        .map(|(name, change)| {
            let (before, after) = (
                ask::said(change.output, change.before, &now.units),
                ask::said(change.output, change.after, &now.units),
            );
            format!("{name} from {before} to {after}")
        })
        .collect();
    dom::write_id("sweep-fifty-answer", &format!("With 50 more grains of point: {}.", list.join("; ")));
}
