//! Editing a lesson.

use super::saved::SavedSlide;
use super::{Lesson, MOST_HEADING_CHARS, MOST_STEPS, Slide, Step};
use crate::analysis::sweep::useful_range;
use crate::sharing::library::summary;
use clothyard_core::eval::baseline::Baseline;
use clothyard_core::format;
use clothyard_core::schema::{Field, Value};
use clothyard_core::setup::Setup;
use clothyard_core::units::Units;

impl Lesson {
    /// A lesson to begin with, about a setup.
    #[must_use]
    pub fn first_draft(setup: Setup) -> Self {
        Self { title: "New lesson".to_owned(), steps: vec![Step::about(setup)] }
    }

    /// A copy under a title of its own.
    #[must_use]
    pub fn copied(mut self) -> Self {
        self.title = shortened(&format!("{} (copy)", self.title), MOST_HEADING_CHARS);
        self
    }

    /// Adds a step about a setup that shows what the one before does, in words of its own, and gives its place.
    ///
    /// # Errors
    /// That there are [`MOST_STEPS`] already, in a sentence.
    pub fn add_step(&mut self, setup: Setup) -> Result<usize, String> {
        if self.steps.len() >= MOST_STEPS {
            return Err(format!("A lesson can have {MOST_STEPS} steps at most."));
        }
        let fresh = Step::about(setup);
        self.steps.push(match self.steps.last() {
            Some(before) => Step { setup: fresh.setup, heading: fresh.heading, words: fresh.words, ..before.clone() },
            None => fresh,
        });
        Ok(self.steps.len() - 1)
    }

    /// Its title and how long it is.
    #[must_use]
    pub fn in_words(&self) -> String {
        let count = self.steps.len();
        let steps = if count == 1 { "1 step".to_owned() } else { format!("{count} steps") };
        format!("\u{201c}{}\u{201d}, {steps}", self.title)
    }
}

impl Step {
    /// Changes it; where the change or what comes of it is not allowed, nothing changes.
    ///
    /// # Errors
    /// Why not, in a sentence.
    pub fn change(&mut self, change: &mut dyn FnMut(&mut Self) -> Result<(), String>) -> Result<(), String> {
        let mut changed = self.clone();
        change(&mut changed)
            .and_then(|()| changed.check().map_err(|fault| fault.message()))
            .map_err(|why| format::upper_first(&why))?;
        *self = changed;
        Ok(())
    }

    /// Its heading, or that it has none.
    #[must_use]
    pub fn heading_or_none(&self) -> &str {
        if self.heading.is_empty() { "no heading" } else { &self.heading }
    }

    /// Which setup it is about.
    #[must_use]
    pub fn setup_in_words(&self, units: &Units) -> String {
        let name = &self.setup.name;
        if name.is_empty() { summary(&self.setup, units) } else { name.clone() }
    }

    /// Plays another field, over what is useful for it around the step's setup, or none. Without one there is no
    /// question either.
    pub fn play_field(&mut self, field: Option<Field>) {
        let usual = |field| {
            let (from, to) = useful_range(field, &Baseline::new(&self.setup).resolved)?;
            Slide::new(field, from, to).ok()
        };
        self.slide = field.and_then(usual);
        if self.slide.is_none() {
            self.question = None;
        }
    }

    /// Plays its field between two other ends, as typed.
    ///
    /// # Errors
    /// What is wrong with them, in a sentence.
    pub fn play_between(&mut self, from: &str, to: &str, units: &Units) -> Result<(), String> {
        let Some(slide) = self.slide else { return Ok(()) };
        let input = slide.field().input();
        let end = |text: &str| match input.read(text, units) {
            Ok(Some(Value::Number(number))) => Ok(number),
            Ok(_) => Err(format!("{}: enter the start and end of the slider.", input.label)),
            Err(error) => Err(format::entry_message(input, &error, units)),
        };
        let saved = SavedSlide { field: input.key.to_owned(), from: end(from)?, to: end(to)? };
        self.slide = Some(saved.read().map_err(|fault| fault.message())?);
        Ok(())
    }
}

