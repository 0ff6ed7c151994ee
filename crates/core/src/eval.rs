//! Evaluation of a setup: outputs, the choice of shaft, inverse questions, safety and warnings.

mod answer;
pub mod baseline;
pub mod cost;
mod evaluation;
pub mod glance;
pub mod inverse;
mod numbers;
pub mod outputs;
mod recommendation;
mod resolved_setup;
pub mod safety;
mod shaft_choice;
pub mod warnings;

pub use answer::{Headline, POINT_WEIGHTS_GR};
pub use baseline::{Baseline, WhatIfError};
pub use evaluation::{Evaluation, evaluations};
pub use outputs::{BAND, COVERAGE, Outputs, Verdict};
pub use recommendation::{Neighbor, Recommendation, shaft_words};
pub use resolved_setup::ResolvedSetup;
pub use shaft_choice::ShaftChoice;
pub use warnings::{Severity, Warning};
