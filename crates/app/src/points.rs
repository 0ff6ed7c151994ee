//! The weights beside the point's field: of the points that the user has saved, where there are any.

use crate::state::App;
use clothyard_core::eval::glance::point_choices;
use clothyard_core::format;
use clothyard_core::plain::{FromPlain, Node, Plain};
use clothyard_core::report::ErrorReport;
use clothyard_core::schema::Field;
use clothyard_web as dom;
use clothyard_web::protocol::storage;
use clothyard_web::{plain, store};
use web_sys::{Element, HtmlInputElement};

/// The weights of the saved points, in grains. The tools read and write the rest of what is saved with them.
#[derive(Default)]
struct Saved(Vec<f64>);

impl FromPlain for Saved {
    fn from_plain<P: Plain>(node: &Node<P>) -> Result<Self, ErrorReport> {
        let mut weights = Vec::new();
        for part in node.object()?.require("drawer")?.items()? {
            let mut part = part.object()?;
            if part.read::<String>("kind")? == "point" {
                let weight = part.require("inputs")?.object()?.read_or_default::<Option<f64>>("pointGr")?;
                weight.into_iter().for_each(|weight| insert(&mut weights, weight));
            }
        }
        Ok(Self(weights))
    }
}

/// Inserts a weight in order, once. The library's sort would weigh 1.5 KB.
fn insert(weights: &mut Vec<f64>, weight: f64) {
    let place = weights.iter().take_while(|&&each| each < weight).count();
    if weights.get(place) != Some(&weight) {
        weights.insert(place, weight);
    }
}

/// The weights of the saved points; none where nothing is saved, or nothing that can be read.
pub(crate) fn saved() -> Vec<f64> {
    let text = store::get(storage::LIBRARY).unwrap_or_default();
    plain::from_json::<Saved>(&text).unwrap_or_default().0
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
