//! The results in sentences: the arrow to order, where the speed comes from, what was given and what is a default, the
//! parts.

use crate::context::Reading;
use clothyard_core::eval::shaft_words;
use clothyard_core::schema::Field;
use clothyard_core::{Quantity, format};
use clothyard_web as dom;

pub(super) fn field_words(now: &Reading, field: Field) -> String {
    let value = now.all().resolved.value(field);
    value.map_or_else(|| "–".to_owned(), |value| format::value(field.input(), value, &now.units))
}

pub(super) fn show(now: &Reading) {
    let (all, units) = (now.all(), &now.units);
    let speed = all.model.as_ref().map(|model| format::speed_sentence(model, &all.outputs, units));
    dom::write_id("given", &format::given_sentence(&all.resolved, &now.setup.own_parts, units));
    dom::write_id("assumed", &format::assumed_sentence(&all.resolved, units));
    dom::write_id("order", &order(now));
    dom::write_id("stock-words", &all.recommendation_sentence(units));
    dom::write_id("target-words", format::target_sentence(&all.resolved));
    dom::write_id("speed-from", &speed.unwrap_or_default());
}

/// The arrow one would order.
fn order(now: &Reading) -> String {
    let all = now.all();
    let resolved = &all.resolved;
    let spine = format::spine_as_sold(resolved);
    let found = all.recommendation.as_ref().filter(|_| !resolved.is_user_given(Field::StaticSpine));
    let shaft = found.map_or(spine, |found| shaft_words(&found.shaft));
    let part = |field: Field| field_words(now, field);
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

/// Every part from the rear: its name, its weight and its place.
pub(super) fn parts(now: &Reading) -> Vec<Vec<String>> {
    let (all, units) = (now.all(), &now.units);
    let Some(model) = &all.model else { return Vec::new() };
    let parts = model.from_the_rear().into_iter().map(|(name, part)| {
        let (mass, place) = (Quantity::Mass.from_si(part.mass_kg), Quantity::Length.from_si(part.center_m));
        vec![
            format::part_label(name, &all.resolved, &now.setup.own_parts),
            format::entered_with_unit(Quantity::Mass, mass, units),
            format::measured(Quantity::Length, place, units),
        ]
    });
    parts.collect()
}
