//! "What if" questions and comparison of setups.

// One number moved, all else held.
pub mod choices;
pub mod effects;
pub mod ranges;
mod search;
pub mod solve;
pub mod sweep;

// Every combination of a few values.
pub mod combinations;

// One setup beside another, or any number.
pub mod compare;
pub mod kept_table;
pub mod pair;
