//! What helps to choose.

mod keeping;

/// Starts every view; called once.
pub(crate) fn start() {
    keeping::start();
}
