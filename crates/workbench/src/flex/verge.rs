//! On the verge between two stock spines: which of them bends more nearly as it should.

use super::film::shot;
use crate::build::Build;
use crate::choose::held::Held;
use crate::evaluation::Evaluation;
use crate::flight::shot::{Answer, FlightError};
use crate::inputs::Field;
use crate::outcome::Outcome;
use crate::setup::Setup;
use crate::wording::fixed;
use clothyard_mechanics::flex::verge as compare;

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
pub fn broken(build: &Build, all: &Evaluation) -> Answer<Option<Broken>> {
    let (Some((first, second)), Some(ideal)) = (all.verge, all.numbers.get(Outcome::IdealSpine)) else {
        return Ok(None);
    };
    // A stock spine is one of the list: the list's own shaft goes with it, save what is the user's.
    let of_spine = |spine: f64| {
        let other = build.clone().with(Field::StaticSpine, spine).map_err(|_| FlightError::NoLaunch)?;
        let settled = Held::new(&other).settled;
        let setup = Setup::new(&settled, &build.own_parts)?;
        Ok::<_, FlightError>((settled, setup))
    };
    let [ideal, one, two] = [of_spine(ideal)?, of_spine(first)?, of_spine(second)?];
    let shots = [&ideal, &one, &two].map(|(settled, setup)| shot(settled, setup));
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
    fn on_the_verge() -> Build {
        let found =
            (0..400).map(|step| Build::default().with(Field::PeakDrawWeight, 40.0 + 0.1 * f64::from(step)).unwrap());
        found.into_iter().find(|build| Evaluation::of(build).verge.is_some()).unwrap()
    }

    #[test]
    fn off_the_verge_nothing_is_decided() {
        let mut off =
            (0..400).map(|step| Build::default().with(Field::PeakDrawWeight, 40.0 + 0.1 * f64::from(step)).unwrap());
        let build = off.find(|build| Evaluation::of(build).verge.is_none()).unwrap();
        assert_eq!(broken(&build, &Evaluation::of(&build)), Ok(None));
    }

    #[test]
    fn the_better_of_the_two_is_one_of_them_and_a_weaker_one_bends_more() {
        let build = on_the_verge();
        let all = Evaluation::of(&build);
        let (first, second) = all.verge.unwrap();
        let broken = broken(&build, &all).unwrap().unwrap();
        assert!([first, second].contains(&broken.better) && [first, second].contains(&broken.other));
        let (better, other, _) = broken.magnified;
        assert_eq!(broken.better > broken.other, better > other, "the weaker shaft bends more");
    }

    #[test]
    fn more_let_off_never_speaks_for_the_stiffer() {
        // Common practice, no source: let-off matters on the verge alone.
        let build = on_the_verge();
        let better = |let_off: f64| {
            let build = build.clone().with(Field::LetOff, let_off).unwrap();
            let all = Evaluation::of(&build);
            broken(&build, &all).unwrap().map(|broken| broken.better)
        };
        if let (Some(low), Some(high)) = (better(65.0), better(90.0)) {
            assert!(high >= low);
        }
    }
}
