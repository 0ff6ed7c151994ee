//! What stands in every field: what the user gave, or what the page holds in its stead.
//!
//! A field left to the page follows the rest. The rules are common practice or from memory (no source);
//! each is said in the field's row of the table.

use crate::schema::StockShaft;
use crate::schema::{DefaultRule, FIELD_COUNT, Field, Value};
use crate::setup::Setup;
use crate::setup::readings;
use crate::setup::readings::Shots;
use crate::units::{Quantity, clamp};
use clothyard_mechanics::MeasuredCurve;
use clothyard_mechanics::units::METRE_PER_INCH;

/// Kind of bow, in the order of the table's answers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BowKind {
    /// With cams and let-off.
    Compound,
    /// With recurved limbs.
    Recurve,
    /// With straight limbs.
    Longbow,
}

impl BowKind {
    fn from_answer(answer: u8) -> Self {
        match answer {
            1 => Self::Recurve,
            2 => Self::Longbow,
            _ => Self::Compound,
        }
    }

    /// Part of the drawn energy usually lost to friction and hysteresis (from memory, low confidence).
    #[must_use]
    pub const fn usual_loss_percent(self) -> f64 {
        match self {
            Self::Compound => 3.0,
            Self::Recurve => 4.0,
            Self::Longbow => 10.0,
        }
    }

    /// Usual brace height in inches (common practice, no source).
    const fn usual_brace_in(self) -> f64 {
        match self {
            Self::Compound => 6.5,
            Self::Recurve => 8.75,
            Self::Longbow => 7.25,
        }
    }
}

/// A value in every field that has one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Resolved {
    values: [Option<Value>; FIELD_COUNT],
    mine: [bool; FIELD_COUNT],
    curve: Option<MeasuredCurve>,
    shots: Shots,
    at_rest_in: Option<f64>,
}

impl Resolved {
    /// Settles a build; `shaft` is what the list offers where shaft fields are left to the page.
    #[must_use]
    pub fn new(setup: &Setup, shaft: &StockShaft) -> Self {
        let mut resolved = Self {
            values: [None; FIELD_COUNT],
            mine: [false; FIELD_COUNT],
            curve: None,
            shots: Shots::of(setup),
            at_rest_in: readings::brace_in(setup),
        };
        for field in Field::ALL {
            let given = setup.get(field);
            resolved.put(field, given.or(fixed(field)), given.is_some());
        }
        let brace_in = resolved.given(Field::BraceHeight).unwrap_or_else(|| resolved.brace_in());
        resolved.curve = resolved.drawn(readings::curve(setup, brace_in * METRE_PER_INCH).ok());
        for field in Field::ALL {
            if !resolved.is_user_given(field) && matches!(field.input().default, DefaultRule::Follows(_)) {
                let value = resolved.follow(field, shaft);
                resolved.put(field, Some(value), false);
            }
        }
        resolved
    }

    fn put(&mut self, field: Field, value: Option<Value>, mine: bool) {
        if let (Some(slot), Some(flag)) = (self.values.get_mut(field as usize), self.mine.get_mut(field as usize)) {
            (*slot, *flag) = (value, mine);
        }
    }

    /// The value in a field, if it has one.
    #[must_use]
    pub fn value(&self, field: Field) -> Option<Value> {
        self.values.get(field as usize).copied().flatten()
    }

    /// Whether the user gave it.
    #[must_use]
    pub fn is_user_given(&self, field: Field) -> bool {
        self.mine.get(field as usize).copied().unwrap_or(false)
    }

    /// Whether the draw length is only estimated, from the arm span.
    #[must_use]
    pub fn draw_length_estimated(&self) -> bool {
        !self.is_user_given(Field::DrawLength) && self.curve.is_none() && self.given(Field::ArmSpan).is_some()
    }

    /// Whether a field left to the page follows the draw-force readings.
    #[must_use]
    pub fn is_read(&self, field: Field) -> bool {
        !self.is_user_given(field)
            && match field {
                Field::PeakDrawWeight | Field::DrawLength => self.curve.is_some(),
                Field::BraceHeight => self.at_rest_in.is_some(),
                _ => false,
            }
    }

    /// The draw-force curve measured, as far as it is drawn.
    #[must_use]
    pub fn curve(&self) -> Option<&MeasuredCurve> {
        self.curve.as_ref()
    }

    /// A compound's shape belongs to its cams and goes with the draw; the limbs of another bow are simply drawn
    /// less far than they were read.
    fn drawn(&self, read: Option<MeasuredCurve>) -> Option<MeasuredCurve> {
        let limbs_alone = self.bow_kind() != BowKind::Compound && self.given(Field::DrawLength).is_some();
        let shorter =
            read.filter(|_| limbs_alone).and_then(|whole| whole.up_to(self.true_draw_in() * METRE_PER_INCH).ok());
        shorter.or(read)
    }

