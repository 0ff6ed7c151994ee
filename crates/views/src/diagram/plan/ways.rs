//! The ways from a label to its fields and back.

use clothyard_studies::diagram::plan::{Goal, Label};
use clothyard_web::widgets::field;
use clothyard_web::{self as dom, Dom};
use wasm_bindgen::JsCast;
use web_sys::{Element, HtmlElement, HtmlInputElement};

/// The groups of fields that something on the drawing belongs to.
const GROUPS: [&str; 7] = ["bow", "nock", "vanes", "shaft", "front", "point", "own"];
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
    // With its label, which stands above it.
    field.closest(".field").ok().flatten().unwrap_or_else(|| field.clone().into()).scroll_into_view();
    let _ = field.focus();
    if let Some(input) = field.dyn_ref::<HtmlInputElement>() {
        input.select();
    }
}

/// Puts a way back under every group of fields while the drawing is open, and takes it away with it.
pub(super) fn offer_back(open: bool) {
    for group in GROUPS {
        let Some(fields) = dom::by_id(&format!("group-{group}")) else { continue };
        let there = fields.query_selector(".to-plan").ok().flatten();
        match there {
            Some(way) if !open => way.remove(),
            None if open => {
                let link =
                    dom::add(&fields, "p", "to-plan", "").and_then(|way| dom::add(&way, "a", "", "Show on drawing"));
                if let Some(link) = link {
                    dom::set(&link, "href", "#plan");
                    dom::set(&link, "aria-label", &format!("Show on drawing: {}", legend(&fields)));
                }
            }
            _ => {}
        }
    }
}

fn legend(fields: &Element) -> String {
    fields.query_selector("legend").ok().flatten().and_then(|legend| legend.text_content()).unwrap_or_default()
}

/// From a group of fields to its first label on the drawing.
pub(super) fn back(dom: &Dom) {
    let Some(way) = dom.closest(".to-plan a") else { return };
    dom.prevent();
    let group = group_around(&way).unwrap_or_default();
    let label = dom::by_id("plan-labels")
        .and_then(|labels| labels.query_selector(&format!("[data-group=\"{group}\"]")).ok()?);
    if let Some(label) = label.or_else(|| dom::by_id("plan-labels")?.query_selector("a").ok()?) {
        label.scroll_into_view();
        field::focus_on(&label);
    }
}

fn group_around(element: &Element) -> Option<String> {
    element.closest("fieldset").ok()??.get_attribute("data-group")
}

fn focused() -> Option<Element> {
    dom::document()?.active_element()
}

/// The label that has the focus, by its id.
pub(super) fn hand_in(labels: &Element) -> Option<String> {
    focused().filter(|element| labels.contains(Some(element))).map(|element| element.id())
}

/// Outlines on the drawing what the field with the focus belongs to.
pub(super) fn touch() {
    let group = focused().and_then(|element| group_around(&element));
    let marks = dom::by_id("plan-marks").and_then(|marks| marks.query_selector_all("[data-group]").ok());
    let Some(marks) = marks else { return };
    for place in 0..marks.length() {
        if let Some(mark) = marks.item(place).and_then(|mark| mark.dyn_into::<Element>().ok()) {
            dom::class(&mark, "touched", group.is_some() && mark.get_attribute("data-group") == group);
        }
    }
}
