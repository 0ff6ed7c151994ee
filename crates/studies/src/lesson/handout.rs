//! A lesson on paper: each step once with what its slider does, or its questions with boxes to tick.

use super::pictures::{self, Drawing};
use super::quiz::{Direction, Question};
use super::stage::Stage;
use super::{Lesson, Step};
use clothyard_core::units::Units;

/// Room of a picture, in pixels: as wide as the text of a page.
const ROOM: (f64, f64) = (640.0, 170.0);

/// A step on paper.
#[derive(Clone, Debug, PartialEq)]
pub struct PaperStep {
    /// Its heading; of a quiz, the question.
    pub heading: String,
    /// Lines under it; of a quiz, the answers to choose from.
    pub lines: Vec<String>,
    /// What its slider ends at, with the start as a ghost; of a quiz, the start.
    pub picture: Drawing,
}

/// Every step with its words and what its slider does.
#[must_use]
pub fn handout(lesson: &Lesson, units: &Units) -> Vec<PaperStep> {
    lesson.steps.iter().map(|step| explained(step, units)).collect()
}

fn explained(step: &Step, units: &Units) -> PaperStep {
    let stage = Stage::new(step);
    let [start, end] = [stage.first(), stage.last()].map(|scene| stage.facts(scene, units));
    let moved = step.slide.map(|slide| {
        let [from, to] = [stage.first(), stage.last()].map(|scene| stage.slider_text(scene, units));
        format!("{}: {from} to {to}", slide.field().input().label)
    });
    let facts = start.into_iter().zip(end).map(|(before, after)| {
        let unit = if after.unit.is_empty() { String::new() } else { format!("\u{a0}{}", after.unit) };
        let change = if after.change.is_empty() { String::new() } else { format!(" ({})", after.change) };
        format!("{}: {} to {}{unit}{change}", after.label, before.number, after.number)
    });
    let words = Some(step.words.clone()).filter(|words| !words.is_empty());
    PaperStep {
        heading: step.heading.clone(),
        lines: words.into_iter().chain(moved).chain(facts).collect(),
        picture: pictures::draw(&stage, stage.last(), ROOM, units),
    }
}

/// Every question with its answers, none of them given away.
#[must_use]
pub fn quiz_sheet(lesson: &Lesson, units: &Units) -> Vec<PaperStep> {
    let asked = |step: &Step| {
        let stage = Stage::new(step);
        let question = Question::from_stage(&stage, units)?;
        Some(PaperStep {
            lines: Direction::ALL.map(|way| format!("☐ {}", way.word(question.shown))).to_vec(),
            heading: question.sentence,
            picture: pictures::draw(&stage, stage.first(), ROOM, units),
        })
    };
    lesson.steps.iter().filter_map(asked).collect()
}

#[cfg(test)]
mod tests {
    use super::super::ready;
    use super::*;

    #[test]
    fn each_step_is_on_paper_once_with_its_numbers() {
        for lesson in ready::all().into_iter().map(|ready| ready.lesson) {
            let paper = handout(&lesson, &Units::ARCHERY);
            assert_eq!(paper.len(), lesson.steps.len());
            for (on_paper, step) in paper.iter().zip(&lesson.steps) {
                assert_eq!((&on_paper.heading, &on_paper.lines[0]), (&step.heading, &step.words));
                assert_eq!(on_paper.lines.len(), 2 + step.results.len());
                assert!(!on_paper.picture.marks.is_empty());
            }
        }
    }

    #[test]
    fn a_quiz_sheet_asks_and_does_not_answer() {
        let lesson = ready::all().swap_remove(0).lesson;
        let sheet = quiz_sheet(&lesson, &Units::ARCHERY);
        assert_eq!(sheet.len(), lesson.steps.len());
        assert_eq!(sheet[0].lines, ["☐ farther forward", "☐ farther back", "☐ no change"]);
        for (asked, step) in sheet.iter().zip(&lesson.steps) {
            assert!(asked.heading.ends_with('?') && !asked.heading.contains(&step.heading));
        }
    }
}
