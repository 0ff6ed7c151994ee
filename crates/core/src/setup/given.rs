//! Inputs that stand for one another: which of them counts, and what giving one does to the other.

use crate::parse::EntryError;
use crate::schema::{BowKind, DrawLengthFrom, DrawWeightFrom, Field, ShaftMaterial, Value};
use crate::setup::Setup;

impl Setup {
    /// The value the user gave for an input, unless another replaces it or rules it out.
    #[must_use]
    pub fn in_force(&self, field: Field) -> Option<Value> {
        let stood_in_for = match field {
            Field::PeakDrawWeight => self.marked_limbs() && self.get(Field::MarkedWeight).is_some(),
            Field::Bore => self.is_wood(),
            Field::DrawLength => self.by_arm_span() && self.get(Field::ArmSpan).is_some(),
            _ => false,
        };
        self.get(field).filter(|_| !stood_in_for)
    }

    fn by_arm_span(&self) -> bool {
        self.get(Field::DrawLengthFrom) == Some(DrawLengthFrom::ArmSpan.into())
    }

    fn is_wood(&self) -> bool {
        self.get(Field::ShaftMaterial) == Some(ShaftMaterial::Wood.into())
    }

    /// Whether the shaft is to be solid: of wood, or of no bore.
    #[must_use]
    pub fn wants_solid(&self) -> bool {
        self.is_wood() || matches!(self.get(Field::Bore), Some(Value::Number(bore)) if bore <= 0.0)
    }

    /// Whether the draw weight is the one marked on the limbs of a recurve or longbow.
    fn marked_limbs(&self) -> bool {
        let limbs =
            [BowKind::Recurve, BowKind::Longbow].map(|kind| Some(kind.into())).contains(&self.get(Field::BowKind));
        limbs && self.get(Field::DrawWeightFrom) != Some(DrawWeightFrom::Scale.into())
    }

    /// Sets an input, or resets it to its default with `None`. Of two inputs that stand for one another, the one set
    /// last counts.
    ///
    /// # Errors
    /// [`EntryError`] if the value is not allowed; the setup is unchanged.
    pub fn set(&mut self, field: Field, value: Option<Value>) -> Result<(), EntryError> {
        self.put(field, value)?;
        match (field, value) {
            (Field::PeakDrawWeight, Some(_)) => self.put(Field::MarkedWeight, None),
            (Field::ArmSpan, Some(_)) => self.put(Field::DrawLengthFrom, Some(DrawLengthFrom::ArmSpan.into())),
            (Field::ArmSpan, None) | (Field::DrawLength, Some(_)) => self.put(Field::DrawLengthFrom, None),
            (Field::Bore, Some(_)) if self.is_wood() => self.put(Field::ShaftMaterial, None),
            _ => Ok(()),
        }
    }

    /// Sets an input as it is given in a form: saying where the draw weight of limbs was read makes the number that is
    /// there a marked weight, or one on the fingers.
    ///
    /// # Errors
    /// As [`Setup::set`].
    pub fn give(&mut self, field: Field, value: Option<Value>) -> Result<(), EntryError> {
        self.set(field, value)?;
        let [peak, marked] = [Field::PeakDrawWeight, Field::MarkedWeight];
        let (from, to) = if self.marked_limbs() { (peak, marked) } else { (marked, peak) };
        if field == Field::DrawWeightFrom && value.is_some() && self.get(to).is_none() {
            self.put(to, self.get(from))?;
            self.put(from, None)?;
        }
        Ok(())
    }

    /// Sets a draw weight (lb) marked at a draw length (in). On a compound the length says nothing.
    ///
    /// # Errors
    /// As [`Setup::set`].
    pub fn give_marked(&mut self, weight_lb: f64, draw_in: f64) -> Result<(), EntryError> {
        self.choose(DrawWeightFrom::Label);
        let (weight, draw) = (Some(Value::Number(weight_lb)), Some(Value::Number(draw_in)));
        if self.marked_limbs() {
            self.set(Field::MarkedDraw, draw)?;
            self.set(Field::MarkedWeight, weight)
        } else {
            self.set(Field::PeakDrawWeight, weight)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn saying_label_or_scale_takes_the_number_along() {
        let mut setup = Setup::default().with(Field::PeakDrawWeight, 40.0).unwrap();
        setup.choose(BowKind::Recurve);
        let [peak, marked] = [Field::PeakDrawWeight, Field::MarkedWeight];
        let forty = Some(Value::Number(40.0));
        for (from, there) in [(DrawWeightFrom::Label, marked), (DrawWeightFrom::Scale, peak)] {
            setup.give(Field::DrawWeightFrom, Some(from.into())).unwrap();
            let gone = if there == peak { marked } else { peak };
            assert_eq!((setup.in_force(there), setup.in_force(gone)), (forty, None), "{from:?}");
        }
        setup.give_marked(45.0, 27.0).unwrap();
        assert_eq!((setup.get(marked), setup.in_force(peak)), (Some(Value::Number(45.0)), None));
        let mut compound = Setup::default();
        compound.give_marked(60.0, 28.0).unwrap();
        assert_eq!((compound.get(marked), compound.in_force(peak)), (None, Some(Value::Number(60.0))));
    }
}
