//! The arrow in the air, after it has left the bow.

// The air, the arrow's shape as the air sees it, and the drag.
pub mod air;
pub mod drag;
mod friction;
pub mod shape;

// Its path, a point mass in moving air, and what the archer's sight makes of it.
pub mod aim;
pub mod path;
pub mod range;
mod runge_kutta;
pub mod sight;
mod walk;

// Whether it flies point first, how it swings and spins.
pub mod fins;
pub mod spin;
pub mod stability;
pub mod vanes;
pub mod yaw;
