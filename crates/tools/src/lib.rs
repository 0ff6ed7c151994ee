//! What the native commands share: the form's markup, the npm package's key types, the checks against published values
//! and the seeded cases for other programs.

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
pub mod package_keys;
pub mod reference;
pub mod splice;
