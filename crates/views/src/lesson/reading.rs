//! From JSON to lessons: one in a file, or all that are kept.

use crate::kept;
use clothyard_core::report::ErrorReport;
use clothyard_studies::lesson::saved::{LESSON_SCHEMA, SavedSlide, SavedStep};
use clothyard_studies::lesson::shelf::{KeptLesson, LessonShelf};
use clothyard_studies::lesson::{Fault, Lesson, LessonError, SavedLesson};
use clothyard_web::plain::{self, Pair, fields, list, number, wrong};
use js_sys::Array;
use wasm_bindgen::{JsCast, JsValue};

/// Reads one lesson, checking every value.
///
/// # Errors
/// The place of what cannot be read, and what is allowed there.
pub(super) fn lesson(text: &str) -> Result<Lesson, ErrorReport> {
    let value = kept::parse(text)?;
    let saved = saved(&value, "The lesson")?;
    Lesson::from_saved(&saved).map_err(|error| report(&error.message()))
}

/// Reads all that are kept, checking every value.
///
/// # Errors
/// As [`lesson`].
pub(super) fn shelf(text: &str) -> Result<LessonShelf, ErrorReport> {
    let pairs = of_this_version(&kept::parse(text)?, "The lessons")?;
    let [_, lessons] = fields(&pairs, "The lessons", ["schemaVersion", "lessons"])?;
    let shelf = LessonShelf { lessons: list(&lessons.0, "lessons", kept_lesson)?, ..LessonShelf::default() };
    shelf.check().map_err(|(title, error)| report(&format!("\u{201c}{title}\u{201d}: {}", error.message())))?;
    Ok(shelf)
}

fn report(message: &str) -> ErrorReport {
    ErrorReport { message: message.to_owned(), ..wrong("", "") }
}

/// The keys and values of an object, unless another version wrote it: that is told before anything else in it.
fn of_this_version(value: &JsValue, place: &str) -> Result<Vec<Pair>, ErrorReport> {
    let pairs = plain::entries(value, place)?;
    let found = pairs.iter().find(|(key, _)| key == "schemaVersion");
    let found = found.ok_or_else(|| wrong("schemaVersion", "it is missing"))?;
    let version = number(&found.1, &found.0)?;
    if version > f64::from(LESSON_SCHEMA) {
        let error = LessonError { step: None, fault: Fault::Schema { found: version as u32 } };
        return Err(ErrorReport { code: "schema", ..report(&error.message()) });
    }
    if version < f64::from(LESSON_SCHEMA) { Err(wrong("schemaVersion", "the number 1 is wanted")) } else { Ok(pairs) }
}

fn kept_lesson(pairs: &[Pair], place: &str) -> Result<KeptLesson, ErrorReport> {
    let [id, lesson] = fields(pairs, place, ["id", "lesson"])?;
    Ok(KeptLesson { id: kept::id(&id.0, &id.1)?, lesson: saved(&lesson.0, &lesson.1)? })
}

fn saved(value: &JsValue, place: &str) -> Result<SavedLesson, ErrorReport> {
    let pairs = of_this_version(value, place)?;
    let [_, title, steps] = fields(&pairs, place, ["schemaVersion", "title", "steps"])?;
    Ok(SavedLesson {
        schema_version: LESSON_SCHEMA,
        title: plain::text(&title.0, &title.1)?,
        steps: list(&steps.0, "steps", step)?,
    })
}

fn step(pairs: &[Pair], place: &str) -> Result<SavedStep, ErrorReport> {
    let mut step = SavedStep::default();
    for (key, value) in pairs {
        let place = format!("{place}.{key}");
        match key.as_str() {
            "heading" => step.heading = plain::text(value, &place)?,
            "words" => step.words = plain::text(value, &place)?,
            "build" => step.setup = kept::setup(value, &place)?,
            "picture" => step.picture = plain::text(value, &place)?,
            "slide" => step.slide = Some(slide(&plain::entries(value, &place)?, &place)?),
            "results" => step.results = texts(value, &place)?,
            "question" => step.question = Some(plain::text(value, &place)?),
            _ => return Err(wrong(&place, "a step has no such key")),
        }
    }
    Ok(step)
}

fn slide(pairs: &[Pair], place: &str) -> Result<SavedSlide, ErrorReport> {
    let [field, from, to] = fields(pairs, place, ["field", "from", "to"])?;
    Ok(SavedSlide {
        field: plain::text(&field.0, &field.1)?,
        from: number(&from.0, &from.1)?,
        to: number(&to.0, &to.1)?,
    })
}

fn texts(value: &JsValue, place: &str) -> Result<Vec<String>, ErrorReport> {
    let array = value.dyn_ref::<Array>().ok_or_else(|| wrong(place, "a list is wanted"))?;
    array.iter().map(|text| plain::text(&text, place)).collect()
}
