//! See it: the arrow drawn out, and the shot in slow motion.

mod plan;
mod slow;
mod verge;

/// Starts every view, in the order of the page; called once.
pub(crate) fn start() {
    plan::start();
    slow::start();
    verge::start();
}
