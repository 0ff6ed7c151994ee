//! Lessons of the user's own, as they are kept.

use super::saved::{LESSON_SCHEMA, LessonError, SavedLesson};
use super::{Fault, Lesson};
use serde::Serialize;

/// Most lessons kept.
pub const MOST_LESSONS: usize = 100;

/// Most bytes of a lesson's file that are read.
pub const MOST_LESSON_BYTES: usize = 1_000_000;

/// A lesson and what it is known by.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct KeptLesson {
    /// What it is known by, whatever it is called.
    pub id: String,
    /// The lesson.
    pub lesson: SavedLesson,
}

/// Every lesson kept, the newest first.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct LessonShelf {
    /// Schema of what follows.
    pub schema_version: u32,
    /// The lessons.
    pub lessons: Vec<KeptLesson>,
}

impl Default for LessonShelf {
    fn default() -> Self {
        Self { schema_version: LESSON_SCHEMA, lessons: Vec::new() }
    }
}

impl LessonShelf {
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
        let read = |kept: &KeptLesson| Lesson::from_saved(&kept.lesson).map(drop);
        self.lessons.iter().try_for_each(|kept| read(kept).map_err(|error| (kept.lesson.title.clone(), error)))
    }

    /// The lesson with an id.
    #[must_use]
    pub fn kept(&self, id: &str) -> Option<&KeptLesson> {
        self.lessons.iter().find(|kept| kept.id == id)
    }

    /// Keeps a lesson under an id: in the place of the one that has it, or before all others. Whether there was room.
    pub fn put(&mut self, id: &str, lesson: SavedLesson) -> bool {
        if let Some(kept) = self.lessons.iter_mut().find(|kept| kept.id == id) {
            kept.lesson = lesson;
            return true;
        }
        let room = self.lessons.len() < MOST_LESSONS;
        if room {
            self.lessons.insert(0, KeptLesson { id: id.to_owned(), lesson });
        }
        room
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
        let mut shelf = LessonShelf::default();
        let lesson = ready::all()[0].lesson.to_saved();
        assert!(shelf.put("a", lesson.clone()) && shelf.put("b", lesson.clone()));
        let other = SavedLesson { title: "Another".into(), ..lesson };
        assert!(shelf.put("a", other.clone()));
        assert_eq!((shelf.lessons.len(), &shelf.kept("a").unwrap().lesson), (2, &other));
        assert_eq!(shelf.remove("a"), Some(other));
        assert_eq!((shelf.remove("a"), shelf.check()), (None, Ok(())));
        for place in 1..MOST_LESSONS {
            assert!(shelf.put(&place.to_string(), SavedLesson::default()));
        }
        assert!(!shelf.put("more", SavedLesson::default()));
        assert!(shelf.check().unwrap_err().1.message().contains("schemaVersion 0"));
    }
}
