//! What changes what.

/// Starts the view; called once.
pub(crate) fn start() {}
