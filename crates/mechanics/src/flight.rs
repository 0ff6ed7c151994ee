//! The arrow in flight: the air, the arrow's shape as the air sees it, and the drag.

pub mod air;
pub mod drag;
mod friction;
pub mod shape;
