//! The mechanics of an arrow on a bow, as a library that stands alone.
//!
//! The job: an archer has a bow and wants an arrow for it. Given the parts of the arrow and the draw
//! of the bow, this crate says whether shaft and bow suit each other, how heavy and how balanced the
//! arrow is, how fast it leaves, how it bends on the way out, how it flies, and how all of this
//! changes once something is measured. It answers backwards too: which spine, which point, which
//! length would suit. It gives numbers and nothing else: no screens, no files, no drawing.
//!
//! # Reading order
//!
//! The modules make one chapter. Each opens with what it is for, its equation, what it takes for
//! granted, and its source.
//!
//! 1. **Ground.** [`units`]: exact factors to and from SI. [`Error`] and [`Quantity`]: what is refused,
//!    and the range of everything.
//! 2. **The shaft as a beam.** [`static_spine`]: how far a shaft sags under a weight, and the bending
//!    stiffness EI that says. [`section`]: EI of sleeves and inserts from their walls. [`beam`]: the
//!    load at which any beam buckles.
//! 3. **The column.** [`mod@column`]: the string pushes the arrow from behind, and each section is pressed
//!    by the mass ahead of it times the acceleration. The peak acceleration over the one that would
//!    buckle the shaft is the **column load**. [`target`]: how great it should be, by how the string
//!    is let go.
//! 4. **The bow.** [`bow`]: the energy under the draw-force curve, shared between the arrow and a
//!    virtual mass of string and limbs. [`calibration`]: that energy from speeds.
//! 5. **The stack.** [`stack`]: the arrow as the sum of its parts; mass, balance point, FOC.
//! 6. **Backwards.** [`solve`]: every inverse question is a root of the same functions.
//! 7. **In flight.** [`flight`]: the air, drag, path, aim and sight marks; vanes, stability, yaw, spin.
//! 8. **The shot in time.** [`flex`]: how the arrow bends on the bow and swings as it leaves.
//! 9. **Measured.** [`measured`]: what scale, chronograph and rule say, how surely, and how it replaces
//!    what was assumed.
//!
//! # From parts to answer
//!
//! ```
//! use clothyard_mechanics::flex::Shot;
//! use clothyard_mechanics::flight::{aim, drag::Drag, air::Air, path};
//! use clothyard_mechanics::units::*;
//! use clothyard_mechanics::*;
//!
//! // The parts: nock, vanes, insert and point on a shaft of 9.1 gr/in, 28 in long, of spine .400.
//! let grains = |gr: f64, inch: f64| Part::lump(gr * KILOGRAM_PER_GRAIN, inch * METRE_PER_INCH);
//! let parts = [grains(10.0, 0.0), grains(24.0, 2.0), grains(20.0, 27.6), grains(100.0, 28.6)];
//! let (length_m, rest_m) = (28.0 * METRE_PER_INCH, 26.75 * METRE_PER_INCH);
//! let per_metre = 9.1 * KILOGRAM_PER_METRE_PER_GRAIN_PER_INCH;
//! let of_spine = |spine_m: f64| {
//!     let stiffness_nm2 = SpineRig::ASTM_F2031.bending_stiffness_nm2(spine_m)?;
//!     Arrow::new(length_m, 0.0, per_metre, stiffness_nm2, &parts)
//! };
//! let arrow = of_spine(0.400 * METRE_PER_INCH)?;
//!
//! // Weight and balance: 9.1 x 28 + 154 gr, and 7027.2 gr in of moment over them.
//! let mass_gr = arrow.mass_kg() / KILOGRAM_PER_GRAIN;
//! assert!((mass_gr - 408.8).abs() < 1e-12);
//! assert!((arrow.front_of_centre() - (7027.2 / 408.8 / 28.0 - 0.5)).abs() < 1e-15); // 11.4 %
//!
//! // The bow: 60 lb over a stroke of 20 in, 7.1 g of virtual mass, no loss.
//! let curve = DrawCurve::LetOff { rise: 0.35, valley: 0.25, let_off: 0.80 };
//! let peak_force_n = 60.0 * NEWTON_PER_POUND_FORCE;
//! let bow = Bow::new(peak_force_n, 20.0 * METRE_PER_INCH, curve, 0.0071, 0.0)?;
//!
//! // The match: SciPy gave 1.0401 for this pairing before this crate was written.
//! let load_of = |arrow: &Arrow<'_>| {
//!     column_load(bow.peak_acceleration(arrow.mass_kg())?, critical_acceleration(arrow, rest_m)?)
//! };
//! assert!((load_of(&arrow)? - 1.0401).abs() < 5e-5);
//!
//! // Backwards: the spine at which the load is just the target for a release aid.
//! let target = Launch::ReleaseAid.target_load();
//! let beyond = |spine_m: f64| Ok(load_of(&of_spine(spine_m)?)? - target);
//! let ideal = root(beyond, 0.300 * METRE_PER_INCH, 0.600 * METRE_PER_INCH, 1e-7)?;
//! // The load goes straight with the spine number, as it does with 1 / EI.
//! let spine_m = 0.400 * METRE_PER_INCH * target / load_of(&arrow)?;
//! assert!(matches!(ideal, Solution::At(found) if (found - spine_m).abs() < 2e-7));
//!
//! // The launch: all the energy is in arrow and virtual mass.
//! let (mass_kg, k) = (arrow.mass_kg(), bow.virtual_mass_kg);
//! let speed = launch_speed(bow.delivered_energy_j(), mass_kg, k)?;
//! assert!((kinetic_energy_j(mass_kg + k, speed) / bow.stored_energy_j() - 1.0).abs() < 1e-15);
//!
//! // The shot in time ends at that same speed.
//! let flex = Shot::new(arrow, bow, rest_m).flex()?;
//! assert!((flex.exit_speed_m_per_s / speed - 1.0).abs() < 1e-8);
//!
//! // The flight: at 30 m the speed has fallen by exp(-k x), a little gravity aside.
//! let (drag, air) = (Drag::constant(2.0, 0.0069)?, Air::standard(0.0)?);
//! let slowing = drag.per_metre(mass_kg, &air)?;
//! let flight = path::Flight::new(&slowing, path::Conditions::default(), path::Accuracy::default())?;
//! let sight = aim::Sight { peep_height_m: 0.11, sight_radius_m: 0.85, launch_ahead_m: 0.0 };
//! let there = aim::Archer::new(flight, sight, speed)?.aim(30.0)?.arrival;
//! let still_air = speed * f64::exp(-30.0 * slowing(speed));
//! assert!((there.speed_m_per_s() / still_air - 1.0).abs() < 1e-3);
//! # Ok::<(), Error>(())
//! ```
//!
//! The example `one_arrow` of this crate prints the answers for one arrow at length.
//!
//! # What to rely on
//!
//! **Units.** SI throughout: m, kg, s, N, J, Pa, rad, K. The unit stands in the name (`_m`, `_kg`,
//! `_n`, `_j`, `_nm2`, `_m_per_s`, `_rad`); a name without one is a ratio, a count, or an
//! acceleration or speed as its text says. `x` runs along the arrow from the nock throat toward the
//! point.
//!
//! **No std, no allocation.** The crate needs `core` and `libm` alone and runs on bare metal. Lists
//! have a fixed room, and more than fits is refused. It touches no clock, file, random number or
//! locale.
//!
//! **The same bits.** Every elementary function comes from `libm`, so that an answer does not depend
//! on the machine, to the last bit.
//!
//! **No panic.** No function panics, whatever it is given. What is out of range, not a number, or
//! contradicts itself comes back as an [`Error`] that names the [`Quantity`], its value and its range.
//! Functions without a `Result` are plain arithmetic: given nonsense they return nonsense or NaN.
//!
//! **Precision.** Closed forms hold to rounding. The column load is high by 2.5e-6 of itself
//! ([`DEFAULT_ELEMENTS`]); a flight is good to a micrometre at 100 m ([`flight::path::Accuracy`]); a
//! shot in time to 1e-4 of its magnification ([`flex::Accuracy`]); a root to the tolerance asked for.
//! How near the models themselves come to real bows is another matter, and each module says it. Where
//! no source was read a value is marked "from memory"; where archers merely agree, "common practice,
//! no source". A measurement is better than either.
//!
//! # References
//! Each module names its own. Those behind the chapter: ASTM F2031 (spine); Timoshenko & Gere, *Theory
//! of Elastic Stability* (columns); Klopsteg, Am. J. Phys. 11 (1943) (virtual mass); McCoy, *Modern
//! Exterior Ballistics* (flight); JCGM 100:2008 (uncertainty).

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

// The bow: its defaults, what measurement says instead, and the estimate from both.
pub mod bow;
pub mod bow_kind;
pub mod calibration;
pub mod measured;

pub mod estimate;

// The match of the two.
pub mod push;
pub mod target;

// The arrow in the air.
// The arrow on its way.
pub mod flight;
// The shot in time.
pub mod flex;

pub use bow::{Bow, Cam, DrawCurve, kinetic_energy_j, launch_speed, momentum};
pub use bow_kind::BowKind;
pub use calibration::{PIVOT_TO_DRAW_LENGTH_M, Rating, delivered_energy_from_speed, energy_and_virtual_mass_from_two};
pub use column::{DEFAULT_ELEMENTS, column_load, critical_acceleration, critical_acceleration_with};
pub use error::{Error, Quantity, Result};
pub use measured::draw_force::{DrawReading, MeasuredCurve};
pub use section::{Material, plug_inner_diameter_m, sleeve_outer_diameter_m, tube_stiffness_nm2};
pub use solve::{Solution, root};
pub use stack::{Arrow, MAX_PARTS, Part};
pub use static_spine::{SpineRig, amo_rating_n, stiffness_from_amo_rating_nm2};
pub use target::Launch;
