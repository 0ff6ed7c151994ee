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

/// Invented carbon shafts in thin, standard, wide and fat bores, and wood shafts in groups of 5 lb. The weights are of a
/// realistic size; spines and weights belong to no shaft on the market.
#[must_use]
pub fn invented_shafts() -> Vec<StockShaft> {
    // Name, bore in inches, how much heavier in grains per inch, and the stiffest and softest there are.
    const CLASSES: [(&str, f64, f64, f64, f64); 4] = [
        ("Bulrush", 0.166, 0.4, 310.0, 1200.0),
        ("Osier", 0.204, 0.0, 230.0, 2000.0),
        ("Sedge", 0.246, 0.7, 270.0, 850.0),
        ("Reed", 0.315, 1.2, 310.0, 610.0),
    ];
    const SPINES: [(f64, f64, f64); 15] = [
        // thousandths, grains per inch, wall in thousandths of an inch
        (230.0, 11.4, 49.0),
        (270.0, 10.5, 45.0),
        (310.0, 9.7, 41.0),
        (350.0, 9.0, 38.0),
        (390.0, 8.4, 35.0),
        (450.0, 7.8, 32.0),
        (520.0, 7.2, 29.0),
        (610.0, 6.6, 27.0),
        (720.0, 6.1, 25.0),
        (850.0, 5.6, 22.0),
        (1000.0, 5.1, 20.0),
        (1200.0, 4.7, 19.0),
        (1500.0, 4.3, 17.0),
        (1800.0, 4.0, 16.0),
        (2000.0, 3.8, 15.0),
    ];
    // Soft shafts are sold shorter.
    const FULL_LENGTH_TO: f64 = 720.0;
    let mut list = Vec::new();
    for (class, bore_in, heavier, stiffest, softest) in CLASSES {
        for (spine, weight, wall) in SPINES.into_iter().filter(|&(spine, ..)| stiffest <= spine && spine <= softest) {
            list.push(StockShaft {
                name: format!("{class} {}", number::trimmed(spine, 0)),
                static_spine_thousandths: spine,
                shaft_gr_per_in: tenths(weight + heavier),
                outer_diameter_in: tenths((bore_in * 1000.0 + 2.0 * wall) * 10.0) / 10_000.0,
                bore_in,
                full_length_in: if spine <= FULL_LENGTH_TO { 33.0 } else { 30.0 },
                on_rack: 0.0,
            });
        }
    }
    list.extend((0..10).map(invented_wood));
    list
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
        full_length_in: 32.0,
        on_rack: 0.0,
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
        assert_eq!(list.len(), 50);
        for shaft in &list {
            assert_eq!(shaft.check(), Ok(()), "{shaft:?}");
        }
        let (name, spine, weight) = (&list[44].name, list[44].static_spine_thousandths, list[44].shaft_gr_per_in);
        // 26 / 47.5 = 0.5474 in by AMO, 0.663 in by ASTM; 28 in of 11/32 in at 0.5 g/cm³ weigh 329 gr.
        assert_eq!((name.as_str(), spine, weight), ("Hazel 45-50#", 663.0, 11.7));
    }
}
