//! The answers in sentences: the arrow to order, where the speed comes from, what was given, the
//! defaults, the parts, the warnings.

use crate::state::App;
use clothyard_core::eval::{Warning, shaft_words};
use clothyard_core::schema::Field;
use clothyard_core::{Quantity, format};
use clothyard_web as dom;
use clothyard_web::widgets::list;

pub(crate) fn field_words(app: &App, field: Field) -> String {
    app.evaluation
        .resolved
        .value(field)
        .map_or_else(|| "–".to_owned(), |value| format::value(field.input(), value, &app.units))
}

pub(crate) fn show(app: &App) {
    dom::write_id("given", &format::given_sentence(&app.evaluation.resolved, &app.setup.own_parts, &app.units));
    dom::write_id("assumed", &format::assumed_sentence(&app.evaluation.resolved, &app.units));
    dom::write_id("order", &order(app));
    dom::write_id("stock-words", &stock_words(app));
    dom::write_id("target-words", format::target_sentence(&app.evaluation.resolved));
    let all = &app.evaluation;
    let speed = all.model.as_ref().map(|model| format::speed_sentence(model, &all.outputs, &app.units));
    dom::write_id("speed-from", &speed.unwrap_or_default());
    show_parts(app);
}

/// The arrow one would order.
fn order(app: &App) -> String {
    let all = &app.evaluation;
    let resolved = &all.resolved;
    let spine = format::spine(resolved.number(Field::StaticSpine));
    let found = all.recommendation.as_ref().filter(|_| !resolved.is_user_given(Field::StaticSpine));
    let shaft = found.map_or(spine, |found| shaft_words(&found.shaft));
    let part = |field: Field| field_words(app, field);
    let holder = part(Field::InsertKind).to_ascii_lowercase();
    let vanes = if resolved.number(Field::VaneCount) > 0.0 {
        format!("{} vanes of {}", part(Field::VaneCount), part(Field::VaneMass))
    } else {
        "no vanes".to_owned()
    };
    format!(
        "{shaft}, cut {}; {holder} {}, point {}; {vanes}.",
        part(Field::CutLength),
        part(Field::InsertMass),
        part(Field::PointMass)
    )
}

fn stock_words(app: &App) -> String {
    app.evaluation.recommendation_sentence(&app.units)
}

pub(crate) fn show_parts(app: &App) {
    let body = dom::by_id("parts").and_then(|table| table.query_selector("tbody").ok()?);
    let Some(body) = body else { return };
    let open = body.closest("details").ok().flatten().is_some_and(|details| details.has_attribute("open"));
    if !open {
        return;
    }
    dom::empty(&body);
    let Some(model) = &app.evaluation.model else { return };
    for (name, part) in model.from_the_rear() {
        let Some(row) = dom::add(&body, "tr", "", "") else { continue };
        dom::add(&row, "td", "", &format::part_label(name, &app.evaluation.resolved, &app.setup.own_parts));
        let mass = format::entered_with_unit(Quantity::Mass, Quantity::Mass.from_si(part.mass_kg), &app.units);
        dom::add(&row, "td", "", &mass);
        dom::add(
            &row,
            "td",
            "",
            &format::measured(Quantity::Length, Quantity::Length.from_si(part.center_m), &app.units),
        );
    }
}

pub(crate) fn show_cautions(app: &App) {
    let sentence = |warning: &Warning| format!("{}: {}", warning.severity().word(), warning.sentence(&app.units));
    let warnings = &app.evaluation.warnings;
    list::lines("caution-list", &warnings.iter().map(sentence).collect::<Vec<_>>());
    dom::hide("cautions", warnings.is_empty());
}
