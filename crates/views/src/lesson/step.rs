//! One step at the desk: its words, its picture, its slider, its results and its question.

use super::desk;
use crate::{ask, page};
use clothyard_core::eval::baseline::Baseline;
use clothyard_core::{Field, Quantity, Units, Value, format};
use clothyard_studies::analysis::sweep::useful_range;
use clothyard_studies::lesson::saved::SavedSlide;
use clothyard_studies::lesson::{Lesson, MOST_HEADING_CHARS, MOST_WORDS_CHARS, Picture, Shown, Slide, Step};
use clothyard_web as dom;
use core::cell::{Cell, RefCell};
use wasm_bindgen::JsCast;
use web_sys::{HtmlSelectElement, HtmlTextAreaElement};

const RESULTS: [&str; 3] = ["step-result-1", "step-result-2", "step-result-3"];

thread_local! {
    static EDITED: Cell<Option<usize>> = const { Cell::new(None) };
    /// The step and the units that stand in the fields.
    static SHOWN: RefCell<Option<(Step, Units)>> = const { RefCell::new(None) };
}

/// Which step's fields are shown.
pub(super) fn edited() -> Option<usize> {
    EDITED.get()
}

/// Shows the fields of a step, or none.
pub(super) fn edit(place: Option<usize>) {
    EDITED.set(place);
    SHOWN.take();
    dom::write_id("step-said", "");
}

/// Fills the lists to choose from; called once.
pub(super) fn fill_lists() {
    ask::complete("step-picture", Picture::ALL.into_iter().map(|picture| (picture.key(), picture.label())));
    let numeric = Field::ALL.into_iter().map(Field::input).filter(|input| input.quantity().is_some());
    ask::complete("step-field", numeric.map(|input| (input.key, input.label)));
    for id in RESULTS.into_iter().chain(["step-question"]) {
        ask::complete(id, Shown::all().map(|shown| (shown.key(), shown.label())));
    }
}

/// Shows the step that is being changed.
pub(super) fn show(lesson: &Lesson) {
    let step = EDITED.get().filter(|_| desk::own().is_some()).and_then(|place| Some((place, lesson.steps.get(place)?)));
    dom::hide("lesson-step", step.is_none());
    let Some((place, step)) = step else { return };
    let units = page::units();
    let now = Some((step.clone(), units));
    if SHOWN.replace(now.clone()) == now {
        return;
    }
    dom::write_id("step-legend", &format!("Step {}", place + 1));
    ask::write("step-heading", &step.heading);
    write_words(&step.words);
    choose("step-picture", step.picture.key());
    choose("step-field", step.slide.map_or("", |slide| slide.field().input().key));
    dom::hide("step-ends", step.slide.is_none());
    if let Some(slide) = step.slide {
        let quantity = slide.field().input().quantity().unwrap_or(Quantity::Ratio);
        let (from, to) = slide.ends();
        for (id, end) in [("step-from", from), ("step-to", to)] {
            ask::write(id, &format::entered_with_unit(quantity, end, &units));
        }
    }
    for (place, id) in RESULTS.into_iter().enumerate() {
        choose(id, step.results.get(place).map_or("", |shown| shown.key()));
    }
    choose("step-question", step.question.map_or("", Shown::key));
}

fn write_words(words: &str) {
    let field = dom::by_id("step-words").and_then(|field| field.dyn_into::<HtmlTextAreaElement>().ok());
    if let Some(field) = field.filter(|field| field.value() != words) {
        field.set_value(words);
    }
}

fn words() -> String {
    let field = dom::by_id("step-words").and_then(|field| field.dyn_into::<HtmlTextAreaElement>().ok());
    field.map_or_else(String::new, |field| field.value())
}

fn choose(id: &str, key: &str) {
    if let Some(list) = dom::by_id(id).and_then(|list| list.dyn_into::<HtmlSelectElement>().ok()) {
        list.set_value(key);
    }
}

/// Changes the step; what cannot stand is said beside its fields, and the last good one stays.
fn change(change: &mut dyn FnMut(&mut Step) -> Result<(), String>) {
    let Some(place) = EDITED.get() else { return };
    let mut said = String::new();
    desk::edit(&mut |lesson| {
        let Some(step) = lesson.steps.get_mut(place) else { return Ok(()) };
        let before = step.clone();
        let done = change(step).and_then(|()| step.check().map_err(|fault| fault.message()));
        if let Err(why) = done {
            (said, *step) = (why, before);
        }
        Ok(())
    });
    dom::write_id("step-said", &format::upper_first(&said));
}

/// A text has been typed into a field.
pub(super) fn typed(id: &str) {
    match id {
        "step-heading" => change(&mut |step| {
            step.heading = ask::text(id).chars().take(MOST_HEADING_CHARS).collect();
            Ok(())
        }),
        "step-words" => change(&mut |step| {
            step.words = words().chars().take(MOST_WORDS_CHARS).collect();
            Ok(())
        }),
        _ => {}
    }
}

/// Something has been chosen, or a number has been typed to its end.
pub(super) fn chosen(id: &str) {
    match id {
        "step-picture" => change(&mut |step| {
            step.picture = Picture::by_key(&ask::chosen(id)).unwrap_or(step.picture);
            Ok(())
        }),
        "step-field" => change(&mut |step| {
            step.slide = ask::field(id).and_then(|field| usual(step, field));
            if step.slide.is_none() {
                step.question = None;
            }
            Ok(())
        }),
        "step-from" | "step-to" => change(&mut move_ends),
        "step-question" => change(&mut |step| {
            step.question = Shown::by_key(&ask::chosen(id));
            Ok(())
        }),
        _ if RESULTS.contains(&id) => change(&mut |step| {
            step.results = RESULTS.iter().filter_map(|id| Shown::by_key(&ask::chosen(id))).collect();
            Ok(())
        }),
        _ => {}
    }
}

/// A button of the step.
pub(super) fn press(id: &str) {
    match id {
        "step-load" => {
            let step = EDITED.get().and_then(|place| desk::chosen()?.steps.into_iter().nth(place));
            if let Some(step) = step {
                page::load(&step.setup);
                desk::say("The step's set-up is on the page. Undo brings back what was there.");
            }
        }
        "step-take" => {
            let Some(setup) = page::setup() else { return };
            change(&mut |step| {
                step.setup.clone_from(&setup);
                Ok(())
            });
            desk::say("The step has the set-up on the page now.");
        }
        _ => {}
    }
}

/// A field played over what is honest for it around the step's set-up.
fn usual(step: &Step, field: Field) -> Option<Slide> {
    let (from, to) = useful_range(field, &Baseline::new(&step.setup).resolved)?;
    Slide::new(field, from, to).ok()
}

fn move_ends(step: &mut Step) -> Result<(), String> {
    let Some(slide) = step.slide else { return Ok(()) };
    let (input, units) = (slide.field().input(), page::units());
    let end = |id: &str| match input.read(&ask::text(id), &units) {
        Ok(Some(Value::Number(number))) => Ok(number),
        Ok(_) => Err(format!("{}: write where the slider begins and where it ends.", input.label)),
        Err(error) => Err(format::entry_message(input, &error, &units)),
    };
    let saved = SavedSlide { field: input.key.to_owned(), from: end("step-from")?, to: end("step-to")? };
    step.slide = Some(saved.read().map_err(|fault| fault.message())?);
    Ok(())
}
