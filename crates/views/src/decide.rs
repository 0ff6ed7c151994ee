//! What helps to choose.

mod beside;
mod combine;
mod effects;
mod keeping;
mod solve;
mod sweep;

pub(crate) use beside::{held, kept};
pub use combine::combine_piece;

/// Starts every view, in the order of the page; called once.
pub(crate) fn start() {
    solve::start();
    effects::start();
    sweep::start();
    combine::start();
    beside::start();
    keeping::start();
}
