//! The weights beside the point's field: of the points that the user has saved, where there are any.

use crate::state::App;
use clothyard_core::eval::glance::point_choices;
use clothyard_core::schema::{Field, Value};
use clothyard_core::{Units, format};
use clothyard_web as dom;
use clothyard_web::protocol::storage;
use clothyard_web::store;
use web_sys::{Element, HtmlInputElement};

/// The weights of the saved points, which the tools note for this screen.
pub(crate) fn saved() -> Vec<f64> {
    let text = store::get(storage::POINTS).unwrap_or_default();
    let weight = |number: &str| match Field::PointMass.input().read(number, &Units::ARCHERY) {
        Ok(Some(Value::Number(weight))) => Some(weight),
        _ => None,
    };
    text.split(' ').filter_map(weight).collect()
}

/// Shows the weights to choose from, and which of them is on the arrow.
pub(crate) fn show(app: &mut App) {
    let now = app.evaluation.resolved.number(Field::PointMass);
    app.points_shown = point_choices(now, &app.own_points, &app.points_shown);
    let Some(group) = dom::by_id("point-chips") else { return };
    dom::class(&group, "mine", app.setup.get(Field::PointMass).is_some());
    let chips = group.children();
    for place in 0..chips.length() {
        let weight = app.points_shown.get(place as usize);
        if let Some(chip) = chips.item(place) {
            dom::flag(&chip, "hidden", weight.is_none());
            show_chip(&chip, &format::trimmed(weight.copied().unwrap_or_default(), 3), weight == Some(&now));
        }
    }
}

fn show_chip(chip: &Element, weight: &str, chosen: bool) {
    let radio = chip.first_element_child();
    if let Some(radio) = radio.as_ref().and_then(|radio| wasm_bindgen::JsCast::dyn_ref::<HtmlInputElement>(radio)) {
        radio.set_value(weight);
        radio.set_checked(chosen);
        dom::set(radio, "aria-label", &format!("{} grains", format::for_people(weight)));
    }
    chip.last_element_child().iter().for_each(|words| dom::write(words, &format::for_people(weight)));
}
