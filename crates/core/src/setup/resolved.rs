//! The value of every input: what the user gave, or its default.
//!
//! The rules that defaults follow are common practice or from memory (no source); each is in the input's row of the
//! table.

mod defaults;
mod lengths;
#[cfg(test)]
mod tests;

use crate::schema::{
    BowKind, Choice, DefaultRule, FIELD_COUNT, Field, PIVOT_TO_DRAW_LENGTH_IN, StockShaft, Value, When,
};
use crate::setup::readings::ChronographReadings;
use crate::setup::{Setup, model, readings};
use crate::units::Quantity;
use clothyard_mechanics::MeasuredCurve;
use clothyard_mechanics::units::METER_PER_INCH;
use defaults::{fixed_default, material};

/// The draw length at which a measured curve ends, in inches.
#[must_use]
pub fn draw_length_read_in(curve: &MeasuredCurve) -> f64 {
    Quantity::Length.from_si(curve.full_draw().draw_m) + PIVOT_TO_DRAW_LENGTH_IN
}

/// The value of every input that has one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Resolved {
    values: [Option<Value>; FIELD_COUNT],
    user_given: [bool; FIELD_COUNT],
    curve: Option<MeasuredCurve>,
    readings: ChronographReadings,
    at_rest_in: Option<f64>,
    shot_with: ShotWith,
    speed_factor: f64,
}

/// Where the value of an input comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Origin {
    /// The user gave it.
    User,
    /// Estimated from the arm span.
    ArmSpan,
    /// From the weight marked on the limbs.
    MarkedWeight,
    /// From the geometry and material of a tube.
    Computed,
    /// From draw-force readings.
    Measured,
    /// There is none.
    Unset,
    /// A default.
    Default,
}

/// The bow as it was when its speeds were read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ShotWith {
    /// Energy it stored, J; none where it made no bow, or no speed was read.
    pub stored_j: Option<f64>,
    /// What hung on its string, as virtual mass, kg.
    pub hung_kg: f64,
}

impl Resolved {
    /// Resolves a setup; `shaft` gives the inputs of the shaft that the user did not.
    #[must_use]
    pub fn new(setup: &Setup, shaft: &StockShaft) -> Self {
        let mut resolved = Self {
            values: [None; FIELD_COUNT],
            user_given: [false; FIELD_COUNT],
            curve: None,
            readings: ChronographReadings::of(setup),
            at_rest_in: readings::brace_in(setup),
            shot_with: ShotWith { stored_j: None, hung_kg: 0.0 },
            speed_factor: 1.0,
        };
        for field in Field::ALL {
            let given = setup.in_force(field);
            resolved.put(field, given.or(fixed_default(field)), given.is_some());
        }
        let brace_in = resolved.given(Field::BraceHeight).unwrap_or_else(|| resolved.brace_in());
        resolved.curve = resolved.drawn(readings::curve(setup, brace_in * METER_PER_INCH).ok());
        for field in Field::ALL {
            if !resolved.is_user_given(field) && matches!(field.input().default, DefaultRule::Follows(_)) {
                let value = resolved.follow(field, shaft);
                resolved.put(field, Some(value), false);
            }
        }
        resolved.as_shot()
    }

    /// The same, taken to be the bow as it was when its speeds were read: what differs is no change of the bow since, but
    /// an error of the inputs.
    #[must_use]
    pub fn as_shot(mut self) -> Self {
        if !self.chronograph_readings().all().is_empty() {
            let hung_kg = model::hung_kg(&self).unwrap_or_default();
            self.shot_with = ShotWith { stored_j: model::stored_energy_j(&self), hung_kg };
        }
        self
    }

    /// The same with another shaft of the list. Where the user has a shaft, all its numbers are replaced; else those that
    /// the user gave of the shaft to be bought are kept.
    #[must_use]
    pub fn on_shaft(mut self, shaft: &StockShaft) -> Self {
        let keeps = !self.has_own_shaft();
        if !keeps {
            self.put(Field::BareShaft, None, false);
        }
        if !self.is_user_given(Field::ShaftMaterial) || shaft.is_solid() {
            self.put(Field::ShaftMaterial, Some(material(shaft).into()), false);
        }
        for (field, listed) in shaft.inputs() {
            if !keeps {
                self.put(field, Some(Value::Number(listed)), false);
            } else if !self.is_user_given(field) {
                self.put(field, Some(Value::Number(self.follow_shaft(field, shaft))), false);
            }
        }
        self
    }

