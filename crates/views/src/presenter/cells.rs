//! The words, numbers and buttons around the picture.

use super::screen;
use clothyard_core::format;
use clothyard_studies::lesson::Picture;
use clothyard_studies::lesson::presentation::Presentation;
use clothyard_studies::lesson::quiz::Direction;
use clothyard_studies::lesson::scene::Scene;
use clothyard_web as dom;
use clothyard_web::widgets::field;
use web_sys::Element;

const SLIDER: &str = "projector-slider";
const FACTS: &str = "projector-facts";
/// The answers to choose from.
const ANSWERS: [&str; 3] = ["projector-answer-1", "projector-answer-2", "projector-answer-3"];

/// Shows what belongs to the step and not to a place of its slider.
pub(super) fn show_step(shown: &Presentation) {
    let (step, over, words) = (shown.step(), shown.is_over(), shown.words());
    let (asking, reply) = (shown.is_asking() && !over, shown.reply().filter(|_| !over));
    dom::write_id("projector-place", &shown.place());
    dom::write_id("projector-heading", shown.heading());
    dom::write_id("projector-words", &words);
    dom::hide("projector-quiz", !asking);
    dom::hide("projector-words", reply.is_some() || words.is_empty());
    dom::hide("projector-figure", over);
    dom::hide("projector-next", over);
    dom::hide(FACTS, asking || over);
    dom::hide("projector-slide", asking || over || step.slide.is_none());
    dom::hide("projector-happened", reply.is_none());
    dom::write_id("projector-happened", &reply.unwrap_or_default());
    if let Some(question) = shown.question() {
        dom::write_id("projector-question", &question.sentence);
        for (id, way) in ANSWERS.into_iter().zip(Direction::ALL) {
            dom::write_id(id, &format::upper_first(way.word(question.shown)));
        }
    }
    if let Some(slider) = dom::by_id(SLIDER) {
        dom::set(&slider, "max", &shown.stage().stops().0.to_string());
    }
    dom::write_id("projector-field", step.slide.map_or("", |slide| slide.field().input().label));
    if let Some(caption) = dom::by_id("projector-caption") {
        // The match is said in words; the other pictures carry theirs in them.
        dom::class(&caption, "unseen", step.picture != Picture::Match || asking || over);
    }
    if let Some(picture) = dom::by_id("projector-picture") {
        dom::set(&picture, "data-picture", step.picture.key());
    }
    make_facts(step.results.len());
    screen::show_button();
    show_playing(shown);
    keep_focus();
}

/// What had the focus may be gone; the heading takes it then.
fn keep_focus() {
    let focused = dom::document().and_then(|document| document.active_element());
    let gone = focused
        .is_none_or(|element| element.tag_name() == "BODY" || element.closest("[hidden]").ok().flatten().is_some());
    if gone {
        field::focus("#projector-heading");
    }
}

fn make_facts(count: usize) {
    let Some(list) = dom::by_id(FACTS).filter(|list| list.child_element_count() as usize != count) else { return };
    dom::empty(&list);
    for _ in 0..count {
        let Some(fact) = dom::add(&list, "div", "", "") else { continue };
        dom::add(&fact, "dt", "", "");
        let Some(number) = dom::add(&fact, "dd", "", "") else { continue };
        for class in ["number", "unit", "change"] {
            dom::add(&number, "span", class, "");
        }
    }
}

/// Shows what belongs to the slider's place.
pub(super) fn show_scene(shown: &Presentation, scene: &Scene, picture: &str) {
    let (stage, units) = (shown.stage(), shown.units());
    dom::write_id("projector-caption", picture);
    let dangers = scene.dangers(units);
    dom::hide("projector-danger", dangers.is_empty());
    dom::write_id("projector-danger", &dangers);
    let at = stage.slider_text(scene, units);
    let from =
        if shown.stop() == 0 { String::new() } else { format!("from {}", stage.slider_text(stage.first(), units)) };
    dom::write_id("projector-from", &from);
    dom::write_id("projector-value", &at);
    field::overwrite(SLIDER, &shown.stop().to_string());
    if let Some(slider) = dom::by_id(SLIDER) {
        dom::set(&slider, "aria-valuetext", &at);
    }
    let Some(list) = dom::by_id(FACTS) else { return };
    for (place, fact) in (0..).zip(stage.facts(scene, units)) {
        let Some(row) = list.children().item(place) else { continue };
        for (selector, words) in
            [("dt", fact.label.as_str()), (".number", &fact.number), (".unit", fact.unit), (".change", &fact.change)]
        {
            find(&row, selector).iter().for_each(|part| dom::write(part, words));
        }
    }
}

fn find(row: &Element, selector: &str) -> Option<Element> {
    row.query_selector(selector).ok().flatten()
}

/// What the button for playing says now.
pub(super) fn show_playing(shown: &Presentation) {
    let words = match (screen::is_still(), shown.is_playing()) {
        (true, _) => "Next step",
        (false, true) => "Pause",
        (false, false) => "Play",
    };
    dom::write_id("projector-play", words);
}

/// The room of the picture, in pixels.
pub(super) fn picture_room() -> (f64, f64) {
    let figure = dom::by_id("projector-figure").map(|figure| figure.get_bounding_client_rect());
    figure.map_or((980.0, 260.0), |room| (room.width().max(200.0), room.height().max(100.0)))
}
