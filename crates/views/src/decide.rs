//! What helps to choose.

mod beside;
mod combine;
mod keeping;

pub(crate) use beside::kept;
pub use combine::combine_piece;

/// Starts every view; called once.
pub(crate) fn start() {
    // What it holds is shown by others.
    beside::start();
    combine::start();
    keeping::start();
}
