//! Changes to what is stored: each reads it, changes one entry and writes it.

use super::lists::{DELETE, DROP, LOAD, PUT_ON, RENAME, SAVE_TEXT, TAKE_OUT, focus_row};
use super::store::{fresh_id, today};
use super::{ID, LASTING, Library, NAME, files, named, say, say_lasting, typed};
use crate::context::Context;
use crate::records::Contents;
use crate::save;
use clothyard_core::Setup;
use clothyard_studies::sharing::library::{self, MOST_BACKUP_BYTES, StoredSetup};
use clothyard_studies::sharing::parts::{PartKind, StoredPart};
use clothyard_web::widgets::list::Act;
use clothyard_web::widgets::{field, select};
use clothyard_web::{self as dom, View, plain};

/// Something removed, with its place.
pub(super) enum Removed {
    Setup((usize, StoredSetup)),
    Part((usize, StoredPart)),
}

impl Removed {
    fn id_and_name(&self) -> (String, String) {
        match self {
            Self::Setup((_, stored)) => (stored.id.clone(), stored.setup.name.clone()),
            Self::Part((_, part)) => (part.id.clone(), part.name.clone()),
        }
    }
}

impl Library {
    /// Changes what is saved. A reason that the change gives for doing nothing is said, unless it is empty.
    fn edit<T>(
        &mut self,
        context: &Context,
        change: impl FnOnce(&mut library::Library) -> Result<T, String>,
    ) -> Option<T> {
        let (mut change, mut result) = (Some(change), None);
        let done = self.edit_by(context, &mut |contents| {
            result = change.take().map(|change| change(&mut contents.library)).transpose()?;
            Ok(())
        });
        result.filter(|_| done)
    }

    /// The part of [`Library::edit`] that is the same for every change, so that it is in the wasm once.
    fn edit_by(&mut self, context: &Context, change: &mut dyn FnMut(&mut Contents) -> Result<(), String>) -> bool {
        let done = context.records.change(ID, change);
        if let Err(why) = done {
            if why.is_empty() {
                self.show(context)
            } else {
                say(&why)
            }
            return false;
        }
        self.when_stored.begin();
        self.show(context);
        true
    }

    /// Does what a button of a row asks for.
    pub(super) fn act(&mut self, act: Act, id: &str, context: &Context) {
        match act {
            LOAD => self.load(id, context),
            RENAME => {
                self.lists.renamed = Some(id.to_owned());
                self.show(context);
                field::focus("#rename-name");
            }
            DELETE => {
                let removed = self.edit(context, |library| library.remove_setup(id).ok_or_else(String::new));
                self.offer_back(removed.map(Removed::Setup));
            }
            SAVE_TEXT => save_unread(id, context),
            DROP => self.drop_unread(id, context),
            PUT_ON => self.put_on(id, context),
            TAKE_OUT => {
                let removed = self.edit(context, |library| library.remove_part(id).ok_or_else(String::new));
                self.offer_back(removed.map(Removed::Part));
            }
            _ => {}
        }
    }

    /// Deletes a record that cannot be read.
    fn drop_unread(&mut self, key: &str, context: &Context) {
        let done = self.edit_by(context, &mut |contents| {
            contents.unread.retain(|record| record.key != key);
            Ok(())
        });
        if done {
            self.when_stored.say("Deleted.".to_owned());
        }
    }

    /// Stores the setup on the page by its name.
    pub(super) fn add_setup(&mut self, context: &Context) {
        let Some(setup) = context.setup().map(|setup| named(&setup)) else { return };
        let wanted = setup.name.clone();
        if wanted.is_empty() {
            return ask_for_name(NAME);
        }
        let stored = StoredSetup { id: fresh_id(), saved_on: today(), setup: setup.to_saved() };
        let done = self.edit(context, |library| {
            let first = library.setups.is_empty();
            library.add_setup(stored).map(|name| (name, first))
        });
        let Some((name, first)) = done else { return };
        let taken = if name == wanted { String::new() } else { format!(": \u{201c}{wanted}\u{201d} already exists") };
        self.when_stored.say(format!("Saved as \u{201c}{name}\u{201d}{taken}."));
        if first {
            ask_to_last(context);
        }
    }

    fn load(&mut self, id: &str, context: &Context) {
        let contents = context.records.contents();
        let setup = contents.library.setup(id).and_then(|stored| Setup::from_saved(&stored.setup).ok());
        let Some(setup) = setup else { return self.say_gone(context) };
        context.load(&setup);
        say(&format!("Opened \u{201c}{}\u{201d}. Undo restores your setup.", setup.name));
    }

    fn say_gone(&mut self, context: &Context) {
        say("No longer saved: another tab may have deleted it.");
        self.show(context);
    }

