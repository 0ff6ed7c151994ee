//! What helps to choose.

mod beside;
mod combine;
mod effects;
mod keeping;
mod solve;
mod sweep;

pub(crate) use beside::kept;
pub use combine::combine_piece;

/// Starts every view; called once.
pub(crate) fn start() {
    // What it holds is shown by others.
    beside::start();
    solve::start();
    effects::start();
    sweep::start();
    combine::start();
    keeping::start();
}
