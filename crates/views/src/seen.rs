//! See it: the shot in slow motion.

mod slow;
mod verge;

/// Starts every view, in the order of the page; called once.
pub(crate) fn start() {
    slow::start();
    verge::start();
}