    /// Gives the setup whose name is being changed the name typed.
    pub(super) fn rename(&mut self, context: &Context) {
        let Some(id) = self.lists.renamed.clone() else { return };
        let wanted = typed("rename-name");
        if wanted.is_empty() {
            return ask_for_name("rename-name");
        }
        let done = self.edit(context, |library| library.rename(&id, &wanted).ok_or_else(String::new));
        self.end_renaming(context);
        if let Some(name) = done {
            self.when_stored.say(format!("Renamed to \u{201c}{name}\u{201d}."));
        }
    }

    /// Shows the row of the setup whose name was being changed as it was.
    pub(super) fn end_renaming(&mut self, context: &Context) {
        let renamed = self.lists.renamed.take();
        self.show(context);
        renamed.iter().for_each(|id| focus_row(id, "[data-act=rename]"));
    }

    fn offer_back(&mut self, removed: Option<Removed>) {
        let Some(removed) = removed else { return };
        let (_, name) = removed.id_and_name();
        self.removed = Some(removed);
        self.when_stored.say(format!("Deleted \u{201c}{name}\u{201d}."));
        dom::write_id("keeping-put-back", &format!("Restore \u{201c}{name}\u{201d}"));
        dom::hide("keeping-put-back", false);
        field::focus("#keeping-put-back");
    }

    /// Puts back what was removed last.
    pub(super) fn put_back(&mut self, context: &Context) {
        let Some(removed) = self.removed.take() else { return };
        let done = self.edit(context, |library| {
            match &removed {
                Removed::Setup(setup) => library.restore_setup(setup.clone()),
                Removed::Part(part) => library.restore_part(part.clone()),
            }
            Ok(())
        });
        if done.is_none() {
            self.removed = Some(removed);
            return;
        }
        dom::hide("keeping-put-back", true);
        self.when_stored.say("Restored.".to_owned());
        focus_row(&removed.id_and_name().0, "");
    }

    /// Stores a part of the arrow on the page.
    pub(super) fn add_part(&mut self, context: &Context) {
        let key = select::chosen("drawer-kind");
        let kind = PartKind::ALL.into_iter().find(|kind| kind.key() == key);
        let (Some(kind), Some(now)) = (kind, context.read()) else { return };
        let part = StoredPart::on_arrow(kind, &now.setup, fresh_id(), &typed("drawer-name"), &now.units);
        let name = part.name.clone();
        if self.edit(context, |library| library.add_part(part)).is_some() {
            field::overwrite("drawer-name", "");
            self.when_stored.say(format!("Saved \u{201c}{name}\u{201d} in My parts."));
        }
    }

    fn put_on(&mut self, id: &str, context: &Context) {
        let Some(setup) = context.setup() else { return };
        let contents = context.records.contents();
        let Some(part) = contents.library.part(id) else { return self.say_gone(context) };
        if let Ok(setup) = part.put_on(&setup) {
            context.load(&setup);
            say(&format!("Applied \u{201c}{}\u{201d}. Undo restores your setup.", part.name));
        }
    }

    /// Reads in the text pasted.
    pub(super) fn import_pasted(&mut self, context: &Context) {
        let text = field::text("import-text");
        if text.trim().is_empty() {
            say("Paste the text of a backup or a setup first.");
        } else if text.len() > MOST_BACKUP_BYTES {
            files::say_too_large();
        } else if self.import(&text, context) {
            field::overwrite("import-text", "");
        }
    }

    /// Adds what a text holds to what is stored, or says why not; whether it did.
    pub(super) fn import(&mut self, text: &str, context: &Context) -> bool {
        let backup = match plain::from_json::<library::Library>(text) {
            Ok(backup) => backup,
            Err(error) => {
                say(&format!("Not imported; nothing was changed. {}", error.message));
                if !error.is_newer() {
                    self.recovery.show_import(&error.message, text);
                }
                return false;
            }
        };
        let imported = self.edit(context, |library| Ok(library.import(backup, fresh_id, &today())));
        imported.iter().for_each(|imported| self.when_stored.say(imported.in_words()));
        imported.is_some()
    }
}

/// The text of a record that cannot be read, as a file.
fn save_unread(key: &str, context: &Context) {
    let contents = context.records.contents();
    if let Some(record) = contents.unread.iter().find(|record| record.key == key) {
        say(&save::json("clothyard-unread.txt", &record.text));
    }
}

fn ask_for_name(id: &str) {
    say("Enter a setup name.");
    field::focus(&format!("#{id}"));
}

/// Asks the browser not to clear what is stored when it runs out of room, and says what it answers.
fn ask_to_last(context: &Context) {
    let storage = dom::window().map(|window| window.navigator().storage());
    match storage.and_then(|storage| storage.persist().ok()) {
        Some(promise) => context.reply_when(&promise, ID, LASTING),
        None => say_lasting(None),
    }
}
