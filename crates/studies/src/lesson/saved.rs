//! A lesson as it is saved: JSON with `schemaVersion`, each step with its whole setup.

use super::{Lesson, MOST_HEADING_CHARS, MOST_LESSONS, MOST_RESULTS, MOST_STEPS, MOST_WORDS_CHARS};
use super::{Picture, Readout, Slide, SlideError, Step};
use clothyard_core::format;
use clothyard_core::report::ErrorReport;
use clothyard_core::schema::Field;
use clothyard_core::setup::{SavedSetup, Setup, SetupError};
use clothyard_core::units::Units;
use serde::Serialize;

/// The schema this version writes, and the newest it reads.
pub const LESSON_SCHEMA: u32 = 1;

/// A lesson as JSON holds it.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct SavedLesson {
    /// Schema of what follows.
    pub schema_version: u32,
    /// What it is called.
    pub title: String,
    /// Its steps.
    pub steps: Vec<SavedStep>,
}

/// A step as JSON holds it.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct SavedStep {
    /// The idea in a few words.
    pub heading: String,
    /// One or two sentences.
    pub words: String,
    /// The setup.
    #[serde(rename = "build")]
    pub setup: SavedSetup,
    /// Key of the picture.
    pub picture: String,
    /// What is played.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub slide: Option<SavedSlide>,
    /// Keys of what is shown large.
    pub results: Vec<String>,
    /// Key of what is asked about.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub question: Option<String>,
}

/// A slider as JSON holds it.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct SavedSlide {
    /// Key of the field.
    pub field: String,
    /// Where it begins, in the unit the key names.
    pub from: f64,
    /// Where it ends.
    pub to: f64,
}

/// Why a lesson cannot be read, and where.
#[derive(Clone, Debug, PartialEq)]
pub struct LessonError {
    /// The step, from zero; none where it is none of them.
    pub step: Option<usize>,
    /// What is wrong.
    pub fault: Fault,
}

/// What is wrong with a lesson.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum Fault {
    /// Written by a version this one does not read.
    Schema {
        /// The schema found.
        found: u32,
    },
    /// More than [`MOST_STEPS`].
    Steps,
    /// More lessons than are kept.
    Lessons,
    /// A text that is too long.
    TooLong {
        /// Its key.
        key: &'static str,
        /// Most characters.
        most: usize,
    },
    /// The setup.
    Setup(SetupError),
    /// No picture has this key.
    Picture(String),
    /// No field has this key.
    Field(String),
    /// The slider.
    Slide(SlideError),
    /// No result has this key.
    Result(String),
    /// None, more than [`MOST_RESULTS`], or one twice.
    Results,
    /// A question without a slider.
    NoSlider,
}

impl Fault {
    /// Key of the place, and what is allowed there, in a sentence.
    #[must_use]
    pub fn message(&self) -> String {
        match self {
            Self::Schema { found } => ErrorReport::newer(*found, LESSON_SCHEMA, "lesson").into_message(),
            Self::Steps => format!("steps: at most {MOST_STEPS}."),
            Self::Lessons => format!("lessons: at most {MOST_LESSONS}."),
            Self::TooLong { key, most } => format!("{key}: at most {most} characters."),
            Self::Setup(error) => format!("build: {}", ErrorReport::of(error).message),
            Self::Picture(key) => {
                let known = Picture::ALL.map(Picture::key).join(", ");
                format!("picture: \u{201c}{}\u{201d} is not one of {known}.", short(key))
            }
            Self::Field(key) => format!("slide: no field has the key \u{201c}{}\u{201d}.", short(key)),
            Self::Slide(error) => format!("slide: {}", error.message()),
            Self::Result(key) => format!("results: no result has the key \u{201c}{}\u{201d}.", short(key)),
            Self::Results => format!("results: one to {MOST_RESULTS}, each once."),
            Self::NoSlider => "question: it needs a slider.".to_owned(),
        }
    }
}

