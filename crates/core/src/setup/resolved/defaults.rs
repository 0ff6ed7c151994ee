//! The defaults that follow other inputs.

use super::{Resolved, draw_length_read_in};
use crate::schema::{
    ARM_SPAN_PER_DRAW, BowKind, DefaultRule, Field, InsertKind, NockKind, PointKind, RatedUnder, ShaftMaterial,
    StockShaft, Value, VaneMaterial,
};
use crate::setup::usual;
use crate::units::Quantity;
use clothyard_mechanics::Rating;
use clothyard_mechanics::flight::standard_temperature_k;

impl Resolved {
    /// Default brace height in inches.
    pub(super) fn brace_in(&self) -> f64 {
        self.at_rest_in.unwrap_or_else(|| usual::brace_in(self.choice()))
    }

    /// Virtual mass that is usual for this kind of bow and draw weight.
    #[must_use]
    pub fn usual_virtual_mass_gr(&self) -> f64 {
        let usual = self.choice::<BowKind>().usual(self.si(Field::PeakDrawWeight));
        Field::VirtualMass.input().clamp(usual.map_or(0.0, |usual| Quantity::Mass.from_si(usual.virtual_mass_kg)))
    }

    pub(super) fn follow(&self, field: Field, shaft: &StockShaft) -> Value {
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
pub(super) fn material(shaft: &StockShaft) -> ShaftMaterial {
    if shaft.is_solid() { ShaftMaterial::Wood } else { ShaftMaterial::Carbon }
}

/// A condition of a rating standard: these are whole pounds, inches and grains.
fn whole(quantity: Quantity, si: f64) -> f64 {
    f64::from((quantity.from_si(si) + 0.5) as u32)
}

pub(super) fn fixed_default(field: Field) -> Option<Value> {
    match field.input().default {
        DefaultRule::Number(number) => Some(Value::Number(number)),
        DefaultRule::Choice(place) => Some(Value::Choice(place)),
        DefaultRule::Follows(_) | DefaultRule::Absent => None,
    }
}
