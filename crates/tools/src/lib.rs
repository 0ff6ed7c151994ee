//! What the native commands share: the page's markup made from the tables.

#![cfg_attr(
    test,
    allow(
        clippy::unwrap_used,
        clippy::expect_used,
        clippy::panic,
        clippy::indexing_slicing,
        reason = "a test that panics has failed, which is its job"
    )
)]

pub mod accuracy;
pub mod checks;
pub mod markup;
pub mod reference;
pub mod splice;
