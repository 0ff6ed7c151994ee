//! What a setup answers: outputs, the choice of shaft, inverse questions, safety and warnings.

pub mod baseline;
mod evaluation;
pub mod inverse;
pub mod outputs;
pub mod safety;
pub mod warnings;

pub use baseline::{Baseline, WhatIfError};
pub use evaluation::*;
pub use outputs::{BAND, Outputs, Verdict};
pub use warnings::{Severity, Warning};
