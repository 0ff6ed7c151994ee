//! The value of every input: what the user gave, or its default.
//!
//! The rules that defaults follow are common practice or from memory (no source); each is in the input's row of the
//! table.

use crate::schema::{
    ARM_SPAN_PER_DRAW, BowKind, InsertKind, Launch, NockKind, PIVOT_TO_DRAW_LENGTH_IN, PointKind, RatedUnder,
    ShaftMaterial, VaneMaterial,
};
use crate::schema::{Choice, DefaultRule, FIELD_COUNT, Field, StockShaft, Value, When};
use crate::setup::Setup;
use crate::setup::readings::ChronographReadings;
use crate::setup::{model, readings, usual};
use crate::units::Quantity;
use clothyard_mechanics::flight::standard_temperature_k;
use clothyard_mechanics::units::METER_PER_INCH;
use clothyard_mechanics::{MeasuredCurve, Rating};

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

    /// Whether the bow is so light, or the draw so short, that its archer is likely to grow and a stiff arrow costs
    /// little.
    #[must_use]
    pub fn is_light_bow(&self) -> bool {
        self.number(Field::PeakDrawWeight) < usual::LIGHT_BOW_LB || self.number(Field::DrawLength) < usual::LIGHT_BOW_IN
    }

    /// True draw in inches: nock groove to the grip's pivot at full draw.
    #[must_use]
    pub fn true_draw_in(&self) -> f64 {
        self.number(Field::DrawLength) - PIVOT_TO_DRAW_LENGTH_IN
    }

    /// Distance of the rest from the nock groove at full draw, in inches.
    #[must_use]
    pub fn rest_in(&self) -> f64 {
        self.true_draw_in() + self.number(Field::RestOffset)
    }

    /// Shortest safe arrow length in inches: the shaft reaches past the rest by the required distance.
    #[must_use]
    pub fn shortest_safe_length_in(&self) -> f64 {
        self.rest_in() + self.number(Field::ShortestReach)
    }

    /// The cut that makes the shortest safe arrow length.
    #[must_use]
    pub fn shortest_safe_cut_in(&self) -> f64 {
        self.shortest_safe_length_in() - self.number(Field::ThroatToShaft)
    }

    /// Arrow length (AMO/ATA): from the nock groove to the front end of the shaft, in inches.
    #[must_use]
    pub fn arrow_length_in(&self) -> f64 {
        self.number(Field::CutLength) + self.number(Field::ThroatToShaft)
    }

    /// Where the point begins, ahead of the nock groove, in inches.
    #[must_use]
    pub fn point_from_in(&self) -> f64 {
        self.arrow_length_in() + (self.number(Field::InsertAhead) + self.number(Field::CollarLength))
    }

    /// The front end of the point, ahead of the nock groove, in inches.
    #[must_use]
    pub fn tip_in(&self) -> f64 {
        self.point_from_in() + self.number(Field::PointLength)
    }

    /// The rear end of the blades, ahead of the nock groove, in inches; none without blades.
    #[must_use]
    pub fn blades_from_in(&self) -> Option<f64> {
        self.choice::<PointKind>().is_broadhead().then(|| self.tip_in() - self.number(Field::BladeLength))
    }

    /// The suggested arrow length in inches (common practice, no source): half an inch less than the draw length with
    /// a release aid, half an inch more with fingers, and never less than the shortest safe length.
    #[must_use]
    pub fn suggested_length_in(&self) -> f64 {
        let from_draw = if self.choice::<Launch>() == Launch::ReleaseAid { -0.5 } else { 0.5 };
        (self.number(Field::DrawLength) + from_draw).max(self.shortest_safe_length_in())
    }

    /// The cut length for the suggested arrow length, in inches, rounded up to an eighth.
    #[must_use]
    pub fn suggested_cut_in(&self) -> f64 {
        let cut = self.suggested_length_in() - self.number(Field::ThroatToShaft);
        let eighths = (cut * 8.0 - 1e-9) as u32 + 1;
        Field::CutLength.input().clamp(f64::from(eighths) / 8.0)
    }

    /// Default brace height in inches.
    fn brace_in(&self) -> f64 {
        self.at_rest_in.unwrap_or_else(|| usual::brace_in(self.choice()))
    }

    /// Virtual mass that is usual for this kind of bow and draw weight.
    #[must_use]
    pub fn usual_virtual_mass_gr(&self) -> f64 {
        let usual = self.choice::<BowKind>().usual(self.si(Field::PeakDrawWeight));
        Field::VirtualMass.input().clamp(usual.map_or(0.0, |usual| Quantity::Mass.from_si(usual.virtual_mass_kg)))
    }

    fn follow(&self, field: Field, shaft: &StockShaft) -> Value {
        match field {
            Field::Launch => usual::launch(self.choice()).into(),
            Field::ShaftMaterial => self.material(shaft).into(),
            Field::InsertKind => self.material(shaft).usual_insert().into(),
            Field::VaneMaterial => self.material(shaft).usual_vanes().into(),
            _ => Value::Number(self.follow_number(field, shaft)),
        }
    }

    /// What the shaft is made of, before its own field is followed.
    fn material(&self, shaft: &StockShaft) -> ShaftMaterial {
        let given = self.value(Field::ShaftMaterial).is_some();
        match self.given(Field::Bore) {
            _ if given => self.choice(),
            Some(bore) if bore <= 0.0 => ShaftMaterial::Wood,
            _ => material(shaft),
        }
    }

    fn follow_number(&self, field: Field, shaft: &StockShaft) -> f64 {
        let rating = self.choice::<RatedUnder>().rating().unwrap_or(Rating::ASTM_F1544);
        match field {
            Field::PeakDrawWeight => {
                let read = self.curve.map(|curve| Quantity::DrawWeight.from_si(curve.peak().force_n));
                let draw_in =
                    self.given(Field::DrawLength).unwrap_or_else(|| self.follow_number(Field::DrawLength, shaft));
                field.input().clamp(read.or_else(|| self.weight_at(draw_in)).unwrap_or(50.0))
            }
            Field::DrawLength => {
                let read = self.curve.as_ref().map(draw_length_read_in);
                let spanned = self.given(Field::ArmSpan).map(|span| span / ARM_SPAN_PER_DRAW);
                field.input().clamp(read.or(spanned).unwrap_or(28.0))
            }
            Field::BraceHeight => self.brace_in(),
            Field::RestAside => usual::rest_aside_in(self.choice()),
            Field::MakersMinimum => usual::least_gr_per_lb(self.choice()),
            Field::VirtualMass => self.usual_virtual_mass_gr(),
            Field::EnergyLoss => 100.0 * self.choice::<BowKind>().reference().loss,
            Field::RatingDrawWeight => whole(Quantity::DrawWeight, rating.peak_force_n),
            Field::RatingDrawLength => whole(Quantity::Length, rating.draw_length_m),
            Field::RatingArrow => whole(Quantity::Mass, rating.arrow_mass_kg),
            Field::NockMass => self.choice::<NockKind>().usual_mass_gr(),
            Field::BushingMass => self.choice::<NockKind>().usual_bushing_gr(),
            Field::InsertMass => self.choice::<InsertKind>().usual_mass_gr(),
            Field::InsertInside => self.choice::<InsertKind>().usual_inside_in(),
            Field::InsertAhead => self.choice::<InsertKind>().usual_ahead_in(),
            Field::VaneLength => self.choice::<VaneMaterial>().usual_length_in(),
            Field::VaneMass => {
                let kind: VaneMaterial = self.choice();
                kind.usual_mass_gr(self.given(Field::VaneLength).unwrap_or(kind.usual_length_in()))
            }
            Field::CutLength => self.suggested_cut_in(),
            Field::StaticSpine | Field::ShaftLinearMass | Field::OuterDiameter | Field::Bore => {
                field.input().clamp(self.follow_shaft(field, shaft))
            }
            Field::CuttingWidth => self.choice::<PointKind>().usual_cutting_width_in(),
            Field::AirTemperature => {
                // Every altitude that the input allows has a temperature.
                let kelvin = standard_temperature_k(self.si(Field::SiteAltitude)).unwrap_or_default();
                Quantity::Temperature.from_si(kelvin)
            }
            _ => 0.0,
        }
    }
}

