//! The list of shafts to choose from. The one shipped here is invented; the user's own replaces it.

use crate::format::number;
use crate::schema::{Field, NamedRow, StockShaft};
use crate::units::other_spine;
use clothyard_mechanics::units::{KILOGRAM_PER_GRAIN, METER_PER_INCH};
use core::f64::consts::FRAC_PI_4;

/// Usual diameter of a wood shaft, 11/32 in (common practice, no source).
pub const WOOD_DIAMETER_IN: f64 = 11.0 / 32.0;

/// Weight of a solid wood shaft in grains per inch, of its diameter in inches: cedar, pine and fir, 500 kg/m³ (memory).
#[must_use]
pub fn wood_gr_per_in(diameter_in: f64) -> f64 {
    const GRAINS_PER_CUBIC_INCH: f64 = 500.0 * METER_PER_INCH * METER_PER_INCH * METER_PER_INCH / KILOGRAM_PER_GRAIN;
    GRAINS_PER_CUBIC_INCH * FRAC_PI_4 * diameter_in * diameter_in
}

impl StockShaft {
    /// Whether it has no bore: a wood shaft.
    #[must_use]
    pub fn is_solid(&self) -> bool {
        self.bore_in <= 0.0
    }

    /// The inputs that describe a shaft, in the order of its columns.
    pub fn fields() -> impl Iterator<Item = Field> {
        Self::TABLE.columns.iter().filter_map(|column| column.field)
    }

    /// Those inputs with this shaft's values.
    pub fn inputs(&self) -> impl Iterator<Item = (Field, f64)> {
        Self::fields().zip(self.numbers())
    }
}

/// Invented carbon shafts in the three common bores, and wood shafts in groups of 5 lb. The weights are of a realistic
/// size and belong to no shaft on the market.
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
    let tubes = CLASSES.into_iter().flat_map(|class| SPINES.into_iter().map(move |spine| shaft(class, spine)));
    tubes.chain((0..10).map(invented_wood)).collect()
}

/// A wood shaft of a group of 5 lb, the first from 25 lb; the heavier the thicker (common practice, no source).
fn invented_wood(group: u8) -> StockShaft {
    let low = 25.0 + 5.0 * f64::from(group);
    let outer_diameter_in = match low {
        ..45.0 => 5.0 / 16.0,
        ..65.0 => WOOD_DIAMETER_IN,
        _ => 23.0 / 64.0,
    };
    StockShaft {
        name: format!("Hazel {}-{}#", number::trimmed(low, 0), number::trimmed(low + 5.0, 0)),
        static_spine_thousandths: tenths(other_spine(low + 2.5) / 10.0) * 10.0,
        shaft_gr_per_in: tenths(wood_gr_per_in(outer_diameter_in)),
        outer_diameter_in,
        bore_in: 0.0,
    }
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
        assert_eq!(list.len(), 40);
        for shaft in &list {
            assert_eq!(shaft.check(), Ok(()), "{shaft:?}");
        }
        let (name, spine, weight) = (&list[34].name, list[34].static_spine_thousandths, list[34].shaft_gr_per_in);
        // 26 / 47.5 = 0.5474 in by AMO, 0.663 in by ASTM; 28 in of 11/32 in at 0.5 g/cm³ weigh 329 gr.
        assert_eq!((name.as_str(), spine, weight), ("Hazel 45-50#", 663.0, 11.7));
    }
}
