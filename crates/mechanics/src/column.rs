//! The arrow as a column: how hard the string may push before the shaft buckles.

use crate::arrow::{Arrow, MAX_PARTS};
use crate::beam::{Beam, BucklingShape, MAX_NODES, Node, Section, Support};
use crate::error::{Error, Result};
use crate::list::List;
use crate::math::{ceil, clamp};
use crate::parameter::Parameter;

/// Default number of elements over an arrow's length.
///
/// The result is then too high by 2.5e-6 of itself for a usual arrow, and by less than 3e-4 for one
/// whose stiffness is several times larger at many places. The error falls with the fourth power of
/// the number: 4e-5 at 8, 6e-7 at 24, 2e-7 at 32 elements.
///
/// Example: see [`critical_acceleration_with`].
pub const DEFAULT_ELEMENTS: usize = 16;

/// An overhang shorter than this (m) hardly bends, and would cost digits as an element.
const MIN_OVERHANG_M: f64 = 1e-3;

/// Acceleration (m/s^2) at which the arrow buckles between the string and a rest at `rest_m`.
///
/// While the string drives the nock, each section is compressed by the acceleration `a` (m/s^2) times the mass ahead
/// of it, `m(x)` (kg). With `v` the deflection and the rest at `x = R` from the nock groove, the arrow remains
/// straight below the smallest eigenvalue `a_cr` of
///
/// ```text
/// d2/dx2 (EI v'') + a d/dx (m(x) v') = 0,    v(0) = 0,  v(R) = 0
/// a_pk = F (1 - loss) / (m + K)              the bow's peak acceleration of arrow and virtual mass
/// lambda = a_pk / a_cr                       the column load, a ratio
/// ```
///
/// String and rest hold the arrow sideways and let it rotate; the part of the arrow ahead of the rest overhangs,
/// and parts ahead of the shaft's end rotate with it as one piece. The critical acceleration is a property of arrow
/// and rest alone. Where the **column load** ([`column_load`]) is above its target ([`crate::Launch`]) an arrow acts
/// weak, below it stiff.
///
/// Assumptions: the peak push acts permanently, with the rest where it is at full draw. In reality the peak is
/// short, so that an arrow loaded slightly above 1 bends and does not collapse: see the shot in time,
/// [`crate::shot`]. Not included: torque, a moving nocking point, and the release, which the target covers.
///
/// The rest is 10 mm or more ahead of the nock groove and behind the front end. This is
/// [`critical_acceleration_with`] at [`DEFAULT_ELEMENTS`].
///
/// # Errors
/// [`Error::RestAheadOfShaft`]; [`Error::OutOfRange`] for the arrow or a rest within 10 mm of
/// the nock groove.
///
/// # Examples
/// ```
/// use clothyard_mechanics::{Arrow, Part, critical_acceleration};
/// // A point of 1 kg over the rest, on a nearly massless shaft: Euler's column under M a.
/// let point = [Part::point_mass(1.0, 0.70)];
/// let arrow = Arrow::new(0.7005, 0.0, 1e-4, 6.0, &point)?;
/// let euler = core::f64::consts::PI.powi(2) * 6.0 / (1.0 * 0.70 * 0.70);
/// assert!((critical_acceleration(&arrow, 0.70)? / euler - 1.0).abs() < 1e-4);
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
///
/// # References
/// Timoshenko & Gere, *Theory of Elastic Stability*, chapter 2, for columns under axial loads. The column load as a
/// measure of the match is this project's own; over seven pairings of common practice (no source) a prior
/// calculation with SciPy gave 1.038 with a standard deviation of 0.024.
pub fn critical_acceleration(arrow: &Arrow<'_>, rest_m: f64) -> Result<f64> {
    critical_acceleration_with(arrow, rest_m, DEFAULT_ELEMENTS)
}

/// As [`critical_acceleration`], for one of many similar arrows: starting from the `shape` of the last one takes less than
/// half the time. The shape becomes that of this arrow.
///
/// Any shape will do: the result is proven to be the smallest eigenvalue, to 1e-10 of itself, however it was found.
///
/// # Errors
/// As [`critical_acceleration`].
///
/// # Examples
/// ```
/// use clothyard_mechanics::beam::BucklingShape;
/// use clothyard_mechanics::{Arrow, Part, critical_acceleration, critical_acceleration_near};
/// let mut shape = BucklingShape::default();
/// for point_kg in [0.0060, 0.0065, 0.0070] {
///     let point = [Part::point_mass(point_kg, 0.726)];
///     let arrow = Arrow::new(0.7112, 0.0, 0.018, 6.4, &point)?;
///     let found = critical_acceleration_near(&arrow, 0.68, &mut shape)?;
///     assert!((found / critical_acceleration(&arrow, 0.68)? - 1.0).abs() < 1e-10);
/// }
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
pub fn critical_acceleration_near(arrow: &Arrow<'_>, rest_m: f64, shape: &mut BucklingShape) -> Result<f64> {
    critical(arrow, rest_m, DEFAULT_ELEMENTS, shape)
}

/// As [`critical_acceleration`], with no element longer than the arrow's length over `elements` (2 to 64).
///
/// # Errors
/// As [`critical_acceleration`], and [`Error::OutOfRange`] for the number of elements.
///
/// # Examples
/// ```
/// use clothyard_mechanics::{Arrow, DEFAULT_ELEMENTS, Part, critical_acceleration_with};
/// let point = [Part::point_mass(0.0065, 0.726)];
/// let arrow = Arrow::new(0.7112, 0.0, 0.018, 6.4, &point)?;
/// let at = |elements| critical_acceleration_with(&arrow, 0.68, elements);
/// // Twice the elements, a sixteenth of the error.
/// let (coarse, usual, fine) = (at(DEFAULT_ELEMENTS / 2)?, at(DEFAULT_ELEMENTS)?, at(64)?);
/// assert!((14.0..18.0).contains(&((coarse - fine) / (usual - fine))));
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
pub fn critical_acceleration_with(arrow: &Arrow<'_>, rest_m: f64, elements: usize) -> Result<f64> {
    critical(arrow, rest_m, elements, &mut BucklingShape::default())
}

