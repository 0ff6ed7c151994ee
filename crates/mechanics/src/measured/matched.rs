//! The best matched set of shafts out of many, exactly.

use crate::error::Result;
use crate::list::List;
use crate::parameter::Parameter;

/// Maximum number of shafts to choose from.
pub const MAX_SHAFTS: usize = 144;

/// One shaft as measured. Example: see [`best_matched_set`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shaft {
    /// Mass, kg.
    pub mass_kg: f64,
    /// Deflection on a spine rig, m, the same rig for all.
    pub sag_m: f64,
}

/// Cost of a spread. For weights `w` and spreads counted in units of a tolerance `t`, both are `w / t`.
/// Example: see [`best_matched_set`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpreadCost {
    /// Cost per kilogram between the heaviest and the lightest.
    pub per_kg: f64,
    /// Cost per meter between the weakest and the stiffest.
    pub per_m: f64,
}

/// The set with the least cost: the result of [`best_matched_set`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MatchedSet {
    members: List<u8, MAX_SHAFTS>,
    /// Mass of the heaviest minus that of the lightest, kg.
    pub mass_spread_kg: f64,
    /// Deflection of the weakest minus that of the stiffest, m.
    pub sag_spread_m: f64,
    /// Cost of the set.
    pub cost: f64,
}

impl MatchedSet {
    /// Indices of the shafts in the order given, ascending. Example: see [`best_matched_set`].
    #[must_use]
    pub fn members(&self) -> &[u8] {
        self.members.as_slice()
    }
}

/// The set of `wanted` shafts (1 to as many as there are, at most 144) with the least cost.
///
/// ```text
/// cost = per_kg (greatest minus least mass) + per_m (greatest minus least deflection)
/// ```
///
/// Let the best set's masses run from `m` to `M`. Among all shafts of masses `m` to `M`, sorted by
/// deflection, any set spans at least as many positions as it has shafts; so some run of consecutive shafts,
/// starting with the set's stiffest, has no greater spread of deflection, and none greater of mass. It is
/// therefore enough to try every run of consecutive shafts for every pair of masses: each trial costs at
/// least as much as some set, and the best set's cost is among them.
///
/// A shaft too crooked to use is excluded by the caller. Of equal sets the one found first from the lightest
/// is returned.
///
/// # Errors
/// [`crate::Error::OutOfRange`] for no shaft or more than [`MAX_SHAFTS`], a set of none or of more
/// than there are, a mass, a deflection or a cost.
///
/// # Examples
/// ```
/// use clothyard_mechanics::measured::{Shaft, SpreadCost, best_matched_set};
/// let shaft = |mass_kg, sag_m| Shaft { mass_kg, sag_m };
/// let shafts = [shaft(0.0200, 0.0127), shaft(0.0203, 0.0127), shaft(0.0201, 0.0128), shaft(0.0200, 0.0140)];
/// let set = best_matched_set(&shafts, 2, SpreadCost { per_kg: 1e4, per_m: 1e4 })?;
/// // The first with each other costs 3, 1 + 1 and 13.
/// assert_eq!(set.members(), [0, 2]);
/// assert!((set.cost - 2.0).abs() < 1e-13);
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
///
/// # References
/// The argument above; a test compares with every combination of up to 12 shafts.
pub fn best_matched_set(shafts: &[Shaft], wanted: usize, cost: SpreadCost) -> Result<MatchedSet> {
    Parameter::Shafts.check(shafts.len() as f64)?;
    Parameter::SetSize.check_within(wanted as f64, 1.0, shafts.len() as f64)?;
    Parameter::SpreadCost.check(cost.per_kg)?;
    Parameter::SpreadCost.check(cost.per_m)?;
    let mut by_mass = List::<(f64, f64, u8), MAX_SHAFTS>::new((0.0, 0.0, 0));
    for (shaft, index) in shafts.iter().zip(0_u8..) {
        let mass = Parameter::ArrowMass.check(shaft.mass_kg)?;
        by_mass.insert((mass, Parameter::Deflection.check(shaft.sag_m)?, index));
    }
    let mut search = Search { wanted, cost, least: f64::INFINITY, members: List::new(0) };
    let mut rest = by_mass.as_slice();
    while let [_, lighter_gone @ ..] = rest {
        search.try_lightest(rest);
        rest = lighter_gone;
    }
    Ok(search.found(shafts))
}

struct Search {
    wanted: usize,
    cost: SpreadCost,
    least: f64,
    members: List<u8, MAX_SHAFTS>,
}

impl Search {
    /// Tries all sets whose lightest is the first shaft; the shafts are sorted by mass.
    fn try_lightest(&mut self, shafts: &[(f64, f64, u8)]) {
        let lightest = shafts.first().map_or(0.0, |shaft| shaft.0);
        let mut by_sag = List::<(f64, u8), MAX_SHAFTS>::new((0.0, 0));
        for (mass, sag, index) in shafts {
            let of_mass = self.cost.per_kg * (mass - lightest);
            if of_mass >= self.least {
                return;
            }
            by_sag.insert((*sag, *index));
            for run in by_sag.as_slice().windows(self.wanted) {
                self.consider(of_mass, run);
            }
        }
    }

