//! Set-ups kept by name and the drawer of the user's own parts, as they are stored and written to a backup.
//!
//! Every change is made to what has just been read from the store, entry by entry, so that two pages open at
//! once never undo each other's work.

use crate::sharing::drawer::{DrawerPart, resolved, said, tidy_name};
use clothyard_core::report::ErrorReport;
use clothyard_core::schema::Field;
use clothyard_core::setup::{MOST_NAME_CHARS, SCHEMA_VERSION, SavedSetup, Setup, SetupError};
use clothyard_core::units::Units;
use serde::Serialize;

/// Most set-ups kept by name, and most parts in the drawer.
pub const MOST_ENTRIES: usize = 500;

/// Most bytes of a backup that are read.
pub const MOST_BACKUP_BYTES: usize = 1_000_000;

/// A set-up kept by the name its build carries.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct KeptBuild {
    /// What it is known by, whatever it is called.
    pub id: String,
    /// The day it was kept, as in ISO 8601.
    pub kept_on: String,
    /// The set-up.
    #[serde(rename = "build")]
    pub setup: SavedSetup,
}

/// Draw weight, draw length, point and spine of a set-up, in words.
#[must_use]
pub fn summary(setup: &Setup, units: &Units) -> String {
    let resolved = resolved(setup);
    let words = |field: Field| said(field, resolved.value(field), units).unwrap_or_default();
    let spine = match setup.get(Field::StaticSpine) {
        Some(_) => words(Field::StaticSpine),
        None => "left to the page".to_owned(),
    };
    format!(
        "{} at {}, point {}, spine {spine}",
        words(Field::PeakDrawWeight),
        words(Field::DrawLength),
        words(Field::PointMass)
    )
}

/// Everything kept by name; with the current set-up it is a backup.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct Shelf {
    /// Schema of what follows.
    pub schema_version: u32,
    /// Set-ups, the newest first.
    pub kept: Vec<KeptBuild>,
    /// Parts, the newest first.
    pub drawer: Vec<DrawerPart>,
    /// The set-up on the page; only in a backup.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub current: Option<SavedSetup>,
}

impl Default for Shelf {
    fn default() -> Self {
        Self { schema_version: SCHEMA_VERSION, kept: Vec::new(), drawer: Vec::new(), current: None }
    }
}

/// Why a store or a backup cannot be read.
#[derive(Clone, Debug, PartialEq)]
pub struct ShelfError {
    /// The name of the entry that is at fault; empty where it is none of them.
    pub entry: String,
    /// What is wrong with it.
    pub error: SetupError,
}

impl ShelfError {
    /// What is wrong, in a sentence.
    #[must_use]
    pub fn message(&self) -> String {
        let message = ErrorReport::of(&self.error).message;
        if self.entry.is_empty() { message } else { format!("\u{201c}{}\u{201d}: {message}", self.entry) }
    }
}

/// What came of reading a backup in.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct TakenIn {
    /// Names of the set-ups that were added.
    pub names: Vec<String>,
    /// Parts that were added.
    pub parts: usize,
    /// Entries that were there already.
    pub known: usize,
    /// Entries there was no room for.
    pub no_room: usize,
}

impl Shelf {
    /// Checks every entry.
    ///
    /// # Errors
    /// [`ShelfError`], naming the entry and what is allowed.
    pub fn check(&self) -> Result<(), ShelfError> {
        let whole = |error| ShelfError { entry: String::new(), error };
        if self.schema_version > SCHEMA_VERSION || self.schema_version == 0 {
            return Err(whole(SetupError::Schema { found: self.schema_version, newest: SCHEMA_VERSION }));
        }
        for (key, count) in [("kept", self.kept.len()), ("drawer", self.drawer.len())] {
            if count > MOST_ENTRIES {
                return Err(whole(SetupError::TooMany { key, most: MOST_ENTRIES }));
            }
        }
        for setup in self.kept.iter().map(|kept| &kept.setup).chain(&self.current) {
            Setup::from_saved(setup).map_err(|error| ShelfError { entry: setup.name.clone(), error })?;
        }
        for part in &self.drawer {
            part.check().map_err(|error| ShelfError { entry: part.name.clone(), error })?;
        }
        Ok(())
    }