fn critical(arrow: &Arrow<'_>, rest_m: f64, elements: usize, shape: &mut BucklingShape) -> Result<f64> {
    arrow.check()?;
    Parameter::Elements.check(elements as f64)?;
    Parameter::RestPosition.check(rest_m)?;
    if rest_m >= arrow.length_m {
        return Err(Error::RestAheadOfShaft { rest_m, length_m: arrow.length_m });
    }
    let overhangs = arrow.length_m - rest_m >= MIN_OVERHANG_M;
    let end_m = if overhangs { arrow.length_m } else { rest_m };
    let nodes = nodes(rest_m, end_m, arrow.length_m / elements as f64);
    let sections = sections(arrow, end_m);
    let mut beam = Beam::on(nodes.as_slice());
    beam.join(sections.as_slice())?;
    add_overhanging_masses(&mut beam, arrow, end_m)?;
    beam.critical_load_factor_near(shape)
}

/// Column load: the bow's peak acceleration over the arrow's critical one (both m/s^2, above 0).
///
/// # Errors
/// [`Error::OutOfRange`] for either.
///
/// # Examples
/// ```
/// use clothyard_mechanics::column_load;
/// // 240 N on 23 g of arrow and 7 g of virtual mass are 8000 m/s^2.
/// let load = column_load(240.0 / 0.030, 10_000.0)?;
/// assert!((load - 0.8).abs() < 1e-15);
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
pub fn column_load(peak_acceleration: f64, critical_acceleration: f64) -> Result<f64> {
    let peak = Parameter::Acceleration.check(peak_acceleration)?;
    Ok(peak / Parameter::Acceleration.check(critical_acceleration)?)
}

/// Nodes at string, rest and front end, and evenly between them.
fn nodes(rest_m: f64, end_m: f64, longest_m: f64) -> List<Node, MAX_NODES> {
    let mut nodes = List::new(Node { place_m: 0.0, support: Support::Free });
    nodes.push(Node { place_m: 0.0, support: Support::Pinned });
    for (rear, front, support) in [(0.0, rest_m, Support::Pinned), (rest_m, end_m, Support::Free)] {
        let pieces = ceil((front - rear) / longest_m);
        for piece in 1..pieces as usize {
            let place_m = rear + (front - rear) * piece as f64 / pieces;
            nodes.push(Node { place_m, support: Support::Free });
        }
        if front > rear {
            nodes.push(Node { place_m: front, support });
        }
    }
    nodes
}

/// Stiffness and mass ahead, between consecutive positions at which either changes.
pub(crate) fn sections(arrow: &Arrow<'_>, end_m: f64) -> List<Section, MAX_CHANGES> {
    let mut changes = List::<f64, MAX_CHANGES>::new(0.0);
    let mut change = |place| changes.insert(clamp(place, 0.0, end_m));
    [0.0, arrow.shaft_from_m, end_m].into_iter().for_each(&mut change);
    for part in arrow.parts {
        if part.mass_kg > 0.0 {
            change(part.center_m);
        }
        if part.added_stiffness_nm2 > 0.0 {
            [part.from_m, part.to_m].into_iter().for_each(&mut change);
        }
    }
    let mut sections = List::new(EMPTY);
    for ends in changes.as_slice().windows(2) {
        if let &[from_m, to_m] = ends
            && to_m > from_m
        {
            sections.push(section(arrow, from_m, to_m));
        }
    }
    sections
}

/// The section between two consecutive changes.
fn section(arrow: &Arrow<'_>, from_m: f64, to_m: f64) -> Section {
    let middle = 0.5 * (from_m + to_m);
    let (stiffness_nm2, mass) = (arrow.stiffness_at_nm2(middle), arrow.mass_ahead_of_kg(middle));
    let per_length = if middle > arrow.shaft_from_m { arrow.shaft_mass_kg_per_m } else { 0.0 };
    let change = 0.5 * per_length * (to_m - from_m);
    // Ahead of the foremost mass rounding may give a negative mass.
    let load_to_n = (mass - change).max(0.0);
    Section { from_m, to_m, stiffness_nm2, load_from_n: mass + change, load_to_n }
}

/// Adds what is ahead of the beam's end: rigid with it, it loads the end through an arm.
pub(crate) fn add_overhanging_masses(beam: &mut Beam<'_>, arrow: &Arrow<'_>, end_m: f64) -> Result<()> {
    for part in arrow.parts.iter().filter(|part| part.center_m > end_m) {
        beam.add_rigid_tip(part.mass_kg, part.center_m - end_m)?;
    }
    let overhang = arrow.length_m - end_m;
    beam.add_rigid_tip(arrow.shaft_mass_kg_per_m * overhang, 0.5 * overhang)
}

/// The ends and the center of every part, the string, the shaft's start and the front end.
pub(crate) const MAX_CHANGES: usize = 3 * MAX_PARTS + 3;

// Nodes: the greatest number of elements, one more for the division at the rest, and one end.
const _: () = assert!(64 + 2 <= MAX_NODES);

const EMPTY: Section = Section { from_m: 0.0, to_m: 0.0, stiffness_nm2: 0.0, load_from_n: 0.0, load_to_n: 0.0 };
