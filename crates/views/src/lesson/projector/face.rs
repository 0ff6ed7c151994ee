//! The words, numbers and buttons around the picture.

use super::{Show, room};
use clothyard_studies::lesson::Picture;
use clothyard_studies::lesson::stage::Scene;
use clothyard_web as dom;
use wasm_bindgen::JsCast;
use web_sys::{Element, HtmlElement, HtmlInputElement};

/// Where the lesson is, the heading and its words; the question too, while it waits.
pub(super) fn place_and_words(show: &Show) -> String {
    let Some(step) = show.step() else { return String::new() };
    let asked = show.question.as_ref().filter(|_| show.asking()).map_or("", |question| &question.sentence);
    format!("{}: {}. {} {asked}", place(show), step.heading, step.words)
}

fn place(show: &Show) -> String {
    format!("Step {} of {}", show.at + 1, show.lesson.steps.len())
}

/// Shows what belongs to the step and not to a place of its slider.
pub(super) fn turn(show: &Show) {
    let Some(step) = show.step() else { return };
    dom::write_id("projector-place", &place(show));
    dom::write_id("projector-heading", &step.heading);
    dom::write_id("projector-words", &step.words);
    let asking = show.asking();
    dom::hide("projector-quiz", !asking);
    dom::hide("projector-words", asking || show.given.is_some() || step.words.is_empty());
    dom::hide("projector-facts", asking);
    dom::hide("projector-slide", asking || step.slide.is_none());
    dom::hide("projector-happened", show.given.is_none());
    if let Some(question) = &show.question {
        dom::write_id("projector-question", &question.sentence);
        dom::write_id("projector-happened", &show.given.map(|given| question.reply(given)).unwrap_or_default());
    }
    if let Some(slider) = slider() {
        dom::set(&slider, "max", &show.stage.stops().0.to_string());
    }
    dom::write_id("projector-field", step.slide.map_or("", |slide| slide.field().input().label));
    if let Some(caption) = dom::by_id("projector-caption") {
        // The match is said in words; the other pictures carry theirs in them.
        dom::class(&caption, "unseen", step.picture != Picture::Match || asking);
    }
    if let Some(picture) = dom::by_id("projector-picture") {
        dom::set(&picture, "data-picture", step.picture.key());
    }
    facts(step.results.len());
    room::show_button();
    show_playing(show);
    keep_focus();
}

/// What had the focus may be gone; the heading takes it then.
fn keep_focus() {
    let focused = dom::document().and_then(|document| document.active_element());
    let gone = focused
        .is_none_or(|element| element.tag_name() == "BODY" || element.closest("[hidden]").ok().flatten().is_some());
    if gone
        && let Some(heading) =
            dom::by_id("projector-heading").and_then(|heading| heading.dyn_into::<HtmlElement>().ok())
    {
        let _ = heading.focus();
    }
}

fn facts(count: usize) {
    let Some(list) = dom::by_id("projector-facts") else { return };
    if list.child_element_count() as usize == count {
        return;
    }
    dom::empty(&list);
    for _ in 0..count {
        let Some(fact) = dom::add(&list, "div", "", "") else { continue };
        let _ = dom::add(&fact, "dt", "", "");
        let Some(number) = dom::add(&fact, "dd", "", "") else { continue };
        for class in ["number", "unit", "change"] {
            let _ = dom::add(&number, "span", class, "");
        }
    }
}

fn slider() -> Option<HtmlInputElement> {
    dom::by_id("projector-slider")?.dyn_into().ok()
}

/// Shows what belongs to the slider's place.
pub(super) fn draw(show: &Show, scene: &Scene, picture: &str) {
    dom::write_id("projector-caption", picture);
    let dangers = scene.dangers(&show.units);
    dom::hide("projector-danger", dangers.is_empty());
    dom::write_id("projector-danger", &dangers);
    let stands_at = |scene: &Scene| show.stage.stands_at(scene, &show.units);
    let at = stands_at(scene);
    let from = if show.stop == 0 { String::new() } else { format!("from {}", stands_at(show.stage.first())) };
    dom::write_id("projector-from", &from);
    dom::write_id("projector-value", &at);
    if let Some(slider) = slider() {
        let stop = show.stop.to_string();
        if slider.value() != stop {
            slider.set_value(&stop);
        }
        dom::set(&slider, "aria-valuetext", &at);
    }
    let Some(list) = dom::by_id("projector-facts") else { return };
    let rows = list.children();
    for (place, fact) in show.stage.facts(scene, &show.units).into_iter().enumerate() {
        let Some(row) = u32::try_from(place).ok().and_then(|place| rows.item(place)) else { continue };
        for (selector, words) in
            [("dt", fact.label.as_str()), (".number", &fact.number), (".unit", fact.unit), (".change", &fact.change)]
        {
            if let Some(part) = find(&row, selector) {
                dom::write(&part, words);
            }
        }
    }
}

fn find(row: &Element, selector: &str) -> Option<Element> {
    row.query_selector(selector).ok().flatten()
}

/// What the button for playing says now.
pub(super) fn show_playing(show: &Show) {
    let words = if room::is_still() {
        "One step on"
    } else if show.playing.is_some() {
        "Pause"
    } else {
        "Play"
    };
    dom::write_id("projector-play", words);
}

/// The room of the picture, in pixels.
pub(super) fn measure() -> (f64, f64) {
    let figure = dom::by_id("projector-figure").map(|figure| figure.get_bounding_client_rect());
    figure.map_or((980.0, 260.0), |room| (room.width().max(200.0), room.height().max(100.0)))
}
