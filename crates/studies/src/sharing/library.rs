//! Saved setups and parts, as stored and written to a backup.
//!
//! Every change is made to what has just been read from the store, entry by entry, so that two pages open at
//! once never undo each other's work.

use crate::sharing::parts::{StoredPart, resolved, said, tidy_name};
use clothyard_core::report::ErrorReport;
use clothyard_core::schema::Field;
use clothyard_core::setup::{MAX_NAME_CHARS, SCHEMA_VERSION, SavedSetup, Setup, SetupError};
use clothyard_core::units::Units;
use serde::Serialize;

/// Most setups kept by name, and most parts.
pub const MOST_ENTRIES: usize = 500;

/// Most bytes of a backup that are read.
pub const MOST_BACKUP_BYTES: usize = 1_000_000;

/// A setup kept by the name its build carries.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct StoredSetup {
    /// What it is known by, whatever it is called.
    pub id: String,
    /// The day it was saved, as in ISO 8601.
    #[serde(rename = "keptOn")]
    pub saved_on: String,
    /// The setup.
    #[serde(rename = "build")]
    pub setup: SavedSetup,
}

/// Draw weight, draw length, point and spine of a setup, in words.
#[must_use]
pub fn summary(setup: &Setup, units: &Units) -> String {
    let resolved = resolved(setup);
    let words = |field: Field| said(field, resolved.value(field), units).unwrap_or_default();
    let spine = match setup.get(Field::StaticSpine) {
        Some(_) => words(Field::StaticSpine),
        None => "default".to_owned(),
    };
    format!(
        "{} at {}, point {}, spine {spine}",
        words(Field::PeakDrawWeight),
        words(Field::DrawLength),
        words(Field::PointMass)
    )
}

/// Everything kept by name; with the current setup it is a backup.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct Library {
    /// Schema of what follows.
    pub schema_version: u32,
    /// Setups, the newest first.
    #[serde(rename = "kept")]
    pub setups: Vec<StoredSetup>,
    /// Parts, the newest first.
    #[serde(rename = "drawer")]
    pub parts: Vec<StoredPart>,
    /// The setup on the page; only in a backup.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub current: Option<SavedSetup>,
}

impl Default for Library {
    fn default() -> Self {
        Self { schema_version: SCHEMA_VERSION, setups: Vec::new(), parts: Vec::new(), current: None }
    }
}

/// Why a store or a backup cannot be read.
#[derive(Clone, Debug, PartialEq)]
pub struct LibraryError {
    /// The name of the entry that is at fault; empty where it is none of them.
    pub entry: String,
    /// What is wrong with it.
    pub error: SetupError,
}

impl LibraryError {
    /// What is wrong, in a sentence.
    #[must_use]
    pub fn message(&self) -> String {
        let message = ErrorReport::of(&self.error).into_message();
        if self.entry.is_empty() { message } else { format!("\u{201c}{}\u{201d}: {message}", self.entry) }
    }
}

/// What came of reading a backup in.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Imported {
    /// Names of the setups that were added.
    pub names: Vec<String>,
    /// Parts that were added.
    pub parts: usize,
    /// Entries that were there already.
    pub known: usize,
    /// Entries there was no room for.
    pub no_room: usize,
}

impl Imported {
    /// What came of it, in sentences.
    #[must_use]
    pub fn in_words(&self) -> String {
        let mut words = match self.names.len() {
            0 => "No setup added.".to_owned(),
            _ => format!("Added: {}.", self.names.join("; ")),
        };
        for (count, what) in [
            (self.parts, "added to My parts"),
            (self.known, "already saved, unchanged"),
            (self.no_room, "left out, no room"),
        ] {
            if count > 0 {
                words += &format!(" {count} {what}.");
            }
        }
        words
    }
}

/// A name as a part of the name of a file.
#[must_use]
pub fn in_file_name(name: &str) -> String {
    name.chars().map(|c| if c.is_ascii_alphanumeric() || !c.is_ascii() { c } else { '-' }).collect()
}

/// Why no more of something is stored.
fn no_room(what: &str) -> String {
    format!("Not saved: {MOST_ENTRIES} {what} is the maximum.")
}

