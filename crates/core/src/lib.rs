//! Matching an arrow to a bow: inputs, results and their formatting.
//!
//! A [`Setup`] is what a person gave. [`setup::Resolved`] has a value for every field, [`setup::PhysicalModel`] is
//! the same in SI for the mechanics, and an [`Evaluation`] has every answer.

#![cfg_attr(
    test,
    allow(
        clippy::unwrap_used,
        clippy::expect_used,
        clippy::panic,
        clippy::indexing_slicing,
        clippy::float_cmp,
        reason = "a test that panics has failed, which is its job"
    )
)]

// Units, and text in and out.
pub mod csv;
pub mod format;
pub mod ordered_map;
pub mod parse;
pub mod plain;
pub mod units;

// The tables.
pub mod schema;

// One setup: as given, with every field resolved, and as a physical model.
pub mod setup;

// What it answers.
pub mod eval;

// How it looks, and why it is refused.
pub mod drawing;
pub mod report;

#[cfg(any(test, feature = "testing"))]
pub mod testing;

pub use eval::Evaluation;
pub use parse::{columns, number_list};
pub use schema::{Field, Output, Value, shafts};
pub use setup::{Resolved, Setup, samples};
pub use units::{Quantity, Units};