/// A text as typed, no longer than is allowed.
#[must_use]
pub fn shortened(text: &str, most_chars: usize) -> String {
    text.chars().take(most_chars).collect()
}

/// A title, or that there is none.
#[must_use]
pub fn title_or_none(title: &str) -> &str {
    if title.is_empty() { "untitled" } else { title }
}

#[cfg(test)]
mod tests {
    use super::super::{Picture, Readout};
    use super::*;

    fn setup(name: &str) -> Setup {
        let mut setup = Setup::default();
        setup.name = name.to_owned();
        setup
    }

    #[test]
    fn a_new_step_shows_what_the_one_before_does_in_words_of_its_own() {
        let mut lesson = Lesson::first_draft(setup("Blue"));
        let first = &mut lesson.steps[0];
        (first.picture, first.heading, first.words) = (Picture::Flex, "First".into(), "Words.".into());
        assert_eq!(lesson.add_step(setup("Red")), Ok(1));
        let second = &lesson.steps[1];
        assert_eq!((second.picture, second.setup.name.as_str()), (Picture::Flex, "Red"));
        assert_eq!((second.heading.as_str(), second.words.as_str()), ("New step", ""));
        assert_eq!((lesson.in_words().as_str(), second.slide), ("“New lesson”, 2 steps", lesson.steps[0].slide));
        lesson.steps = vec![second.clone(); MOST_STEPS];
        assert_eq!(lesson.add_step(setup("")), Err("A lesson can have 24 steps at most.".to_owned()));
    }

    #[test]
    fn a_copy_keeps_within_the_length_of_a_title() {
        let lesson = Lesson { title: "Points".into(), steps: vec![Step::about(setup(""))] };
        assert_eq!(lesson.clone().copied().in_words(), "“Points (copy)”, 1 step");
        let long = Lesson { title: "x".repeat(MOST_HEADING_CHARS), ..lesson };
        assert_eq!(long.clone().copied().title, long.title);
    }

    #[test]
    fn what_is_not_allowed_leaves_the_step_as_it_is() {
        let mut step = Step::about(setup(""));
        let before = step.clone();
        let twice = step.change(&mut |step| {
            step.results = vec![Readout::FOC; 2];
            Ok(())
        });
        assert_eq!(twice, Err("Results: one to 3, each once.".to_owned()));
        for (ends, words) in [
            (["9000", "100"], "Point weight: 9000 is out of range; enter 10 to 600\u{a0}gr."),
            (["", "100"], "Point weight: enter the start and end of the slider."),
            (["100", "100"], "Slide: Point weight: from and to must differ."),
        ] {
            let done = step.change(&mut |step| step.play_between(ends[0], ends[1], &Units::ARCHERY));
            assert_eq!(done, Err(words.to_owned()));
        }
        assert_eq!(step, before);
        assert_eq!(step.change(&mut |step| step.play_between("100", "12,5", &Units::ARCHERY)), Ok(()));
        assert_eq!(step.slide.map(|slide| slide.ends()), Some((100.0, 12.5)));
    }

    #[test]
    fn another_field_is_played_over_its_useful_range_and_none_takes_the_question_along() {
        let mut step = Step::about(setup(""));
        step.question = Some(Readout::FOC);
        step.play_field(Some(Field::VaneMass));
        assert_eq!(step.slide.map(|slide| slide.field()), Some(Field::VaneMass));
        assert!(step.question.is_some());
        step.play_field(Some(Field::Cam));
        assert!(step.slide.is_none() && step.question.is_none(), "a choice cannot be played");
    }

    #[test]
    fn steps_and_lessons_without_names_are_told_apart() {
        let mut step = Step::about(setup(""));
        assert!(step.setup_in_words(&Units::ARCHERY).contains("lb at"));
        step.setup.name = "Blue".to_owned();
        step.heading.clear();
        assert_eq!((step.setup_in_words(&Units::ARCHERY).as_str(), step.heading_or_none()), ("Blue", "no heading"));
        assert_eq!((title_or_none(""), title_or_none("Points")), ("untitled", "Points"));
    }
}
