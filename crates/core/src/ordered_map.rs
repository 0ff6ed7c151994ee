//! A short list of keys and values that reads and writes as a map.
//!
//! The order is kept. It stands in for a tree map, whose code alone would be a tenth of the page's wasm.

use core::fmt;
use core::marker::PhantomData;
use serde::de::{Deserialize, Deserializer, MapAccess, Visitor};
use serde::ser::{Serialize, Serializer};

/// Keys and values in the order given.
#[derive(Clone, Debug, PartialEq)]
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

impl<'de, K: Deserialize<'de>, V: Deserialize<'de>> Deserialize<'de> for OrderedMap<K, V> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_map(Pairs(PhantomData))
    }
}

struct Pairs<K, V>(PhantomData<(K, V)>);

impl<'de, K: Deserialize<'de>, V: Deserialize<'de>> Visitor<'de> for Pairs<K, V> {
    type Value = OrderedMap<K, V>;

    fn expecting(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str("keys and values")
    }

    fn visit_map<M: MapAccess<'de>>(self, mut map: M) -> Result<Self::Value, M::Error> {
        let mut pairs = Vec::new();
        while let Some(pair) = map.next_entry()? {
            pairs.push(pair);
        }
        Ok(OrderedMap(pairs))
    }
}