/// What a shaft of the list is made of: a solid one of wood.
fn material(shaft: &StockShaft) -> ShaftMaterial {
    if shaft.is_solid() { ShaftMaterial::Wood } else { ShaftMaterial::Carbon }
}

/// A condition of a rating standard: these are whole pounds, inches and grains.
fn whole(quantity: Quantity, si: f64) -> f64 {
    f64::from((quantity.from_si(si) + 0.5) as u32)
}

fn fixed_default(field: Field) -> Option<Value> {
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
    use crate::schema::{DrawLengthFrom, DrawWeightFrom};

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
    fn the_conditions_of_a_rating_are_the_standard_s() {
        // ASTM F1544: 70 lb, 30 in, 350 gr. AMO: 60 lb, 30 in, 540 gr.
        let rated =
            [(RatedUnder::FiveGrainsPerPound, [70.0, 30.0, 350.0]), (RatedUnder::OlderAmo, [60.0, 30.0, 540.0])];
        for (rating, conditions) in rated {
            let resolved = resolved(&[(Field::RatedUnder, rating.into())]);
            let fields = [Field::RatingDrawWeight, Field::RatingDrawLength, Field::RatingArrow];
            assert_eq!(fields.map(|field| resolved.number(field)), conditions);
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
    fn of_arm_span_and_draw_length_the_last_given_counts() {
        let (span, draw) = ((Field::ArmSpan, Value::Number(70.0)), (Field::DrawLength, Value::Number(29.0)));
        let drawn = |given: &[(Field, Value)]| {
            let resolved = resolved(given);
            (resolved.number(Field::DrawLength), resolved.draw_length_estimated())
        };
        assert_eq!(drawn(&[draw, span]), (28.0, true));
        assert_eq!(drawn(&[span, draw]), (29.0, false));
        let from = |answer: DrawLengthFrom| (Field::DrawLengthFrom, answer.into());
        assert_eq!(drawn(&[span, draw, from(DrawLengthFrom::ArmSpan)]), (28.0, true));
        assert_eq!(drawn(&[draw, span, from(DrawLengthFrom::Measured)]), (29.0, false));
        assert_eq!(drawn(&[draw, from(DrawLengthFrom::ArmSpan)]), (29.0, false), "no arm span is given");
    }

    #[test]
    fn limbs_marked_at_28_in_are_lighter_at_a_shorter_draw() {
        let marked = |kind: BowKind, draw: f64| {
            resolved(&[
                (Field::BowKind, kind.into()),
                (Field::MarkedWeight, Value::Number(40.0)),
                (Field::DrawLength, Value::Number(draw)),
            ])
        };
        let lb = |kind, draw| marked(kind, draw).number(Field::PeakDrawWeight);
        assert_eq!(lb(BowKind::Recurve, 28.0), 40.0);
        // Brace height 8.75 in: strokes of 15.5 and 17.5 in.
        assert!((lb(BowKind::Recurve, 26.0) - 40.0 * 15.5 / 17.5).abs() < 1e-12);
        // Common practice, no source: 2 to 2.5 lb an inch at 40 lb.
        for kind in [BowKind::Recurve, BowKind::Longbow] {
            for draw in [25.0, 26.0, 27.0, 29.0, 30.0] {
                let an_inch = (lb(kind, draw) - 40.0) / (draw - 28.0);
                assert!((2.0..2.5).contains(&an_inch), "{kind:?} {draw}: {an_inch}");
            }
        }
        assert!(marked(BowKind::Recurve, 26.0).draw_weight_estimated());
        assert_eq!(lb(BowKind::Compound, 26.0), 50.0, "a compound is not marked at a draw length");
    }

    #[test]
    fn the_draw_weight_given_last_counts() {
        let recurve = (Field::BowKind, BowKind::Recurve.into());
        let [peak, marked] = [Field::PeakDrawWeight, Field::MarkedWeight].map(|field| (field, Value::Number(40.0)));
        let draw = (Field::DrawLength, Value::Number(26.0));
        let last = resolved(&[recurve, draw, marked, peak]);
        assert_eq!((last.number(Field::PeakDrawWeight), last.draw_weight_estimated()), (40.0, false));
        let first = resolved(&[recurve, draw, peak, marked]);
        assert!(first.draw_weight_estimated() && first.number(Field::PeakDrawWeight) < 36.0);
        let scale = resolved(&[recurve, draw, peak, marked, (Field::DrawWeightFrom, DrawWeightFrom::Scale.into())]);
        assert_eq!(scale.number(Field::PeakDrawWeight), 40.0);
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
    fn a_fat_bore_moves_the_assumed_outside() {
        let fat = StockShaft { outer_diameter_in: 0.338, bore_in: 0.246, ..invented_shafts().remove(0) };
        let of = |field, number| {
            let resolved = Resolved::new(&Setup::default().with(field, number).unwrap(), &fat);
            (resolved.number(Field::OuterDiameter), resolved.number(Field::Bore))
        };
        assert_eq!(of(Field::Bore, 0.246), (0.338, 0.246));
        let (outer, bore) = of(Field::Bore, 0.4);
        assert!((outer - 0.492).abs() < 1e-12 && bore == 0.4);
        let (outer, bore) = of(Field::OuterDiameter, 0.24);
        assert!(outer == 0.24 && (bore - 0.148).abs() < 1e-12);
        assert_eq!(of(Field::OuterDiameter, 0.3), (0.3, 0.246));
    }

    #[test]
    fn a_weighed_shaft_replaces_the_list() {
        let resolved = resolved(&[(Field::BareShaft, Value::Number(280.0)), (Field::CutLength, Value::Number(28.0))]);
        assert_eq!(resolved.number(Field::ShaftLinearMass), 10.0);
    }
}