/// No more of a strange text than a message can hold.
fn short(text: &str) -> String {
    text.chars().filter(|c| !c.is_control()).take(40).collect()
}

impl LessonError {
    /// What is wrong and where, in a sentence.
    #[must_use]
    pub fn message(&self) -> String {
        let message = self.fault.message();
        self.step.map_or_else(|| message.clone(), |step| format!("Step {}, {message}", step + 1))
    }
}

impl SlideError {
    /// What is allowed, in a sentence in the saved units.
    #[must_use]
    pub fn message(&self) -> String {
        match self {
            Self::NotANumber(field) => format!("{} is not a number.", field.input().label),
            Self::End(field, error) => format::entry_message(field.input(), error, &Units::ARCHERY),
            Self::NoWay(field) => format!("{}: from and to must differ.", field.input().label),
        }
    }
}

impl Lesson {
    /// Reads a saved lesson, checking every value.
    ///
    /// # Errors
    /// [`LessonError`], naming the step, the key and what is allowed.
    pub fn from_saved(saved: &SavedLesson) -> Result<Self, LessonError> {
        let whole = |fault| LessonError { step: None, fault };
        if saved.schema_version > LESSON_SCHEMA || saved.schema_version == 0 {
            return Err(whole(Fault::Schema { found: saved.schema_version }));
        }
        check_length("title", &saved.title, MOST_HEADING_CHARS).map_err(whole)?;
        if saved.steps.len() > MOST_STEPS {
            return Err(whole(Fault::Steps));
        }
        let read = |(place, step): (usize, &SavedStep)| {
            Step::from_saved(step).map_err(|fault| LessonError { step: Some(place), fault })
        };
        let steps = saved.steps.iter().enumerate().map(read).collect::<Result<_, _>>()?;
        Ok(Self { title: saved.title.clone(), steps })
    }

    /// The saved form.
    #[must_use]
    pub fn to_saved(&self) -> SavedLesson {
        SavedLesson {
            schema_version: LESSON_SCHEMA,
            title: self.title.clone(),
            steps: self.steps.iter().map(Step::to_saved).collect(),
        }
    }
}

impl Step {
    fn from_saved(saved: &SavedStep) -> Result<Self, Fault> {
        check_length("heading", &saved.heading, MOST_HEADING_CHARS)?;
        check_length("words", &saved.words, MOST_WORDS_CHARS)?;
        let shown = |key: &String| Readout::by_key(key).ok_or_else(|| Fault::Result(key.clone()));
        let step = Self {
            heading: saved.heading.clone(),
            words: saved.words.clone(),
            setup: Setup::from_saved(&saved.setup).map_err(Fault::Setup)?,
            picture: Picture::by_key(&saved.picture).ok_or_else(|| Fault::Picture(saved.picture.clone()))?,
            slide: saved.slide.as_ref().map(SavedSlide::read).transpose()?,
            results: saved.results.iter().map(shown).collect::<Result<_, _>>()?,
            question: saved.question.as_ref().map(shown).transpose()?,
        };
        step.check().map(|()| step)
    }

    /// Whether its results and its question are valid.
    ///
    /// # Errors
    /// [`Fault::Results`] or [`Fault::NoSlider`].
    pub fn check(&self) -> Result<(), Fault> {
        let twice = |(place, shown): (usize, &Readout)| self.results.iter().skip(place + 1).any(|other| other == shown);
        if !(1..=MOST_RESULTS).contains(&self.results.len()) || self.results.iter().enumerate().any(twice) {
            return Err(Fault::Results);
        }
        if self.question.is_some() && self.slide.is_none() { Err(Fault::NoSlider) } else { Ok(()) }
    }

    fn to_saved(&self) -> SavedStep {
        let key = |shown: &Readout| shown.key().to_owned();
        SavedStep {
            heading: self.heading.clone(),
            words: self.words.clone(),
            setup: self.setup.to_saved(),
            picture: self.picture.key().to_owned(),
            slide: self.slide.as_ref().map(SavedSlide::from_slide),
            results: self.results.iter().map(key).collect(),
            question: self.question.as_ref().map(key),
        }
    }
}

