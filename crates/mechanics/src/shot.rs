//! The shot in time: how far the arrow bends on the bow, and how it vibrates as it leaves.
//!
//! No shaft is straight. While the string drives the arrow, the compression, `a(t)` times the mass ahead,
//! magnifies the shaft's own bow `w` (m):
//!
//! ```text
//! M u'' + (K - a(t) KG) u = a(t) KG w        u the deflection beyond w, m
//! a(t) = (energy share) F g(p/S) / (m + K)   p the string's distance from brace, S the stroke, m
//! magnification = greatest bend / greatest w
//! ```
//!
//! `M`, `K`, `KG` are the mass, stiffness and geometric stiffness matrices of the arrow as a beam, with a
//! deflection and a slope at each node ([`crate::beam`]); in the second line `K` is the bow's virtual mass (kg).
//!
//! The string holds the nock until the string reaches brace, where the arrow leaves it. The rest is fixed while
//! the arrow slides over it, so along the arrow it moves rearward: a moving support, until it drops away or the
//! arrow has passed. Then the arrow flies free. The string follows the bow's draw-force curve, scaled to the
//! energy delivered, so that the arrow leaves at the speed of [`crate::launch_speed`].
//!
//! At full draw the arrow touches string and rest on the line along which the string moves. Both hold it to
//! either side, without friction; nock and rest remain in one plane, the air has no effect, and nothing damps
//! the shaft. Off the fingers the nock leaves that plane, and a button can only push: [`Fingers`] has the equations.
//! Not included: tuning, torque.
//!
//! **Validity.** Over the seven pairings of common practice that set the target of the column load, a prior
//! calculation with SciPy gave magnifications of 1.5 to 1.9. The magnification ranks shafts on one bow; it is not
//! a measured bend. It says which way let-off and cam act
//! ([`crate::curve_factor`]), not by how much.
//!
//! # References
//! Kooi & Sparenberg, "On the mechanics of the arrow: archer's paradox", J. Eng. Math. 31 (1997), for the moving
//! rest; Timoshenko & Gere, *Theory of Elastic Stability*, for the magnified bow of a column.

mod measures;
mod model;
mod modes;
mod release;
mod sample;
mod shape;
mod simulation;
mod springs;
mod state;
mod string_motion;
mod supports;
mod vector;

pub use modes::{FREQUENCY_ELEMENTS, natural_frequencies_hz, pivoted_frequencies_hz};
pub use release::{Fingers, Release};
pub use sample::Sample;
pub use state::Phase;

use crate::arrow::Arrow;
use crate::bow::Bow;
use crate::error::{Error, Result};
use crate::parameter::Parameter;
use crate::units::METER_PER_INCH;
use modes::MODES;

/// Bow of a shaft that was not measured, m: 0.003 in, common practice for a straight one, no source.
///
/// Example: see [`Shot`].
pub const DEFAULT_SHAFT_BOW_M: f64 = 0.003 * METER_PER_INCH;

/// One arrow shot from one bow.
///
/// The fields may be read and set freely; every calculation checks them.
///
/// # Examples
/// ```
/// use clothyard_mechanics::shot::{DEFAULT_SHAFT_BOW_M, Fingers, Release, Shot};
/// use clothyard_mechanics::{Arrow, Bow, DrawCurve, Part, launch_speed};
/// let parts = [Part::point_mass(0.0006, 0.0), Part::point_mass(0.0078, 0.72)];
/// let arrow = Arrow::new(0.7112, 0.014, 0.016, 6.37, &parts)?;
/// let curve = DrawCurve::LetOff { rise: 0.35, valley: 0.25, let_off: 0.65 };
/// let bow = Bow::new(267.0, 0.508, curve, 0.0071, 0.0)?;
///
/// let shot = Shot::new(arrow, bow, 0.68);
/// let dynamics = shot.simulate()?;
/// // It leaves at the speed given by the energy.
/// let speed = launch_speed(bow.delivered_energy_j(), arrow.mass_kg(), bow.virtual_mass_kg)?;
/// assert!((dynamics.exit_speed_m_per_s / speed - 1.0).abs() < 1e-8);
/// assert!((dynamics.magnification - dynamics.greatest_bend_m / DEFAULT_SHAFT_BOW_M).abs() < 1e-14);
/// assert_eq!(dynamics.swings_on_string(), dynamics.free_frequencies_hz[0] * dynamics.time_on_string_s);
/// // The equation is linear: twice the bow, twice the bend.
/// let twice = Shot { shaft_bow_m: 2.0 * shot.shaft_bow_m, ..shot }.simulate()?;
/// assert!((twice.greatest_bend_m / dynamics.greatest_bend_m - 2.0).abs() < 1e-12);
/// // Fingers move the nock aside, and the shaft bends by centimeters; it leaves the button before the string.
/// let fingers = Shot { release: Release::Fingers(Fingers::BUTTON), ..shot }.simulate()?;
/// assert!(fingers.greatest_bend_m > 50.0 * dynamics.greatest_bend_m);
/// assert!(fingers.rest_left_s < 0.9 * fingers.time_on_string_s && !fingers.touches_at_exit());
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
#[derive(Clone, Copy, Debug)]
pub struct Shot<'a> {
    /// The arrow.
    pub arrow: Arrow<'a>,
    /// The bow.
    pub bow: Bow,
    /// Energy given to arrow and virtual mass, J; [`Bow::delivered_energy_j`] unless measured.
    pub delivered_energy_j: f64,
    /// Rest from the nock groove at full draw, m.
    pub rest_m: f64,
    /// Share of the stroke after which the rest drops away: with 1 it holds throughout, with 0 never.
    pub rest_share: f64,
    /// Greatest departure of the unloaded shaft from straight, m: a half sine from nock to
    /// front end.
    pub shaft_bow_m: f64,
    /// How the string is released.
    pub release: Release,
}

