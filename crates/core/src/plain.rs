//! One reader of plain objects: what JSON can say, as a file, a store, another page or a script holds it.
//!
//! What can be read is [`FromPlain`], over a [`Node`]: a value with its place, so that every error names where the
//! fault is. The browser's own objects are [`Plain`], and so is `serde_json::Value` with the feature `json`: what
//! ships is what native tests and fuzzing run. Serde's reader for any shape would be a fifth of the page's wasm.

#[cfg(any(test, feature = "json"))]
mod json;
mod saved;

#[cfg(any(test, feature = "json"))]
pub use json::from_json;

use crate::ordered_map::OrderedMap;
use crate::report::ErrorReport;

/// A value as JSON knows them. Anything else is none of these.
pub trait Plain: Sized {
    /// The number.
    fn as_f64(&self) -> Option<f64>;
    /// The text.
    fn as_text(&self) -> Option<String>;
    /// Whether it is null.
    fn is_null(&self) -> bool;
    /// The items of a list.
    fn items(&self) -> Option<Vec<Self>>;
    /// The keys and values of an object, each key once.
    fn entries(&self) -> Option<Vec<(String, Self)>>;
}

/// What can be read from plain values.
pub trait FromPlain: Sized {
    /// What a whole value is called, as the subject of a sentence.
    const NAME: &'static str = "The text";

    /// Reads it.
    ///
    /// # Errors
    /// The place of what cannot be read, and what is wanted there.
    fn from_plain<P: Plain>(node: &Node<P>) -> Result<Self, ErrorReport>;
}

/// Reads a whole value.
///
/// # Errors
/// The place of what cannot be read, and what is wanted there.
pub fn read<T: FromPlain, P: Plain>(value: P) -> Result<T, ErrorReport> {
    T::from_plain(&Node { value, place: T::NAME.to_owned(), outermost: true })
}

/// A value and its place.
#[derive(Debug)]
pub struct Node<P> {
    value: P,
    place: String,
    /// Whether what is in it goes by its key alone.
    outermost: bool,
}

impl<P: Plain> Node<P> {
    /// The number.
    ///
    /// # Errors
    /// Its place, where it is none.
    pub fn number(&self) -> Result<f64, ErrorReport> {
        self.value.as_f64().ok_or_else(|| self.wrong("expected a number"))
    }

    /// The text.
    ///
    /// # Errors
    /// Its place, where it is none.
    pub fn text(&self) -> Result<String, ErrorReport> {
        self.value.as_text().ok_or_else(|| self.wrong("expected text"))
    }

    /// The items of a list.
    ///
    /// # Errors
    /// Its place, where it is none.
    pub fn items(&self) -> Result<Vec<Self>, ErrorReport> {
        let items = self.value.items().ok_or_else(|| self.wrong("expected a list"))?;
        let item = |(index, value)| Self { value, place: format!("{}[{index}]", self.place), outermost: false };
        Ok(items.into_iter().enumerate().map(item).collect())
    }

    /// The object.
    ///
    /// # Errors
    /// Its place, where it is none.
    pub fn object(&self) -> Result<Object<P>, ErrorReport> {
        let entries = self.value.entries().ok_or_else(|| self.wrong("expected an object"))?;
        let prefix = if self.outermost { String::new() } else { format!("{}.", self.place) };
        let entry = |(key, value): (String, P)| {
            let place = format!("{prefix}{key}");
            (key, Self { value, place, outermost: false })
        };
        Ok(Object { entries: entries.into_iter().map(entry).collect(), prefix })
    }

    /// That something else is wanted here.
    #[must_use]
    pub fn wrong(&self, wanted: &str) -> ErrorReport {
        ErrorReport::shape(&self.place, wanted)
    }
}

/// The entries of an object that are not read yet.
#[derive(Debug)]
pub struct Object<P> {
    entries: Vec<(String, Node<P>)>,
    /// What precedes a key in a place.
    prefix: String,
}

