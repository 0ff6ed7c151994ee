//! A short list of keys and values that is written as a map.
//!
//! The order is kept. It takes the place of a tree map, whose code alone would be a tenth of the page's wasm.

use serde::ser::{Serialize, Serializer};

/// Keys and values in the order given, each key once. Like JSON's objects, two are equal whatever their order.
#[derive(Clone, Debug)]
pub struct OrderedMap<K, V>(pub Vec<(K, V)>);

impl<K: PartialEq<str>, V> OrderedMap<K, V> {
    /// The value of a key.
    #[must_use]
    pub fn get(&self, key: &str) -> Option<&V> {
        self.0.iter().find(|(name, _)| name == key).map(|(_, value)| value)
    }

    /// Takes a key out.
    pub fn remove(&mut self, key: &str) {
        self.0.retain(|(name, _)| name != key);
    }
}

impl<K, V> OrderedMap<K, V> {
    /// Whether there is nothing in it.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
}

impl<K: PartialEq, V: PartialEq> PartialEq for OrderedMap<K, V> {
    fn eq(&self, other: &Self) -> bool {
        self.0.len() == other.0.len() && self.0.iter().all(|pair| other.0.contains(pair))
    }
}

impl<K, V> Default for OrderedMap<K, V> {
    fn default() -> Self {
        Self(Vec::new())
    }
}

impl<K, V> FromIterator<(K, V)> for OrderedMap<K, V> {
    fn from_iter<I: IntoIterator<Item = (K, V)>>(pairs: I) -> Self {
        Self(pairs.into_iter().collect())
    }
}

impl<K: Serialize, V: Serialize> Serialize for OrderedMap<K, V> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_map(self.0.iter().map(|(key, value)| (key, value)))
    }
}
