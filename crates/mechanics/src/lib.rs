//! The mechanics of an arrow on a bow.
//!
//! **The arrow** is a shaft with things fixed to it. Its bending stiffness EI comes from the
//! sag under a weight ([`SpineRig`]), with what sleeves and inserts add ([`section`]); its mass
//! and balance from the sum of its parts ([`Arrow`]).
//!
//! **The bow** stores energy under its draw-force curve and shares it between the arrow and a
//! virtual mass of string and limbs ([`Bow`]). A rated speed replaces its defaults ([`Rating`]),
//! and what was measured replaces everything: draw force, speeds, spine, weight ([`measured`]).
//!
//! **The match** of the two is a question of buckling. The string pushes the arrow from behind;
//! each section is pressed by the mass ahead of it times the acceleration. The acceleration at
//! which the shaft would buckle between string and rest ([`critical_acceleration`]) belongs to
//! the arrow, the peak acceleration to the bow, and their ratio is the column load
//! ([`column_load`]). How great it should be depends on how the string is let go ([`Launch`]).
//! Every inverse question (which spine, which point, which length) is a root of that one
//! function ([`root`]).
//!
//! **The shot in time** ([`flex`]) shows how the arrow bends on the bow and swings as it leaves.
//!
//! All quantities are SI, with the unit in the name; [`units`] holds exact factors for all
//! others. The crate neither allocates nor touches a clock, a file or a locale, and gives the
//! same bits on every machine. It refuses what is out of range with a typed [`Error`].
//!
//! ```
//! use clothyard_mechanics::units::*;
//! use clothyard_mechanics::{
//!     Arrow, Bow, DrawCurve, Part, SpineRig, column_load, critical_acceleration,
//! };
//!
//! let stiffness_nm2 = SpineRig::ASTM_F2031.bending_stiffness_nm2(0.400 * METRE_PER_INCH)?;
//! let parts = [
//!     Part::lump(24.0 * KILOGRAM_PER_GRAIN, 2.0 * METRE_PER_INCH),
//!     Part::lump(100.0 * KILOGRAM_PER_GRAIN, 28.6 * METRE_PER_INCH),
//! ];
//! let mass_per_length = 8.6 * KILOGRAM_PER_METRE_PER_GRAIN_PER_INCH;
//! let arrow = Arrow::new(28.0 * METRE_PER_INCH, 0.014, mass_per_length, stiffness_nm2, &parts)?;
//!
//! let curve = DrawCurve::LetOff { rise: 0.35, valley: 0.25, let_off: 0.80 };
//! let bow = Bow::new(60.0 * NEWTON_PER_POUND_FORCE, 0.51, curve, 0.0071, 0.0)?;
//!
//! let critical = critical_acceleration(&arrow, 26.75 * METRE_PER_INCH)?;
//! let load = column_load(bow.peak_acceleration(arrow.mass_kg())?, critical)?;
//! assert!((0.9..1.1).contains(&load));
//! # Ok::<(), clothyard_mechanics::Error>(())
//! ```

#![no_std]
#![forbid(unsafe_code)]
#![cfg_attr(test, allow(clippy::unwrap_used, clippy::expect_used, clippy::indexing_slicing, clippy::panic))]

#[cfg(test)]
extern crate std;

// The ground: refusals and ranges, arithmetic, units, roots.
mod error;
mod math;
mod peak;
pub mod solve;
pub mod units;

// The arrow: how stiff, how heavy.
pub mod section;
pub mod static_spine;

pub mod stack;

// The arrow as a column: linear algebra, any beam, then this one.
mod band;
mod list;
mod pencil;

pub mod beam;

pub mod column;

// The bow: its defaults, then what measurement says instead.
pub mod bow;
pub mod calibration;
pub mod measured;

// The match of the two.
pub mod target;

// The arrow in the air.
// The arrow on its way.
pub mod flight;
// The shot in time.
pub mod flex;

pub use bow::{Bow, Cam, DrawCurve, kinetic_energy_j, launch_speed, momentum};
pub use calibration::{PIVOT_TO_DRAW_LENGTH_M, Rating, delivered_energy_from_speed, energy_and_virtual_mass_from_two};
pub use column::{DEFAULT_ELEMENTS, column_load, critical_acceleration, critical_acceleration_with};
pub use error::{Error, Quantity, Result};
pub use measured::draw_force::{DrawReading, MeasuredCurve};
pub use section::{Material, plug_inner_diameter_m, sleeve_outer_diameter_m, tube_stiffness_nm2};
pub use solve::{Solution, root};
pub use stack::{Arrow, MAX_PARTS, Part};
pub use static_spine::{SpineRig, amo_rating_n, stiffness_from_amo_rating_nm2};
pub use target::Launch;
