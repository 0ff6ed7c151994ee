//! The job of matching an arrow to a bow: what is asked, what is answered, and how it is said.
//!
//! A [`Build`] holds what a person gave. [`Settled`] fills every other field, [`Setup`] turns the fields
//! into mechanics, [`Evaluation`] answers, and [`Report`] is the answer as scripts read it.

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

// What is asked.
pub mod build;
pub mod columns;
pub mod demo;
pub mod entry;
pub mod inputs;
pub mod keyed;
pub mod quantity;
pub mod rows;
pub mod several;
pub mod stock;
pub mod table;

// What stands in every field, and what it means.
pub mod readings;
pub mod settle;
pub mod setup;

// What is answered.
pub mod advice;
pub mod cautions;
pub mod evaluation;
pub mod numbers;
pub mod outcome;

// What to choose.
pub mod choose;

// What the shot does to the arrow, and what it does after it leaves.
pub mod flex;
pub mod flight;

// What it takes to make it.
pub mod make;

// How it is taught.
pub mod lesson;

// What was measured, and what it says.
pub mod bench;

// How it is said.
pub mod csv;
pub mod drawing;
pub mod plot;
pub mod report;
pub mod tape;
pub mod wording;

// How it looks.
pub mod seen;

// How it travels.
pub mod travel;

#[cfg(test)]
mod testing;

pub use build::Build;
pub use evaluation::Evaluation;
pub use inputs::{Field, Value};
pub use outcome::Outcome;
pub use quantity::{Quantity, Units};
pub use report::Report;
pub use settle::Settled;
pub use setup::Setup;