impl SavedSlide {
    fn from_slide(slide: &Slide) -> Self {
        let (from, to) = slide.ends();
        Self { field: slide.field().input().key.to_owned(), from, to }
    }

    /// The slider itself.
    ///
    /// # Errors
    /// [`Fault::Field`] or [`Fault::Slide`].
    pub fn read(&self) -> Result<Slide, Fault> {
        let field = Field::by_key(&self.field).ok_or_else(|| Fault::Field(self.field.clone()))?;
        Slide::new(field, self.from, self.to).map_err(Fault::Slide)
    }
}

fn check_length(key: &'static str, text: &str, most: usize) -> Result<(), Fault> {
    if text.chars().count() > most { Err(Fault::TooLong { key, most }) } else { Ok(()) }
}

#[cfg(test)]
mod tests {
    use super::super::ready;
    use super::*;
    use crate::testing::any_lesson;
    use clothyard_core::parse::EntryError;
    use clothyard_core::plain::from_json;
    use proptest::prelude::*;

    fn refused(change: impl FnOnce(&mut SavedLesson)) -> LessonError {
        let mut saved = ready::all()[0].lesson.to_saved();
        change(&mut saved);
        Lesson::from_saved(&saved).unwrap_err()
    }

    #[test]
    fn errors_name_the_place_and_what_is_allowed() {
        let long = "x".repeat(300);
        for (error, words) in [
            (refused(|saved| saved.schema_version = 7), "schemaVersion 7: this version reads 1 to 1"),
            (refused(|saved| saved.schema_version = 0), "schemaVersion 0"),
            (refused(|saved| saved.title.clone_from(&long)), "title: at most 80 characters."),
            (refused(|saved| saved.steps = vec![saved.steps[0].clone(); 25]), "steps: at most 24."),
            (refused(|saved| saved.steps[1].heading.clone_from(&long)), "Step 2, heading: at most 80 characters."),
            (refused(|saved| saved.steps[0].words.clone_from(&long)), "Step 1, words: at most 280 characters."),
            (refused(|saved| saved.steps[0].picture = "oil".into()), "is not one of arrow, match, path, flex."),
            (refused(|saved| saved.steps[0].results.clear()), "results: one to 3, each once."),
            (refused(|saved| saved.steps[0].results = vec!["wonder".into()]), "no result has the key “wonder”"),
            (refused(|saved| saved.steps[0].results = vec!["columnLoad".into(); 2]), "each once"),
            (refused(|saved| saved.steps[0].slide = None), "question: it needs a slider"),
            (refused(|saved| saved.steps[0].question = Some("wonder".into())), "no result has the key “wonder”"),
            (refused(|saved| saved.steps[0].setup.schema_version = 9), "Step 1, build: schemaVersion 9"),
            (
                refused(|saved| saved.steps[2].slide = Some(SavedSlide { field: "cam".into(), from: 0.0, to: 1.0 })),
                "Step 3, slide: Cam",
            ),
            (refused(|saved| saved.steps[2].slide.as_mut().unwrap().to = f64::NAN), "Step 3, slide: Point weight:"),
        ] {
            assert!(error.message().contains(words), "{} / {words}", error.message());
        }
        let far = EntryError::OutOfRange { value: 9000.0, minimum: 10.0, maximum: 600.0 };
        let error = refused(|saved| saved.steps[0].slide.as_mut().unwrap().to = 9000.0);
        assert_eq!(error, LessonError { step: Some(0), fault: Fault::Slide(SlideError::End(Field::PointMass, far)) });
        assert!(error.message().contains("10 to 600"), "{}", error.message());
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]

        #[test]
        fn a_lesson_loses_nothing_on_its_way_through_a_file(lesson in any_lesson()) {
            let text = serde_json::to_string(&lesson.to_saved()).unwrap();
            prop_assert_eq!(from_json::<Lesson>(&text).unwrap(), lesson);
        }
    }
}
