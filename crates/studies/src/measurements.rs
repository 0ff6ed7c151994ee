//! Measurements of bow and arrow: what they show, with uncertainty.
//!
//! The readings themselves are fields and lists of the setup; [`clothyard_core::setup`] puts them in the place of what
//! is usual. Here they are read from pasted text, explained, and held against each other.

pub mod arrow;
pub mod draw_force;
pub mod fit;
pub mod proven;
pub mod report;
pub mod speeds;

use clothyard_core::eval::Evaluation;
use clothyard_core::schema::Output;

/// What is measured and drives results now, in a sentence.
#[must_use]
pub fn drives_sentence(all: &Evaluation) -> String {
    let list: Vec<_> = [
        (Output::StoredEnergy, "the draw-force curve"),
        (Output::LaunchSpeed, "the speed"),
        (Output::MovingMass, "the virtual mass"),
        (Output::TargetLoad, "the target"),
    ]
    .into_iter()
    .filter_map(|(output, words)| all.is_measured(output).then_some(words))
    .collect();
    if list.is_empty() {
        "Measurements in use: none.".to_owned()
    } else {
        format!("Measurements in use: {}.", list.join(", "))
    }
}

#[cfg(test)]
mod tests;
