//! Natural frequencies and mode shapes: `K v = w^2 M v`.
//!
//! Inverse iteration, each trial shape orthogonalized (in the mass matrix) to the rigid-body motions and to the modes
//! found before. That none was skipped is proven by the inertia of `K - s M` just above each eigenvalue.
//!
//! # References
//! Parlett, *The Symmetric Eigenvalue Problem*, chapters 3 and 4.

use super::model::Model;
use super::vector::{MAX_UNKNOWNS, Vector};
use crate::arrow::Arrow;
use crate::banded::{Row, dot, factor, negative_eigenvalues, solve};
use crate::error::{Error, Result};
use crate::math::{cos, sin, sqrt};
use crate::parameter::Parameter;
use core::f64::consts::PI;

/// Number of bending modes computed.
pub(super) const MODES: usize = 3;

/// Elements with which the error of the first three frequencies is below 1e-4 of themselves.
///
/// With 20 it is 1.2e-4 for the third of one random arrow out of twelve, pivoted. Even, so that a lump at mid-length is
/// at a node.
pub const FREQUENCY_ELEMENTS: usize = 24;

/// Rigid-body motions and bending modes.
const SHAPES: usize = 2 + MODES;

/// Iterations after which a mode counts as not found; about 20 are usual.
const MAX_ITERATIONS: u32 = 300;

/// The lowest bending modes of an arrow.
struct Modes {
    frequencies_hz: [f64; MODES],
    /// Shape of the first, of unit modal mass, positive at mid-length.
    first: Vector,
}

/// First natural frequencies of bending of an arrow in flight, Hz, with 2 to 64 elements.
///
/// # Errors
/// [`Error::OutOfRange`] for the arrow or the number of elements.
///
/// # Examples
/// ```
/// use clothyard_mechanics::Arrow;
/// use clothyard_mechanics::shot::{FREQUENCY_ELEMENTS, natural_frequencies_hz};
/// // A bare shaft: (4.730041 / L)^2 sqrt(EI / m') / (2 pi).
/// let arrow = Arrow::new(0.7, 0.0, 0.018, 6.4, &[])?;
/// let [first, ..] = natural_frequencies_hz(&arrow, FREQUENCY_ELEMENTS)?;
/// let thomson = (4.730041_f64 / 0.7).powi(2) * (6.4_f64 / 0.018).sqrt() / core::f64::consts::TAU;
/// assert!((first / thomson - 1.0).abs() < 5e-6);
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
///
/// # References
/// Thomson, *Theory of Vibration*, appendix D; Blevins, *Formulas for Natural Frequency and
/// Mode Shape*, table 8-1.
pub fn natural_frequencies_hz(arrow: &Arrow<'_>, elements: usize) -> Result<[f64; MODES]> {
    Ok(modes(&Model::new(arrow, elements)?, false)?.frequencies_hz)
}

/// First natural frequencies of bending of an arrow held at the string alone, Hz.
///
/// # Errors
/// As [`natural_frequencies_hz`].
///
/// # Examples
/// ```
/// use clothyard_mechanics::Arrow;
/// use clothyard_mechanics::shot::{FREQUENCY_ELEMENTS, pivoted_frequencies_hz};
/// // A bare shaft pivoted at one end: as in flight, with 3.926602, the first root of tan z = tanh z.
/// let arrow = Arrow::new(0.7, 0.0, 0.018, 6.4, &[])?;
/// let [first, ..] = pivoted_frequencies_hz(&arrow, FREQUENCY_ELEMENTS)?;
/// let by_hand = (3.926602_f64 / 0.7).powi(2) * (6.4_f64 / 0.018).sqrt() / core::f64::consts::TAU;
/// assert!((first / by_hand - 1.0).abs() < 5e-6);
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
pub fn pivoted_frequencies_hz(arrow: &Arrow<'_>, elements: usize) -> Result<[f64; MODES]> {
    Ok(modes(&Model::new(arrow, elements)?, true)?.frequencies_hz)
}

/// Frequencies (Hz) of an arrow in flight, and the shape of its first mode on the nodes of a coarser model.
pub(super) fn free_modes(arrow: &Arrow<'_>, coarse: &Model) -> Result<([f64; MODES], Vector)> {
    let fine = Model::new(arrow, FREQUENCY_ELEMENTS)?;
    let Modes { frequencies_hz, first } = modes(&fine, false)?;
    let shape = coarse.shape(|x| (fine.deflection_at(x).of(&first), fine.slope_at(x).of(&first)));
    Ok((frequencies_hz, shape))
}

/// Modes of an arrow in flight, or pivoted at its nock.
fn modes(model: &Model, pivoted: bool) -> Result<Modes> {
    let mut search = Search::new(model, pivoted)?;
    let mut frequencies_hz = [0.0; MODES];
    let mut first = Vector::zeros(model.unknowns());
    for (order, frequency) in frequencies_hz.iter_mut().enumerate() {
        let (root, shape) = search.next(order)?;
        *frequency = Parameter::Frequency.check(sqrt(root.max(0.0)) / (2.0 * PI))?;
        if order == 0 {
            first = shape;
        }
    }
    if model.deflection_at(0.5 * model.length_m()).of(&first) < 0.0 {
        first.scale(-1.0);
    }
    Ok(Modes { frequencies_hz, first })
}

