//! A lesson as the fragment of a link, in the way of a setup's ([`crate::sharing::link`]).
//!
//! `lesson=1&title=Points&step=Balance&words=...&picture=arrow&slide=pointGr,100,190&show=balancePointIn&`
//! `ask=balancePointIn&setup=Blue%20bow&peakDrawWeightLb=62`: each `step` begins one, and what follows belongs to it;
//! `setup` begins its setup, whose keys are those of a setup's link. A step without it has the setup of the one
//! before. A lesson that comes with the page is `lesson=1&ready=` and its key.

use super::saved::{LESSON_SCHEMA, LessonError, SavedLesson, SavedSlide, SavedStep};
use super::{Lesson, ready};
use crate::sharing::link;
use crate::sharing::link::{LinkError, MOST_LINK_CHARS, NumberCodec};
use clothyard_core::setup::{SCHEMA_VERSION, SavedSetup};

/// The version of a lesson's links this writes, and the newest it reads.
pub const LESSON_LINK_VERSION: u32 = 1;

/// Why a text is no link to a lesson, or a lesson has no link.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum LessonLinkError {
    /// More than [`MOST_LINK_CHARS`].
    TooLong {
        /// How many there are.
        chars: usize,
    },
    /// Nothing says which version wrote it.
    NoVersion,
    /// Written by a newer version.
    Newer {
        /// The version found.
        found: u32,
    },
    /// The page has no lesson with this key.
    NotReady(String),
    /// The key that appears before any step, or twice in one.
    Misplaced(String),
    /// A pair that cannot be read.
    Pair(LinkError),
    /// A text, key or value that a lesson may not hold.
    Lesson(LessonError),
}

impl LessonLinkError {
    /// What is wrong, in a sentence.
    #[must_use]
    pub fn message(&self) -> String {
        match self {
            Self::TooLong { chars } => {
                format!("{chars} characters, {MOST_LINK_CHARS} at most in a link. Save it as a file instead.")
            }
            Self::NoVersion => "no version number (lesson=1).".to_owned(),
            Self::Newer { found } => format!(
                "made by version {found}; this page reads version {LESSON_LINK_VERSION}. Update the page to open it."
            ),
            Self::NotReady(key) => format!("no built-in lesson \u{201c}{key}\u{201d}."),
            Self::Misplaced(key) => format!("{key} appears before any step, or twice in one."),
            Self::Pair(error) => error.message(),
            Self::Lesson(error) => error.message(),
        }
    }
}

impl From<LinkError> for LessonLinkError {
    fn from(error: LinkError) -> Self {
        Self::Pair(error)
    }
}

/// Writes a lesson as a fragment.
///
/// # Errors
/// [`LessonLinkError::TooLong`]; such a lesson travels as a file.
pub fn encode(lesson: &Lesson, codec: &NumberCodec) -> Result<String, LessonLinkError> {
    let mut fragment = format!("lesson={LESSON_LINK_VERSION}");
    if let Some(ready) = ready::all().into_iter().find(|ready| ready.lesson == *lesson) {
        link::text(&mut fragment, "ready", ready.key);
        return Ok(fragment);
    }
    link::text(&mut fragment, "title", &lesson.title);
    let mut before = SavedSetup { schema_version: SCHEMA_VERSION, ..SavedSetup::default() };
    for step in lesson.to_saved().steps {
        write(&mut fragment, &step, codec);
        if step.setup != before {
            link::text(&mut fragment, "setup", &step.setup.name);
            link::write_setup(&mut fragment, &step.setup, codec);
            link::shafts(&mut fragment, &step.setup, codec);
            before = step.setup;
        }
    }
    let chars = fragment.len() + 1;
    if chars > MOST_LINK_CHARS { Err(LessonLinkError::TooLong { chars }) } else { Ok(fragment) }
}

fn write(fragment: &mut String, step: &SavedStep, codec: &NumberCodec) {
    link::text(fragment, "step", &step.heading);
    if !step.words.is_empty() {
        link::text(fragment, "words", &step.words);
    }
    link::text(fragment, "picture", &step.picture);
    if let Some(slide) = &step.slide {
        link::row(fragment, "slide", &slide.field, &[slide.from, slide.to], codec);
    }
    step.results.iter().for_each(|key| link::text(fragment, "show", key));
    step.question.iter().for_each(|key| link::text(fragment, "ask", key));
}

/// Whether a fragment, with or without its `#`, means to be a lesson.
#[must_use]
pub fn is_lesson(fragment: &str) -> bool {
    link::pairs(fragment).next().is_some_and(|pair| pair.starts_with("lesson="))
}