impl Library {
    /// Checks every entry.
    ///
    /// # Errors
    /// [`LibraryError`], naming the entry and what is allowed.
    pub fn check(&self) -> Result<(), LibraryError> {
        let whole = |error| LibraryError { entry: String::new(), error };
        if self.schema_version > SCHEMA_VERSION || self.schema_version == 0 {
            return Err(whole(SetupError::Schema { found: self.schema_version, newest: SCHEMA_VERSION }));
        }
        for (key, count) in [("kept", self.setups.len()), ("drawer", self.parts.len())] {
            if count > MOST_ENTRIES {
                return Err(whole(SetupError::TooMany { key, max: MOST_ENTRIES }));
            }
        }
        for setup in self.setups.iter().map(|kept| &kept.setup).chain(&self.current) {
            Setup::from_saved(setup).map_err(|error| LibraryError { entry: setup.name.clone(), error })?;
        }
        for part in &self.parts {
            part.check().map_err(|error| LibraryError { entry: part.name.clone(), error })?;
        }
        Ok(())
    }

    /// The setup with an id.
    #[must_use]
    pub fn setup(&self, id: &str) -> Option<&StoredSetup> {
        self.setups.iter().find(|kept| kept.id == id)
    }

    /// The part with an id.
    #[must_use]
    pub fn part(&self, id: &str) -> Option<&StoredPart> {
        self.parts.iter().find(|part| part.id == id)
    }

    /// The name wanted, or with a number behind it where another setup than `id` has it already.
    #[must_use]
    pub fn free_name(&self, wanted: &str, id: &str) -> String {
        let wanted = tidy_name(wanted);
        let taken = |name: &str| self.setups.iter().any(|kept| kept.id != id && kept.setup.name == name);
        let mut name = wanted.clone();
        // One more than there are setups is free in any case.
        for number in 2..=self.setups.len() + 1 {
            if !taken(&name) {
                break;
            }
            let suffix = format!(" ({number})");
            let room = MAX_NAME_CHARS - suffix.len();
            name = wanted.chars().take(room).collect::<String>() + &suffix;
        }
        name
    }

    /// Adds a setup, and gives the name it has now.
    ///
    /// # Errors
    /// That there is no room, in a sentence.
    pub fn add_setup(&mut self, mut kept: StoredSetup) -> Result<String, String> {
        if self.setups.len() >= MOST_ENTRIES {
            return Err(no_room("setups"));
        }
        let name = self.free_name(&kept.setup.name, &kept.id);
        kept.setup.name.clone_from(&name);
        self.setups.insert(0, kept);
        Ok(name)
    }

    /// Adds a part.
    ///
    /// # Errors
    /// That there is no room, in a sentence.
    pub fn add_part(&mut self, part: StoredPart) -> Result<(), String> {
        if self.parts.len() >= MOST_ENTRIES {
            return Err(no_room("parts"));
        }
        self.parts.insert(0, part);
        Ok(())
    }

    /// Calls a setup otherwise, and gives the name it has now; none where it is gone.
    pub fn rename(&mut self, id: &str, wanted: &str) -> Option<String> {
        let name = self.free_name(wanted, id);
        let kept = self.setups.iter_mut().find(|kept| kept.id == id)?;
        kept.setup.name.clone_from(&name);
        Some(name)
    }

    /// Removes a setup, and gives it with its place.
    pub fn remove_setup(&mut self, id: &str) -> Option<(usize, StoredSetup)> {
        let place = self.setups.iter().position(|kept| kept.id == id)?;
        Some((place, self.setups.remove(place)))
    }

    /// Puts a setup back that was taken away, unless it is there again already.
    pub fn restore_setup(&mut self, (place, mut kept): (usize, StoredSetup)) {
        if self.setup(&kept.id).is_none() {
            kept.setup.name = self.free_name(&kept.setup.name, &kept.id);
            self.setups.insert(place.min(self.setups.len()), kept);
        }
    }

    /// Removes a part, and gives it with its place.
    pub fn remove_part(&mut self, id: &str) -> Option<(usize, StoredPart)> {
        let place = self.parts.iter().position(|part| part.id == id)?;
        Some((place, self.parts.remove(place)))
    }

    /// Puts a part back that was taken out, unless it is there again already.
    pub fn restore_part(&mut self, (place, part): (usize, StoredPart)) {
        if self.part(&part.id).is_none() {
            self.parts.insert(place.min(self.parts.len()), part);
        }
    }