struct Search<'a> {
    model: &'a Model,
    /// Index of the first free unknown.
    from: usize,
    factors: [Row; MAX_UNKNOWNS],
    /// Shapes found, each with its product with the mass matrix.
    found: [(Vector, Vector); SHAPES],
    count: usize,
}

impl<'a> Search<'a> {
    fn new(model: &'a Model, pivoted: bool) -> Result<Self> {
        let from = usize::from(pivoted);
        let nothing = Vector::zeros(model.unknowns());
        let factors = [[0.0; 4]; MAX_UNKNOWNS];
        let mut search = Self { model, from, factors, found: [(nothing, nothing); SHAPES], count: 0 };
        let (along, turned) = (model.shape(|_| (1.0, 0.0)), model.shape(|x| (x, 1.0)));
        for mut rigid in [along, turned].into_iter().skip(from) {
            search.orthonormalize(&mut rigid)?;
            search.store(rigid);
        }
        // Small against every bending mode, large against rounding.
        let shift = 0.02 * search.orthonormalize(&mut model.half_sine())?;
        let mut factors = [[0.0; 4]; MAX_UNKNOWNS];
        let positive = factor(search.shifted(-shift), 0.0, &mut factors);
        search.factors = factors;
        if positive { Ok(search) } else { Err(Error::Unsupported) }
    }

    /// `K - s M` for the free unknowns.
    fn shifted(&self, shift: f64) -> impl Iterator<Item = Row> {
        let rows = self.model.stiffness().iter().zip(self.model.mass()).skip(self.from);
        rows.map(move |(k, m)| {
            let [k0, k1, k2, k3] = *k;
            [k0 - shift * m[0], k1 - shift * m[1], k2 - shift * m[2], k3 - shift * m[3]]
        })
    }

    /// The next eigenvalue and shape, with `before` modes found so far.
    fn next(&mut self, before: usize) -> Result<(f64, Vector)> {
        let wave = PI * (before + 1) as f64 / self.model.length_m();
        let mut shape = self.model.shape(|x| (sin(wave * x), wave * cos(wave * x)));
        let mut previous = f64::INFINITY;
        for _ in 0..MAX_ITERATIONS {
            let root = self.orthonormalize(&mut shape)?;
            // The Rayleigh quotient decreases until only rounding changes it.
            if previous - root <= 1e-12 * root {
                self.prove(root, before)?;
                self.store(shape);
                return Ok((root, shape));
            }
            previous = root;
            shape = self.model.times(self.model.mass(), &shape);
            shape.clear_before(self.from);
            solve(&self.factors, shape.tail_mut(self.from));
        }
        Err(Error::NoConvergence { iterations: MAX_ITERATIONS })
    }

    /// Orthogonalizes a shape to those found and scales it to unit modal mass; returns its Rayleigh quotient.
    fn orthonormalize(&self, shape: &mut Vector) -> Result<f64> {
        for (other, weighted) in self.found.iter().take(self.count) {
            let share = dot(shape, weighted);
            shape.add(-share, other);
        }
        let mass = dot(shape, &self.model.times(self.model.mass(), shape));
        Parameter::ArrowMass.check_within(mass, f64::MIN_POSITIVE, f64::MAX)?;
        shape.normalize(mass);
        let root = dot(shape, &self.model.times(self.model.stiffness(), shape));
        Parameter::FunctionValue.check(root)
    }

    /// Stores an orthonormal shape.
    fn store(&mut self, shape: Vector) {
        let weighted = self.model.times(self.model.mass(), &shape);
        if let Some(slot) = self.found.get_mut(self.count) {
            *slot = (shape, weighted);
            self.count += 1;
        }
    }

    /// Fails for an eigenvalue that is not the next above those found before.
    fn prove(&self, root: f64, before: usize) -> Result<()> {
        let below = negative_eigenvalues(self.shifted(root * (1.0 + 1e-6)));
        let without_bending = 2 - self.from;
        if below == without_bending + before + 1 { Ok(()) } else { Err(Error::NoConvergence { iterations: 0 }) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::arrow::Part;

    fn model(parts: &[Part]) -> Model {
        Model::new(&Arrow::new(0.7, 0.0, 0.02, 6.0, parts).unwrap(), 12).unwrap()
    }

    #[test]
    fn a_root_that_is_not_the_next_is_refused() {
        let model = model(&[Part::point_mass(0.006, 0.71)]);
        for pivoted in [false, true] {
            let mut search = Search::new(&model, pivoted).unwrap();
            let roots = [0, 1].map(|before| search.next(before).unwrap().0);
            for (root, order) in roots.into_iter().zip(0_usize..) {
                for before in 0..3 {
                    assert_eq!(search.prove(root, before).is_ok(), before == order, "{pivoted} {order} {before}");
                }
            }
        }
    }

    #[test]
    fn the_middle_of_the_first_mode_is_on_the_positive_side() {
        // Two masses ahead of mid-length make the rear move, to the other side than the initial shape.
        for parts in
            [&[][..], &[Part::point_mass(0.006, 0.71)], &[Part::point_mass(1.0, 0.42), Part::point_mass(1.0, 0.7)]]
        {
            let model = model(parts);
            let first = modes(&model, false).unwrap().first;
            let (middle, mass) = (model.deflection_at(0.35), model.times(model.mass(), &first));
            assert!(middle.of(&first) > 0.0, "{parts:?}");
            assert!((dot(&first, &mass) - 1.0).abs() < 1e-12, "{parts:?}");
        }
    }
}
