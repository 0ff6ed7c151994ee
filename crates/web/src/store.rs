//! What the browser keeps for this page, each text under a name.
//!
//! One rule holds for every [`Store`]: a text that cannot be read, or that a newer version wrote, is shown with the
//! reason; and before it is written over or removed it is copied under a name of its own, which nothing ever writes
//! over. Where there is no room for the copy, the text stays.

use crate::plain;
use crate::protocol::attribute::FOLDER;
use crate::protocol::storage::UNREAD;
use clothyard_core::plain::FromPlain;
use clothyard_core::report::ErrorReport;
use serde::Serialize;
use web_sys::Storage;

/// Texts under names.
pub trait Texts {
    /// The text under a name.
    fn get(&self, name: &str) -> Option<String>;

    /// Keeps a text under a name.
    ///
    /// # Errors
    /// Why it was not kept, for a sentence.
    fn put(&self, name: &str, text: &str) -> Result<(), &'static str>;

    /// Forgets the text under a name.
    fn forget(&self, name: &str);
}

/// The browser's own storages of texts.
#[derive(Clone, Copy, Debug)]
pub enum Browser {
    /// Of every tab and every visit.
    Local,
    /// Of this tab alone, until it is closed.
    Tab,
}

impl Browser {
    fn storage(self) -> Option<Storage> {
        let window = crate::window()?;
        match self {
            Self::Local => window.local_storage(),
            Self::Tab => window.session_storage(),
        }
        .ok()?
    }
}

/// What every name ends in: two copies of the page on one host keep apart by their folder.
#[must_use]
pub fn folder() -> String {
    let root = crate::document().and_then(|document| document.document_element());
    root.and_then(|root| root.get_attribute(FOLDER)).unwrap_or_default()
}

fn in_folder(name: &str) -> String {
    name.to_owned() + &folder()
}

impl Texts for Browser {
    fn get(&self, name: &str) -> Option<String> {
        self.storage()?.get_item(&in_folder(name)).ok()?
    }

    fn put(&self, name: &str, text: &str) -> Result<(), &'static str> {
        let storage = self.storage().ok_or("browser storage is off")?;
        storage.set_item(&in_folder(name), text).map_err(|_| "browser storage is full or blocked")
    }

    fn forget(&self, name: &str) {
        if let Some(storage) = self.storage() {
            let _ = storage.remove_item(&in_folder(name));
        }
    }
}

/// The text under a name.
#[must_use]
pub fn get(name: &str) -> Option<String> {
    Browser::Local.get(name)
}

/// Keeps a text under a name.
///
/// # Errors
/// Why the browser did not keep it, for a sentence.
pub fn put(name: &str, text: &str) -> Result<(), &'static str> {
    Browser::Local.put(name, text)
}

/// Forgets the text under a name.
pub fn forget(name: &str) {
    Browser::Local.forget(name);
}

/// A text that cannot be read, and why.
#[derive(Clone, Debug, PartialEq)]
pub struct Unread {
    /// The text, as it was found.
    pub text: String,
    /// Why it cannot be read, and whether it is newer.
    pub error: Box<ErrorReport>,
}

/// A value kept as a text under a name.
#[derive(Debug)]
pub struct Store<T, S = Browser> {
    name: &'static str,
    texts: S,
    read: fn(&str) -> Result<T, ErrorReport>,
    write: fn(&T) -> String,
}

impl<T: FromPlain + Serialize> Store<T> {
    /// What the browser keeps as JSON under a name.
    #[must_use]
    pub const fn new(name: &'static str) -> Self {
        Self { name, texts: Browser::Local, read: plain::from_json, write: plain::to_json }
    }

    /// What this tab alone keeps as JSON under a name, until it is closed.
    #[must_use]
    pub const fn of_tab(name: &'static str) -> Self {
        Self { name, texts: Browser::Tab, read: plain::from_json, write: plain::to_json }
    }
}

impl<T, S: Texts> Store<T, S> {
    /// The text as it is; empty where there is none.
    pub fn text(&self) -> String {
        self.texts.get(self.name).unwrap_or_default()
    }

    /// The value, if there is one.
    ///
    /// # Errors
    /// [`Unread`], with the text itself; it stays where it is.
    pub fn read(&self) -> Result<Option<T>, Unread> {
        let text = self.text();
        if text.is_empty() {
            return Ok(None);
        }
        (self.read)(&text).map(Some).map_err(|error| Unread { text, error: Box::new(error) })
    }

    /// The value, if there is one, before the page keeps another in its place: what cannot be read is put aside at once.
    ///
    /// # Errors
    /// As [`Store::read`].
    pub fn read_or_put_aside(&self) -> Result<Option<T>, Unread> {
        let found = self.read();
        if let Err(unread) = &found {
            // Where there is no room for the copy, the next write fails, and the text stays in its place.
            let _ = self.put_aside(&unread.text);
        }
        found
    }

    /// Keeps a value.
    ///
    /// # Errors
    /// Why it was not kept, for a sentence; what was there before still is.
    pub fn write(&self, value: &T) -> Result<(), &'static str> {
        self.put_aside_unread()?;
        self.overwrite(value)
    }

    /// Forgets the value.
    ///
    /// # Errors
    /// Why it could not be put aside, where it cannot be read; it is still there.
    pub fn clear(&self) -> Result<(), &'static str> {
        self.put_aside_unread()?;
        self.texts.forget(self.name);
        Ok(())
    }

    /// Copies a text that cannot be read under a name where nothing else is.
    ///
    /// # Errors
    /// Why it was not copied.
    fn put_aside(&self, text: &str) -> Result<(), &'static str> {
        let mut name = aside(self.name);
        let mut count = 1_u32;
        while let Some(other) = self.texts.get(&name) {
            if other == text {
                return Ok(());
            }
            count += 1;
            name = format!("{}.{count}", aside(self.name));
        }
        self.texts.put(&name, text)
    }

    fn put_aside_unread(&self) -> Result<(), &'static str> {
        self.read().map_or_else(|unread| self.put_aside(&unread.text), |_| Ok(()))
    }

    fn overwrite(&self, value: &T) -> Result<(), &'static str> {
        self.texts.put(self.name, &(self.write)(value))
    }
}

/// Where a store's text is put aside first, if it cannot be read.
#[must_use]
pub fn aside(name: &str) -> String {
    format!("{name}{UNREAD}")
}

#[cfg(test)]
mod tests;
