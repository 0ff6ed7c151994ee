//! The arrow in the air, after it has left the bow.
//!
//! Read in this order. [`Air`] gives density and viscosity. [`DragShape`] builds the drag coefficient
//! up from the arrow's parts, and [`Drag`] turns it into the force at any speed, or takes it from a
//! measurement. [`Flight`] follows the arrow step by step; [`Archer`] finds the launch angle, the sight
//! marks, and the effect of wind and of a misjudged distance; [`Farthest`] the maximum range. [`Vanes`],
//! [`Blades`] and [`FinSet`] give the normal force when the arrow yaws; from it follow [`Stability`]
//! (does it fly point first), [`Yaw`] (how it oscillates and settles) and [`Spin`].
//!
//! ```text
//! drag     D = C (pi d^2/4) rho v^2 / 2                 N, on the cross-section of a shaft of diameter d
//! path     dv/dt = g - k |u| u,   k = rho C A / (2 m)   u the velocity through the air, k in 1/m
//! margin   balance point less center of pressure        m, above 0 flies point first
//! ```
//!
//! Trajectory and attitude are independent: the trajectory is that of a point mass at zero yaw, and yaw and
//! spin are small motions about it. An arrow that leaves the bow vibrating or yawed has more drag at first
//! than the trajectory assumes; a measured speed downrange includes it. Speeds are far below that of sound.
//!
//! # Examples
//! The speed at 50 m, along the trajectory and by drag alone (without gravity), agrees.
//! ```
//! use clothyard_mechanics::flight::{
//!     Accuracy, Air, Archer, BoundaryLayer, Conditions, Drag, DragShape, Edge, Flight, Plates, Sight,
//! };
//!
//! let vanes = Plates {
//!     count: 3, root_chord_m: 0.05, tip_chord_m: 0.01, height_m: 0.012, sweep_m: 0.03,
//!     thickness_m: 0.0005, leading_edge: Edge::Square,
//! };
//! let shape = DragShape {
//!     diameter_m: 0.006, length_m: 0.74, boundary_layer: BoundaryLayer::Changing, vanes,
//!     point_half_angle_rad: 0.0, blades: Plates::NONE,
//! };
//! let (mass_kg, speed, air) = (0.024, 60.0, Air::moist(293.15, 0.5, 101_325.0)?);
//! let drag = Drag::built_up(&shape)?;
//! let slowing = drag.per_meter(mass_kg, &air)?;
//! let flight = Flight::new(&slowing, Conditions::default(), Accuracy::default())?;
//! let sight = Sight { peep_height_m: 0.11, sight_radius_m: 0.85, launch_ahead_m: 0.5 };
//! let arrival = Archer::new(flight, sight, speed)?.aim(50.0)?.arrival;
//! let by_drag = drag.speed_after_m_per_s(speed, 50.0 - 0.5, mass_kg, &air)?;
//! assert!(by_drag < speed && (arrival.speed_m_per_s() / by_drag - 1.0).abs() < 2e-4);
//! # Ok::<(), clothyard_mechanics::Error>(())
//! ```

// The air, the arrow's shape as the air sees it, and the drag.
mod air;
mod drag;
mod friction;
mod plates;
mod shape;

// The trajectory of a point mass in moving air, and what the archer's sight makes of it.
mod aim;
mod integrator;
mod motion;
mod path;
mod point;
mod range;
mod runge_kutta;
mod sight;

// Whether the arrow flies point first, how it oscillates and spins.
mod fins;
mod spin;
mod stability;
mod vanes;
mod yaw;

pub use aim::{Aim, Archer, Sight};
pub use air::{Air, KELVIN_AT_ZERO_CELSIUS, standard_pressure_pa, standard_temperature_k};
pub use drag::{Downrange, Drag};
pub use fins::FinSet;
pub use motion::{Accuracy, Conditions, LONGEST_FLIGHT_S};
pub use path::Flight;
pub use plates::{Edge, Plates};
pub use point::TrajectoryPoint;
pub use range::Farthest;
pub use shape::{BoundaryLayer, DragParts, DragShape};
pub use sight::{Drift, Window};
pub use spin::Spin;
pub use stability::{ArrowShape, BODY_LIFT_FACTOR, DEFAULT_YAW_RAD, FlyingArrow, Stability};
pub use vanes::{Blades, FOLDED_BLADE_SPAN_M, Growth, Outline, Vanes};
pub use yaw::Yaw;

#[cfg(test)]
mod example;
