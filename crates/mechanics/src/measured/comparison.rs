//! A finished arrow on scale and balance edge against the computed one: which part explains both.

use crate::arrow::{Arrow, MAX_PARTS, Part};
use crate::error::Result;
use crate::list::List;
use crate::math::sqrt;
use crate::parameter::Parameter;

/// The mass of the shaft, and mass and position of every part.
const MAX_EXPLANATIONS: usize = 1 + 2 * MAX_PARTS;

/// A finished arrow as measured. Example: see [`explanations`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weighed {
    /// Mass, kg.
    pub mass_kg: f64,
    /// Balance point from the nock groove, m.
    pub balance_m: f64,
    /// Standard uncertainty of the mass, kg; above 0.
    pub mass_uncertainty_kg: f64,
    /// Standard uncertainty of the balance point, m; above 0.
    pub balance_uncertainty_m: f64,
}

/// What may be wrong. Example: see [`explanations`].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Component {
    /// The shaft.
    Shaft,
    /// The part of this index in [`Arrow::parts`].
    Part(usize),
}

/// The error of it. Example: see [`explanations`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Change {
    /// Mass minus the assumed one, kg.
    Mass(f64),
    /// Position minus the assumed one, m; positive is forward.
    Position(f64),
}

/// One change that may explain the measurement: an item of [`Explanations`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Explanation {
    /// What may be wrong.
    pub component: Component,
    /// Its error.
    pub change: Change,
    /// The unexplained remainder, in standard uncertainties. About 1 for the right change; a change with more than 3
    /// hardly explains the measurement.
    pub misfit: f64,
    /// Measured minus explained mass, kg.
    pub mass_left_kg: f64,
    /// Measured minus explained balance point, m.
    pub balance_left_m: f64,
}

/// All single changes, best first: the result of [`explanations`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Explanations {
    ranked: List<Explanation, MAX_EXPLANATIONS>,
    /// The unexplained remainder without any change, in standard uncertainties. Below about 2 nothing need be wrong.
    pub misfit_unchanged: f64,
}

impl Explanations {
    /// The changes by ascending misfit; of equal misfits the smallest change first. Example: see [`explanations`].
    #[must_use]
    pub fn ranked(&self) -> &[Explanation] {
        self.ranked.as_slice()
    }
}

/// Single changes of a part's mass or position that explain a measurement, best first.
///
/// The measured mass `M'` (kg) should equal the sum `M` of the parts', and about the measured balance point
/// `A'` (m) their first moments should vanish. One part may be wrong: its mass `m` by `d` at its center `x`,
/// or its position by `s`. Each changes both conditions in a known way,
///
/// ```text
/// mass:    M' - M - d = 0              with uncertainty u(M')
/// moment:  M (A - A') + d (x - A') = 0  with uncertainty M' u(A'),  or with  m s  for  d (x - A')
/// ```
///
/// and the change that minimizes the sum of squares, each over its uncertainty, has a closed form. The
/// remainder, as one number of standard uncertainties, ranks the parts.
///
/// Two numbers identify one fault, no more: that a part is named does not prove that it is the one, and two
/// wrong parts may look like a third.
///
/// No part becomes lighter than zero. A changed position leaves the mass unchanged, so it explains a
/// measurement only where the mass agrees.
///
/// # Errors
/// As [`Arrow::new`]; [`crate::Error::OutOfRange`] for a measurement, or an uncertainty that is not above 0.
///
/// # Examples
/// ```
/// use clothyard_mechanics::measured::{Change, Component, Weighed, explanations};
/// use clothyard_mechanics::{Arrow, Part};
/// let parts = [Part::point_mass(0.0016, 0.05), Part::point_mass(0.0065, 0.73)];
/// let arrow = Arrow::new(0.72, 0.014, 0.018, 6.0, &parts)?;
/// // The point is in fact 0.5 g heavier.
/// let mass_kg = arrow.mass_kg() + 0.0005;
/// let balance_m = (arrow.mass_kg() * arrow.balance_m() + 0.0005 * 0.73) / mass_kg;
/// let weighed = Weighed { mass_kg, balance_m, mass_uncertainty_kg: 1e-5, balance_uncertainty_m: 5e-4 };
/// let best = explanations(&arrow, &weighed)?.ranked()[0];
/// assert_eq!(best.component, Component::Part(1));
/// assert!(matches!(best.change, Change::Mass(by) if (by - 0.0005).abs() < 1e-15));
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
///
/// # References
/// Bevington & Robinson, *Data Reduction and Error Analysis for the Physical Sciences*, chapter 6.
pub fn explanations(arrow: &Arrow<'_>, weighed: &Weighed) -> Result<Explanations> {
    arrow.check()?;
    let gap = Gap::between(arrow, weighed)?;
    let shaft_mass = arrow.shaft_mass_kg_per_m * (arrow.length_m - arrow.shaft_from_m);
    let shaft = Part::point_mass(shaft_mass, 0.5 * (arrow.shaft_from_m + arrow.length_m));
    let by_shaft = gap.by_mass(Component::Shaft, &shaft);
    let mut ranked = List::new(by_shaft);
    ranked.push(by_shaft);
    for (index, part) in arrow.parts.iter().enumerate() {
        ranked.push(gap.by_mass(Component::Part(index), part));
        if let Some(by_position) = gap.by_position(Component::Part(index), part) {
            ranked.push(by_position);
        }
    }
    ranked.as_mut_slice().sort_unstable_by(|a, b| a.misfit.total_cmp(&b.misfit).then(a.size().total_cmp(&b.size())));
    Ok(Explanations { ranked, misfit_unchanged: gap.misfit(0.0, 0.0) })
}

