//! Side by side.

/// Starts the view; called once.
pub(crate) fn start() {}
