//! The mechanics of an arrow on a bow, as a library that depends on nothing else in this project.
//!
//! The job: an archer has a bow and wants an arrow for it. From the parts of the arrow and the draw of
//! the bow, this crate computes whether shaft and bow match, how heavy and how balanced the arrow is,
//! how fast it leaves, how it bends during the shot, how it flies, and how each of these changes once
//! something is measured. It also solves the inverse questions: which spine, which point, which length
//! would match. It returns numbers and nothing else: no user interface, no files, no drawing.
//!
//! # Reading order
//!
//! 1. **Foundations.** [`units`]: exact factors to and from SI. [`Error`] and [`Parameter`]: what is
//!    refused, and the allowed range of every input.
//! 2. **The shaft as a beam.** [`SpineRig`]: deflection under a weight, and the bending stiffness EI it
//!    implies. [`tube_stiffness_nm2`]: EI of sleeves and inserts from their walls. [`beam`]: the load
//!    at which any beam buckles.
//! 3. **The arrow.** [`Arrow`]: the sum of its parts; mass, balance point, front of center.
//! 4. **The column.** [`critical_acceleration`]: the string pushes the arrow from behind, and each
//!    section is compressed by the mass ahead of it times the acceleration. The peak acceleration over
//!    the one that would buckle the shaft is the **column load** ([`column_load`]). [`Launch`]: its
//!    target, by the way the string is released.
//! 5. **The bow.** [`Bow`]: the energy under the draw-force curve, shared between the arrow and the
//!    virtual mass of string and limbs. [`Rating`]: that energy from a rated speed.
//! 6. **Inverse questions.** [`find_root`]: every one is a root of the same functions.
//! 7. **The shot in time.** [`shot`]: how the arrow bends on the bow and vibrates as it leaves.
//! 8. **In flight.** [`flight`]: air, drag, trajectory, aim and sight marks; vanes, stability, yaw, spin.
//! 9. **Measurements.** [`measured`]: what scale, chronograph and ruler say, with what uncertainty, and
//!    how it replaces what was assumed.
//!
//! # From parts to answer
//!
//! ```
//! use clothyard_mechanics::estimate::{Estimate, Readings};
//! use clothyard_mechanics::flight::{Accuracy, Air, Archer, Conditions, Drag, Flight, Sight};
//! use clothyard_mechanics::shot::Shot;
//! use clothyard_mechanics::units::*;
//! use clothyard_mechanics::*;
//!
//! // The parts: nock, vanes, insert and point on a shaft of 9.1 gr/in, 28 in long, of spine .400.
//! let grains = |gr: f64, inch: f64| Part::point_mass(gr * KILOGRAM_PER_GRAIN, inch * METER_PER_INCH);
//! let parts = [grains(10.0, 0.0), grains(24.0, 2.0), grains(20.0, 27.6), grains(100.0, 28.6)];
//! let (length_m, rest_m) = (28.0 * METER_PER_INCH, 26.75 * METER_PER_INCH);
//! let per_meter = 9.1 * KILOGRAM_PER_METER_PER_GRAIN_PER_INCH;
//! let of_spine = |spine_m: f64| {
//!     let stiffness_nm2 = SpineRig::ASTM_F2031.bending_stiffness_nm2(spine_m)?;
//!     Arrow::new(length_m, 0.0, per_meter, stiffness_nm2, &parts)
//! };
//! let arrow = of_spine(0.400 * METER_PER_INCH)?;
//!
//! // Mass and balance: 9.1 x 28 + 154 gr, and 7027.2 gr in of moment over them.
//! let mass_gr = arrow.mass_kg() / KILOGRAM_PER_GRAIN;
//! assert!((mass_gr - 408.8).abs() < 1e-12);
//! assert!((arrow.front_of_center() - (7027.2 / 408.8 / 28.0 - 0.5)).abs() < 1e-15); // 11.4 %
//!
//! // A compound of 60 lb over a stroke of 20 in, with the virtual mass and loss that are usual.
//! let curve = DrawCurve::LetOff { rise: 0.35, valley: 0.25, let_off: 0.80 };
//! let peak_force_n = 60.0 * NEWTON_PER_POUND_FORCE;
//! let usual = BowKind::Compound.usual(peak_force_n)?;
//! let bow = Bow::new(peak_force_n, 20.0 * METER_PER_INCH, curve, usual.virtual_mass_kg, usual.loss)?;
//!
//! // The launch: nothing was read, so the estimate of the bow is what is usual, to about 5 %.
//! let estimate = Estimate::new(&usual.prior(bow.stored_energy_j()), &Readings::NONE)?;
//! let launch = estimate.speed(arrow.mass_kg(), 0.0)?;
//! assert!((launch.value - launch_speed(bow.delivered_energy_j(), arrow.mass_kg(), 0.0049)?).abs() < 1e-12);
//! assert!((0.045..0.05).contains(&launch.log_error));
//!
//! // The match: NumPy gave 1.0796 for this pairing, on a bow as fast as its kind, before this code was written.
//! let load_of = |arrow: &Arrow<'_>| {
//!     let push = peak_push(BowKind::Compound, peak_force_n, arrow.mass_kg(), launch.value, launch.value)?;
//!     column_load(push, critical_acceleration(arrow, rest_m)?)
//! };
//! assert!((load_of(&arrow)? - 1.0796).abs() < 5e-5);
//!
//! // Inverse: the spine at which the load equals the target for a release aid.
//! let target = Launch::ReleaseAid.target_load(BowKind::Compound);
//! let excess = |spine_m: f64| Ok(load_of(&of_spine(spine_m)?)? - target);
//! let ideal = find_root(excess, 0.300 * METER_PER_INCH, 0.600 * METER_PER_INCH, 1e-7)?;
//! // The load is proportional to the spine number, as it is to 1 / EI.
//! let spine_m = 0.400 * METER_PER_INCH * target / load_of(&arrow)?;
//! assert!(matches!(ideal, Solution::At(found) if (found - spine_m).abs() < 2e-7));
//!
//! // All the energy delivered is in arrow and virtual mass.
//! let (mass_kg, speed) = (arrow.mass_kg(), launch.value);
//! let moving_j = kinetic_energy_j(mass_kg + bow.virtual_mass_kg, speed);
//! assert!((moving_j / bow.delivered_energy_j() - 1.0).abs() < 1e-14);
//!
//! // The shot in time ends at that same speed.
//! let dynamics = Shot::new(arrow, bow, rest_m).simulate()?;
//! assert!((dynamics.exit_speed_m_per_s / speed - 1.0).abs() < 1e-8);
//!
//! // The flight: at 30 m the speed has fallen by exp(-k x), apart from a small effect of gravity.
//! let (drag, air) = (Drag::constant(2.0, 0.0069)?, Air::standard(0.0)?);
//! let slowing = drag.per_meter(mass_kg, &air)?;
//! let flight = Flight::new(&slowing, Conditions::default(), Accuracy::default())?;
//! let sight = Sight { peep_height_m: 0.11, sight_radius_m: 0.85, launch_ahead_m: 0.0 };
//! let there = Archer::new(flight, sight, speed)?.aim(30.0)?.arrival;
//! let still_air = speed * f64::exp(-30.0 * slowing(speed));
//! assert!((there.speed_m_per_s() / still_air - 1.0).abs() < 1e-3);
//! # Ok::<(), Error>(())
//! ```
//!
//! The example `one_arrow` of this crate prints the full set of answers for one arrow.
//!
//! # Conventions and guarantees
//!
//! **Units.** SI throughout: m, kg, s, N, J, Pa, rad, K. The unit is part of the name (`_m`, `_kg`,
//! `_n`, `_j`, `_nm2`, `_m_per_s`, `_rad`); a name without one is a ratio, a count, or an
//! acceleration or speed as its documentation says. `x` runs along the arrow from the nock groove
//! toward the point.
//!
//! **No std, no allocation.** The crate needs `core` and `libm` alone and runs on bare metal. Lists
//! have a fixed capacity, and more than fits is refused. It uses no clock, file, random number or
//! locale.
//!
//! **The same bits.** Every elementary function comes from `libm`, so results are identical on every
//! machine, to the last bit.
//!
//! **No panic.** No function panics, whatever its input. An input that is out of range, not a number,
//! or contradictory is returned as an [`Error`] that names the [`Parameter`], its value and its range.
//! Functions without a `Result` are plain arithmetic: given nonsense they return nonsense or NaN.
//!
//! **Precision.** Closed forms hold to rounding. The column load is high by 2.5e-6 of itself
//! ([`DEFAULT_ELEMENTS`]); a flight is accurate to a micrometer at 100 m ([`flight::Accuracy`]); a
//! shot in time to 1e-4 of its magnification ([`shot::Accuracy`]); a root to the tolerance requested.
//! How close the models come to real bows is a separate matter, stated in each module. A value without
//! a source that was read is marked "from memory"; one on which archers merely agree, "common
//! practice, no source". A measurement is better than either.
//!
//! # References
//! Each module names its own. The main ones: ASTM F2031 (spine); Timoshenko & Gere, *Theory of Elastic
//! Stability* (columns); Klopsteg, Am. J. Phys. 11 (1943) (virtual mass); McCoy, *Modern Exterior
//! Ballistics* (flight); JCGM 100:2008 (uncertainty).

