//! A lesson while it is presented: which step, where its slider is, whether a question waits and whether the slider
//! moves by itself.

use super::pictures::{self, Drawing};
use super::quiz::{Direction, Question};
use super::scene::Scene;
use super::stage::Stage;
use super::{Lesson, Step};
use clothyard_core::units::Units;

/// There and back again takes the slider so long.
const THERE_AND_BACK_MS: f64 = 14_000.0;
/// After an answer it goes there once, in half of this.
const ANSWER_MS: f64 = 6_000.0;
/// Where motion is unwelcome, the slider goes from end to end in so many steps.
const STEPS_WITHOUT_MOTION: u32 = 5;

/// A slider that moves by itself.
#[derive(Clone, Debug)]
struct Playback {
    began_ms: f64,
    period_ms: f64,
    /// Whether it stops at the end.
    once: bool,
}

impl Playback {
    /// Where the slider is, as a share of its way, and whether it has come to rest.
    fn position(&self, now_ms: f64) -> (f64, bool) {
        let share = (now_ms - self.began_ms) / self.period_ms;
        let done = self.once && share >= 0.5;
        // One half of a period there, the other back.
        (if done { 1.0 } else { 1.0 - (2.0 * (share % 1.0) - 1.0).abs() }, done)
    }
}

/// An answer, and whether it was right.
#[derive(Clone, Copy, Debug)]
struct Answered {
    given: Direction,
    right: bool,
}

/// A lesson that is presented.
#[derive(Clone, Debug)]
pub struct Presentation {
    lesson: Lesson,
    at: usize,
    stage: Stage,
    stop: u32,
    units: Units,
    /// Whether questions are asked first.
    quiz: bool,
    question: Option<Question>,
    /// The answer to each step's question, where one was given.
    given: Vec<Option<Answered>>,
    /// Whether the quiz is over and its tally shown.
    over: bool,
    playback: Option<Playback>,
}

impl Presentation {
    /// A lesson at its first step, with its questions asked first or not at all; none where it has no step.
    #[must_use]
    pub fn new(lesson: Lesson, quiz: bool, units: Units) -> Option<Self> {
        let stage = Stage::new(lesson.steps.first()?);
        let given = vec![None; lesson.steps.len()];
        let mut presentation =
            Self { lesson, at: 0, stage, stop: 0, units, quiz, question: None, given, over: false, playback: None };
        presentation.begin_step();
        Some(presentation)
    }

    /// The step that is shown.
    #[must_use]
    pub const fn step(&self) -> &Step {
        self.stage.step()
    }

    /// The step, ready to be shown at any stop.
    #[must_use]
    pub const fn stage(&self) -> &Stage {
        &self.stage
    }

    /// The stop of the slider.
    #[must_use]
    pub const fn stop(&self) -> u32 {
        self.stop
    }

    /// The units it is shown in.
    #[must_use]
    pub const fn units(&self) -> &Units {
        &self.units
    }

    /// The question of the step, where questions are asked.
    #[must_use]
    pub const fn question(&self) -> Option<&Question> {
        self.question.as_ref()
    }

    /// What is said to the answer; none before it is given.
    #[must_use]
    pub fn reply(&self) -> Option<String> {
        Some(self.question.as_ref()?.reply(self.answered()?.given))
    }

    /// Whether the question waits for its answer.
    #[must_use]
    pub fn is_asking(&self) -> bool {
        self.question.is_some() && self.answered().is_none()
    }

    fn answered(&self) -> Option<Answered> {
        self.given.get(self.at).copied().flatten()
    }

    /// Whether the quiz is over: its tally is shown in place of a step.
    #[must_use]
    pub const fn is_over(&self) -> bool {
        self.over
    }

    /// Whether the slider moves by itself.
    #[must_use]
    pub const fn is_playing(&self) -> bool {
        self.playback.is_some()
    }

    /// Which step of how many.
    #[must_use]
    pub fn place(&self) -> String {
        if self.over {
            return self.lesson.title.clone();
        }
        format!("Step {} of {}", self.at + 1, self.lesson.steps.len())
    }

    /// The heading of what is shown. That of a step gives its answer away, so a question waits under one of its own.
    #[must_use]
    pub fn heading(&self) -> &str {
        match (self.over, self.is_asking()) {
            (true, _) => "End of the quiz",
            (false, true) => "What happens?",
            (false, false) => &self.step().heading,
        }
    }

    /// The words under the heading; none while a question waits, as they too would answer it.
    #[must_use]
    pub fn words(&self) -> String {
        match (self.over, self.is_asking()) {
            (true, _) => self.tally(),
            (false, true) => String::new(),
            (false, false) => self.step().words.clone(),
        }
    }

    /// How many questions were answered, and how many rightly.
    fn tally(&self) -> String {
        let given = self.given.iter().flatten();
        let (answered, right) = (given.clone().count(), given.filter(|answered| answered.right).count());
        match answered {
            0 => "No question was answered.".to_owned(),
            _ => format!("{right} of {answered} correct."),
        }
    }