impl<P: Plain> Object<P> {
    /// Whether an entry with the key is there and not yet read.
    #[must_use]
    pub fn has(&self, key: &str) -> bool {
        self.entries.iter().any(|(name, _)| name == key)
    }

    /// Takes the value of a key, if the object has it.
    pub fn take(&mut self, key: &str) -> Option<Node<P>> {
        let index = self.entries.iter().position(|(name, _)| name == key)?;
        Some(self.entries.remove(index).1)
    }

    /// Takes the value of a key that must be there.
    ///
    /// # Errors
    /// The key, where missing.
    pub fn require(&mut self, key: &str) -> Result<Node<P>, ErrorReport> {
        self.take(key).ok_or_else(|| ErrorReport::shape(&format!("{}{key}", self.prefix), "missing"))
    }

    /// Reads the value of a key that must be there.
    ///
    /// # Errors
    /// The key, where missing; else as [`FromPlain::from_plain`].
    pub fn read<T: FromPlain>(&mut self, key: &str) -> Result<T, ErrorReport> {
        T::from_plain(&self.require(key)?)
    }

    /// Reads the value of a key that may be left out.
    ///
    /// # Errors
    /// As [`FromPlain::from_plain`].
    pub fn read_or_default<T: FromPlain + Default>(&mut self, key: &str) -> Result<T, ErrorReport> {
        self.take(key).map_or_else(|| Ok(T::default()), |node| T::from_plain(&node))
    }

    /// Takes the schema's version; to be asked before anything else, which a newer version may have changed.
    ///
    /// # Errors
    /// Where missing, no version, or newer than `newest`, in which case [`ErrorReport::is_newer`].
    pub fn version(&mut self, newest: u32, what: &str) -> Result<u32, ErrorReport> {
        let node = self.require("schemaVersion")?;
        let version = node.number()?;
        if version < 1.0 || version % 1.0 != 0.0 {
            return Err(node.wrong("expected a whole number from 1"));
        }
        if version > f64::from(newest) {
            Err(ErrorReport::newer(version as u32, newest, what))
        } else {
            Ok(version as u32)
        }
    }

    /// Ends the reading: every entry must have been read.
    ///
    /// # Errors
    /// A key that was not.
    pub fn end(self) -> Result<(), ErrorReport> {
        self.entries.first().map_or(Ok(()), |(_, node)| Err(node.wrong("unknown key")))
    }
}

impl FromPlain for f64 {
    fn from_plain<P: Plain>(node: &Node<P>) -> Result<Self, ErrorReport> {
        node.number()
    }
}

impl FromPlain for String {
    fn from_plain<P: Plain>(node: &Node<P>) -> Result<Self, ErrorReport> {
        node.text()
    }
}

impl<T: FromPlain> FromPlain for Option<T> {
    fn from_plain<P: Plain>(node: &Node<P>) -> Result<Self, ErrorReport> {
        if node.value.is_null() { Ok(None) } else { T::from_plain(node).map(Some) }
    }
}

impl<T: FromPlain> FromPlain for Vec<T> {
    fn from_plain<P: Plain>(node: &Node<P>) -> Result<Self, ErrorReport> {
        node.items()?.iter().map(T::from_plain).collect()
    }
}

/// An entry's place is its key, without that of the map: it is known by that alone.
impl<T: FromPlain> FromPlain for OrderedMap<String, T> {
    fn from_plain<P: Plain>(node: &Node<P>) -> Result<Self, ErrorReport> {
        let prefix = node.place.rfind('.').and_then(|dot| node.place.get(..=dot)).unwrap_or_default();
        let entry = |(key, node): (String, Node<P>)| {
            let node = Node { place: format!("{prefix}{key}"), ..node };
            T::from_plain(&node).map(|value| (key, value))
        };
        node.object()?.entries.into_iter().map(entry).collect()
    }
}

#[cfg(test)]
mod tests;
