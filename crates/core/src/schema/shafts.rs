//! The list of shafts to choose from. The one shipped here is invented; the user's own replaces it.

use crate::format::number;
use crate::schema::{Field, NamedRow, StockShaft};

impl StockShaft {
    /// The inputs that describe a shaft, in the order of its columns.
    pub fn fields() -> impl Iterator<Item = Field> {
        Self::TABLE.columns.iter().filter_map(|column| column.field)
    }

    /// Those inputs with this shaft's values.
    pub fn inputs(&self) -> impl Iterator<Item = (Field, f64)> {
        Self::fields().zip(self.numbers())
    }
}

/// Invented carbon shafts in the three common bores. The weights are of a realistic size and belong to no
/// shaft on the market.
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
        name: format!("{class} {}", number::trimmed(spine, 0)),
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
            assert_eq!(shaft.check(), Ok(()), "{shaft:?}");
        }
    }
}
