//! Setups and parts stored by name, and how they are shared: as files and as links.

pub mod library;
pub mod link;
pub mod parts;
pub mod reading;
