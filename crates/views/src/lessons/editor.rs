//! The fields of one step: its words, its picture, its slider, its results and its question.

use super::paper;
use clothyard_core::{Field, Quantity, Units, format};
use clothyard_studies::lesson::editing::shortened;
use clothyard_studies::lesson::{Lesson, MOST_HEADING_CHARS, MOST_WORDS_CHARS, Picture, Readout, Step};
use clothyard_web as dom;
use clothyard_web::widgets::drawing::Drawing;
use clothyard_web::widgets::{field, select};

const RESULTS: [&str; 3] = ["step-result-1", "step-result-2", "step-result-3"];
/// Fields that are read with every key.
pub(super) const TYPED: [&str; 2] = ["step-heading", "step-words"];
/// Fields that are read when something has been chosen in them, or typed to its end.
pub(super) const CHOSEN: [&str; 8] =
    ["step-picture", "step-field", "step-from", "step-to", "step-question", RESULTS[0], RESULTS[1], RESULTS[2]];

pub(super) struct Editor {
    /// The step that is changed.
    pub(super) place: Option<usize>,
    /// The step and the units that are in the fields.
    shown: Option<(Step, Units)>,
    preview: Drawing,
}

impl Default for Editor {
    fn default() -> Self {
        Self { place: None, shown: None, preview: Drawing::new("step-preview-picture", "step-preview-marks") }
    }
}

/// Fills the lists to choose from; called once.
pub(super) fn fill_lists() {
    select::complete("step-picture", Picture::ALL.into_iter().map(|picture| (picture.key(), picture.label())));
    let numeric = Field::ALL.into_iter().map(Field::input).filter(|input| input.quantity().is_some());
    select::complete("step-field", numeric.map(|input| (input.key, input.label)));
    for id in RESULTS.into_iter().chain(["step-question"]) {
        select::complete(id, Readout::all().map(|readout| (readout.key(), readout.label())));
    }
}

impl Editor {
    /// Changes a step from now on, or none.
    pub(super) fn open_step(&mut self, place: Option<usize>) {
        (self.place, self.shown) = (place, None);
        dom::write_id("step-said", "");
    }

    /// Shows the step of one's own lesson that is changed.
    pub(super) fn show_fields(&mut self, lesson: &Lesson, own: bool, units: Units) {
        let step = self.place.filter(|_| own).and_then(|place| Some((place, lesson.steps.get(place)?)));
        dom::hide("lesson-step", step.is_none());
        let Some((place, step)) = step else { return };
        let now = Some((step.clone(), units));
        if self.shown != now {
            dom::write_id("step-legend", &format!("Step {}", place + 1));
            write(step, &units);
            paper::preview(&mut self.preview, step, &units);
            self.shown = now;
        }
    }
}

fn write(step: &Step, units: &Units) {
    field::write("step-heading", &step.heading);
    field::write("step-words", &step.words);
    select::choose("step-picture", step.picture.key());
    select::choose("step-field", step.slide.map_or("", |slide| slide.field().input().key));
    dom::hide("step-ends", step.slide.is_none());
    if let Some(slide) = step.slide {
        let quantity = slide.field().input().quantity().unwrap_or(Quantity::Ratio);
        let (from, to) = slide.ends();
        for (id, end) in [("step-from", from), ("step-to", to)] {
            field::write(id, &format::entered_with_unit(quantity, end, units));
        }
    }
    for (place, id) in RESULTS.into_iter().enumerate() {
        select::choose(id, step.results.get(place).map_or("", |readout| readout.key()));
    }
    select::choose("step-question", step.question.map_or("", Readout::key));
}

/// Reads a field into the step.
///
/// # Errors
/// What is wrong with a number, in a sentence.
pub(super) fn read(id: &str, step: &mut Step, units: &Units) -> Result<(), String> {
    match id {
        "step-heading" => step.heading = shortened(&field::text(id), MOST_HEADING_CHARS),
        "step-words" => step.words = shortened(&field::text(id), MOST_WORDS_CHARS),
        "step-picture" => step.picture = Picture::by_key(&select::chosen(id)).unwrap_or(step.picture),
        "step-field" => step.play_field(Field::by_key(&select::chosen(id))),
        "step-from" | "step-to" => {
            return step.play_between(&field::text("step-from"), &field::text("step-to"), units);
        }
        "step-question" => step.question = Readout::by_key(&select::chosen(id)),
        _ => step.results = RESULTS.iter().filter_map(|id| Readout::by_key(&select::chosen(id))).collect(),
    }
    Ok(())
}
