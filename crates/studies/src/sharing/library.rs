//! Saved setups and parts, as stored and written to a backup.
//!
//! Every change is made to what has just been read from the store, entry by entry, so that two pages open at
//! once never undo each other's work.

mod import;

pub use import::Imported;

use crate::sharing::parts::{StoredPart, resolved, said, tidy_name};
use clothyard_core::report::ErrorReport;
use clothyard_core::schema::Field;
use clothyard_core::setup::{MAX_NAME_CHARS, SCHEMA_VERSION, SavedSetup, Setup, SetupError};
use clothyard_core::units::Units;
use serde::Serialize;

/// Most setups kept by name, and most parts: more than anybody saves, few enough for a list on a page.
pub const MOST_ENTRIES: usize = 5_000;

/// Most bytes of a backup that are read: more than all of its entries together.
pub const MOST_BACKUP_BYTES: usize = 100_000_000;

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
        // The name may be what is too long.
        let name: String = self.entry.chars().take(MAX_NAME_CHARS).collect();
        if name.is_empty() { message } else { format!("\u{201c}{name}\u{201d}: {message}") }
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

    /// The weights of the points, in grains, the lightest first, each once: what the first screen knows of the library.
    #[must_use]
    pub fn point_weights(&self) -> Vec<f64> {
        let mut weights: Vec<_> = self.parts.iter().filter_map(StoredPart::point_weight).collect();
        weights.sort_by(f64::total_cmp);
        weights.dedup();
        weights
    }

    /// The name wanted, or with a number behind it where another setup than `id` has it already.
    #[must_use]
    pub fn free_name(&self, wanted: &str, id: &str) -> String {
        let wanted = tidy_name(wanted);
        let others = self.setups.iter().filter(|kept| kept.id != id);
        let mut names: Vec<_> = others.map(|kept| kept.setup.name.as_str()).collect();
        names.sort_unstable();
        let taken = |name: &str| names.binary_search(&name).is_ok();
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
}

#[cfg(test)]
mod tests;