    /// Where the lesson is, its heading and its words; the question, while it waits.
    #[must_use]
    pub fn introduction(&self) -> String {
        match self.question.as_ref().filter(|_| self.is_asking()) {
            Some(question) => format!("{}: {}", self.place(), question.sentence),
            None => format!("{}: {}. {}", self.place(), self.heading(), self.words()),
        }
    }

    /// What is shown now, and its picture for so much room in pixels.
    #[must_use]
    pub fn draw(&self, room: (f64, f64)) -> (Scene, Drawing) {
        let scene = self.stage.scene(self.stop);
        let drawing = pictures::draw(&self.stage, &scene, room, &self.units);
        (scene, drawing)
    }

    /// Turns to the step before.
    pub fn turn_back(&mut self) {
        self.turn_to(if self.over { self.at } else { self.at.saturating_sub(1) });
    }

    /// Turns to the next step; after the last one of a quiz, to its tally.
    pub fn turn_on(&mut self) {
        if self.quiz && self.at + 1 >= self.lesson.steps.len() {
            self.over = true;
            self.rest();
        } else {
            self.turn_to(self.at + 1);
        }
    }

    /// Turns to a step by its place, or to the last one.
    pub fn turn_to(&mut self, place: usize) {
        self.at = place.min(self.lesson.steps.len().saturating_sub(1));
        self.stage = self.lesson.steps.get(self.at).map_or_else(|| self.stage.clone(), Stage::new);
        self.begin_step();
    }

    fn begin_step(&mut self) {
        (self.stop, self.over, self.playback) = (0, false, None);
        self.question = Question::from_stage(&self.stage, &self.units).filter(|_| self.quiz);
    }

    /// Moves the slider to a stop, or to the last one.
    pub fn go_to(&mut self, stop: u32) {
        self.stop = stop.min(self.stage.stops().0);
    }

    /// Moves the slider by so many steps of its field, and keeps it from moving by itself.
    pub fn nudge(&mut self, steps: i32) {
        if !self.is_asking() && !self.over {
            self.rest();
            let (_, stride) = self.stage.stops();
            self.go_to(self.stop.saturating_add_signed(steps * i32::try_from(stride).unwrap_or(1)));
        }
    }

    /// Keeps the slider where it is.
    pub fn rest(&mut self) {
        self.playback = None;
    }

    /// Plays or pauses; where motion is unwelcome, goes one step on, from the end to the start.
    pub fn play(&mut self, now_ms: f64, still: bool) {
        let (stops, _) = self.stage.stops();
        if self.is_asking() || self.over {
            return;
        }
        if still {
            self.go_to(if self.stop >= stops { 0 } else { self.stop + stops.div_ceil(STEPS_WITHOUT_MOTION) });
        } else if self.playback.take().is_none() {
            // From where the slider is; the way there takes half the period.
            let share = f64::from(self.stop) / f64::from(stops.max(1));
            let (period_ms, once) = (THERE_AND_BACK_MS, false);
            self.playback = Some(Playback { began_ms: now_ms - period_ms * share / 2.0, period_ms, once });
        }
    }

    /// Takes an answer, while one is awaited, and shows what happens: the slider goes to its end. Whether it was taken.
    pub fn answer(&mut self, given: Direction, now_ms: f64, still: bool) -> bool {
        let right = self.question.as_ref().is_some_and(|question| question.answer == given);
        let taken = self.is_asking() && !self.over;
        if taken {
            self.given.iter_mut().skip(self.at).take(1).for_each(|place| *place = Some(Answered { given, right }));
            if still {
                self.go_to(u32::MAX);
            } else {
                self.playback = Some(Playback { began_ms: now_ms, period_ms: ANSWER_MS, once: true });
            }
        }
        taken
    }

