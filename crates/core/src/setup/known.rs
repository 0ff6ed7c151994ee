//! Uncertainty of an input, by its origin.

use crate::schema::{DrawWeightFrom, Field};
use crate::setup::Resolved;
use crate::units::Quantity;

/// How a field's value is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Known {
    /// Weighed or measured by the user.
    Weighed,
    /// Read off a label by the user.
    Label,
    /// A default value.
    Guessed,
}

impl Resolved {
    /// How a field's value is known.
    #[must_use]
    pub fn known(&self, field: Field) -> Known {
        let is_draw_weight = field == Field::PeakDrawWeight;
        let label = self.choice::<DrawWeightFrom>() == DrawWeightFrom::Label;
        if is_draw_weight && self.draw_weight_estimated() {
            Known::Label
        } else if !self.is_user_given(field) && !self.is_read(field) {
            Known::Guessed
        } else if is_draw_weight && label && !self.is_read(field) {
            Known::Label
        } else {
            Known::Weighed
        }
    }

    /// The standard uncertainty of a field's value, in its saved unit; 0 for a choice or a field without a value.
    #[must_use]
    pub fn standard_uncertainty(&self, field: Field) -> f64 {
        let number = field.input().quantity().zip(self.given(field));
        let standard = number.map_or(0.0, |(quantity, value)| standard_uncertainty(quantity, self.known(field), value));
        if field == Field::PeakDrawWeight { standard + self.carried_uncertainty_lb() } else { standard }
    }

    /// What carrying a marked weight to another draw length adds: a quarter of the difference (memory).
    fn carried_uncertainty_lb(&self) -> f64 {
        let carried = self.draw_weight_estimated();
        let by = self.number(Field::PeakDrawWeight) - self.number(Field::MarkedWeight);
        if carried { 0.25 * by.abs() } else { 0.0 }
    }
}

/// The standard uncertainty of an input, in the saved unit of its quantity (from memory, low confidence).
///
/// A default of 0 stays absent where its uncertainty is a share of it. A count is exact.
#[must_use]
pub fn standard_uncertainty(quantity: Quantity, known: Known, value: f64) -> f64 {
    // Weighed or measured, then guessed: in the saved unit, and as a share of the value.
    let [weighed, guessed] = match quantity {
        Quantity::DrawWeight => [(0.0, 0.01), (0.0, 0.1)],
        Quantity::Length => [(0.06, 0.0), (0.5, 0.0)],
        Quantity::SmallLength => [(0.003, 0.0), (0.0, 0.1)],
        Quantity::Mass => [(0.5, 0.0), (0.0, 0.2)],
        Quantity::LinearMass => [(0.05, 0.0), (0.0, 0.05)],
        Quantity::StaticSpine => [(0.0, 0.02), (0.0, 0.1)],
        Quantity::Percent => [(1.0, 0.0), (3.0, 0.0)],
        Quantity::Angle => [(0.5, 0.0), (1.0, 0.0)],
        Quantity::MassPerDraw => [(0.1, 0.0), (0.5, 0.0)],
        // Exact, known by the estimate of the bow, or no input that the outputs hang on.
        _ => [(0.0, 0.0); 2],
    };
    let (plain, share) = match known {
        Known::Weighed => weighed,
        // Only a draw weight is read off a label: some pounds either way.
        Known::Label => (0.0, 0.05),
        Known::Guessed => guessed,
    };
    plain + share * value.abs()
}
