//! The outlines of an arrow's parts in inches: how far ahead of the nock groove, and how far below the axis.
//!
//! Seen from the side with one vane and one blade straight up. What no field asks for is drawn in a usual
//! shape: the nock's ears, the taper of a point, and how much thicker than the shaft wrap, sleeve, outsert and collar are.

use super::NOCK_EARS_IN;
use crate::eval::Evaluation;
use crate::eval::outputs::in_inches;
use crate::schema::{Field, Group, InsertKind, PointKind, VaneOutline};
use crate::setup::Resolved;
use crate::setup::{PartId, PhysicalModel};

/// One outline.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// The part it is, or is a piece of.
    pub name: PartId,
    /// The group of its fields.
    pub group: Group,
    /// What it is, as a style name.
    pub style: &'static str,
    /// Its corners in inches.
    pub corners: Vec<(f64, f64)>,
}

/// How many straight lines a vane's edge is drawn in.
const VANE_STEPS: u32 = 40;
/// A part of one's own is drawn at least this long, in inches.
const SHORTEST_IN: f64 = 0.08;

/// Every part that has a shape, those that are over others last.
#[must_use]
pub fn pieces(all: &Evaluation, model: &PhysicalModel) -> Vec<Piece> {
    let mut pen = Pen { resolved: &all.resolved, outer: all.resolved.number(Field::OuterDiameter), pieces: Vec::new() };
    pen.rear();
    pen.shaft_and_front(in_inches(model.length_m));
    for (name, part) in model.parts().filter(|(name, _)| matches!(name, PartId::Own(_))) {
        let (from, to) = (in_inches(part.from_m), in_inches(part.to_m));
        pen.tube(name, Group::Shaft, "own", (from, to.max(from + SHORTEST_IN)), pen.outer + 0.06);
    }
    pen.pieces
}

struct Pen<'a> {
    resolved: &'a Resolved,
    /// The shaft's outer diameter.
    outer: f64,
    pieces: Vec<Piece>,
}

impl Pen<'_> {
    fn number(&self, field: Field) -> f64 {
        self.resolved.number(field)
    }

    fn push(&mut self, name: PartId, group: Group, style: &'static str, corners: Vec<(f64, f64)>) {
        self.pieces.push(Piece { name, group, style, corners });
    }

    /// A box about the axis.
    fn tube(&mut self, name: PartId, group: Group, style: &'static str, (from, to): (f64, f64), diameter: f64) {
        let half = diameter / 2.0;
        self.push(name, group, style, vec![(from, -half), (to, -half), (to, half), (from, half)]);
    }

    /// Nock, wrap and vanes.
    fn rear(&mut self) {
        let (throat, half) = (self.number(Field::ThroatToShaft), self.outer / 2.0);
        let (ear, slot) = (-NOCK_EARS_IN, half * 0.35);
        let above = [(ear, -half * 0.8), (0.0, -half), (throat, -half)];
        let groove = [(ear, slot), (0.0, slot), (0.0, -slot), (ear, -slot)];
        let below = above.iter().rev().map(|&(x, y)| (x, -y));
        let corners = above.iter().copied().chain(below).chain(groove).collect();
        self.push(PartId::Nock, Group::Nock, "nock", corners);
        if self.number(Field::WrapMass) > 0.0 {
            let along = (throat, throat + self.number(Field::WrapLength));
            self.tube(PartId::Wrap, Group::Vanes, "wrap", along, self.outer + 0.02);
        }
        for share in up_and_down(self.number(Field::VaneCount)).into_iter().filter(|share| share.abs() > 0.0) {
            self.vane(share);
        }
    }

    /// A vane, of whose height this share is seen; upward where it is below zero.
    fn vane(&mut self, share: f64) {
        let (from, length) = (self.number(Field::VaneSetBack), self.number(Field::VaneLength));
        let (base, height) = ((self.outer / 2.0) * share.signum(), self.number(Field::VaneHeight) * share);
        let outline: VaneOutline = self.resolved.choice();
        let edge = (0..=VANE_STEPS).map(|step| f64::from(step) / f64::from(VANE_STEPS));
        let edge = edge.map(|along| (from + along * length, base + height * outline.height_at(along)));
        let corners = core::iter::once((from, base)).chain(edge).chain([(from + length, base)]).collect();
        self.push(PartId::Vanes, Group::Vanes, "vane", corners);
    }

    /// Shaft, bushing, insert, sleeve, collar and point.
    fn shaft_and_front(&mut self, end: f64) {
        let (outer, bore, from) = (self.outer, self.number(Field::Bore), self.number(Field::ThroatToShaft));
        self.tube(PartId::Shaft, Group::Shaft, "shaft", (from, end), outer);
        if self.number(Field::BushingMass) > 0.0 {
            let along = (from, from + self.number(Field::BushingLength));
            self.tube(PartId::Bushing, Group::Nock, "inside", along, bore);
        }
        let (inside, ahead) = (self.number(Field::InsertInside), self.number(Field::InsertAhead));
        if self.number(Field::InsertMass) > 0.0 {
            let over = self.resolved.choice::<InsertKind>() == InsertKind::Outsert;
            let (style, diameter) = if over { ("over", outer + 0.03) } else { ("inside", bore) };
            self.tube(PartId::Insert, Group::Front, style, (end - inside, end), diameter);
            self.tube(PartId::Insert, Group::Front, "ahead", (end, end + ahead), outer);
        }
        if self.number(Field::SleeveMass) > 0.0 {
            let along = (end - self.number(Field::SleeveLength), end);
            self.tube(PartId::Sleeve, Group::Front, "over", along, outer + 0.03);
        }
        let base = end + ahead + self.number(Field::CollarLength);
        self.tube(PartId::Collar, Group::Front, "ahead", (end + ahead, base), outer + 0.02);
        self.point(base);
    }

    fn point(&mut self, base: f64) {
        let (length, half) = (self.number(Field::PointLength), self.outer / 2.0);
        let (shoulder, tip) = (base + length * 0.55, base + length);
        if self.resolved.choice::<PointKind>().is_broadhead() {
            let (rear, span) = (tip - self.number(Field::BladeLength), self.number(Field::CuttingWidth) / 2.0);
            let [up, down] = up_and_down(self.number(Field::BladeCount));
            let corners = vec![(tip, 0.0), (rear, span * up), (rear, span * down)];
            self.push(PartId::Point, Group::Point, "blade", corners);
        }
        let corners = vec![(base, -half), (shoulder, -half * 0.9), (tip, 0.0), (shoulder, half * 0.9), (base, half)];
        self.push(PartId::Point, Group::Point, "point", corners);
    }
}

