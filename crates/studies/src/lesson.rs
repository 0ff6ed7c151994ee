//! Lessons: one idea at a time, from any setup, with a slider and a quiz question.
//!
//! A step holds words, a whole setup and what to show of it. No number is kept that the page could calculate: what a
//! picture shows, what a result is and which answer is right follow from the setup whenever the step is shown.

// What a lesson consists of.
pub mod readout;
pub mod ready;
pub mod saved;

// What a step shows, and asks.
pub mod picture;
pub mod pictures;
pub mod presentation;
pub mod quiz;
pub mod scene;
pub mod stage;

// How lessons are prepared, stored and shared.
pub mod editing;
pub mod handout;
pub mod library;
pub mod link;
mod reading;

use clothyard_core::parse::EntryError;
use clothyard_core::schema::{Field, Kind, Value};
use clothyard_core::setup::Setup;
use clothyard_core::units::Quantity;
pub use picture::Picture;
pub use readout::Readout;
pub use saved::{Fault, LessonError, SavedLesson};

/// Most lessons stored.
pub const MOST_LESSONS: usize = 1_000;

/// Most bytes of a lesson's file that are read.
pub const MOST_LESSON_BYTES: usize = 1_000_000;

/// Most steps of a lesson.
pub const MOST_STEPS: usize = 24;

/// Most characters of a title or a heading.
pub const MOST_HEADING_CHARS: usize = 80;

/// Most characters of a step's sentences.
pub const MOST_WORDS_CHARS: usize = 280;

/// Most results shown at once.
pub const MOST_RESULTS: usize = 3;

/// Stops of a slider are not fewer than this where its field is not a count.
const LEAST_STOPS: u32 = 40;
/// Stops to one step of the field, where the field's own steps are too few.
const FINER: u32 = 5;
/// Most stops of a slider.
const MOST_STOPS: u32 = 400;

/// A lesson.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Lesson {
    /// What it is called.
    pub title: String,
    /// Its steps, at most [`MOST_STEPS`].
    pub steps: Vec<Step>,
}

/// One idea.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// The idea in a few words.
    pub heading: String,
    /// One or two sentences.
    pub words: String,
    /// The setup it is shown with.
    pub setup: Setup,
    /// Which picture.
    pub picture: Picture,
    /// What is played.
    pub slide: Option<Slide>,
    /// What is shown large: one to [`MOST_RESULTS`], each once.
    pub results: Vec<Readout>,
    /// The result that is asked about; only where there is a slider.
    pub question: Option<Readout>,
}

/// A field played from one end to the other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slide {
    field: Field,
    from: f64,
    to: f64,
}

/// Why a field cannot be played so.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum SlideError {
    /// The field is a choice and has no numbers to move through.
    NotANumber(Field),
    /// An end that the field does not allow.
    End(Field, EntryError),
    /// Both ends are the same.
    NoWay(Field),
}

impl Slide {
    /// A field played between two numbers in its saved unit.
    ///
    /// # Errors
    /// [`SlideError`].
    pub fn new(field: Field, from: f64, to: f64) -> Result<Self, SlideError> {
        if field.input().quantity().is_none() {
            return Err(SlideError::NotANumber(field));
        }
        for end in [from, to] {
            field.input().check(Value::Number(end)).map_err(|error| SlideError::End(field, error))?;
        }
        if from.total_cmp(&to).is_eq() { Err(SlideError::NoWay(field)) } else { Ok(Self { field, from, to }) }
    }

    /// The field.
    #[must_use]
    pub const fn field(&self) -> Field {
        self.field
    }

    /// Its first and its last number, in the saved unit.
    #[must_use]
    pub const fn ends(&self) -> (f64, f64) {
        (self.from, self.to)
    }

    /// How many stops there are from one end to the other, and how many of them are one step of the field.
    #[must_use]
    pub fn stops(&self) -> (u32, u32) {
        let Kind::Number { quantity, step, .. } = self.field.input().kind else { return (1, 1) };
        // Steps of a field and its range keep this far below the largest whole number.
        let steps = (((self.to - self.from).abs() / step).ceil() as u32).max(1);
        let finer = if quantity == Quantity::Count || steps >= LEAST_STOPS { 1 } else { FINER };
        ((steps * finer).min(MOST_STOPS), finer)
    }

    /// The number at a stop, from zero.
    #[must_use]
    pub fn at(&self, stop: u32) -> f64 {
        let (stops, _) = self.stops();
        if stop >= stops {
            return self.to;
        }
        let value = self.from + (self.to - self.from) * f64::from(stop) / f64::from(stops);
        if self.field.input().quantity() == Some(Quantity::Count) { (value + 0.5).floor() } else { value }
    }
}

impl Step {
    /// A step about a setup, with what is usually asked for.
    #[must_use]
    pub fn about(setup: Setup) -> Self {
        let Some(slide) = usual_slide(&setup) else { return Self::still(setup) };
        Self { slide: Some(slide), ..Self::still(setup) }
    }

    fn still(setup: Setup) -> Self {
        Self {
            heading: "New step".to_owned(),
            words: String::new(),
            setup,
            picture: Picture::Arrow,
            slide: None,
            results: vec![Readout::FOC],
            question: None,
        }
    }
}

/// The point's weight, from what it is now to half as much again.
fn usual_slide(setup: &Setup) -> Option<Slide> {
    let now = match setup.get(Field::PointMass) {
        Some(Value::Number(grains)) => grains,
        _ => 100.0,
    };
    Slide::new(Field::PointMass, now, now * 1.5).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slider_goes_from_end_to_end_in_even_stops() {
        let slide = Slide::new(Field::PointMass, 100.0, 190.0).unwrap();
        assert_eq!(slide.stops(), (90, 5));
        assert_eq!([0, 5, 90, 900].map(|stop| slide.at(stop)), [100.0, 105.0, 190.0, 190.0]);
        let back = Slide::new(Field::PointMass, 190.0, 100.0).unwrap();
        assert_eq!([0, 5, 90].map(|stop| back.at(stop)), [190.0, 185.0, 100.0]);
        let vanes = Slide::new(Field::VaneCount, 3.0, 6.0).unwrap();
        assert_eq!((vanes.stops(), [0, 1, 2, 3].map(|stop| vanes.at(stop))), ((3, 1), [3.0, 4.0, 5.0, 6.0]));
    }

    #[test]
    fn a_slider_that_cannot_be_is_refused() {
        assert_eq!(Slide::new(Field::Cam, 0.0, 1.0), Err(SlideError::NotANumber(Field::Cam)));
        assert_eq!(Slide::new(Field::PointMass, 100.0, 100.0), Err(SlideError::NoWay(Field::PointMass)));
        let low = EntryError::OutOfRange { value: 5.0, minimum: 10.0, maximum: 600.0 };
        assert_eq!(Slide::new(Field::PointMass, 100.0, 5.0), Err(SlideError::End(Field::PointMass, low)));
    }

    #[test]
    fn every_numeric_field_can_be_played_over_its_whole_range() {
        for field in Field::ALL {
            let Kind::Number { minimum, maximum, .. } = field.input().kind else { continue };
            let slide = Slide::new(field, minimum, maximum).unwrap();
            let (stops, stride) = slide.stops();
            assert!((1..=MOST_STOPS).contains(&stops) && stride >= 1, "{field:?}");
            for stop in 0..=stops {
                assert!(field.input().check(Value::Number(slide.at(stop))).is_ok(), "{field:?} {stop}");
            }
        }
    }
}
