//! The dimensioned drawing of the arrow.

// How a stretch of the arrow, its measures and its labels find room.
mod labels;
mod measures;
mod view;

// The drawing, and what it says.
pub mod plan;
pub mod words;

// How it is inked, on the page and as a file.
pub mod looks;
pub mod sheet;