    /// Whether the user has a shaft: its spine is given, or computed from a tube.
    #[must_use]
    pub fn has_own_shaft(&self) -> bool {
        self.is_user_given(Field::StaticSpine) || self.is_computed(Field::StaticSpine)
    }

    /// The same at another cut; the weight of a weighed bare shaft follows.
    #[must_use]
    pub fn cut_to(mut self, cut_in: f64) -> Self {
        let user_given = self.is_user_given(Field::CutLength);
        self.put(Field::CutLength, Some(Value::Number(cut_in)), user_given);
        if let Some(weighed) = self.given(Field::BareShaft).filter(|_| !self.is_user_given(Field::ShaftLinearMass)) {
            self.put(Field::ShaftLinearMass, Some(Value::Number(weighed / cut_in)), false);
        }
        self
    }

    /// The bow as it was when its speeds were read. A "what if" alters the bow since.
    #[must_use]
    pub const fn shot_with(&self) -> ShotWith {
        self.shot_with
    }

    /// The same with every speed of the bow off by a factor, for asking how far an error of the estimate carries.
    #[must_use]
    pub const fn with_speed_factor(mut self, factor: f64) -> Self {
        self.speed_factor = factor;
        self
    }

    /// The factor that every speed of the bow is off by; 1 unless asked about.
    #[must_use]
    pub const fn speed_factor(&self) -> f64 {
        self.speed_factor
    }

    fn put(&mut self, field: Field, value: Option<Value>, user_given: bool) {
        if let (Some(slot), Some(flag)) = (self.values.get_mut(field as usize), self.user_given.get_mut(field as usize))
        {
            (*slot, *flag) = (value, user_given);
        }
    }

    /// The value of an input, if it has one.
    #[must_use]
    pub fn value(&self, field: Field) -> Option<Value> {
        self.values.get(field as usize).copied().flatten()
    }

    /// Whether the user gave it.
    #[must_use]
    pub fn is_user_given(&self, field: Field) -> bool {
        self.user_given.get(field as usize).copied().unwrap_or(false)
    }

    /// Whether the draw length is only estimated, from the arm span.
    #[must_use]
    pub fn draw_length_estimated(&self) -> bool {
        !self.is_user_given(Field::DrawLength) && self.curve.is_none() && self.given(Field::ArmSpan).is_some()
    }

    /// Whether the draw weight is only estimated, from the weight marked on the limbs.
    #[must_use]
    pub fn draw_weight_estimated(&self) -> bool {
        !self.is_user_given(Field::PeakDrawWeight) && self.curve.is_none() && self.marked_lb().is_some()
    }

    /// The weight marked on the limbs, in pounds, where it counts.
    fn marked_lb(&self) -> Option<f64> {
        self.given(Field::MarkedWeight).filter(|_| self.applies(Field::MarkedWeight))
    }

    /// Draw weight at a draw length, from the weight marked on the limbs at another; both draws in inches.
    ///
    /// Along a straight line from the brace height: 2 to 2.5 lb an inch at 40 lb, which is common practice for recurves
    /// and longbows. The curves used for the stored energy are flatter at full draw than limbs are.
    fn weight_at(&self, draw_in: f64) -> Option<f64> {
        let brace_in = self.given(Field::BraceHeight).unwrap_or_else(|| self.brace_in());
        let stroke = |draw_in: f64| (draw_in - PIVOT_TO_DRAW_LENGTH_IN - brace_in).max(1.0);
        Some(self.marked_lb()? * (stroke(draw_in) / stroke(self.number(Field::MarkedDraw))))
    }

    /// The draw weight that follows from the marked one at the draw length as it is now; none where none is marked.
    pub(crate) fn marked_at_draw_lb(&self) -> Option<f64> {
        let weight = self.weight_at(self.number(Field::DrawLength))?;
        Some(Field::PeakDrawWeight.input().clamp(weight))
    }

