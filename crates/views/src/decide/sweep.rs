//! One value along a range: any result against any input, as a chart, a table and a file.

use super::beside;
use crate::{ask, page, save};
use clothyard_dom as dom;
use clothyard_workbench::sweep::{Point, fifty_more_grains, honest_range, sweep, to_csv};
use clothyard_workbench::{Build, Evaluation, Field, Outcome, Quantity, Units, wording};
use std::cell::RefCell;
use wasm_bindgen::JsCast;
use web_sys::{Element, Event, KeyboardEvent, PointerEvent};

/// Points of the line.
const POINTS: usize = 101;
/// Every so many of them is a row of the table.
const ROWS_EVERY: usize = 5;
/// The chart's plot in pixels: its left and top, its bottom, and how far its right is from the edge.
const LEFT: f64 = 64.0;
const TOP: f64 = 15.0;
const BOTTOM: f64 = 260.0;
const MARGIN: f64 = 12.0;

/// What the chart shows now.
struct Shown {
    field: Field,
    outcome: Outcome,
    points: Vec<Point>,
    /// The same of the held set-up, if one is held.
    held: Vec<Point>,
    ends: (f64, f64),
    cursor: usize,
    width: f64,
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
    if let Some(chart) = dom::by_id("sweep-chart") {
        dom::listen(&chart, "keydown", on_key);
        dom::listen(&chart, "pointermove", on_pointer);
        dom::listen(&chart, "pointerdown", on_pointer);
    }
    ask::complete("sweep-result", ask::all_results());
    ask::complete("sweep-field", ask::all_fields());
    page::on_change(|_: Event| show());
    show();
}

fn show() {
    if !ask::is_open("sweep") {
        return;
    }
    let (Some(build), units) = (page::build(), page::units()) else { return };
    let (Some(field), Some(outcome)) = (ask::field("sweep-field"), ask::outcome(&ask::chosen("sweep-result"))) else {
        return;
    };
    let Some(quantity) = field.input().quantity() else { return };
    let all = Evaluation::of(&build);
    if RANGE_OF.replace(Some((field, units))) != Some((field, units))
        && let Some((from, to)) = honest_range(field, &all.settled)
    {
        ask::write("sweep-from", &wording::entered(quantity, from, &units));
        ask::write("sweep-to", &wording::entered(quantity, to, &units));
    }
    match points(&build, field, outcome, &units) {
        Ok(points) => {
            dom::write_id("sweep-said", "");
            let held =
                beside::held().and_then(|held| self::points(&held, field, outcome, &units).ok()).unwrap_or_default();
            draw(&all, field, outcome, (points, held), &units);
        }
        Err(why) => dom::write_id("sweep-said", &why),
    }
}

fn points(build: &Build, field: Field, outcome: Outcome, units: &Units) -> Result<Vec<Point>, String> {
    let quantity = field.input().quantity().unwrap_or(Quantity::Ratio);
    let end = |id: &str, label: &str| {
        let value = ask::number(&ask::text(id), label, quantity, units)?;
        let allowed = field.input().check(clothyard_workbench::Value::Number(value));
        allowed.map_err(|error| wording::entry_message(field.input(), &error, units))?;
        Ok::<f64, String>(value)
    };
    let (from, to) = (end("sweep-from", "From")?, end("sweep-to", "To")?);
    sweep(build, field, from, to, POINTS, &[outcome]).map_err(|_| "To must be more than from.".to_owned())
}

fn draw(all: &Evaluation, field: Field, outcome: Outcome, (points, held): (Vec<Point>, Vec<Point>), units: &Units) {
    let numbers = points.iter().chain(&held).filter_map(number_at);
    let (least, most) =
        numbers.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), number| (low.min(number), high.max(number)));
    let Some(marks) = dom::by_id("sweep-marks") else { return };
    dom::empty(&marks);
    let title = format!("{} against {}.", outcome.row().label, field.input().label.to_ascii_lowercase());
    dom::write_id("sweep-title", &title);
    if least > most {
        dom::write_id("sweep-words", "It has no number along this range.");
        SHOWN.set(None);
        return;
    }
    let width = chart_width();
    // A little room above and below, also where nothing changes.
    let room = ((most - least) * 0.08).max(most.abs() * 0.002).max(1e-6);
    let shown = Shown { field, outcome, ends: (least - room, most + room), cursor: 0, width, points, held };
    axes(&marks, &shown, units);
    // As side by side: the held set-up is A, solid, and the one on the page then B, dashed.
    let (class, letter) = if shown.held.is_empty() { ("a", "") } else { ("b", "B") };
    line(&marks, &shown, &shown.points, class, letter);
    line(&marks, &shown, &shown.held, "a", "A, held");
    stands(&marks, &shown, all);
    dom::write_id("sweep-words", &takeaway(&shown, units));
    table(&shown, units);
    let cursor = nearest(&shown, all.settled.number(field));
    SHOWN.set(Some(Shown { cursor, ..shown }));
    show_cursor(units);
}