impl<'a> Shot<'a> {
    /// A straight release over a rest (m from the nock groove at full draw) that holds for the whole stroke.
    ///
    /// The shaft's bow is [`DEFAULT_SHAFT_BOW_M`], the energy [`Bow::delivered_energy_j`]. Example: see [`Shot`].
    #[must_use]
    pub fn new(arrow: Arrow<'a>, bow: Bow, rest_m: f64) -> Self {
        Self {
            arrow,
            bow,
            delivered_energy_j: bow.delivered_energy_j(),
            rest_m,
            rest_share: 1.0,
            shaft_bow_m: DEFAULT_SHAFT_BOW_M,
            release: Release::Straight,
        }
    }

    /// Simulates the shot at the default [`Accuracy`]. Example: see [`Shot`].
    ///
    /// # Errors
    /// As [`Shot::simulate_with`].
    pub fn simulate(&self) -> Result<ShotDynamics> {
        self.simulate_with(Accuracy::default(), &[], |_| {})
    }

    /// As [`Shot::simulate`], and calls `seen` with a sample at each of `times_s` (0 to 10 s since the
    /// release, ascending).
    ///
    /// Samples between two steps are interpolated, so that sampling changes no result.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] for the arrow, the bow, the shot or the accuracy, for a stroke that would bring
    /// the nock to the rest, for times out of order, and for a bend beyond any shaft;
    /// [`Error::RestAheadOfShaft`]; [`Error::NoConvergence`] for a bow whose string does not reach brace, or
    /// an arrow that collapses within one step.
    ///
    /// # Examples
    /// ```
    /// use clothyard_mechanics::shot::{Accuracy, Phase, Sample, Shot};
    /// # use clothyard_mechanics::{Arrow, Bow, DrawCurve, Part};
    /// # let parts = [Part::point_mass(0.0006, 0.0), Part::point_mass(0.0078, 0.72)];
    /// # let arrow = Arrow::new(0.7112, 0.014, 0.016, 6.37, &parts)?;
    /// # let bow = Bow::new(267.0, 0.508, DrawCurve::RECURVE, 0.0071, 0.0)?;
    /// let shot = Shot::new(arrow, bow, 0.68);
    /// shot.simulate_with(Accuracy::default(), &[0.0, 0.030], |sample: &Sample<'_>| {
    ///     if sample.time_s == 0.0 {
    ///         // The string pushes the whole arrow from behind, and the shaft has only its own bow.
    ///         assert_eq!(sample.phase, Phase::StringAndRest);
    ///         let push_n = arrow.mass_kg() * sample.acceleration;
    ///         assert!((sample.compression_n(-1e-9) / push_n - 1.0).abs() < 1e-14);
    ///         assert!((sample.string_m - 0.508).abs() < 1e-15 && sample.deflection_m(0.0) == 0.0);
    ///     } else {
    ///         // In flight nothing pushes, and the arrow vibrates.
    ///         assert_eq!((sample.phase, sample.acceleration), (Phase::Free, 0.0));
    ///     }
    ///     // Five stations, evenly spaced from nock to front end.
    ///     let mut stations_m = [0.0; 5];
    ///     sample.deflections_m(&mut stations_m);
    ///     assert!((stations_m[2] - sample.deflection_m(0.5 * 0.7112)).abs() < 1e-15);
    /// })?;
    /// # Ok::<(), clothyard_mechanics::Error>(())
    /// ```
    pub fn simulate_with(
        &self,
        accuracy: Accuracy,
        times_s: &[f64],
        seen: impl FnMut(&Sample<'_>),
    ) -> Result<ShotDynamics> {
        self.check()?;
        accuracy.check()?;
        let (_, maximum) = Parameter::Time.range();
        let mut minimum = 0.0;
        for &time in times_s {
            minimum = Parameter::Time.check_within(time, minimum, maximum)?;
        }
        simulation::run(self, accuracy, times_s, seen)
    }

    fn check(&self) -> Result<()> {
        self.arrow.check()?;
        self.bow.check()?;
        Parameter::RestPosition.check(self.rest_m)?;
        if self.rest_m >= self.arrow.length_m {
            return Err(Error::RestAheadOfShaft { rest_m: self.rest_m, length_m: self.arrow.length_m });
        }
        let (minimum, _) = Parameter::RestPosition.range();
        Parameter::RestPosition.check_within(self.rest_m, self.bow.stroke_m + minimum, self.arrow.length_m)?;
        Parameter::RestShare.check(self.rest_share)?;
        Parameter::ShaftBow.check(self.shaft_bow_m)?;
        self.release.check(self.bow.stroke_m)
    }
}

/// Resolution of the simulation in space and time. Example: see [`Shot::simulate_with`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Accuracy {
    /// Elements over the arrow's length, 2 to 64.
    pub elements: usize,
    /// Steps in the time the stroke would take under the peak force; a shot has about twice as many.
    pub steps: usize,
}