    /// Every speed measured: those of the list, and the one of the fields as one more.
    #[must_use]
    pub fn shots(&self) -> Shots {
        let mut shots = self.shots;
        if self.given(Field::ChronographSpeed).is_some() && self.given(Field::ChronographArrow).is_some() {
            shots.push(self.si(Field::ChronographArrow), self.si(Field::ChronographSpeed));
        }
        shots
    }

    /// The number in a field that is not used unless it is given.
    #[must_use]
    pub fn given(&self, field: Field) -> Option<f64> {
        match self.value(field) {
            Some(Value::Number(number)) => Some(number),
            _ => None,
        }
    }

    /// The number in a field that always has one; nought for a field that has none.
    #[must_use]
    pub fn number(&self, field: Field) -> f64 {
        self.given(field).unwrap_or(0.0)
    }

    /// The number in a field, in SI.
    #[must_use]
    pub fn si(&self, field: Field) -> f64 {
        field.input().quantity().map_or(0.0, |quantity| quantity.to_si(self.number(field)))
    }

    /// The place of the answer in a choice.
    #[must_use]
    pub fn answer(&self, field: Field) -> u8 {
        match self.value(field) {
            Some(Value::Choice(place)) => place,
            _ => 0,
        }
    }

    /// The same with one number put in its place, as yet unchecked; for asking "what if".
    #[must_use]
    pub fn with(mut self, field: Field, number: f64) -> Self {
        let mine = self.is_user_given(field);
        self.put(field, Some(Value::Number(number)), mine);
        self
    }

    /// The kind of bow.
    #[must_use]
    pub fn bow_kind(&self) -> BowKind {
        BowKind::from_answer(self.answer(Field::BowKind))
    }

    /// Whether a field plays a part beside the other answers given.
    #[must_use]
    pub fn applies(&self, field: Field) -> bool {
        match field {
            Field::LetOff | Field::Cam => self.bow_kind() == BowKind::Compound && self.curve.is_none(),
            Field::VirtualMass | Field::StringAtNock | Field::StringSpread => !self.shots().tell_virtual_mass(),
            Field::RatedUnder => self.given(Field::RatedSpeed).is_some(),
            Field::RatingDrawWeight | Field::RatingDrawLength | Field::RatingArrow => {
                self.given(Field::RatedSpeed).is_some() && self.answer(Field::RatedUnder) == 2
            }
            Field::ChronographArrow => self.given(Field::ChronographSpeed).is_some(),
            Field::BushingLength => self.number(Field::BushingMass) > 0.0,
            Field::WrapLength => self.number(Field::WrapMass) > 0.0,
            Field::SleeveLength => self.number(Field::SleeveMass) > 0.0,
            Field::BladeCount | Field::CuttingWidth | Field::BladeLength => self.answer(Field::PointKind) != 0,
            Field::WindFrom => self.number(Field::Wind) > 0.0,
            Field::FarDistance => self.given(Field::FarSpeed).is_some(),
            Field::RuleSpeedTolerance => self.given(Field::RuleSpeed).is_some(),
            Field::InsertAhead => self.answer(Field::InsertKind) != 0 || self.number(Field::InsertAhead) > 0.0,
            _ => true,
        }
    }

    /// Where a true draw ends, ahead of the nock's throat at full draw: the grip's pivot.
    #[must_use]
    pub fn true_draw_in(&self) -> f64 {
        self.number(Field::DrawLength) - 1.75
    }

    /// Where the rest stands, ahead of the nock's throat at full draw.
    #[must_use]
    pub fn rest_in(&self) -> f64 {
        self.true_draw_in() + self.number(Field::RestOffset)
    }

    /// Shortest safe arrow length: the shaft reaches past the rest by what the user asks for.
    #[must_use]
    pub fn shortest_safe_length_in(&self) -> f64 {
        self.rest_in() + self.number(Field::ShortestReach)
    }

    /// The arrow length this page proposes (common practice, no source): half an inch less than the draw
    /// length with a release aid, half an inch more with fingers, and never shorter than is safe.
    #[must_use]
    pub fn suggested_length_in(&self) -> f64 {
        let from_draw = if self.answer(Field::Launch) == 0 { -0.5 } else { 0.5 };
        (self.number(Field::DrawLength) + from_draw).max(self.shortest_safe_length_in())
    }

    /// The cut for the proposed arrow length, rounded up to an eighth of an inch.
    #[must_use]
    pub fn suggested_cut_in(&self) -> f64 {
        let cut = self.suggested_length_in() - self.number(Field::ThroatToShaft);
        let eighths = (cut * 8.0 - 1e-9) as u32 + 1;
        clamp(f64::from(eighths) / 8.0, 10.0, 40.0)
    }

    /// Brace height where it is left to the page.
    fn brace_in(&self) -> f64 {
        self.at_rest_in.unwrap_or_else(|| self.bow_kind().usual_brace_in())
    }

    fn follow(&self, field: Field, shaft: &StockShaft) -> Value {
        match field {
            Field::Launch => Value::Choice(self.answer(Field::BowKind)),
            _ => Value::Number(self.follow_number(field, shaft)),
        }
    }