/// Reads a fragment, with or without its `#`, checking every value.
///
/// # Errors
/// [`LessonLinkError`], naming the place.
pub fn decode(fragment: &str, codec: &NumberCodec) -> Result<Lesson, LessonLinkError> {
    if fragment.len() > MOST_LINK_CHARS {
        return Err(LessonLinkError::TooLong { chars: fragment.chars().count() });
    }
    // A newer version is told before anything else in it is looked at.
    let mut pairs = link::pairs(fragment);
    match pairs.next().and_then(|pair| pair.strip_prefix("lesson=")).and_then(|version| version.parse().ok()) {
        Some(LESSON_LINK_VERSION) => {}
        Some(found) if found > LESSON_LINK_VERSION => return Err(LessonLinkError::Newer { found }),
        _ => return Err(LessonLinkError::NoVersion),
    }
    let mut reader = Reader::new(codec);
    for pair in pairs {
        let (key, value) = link::key_and_value(pair)?;
        if key == "ready" {
            let key = link::unescape(value, key)?;
            let found = ready::all().into_iter().find(|ready| ready.key == key);
            return found.map(|ready| ready.lesson).ok_or_else(|| LessonLinkError::NotReady(link::printable(&key)));
        }
        reader.take(key, value)?;
    }
    Lesson::from_saved(&reader.lesson).map_err(LessonLinkError::Lesson)
}

/// A lesson as far as it has been read.
struct Reader<'a> {
    lesson: SavedLesson,
    /// Whether a setup has begun in the step that is being read.
    in_setup: bool,
    codec: &'a NumberCodec,
}

impl<'a> Reader<'a> {
    fn new(codec: &'a NumberCodec) -> Self {
        let lesson = SavedLesson { schema_version: LESSON_SCHEMA, ..SavedLesson::default() };
        Self { lesson, in_setup: false, codec }
    }

    fn take(&mut self, key: &str, value: &str) -> Result<(), LessonLinkError> {
        let misplaced = || LessonLinkError::Misplaced(link::printable(key));
        if key == "step" {
            self.begin(link::unescape(value, key)?);
            return Ok(());
        }
        let Some(step) = self.lesson.steps.last_mut() else {
            let first = key == "title" && self.lesson.title.is_empty();
            self.lesson.title = if first { link::unescape(value, key)? } else { return Err(misplaced()) };
            return Ok(());
        };
        let free = match key {
            "words" => step.words.is_empty(),
            "picture" => step.picture.is_empty(),
            "slide" => step.slide.is_none(),
            "ask" => step.question.is_none(),
            "setup" => !self.in_setup,
            "show" => true,
            _ => self.in_setup,
        };
        if !free {
            return Err(misplaced());
        }
        match key {
            "words" => step.words = link::unescape(value, key)?,
            "picture" => step.picture = link::unescape(value, key)?,
            "slide" => {
                let (field, numbers) = link::name_and_numbers(value, key, self.codec)?;
                let [from, to] = numbers[..] else { return Err(LinkError::Shape(key.to_owned()).into()) };
                step.slide = Some(SavedSlide { field, from, to });
            }
            "show" => step.results.push(link::unescape(value, key)?),
            "ask" => step.question = Some(link::unescape(value, key)?),
            "setup" => {
                let name = link::unescape(value, key)?;
                step.setup = SavedSetup { schema_version: SCHEMA_VERSION, name, ..SavedSetup::default() };
                self.in_setup = true;
            }
            _ => link::put(&mut step.setup, key, value, self.codec)?,
        }
        Ok(())
    }

    /// A step with the setup of the one before.
    fn begin(&mut self, heading: String) {
        let nothing = SavedSetup { schema_version: SCHEMA_VERSION, ..SavedSetup::default() };
        let setup = self.lesson.steps.last().map_or(nothing, |before| before.setup.clone());
        self.lesson.steps.push(SavedStep { heading, setup, ..SavedStep::default() });
        self.in_setup = false;
    }
}

#[cfg(test)]
mod tests {
    use super::super::saved::Fault;
    use super::*;
    use crate::lesson::{Readout, Slide, Step};
    use crate::testing::any_lesson;
    use clothyard_core::schema::List;
    use clothyard_core::schema::{Field, Value};
    use clothyard_core::setup::Setup;
    use proptest::prelude::*;

    const CODEC: NumberCodec = NumberCodec { write: |number| format!("{number}"), read: |text| text.parse().ok() };

    fn decoded(fragment: &str) -> Result<Lesson, LessonLinkError> {
        decode(fragment, &CODEC)
    }

    fn two_steps() -> Lesson {
        let mut setup = Setup::default().with(Field::PeakDrawWeight, 62.0).unwrap();
        setup.name = "Blue bow".to_owned();
        let step = Step {
            heading: "Balance & point".to_owned(),
            slide: Some(Slide::new(Field::PointMass, 100.0, 190.0).unwrap()),
            question: Some(Readout::FOC),
            ..Step::about(setup)
        };
        let second = Step {
            heading: "Again".to_owned(),
            words: "Look, again.".to_owned(),
            slide: None,
            question: None,
            ..step.clone()
        };
        Lesson { title: "Points".to_owned(), steps: vec![step, second] }
    }

