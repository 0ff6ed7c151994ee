//! The records in memory, and how one list of them differs from another.

use super::database::Write;
use clothyard_core::Setup;
use clothyard_core::plain::FromPlain;
use clothyard_core::report::ErrorReport;
use clothyard_studies::lesson::Lesson;
use clothyard_studies::lesson::library::{LessonLibrary, StoredLesson};
use clothyard_studies::sharing::library::{Library, StoredSetup};
use clothyard_studies::sharing::parts::StoredPart;
use clothyard_web::plain;
use serde::Serialize;

/// What a record is, as its key begins.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    /// A saved setup.
    Setup,
    /// A saved part.
    Part,
    /// A lesson of the user's own.
    Lesson,
}

impl Kind {
    const ALL: [Self; 3] = [Self::Setup, Self::Part, Self::Lesson];

    const fn prefix(self) -> &'static str {
        match self {
            Self::Setup => "setup/",
            Self::Part => "part/",
            Self::Lesson => "lesson/",
        }
    }

    /// The key of a record.
    pub(super) fn key(self, id: &str) -> String {
        self.prefix().to_owned() + id
    }

    /// What a key names; none where a later version uses it.
    fn of(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| key.starts_with(kind.prefix()))
    }
}

/// A record that cannot be read: it stays as it is until the user deletes it.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct UnreadRecord {
    /// What it is.
    pub(crate) kind: Kind,
    /// Its key.
    pub(crate) key: String,
    /// Its text, as it was found.
    pub(crate) text: String,
    /// Why it cannot be read.
    pub(crate) error: ErrorReport,
}

/// All records, each list with the newest first.
#[derive(Clone, Debug, Default)]
pub(crate) struct Contents {
    /// Setups and parts.
    pub(crate) library: Library,
    /// The user's own lessons.
    pub(crate) lessons: LessonLibrary,
    /// What cannot be read.
    pub(crate) unread: Vec<UnreadRecord>,
}

impl Contents {
    /// Reads records. Ids begin with the time, so that the order of the keys is that of the entries.
    pub(super) fn of(rows: Vec<(String, String)>) -> Self {
        let mut contents = Self::default();
        for (key, text) in rows.into_iter().rev() {
            let Some(kind) = Kind::of(&key) else { continue };
            if let Err(error) = contents.take_in(kind, &text) {
                contents.unread.push(UnreadRecord { kind, key, text, error });
            }
        }
        contents
    }

    fn take_in(&mut self, kind: Kind, text: &str) -> Result<(), ErrorReport> {
        match kind {
            Kind::Setup => self.library.setups.push(read(text, |stored: &StoredSetup| {
                Setup::from_saved(&stored.setup).map(drop).map_err(|error| ErrorReport::of(&error))
            })?),
            Kind::Part => self
                .library
                .parts
                .push(read(text, |part: &StoredPart| part.check().map_err(|error| ErrorReport::of(&error)))?),
            Kind::Lesson => self.lessons.lessons.push(read(text, |stored: &StoredLesson| {
                let lesson = Lesson::from_saved(&stored.lesson).map(drop);
                lesson.map_err(|error| ErrorReport::shape("lesson", "").with_message(error.message()))
            })?),
        }
        Ok(())
    }

    /// What is to be written so that the records become others.
    pub(super) fn writes_to(&self, after: &Self) -> Vec<Write> {
        let mut writes = Vec::new();
        let (old, new) = (&self.library, &after.library);
        compare(Kind::Setup, &old.setups, &new.setups, |setup| &setup.id, &mut writes);
        compare(Kind::Part, &old.parts, &new.parts, |part| &part.id, &mut writes);
        compare(Kind::Lesson, &self.lessons.lessons, &after.lessons.lessons, |lesson| &lesson.id, &mut writes);
        let kept = |record: &&UnreadRecord| !after.unread.contains(record);
        writes.extend(self.unread.iter().filter(kept).map(|record| Write::Delete { key: record.key.clone() }));
        writes
    }
}

fn read<T: FromPlain>(text: &str, check: fn(&T) -> Result<(), ErrorReport>) -> Result<T, ErrorReport> {
    let value = plain::from_json(text)?;
    check(&value).map(|()| value)
}

/// Adds what makes one list of the other.
fn compare<T: PartialEq + Serialize>(kind: Kind, old: &[T], new: &[T], id: fn(&T) -> &String, writes: &mut Vec<Write>) {
    let (old_ids, new_ids): (Vec<_>, Vec<_>) = (old.iter().map(id).collect(), new.iter().map(id).collect());
    let before = places_in(&old_ids, &new_ids);
    for (entry, place) in new.iter().zip(before) {
        if place.and_then(|place| old.get(place)) != Some(entry) {
            writes.push(Write::Put { key: kind.key(id(entry)), text: plain::to_json(entry) });
        }
    }
    for (id, place) in old_ids.iter().zip(places_in(&new_ids, &old_ids)) {
        if place.is_none() {
            writes.push(Write::Delete { key: kind.key(id) });
        }
    }
}

/// The place in one list of each of other ids. Most are in the same order: each is looked for where the last one was found.
fn places_in(list: &[&String], ids: &[&String]) -> Vec<Option<usize>> {
    let mut next = 0;
    let find = |id: &&String| {
        let near = list.get(next).filter(|here| here == &id).map(|_| next);
        let place = near.or_else(|| list.iter().position(|here| here == id));
        next = place.map_or(next, |place| place + 1);
        place
    };
    ids.iter().map(find).collect()
}
