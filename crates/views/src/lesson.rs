//! The coach's view: lessons prepared at the desk and shown large to a room.

// What stays in this browser, and how it is read.
mod store;

// Where lessons are chosen and prepared, and how they travel.
mod desk;
mod sending;
mod step;

// Where they are shown.
mod projector;

/// Starts both; called once.
pub(crate) fn start() {
    projector::start();
    desk::start();
}
