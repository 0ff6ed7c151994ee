//! Links from a label to its fields.

use clothyard_studies::diagram::plan::{Goal, Label};
use clothyard_web as dom;
use wasm_bindgen::JsCast;
use web_sys::{Element, HtmlElement, HtmlInputElement};

/// The group of a part of the user's own.
const OWN: &str = "own";

/// Makes a label's link lead to its fields.
pub(super) fn lead(link: &Element, label: &Label) {
    let group = label.group.map_or(OWN, |group| group.key());
    let (id, href) = match label.goal {
        Goal::Field(field) => (field.input().key.to_owned(), field.input().key),
        Goal::Own(place) => {
            dom::set(link, "data-place", &place.to_string());
            (format!("{OWN}-{place}"), "group-own")
        }
    };
    dom::set(link, "id", &format!("plan-{id}"));
    dom::set(link, "href", &format!("#{href}"));
    dom::set(link, "data-group", group);
    dom::set(link, "aria-label", &format!("Edit {}", label.full));
}

/// From a label to its field, opening what it is folded away in.
pub(super) fn follow(link: &Element) {
    let Some(document) = dom::document() else { return };
    let field = match link.get_attribute("data-place").and_then(|place| place.parse::<u8>().ok()) {
        Some(place) => {
            let row = u16::from(place) + 1;
            document.query_selector(&format!("#own-parts tbody tr:nth-child({row}) input")).ok().flatten()
        }
        None => dom::by_id(link.get_attribute("href").unwrap_or_default().trim_start_matches('#')),
    };
    let Some(field) = field.and_then(|field| field.dyn_into::<HtmlElement>().ok()) else { return };
    let mut inside = field.parent_element();
    while let Some(details) = inside.and_then(|element| element.closest("details").ok()?) {
        dom::flag(&details, "open", true);
        inside = details.parent_element();
    }
    // With its label, which is above it.
    field.closest(".field").ok().flatten().unwrap_or_else(|| field.clone().into()).scroll_into_view();
    let _ = field.focus();
    if let Some(input) = field.dyn_ref::<HtmlInputElement>() {
        input.select();
    }
}

fn focused() -> Option<Element> {
    dom::document()?.active_element()
}

/// The label that has the focus, by its id.
pub(super) fn hand_in(labels: &Element) -> Option<String> {
    focused().filter(|element| labels.contains(Some(element))).map(|element| element.id())
}