    /// Moves a slider that moves by itself to where it is at a time.
    pub fn play_on(&mut self, now_ms: f64) {
        let Some((share, done)) = self.playback.as_ref().map(|playback| playback.position(now_ms)) else { return };
        self.go_to((share * f64::from(self.stage.stops().0) + 0.5) as u32);
        if done {
            self.rest();
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::ready;
    use super::*;

    fn presented(quiz: bool) -> Presentation {
        Presentation::new(ready::all().swap_remove(0).lesson, quiz, Units::ARCHERY).unwrap()
    }

    #[test]
    fn it_turns_from_the_first_step_to_the_last_and_no_further() {
        let mut presentation = presented(false);
        let last = ready::all()[0].lesson.steps.len();
        presentation.turn_back();
        assert_eq!(presentation.place(), format!("Step 1 of {last}"));
        presentation.nudge(3);
        presentation.turn_on();
        assert_eq!((presentation.place(), presentation.stop()), (format!("Step 2 of {last}"), 0));
        presentation.turn_to(usize::MAX);
        presentation.turn_on();
        assert_eq!(presentation.place(), format!("Step {last} of {last}"));
        assert!(Presentation::new(Lesson::default(), false, Units::ARCHERY).is_none());
    }

    #[test]
    fn a_slider_that_plays_goes_there_and_back_until_it_is_touched() {
        let mut presentation = presented(false);
        let (stops, stride) = presentation.stage().stops();
        presentation.play(1000.0, false);
        let stop_at = |presentation: &mut Presentation, share: f64| {
            presentation.play_on(1000.0 + share * THERE_AND_BACK_MS);
            presentation.stop()
        };
        assert_eq!(
            [0.25, 0.5, 0.75, 1.0, 1.5].map(|share| stop_at(&mut presentation, share)),
            [stops.div_ceil(2), stops, stops.div_ceil(2), 0, stops]
        );
        presentation.nudge(-1);
        presentation.play_on(9e9);
        assert_eq!((presentation.stop(), presentation.is_playing()), (stops - stride, false));
        presentation.play(0.0, false);
        presentation.play_on(0.0);
        assert_eq!(presentation.stop(), stops - stride, "it begins where it is");
        presentation.play(0.0, false);
        assert!(!presentation.is_playing(), "and pauses");
    }

    #[test]
    fn where_motion_is_unwelcome_it_goes_step_by_step_and_starts_again() {
        let mut presentation = presented(false);
        let (stops, _) = presentation.stage().stops();
        for step in 1..=STEPS_WITHOUT_MOTION {
            presentation.play(0.0, true);
            assert_eq!(presentation.stop(), (step * stops.div_ceil(STEPS_WITHOUT_MOTION)).min(stops));
        }
        presentation.play(0.0, true);
        assert_eq!((presentation.stop(), presentation.is_playing()), (0, false));
    }

    #[test]
    fn a_question_holds_the_slider_until_it_is_answered_once() {
        for still in [false, true] {
            let mut presentation = presented(true);
            let stops = presentation.stage().stops().0;
            presentation.nudge(2);
            presentation.play(0.0, still);
            assert_eq!((presentation.stop(), presentation.reply(), presentation.is_asking()), (0, None, true));
            assert!(presentation.introduction().contains("What happens to"));
            assert!(presentation.answer(Direction::Down, 0.0, still));
            assert!(presentation.reply().unwrap().starts_with("Your answer: farther back."));
            assert!(!presentation.introduction().contains("What happens to"));
            assert!(!presentation.answer(Direction::Up, 0.0, still), "the first answer counts");
            assert_eq!(presentation.is_playing(), !still);
            presentation.play_on(ANSWER_MS);
            assert_eq!((presentation.stop(), presentation.is_playing()), (stops, false));
            presentation.turn_on();
            assert!(presentation.is_asking() && presentation.stop() == 0);
        }
    }

    #[test]
    fn no_question_has_its_answer_above_it() {
        for lesson in ready::all().into_iter().map(|ready| ready.lesson) {
            let steps = lesson.steps.clone();
            let mut presentation = Presentation::new(lesson, true, Units::ARCHERY).unwrap();
            for step in &steps {
                let seen =
                    [presentation.heading().to_owned(), presentation.words(), presentation.introduction()].join(" ");
                assert!(!seen.contains(&step.heading) && !seen.contains(&step.words), "{seen}");
                presentation.answer(Direction::Up, 0.0, true);
                assert_eq!((presentation.heading(), presentation.words()), (step.heading.as_str(), step.words.clone()));
                presentation.turn_on();
            }
        }
    }

    #[test]
    fn a_quiz_ends_with_its_tally_and_a_lesson_with_its_last_step() {
        let mut quiz = presented(true);
        let last = quiz.lesson.steps.len();
        for step in 0..last {
            let right = quiz.question().unwrap().answer;
            let wrong = if right == Direction::Up { Direction::Down } else { Direction::Up };
            assert!(quiz.answer(if step == 0 { wrong } else { right }, 0.0, true));
            quiz.turn_on();
        }
        assert_eq!((quiz.is_over(), quiz.heading()), (true, "End of the quiz"));
        assert_eq!(quiz.words(), format!("{} of {last} correct.", last - 1));
        assert!(!quiz.answer(Direction::Up, 0.0, true));
        quiz.turn_back();
        assert_eq!((quiz.is_over(), quiz.place()), (false, format!("Step {last} of {last}")));
        assert!(!quiz.is_asking(), "an answer is kept");

        let mut unanswered = presented(true);
        (0..last).for_each(|_| unanswered.turn_on());
        assert_eq!(unanswered.words(), "No question was answered.");
        let mut lesson = presented(false);
        (0..=last).for_each(|_| lesson.turn_on());
        assert_eq!((lesson.is_over(), lesson.place()), (false, format!("Step {last} of {last}")));
    }
}