/// How high vanes or blades set evenly around the axis look upward, one of them standing straight up, and
/// how far down: the cosine of half the angle between two where their count is odd. A single one has none opposite.
fn up_and_down(count: f64) -> [f64; 2] {
    const DOWN: [f64; 7] = [0.0, 0.0, 1.0, 0.5, 1.0, 0.809_016_994_374_947_5, 1.0];
    [if count > 0.0 { -1.0 } else { 0.0 }, DOWN.get(count as usize).copied().unwrap_or(1.0)]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::schema::Value;
    use crate::setup::Setup;

    fn pieces_of(given: &[(Field, Value)]) -> Vec<Piece> {
        let mut setup = Setup::default();
        for &(field, value) in given {
            setup.set(field, Some(value)).unwrap();
        }
        let all = Evaluation::of(&setup);
        pieces(&all, all.model.as_ref().unwrap())
    }

    fn extent(pieces: &[Piece], style: &str) -> (f64, f64) {
        let corners = pieces.iter().filter(|piece| piece.style == style).flat_map(|piece| &piece.corners);
        corners.fold((0.0, 0.0), |(up, down), &(_, y)| (f64::min(up, y), f64::max(down, y)))
    }

    #[test]
    fn what_is_around_the_axis_is_seen_as_from_the_side() {
        // The lowest of n rays at equal angles, one straight up: the least cosine of k times 360/n degrees.
        for count in 1_u32..=6 {
            let angle = |k: u32| core::f64::consts::TAU * f64::from(k) / f64::from(count);
            let lowest = (0..count).map(|k| -angle(k).cos()).fold(0.0, f64::max);
            let [up, down] = up_and_down(f64::from(count));
            assert_eq!(up, -1.0);
            assert!((down - lowest).abs() < 1e-15, "{count}: {down} {lowest}");
        }
        assert_eq!(up_and_down(0.0), [0.0, 0.0]);
    }

    #[test]
    fn vanes_and_blades_reach_as_far_as_their_fields_say() {
        let given = [
            (Field::OuterDiameter, Value::Number(0.3)),
            (Field::VaneHeight, Value::Number(0.5)),
            (Field::VaneCount, Value::Number(3.0)),
            (Field::PointKind, PointKind::FixedBlade.into()),
            (Field::CuttingWidth, Value::Number(1.25)),
            (Field::BladeCount, Value::Number(2.0)),
        ];
        let pieces = pieces_of(&given);
        assert_eq!(extent(&pieces, "vane"), (-0.65, 0.4));
        assert_eq!(extent(&pieces, "blade"), (-0.625, 0.625));
    }
}
