//! Keep and share.

/// Starts the view; called once.
pub(crate) fn start() {}
