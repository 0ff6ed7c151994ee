//! The unit that a person has chosen for each quantity.

use super::{QUANTITY_COUNT, Quantity, Unit, clamp, convert};

/// The quantities that have more than one unit to choose from.
pub const CHOOSABLE: [Quantity; 14] = [
    Quantity::DrawWeight,
    Quantity::Length,
    Quantity::SmallLength,
    Quantity::Mass,
    Quantity::LinearMass,
    Quantity::Speed,
    Quantity::Energy,
    Quantity::Momentum,
    Quantity::MassPerDraw,
    Quantity::Distance,
    Quantity::Altitude,
    Quantity::Temperature,
    Quantity::Pressure,
    Quantity::WindSpeed,
];

/// The unit a person has chosen for each quantity.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Units([u8; QUANTITY_COUNT]);

/// What is measured in metric units wherever inches are not at hand.
const METRIC_LENGTHS_AND_AIR: [Quantity; 7] = [
    Quantity::Length,
    Quantity::SmallLength,
    Quantity::Distance,
    Quantity::Altitude,
    Quantity::Temperature,
    Quantity::Pressure,
    Quantity::WindSpeed,
];

impl Units {
    /// Inches, pounds, grains, feet per second.
    pub const ARCHERY: Self = Self([0; QUANTITY_COUNT]);

    /// Centimeters, millimeters, kilograms of pull, grams, meters per second, joules.
    #[must_use]
    pub fn metric() -> Self {
        Self::second_of(&CHOOSABLE)
    }

    /// Pounds and grains as the trade has them everywhere, lengths and air in metric units.
    #[must_use]
    pub fn pounds_and_centimeters() -> Self {
        Self::second_of(&METRIC_LENGTHS_AND_AIR)
    }

    /// The second unit, the metric one, for some quantities and the first for the others.
    fn second_of(quantities: &[Quantity]) -> Self {
        let mut units = Self::ARCHERY;
        quantities.iter().for_each(|&quantity| units.choose(quantity, 1));
        units
    }

    /// The unit chosen for a quantity.
    #[must_use]
    pub fn of(&self, quantity: Quantity) -> &'static Unit {
        quantity.units().get(self.index(quantity)).unwrap_or_else(|| quantity.saved_unit())
    }

    /// Place of the chosen unit in the quantity's list.
    #[must_use]
    pub fn index(&self, quantity: Quantity) -> usize {
        self.0.get(quantity as usize).map_or(0, |&index| usize::from(index))
    }

    /// Chooses a unit by its place in the quantity's list; a place that is not there is left alone.
    pub fn choose(&mut self, quantity: Quantity, index: usize) {
        if let (Some(slot), Ok(small)) = (self.0.get_mut(quantity as usize), u8::try_from(index))
            && index < quantity.units().len()
        {
            *slot = small;
        }
    }

    /// The choice as one line of text: `length=1 mass=0`.
    #[must_use]
    pub fn to_text(&self) -> String {
        CHOOSABLE.map(|quantity| format!("{}={}", quantity.key(), self.index(quantity))).join(" ")
    }

    /// Reads [`Units::to_text`]; what cannot be read leaves the archery unit.
    #[must_use]
    pub fn from_text(text: &str) -> Self {
        let mut units = Self::ARCHERY;
        for (key, index) in text.split(' ').filter_map(|pair| pair.split_once('=')) {
            let quantity = CHOOSABLE.into_iter().find(|quantity| quantity.key() == key);
            if let (Some(quantity), Ok(index)) = (quantity, index.parse()) {
                units.choose(quantity, index);
            }
        }
        units
    }

    /// A step of the saved unit as a round number (1, 2 or 5 and zeros) of the chosen one.
    #[must_use]
    pub fn round_step(&self, quantity: Quantity, saved: f64) -> f64 {
        if self.index(quantity) == 0 {
            return saved;
        }
        let (wanted, mut power) = (self.show(quantity, saved), 1.0);
        while power > wanted && power > 1e-6 {
            power /= 10.0;
        }
        while power * 10.0 <= wanted {
            power *= 10.0;
        }
        [5.0, 2.0].into_iter().map(|times| times * power).find(|&step| step <= wanted * 1.01).unwrap_or(power)
    }

    /// From the saved unit to the chosen one.
    #[must_use]
    pub fn show(&self, quantity: Quantity, saved: f64) -> f64 {
        convert(saved, quantity.saved_unit(), self.of(quantity))
    }

    /// A saved number, or the end of its range that is written like it in the chosen unit: a bound typed as it is shown
    /// is that bound.
    #[must_use]
    pub fn to_bound(&self, quantity: Quantity, saved: f64, minimum: f64, maximum: f64) -> f64 {
        let bound = clamp(saved, minimum, maximum);
        let [one, other] = [saved, bound].map(|saved| self.show(quantity, saved));
        if self.of(quantity).writes_alike(one, other) { bound } else { saved }
    }

    /// From the chosen unit to the saved one.
    #[must_use]
    pub fn save(&self, quantity: Quantity, shown: f64) -> f64 {
        convert(shown, self.of(quantity), quantity.saved_unit())
    }
}
