//! What an arrow costs: how many pounds it is off its match, plus what another cut, bore or point than the usual one is
//! worth in pounds. The recommendation and every list of arrows rank by it (common practice, no source).

use crate::eval::safety;
use crate::schema::Field;
use crate::setup::Resolved;
use crate::units::up_to_an_eighth;

/// The bore preferred among shafts that suit alike, in inches; another costs so many pounds.
const USUAL_BORE_IN: f64 = 0.204;
const OTHER_BORE_LB: f64 = 1.0;

/// Bores this much farther than the nearest count as the same bore, in inches (our own margin, no source).
pub(super) const SAME_BORE_IN: f64 = 0.002;

/// An inch longer than the suggested cut costs as much as a pound off the match, an inch shorter as much as three, an
/// inch less to grow into as much as two; a pound weak as much as one and a half stiff, and as two for an archer who will
/// pull more.
const LONG_INCH_LB: f64 = 1.0;
const SHORT_INCH_LB: f64 = 3.0;
const GROWTH_INCH_LB: f64 = 2.0;
const WEAK_LB: f64 = 1.5;
const WEAK_TO_GROW_LB: f64 = 2.0;

/// A grain off the present point costs so many pounds (our own margin, no source).
const GRAIN_LB: f64 = 0.03;

/// Whether a bore, in inches, is the one that is preferred.
pub(super) fn is_usual_bore(bore_in: f64) -> bool {
    (bore_in - USUAL_BORE_IN).abs() <= SAME_BORE_IN
}

/// What arrows for one bow are compared by.
#[derive(Clone, Copy, Debug)]
pub struct Costs {
    draw_weight_lb: f64,
    is_light: bool,
    /// The cut that costs nothing.
    pub(super) cut_in: f64,
    /// The point that costs nothing.
    point_gr: f64,
}

impl Costs {
    /// For a bow; no other cut than the suggested one, with room to grow on a light bow, and no other point than
    /// `point_gr`, in grains, is free.
    #[must_use]
    pub fn new(resolved: &Resolved, point_gr: f64) -> Self {
        let suggested = resolved.suggested_cut_in().max(up_to_an_eighth(safety::shortest_cut_in(resolved)));
        let is_light = resolved.is_light_bow();
        let allowance = if is_light { resolved.number(Field::GrowthAllowance) } else { 0.0 };
        let draw_weight_lb = resolved.number(Field::PeakDrawWeight);
        Self { draw_weight_lb, is_light, cut_in: suggested + allowance, point_gr }
    }

    /// What an arrow costs in pounds; `share` is its column load over the target.
    #[must_use]
    pub fn of(&self, arrow: &Resolved, share: f64) -> f64 {
        let bore_in = arrow.number(Field::Bore);
        let bore = if arrow.is_wood() || is_usual_bore(bore_in) { 0.0 } else { OTHER_BORE_LB };
        let point = GRAIN_LB * (arrow.number(Field::PointMass) - self.point_gr).abs();
        self.off_match_lb(share) + self.inches_lb(arrow.number(Field::CutLength) - self.cut_in) + bore + point
    }

    fn off_match_lb(&self, share: f64) -> f64 {
        let pounds = self.draw_weight_lb * off(share);
        let weak_lb = if self.is_light { WEAK_TO_GROW_LB } else { WEAK_LB };
        if pounds > 0.0 { weak_lb * pounds } else { -pounds }
    }

    /// What a cut costs that is so many inches longer than the free one, or shorter.
    fn inches_lb(&self, longer_in: f64) -> f64 {
        let each_lb = match (longer_in > 0.0, self.is_light) {
            (true, _) => LONG_INCH_LB,
            (false, false) => SHORT_INCH_LB,
            (false, true) => GROWTH_INCH_LB,
        };
        each_lb * longer_in.abs()
    }
}

/// How far a share is off, as a share of the draw weight: weak is positive.
pub(super) fn off(share: f64) -> f64 {
    1.0 - 1.0 / share
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::eval::Evaluation;
    use crate::setup::Setup;

    #[test]
    fn each_part_of_the_cost_by_hand() {
        let cost = |pounds: f64, given: &[(Field, f64)], share: f64| {
            let bow = Setup::default().with(Field::PeakDrawWeight, pounds).unwrap();
            let free = Costs::new(&Evaluation::of(&bow).resolved, 100.0);
            let at = [(Field::CutLength, free.cut_in), (Field::Bore, 0.204), (Field::PointMass, 100.0)];
            let all = at.iter().chain(given);
            let arrow = all.fold(bow, |setup, &(field, value)| setup.with(field, value).unwrap());
            let free_in = free.cut_in;
            (free.of(&Evaluation::of(&arrow).resolved, share), free_in)
        };
        assert_eq!(cost(60.0, &[], 1.0).0, 0.0);
        // 1 / 1.2 of 60 lb is 50: ten pounds weak; 1 / 0.8 is 75: fifteen stiff.
        assert!((cost(60.0, &[], 1.2).0 - 15.0).abs() < 1e-9 && (cost(60.0, &[], 0.8).0 - 15.0).abs() < 1e-9);
        assert!((cost(24.0, &[], 1.2).0 - 8.0).abs() < 1e-9, "4 lb weak on a light bow");
        assert_eq!(cost(60.0, &[(Field::Bore, 0.246)], 1.0).0, 1.0);
        assert!((cost(60.0, &[(Field::PointMass, 150.0)], 1.0).0 - 1.5).abs() < 1e-9);
        let (_, free_in) = cost(60.0, &[], 1.0);
        assert_eq!(cost(60.0, &[(Field::CutLength, free_in + 1.0)], 1.0).0, 1.0);
        assert_eq!(cost(60.0, &[(Field::CutLength, free_in - 1.0)], 1.0).0, 3.0);
        let (_, light_in) = cost(24.0, &[], 1.0);
        assert_eq!(light_in, free_in + 2.0);
        assert_eq!(cost(24.0, &[(Field::CutLength, light_in - 1.0)], 1.0).0, 2.0);
    }
}
