//! One value along a range.

/// Starts the view; called once.
pub(crate) fn start() {}
