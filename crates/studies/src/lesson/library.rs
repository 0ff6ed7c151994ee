//! The user's saved lessons.

use super::saved::{LESSON_SCHEMA, LessonError, SavedLesson};
use super::{Fault, Lesson, MOST_LESSONS};
use serde::Serialize;

/// A lesson and what it is known by.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct StoredLesson {
    /// What it is known by, whatever it is called.
    pub id: String,
    /// The lesson.
    pub lesson: SavedLesson,
}

/// Every lesson kept, the newest first.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct LessonLibrary {
    /// Schema of what follows.
    pub schema_version: u32,
    /// The lessons.
    pub lessons: Vec<StoredLesson>,
}

impl Default for LessonLibrary {
    fn default() -> Self {
        Self { schema_version: LESSON_SCHEMA, lessons: Vec::new() }
    }
}

impl LessonLibrary {
    /// Checks every lesson.
    ///
    /// # Errors
    /// [`LessonError`], with the title of the lesson it belongs to.
    pub fn check(&self) -> Result<(), (String, LessonError)> {
        let whole = |fault| (String::new(), LessonError { step: None, fault });
        if self.schema_version > LESSON_SCHEMA || self.schema_version == 0 {
            return Err(whole(Fault::Schema { found: self.schema_version }));
        }
        if self.lessons.len() > MOST_LESSONS {
            return Err(whole(Fault::Lessons));
        }
        let read = |kept: &StoredLesson| Lesson::from_saved(&kept.lesson).map(drop);
        self.lessons.iter().try_for_each(|kept| read(kept).map_err(|error| (kept.lesson.title.clone(), error)))
    }

    /// The lesson with an id.
    #[must_use]
    pub fn lesson(&self, id: &str) -> Option<&StoredLesson> {
        self.lessons.iter().find(|kept| kept.id == id)
    }

    /// Stores a lesson under an id: in the place of the one that has it, or before all others.
    ///
    /// # Errors
    /// That there is no room, in a sentence.
    pub fn put(&mut self, id: &str, lesson: SavedLesson) -> Result<(), String> {
        if let Some(kept) = self.lessons.iter_mut().find(|kept| kept.id == id) {
            kept.lesson = lesson;
        } else if self.lessons.len() < MOST_LESSONS {
            self.lessons.insert(0, StoredLesson { id: id.to_owned(), lesson });
        } else {
            return Err(format!("Not saved: {MOST_LESSONS} lessons is the maximum."));
        }
        Ok(())
    }

    /// Takes a lesson away, and gives it.
    pub fn remove(&mut self, id: &str) -> Option<SavedLesson> {
        let place = self.lessons.iter().position(|kept| kept.id == id)?;
        Some(self.lessons.remove(place).lesson)
    }
}

#[cfg(test)]
mod tests {
    use super::super::ready;
    use super::*;

    #[test]
    fn a_lesson_is_put_changed_taken_and_put_back() {
        let mut library = LessonLibrary::default();
        let lesson = ready::all()[0].lesson.to_saved();
        assert_eq!([library.put("a", lesson.clone()), library.put("b", lesson.clone())], [Ok(()), Ok(())]);
        let other = SavedLesson { title: "Another".into(), ..lesson };
        assert_eq!(library.put("a", other.clone()), Ok(()));
        assert_eq!((library.lessons.len(), &library.lesson("a").unwrap().lesson), (2, &other));
        assert_eq!(library.remove("a"), Some(other));
        assert_eq!((library.remove("a"), library.check()), (None, Ok(())));
        for place in 1..MOST_LESSONS {
            assert_eq!(library.put(&place.to_string(), SavedLesson::default()), Ok(()));
        }
        let refused = library.put("more", SavedLesson::default());
        assert_eq!(refused, Err("Not saved: 1000 lessons is the maximum.".to_owned()));
        assert!(library.check().unwrap_err().1.message().contains("schemaVersion 0"));
    }
}
