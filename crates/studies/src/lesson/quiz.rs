//! The question of a step. Its answer is not kept: it follows from the two ends of the slider.

use super::Readout;
use super::stage::Stage;
use clothyard_core::format;
use clothyard_core::units::Units;

/// A result that moves by less than this share of itself is said to stay.
pub const STAYS_WITHIN: f64 = 0.01;

/// Which way a result goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Direction {
    /// It grows.
    Up,
    /// It lessens.
    Down,
    /// It moves by less than [`STAYS_WITHIN`].
    Stays,
}

/// A question, its right answer, and what is said then.
#[derive(Clone, Debug, PartialEq)]
pub struct Question {
    /// The question.
    pub sentence: String,
    /// The result that is asked about.
    pub shown: Readout,
    /// The answer.
    pub answer: Direction,
    /// What happens, and by how much.
    pub happens: String,
}

impl Direction {
    /// All answers, in the order of their keys.
    pub const ALL: [Self; 3] = [Self::Up, Self::Down, Self::Stays];

    /// From one number to another.
    #[must_use]
    pub fn between(before: f64, after: f64) -> Self {
        if (after - before).abs() < STAYS_WITHIN * before.abs().max(after.abs()) || before.total_cmp(&after).is_eq() {
            Self::Stays
        } else if after > before {
            Self::Up
        } else {
            Self::Down
        }
    }

    /// As an answer about a result.
    #[must_use]
    pub fn word(self, shown: Readout) -> &'static str {
        let [up, down] = shown.ways();
        match self {
            Self::Up => up,
            Self::Down => down,
            Self::Stays => "no change",
        }
    }
}

impl Question {
    /// The question of a step; none where it has none, or where an end of the slider has no answer.
    #[must_use]
    pub fn from_stage(stage: &Stage, units: &Units) -> Option<Self> {
        let (shown, slide) = (stage.step().question?, stage.step().slide?);
        let (before, after) = (stage.first().number(shown)?, stage.last().number(shown)?);
        let answer = Direction::between(before, after);
        let (from, to) = slide.ends();
        let what = shown.label_at(stage.far_m(), units);
        let sentence = format!(
            "What happens to {} when {} {} from {} to {}?",
            inside(&what),
            inside(slide.field().input().label),
            if to > from { "rises" } else { "falls" },
            stage.slider_text(stage.first(), units),
            stage.slider_text(stage.last(), units)
        );
        let said = |number: f64| format::measured(shown.quantity(), number, units);
        let by =
            format::moved(shown.quantity(), before, after, units).map_or_else(String::new, |by| format!(" ({by})"));
        let within = if answer == Direction::Stays { " within 1%" } else { "" };
        let happens =
            format!("{}: {}{within}, from {} to {}{by}.", bare(&what), answer.word(shown), said(before), said(after));
        Some(Self { sentence, shown, answer, happens })
    }

    /// What is said to an answer: calm, whichever it was.
    #[must_use]
    pub fn reply(&self, given: Direction) -> String {
        let agreed = if given == self.answer { "Correct." } else { "Not this time." };
        format!("Your answer: {}. {agreed} {}", given.word(self.shown), self.happens)
    }
}

/// A label without what explains it.
fn bare(label: &str) -> &str {
    label.split([',', '(']).next().unwrap_or_default().trim_end()
}

/// A label inside a sentence: with its article and small, unless its first word is an abbreviation.
fn inside(label: &str) -> String {
    let short = bare(label);
    let abbreviation = short.chars().take(2).all(|c| c.is_ascii_uppercase());
    if abbreviation { short.to_owned() } else { format!("the {}", format::lower_first(short)) }
}

#[cfg(test)]
mod tests {
    use super::super::{Slide, Step, ready};
    use super::*;
    use clothyard_core::Field;
    use clothyard_core::schema::Output;

    fn asked(output: Output, field: Field, from: f64, to: f64) -> Question {
        let mut step: Step = ready::all().swap_remove(0).lesson.steps.swap_remove(0);
        step.slide = Some(Slide::new(field, from, to).unwrap());
        step.question = Some(Readout::Output(output));
        Question::from_stage(&Stage::new(&step), &Units::ARCHERY).unwrap()
    }

    #[test]
    fn up_down_and_stays() {
        let ways = [(1.0, 1.02), (1.0, 0.98), (1.0, 1.009), (0.0, 0.0), (0.0, 0.1), (-1.0, -1.1)];
        let wanted =
            [Direction::Up, Direction::Down, Direction::Stays, Direction::Stays, Direction::Up, Direction::Down];
        assert_eq!(ways.map(|(before, after)| Direction::between(before, after)), wanted);
    }

    #[test]
    fn the_answer_follows_the_slider_and_not_the_author() {
        // A heavier point brings the balance forward; a slider turned round turns the answer.
        assert_eq!(asked(Output::FrontOfCentre, Field::PointMass, 100.0, 190.0).answer, Direction::Up);
        assert_eq!(asked(Output::FrontOfCentre, Field::PointMass, 190.0, 100.0).answer, Direction::Down);
        assert_eq!(asked(Output::LaunchSpeed, Field::PointMass, 100.0, 190.0).answer, Direction::Down);
        assert_eq!(asked(Output::ArrowLength, Field::PointMass, 100.0, 190.0).answer, Direction::Stays);
        // Heavier vanes work against the point.
        assert_eq!(asked(Output::FrontOfCentre, Field::VaneMass, 5.0, 15.0).answer, Direction::Down);
    }

    #[test]
    fn it_reads_aloud() {
        let question = asked(Output::FrontOfCentre, Field::PointMass, 100.0, 190.0);
        assert_eq!(
            question.sentence,
            "What happens to FOC when the point weight rises from 100\u{a0}gr to 190\u{a0}gr?"
        );
        let reply = question.reply(Direction::Down);
        assert!(reply.starts_with("Your answer: less. Not this time. FOC: more, from "), "{reply}");
        assert!(question.reply(Direction::Up).contains("Correct. FOC: more"));
        let stays = asked(Output::ArrowLength, Field::PointMass, 190.0, 100.0);
        assert!(stays.sentence.contains("the arrow length when the point weight falls"), "{}", stays.sentence);
        assert!(stays.happens.contains("Arrow length: no change within 1%, from"), "{}", stays.happens);
    }

    #[test]
    fn without_a_number_at_an_end_nothing_is_asked() {
        let mut step: Step = ready::all().swap_remove(0).lesson.steps.swap_remove(0);
        step.slide = Some(Slide::new(Field::CutLength, 12.0, 30.0).unwrap());
        step.question = Some(Readout::Output(Output::ColumnLoad));
        assert_eq!(Question::from_stage(&Stage::new(&step), &Units::ARCHERY), None);
        step.question = None;
        assert_eq!(Question::from_stage(&Stage::new(&step), &Units::ARCHERY), None);
    }
}