    fn consider(&mut self, of_mass: f64, run: &[(f64, u8)]) {
        let (Some((stiffest, _)), Some((weakest, _))) = (run.first(), run.last()) else { return };
        let cost = of_mass + self.cost.per_m * (weakest - stiffest);
        if cost < self.least {
            self.least = cost;
            self.members = List::new(0);
            run.iter().for_each(|(_, index)| self.members.push(*index));
        }
    }

    fn found(self, shafts: &[Shaft]) -> MatchedSet {
        let mut members = List::new(0);
        let is_member = |index: &u8| self.members.as_slice().contains(index);
        shafts.iter().zip(0_u8..).filter(|(_, index)| is_member(index)).for_each(|(_, index)| members.push(index));
        let chosen = || members.as_slice().iter().filter_map(|index| shafts.get(usize::from(*index)));
        let mass_spread_kg = spread(chosen().map(|shaft| shaft.mass_kg));
        let sag_spread_m = spread(chosen().map(|shaft| shaft.sag_m));
        let cost = self.cost.per_kg * mass_spread_kg + self.cost.per_m * sag_spread_m;
        MatchedSet { members, mass_spread_kg, sag_spread_m, cost }
    }
}

/// The greatest value minus the least.
fn spread(values: impl Iterator<Item = f64>) -> f64 {
    let (low, high) = values.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), v| (low.min(v), high.max(v)));
    high - low
}

#[cfg(test)]
mod tests {
    use super::*;

    const COST: SpreadCost = SpreadCost { per_kg: 1e4, per_m: 5e3 };

    #[test]
    fn a_set_of_all_is_all_and_a_set_of_one_costs_nothing() {
        let shafts =
            [(0.020, 0.0127), (0.022, 0.0120), (0.021, 0.0135)].map(|(mass_kg, sag_m)| Shaft { mass_kg, sag_m });
        let all = best_matched_set(&shafts, 3, COST).unwrap();
        assert_eq!(all.members(), [0, 1, 2]);
        assert!((all.mass_spread_kg - 0.002).abs() < 1e-17 && (all.sag_spread_m - 0.0015).abs() < 1e-17);
        assert!((all.cost - 27.5).abs() < 1e-12);
        assert!(best_matched_set(&shafts, 1, COST).unwrap().cost.abs() < 1e-300);
    }

    #[test]
    fn a_cost_of_nothing_leaves_the_other_to_decide() {
        let shafts =
            [(0.020, 0.0127), (0.026, 0.0128), (0.0201, 0.0150)].map(|(mass_kg, sag_m)| Shaft { mass_kg, sag_m });
        let members = |cost| best_matched_set(&shafts, 2, cost).map(|set| set.members().to_vec());
        assert_eq!(members(SpreadCost { per_kg: 0.0, per_m: 1.0 }).unwrap(), [0, 1]);
        assert_eq!(members(SpreadCost { per_kg: 1.0, per_m: 0.0 }).unwrap(), [0, 2]);
    }

    #[test]
    fn a_gross_of_like_shafts_is_searched_and_one_more_refused() {
        let shaft = |i: usize| Shaft {
            mass_kg: 0.02 + 1e-5 * (i * 37 % 145) as f64,
            sag_m: 0.0127 + 1e-6 * (i * 101 % 143) as f64,
        };
        let shafts: std::vec::Vec<Shaft> = (0..=MAX_SHAFTS).map(shaft).collect();
        let set = best_matched_set(&shafts[..MAX_SHAFTS], 12, COST).unwrap();
        assert_eq!(set.members().len(), 12);
        let refused = best_matched_set(&shafts, 12, COST).unwrap_err();
        assert!(matches!(refused, crate::Error::OutOfRange { parameter: Parameter::Shafts, .. }));
    }

    #[test]
    fn more_than_there_are_none_at_all_and_what_is_no_number_are_refused() {
        let shafts = [Shaft { mass_kg: 0.02, sag_m: 0.0127 }];
        assert!(best_matched_set(&shafts, 2, COST).is_err());
        assert!(best_matched_set(&shafts, 0, COST).is_err());
        assert!(best_matched_set(&[], 1, COST).is_err());
        assert!(best_matched_set(&shafts, 1, SpreadCost { per_kg: -1.0, ..COST }).is_err());
        assert!(best_matched_set(&[Shaft { sag_m: f64::NAN, ..shafts[0] }], 1, COST).is_err());
    }

    #[test]
    fn of_equal_sets_the_first_is_taken() {
        let shafts = [0.125, 0.25, 0.375].map(|sag_m| Shaft { mass_kg: 0.02, sag_m });
        assert_eq!(best_matched_set(&shafts, 2, COST).unwrap().members(), [0, 1]);
    }
}
