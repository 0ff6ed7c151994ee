//! Studies of one setup: numbers and their words, a folder for each.

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

pub mod analysis;
pub mod diagram;
pub mod flight;
pub mod lesson;
pub mod measurements;
pub mod production;
pub mod report;
pub mod shaft_list;
pub mod sharing;
pub mod shot;

#[cfg(test)]
mod testing;

pub use report::Report;
