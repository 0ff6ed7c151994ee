//! How set-ups and parts travel: as links, and kept by name.

pub mod drawer;
pub mod link;
pub mod reading;
pub mod shelf;
