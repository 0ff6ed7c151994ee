//! Solve for one value.

/// Starts the view; called once.
pub(crate) fn start() {}
