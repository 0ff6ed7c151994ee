//! Labels of the drawing and their positions.

use super::{FRONT, Goal, Pen, REAR};
use crate::diagram::view::along;
use clothyard_core::drawing::Measured;
use clothyard_core::eval::outputs::in_inches;
use clothyard_core::format;
use clothyard_core::schema::{Field, Group};
use clothyard_core::setup::PartId;
use clothyard_core::units::Quantity;

/// What is to be labeled, and where it is in inches.
pub(super) struct Call {
    pub(super) at: (f64, f64),
    pub(super) part: Option<PartId>,
    pub(super) goal: Goal,
    pub(super) group: Option<Group>,
    pub(super) words: String,
    pub(super) full: String,
}

impl Pen<'_> {
    /// The shaft, what the bow sets, and parts of one's own in neither end.
    pub(super) fn calls_on_the_whole(&self) -> Vec<Call> {
        let mut calls: Vec<_> = self.part(PartId::Shaft).into_iter().collect();
        let draw = self.all.resolved.number(Field::DrawLength);
        if let Some(Measured { rest, .. }) = Measured::of(self.all) {
            calls.push(self.place(rest, "Rest", Field::RestOffset, Group::Bow));
        }
        calls.push(self.place(draw, "Draw length", Field::DrawLength, Group::Bow));
        calls.extend(self.own(|pen, at| !pen.within(0, at) && !pen.within(1, at)));
        calls
    }

    pub(super) fn calls_at_the_rear(&self) -> Vec<Call> {
        let parts = REAR.into_iter().filter_map(|name| self.part(name));
        parts.chain(self.own(|pen, at| pen.within(0, at))).collect()
    }

    pub(super) fn calls_at_the_front(&self) -> Vec<Call> {
        let mut calls: Vec<_> = FRONT.into_iter().filter_map(|name| self.part(name)).collect();
        calls.push(self.place(in_inches(self.model.length_m), "Cut", Field::CutLength, Group::Shaft));
        calls.extend(self.own(|pen, at| !pen.within(0, at) && pen.within(1, at)));
        calls
    }

    /// Whether an end shows a place.
    fn within(&self, which: usize, at: f64) -> bool {
        self.ranges.get(which).is_some_and(|&(from, to)| (from..=to).contains(&at))
    }

    fn place(&self, at: f64, words: &str, field: Field, group: Group) -> Call {
        let full = format!("{words}, {}", format::measured(Quantity::Length, at, self.units));
        Call { at: (at, 0.0), part: None, goal: Goal::Field(field), group: Some(group), words: words.to_owned(), full }
    }

    fn own(&self, here: impl Fn(&Self, f64) -> bool) -> Vec<Call> {
        let own = self.model.parts().filter(|(name, _)| matches!(name, PartId::Own(_)));
        own.filter(|(_, part)| here(self, in_inches(part.center_m))).filter_map(|(name, _)| self.part(name)).collect()
    }

    /// A part that is drawn.
    fn part(&self, name: PartId) -> Option<Call> {
        let piece = self.pieces.iter().find(|piece| piece.name == name)?;
        let (from, to) = along([piece].into_iter())?;
        let mass: f64 = match name {
            PartId::Shaft => self.model.shaft().mass_kg,
            _ => self.model.parts().filter(|(other, _)| *other == name).map(|(_, part)| part.mass_kg).sum(),
        };
        if mass <= 0.0 && to <= from {
            return None;
        }
        let words = format::part_label(name, &self.all.resolved, &self.setup.own_parts);
        let mass = format::measured(Quantity::Mass, Quantity::Mass.from_si(mass), self.units);
        let (along, field) = lies(name);
        let goal = match name {
            PartId::Own(place) => Goal::Own(place),
            _ => Goal::Field(field),
        };
        let group = if matches!(name, PartId::Own(_)) { None } else { Some(piece.group) };
        let at = (from + along * (to - from), self.height(name));
        Some(Call { at, part: Some(name), goal, group, full: format!("{words}, {mass}"), words })
    }

    /// How far from the axis a part's leader ends, in inches: upward, where nothing is over it.
    fn height(&self, name: PartId) -> f64 {
        let half = self.all.resolved.number(Field::OuterDiameter) / 2.0;
        match name {
            PartId::Vanes => -half - 0.4 * self.all.resolved.number(Field::VaneHeight),
            PartId::Wrap | PartId::Sleeve => -half,
            _ => 0.0,
        }
    }
}

/// How far along a part its leader ends, so that leaders of parts one over the other are apart; and the
/// field that stands for it.
fn lies(name: PartId) -> (f64, Field) {
    match name {
        PartId::Nock => (0.5, Field::NockKind),
        PartId::Bushing => (0.5, Field::BushingMass),
        PartId::Vanes => (0.5, Field::VaneCount),
        PartId::Wrap => (0.92, Field::WrapMass),
        PartId::Insert => (0.4, Field::InsertKind),
        PartId::Sleeve => (0.1, Field::SleeveMass),
        PartId::Collar => (0.5, Field::CollarMass),
        PartId::Point => (0.5, Field::PointMass),
        _ => (0.35, Field::StaticSpine),
    }
}