    /// The set-up with an id.
    #[must_use]
    pub fn kept(&self, id: &str) -> Option<&KeptBuild> {
        self.kept.iter().find(|kept| kept.id == id)
    }

    /// The part with an id.
    #[must_use]
    pub fn part(&self, id: &str) -> Option<&DrawerPart> {
        self.drawer.iter().find(|part| part.id == id)
    }

    /// The name wanted, or with a number behind it where another set-up than `id` has it already.
    #[must_use]
    pub fn free_name(&self, wanted: &str, id: &str) -> String {
        let wanted = tidy_name(wanted);
        let taken = |name: &str| self.kept.iter().any(|kept| kept.id != id && kept.setup.name == name);
        let mut name = wanted.clone();
        // One more than there are set-ups is free in any case.
        for number in 2..=self.kept.len() + 1 {
            if !taken(&name) {
                break;
            }
            let suffix = format!(" ({number})");
            let room = MOST_NAME_CHARS - suffix.len();
            name = wanted.chars().take(room).collect::<String>() + &suffix;
        }
        name
    }

    /// Keeps a set-up, and gives the name it has now; none where there is no room.
    pub fn keep(&mut self, mut kept: KeptBuild) -> Option<String> {
        if self.kept.len() >= MOST_ENTRIES {
            return None;
        }
        let name = self.free_name(&kept.setup.name, &kept.id);
        kept.setup.name.clone_from(&name);
        self.kept.insert(0, kept);
        Some(name)
    }

    /// Calls a set-up otherwise, and gives the name it has now; none where it is gone.
    pub fn rename(&mut self, id: &str, wanted: &str) -> Option<String> {
        let name = self.free_name(wanted, id);
        let kept = self.kept.iter_mut().find(|kept| kept.id == id)?;
        kept.setup.name.clone_from(&name);
        Some(name)
    }

    /// Takes a set-up away, and gives it with its place.
    pub fn remove(&mut self, id: &str) -> Option<(usize, KeptBuild)> {
        let place = self.kept.iter().position(|kept| kept.id == id)?;
        Some((place, self.kept.remove(place)))
    }

    /// Puts a set-up back that was taken away, unless it is there again already.
    pub fn put_back(&mut self, (place, mut kept): (usize, KeptBuild)) {
        if self.kept(&kept.id).is_none() {
            kept.setup.name = self.free_name(&kept.setup.name, &kept.id);
            self.kept.insert(place.min(self.kept.len()), kept);
        }
    }

    /// Takes a part out of the drawer, and gives it with its place.
    pub fn remove_part(&mut self, id: &str) -> Option<(usize, DrawerPart)> {
        let place = self.drawer.iter().position(|part| part.id == id)?;
        Some((place, self.drawer.remove(place)))
    }

    /// Puts a part back that was taken out, unless it is there again already.
    pub fn put_part_back(&mut self, (place, part): (usize, DrawerPart)) {
        if self.part(&part.id).is_none() {
            self.drawer.insert(place.min(self.drawer.len()), part);
        }
    }