impl Explanation {
    fn size(&self) -> f64 {
        match self.change {
            Change::Mass(by) | Change::Position(by) => by.abs(),
        }
    }
}

/// Measured minus computed.
struct Gap {
    mass: f64,
    /// First moment about the measured balance point.
    moment: f64,
    balance: f64,
    measured_mass: f64,
    mass_uncertainty: f64,
    moment_uncertainty: f64,
}

impl Gap {
    fn between(arrow: &Arrow<'_>, weighed: &Weighed) -> Result<Self> {
        let mass = Parameter::ArrowMass.check(weighed.mass_kg)?;
        let balance = Parameter::Position.check(weighed.balance_m)?;
        let (minimum, (_, maximum)) = (1e-9, Parameter::Resolution.range());
        let mass_uncertainty = Parameter::Resolution.check_within(weighed.mass_uncertainty_kg, minimum, maximum)?;
        let balance_uncertainty =
            Parameter::Resolution.check_within(weighed.balance_uncertainty_m, minimum, maximum)?;
        Ok(Self {
            mass: mass - arrow.mass_kg(),
            moment: arrow.mass_kg() * (balance - arrow.balance_m()),
            balance,
            measured_mass: mass,
            mass_uncertainty,
            moment_uncertainty: mass * balance_uncertainty,
        })
    }

    /// The remainder after a change of mass and of moment, in standard uncertainties.
    fn misfit(&self, mass: f64, moment: f64) -> f64 {
        let of_mass = (self.mass - mass) / self.mass_uncertainty;
        let of_moment = (self.moment - moment) / self.moment_uncertainty;
        sqrt(of_mass * of_mass + of_moment * of_moment)
    }

    fn by_mass(&self, component: Component, part: &Part) -> Explanation {
        let arm = part.center_m - self.balance;
        let (weight, weight_of_moment) = (square(1.0 / self.mass_uncertainty), square(1.0 / self.moment_uncertainty));
        let best =
            (self.mass * weight + self.moment * arm * weight_of_moment) / (weight + arm * arm * weight_of_moment);
        let by = best.max(-part.mass_kg);
        self.explanation(component, Change::Mass(by), by, by * arm)
    }

    /// None where the part is massless, or the position would be out of range.
    fn by_position(&self, component: Component, part: &Part) -> Option<Explanation> {
        let by = self.moment / part.mass_kg;
        Parameter::Position.check(part.center_m + by).ok()?;
        Some(self.explanation(component, Change::Position(by), 0.0, self.moment))
    }

