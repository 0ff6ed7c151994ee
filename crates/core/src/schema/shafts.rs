//! The list of shafts to choose from. The one shipped here is invented; the user's own replaces it.

use crate::parse::EntryError;
use crate::setup::{MOST_NAME_CHARS, SetupError};
use serde::Serialize;

/// A shaft one can buy, as its maker's sheet gives it.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct StockShaft {
    /// What the user calls it.
    pub name: String,
    /// Static spine after ASTM F2031, in thousandths of an inch.
    pub static_spine_thousandths: f64,
    /// Grains per inch.
    pub shaft_gr_per_in: f64,
    /// Outer diameter in inches.
    pub outer_diameter_in: f64,
    /// Inner diameter in inches.
    pub bore_in: f64,
}

/// Ranges of a shaft's numbers: key, least, most.
pub const SHAFT_RANGES: [(&str, f64, f64); 4] = [
    ("staticSpineThousandths", 100.0, 3000.0),
    ("shaftGrPerIn", 1.0, 60.0),
    ("outerDiameterIn", 0.1, 0.6),
    ("boreIn", 0.05, 0.5),
];

impl StockShaft {
    /// Its numbers, in the order of [`SHAFT_RANGES`].
    #[must_use]
    pub fn numbers(&self) -> [f64; 4] {
        [self.static_spine_thousandths, self.shaft_gr_per_in, self.outer_diameter_in, self.bore_in]
    }
}

/// Checks a shaft against [`SHAFT_RANGES`]; the bore must be less than the outer diameter.
///
/// # Errors
/// [`SetupError::Value`] or [`SetupError::TooMany`] for a name that is too long.
pub fn check_shaft(shaft: &StockShaft) -> Result<(), SetupError> {
    for ((key, minimum, maximum), value) in SHAFT_RANGES.into_iter().zip(shaft.numbers()) {
        if !(minimum..=maximum).contains(&value) {
            return Err(SetupError::Value { key, error: EntryError::OutOfRange { value, minimum, maximum } });
        }
    }
    if shaft.bore_in >= shaft.outer_diameter_in {
        let error = EntryError::OutOfRange { value: shaft.bore_in, minimum: 0.05, maximum: shaft.outer_diameter_in };
        return Err(SetupError::Value { key: "boreIn", error });
    }
    if shaft.name.chars().count() > MOST_NAME_CHARS {
        return Err(SetupError::TooMany { key: "shafts.name", most: MOST_NAME_CHARS });
    }
    Ok(())
}

/// Invented classes of carbon shaft in the three common bores. The weights are ours and belong to no
/// shaft one can buy; they only have the right size.
#[must_use]
pub fn invented_shafts() -> Vec<StockShaft> {
    const CLASSES: [(&str, f64, f64); 3] = [("Sedge", 0.246, 0.7), ("Osier", 0.204, 0.0), ("Bulrush", 0.166, 0.4)];
    const SPINES: [(f64, f64, f64); 10] = [
        // thousandths, grains per inch, wall in thousandths of an inch
        (250.0, 10.9, 46.0),
        (300.0, 9.9, 42.0),
        (340.0, 9.2, 38.0),
        (400.0, 8.3, 34.0),
        (500.0, 7.3, 30.0),
        (600.0, 6.6, 27.0),
        (700.0, 6.1, 25.0),
        (850.0, 5.6, 22.0),
        (1000.0, 5.1, 20.0),
        (1300.0, 4.6, 18.0),
    ];
    let shaft = |(class, bore, heavier): (&str, f64, f64), (spine, weight, wall): (f64, f64, f64)| StockShaft {
        name: format!("{class} {}", crate::format::trimmed(spine, 0)),
        static_spine_thousandths: spine,
        shaft_gr_per_in: tenths(weight + heavier),
        outer_diameter_in: tenths((bore * 1000.0 + 2.0 * wall) * 10.0) / 10_000.0,
        bore_in: bore,
    };
    CLASSES.into_iter().flat_map(|class| SPINES.into_iter().map(move |spine| shaft(class, spine))).collect()
}

fn tenths(value: f64) -> f64 {
    f64::from((value * 10.0 + 0.5) as u32) / 10.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_invented_list_is_sound() {
        let list = invented_shafts();
        assert_eq!(list.len(), 30);
        for shaft in &list {
            assert_eq!(check_shaft(shaft), Ok(()), "{shaft:?}");
        }
    }

    #[test]
    fn a_bore_wider_than_the_shaft_is_refused() {
        let mut shaft = invented_shafts().remove(0);
        shaft.bore_in = shaft.outer_diameter_in;
        assert!(matches!(check_shaft(&shaft), Err(SetupError::Value { key: "boreIn", .. })));
    }
}
