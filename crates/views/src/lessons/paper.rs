//! A lesson on paper, and a picture of one step beside its fields.

use clothyard_core::Units;
use clothyard_core::format::fixed;
use clothyard_studies::lesson::handout::{self, PaperStep};
use clothyard_studies::lesson::stage::Stage;
use clothyard_studies::lesson::{Lesson, Step, pictures};
use clothyard_web as dom;
use clothyard_web::shapes;
use clothyard_web::widgets::drawing::{Drawing, Item};
use web_sys::Element;

/// What is printed.
#[derive(Clone, Copy, Default, PartialEq)]
pub(super) enum Paper {
    /// Every step with its numbers.
    #[default]
    Handout,
    /// Every question with boxes to tick.
    Quiz,
}

/// Writes a lesson for the printer.
pub(super) fn write(paper: Paper, lesson: &Lesson, units: &Units) {
    let Some(page) = dom::by_id("lesson-paper") else { return };
    dom::empty(&page);
    dom::add(&page, "h3", "", &lesson.title);
    let steps = match paper {
        Paper::Handout => handout::handout(lesson, units),
        Paper::Quiz => handout::quiz_sheet(lesson, units),
    };
    if paper == Paper::Quiz {
        dom::add(&page, "p", "", "Name:");
    }
    for (place, step) in steps.iter().enumerate() {
        let Some(section) = dom::add(&page, "section", "", "") else { continue };
        dom::add(&section, "h4", "", &format!("{}. {}", place + 1, step.heading));
        draw(&section, step);
        match paper {
            Paper::Handout => step.lines.iter().for_each(|line| drop(dom::add(&section, "p", "", line))),
            Paper::Quiz => {
                let Some(answers) = dom::add(&section, "p", "answers", "") else { continue };
                step.lines.iter().for_each(|line| drop(dom::add(&answers, "span", "", line)));
            }
        }
    }
}

fn draw(section: &Element, step: &PaperStep) {
    let Some(svg) = dom::add_shape(section, "svg") else { return };
    let (width, height) = step.picture.size;
    dom::set(&svg, "viewBox", &format!("0 0 {} {}", fixed(width, 2), fixed(height, 2)));
    dom::set(&svg, "class", "projected");
    for mark in &step.picture.marks {
        let _ = shapes::add(&svg, &mark.shape, mark.style);
    }
}

/// Shows the step that is changed as it will be presented, with its slider at its end.
pub(super) fn preview(drawing: &mut Drawing, step: &Step, units: &Units) {
    let stage = Stage::new(step);
    let picture = pictures::draw(&stage, stage.last(), (640.0, 170.0), units);
    let facts = stage.announcement(stage.last(), "", units);
    drawing.show(picture.marks.into_iter().map(|mark| Item::new(mark.style, mark.shape)), picture.size);
    dom::write_id("step-preview-facts", &facts);
}
