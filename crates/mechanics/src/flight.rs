//! The arrow in the air, after it has left the bow.
//!
//! Read in this order. [`air`] gives density and viscosity. [`shape`] builds the drag coefficient up from
//! the arrow's parts, and [`drag`] makes of it the force at any speed, or takes it from a measurement.
//! [`path`] follows the arrow step by step; [`aim`] finds how high to point it, [`sight`] what the marks,
//! the wind and a misjudged distance do, [`range`] how far it could go. [`vanes`] and [`fins`] say how
//! hard the arrow is pulled straight; from that come [`stability`] (does it fly point first), [`yaw`]
//! (how it swings and steadies) and [`spin`].
//!
//! ```text
//! drag     D = C (pi d^2/4) rho v^2 / 2                 N, on the cross-section of a shaft of diameter d
//! path     dv/dt = g - k |u| u,   k = rho C A / (2 m)   u the velocity through the air, k in 1/m
//! margin   balance point less centre of pressure        m, above 0 flies point first
//! ```
//!
//! The two halves do not know of each other: the path is that of a point that meets the air head on,
//! and yaw and spin are small motions about it. An arrow that leaves the bow flexing or at an angle
//! has more drag at first than the path takes; a measured speed downrange contains it. Speeds are those
//! of arrows, far below that of sound.
//!
//! # Examples
//! Two ways to the speed left at 50 m agree: along the path, and by drag alone, gravity aside.
//! ```
//! use clothyard_mechanics::flight::aim::{Archer, Sight};
//! use clothyard_mechanics::flight::air::Air;
//! use clothyard_mechanics::flight::drag::Drag;
//! use clothyard_mechanics::flight::path::{Accuracy, Conditions, Flight};
//! use clothyard_mechanics::flight::shape::{DragShape, Edge, Plates};
//!
//! let vanes = Plates {
//!     count: 3, root_chord_m: 0.05, tip_chord_m: 0.01, height_m: 0.012, sweep_m: 0.03,
//!     thickness_m: 0.0005, leading_edge: Edge::Square,
//! };
//! let shape = DragShape {
//!     diameter_m: 0.006, length_m: 0.74, turbulent_share: 0.5, vanes,
//!     point_half_angle_rad: 0.0, blades: Plates::NONE,
//! };
//! let (mass_kg, speed, air) = (0.024, 60.0, Air::moist(293.15, 0.5, 101_325.0)?);
//! let drag = Drag::built_up(&shape)?;
//! let slowing = drag.per_metre(mass_kg, &air)?;
//! let flight = Flight::new(&slowing, Conditions::default(), Accuracy::default())?;
//! let sight = Sight { peep_height_m: 0.11, sight_radius_m: 0.85, launch_ahead_m: 0.5 };
//! let arrival = Archer::new(flight, sight, speed)?.aim(50.0)?.arrival;
//! let by_drag = drag.speed_after_m_per_s(speed, 50.0 - 0.5, mass_kg, &air)?;
//! assert!(by_drag < speed && (arrival.speed_m_per_s() / by_drag - 1.0).abs() < 2e-4);
//! # Ok::<(), clothyard_mechanics::Error>(())
//! ```

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

#[cfg(test)]
mod example;
