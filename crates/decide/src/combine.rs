//! Combinations.

/// Starts the view; called once.
pub(crate) fn start() {}