impl Default for Accuracy {
    /// 12 elements and 200 steps.
    ///
    /// After a straight release the error of the magnification is below 2e-4 of itself, that of the phase at exit below
    /// 0.01 rad. Off the fingers the error of the nock's place and of the bend is below 3e-3 of their greatest until
    /// the string lets go; after that, 1 mm where a hard rest is touched again.
    fn default() -> Self {
        Self { elements: 12, steps: 200 }
    }
}

impl Accuracy {
    fn check(self) -> Result<()> {
        Parameter::Elements.check(self.elements as f64)?;
        Parameter::Steps.check(self.steps as f64)?;
        Ok(())
    }
}

/// The motion of the arrow in a shot: the result of [`Shot::simulate`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ShotDynamics {
    /// From the release until the nock leaves the string, s.
    pub time_on_string_s: f64,
    /// Speed of the arrow then, m/s.
    pub exit_speed_m_per_s: f64,
    /// Greatest departure of the shaft from the line between string and rest, m, while the string drives
    /// it.
    ///
    /// Once the rest has dropped away, the line ends at its position; off the fingers, at the shaft's front end.
    pub greatest_bend_m: f64,
    /// Time of the greatest bend, s since the release.
    pub greatest_bend_at_s: f64,
    /// Greatest bend over the shaft's own bow; a measure of the match after a straight release only.
    pub magnification: f64,
    /// Natural frequencies of bending in flight, Hz.
    pub free_frequencies_hz: [f64; MODES],
    /// Phase of the first mode of flight at exit, rad: 0 when the shaft is bent farthest to the side of its
    /// own bow, increasing with time, -pi to pi.
    pub exit_phase_rad: f64,
    /// Amplitude of the nock in that mode, m.
    pub exit_swing_m: f64,
    /// Deflection of the nock at exit, m.
    pub nock_exit_m: f64,
    /// Sideways speed of the nock at exit, m/s.
    pub nock_exit_m_per_s: f64,
    /// Greatest deflection of the nock on the string, m.
    pub nock_aside_m: f64,
    /// Greatest deflection of the shaft where it passes the rest, m, from when the rest no longer holds it
    /// until the nock has passed; 0 off the fingers, where it is no result ([`Fingers`]).
    pub rest_excursion_m: f64,
    /// Off the fingers, the greatest push of button or shelf while the string drives the arrow, N.
    pub rest_push_n: f64,
    /// Off the fingers, when the shaft last touches button or shelf before it leaves the string, s since the release;
    /// the time of leaving if it still touches then.
    pub rest_left_s: f64,
}

impl ShotDynamics {
    /// Whether the shaft still touches button or shelf as it leaves the string; [`Fingers`] says what that means.
    #[must_use]
    pub fn touches_at_exit(&self) -> bool {
        self.rest_left_s >= self.time_on_string_s
    }

    /// First natural frequency in flight times the time on the string. Example: see [`Shot`].
    ///
    /// For a release off the fingers it should be near one value for arrows that fly well (Kooi 1998); a prior
    /// calculation gave 0.87 to 0.92 for recurves.
    ///
    /// # References
    /// Kooi, "The archer's paradox and modelling, a review", History of Technology 20 (1998).
    #[must_use]
    pub fn swings_on_string(&self) -> f64 {
        let [first, ..] = self.free_frequencies_hz;
        first * self.time_on_string_s
    }
}
