//! Seeded cases with this program's results, which the scripts of `tests/reference` compute independently.
//!
//! To add a subject: a file in `reference/`, a line in [`SUBJECTS`], and a script of the same name in `tests/reference`
//! that computes the results from what is given.

mod air;
mod column;
mod drag;
mod draw_force;
mod estimate;
mod fingers;
mod fins;
mod flex;
mod matched;
mod path;
mod speeds;
mod spin;
mod yaw;

use serde::Serialize;
use serde_json::{Map, Value};

/// A seeded random number generator (SplitMix64, Steele, Lea & Flood 2014).
#[derive(Debug)]
pub struct Dice(u64);

impl Dice {
    /// A generator with a seed.
    #[must_use]
    pub const fn new(seed: u64) -> Self {
        Self(seed)
    }

    fn roll(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut bits = self.0;
        bits = (bits ^ (bits >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        bits = (bits ^ (bits >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        bits ^ (bits >> 31)
    }

    /// A uniform number in `low..high`.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        let share = (self.roll() >> 11) as f64 / (1_u64 << 53) as f64;
        low + share * (high - low)
    }

    /// A number near enough to normal, of mean 0 and variance 1: twelve even numbers summed.
    pub fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.between(-0.5, 0.5)).sum()
    }

    /// An index below `count`.
    pub fn pick(&mut self, count: usize) -> usize {
        (self.roll() % count.max(1) as u64) as usize
    }
}

/// One case: inputs in SI units and this program's results.
#[derive(Debug, Serialize)]
pub struct Case {
    /// Inputs by name.
    pub given: Map<String, Value>,
    /// Results by name: numbers or lists of numbers.
    pub ours: Map<String, Value>,
}

impl Case {
    /// A case from two JSON objects.
    ///
    /// # Errors
    /// Where one is not an object.
    pub fn new(given: Value, ours: Value) -> Result<Self, String> {
        match (given, ours) {
            (Value::Object(given), Value::Object(ours)) => Ok(Self { given, ours }),
            _ => Err("a case is two objects".to_owned()),
        }
    }
}

/// Generates a case.
type Maker = fn(&mut Dice) -> Result<Case, String>;

/// Every subject, by the name of its script.
pub const SUBJECTS: &[(&str, Maker)] = &[
    ("air", air::case),
    ("column", column::case),
    ("drag", drag::case),
    ("draw_force", draw_force::case),
    ("estimate", estimate::case),
    ("fingers", fingers::case),
    ("fins", fins::case),
    ("flex", flex::case),
    ("matched", matched::case),
    ("path", path::case),
    ("speeds", speeds::case),
    ("spin", spin::case),
    ("yaw", yaw::case),
];

/// `count` cases of a subject, equal on each run.
///
/// # Errors
/// An unknown subject, or a case without a result.
pub fn cases(subject: &str, count: usize) -> Result<Vec<Case>, String> {
    let known = SUBJECTS.iter().find(|(name, _)| *name == subject);
    let (name, make) = known.ok_or_else(|| format!("there is no subject {subject}"))?;
    let mut dice = Dice::new(name.bytes().fold(0, |seed, byte| seed * 31 + u64::from(byte)));
    (0..count).map(|_| make(&mut dice)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_names_every_subject_and_no_other() {
        let page = include_str!("../../../tests/accuracy.md");
        let (_, table) = page.split_once("<!-- reference -->").unwrap();
        let mut named: Vec<_> = table.lines().filter_map(|line| line.strip_prefix("| ")?.split(' ').next()).collect();
        named.retain(|name| *name != "Subject");
        named.dedup();
        let subjects: Vec<_> = SUBJECTS.iter().map(|(name, _)| *name).collect();
        assert_eq!(named, subjects, "tests/accuracy.md is stale: run scripts/accuracy --write");
    }
}
