//! The shot in time: how the arrow bends on the string and vibrates as it leaves.

pub mod film;
pub mod picture;
pub mod report;

pub use film::{Film, Frame};
pub use report::FlexReport;