/// The chart's width now; its drawing is in pixels, so that its words keep their size.
fn chart_width() -> f64 {
    let Some(chart) = dom::by_id("sweep-chart") else { return 700.0 };
    let width = chart.get_bounding_client_rect().width().max(280.0);
    dom::set(&chart, "viewBox", &format!("0 0 {} 300", wording::fixed(width, 0)));
    dom::set(&chart, "height", "300");
    width
}

impl Shown {
    fn first(&self) -> f64 {
        self.points.first().map_or(0.0, |point| point.value)
    }

    fn last(&self) -> f64 {
        self.points.last().map_or(1.0, |point| point.value)
    }

    fn x(&self, value: f64) -> f64 {
        LEFT + (self.right() - LEFT) * (value - self.first()) / (self.last() - self.first())
    }

    fn right(&self) -> f64 {
        self.width - MARGIN
    }

    fn y(&self, number: f64) -> f64 {
        BOTTOM - (BOTTOM - TOP) * (number - self.ends.0) / (self.ends.1 - self.ends.0)
    }

    fn number(&self, place: usize) -> Option<f64> {
        number_at(self.points.get(place)?)
    }

    fn field_words(&self, value: f64, units: &Units) -> String {
        self.field
            .input()
            .quantity()
            .map_or_else(String::new, |quantity| wording::entered_with_unit(quantity, value, units))
    }
}

/// A line of a chart, from one corner to another.
fn rule(parent: &Element, class: &str, from: (f64, f64), to: (f64, f64)) {
    let Some(line) = dom::add_shape(parent, "line") else { return };
    dom::set(&line, "class", class);
    for (name, value) in [("x1", from.0), ("y1", from.1), ("x2", to.0), ("y2", to.1)] {
        dom::set(&line, name, &wording::fixed(value, 1));
    }
}

fn words(parent: &Element, at: (f64, f64), anchor: &str, text: &str) {
    let Some(element) = dom::add_shape(parent, "text") else { return };
    dom::set(&element, "x", &wording::fixed(at.0, 1));
    dom::set(&element, "y", &wording::fixed(at.1, 1));
    dom::set(&element, "text-anchor", anchor);
    dom::write(&element, text);
}

/// Even lines each way, with their numbers.
fn axes(marks: &Element, shown: &Shown, units: &Units) {
    // Few on a phone: their words must not touch.
    let most = if shown.width < 500.0 { 2 } else { 4 };
    for place in 0..=most {
        let share = f64::from(place) / f64::from(most);
        let value = shown.first() + share * (shown.last() - shown.first());
        rule(marks, "grid", (shown.x(value), TOP), (shown.x(value), BOTTOM));
        words(
            marks,
            (shown.x(value), BOTTOM + 22.0),
            if place == most { "end" } else { "middle" },
            &shown.field_words(value, units),
        );
        let number = shown.ends.0 + share * (shown.ends.1 - shown.ends.0);
        rule(marks, "grid", (LEFT, shown.y(number)), (shown.right(), shown.y(number)));
        words(
            marks,
            (LEFT - 6.0, shown.y(number) + 5.0),
            "end",
            &wording::bare(shown.outcome.row().quantity, number, units),
        );
    }
}

fn number_at(point: &Point) -> Option<f64> {
    point.numbers.first().copied().flatten()
}

/// One line, with its letter at its end.
fn line(marks: &Element, shown: &Shown, points: &[Point], class: &str, letter: &str) {
    let at = |point: &Point| Some((shown.x(point.value), shown.y(number_at(point)?)));
    let places: Vec<_> = points.iter().filter_map(at).collect();
    let Some(&(x, y)) = places.last() else { return };
    let Some(line) = dom::add_shape(marks, "polyline") else { return };
    let words_of = |&(x, y): &(f64, f64)| wording::fixed(x, 1) + "," + &wording::fixed(y, 1);
    dom::set(&line, "class", class);
    dom::set(&line, "points", &places.iter().map(words_of).collect::<Vec<_>>().join(" "));
    words(marks, (x - 4.0, y - 6.0), "end", letter);
}

/// Where the set-up stands now.
fn stands(marks: &Element, shown: &Shown, all: &Evaluation) {
    let value = all.settled.number(shown.field);
    if (shown.first()..=shown.last()).contains(&value) {
        rule(marks, "stands", (shown.x(value), TOP), (shown.x(value), BOTTOM));
        words(marks, (shown.x(value) + 5.0, TOP + 14.0), "start", "now");
    }
}

