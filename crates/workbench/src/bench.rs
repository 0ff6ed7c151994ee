//! The bench: what was measured of bow and arrow, what it says, and how surely.
//!
//! The readings themselves are fields and lists of the set-up; [`crate::setup`] puts them in the place of what
//! is usual. Here they are read from pasted text, explained, and held against each other.

pub mod arrow;
pub mod draw_force;
pub mod fit;
pub mod proven;
pub mod report;
pub mod speeds;

use crate::evaluation::Evaluation;
use crate::outcome::Outcome;

/// What is measured and drives results now, in a sentence.
#[must_use]
pub fn drives_sentence(all: &Evaluation) -> String {
    let list: Vec<_> = [
        (Outcome::StoredEnergy, "the draw-force curve"),
        (Outcome::LaunchSpeed, "the speed"),
        (Outcome::MovingMass, "the virtual mass"),
        (Outcome::TargetLoad, "the target"),
    ]
    .into_iter()
    .filter_map(|(outcome, words)| all.is_measured(outcome).then_some(words))
    .collect();
    if list.is_empty() {
        "Measured and in use now: nothing yet.".to_owned()
    } else {
        format!("Measured and in use now: {}.", list.join(", "))
    }
}

#[cfg(test)]
mod tests;
