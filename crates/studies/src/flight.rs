//! Flight: trajectory, stability, and the limits of rule books.
//!
//! Nothing here belongs to the first answer, and nothing of the first answer hangs on it.

// The arrow and the archer as the mechanics of flight want them.
pub mod shot;

// What is answered.
pub mod legs;
pub mod reach;
pub mod rules;
pub mod side;
pub mod steady;
pub mod vane_sets;

// How it is said and drawn.
pub mod balance;
pub mod judging;
pub mod listing;
pub mod marks;
pub mod own_scale;
pub mod picture;
pub mod report;
mod says;
pub mod slopes;
pub mod slowing;
pub mod table;

pub use legs::Leg;
pub use report::FlightReport;
pub use shot::{FlightError, Shot};
