//! Lengths of draw, rest, arrow and blades, and what is suggested for the arrow.

use super::Resolved;
use crate::schema::{Field, Launch, PIVOT_TO_DRAW_LENGTH_IN, PointKind};
use crate::setup::usual;
use crate::units::up_to_an_eighth;

impl Resolved {
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
        Field::CutLength.input().clamp(up_to_an_eighth(cut))
    }
}