    /// Adds what a backup holds and is not here yet, in the order of the ids, which begin with the time. Nothing here is
    /// changed: an entry with the id of another gets a new one, and a name that is taken gets a number. `fresh_id` gives ids, `today` is the day for a
    /// setup that was current when the backup was written.
    pub fn import(&mut self, backup: Self, fresh_id: fn() -> String, today: &str) -> Imported {
        let mut taken = Imported::default();
        let current = backup.current.filter(|current| !backup.setups.iter().any(|kept| kept.setup == *current));
        let current = current.map(|setup| StoredSetup { id: String::new(), saved_on: today.to_owned(), setup });
        for mut kept in backup.setups.into_iter().chain(current) {
            if self.setup(&kept.id).is_some_and(|here| here.setup == kept.setup) {
                taken.known += 1;
            } else if self.setups.len() >= MOST_ENTRIES {
                taken.no_room += 1;
            } else {
                if kept.id.is_empty() || self.setup(&kept.id).is_some() {
                    kept.id = fresh_id();
                }
                let wanted = if kept.setup.name.trim().is_empty() { "Imported setup" } else { &kept.setup.name };
                kept.setup.name = self.free_name(wanted, &kept.id);
                taken.names.push(kept.setup.name.clone());
                let older = self.setups.iter().position(|here| here.id < kept.id);
                self.setups.insert(older.unwrap_or(self.setups.len()), kept);
            }
        }
        for mut part in backup.parts {
            if self.part(&part.id).is_some_and(|here| *here == part) {
                taken.known += 1;
            } else if self.parts.len() >= MOST_ENTRIES {
                taken.no_room += 1;
            } else {
                if part.id.is_empty() || self.part(&part.id).is_some() {
                    part.id = fresh_id();
                }
                taken.parts += 1;
                let older = self.parts.iter().position(|here| here.id < part.id);
                self.parts.insert(older.unwrap_or(self.parts.len()), part);
            }
        }
        taken
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sharing::parts::PartKind;
    use clothyard_core::plain::from_json;
    use clothyard_core::schema::Value;
    use clothyard_core::testing::any_setup;
    use core::sync::atomic::{AtomicUsize, Ordering};
    use proptest::collection::vec;
    use proptest::prelude::*;

    fn fresh_id() -> String {
        static NEXT: AtomicUsize = AtomicUsize::new(0);
        format!("fresh-{}", NEXT.fetch_add(1, Ordering::Relaxed))
    }

    fn any_kept() -> impl Strategy<Value = StoredSetup> {
        ("[a-d]", any_setup(), "[ab]{1,2}").prop_map(|(id, setup, name)| {
            let setup = SavedSetup { name, ..setup.to_saved() };
            StoredSetup { id, saved_on: "2026-02-28".to_owned(), setup }
        })
    }

    fn any_part() -> impl Strategy<Value = StoredPart> {
        ("[a-d]", 0usize..4, any_setup(), "[a-z ]{0,12}").prop_map(|(id, kind, setup, name)| {
            StoredPart::on_arrow(PartKind::ALL[kind], &setup, id, &name, &Units::ARCHERY)
        })
    }

    fn any_library() -> impl Strategy<Value = Library> {
        (vec(any_kept(), 0..5), vec(any_part(), 0..5)).prop_map(|(kept, drawer)| {
            let mut library = Library::default();
            library.import(Library { setups: kept, parts: drawer, ..Library::default() }, fresh_id, "");
            library
        })
    }

    fn named(library: &Library) -> Vec<&str> {
        library.setups.iter().map(|kept| kept.setup.name.as_str()).collect()
    }

    fn keep(library: &mut Library, name: &str) -> String {
        let setup = SavedSetup { name: name.to_owned(), ..Setup::default().to_saved() };
        library.add_setup(StoredSetup { id: fresh_id(), saved_on: String::new(), setup }).unwrap()
    }

    #[test]
    fn a_name_that_is_taken_gets_a_number() {
        let mut library = Library::default();
        assert_eq!(
            ["Bow", " Bow ", "Bow", "Bow (2)"].map(|name| keep(&mut library, name)),
            ["Bow", "Bow (2)", "Bow (3)", "Bow (2) (2)"]
        );
        let id = library.setups[0].id.clone();
        assert_eq!(library.rename(&id, "Bow (2) (2)").as_deref(), Some("Bow (2) (2)"), "its own name is free to it");
        assert_eq!(library.rename(&id, "Bow").as_deref(), Some("Bow (4)"));
        assert_eq!(library.rename("gone", "Bow"), None);
        let long = "x".repeat(100);
        assert_eq!(keep(&mut library, &long).len(), MAX_NAME_CHARS);
        assert_eq!(keep(&mut library, &long), "x".repeat(MAX_NAME_CHARS - 4) + " (2)");
    }

    #[test]
    fn what_is_deleted_comes_back_to_its_place() {
        let mut library = Library::default();
        for name in ["c", "b", "a"] {
            keep(&mut library, name);
        }
        let before = library.clone();
        let id = library.setups[1].id.clone();
        let removed = library.remove_setup(&id).unwrap();
        assert_eq!(named(&library), ["a", "c"]);
        library.restore_setup(removed.clone());
        library.restore_setup(removed);
        assert_eq!(library, before);
    }

    #[test]
    fn a_full_shelf_takes_no_more() {
        let mut library = Library::default();
        for _ in 0..MOST_ENTRIES {
            keep(&mut library, "Bow");
        }
        let one = library.setups[0].clone();
        let refused = library.add_setup(StoredSetup { id: fresh_id(), ..one.clone() });
        assert_eq!(refused, Err("Not saved: 500 setups is the maximum.".to_owned()));
        let more = Library { setups: vec![StoredSetup { id: fresh_id(), ..one }], ..Library::default() };
        assert_eq!(library.import(more, fresh_id, "").no_room, 1);
        assert_eq!(library.check(), Ok(()));
    }

    #[test]
    fn what_came_of_a_backup_is_said() {
        let none = Imported { known: 2, ..Imported::default() };
        assert_eq!(none.in_words(), "No setup added. 2 already saved, unchanged.");
        let some = Imported { names: vec!["A".into(), "B".into()], parts: 1, no_room: 3, ..Imported::default() };
        let words = "Added: A; B. 1 added to My parts. 3 left out, no room.";
        assert_eq!((some.in_words().as_str(), in_file_name("Ä bow/7").as_str()), (words, "Ä-bow-7"));
    }

    #[test]
    fn messages_name_the_entry() {
        let json = r#"{"schemaVersion":1,"kept":[{"id":"a","keptOn":"","build":
            {"schemaVersion":1,"name":"Blue","inputs":{"pointGr":-5}}}]}"#;
        let message = from_json::<Library>(json).unwrap_err().into_message();
        assert!(message.contains("Blue") && message.contains("pointGr"), "{message}");

        let json = r#"{"schemaVersion":1,"drawer":[{"id":"a","kind":"nock","name":"Pin","inputs":{"pointGr":100}}]}"#;
        let error = from_json::<Library>(json).unwrap_err();
        assert_eq!((error.code, error.message.as_str()), ("unknownKey", "“Pin”: pointGr: unknown input."));

        let newer = Library { schema_version: 7, ..Library::default() };
        assert!(newer.check().unwrap_err().message().contains("schemaVersion 7"));
    }

    #[test]
    fn a_setup_is_summed_up() {
        let mut setup = Setup::default();
        assert_eq!(summary(&setup, &Units::ARCHERY), "50\u{a0}lb at 28\u{a0}in, point 100\u{a0}gr, spine default");
        setup.set(Field::StaticSpine, Some(Value::Number(340.0))).unwrap();
        assert!(summary(&setup, &Units::metric()).contains("71.12\u{a0}cm"));
        assert!(summary(&setup, &Units::ARCHERY).ends_with("spine 340"));
    }

    proptest! {
        #[test]
        fn a_backup_loses_nothing(mut library in any_library(), current in any_setup()) {
            library.current = Some(current.to_saved());
            let text = serde_json::to_string(&library).unwrap();
            let back: Library = from_json(&text).unwrap();
            prop_assert_eq!(&back, &library);

            let mut empty = Library::default();
            empty.import(Library { current: None, ..back }, fresh_id, "");
            prop_assert_eq!(empty, Library { current: None, ..library });
        }

        #[test]
        fn reading_in_changes_nothing_that_is_here(here in any_library(), backup in any_library()) {
            let mut both = here.clone();
            let taken = both.import(backup.clone(), fresh_id, "");
            prop_assert!(here.setups.iter().all(|kept| both.setups.contains(kept)));
            prop_assert!(here.parts.iter().all(|part| both.parts.contains(part)));
            let backed_up = backup.setups.len() + backup.parts.len();
            prop_assert_eq!(taken.names.len() + taken.parts + taken.known, backed_up);

            let mut names = named(&both);
            names.sort_unstable();
            names.dedup();
            prop_assert_eq!(names.len(), both.setups.len());
            for (place, kept) in both.setups.iter().enumerate() {
                prop_assert!(both.setups[..place].iter().all(|other| other.id != kept.id));
            }
        }
    }
}