    /// Where the value of an input comes from.
    #[must_use]
    pub fn origin(&self, field: Field) -> Origin {
        if self.is_user_given(field) {
            Origin::User
        } else if field == Field::DrawLength && self.draw_length_estimated() {
            Origin::ArmSpan
        } else if field == Field::PeakDrawWeight && self.draw_weight_estimated() {
            Origin::MarkedWeight
        } else if self.is_computed(field) {
            Origin::Computed
        } else if self.is_read(field) {
            Origin::Measured
        } else if self.value(field).is_none() {
            Origin::Unset
        } else {
            Origin::Default
        }
    }

    /// Whether an input that the user did not give follows the draw-force readings.
    #[must_use]
    pub fn is_read(&self, field: Field) -> bool {
        !self.is_user_given(field)
            && match field {
                Field::PeakDrawWeight | Field::DrawLength => self.curve.is_some(),
                Field::BraceHeight => self.at_rest_in.is_some(),
                _ => false,
            }
    }

    /// The measured draw-force curve, up to the draw length.
    #[must_use]
    pub fn curve(&self) -> Option<&MeasuredCurve> {
        self.curve.as_ref()
    }

    /// A compound's curve belongs to its cams and scales with the draw length; other bows are drawn along the same
    /// curve, less far.
    fn drawn(&self, read: Option<MeasuredCurve>) -> Option<MeasuredCurve> {
        let limbs_alone = self.choice::<BowKind>() != BowKind::Compound && self.given(Field::DrawLength).is_some();
        let shorter =
            read.filter(|_| limbs_alone).and_then(|whole| whole.up_to(self.true_draw_in() * METER_PER_INCH).ok());
        shorter.or(read)
    }

    /// Every measured speed: those of the list, and the one of the inputs.
    #[must_use]
    pub fn chronograph_readings(&self) -> ChronographReadings {
        let mut readings = self.readings;
        if self.given(Field::ChronographSpeed).is_some() && self.given(Field::ChronographArrow).is_some() {
            readings.push(self.si(Field::ChronographArrow), self.si(Field::ChronographSpeed));
        }
        readings
    }

    /// The number of an input, if it has one.
    #[must_use]
    pub fn given(&self, field: Field) -> Option<f64> {
        match self.value(field) {
            Some(Value::Number(number)) => Some(number),
            _ => None,
        }
    }

    /// The number of an input; zero if it has none.
    #[must_use]
    pub fn number(&self, field: Field) -> f64 {
        self.given(field).unwrap_or(0.0)
    }

    /// The number of an input in SI; zero if it has none.
    #[must_use]
    pub fn si(&self, field: Field) -> f64 {
        field.input().quantity().map_or(0.0, |quantity| quantity.to_si(self.number(field)))
    }

    /// The answer of a choice.
    #[must_use]
    pub fn choice<C: Choice>(&self) -> C {
        let place = match self.value(C::FIELD) {
            Some(Value::Choice(place)) => usize::from(place),
            _ => 0,
        };
        C::ALL.get(place).copied().unwrap_or(C::FIRST)
    }

    /// The same with one number replaced, unchecked, for "what if".
    #[must_use]
    pub fn with(mut self, field: Field, number: f64) -> Self {
        let user_given = self.is_user_given(field);
        self.put(field, Some(Value::Number(number)), user_given);
        self
    }

    /// Whether an input applies, given the others.
    #[must_use]
    pub fn applies(&self, field: Field) -> bool {
        self.holds(&field.input().when)
    }

    fn holds(&self, when: &When) -> bool {
        match *when {
            When::Always => true,
            When::Given(field) => self.given(field).is_some(),
            When::Positive(field) => self.number(field) > 0.0,
            When::Chosen(field, place) => self.value(field) == Some(Value::Choice(place)),
            When::DrawForceMeasured => self.curve.is_some(),
            When::LightBow => self.is_light_bow(),
            When::Not(other) => !self.holds(other),
            When::All(all) => all.iter().all(|each| self.holds(each)),
            When::Any(any) => any.iter().any(|each| self.holds(each)),
        }
    }
}
