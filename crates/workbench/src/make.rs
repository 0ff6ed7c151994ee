//! From the build to a dozen finished arrows: which shafts to take, what to saw and weigh, and what the first
//! shots say.

pub mod batch;
pub mod log;
pub mod sheet;
