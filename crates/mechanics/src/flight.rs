//! The arrow in flight: the air, the arrow's shape as the air sees it, and the drag.

pub mod air;
pub mod drag;
mod friction;
pub mod shape;
//! The arrow in the air, after it has left the bow.

pub mod fins;
pub mod spin;
pub mod stability;
pub mod vanes;
pub mod yaw;