#![no_std]
#![forbid(unsafe_code)]
#![cfg_attr(test, allow(clippy::unwrap_used, clippy::expect_used, clippy::indexing_slicing, clippy::panic))]

#[cfg(test)]
extern crate std;

// Foundations: errors and ranges, arithmetic, units, root finding.
mod error;
mod golden_section;
mod list;
mod math;
mod parameter;
mod solve;
pub mod units;

// The arrow: how stiff, how heavy.
mod arrow;
mod section;
mod static_spine;

// The arrow as a column: linear algebra, any beam, then this one.
mod banded;
pub mod beam;
mod column;
mod eigen;
mod target;

// The bow: its defaults, what measurements replace, the estimate from both, and its push.
mod bow;
mod bow_kind;
mod calibration;
mod draw_curve;
pub mod estimate;
pub mod measured;
mod push;
mod string;

// The shot in time, and the flight.
pub mod flight;
pub mod shot;

pub use arrow::{Arrow, MAX_PARTS, Part};
pub use bow::{Bow, kinetic_energy_j, launch_speed, momentum};
pub use bow_kind::{BowKind, ReferenceBow, UsualBow};
pub use calibration::{PIVOT_TO_DRAW_LENGTH_M, Rating, delivered_energy_from_speed, energy_and_virtual_mass_from_two};
pub use column::{
    DEFAULT_ELEMENTS, column_load, critical_acceleration, critical_acceleration_near, critical_acceleration_with,
};
pub use draw_curve::{Cam, DrawCurve};
pub use error::{Error, Result};
pub use measured::{DrawReading, MeasuredCurve};
pub use parameter::Parameter;
pub use push::{curve_factor, peak_push};
pub use section::{Material, plug_inner_diameter_m, sleeve_outer_diameter_m, tube_stiffness_nm2};
pub use solve::{Solution, find_root};
pub use static_spine::{SpineRig, amo_rating_n, stiffness_from_amo_rating_nm2};
pub use string::StringMass;
pub use target::Launch;

/// The example of the README, as a test.
#[cfg(doctest)]
#[doc = include_str!("../README.md")]
struct Readme;