    /// Adds what a backup holds and is not here yet. Nothing here is changed: an entry with the id of another
    /// gets a new one, and a name that is taken gets a number. `fresh_id` gives ids, `today` is the day for a
    /// set-up that was current when the backup was written.
    pub fn take_in(&mut self, backup: Self, fresh_id: fn() -> String, today: &str) -> TakenIn {
        let mut taken = TakenIn::default();
        let current = backup.current.filter(|current| !backup.kept.iter().any(|kept| kept.setup == *current));
        let current = current.map(|setup| KeptBuild { id: String::new(), kept_on: today.to_owned(), setup });
        for mut kept in backup.kept.into_iter().chain(current) {
            if self.kept(&kept.id).is_some_and(|here| here.setup == kept.setup) {
                taken.known += 1;
            } else if self.kept.len() >= MOST_ENTRIES {
                taken.no_room += 1;
            } else {
                if kept.id.is_empty() || self.kept(&kept.id).is_some() {
                    kept.id = fresh_id();
                }
                let wanted = if kept.setup.name.trim().is_empty() { "Set-up read in" } else { &kept.setup.name };
                kept.setup.name = self.free_name(wanted, &kept.id);
                taken.names.push(kept.setup.name.clone());
                self.kept.push(kept);
            }
        }
        for mut part in backup.drawer {
            if self.part(&part.id).is_some_and(|here| *here == part) {
                taken.known += 1;
            } else if self.drawer.len() >= MOST_ENTRIES {
                taken.no_room += 1;
            } else {
                if part.id.is_empty() || self.part(&part.id).is_some() {
                    part.id = fresh_id();
                }
                taken.parts += 1;
                self.drawer.push(part);
            }
        }
        taken
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sharing::drawer::PartKind;
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

    fn any_kept() -> impl Strategy<Value = KeptBuild> {
        ("[a-d]", any_setup(), "[ab]{1,2}").prop_map(|(id, setup, name)| {
            let setup = SavedSetup { name, ..setup.to_saved() };
            KeptBuild { id, kept_on: "2026-02-28".to_owned(), setup }
        })
    }

    fn any_part() -> impl Strategy<Value = DrawerPart> {
        ("[a-d]", 0usize..4, any_setup(), "[a-z ]{0,12}").prop_map(|(id, kind, setup, name)| {
            DrawerPart::on_arrow(PartKind::ALL[kind], &setup, id, &name, &Units::ARCHERY)
        })
    }

    fn any_shelf() -> impl Strategy<Value = Shelf> {
        (vec(any_kept(), 0..5), vec(any_part(), 0..5)).prop_map(|(kept, drawer)| {
            let mut shelf = Shelf::default();
            shelf.take_in(Shelf { kept, drawer, ..Shelf::default() }, fresh_id, "");
            shelf
        })
    }

    fn named(shelf: &Shelf) -> Vec<&str> {
        shelf.kept.iter().map(|kept| kept.setup.name.as_str()).collect()
    }

    fn keep(shelf: &mut Shelf, name: &str) -> String {
        let setup = SavedSetup { name: name.to_owned(), ..Setup::default().to_saved() };
        shelf.keep(KeptBuild { id: fresh_id(), kept_on: String::new(), setup }).unwrap()
    }

    #[test]
    fn a_name_that_is_taken_gets_a_number() {
        let mut shelf = Shelf::default();
        assert_eq!(
            ["Bow", " Bow ", "Bow", "Bow (2)"].map(|name| keep(&mut shelf, name)),
            ["Bow", "Bow (2)", "Bow (3)", "Bow (2) (2)"]
        );
        let id = shelf.kept[0].id.clone();
        assert_eq!(shelf.rename(&id, "Bow (2) (2)").as_deref(), Some("Bow (2) (2)"), "its own name is free to it");
        assert_eq!(shelf.rename(&id, "Bow").as_deref(), Some("Bow (4)"));
        assert_eq!(shelf.rename("gone", "Bow"), None);
        let long = "x".repeat(100);
        assert_eq!(keep(&mut shelf, &long).len(), MOST_NAME_CHARS);
        assert_eq!(keep(&mut shelf, &long), "x".repeat(MOST_NAME_CHARS - 4) + " (2)");
    }

    #[test]
    fn what_is_deleted_comes_back_to_its_place() {
        let mut shelf = Shelf::default();
        for name in ["c", "b", "a"] {
            keep(&mut shelf, name);
        }
        let before = shelf.clone();
        let id = shelf.kept[1].id.clone();
        let removed = shelf.remove(&id).unwrap();
        assert_eq!(named(&shelf), ["a", "c"]);
        shelf.put_back(removed.clone());
        shelf.put_back(removed);
        assert_eq!(shelf, before);
    }

    #[test]
    fn a_full_shelf_takes_no_more() {
        let mut shelf = Shelf::default();
        for _ in 0..MOST_ENTRIES {
            keep(&mut shelf, "Bow");
        }
        let one = shelf.kept[0].clone();
        assert_eq!(shelf.keep(KeptBuild { id: fresh_id(), ..one.clone() }), None);
        let more = Shelf { kept: vec![KeptBuild { id: fresh_id(), ..one }], ..Shelf::default() };
        assert_eq!(shelf.take_in(more, fresh_id, "").no_room, 1);
        assert_eq!(shelf.check(), Ok(()));
    }

    #[test]
    fn messages_name_the_entry() {
        let json = r#"{"schemaVersion":1,"kept":[{"id":"a","keptOn":"","build":
            {"schemaVersion":1,"name":"Blue","inputs":{"pointGr":-5}}}]}"#;
        let message = from_json::<Shelf>(json).unwrap_err().message;
        assert!(message.contains("Blue") && message.contains("pointGr"), "{message}");

        let json = r#"{"schemaVersion":1,"drawer":[{"id":"a","kind":"nock","name":"Pin","inputs":{"pointGr":100}}]}"#;
        let error = from_json::<Shelf>(json).unwrap_err();
        assert_eq!((error.code, error.message.as_str()), ("unknownKey", "“Pin”: pointGr: no input has this key."));

        let newer = Shelf { schema_version: 7, ..Shelf::default() };
        assert!(newer.check().unwrap_err().message().contains("schemaVersion 7"));
    }

    #[test]
    fn a_set_up_is_summed_up() {
        let mut setup = Setup::default();
        assert_eq!(
            summary(&setup, &Units::ARCHERY),
            "50\u{a0}lb at 28\u{a0}in, point 100\u{a0}gr, spine left to the page"
        );
        setup.set(Field::StaticSpine, Some(Value::Number(340.0))).unwrap();
        assert!(summary(&setup, &Units::metric()).contains("71.12\u{a0}cm"));
        assert!(summary(&setup, &Units::ARCHERY).ends_with("spine 340"));
    }

    proptest! {
        #[test]
        fn a_backup_loses_nothing(mut shelf in any_shelf(), current in any_setup()) {
            shelf.current = Some(current.to_saved());
            let text = serde_json::to_string(&shelf).unwrap();
            let back: Shelf = from_json(&text).unwrap();
            prop_assert_eq!(&back, &shelf);

            let mut empty = Shelf::default();
            empty.take_in(Shelf { current: None, ..back }, fresh_id, "");
            prop_assert_eq!(empty, Shelf { current: None, ..shelf });
        }

        #[test]
        fn reading_in_changes_nothing_that_is_here(here in any_shelf(), backup in any_shelf()) {
            let mut both = here.clone();
            let taken = both.take_in(backup.clone(), fresh_id, "");
            prop_assert_eq!(&both.kept[..here.kept.len()], &here.kept[..]);
            prop_assert_eq!(&both.drawer[..here.drawer.len()], &here.drawer[..]);
            let backed_up = backup.kept.len() + backup.drawer.len();
            prop_assert_eq!(taken.names.len() + taken.parts + taken.known, backed_up);

            let mut names = named(&both);
            names.sort_unstable();
            names.dedup();
            prop_assert_eq!(names.len(), both.kept.len());
            for (place, kept) in both.kept.iter().enumerate() {
                prop_assert!(both.kept[..place].iter().all(|other| other.id != kept.id));
            }
        }
    }
}
