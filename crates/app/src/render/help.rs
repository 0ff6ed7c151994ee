//! Help on the active field: what it is, its default and its steps. One element for all fields.

use crate::state::App;
use clothyard_core::format;
use clothyard_core::schema::{DefaultRule, Field, Kind};
use clothyard_web as dom;

/// Shows the help of a field.
pub(crate) fn show(app: &App, field: Field) {
    let input = field.input();
    let row = dom::document()
        .and_then(|document| document.query_selector(&format!("[data-field=\"{}\"][data-hint]", input.key)).ok()?);
    let hint = row.and_then(|row| row.get_attribute("data-hint")).unwrap_or_default();
    dom::write_id("help-words", &format!("{hint} {}", default_words(app, field)));
    let Some(help) = dom::by_id("help") else { return };
    dom::set(&help, "data-field", input.key);
    dom::flag(&help, "hidden", false);
    follow(app);
}

/// The buttons follow what the field holds.
pub(crate) fn follow(app: &App) {
    let Some(help) = dom::by_id("help").filter(|help| !help.has_attribute("hidden")) else { return };
    let Some(field) = help.get_attribute("data-field").and_then(|key| Field::by_key(&key)) else { return };
    let input = field.input();
    let number = match input.kind {
        Kind::Number { minimum, .. } => Some(minimum),
        Kind::Choice(_) => None,
    };
    for (name, shown, words) in [
        ("less", number.is_some(), "less"),
        ("plus", number.is_some(), "more"),
        ("sign", number.is_some_and(|minimum| minimum < 0.0), "change the sign"),
        ("back", app.setup.get(field).is_some(), "use the default"),
    ] {
        if let Ok(Some(button)) = help.query_selector(&format!(".{name}")) {
            dom::flag(&button, "hidden", !shown);
            dom::set(&button, "aria-label", &format!("{}: {words}", input.label));
        }
    }
    show_meant(app, field);
}

/// Buttons for what a number can mean that is read in two ways.
fn show_meant(app: &App, field: Field) {
    let Some(list) = dom::by_id("help-meant") else { return };
    let meant = app.error_in(field).map_or_else(Vec::new, |error| format::meant(field.input(), &error, &app.units));
    // A button under a finger must stay the same one.
    if list.text_content().unwrap_or_default() == format::for_people(&meant.concat()) {
        return;
    }
    dom::empty(&list);
    for text in meant {
        let button = dom::add(&list, "button", "meant", &format::for_people(&text));
        button.iter().for_each(|button| {
            dom::set(button, "type", "button");
            dom::set(button, "data-meant", &text);
        });
    }
}

fn default_words(app: &App, field: Field) -> String {
    let input = field.input();
    match (input.default, input.kind) {
        (DefaultRule::Number(number), Kind::Number { quantity, .. }) => {
            format!("Default: {}.", format::entered_with_unit(quantity, number, &app.units))
        }
        (DefaultRule::Choice(place), Kind::Choice(list)) => {
            format!("Default: {}.", list.get(usize::from(place)).map_or("", |choice| choice.label))
        }
        (DefaultRule::Follows(what), _) => format!("Default: from {what}."),
        _ => String::new(),
    }
}

/// Hides the help once no field and none of its own buttons has the focus.
pub(crate) fn hide_if_left() {
    let in_hand =
        dom::document().and_then(|document| document.query_selector(".field :focus-visible, #help :focus").ok()?);
    if in_hand.is_none() {
        hide();
    }
}

/// No field is in hand.
pub(crate) fn hide() {
    dom::hide("help", true);
}
