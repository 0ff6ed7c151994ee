//! From the build to a dozen finished arrows: which shafts to take, what to saw and weigh, and what the first
//! shots say.

// The batch.
pub mod batch;
pub mod dots;
pub mod sort;
pub mod words;

// The bench on which they are made, and the first shots.
pub mod guide;
pub mod log;
pub mod log_picture;
pub mod log_words;
pub mod sheet;
