//! Lessons read from plain objects: one in a file, or all saved ones.

use super::library::{LessonLibrary, StoredLesson};
use super::saved::{LESSON_SCHEMA, SavedSlide, SavedStep};
use super::{Lesson, SavedLesson};
use crate::sharing::reading::id;
use clothyard_core::plain::{FromPlain, Node, Plain};
use clothyard_core::report::ErrorReport;

/// Reads one lesson, checking every value.
impl FromPlain for Lesson {
    const NAME: &'static str = "The lesson";

    fn from_plain<P: Plain>(node: &Node<P>) -> Result<Self, ErrorReport> {
        Self::from_saved(&SavedLesson::from_plain(node)?).map_err(|error| refused("steps", error.message()))
    }
}

/// Reads all that are kept, checking every value.
impl FromPlain for LessonLibrary {
    const NAME: &'static str = "The lessons";

    fn from_plain<P: Plain>(node: &Node<P>) -> Result<Self, ErrorReport> {
        let mut object = node.object()?;
        let schema_version = object.version(LESSON_SCHEMA, "lesson")?;
        let library = Self { schema_version, lessons: object.read("lessons")? };
        object.end()?;
        let named = |title, message| refused("lessons", format!("\u{201c}{title}\u{201d}: {message}"));
        library.check().map_err(|(title, error)| named(title, error.message())).map(|()| library)
    }
}

/// What can be read but is not allowed.
fn refused(place: &str, message: String) -> ErrorReport {
    ErrorReport::shape(place, "").with_message(message)
}

impl FromPlain for StoredLesson {
    fn from_plain<P: Plain>(node: &Node<P>) -> Result<Self, ErrorReport> {
        let mut object = node.object()?;
        let kept = Self { id: id(&object.require("id")?)?, lesson: object.read("lesson")? };
        object.end().map(|()| kept)
    }
}

impl FromPlain for SavedLesson {
    fn from_plain<P: Plain>(node: &Node<P>) -> Result<Self, ErrorReport> {
        let mut object = node.object()?;
        let lesson = Self {
            schema_version: object.version(LESSON_SCHEMA, "lesson")?,
            title: object.read("title")?,
            steps: object.read("steps")?,
        };
        object.end().map(|()| lesson)
    }
}

impl FromPlain for SavedStep {
    fn from_plain<P: Plain>(node: &Node<P>) -> Result<Self, ErrorReport> {
        let mut object = node.object()?;
        let step = Self {
            heading: object.read_or_default("heading")?,
            words: object.read_or_default("words")?,
            setup: object.read("build")?,
            picture: object.read("picture")?,
            slide: object.read_or_default("slide")?,
            results: object.read("results")?,
            question: object.read_or_default("question")?,
        };
        object.end().map(|()| step)
    }
}

impl FromPlain for SavedSlide {
    fn from_plain<P: Plain>(node: &Node<P>) -> Result<Self, ErrorReport> {
        let mut object = node.object()?;
        let slide = Self { field: object.read("field")?, from: object.read("from")?, to: object.read("to")? };
        object.end().map(|()| slide)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use clothyard_core::plain::from_json;

    /// As the first schema writes it: once written by somebody, it must always be read.
    const LESSON: &str = r#"{"schemaVersion":1,"title":"Points","steps":[
        {"heading":"Balance","words":"Look.","build":{"schemaVersion":1,"name":"Blue bow","inputs":{"cam":"hard"}},
         "picture":"path","slide":{"field":"pointGr","from":100,"to":240},"results":["farDropIn","launchSpeedFps"],
         "question":"frontOfCentrePercent"},
        {"heading":"","build":{"schemaVersion":1},"picture":"flex","results":["columnLoad"]}]}"#;

    #[test]
    fn a_lesson_of_the_first_schema_is_read() {
        let lesson: Lesson = from_json(LESSON).unwrap();
        assert_eq!((lesson.title.as_str(), lesson.steps.len()), ("Points", 2));
        let [first, second] = &lesson.steps[..] else { unreachable!() };
        assert_eq!(
            (first.heading.as_str(), first.setup.name.as_str(), first.results.len()),
            ("Balance", "Blue bow", 2)
        );
        assert_eq!(first.slide.as_ref().map(|slide| slide.ends()), Some((100.0, 240.0)));
        assert!(first.question.is_some() && second.slide.is_none() && second.question.is_none());

        let library: LessonLibrary =
            from_json(&format!(r#"{{"schemaVersion":1,"lessons":[{{"id":"19a-7f","lesson":{LESSON}}}]}}"#)).unwrap();
        assert_eq!(Lesson::from_saved(&library.lesson("19a-7f").unwrap().lesson), Ok(lesson));
        assert_eq!(from_json::<LessonLibrary>(&serde_json::to_string(&library).unwrap()).unwrap(), library);
    }

    #[test]
    fn the_place_of_every_fault_is_named() {
        for (json, place, wanted) in [
            ("7", "The lesson", "expected an object"),
            (r#"{"schemaVersion":1}"#, "title", "missing"),
            (r#"{"schemaVersion":1,"title":7}"#, "title", "expected text"),
            (r#"{"schemaVersion":1,"title":"","steps":[7]}"#, "steps[0]", "expected an object"),
            (r#"{"schemaVersion":1,"title":"","steps":[{"words":7}]}"#, "steps[0].words", "expected text"),
            (r#"{"schemaVersion":1,"title":"","steps":[{"build":{}}]}"#, "steps[0].build.schemaVersion", "missing"),
            (r#"{"schemaVersion":1,"title":"","steps":[],"color":1}"#, "color", "unknown key"),
        ] {
            let error = from_json::<Lesson>(json).unwrap_err();
            assert_eq!(error.field, place, "{json}");
            assert!(error.message.contains(wanted), "{json}: {}", error.message);
        }
        for (from, to, place) in [
            (r#""from":100"#, r#""from":"x""#, "steps[0].slide.from"),
            (r#""farDropIn""#, "7", "steps[0].results[0]"),
            (r#""picture":"path","#, "", "steps[0].picture"),
            (r#""question":"#, r#""answer":"#, "steps[0].answer"),
        ] {
            assert_eq!(from_json::<Lesson>(&LESSON.replace(from, to)).unwrap_err().field, place);
        }
        let error = from_json::<Lesson>(&LESSON.replace("\"hard\"", "\"wild\"")).unwrap_err();
        assert!(error.message.contains("Step 1, build: cam"), "{}", error.message);
    }

    #[test]
    fn a_list_of_lessons_names_the_lesson_at_fault() {
        let list = |lesson: &str| format!(r#"{{"schemaVersion":1,"lessons":[{{"id":"a","lesson":{lesson}}}]}}"#);
        let error = from_json::<LessonLibrary>(&list(&LESSON.replace("flex", "oil"))).unwrap_err();
        assert!(error.message.starts_with("\u{201c}Points\u{201d}: Step 2, picture"), "{}", error.message);
        let error = from_json::<LessonLibrary>(&list("7")).unwrap_err();
        assert_eq!(error.field, "lessons[0].lesson");
        assert_eq!(from_json::<LessonLibrary>("[]").unwrap_err().field, "The lessons");
    }

    #[test]
    fn newer_lessons_are_told_apart() {
        for json in [r#"{"schemaVersion":2}"#, r#"{"schemaVersion":9,"wonders":[]}"#] {
            assert!(from_json::<LessonLibrary>(json).unwrap_err().is_newer());
            let error = from_json::<Lesson>(json).unwrap_err();
            assert!(error.is_newer() && error.message.contains("a newer lesson needs a newer page"));
        }
    }
}
