//! What changes what: the effect of one step of each input, and how sure the results are.

use crate::{ask, page};
use clothyard_core::schema::Kind;
use clothyard_core::{Field, Output, Setup, Units, format};
use clothyard_studies::analysis::effects::{Effect, effects};
use clothyard_studies::analysis::ranges::ranges;
use clothyard_web as dom;
use std::cell::RefCell;
use web_sys::{Element, Event, HtmlInputElement};

/// The results looked at, in the order of the columns.
const RESULTS: [Output; 5] =
    [Output::IdealDrawWeight, Output::FrontOfCentre, Output::TotalWeight, Output::LaunchSpeed, Output::KineticEnergy];

/// Two standard uncertainties: nineteen in twenty.
const COVERAGE: f64 = 2.0;

thread_local! {
    /// The steps a person has changed, in the saved unit.
    static STEPS: RefCell<Vec<(Field, f64)>> = const { RefCell::new(Vec::new()) };
}

/// Starts the view; called once.
pub(super) fn start() {
    let Some(view) = dom::by_id("effects") else { return };
    dom::listen(&view, "toggle", |_: Event| show());
    dom::listen(&view, "change", on_change);
    page::on_change(|_: Event| show());
    show();
}

fn show() {
    if !ask::is_open("effects") {
        return;
    }
    let Some(now) = page::read() else { return };
    show_effects(&now.setup, &now.units);
    show_ranges(&now.setup, &now.units);
}

fn show_effects(setup: &Setup, units: &Units) {
    let by = ask::output(&ask::chosen("effects-by")).unwrap_or(Output::IdealDrawWeight);
    let mut names = vec!["Input".to_owned(), "One step".to_owned()];
    names.extend(RESULTS.map(|output| output.row().label.to_owned()));
    ask::headings("effects-table", &names);
    let Some(body) = ask::fresh_body("effects-table") else { return };
    let steps = STEPS.with_borrow(Clone::clone);
    let Ok(list) = effects(setup, &RESULTS, by, &steps) else { return };
    let column = RESULTS.iter().position(|&output| output == by).unwrap_or(0);
    let size = |effect: &Effect| effect.changes.get(column).copied().flatten().unwrap_or(0.0);
    let most = list.iter().map(|effect| size(effect).abs()).fold(0.0, f64::max);
    for effect in list.iter().filter(|effect| shows(effect, units)) {
        row(&body, effect, column, most, units);
    }
}

/// Whether any of an effect's changes is more than nought as shown.
fn shows(effect: &Effect, units: &Units) -> bool {
    effect.changes.iter().zip(RESULTS).any(|(&change, output)| {
        change.is_none_or(|change| format::change(output.row().quantity, change, units).starts_with(['+', '−']))
    })
}

fn row(body: &Element, effect: &Effect, column: usize, most: f64, units: &Units) {
    let Some(row) = dom::add(body, "tr", "", "") else { return };
    let input = effect.field.input();
    dom::add(&row, "th", "", input.label).iter().for_each(|cell| dom::set(cell, "scope", "row"));
    if let (Some(cell), Some(quantity)) = (dom::add(&row, "td", "", ""), input.quantity()) {
        if let Some(step) = dom::add(&cell, "input", "", "") {
            for (name, value) in [
                ("type", "text"),
                ("inputmode", "decimal"),
                ("data-step-of", input.key),
                ("aria-label", &format!("One step of {}", input.label)),
                ("aria-describedby", "effects-said"),
                ("value", &format::trimmed(units.show(quantity, effect.step), 4)),
            ] {
                dom::set(&step, name, value);
            }
        }
        dom::add(&cell, "span", "unit", &format!(" {}", units.of(quantity).symbol));
    }
    for (place, (&change, output)) in effect.changes.iter().zip(RESULTS).enumerate() {
        let words =
            change.map_or_else(|| "–".to_owned(), |change| format::change(output.row().quantity, change, units));
        let Some(cell) = dom::add(&row, "td", "", &words) else { continue };
        if place == column && most > 0.0 {
            bar(&cell, change.unwrap_or(0.0) / most);
        }
    }
}

/// A bar from the middle, to the right for more and to the left for less.
fn bar(cell: &Element, share: f64) {
    let Some(svg) = dom::add_shape(cell, "svg") else { return };
    for (name, value) in
        [("class", "bar"), ("viewBox", "-100 0 200 10"), ("preserveAspectRatio", "none"), ("aria-hidden", "true")]
    {
        dom::set(&svg, name, value);
    }
    if let Some(rect) = dom::add_shape(&svg, "rect") {
        let (from, width) = if share < 0.0 { (100.0 * share, -100.0 * share) } else { (0.0, 100.0 * share) };
        dom::set(&rect, "class", if share < 0.0 { "down" } else { "up" });
        for (name, value) in [("x", from), ("width", width), ("height", 10.0)] {
            dom::set(&rect, name, &format::fixed(value, 1));
        }
    }
}

fn show_ranges(setup: &Setup, units: &Units) {
    let Some(body) = ask::fresh_body("effects-sure") else { return };
    for range in ranges(setup, &RESULTS) {
        let Some(row) = dom::add(&body, "tr", "", "") else { continue };
        let output = range.output;
        dom::add(&row, "th", "", output.row().label).iter().for_each(|cell| dom::set(cell, "scope", "row"));
        dom::add(&row, "td", "", &ask::said(output, Some(range.number), units));
        dom::add(&row, "td", "", &format!("± {}", ask::said(output, Some(COVERAGE * range.standard), units)));
        let first = range.most_from.map_or("–", |field| field.input().label);
        dom::add(&row, "td", "", first);
    }
}

/// Another ranking, or another step.
fn on_change(event: Event) {
    let input = dom::target::<HtmlInputElement>(&event);
    let field = input.as_ref().and_then(|input| Field::by_key(&input.get_attribute("data-step-of")?));
    if let (Some(input), Some(field)) = (input, field) {
        let changed = step(field, &input.value());
        dom::set(&input, "aria-invalid", if changed.is_err() { "true" } else { "false" });
        if let Err(why) = changed {
            return dom::write_id("effects-said", &why);
        }
    }
    dom::write_id("effects-said", "");
    show();
}

/// Keeps a step a person has typed.
fn step(field: Field, text: &str) -> Result<(), String> {
    let input = field.input();
    let (Some(quantity), &Kind::Number { minimum, maximum, .. }) = (input.quantity(), &input.kind) else {
        return Err(format!("{} has no step.", input.label));
    };
    let units = page::units();
    let step = ask::number(text, &format!("One step of {}", input.label), quantity, &units)?;
    if step <= 0.0 || step > maximum - minimum {
        let most = format::entered_with_unit(quantity, maximum - minimum, &units);
        return Err(format!("One step of {}: more than nought, at most {most}.", input.label));
    }
    STEPS.with_borrow_mut(|steps| {
        steps.retain(|&(other, _)| other != field);
        steps.push((field, step));
    });
    Ok(())
}
