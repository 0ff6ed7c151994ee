//! Reading a backup in: what it adds, and what came of it.

use super::{Library, MOST_ENTRIES, StoredSetup};

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

impl Library {
    /// Adds what a backup holds and is not here yet, in the order of the ids, which begin with the time. Nothing here is
    /// changed: an entry with the id of another gets a new one, and a name that is taken gets a number. `fresh_id` gives
    /// ids, `today` is the day for a setup that was current when the backup was written.
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
