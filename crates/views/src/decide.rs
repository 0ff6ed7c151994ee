//! What helps to choose.

mod combine;
mod keeping;

pub use combine::combine_piece;

/// Starts every view; called once.
pub(crate) fn start() {
    combine::start();
    keeping::start();
}