    fn follow_number(&self, field: Field, shaft: &StockShaft) -> f64 {
        let kind = self.bow_kind();
        match field {
            Field::PeakDrawWeight => {
                self.curve.map_or(50.0, |curve| clamp(Quantity::DrawWeight.from_si(curve.peak().force_n), 5.0, 150.0))
            }
            Field::DrawLength => {
                let read = self.curve.map(|curve| Quantity::Length.from_si(curve.full_draw().draw_m) + 1.75);
                let spanned = self.given(Field::ArmSpan).map(|span| span / 2.5);
                clamp(read.or(spanned).unwrap_or(28.0), 15.0, 36.0)
            }
            Field::BraceHeight => self.brace_in(),
            Field::EnergyLoss => kind.usual_loss_percent(),
            Field::RatingDrawWeight => {
                if self.answer(Field::RatedUnder) == 1 {
                    60.0
                } else {
                    70.0
                }
            }
            Field::RatingDrawLength => 30.0,
            Field::RatingArrow => {
                if self.answer(Field::RatedUnder) == 1 {
                    540.0
                } else {
                    350.0
                }
            }
            Field::NockMass => self.by_answer(Field::NockKind, [10.0, 25.0, 7.0]),
            Field::BushingMass => self.by_answer(Field::NockKind, [0.0, 0.0, 8.0]),
            Field::InsertMass => self.by_answer(Field::InsertKind, [20.0, 40.0, 45.0]),
            Field::InsertInside => self.by_answer(Field::InsertKind, [0.8, 0.8, 0.6]),
            Field::InsertAhead => self.by_answer(Field::InsertKind, [0.0, 0.6, 0.6]),
            Field::StaticSpine => shaft.static_spine_thousandths,
            Field::CutLength => self.suggested_cut_in(),
            Field::ShaftLinearMass => match self.given(Field::BareShaft) {
                Some(weighed) => weighed / self.number(Field::CutLength),
                None => shaft.shaft_gr_per_in,
            },
            Field::OuterDiameter => shaft.outer_diameter_in,
            Field::Bore => shaft.bore_in,
            Field::CuttingWidth => self.by_answer(Field::PointKind, [1.125, 1.125, 0.75]),
            // ISO 2533: 15 degrees at sea level, 6.5 K less for each kilometre up.
            Field::AirTemperature => {
                let kelvin = 288.15 - 0.0065 * self.si(Field::SiteAltitude);
                Quantity::Temperature.from_si(kelvin)
            }
            _ => 0.0,
        }
    }

    fn by_answer(&self, choice: Field, values: [f64; 3]) -> f64 {
        values.get(usize::from(self.answer(choice))).copied().unwrap_or(0.0)
    }
}

fn fixed(field: Field) -> Option<Value> {
    match field.input().default {
        DefaultRule::Number(number) => Some(Value::Number(number)),
        DefaultRule::Choice(place) => Some(Value::Choice(place)),
        DefaultRule::Follows(_) | DefaultRule::Absent => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::schema::shafts::invented_shafts;

    fn resolved(given: &[(Field, Value)]) -> Resolved {
        let mut setup = Setup::default();
        for &(field, value) in given {
            setup.set(field, Some(value)).unwrap();
        }
        Resolved::new(&setup, &invented_shafts()[0])
    }

    #[test]
    fn every_field_but_the_absent_has_a_value() {
        let resolved = resolved(&[]);
        for field in Field::ALL {
            let value = resolved.value(field);
            if field.input().default == DefaultRule::Absent {
                assert_eq!(value, None, "{field:?}");
            } else {
                let value = value.unwrap();
                assert_eq!(field.input().check(value), Ok(value), "{field:?}");
            }
        }
    }

    #[test]
    fn arm_span_fills_the_draw_length() {
        // Common practice, no source: arm span divided by 2.5.
        let resolved = resolved(&[(Field::ArmSpan, Value::Number(70.0))]);
        assert_eq!(resolved.number(Field::DrawLength), 28.0);
        assert!(!resolved.is_user_given(Field::DrawLength));
    }

    #[test]
    fn a_rest_far_ahead_asks_for_a_longer_arrow() {
        let near = resolved(&[(Field::DrawLength, Value::Number(29.0))]);
        assert_eq!(near.suggested_length_in(), 28.5);
        assert_eq!(near.suggested_cut_in(), 28.0);
        let far = resolved(&[(Field::DrawLength, Value::Number(29.0)), (Field::RestOffset, Value::Number(2.0))]);
        assert_eq!(far.suggested_length_in(), far.shortest_safe_length_in());
        assert_eq!(far.shortest_safe_length_in(), 30.25);
    }

    #[test]
    fn a_weighed_shaft_overrules_the_list() {
        let resolved = resolved(&[(Field::BareShaft, Value::Number(280.0)), (Field::CutLength, Value::Number(28.0))]);
        assert_eq!(resolved.number(Field::ShaftLinearMass), 10.0);
    }
}
