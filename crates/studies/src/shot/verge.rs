//! On the verge between two stock spines: which of them bends more nearly as it should.

use super::film::shot;
use crate::flight::shot::{Answer, FlightError};
use clothyard_core::eval::Evaluation;
use clothyard_core::eval::baseline::Baseline;
use clothyard_core::format::fixed;
use clothyard_core::schema::Field;
use clothyard_core::schema::Output;
use clothyard_core::setup::PhysicalModel;
use clothyard_core::setup::Setup;
use clothyard_mechanics::shot::tie as compare;

/// How the flex decides between two stock spines.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Broken {
    /// The stock spine that bends more nearly as it should.
    pub better: f64,
    /// The other.
    pub other: f64,
    /// How many times each magnifies its own bow, and the shaft that would match dead on.
    pub magnified: (f64, f64, f64),
}

/// Lets the flex decide; none where the set-up is not on the verge.
///
/// # Errors
/// [`FlightError`].
pub fn broken(setup: &Setup, all: &Evaluation) -> Answer<Option<Broken>> {
    let (Some((first, second)), Some(ideal)) = (all.tie, all.outputs.get(Output::IdealSpine)) else {
        return Ok(None);
    };
    // A stock spine is one of the list: the list's own shaft goes with it, save what is the user's.
    let of_spine = |spine: f64| {
        let other = setup.clone().with(Field::StaticSpine, spine).map_err(|_| FlightError::NoLaunch)?;
        let resolved = Baseline::new(&other).resolved;
        let model = PhysicalModel::new(&resolved, &setup.own_parts)?;
        Ok::<_, FlightError>((resolved, model))
    };
    let [ideal, one, two] = [of_spine(ideal)?, of_spine(first)?, of_spine(second)?];
    let shots = [&ideal, &one, &two].map(|(resolved, model)| shot(resolved, model));
    let [ideal, one, two] = shots;
    let verge = compare(&ideal?, &one?, &two?)?;
    let (better, other) = if verge.first_is_nearer { (first, second) } else { (second, first) };
    let (nearer, farther) =
        if verge.first_is_nearer { (verge.first, verge.second) } else { (verge.second, verge.first) };
    Ok(Some(Broken { better, other, magnified: (nearer, farther, verge.reference) }))
}

impl Broken {
    /// In a sentence.
    #[must_use]
    pub fn sentence(&self) -> String {
        let (better, other, wanted) = self.magnified;
        format!(
            "On the verge between {} and {} the flex decides: {} magnifies its own bow {} times, {} {} times; {} would be dead on. So {}. Here let-off tells, and hardly anywhere else.",
            fixed(self.better.min(self.other), 0),
            fixed(self.better.max(self.other), 0),
            fixed(self.better, 0),
            fixed(better, 2),
            fixed(self.other, 0),
            fixed(other, 2),
            fixed(wanted, 2),
            fixed(self.better, 0)
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A set-up whose ideal spine lies between two of the list.
    fn on_the_verge() -> Setup {
        let found =
            (0..400).map(|step| Setup::default().with(Field::PeakDrawWeight, 40.0 + 0.1 * f64::from(step)).unwrap());
        found.into_iter().find(|setup| Evaluation::of(setup).tie.is_some()).unwrap()
    }

    #[test]
    fn off_the_verge_nothing_is_decided() {
        let mut off =
            (0..400).map(|step| Setup::default().with(Field::PeakDrawWeight, 40.0 + 0.1 * f64::from(step)).unwrap());
        let setup = off.find(|setup| Evaluation::of(setup).tie.is_none()).unwrap();
        assert_eq!(broken(&setup, &Evaluation::of(&setup)), Ok(None));
    }

    #[test]
    fn the_better_of_the_two_is_one_of_them_and_a_weaker_one_bends_more() {
        let setup = on_the_verge();
        let all = Evaluation::of(&setup);
        let (first, second) = all.tie.unwrap();
        let broken = broken(&setup, &all).unwrap().unwrap();
        assert!([first, second].contains(&broken.better) && [first, second].contains(&broken.other));
        let (better, other, _) = broken.magnified;
        assert_eq!(broken.better > broken.other, better > other, "the weaker shaft bends more");
    }

    #[test]
    fn more_let_off_never_speaks_for_the_stiffer() {
        // Common practice, no source: let-off matters on the verge alone.
        let setup = on_the_verge();
        let better = |let_off: f64| {
            let setup = setup.clone().with(Field::LetOff, let_off).unwrap();
            let all = Evaluation::of(&setup);
            broken(&setup, &all).unwrap().map(|broken| broken.better)
        };
        if let (Some(low), Some(high)) = (better(65.0), better(90.0)) {
            assert!(high >= low);
        }
    }
}