    fn explanation(&self, component: Component, change: Change, mass: f64, moment: f64) -> Explanation {
        Explanation {
            component,
            change,
            misfit: self.misfit(mass, moment),
            mass_left_kg: self.mass - mass,
            balance_left_m: (self.moment - moment) / self.measured_mass,
        }
    }
}

fn square(x: f64) -> f64 {
    x * x
}

#[cfg(test)]
mod tests {
    use super::*;

    const PARTS: [Part; 4] = [
        Part::point_mass(0.0006, 0.0),
        Part::point_mass(0.0016, 0.05),
        Part::point_mass(0.0013, 0.70),
        Part::point_mass(0.0065, 0.735),
    ];

    fn arrow(parts: &[Part]) -> Arrow<'_> {
        Arrow::new(0.72, 0.014, 0.018, 6.0, parts).unwrap()
    }

    fn weighed(truth: &Arrow<'_>) -> Weighed {
        Weighed {
            mass_kg: truth.mass_kg(),
            balance_m: truth.balance_m(),
            mass_uncertainty_kg: 1e-5,
            balance_uncertainty_m: 3e-4,
        }
    }

    #[test]
    fn a_part_heavier_or_lighter_than_assumed_is_found() {
        for (index, by) in [(0, 0.0004), (1, -0.0007), (2, 0.0006), (3, -0.001), (3, 0.0016)] {
            let mut true_parts = PARTS;
            true_parts[index].mass_kg += by;
            let found = explanations(&arrow(&PARTS), &weighed(&arrow(&true_parts))).unwrap();
            let best = found.ranked()[0];
            assert_eq!(best.component, Component::Part(index));
            assert!(matches!(best.change, Change::Mass(found) if (found - by).abs() < 1e-12), "{best:?}");
            assert!(best.misfit < 1e-8 && best.mass_left_kg.abs() < 1e-15 && best.balance_left_m.abs() < 1e-14);
            assert!(found.misfit_unchanged > 30.0);
        }
    }

    #[test]
    fn a_shaft_of_another_weight_is_found() {
        let truth = Arrow { shaft_mass_kg_per_m: 0.019, ..arrow(&PARTS) };
        let best = explanations(&arrow(&PARTS), &weighed(&truth)).unwrap().ranked()[0];
        assert_eq!(best.component, Component::Shaft);
        assert!(matches!(best.change, Change::Mass(by) if (by - 0.001 * 0.706).abs() < 1e-12));
    }

    #[test]
    fn a_part_out_of_place_is_among_the_best_and_every_place_explains_as_well() {
        let mut true_parts = PARTS;
        true_parts[1].center_m += 0.02;
        let found = explanations(&arrow(&PARTS), &weighed(&arrow(&true_parts))).unwrap();
        let moved = found
            .ranked()
            .iter()
            .find(|each| each.component == Component::Part(1) && matches!(each.change, Change::Position(_)));
        assert!(matches!(moved.unwrap().change, Change::Position(by) if (by - 0.02).abs() < 1e-12));
        let places = found.ranked().iter().take_while(|each| matches!(each.change, Change::Position(_))).count();
        assert_eq!(places, 4, "moving any part shifts the balance alone: {found:?}");
        // Of four equally good, the one that moves least: the heaviest.
        assert_eq!(found.ranked()[0].component, Component::Part(3));
    }

    #[test]
    fn the_change_of_mass_is_the_least_misfit_there_is() {
        let truth = Weighed { mass_kg: 0.0235, balance_m: 0.46, ..weighed(&arrow(&PARTS)) };
        let gap = Gap::between(&arrow(&PARTS), &truth).unwrap();
        for part in &PARTS {
            let arm = part.center_m - truth.balance_m;
            let Change::Mass(by) = gap.by_mass(Component::Shaft, part).change else { panic!("a mass") };
            let misfit = |by: f64| gap.misfit(by, by * arm);
            let lower = misfit(by + 1e-6) < misfit(by) || (misfit(by - 1e-6) < misfit(by) && by > -part.mass_kg);
            assert!(!lower, "{part:?}: {by}");
        }
    }

    #[test]
    fn no_part_gets_lighter_than_nothing() {
        let light = Weighed { mass_kg: 0.015, ..weighed(&arrow(&PARTS)) };
        for each in explanations(&arrow(&PARTS), &light).unwrap().ranked() {
            if let (Component::Part(index), Change::Mass(by)) = (each.component, each.change) {
                assert!(by >= -PARTS[index].mass_kg);
            }
        }
    }

    #[test]
    fn an_arrow_as_computed_needs_no_explanation() {
        let found = explanations(&arrow(&PARTS), &weighed(&arrow(&PARTS))).unwrap();
        assert!(found.misfit_unchanged < 1e-9);
        assert_eq!(found.ranked().len(), 9);
    }

    #[test]
    fn a_measurement_without_uncertainty_is_refused() {
        let sure = Weighed { mass_uncertainty_kg: 0.0, ..weighed(&arrow(&PARTS)) };
        assert!(explanations(&arrow(&PARTS), &sure).is_err());
        assert!(explanations(&arrow(&PARTS), &Weighed { balance_m: f64::NAN, ..sure }).is_err());
    }

    #[test]
    fn the_shaft_too_gets_no_lighter_than_nothing() {
        let light = Weighed { mass_kg: 0.005, ..weighed(&arrow(&PARTS)) };
        let found = explanations(&arrow(&PARTS), &light).unwrap();
        let shaft = found.ranked().iter().find(|each| each.component == Component::Shaft).unwrap();
        assert!(matches!(shaft.change, Change::Mass(by) if (by + 0.018 * 0.706).abs() < 1e-16), "{shaft:?}");
    }

    #[test]
    fn a_balance_alone_is_off_by_its_own_uncertainties() {
        let truth = weighed(&arrow(&PARTS));
        for off in [-4.0, 2.5] {
            let measured = Weighed { balance_m: truth.balance_m + off * truth.balance_uncertainty_m, ..truth };
            let found = explanations(&arrow(&PARTS), &measured).unwrap().misfit_unchanged;
            assert!((found / f64::abs(off) - 1.0).abs() < 1e-12, "{off}: {found}");
        }
    }

    #[test]
    fn what_a_change_leaves_is_what_an_arrow_so_changed_lacks() {
        let truth = Weighed { mass_kg: 0.0235, balance_m: 0.46, ..weighed(&arrow(&PARTS)) };
        for each in explanations(&arrow(&PARTS), &truth).unwrap().ranked() {
            let (Component::Part(index), Change::Mass(by)) = (each.component, each.change) else { continue };
            let mut parts = PARTS;
            parts[index].mass_kg += by;
            let changed = arrow(&parts);
            assert!((each.mass_left_kg - (0.0235 - changed.mass_kg())).abs() < 1e-16);
            // Moments about the measured balance, over the measured mass.
            let left = (0.46 - changed.balance_m()) * changed.mass_kg() / 0.0235;
            assert!((each.balance_left_m - left).abs() < 1e-14, "{each:?}");
        }
    }

    #[test]
    fn no_part_is_moved_to_where_none_can_be() {
        // The balance is 30 mm back. To bring that about the lightest part would have to be over a meter behind the
        // nock, or the heaviest a tenth of a meter back.
        let truth = weighed(&arrow(&PARTS));
        let back = Weighed { balance_m: truth.balance_m - 0.03, ..truth };
        let found = explanations(&arrow(&PARTS), &back).unwrap();
        let moved = |part| {
            found
                .ranked()
                .iter()
                .any(|each| each.component == Component::Part(part) && matches!(each.change, Change::Position(_)))
        };
        assert!(!moved(0) && moved(3), "{found:?}");
    }

    #[test]
    fn as_many_parts_as_fit_all_have_their_say() {
        let many = [Part::point_mass(0.0005, 0.3); MAX_PARTS];
        let found = explanations(&arrow(&many), &weighed(&arrow(&many))).unwrap();
        assert_eq!(found.ranked().len(), 1 + 2 * 32);
    }
}