    #[test]
    fn a_link_is_readable_and_says_a_setup_once() {
        let fragment = "lesson=1&title=Points&step=Balance%20%26%20point&picture=arrow&slide=pointGr,100,190\
            &show=frontOfCentrePercent&ask=frontOfCentrePercent&setup=Blue%20bow&peakDrawWeightLb=62\
            &step=Again&words=Look%2C%20again.&picture=arrow&show=frontOfCentrePercent";
        assert_eq!(encode(&two_steps(), &CODEC).as_deref(), Ok(fragment));
        assert_eq!(decoded(&format!("#{fragment}")), Ok(two_steps()));
        assert!(is_lesson(fragment) && !link::is_link(fragment));
    }

    #[test]
    fn a_ready_lesson_goes_by_its_key() {
        for ready in ready::all() {
            let fragment = encode(&ready.lesson, &CODEC).unwrap();
            assert_eq!(fragment, format!("lesson=1&ready={}", ready.key));
            assert_eq!(decoded(&fragment), Ok(ready.lesson));
        }
    }

    #[test]
    fn what_fits_no_link_is_told_to_go_as_a_file() {
        let mut lesson = two_steps();
        lesson.steps = vec![Step { words: "x".repeat(280), ..lesson.steps.remove(0) }; 8];
        let error = encode(&lesson, &CODEC).unwrap_err();
        assert!(matches!(error, LessonLinkError::TooLong { chars } if chars > MOST_LINK_CHARS));
        assert!(error.message().contains("Save it as a file"));
    }

    #[test]
    fn errors_name_the_place() {
        let step = "lesson=1&title=&step=a&picture=arrow&show=columnLoad";
        let with = |more: &str| format!("{step}&{more}");
        for (fragment, words) in [
            (String::new(), "no version number"),
            ("v=1&pointGr=100".to_owned(), "no version number"),
            ("lesson=one".to_owned(), "no version number"),
            ("lesson=2&wonder".to_owned(), "version 2"),
            ("lesson=1&ready=wonder".to_owned(), "no built-in lesson “wonder”"),
            ("lesson=1&words=a".to_owned(), "words appears before any step"),
            ("lesson=1&title=a&title=b".to_owned(), "title appears"),
            ("lesson=1&step=a&picture=oil&show=columnLoad".to_owned(), "Step 1, picture"),
            ("lesson=1&step=a&picture=arrow".to_owned(), "Step 1, results"),
            (with("picture=path"), "picture appears"),
            (with("pointGr=100"), "pointGr appears before"),
            (with("setup=&pointGr=5"), "Step 1, build: pointGr"),
            (with("setup=&setup="), "setup appears"),
            (with("slide=pointGr,1"), "slide: wrong number of values"),
            (with("slide=pointGr,1,x"), "slide: expected a number"),
            (with("slide=pointGr,100,100"), "from and to must differ"),
            (with("ask=columnLoad"), "question: it needs a slider"),
            (with("words=%zz"), "words: its text is damaged"),
            (with("words"), "words: wrong number of values"),
        ] {
            let message = decoded(&fragment).unwrap_err().message();
            assert!(message.contains(words), "{fragment}: {message}");
        }
        let long = decoded(&format!("lesson=1&title={}", "a".repeat(81)));
        let fault = Fault::TooLong { key: "title", most: 80 };
        assert_eq!(long, Err(LessonLinkError::Lesson(LessonError { step: None, fault })));
    }

    #[test]
    fn its_keys_are_none_of_a_setup() {
        for key in ["lesson", "title", "ready", "step", "words", "picture", "slide", "show", "ask", "setup"] {
            assert!(Field::by_key(key).is_none() && List::by_key(key).is_none(), "{key}");
            assert!(!["v", "name", "part", "shaft", "ruleSource"].contains(&key), "{key}");
        }
    }

    #[test]
    fn a_setup_s_own_shafts_go_along() {
        let mut lesson = two_steps();
        lesson.steps[1].setup.shafts.truncate(2);
        lesson.steps[1].setup.set(Field::PointMass, Some(Value::Number(125.0))).unwrap();
        let fragment = encode(&lesson, &CODEC).unwrap();
        assert_eq!(decoded(&fragment), Ok(lesson));
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]

        #[test]
        fn a_link_loses_nothing(lesson in any_lesson()) {
            match encode(&lesson, &CODEC) {
                Ok(fragment) => {
                    prop_assert!(fragment.is_ascii() && fragment.len() < MOST_LINK_CHARS);
                    prop_assert_eq!(decoded(&fragment), Ok(lesson));
                }
                Err(error) => {
                    let too_long = matches!(error, LessonLinkError::TooLong { chars } if chars > MOST_LINK_CHARS);
                    prop_assert!(too_long, "{error:?}");
                }
            }
        }

        #[test]
        fn any_damage_gives_a_lesson_or_an_error(at in 0usize..400, with in "[%&=,#+e.\u{e9}-]{0,3}") {
            let fragment = encode(&two_steps(), &CODEC).unwrap();
            let place = at.min(fragment.len());
            let damaged = format!("{}{with}{}", &fragment[..place], &fragment[(place + 1).min(fragment.len())..]);
            if let Err(error) = decoded(&damaged) {
                prop_assert!(!error.message().is_empty());
            }
        }
    }
}