fn takeaway(shown: &Shown, units: &Units) -> String {
    let ends = shown.number(0).zip(shown.number(shown.points.len().saturating_sub(1)));
    let Some((from, to)) = ends else { return "It has no number along part of this range.".to_owned() };
    let way = if to > from {
        "rises"
    } else if to < from {
        "falls"
    } else {
        "stays"
    };
    format!(
        "From {} to {} it {way} from {} to {}.",
        shown.field_words(shown.first(), units),
        shown.field_words(shown.last(), units),
        ask::said(shown.outcome, Some(from), units),
        ask::said(shown.outcome, Some(to), units)
    )
}

fn table(shown: &Shown, units: &Units) {
    let quantity = shown.field.input().quantity().unwrap_or(Quantity::Ratio);
    let result = ask::with_unit(shown.outcome.row().label, shown.outcome.row().quantity, units);
    let mut names = vec![ask::with_unit(shown.field.input().label, quantity, units)];
    if shown.held.is_empty() {
        names.push(result);
    } else {
        names.extend([format!("B: {result}"), format!("A, held: {result}")]);
    }
    ask::headings("sweep-table", &names);
    let Some(body) = ask::fresh_body("sweep-table") else { return };
    let said = |point: &Point| {
        let number = number_at(point).map(|number| wording::bare(shown.outcome.row().quantity, number, units));
        number.unwrap_or_else(|| "–".to_owned())
    };
    for (place, point) in shown.points.iter().enumerate().step_by(ROWS_EVERY) {
        let Some(row) = dom::add(&body, "tr", "", "") else { continue };
        dom::add(&row, "td", "", &wording::entered(quantity, point.value, units));
        dom::add(&row, "td", "", &said(point));
        if let Some(held) = shown.held.get(place) {
            dom::add(&row, "td", "", &said(held));
        }
    }
}

fn nearest(shown: &Shown, value: f64) -> usize {
    shown.points.partition_point(|point| point.value < value).min(shown.points.len().saturating_sub(1))
}

/// The cursor, and the numbers under it.
fn show_cursor(units: &Units) {
    SHOWN.with_borrow(|shown| {
        let (Some(shown), Some(group)) = (shown, dom::by_id("sweep-cursor")) else { return };
        dom::empty(&group);
        let Some(point) = shown.points.get(shown.cursor) else { return };
        rule(&group, "cursor", (shown.x(point.value), TOP), (shown.x(point.value), BOTTOM));
        let at = shown.field_words(point.value, units);
        dom::write_id(
            "sweep-at",
            &format!("At {at}: {}.", ask::said(shown.outcome, shown.number(shown.cursor), units)),
        );
    });
}

fn move_cursor(to: impl FnOnce(&Shown) -> usize) {
    SHOWN.with_borrow_mut(|shown| {
        if let Some(shown) = shown {
            shown.cursor = to(shown).min(shown.points.len().saturating_sub(1));
        }
    });
    show_cursor(&page::units());
}

fn on_key(event: Event) {
    let Some(key) = event.dyn_ref::<KeyboardEvent>() else { return };
    match key.key().as_str() {
        "ArrowRight" => move_cursor(|shown| shown.cursor + 1),
        "ArrowLeft" => move_cursor(|shown| shown.cursor.saturating_sub(1)),
        "Home" => move_cursor(|_| 0),
        "End" => move_cursor(|shown| shown.points.len()),
        _ => return,
    }
    event.prevent_default();
}

fn on_pointer(event: Event) {
    let (Some(pointer), Some(chart)) = (event.dyn_ref::<PointerEvent>(), dom::by_id("sweep-chart")) else { return };
    let place = chart.get_bounding_client_rect();
    let x = f64::from(pointer.client_x()) - place.left();
    move_cursor(|shown| {
        let share = ((x - LEFT) / (shown.right() - LEFT)).max(0.0);
        nearest(shown, shown.first() + share * (shown.last() - shown.first()))
    });
}

fn on_click(event: Event) {
    let target = event.target().and_then(|target| target.dyn_into::<Element>().ok());
    match target.map(|target| target.id()).as_deref() {
        Some("sweep-csv") => SHOWN.with_borrow(|shown| {
            if let Some(shown) = shown {
                let text = to_csv(shown.field, &[shown.outcome], &shown.points, &page::units());
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
    let (Some(build), units) = (page::build(), page::units()) else { return };
    let Ok(changes) = fifty_more_grains(&build) else {
        return dom::write_id("sweep-fifty-answer", "The point would be heavier than this page allows.");
    };
    let names = ["FOC", "the draw weight it suits best", "speed", "energy"];
    let list: Vec<_> = names
        .into_iter()
        .zip(&changes)
        .map(|(name, change)| {
            let (before, after) =
                (ask::said(change.outcome, change.before, &units), ask::said(change.outcome, change.after, &units));
            format!("{name} from {before} to {after}")
        })
        .collect();
    dom::write_id("sweep-fifty-answer", &format!("With 50 more grains of point: {}.", list.join("; ")));
}
