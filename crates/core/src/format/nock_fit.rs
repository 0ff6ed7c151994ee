//! How a nock fits the served string, or what would fit where only one of the two was measured.

use super::{measured, trimmed};
use crate::schema::Field;
use crate::setup::Resolved;
use crate::units::{Quantity, Units};

/// Groove less served string, in inches, at which a nock begins to click on and to hang loose (memory, no source).
const PINCHES_BELOW_IN: f64 = -0.002;
const LOOSE_ABOVE_IN: f64 = 0.004;

const CONFIRM: &str = "Rule of thumb; confirm with the tap test.";

/// How they fit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NockFit {
    /// Whether it is to be put right before shooting.
    pub warning: bool,
    /// What is found.
    pub words: String,
}

/// How groove and string fit; none where neither was measured.
#[must_use]
pub fn nock_fit(resolved: &Resolved, units: &Units) -> Option<NockFit> {
    let (warning, words) = match (resolved.given(Field::NockThroat), resolved.given(Field::ServedString)) {
        (Some(groove), Some(string)) => both(groove, string, units),
        (None, Some(string)) => (false, format!("Nock grooves of {} fit this serving.", grooves(string, units))),
        (Some(groove), None) => (false, format!("Servings of {} fit this nock.", servings(groove, units))),
        (None, None) => return None,
    };
    Some(NockFit { warning, words: format!("{words} {CONFIRM}") })
}

fn both(groove: f64, string: f64, units: &Units) -> (bool, String) {
    let room = groove - string;
    let by = thousandths(room, units);
    let too = if room < PINCHES_BELOW_IN {
        format!("Too tight by {by}. Release will vary.")
    } else if room > LOOSE_ABOVE_IN {
        format!("Too loose by {by}: the arrow can drop off and dry-fire the bow.")
    } else {
        return (false, format!("Good fit: within {by}."));
    };
    let (grooves, servings) = (grooves(string, units), servings(groove, units));
    (true, format!("{too} Use a nock groove of {grooves}, or serve to {servings}."))
}

/// Thousandths of an inch, which a few decide; in millimeters where those are shown.
#[must_use]
pub fn thousandths(inches: f64, units: &Units) -> String {
    if units.index(Quantity::SmallLength) == 0 {
        format!("{} thousandths of an inch", trimmed((inches * 1000.0).abs(), 1))
    } else {
        small(inches.abs(), units)
    }
}

fn small(inches: f64, units: &Units) -> String {
    measured(Quantity::SmallLength, inches, units)
}

/// The nock grooves that fit a serving, both in inches.
fn grooves(string: f64, units: &Units) -> String {
    format!("{} to {}", small(string + PINCHES_BELOW_IN, units), small(string + LOOSE_ABOVE_IN, units))
}

/// The servings that fit a nock groove, both in inches.
fn servings(groove: f64, units: &Units) -> String {
    format!("{} to {}", small(groove - LOOSE_ABOVE_IN, units), small(groove - PINCHES_BELOW_IN, units))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::eval::Evaluation;
    use crate::setup::Setup;

    fn fit(given: &[(Field, f64)]) -> Option<NockFit> {
        let setup = given.iter().fold(Setup::default(), |setup, &(field, value)| setup.with(field, value).unwrap());
        nock_fit(&Evaluation::of(&setup).resolved, &Units::ARCHERY)
    }

    #[test]
    fn a_few_thousandths_decide_the_nock() {
        let nock = |groove: f64| fit(&[(Field::NockThroat, groove), (Field::ServedString, 0.112)]).unwrap();
        for (groove, begins, warning) in [
            (0.107, "Too tight by 5 thousandths of an inch", true),
            (0.112, "Good fit", false),
            (0.115, "Good fit", false),
            (0.119, "Too loose", true),
        ] {
            let fit = nock(groove);
            assert!(fit.words.starts_with(begins) && fit.warning == warning, "{groove}: {fit:?}");
            assert!(fit.words.contains("Rule of thumb"), "{fit:?}");
        }
        // Just inside either end of a range both fit.
        for (groove, string) in [(0.1101, 0.112), (0.1159, 0.112), (0.116, 0.1179)] {
            let given = [(Field::NockThroat, groove), (Field::ServedString, string)];
            assert!(!fit(&given).unwrap().warning, "{groove} {string}");
        }
    }

    #[test]
    fn one_of_the_two_answers_the_other() {
        assert_eq!(fit(&[]), None);
        let alone = |field, value| fit(&[(field, value)]).unwrap().words;
        let grooves = alone(Field::ServedString, 0.112);
        assert!(grooves.starts_with("Nock grooves of 0.110\u{a0}in to 0.116\u{a0}in fit this serving."), "{grooves}");
        let servings = alone(Field::NockThroat, 0.116);
        assert!(servings.starts_with("Servings of 0.112\u{a0}in to 0.118\u{a0}in fit this nock."), "{servings}");
    }
}
