//! Buckling of a straight beam whose stiffness and compression vary along it.
//!
//! A slender (Euler-Bernoulli) beam under a compression `a P(x)` remains straight until the load factor `a`
//! reaches the smallest eigenvalue of
//!
//! ```text
//! d2/dx2 (EI v'') + a d/dx (P v') = 0        weakly   K v = a KG v
//! K_ij  = integral of EI N_i'' N_j'' dx      KG_ij = integral of P N_i' N_j' dx
//! ```
//!
//! with the deflection `v` (m), bending stiffness `EI` (N m^2) and compression `P` (N for a factor of 1), and a
//! deflection and a slope at each node. Between nodes the shape functions `N` are those of the unloaded beam,
//! for which EI v'' is linear: where the stiffness is uniform, the cubic Hermite functions. They follow every
//! step of the stiffness, so no node is needed there, and no short element degrades the arithmetic.
//!
//! The bending of an element is referred to its elastic center `c`, about which rotating and shearing its ends
//! are independent. With `t` the change of slope from end to end and `e` the offset of the end tangents at `c`,
//!
//! ```text
//! F = integral of dx / EI,  c = integral of x dx / EI / F,  G = integral of (x - c)^2 dx / EI
//! EI v'' = t / F - (x - c) e / G         bending energy = (t^2 / F + e^2 / G) / 2
//! ```
//!
//! The result is never below the true one, and its error falls with the fourth power of the number of
//! elements. Neglected are shear (the beam is slender) and the behavior after buckling.
//!
//! # References
//! Cook, Malkus & Plesha, *Concepts and Applications of Finite Element Analysis* (stress stiffness of a beam);
//! Timoshenko & Gere, *Theory of Elastic Stability*, chapter 2; the elastic center: Timoshenko & Young, *Theory of
//! Structures*.

mod shape;

use crate::banded::{MAX_UNKNOWNS, Row};
use crate::eigen::smallest_eigenvalue;
use crate::error::{Error, Result};
use crate::parameter::Parameter;
pub use shape::BucklingShape;

/// Maximum number of nodes of a [`Beam`], 132; each has two unknowns, deflection and slope.
pub const MAX_NODES: usize = MAX_UNKNOWNS / 2;

/// How a node is held. Example: see [`Beam`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Support {
    /// Free to deflect and to rotate.
    Free,
    /// Held in position, free to rotate.
    Pinned,
    /// Held in position and direction.
    Clamped,
}

/// A point of the beam where two elements meet or one ends. Example: see [`Beam`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Node {
    /// Position along the beam, m.
    pub place_m: f64,
    /// How it is held.
    pub support: Support,
}

/// A length of constant stiffness under a compression that varies linearly along it.
///
/// Loads are compressive, 0 or above. Example: see [`Beam`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Section {
    /// Rear end, m.
    pub from_m: f64,
    /// Front end, m.
    pub to_m: f64,
    /// Bending stiffness EI, N m^2.
    pub stiffness_nm2: f64,
    /// Compression at the rear end, N for a load factor of 1.
    pub load_from_n: f64,
    /// Compression at the front end, N for a load factor of 1.
    pub load_to_n: f64,
}

impl Section {
    fn check(&self, behind_m: f64) -> Result<()> {
        Parameter::Position.check_within(self.from_m, behind_m, behind_m)?;
        Parameter::Position.check_within(self.to_m, self.from_m, MAX_DISTANCE_M)?;
        Parameter::BendingStiffness.check_within(self.stiffness_nm2, 1e-9, 1e12)?;
        Parameter::AxialLoad.check(self.load_from_n)?;
        Parameter::AxialLoad.check(self.load_to_n)?;
        Ok(())
    }
}

/// A beam on its nodes, made of its sections.
///
/// # Examples
/// ```
/// use clothyard_mechanics::beam::{Beam, Node, Section, Support};
/// // Euler's column, 1 m long, of unit stiffness: it buckles at pi^2 newtons.
/// let nodes: [Node; 9] = core::array::from_fn(|i| Node {
///     place_m: i as f64 / 8.0,
///     support: if i % 8 == 0 { Support::Pinned } else { Support::Free },
/// });
/// let uniform =
///     Section { from_m: 0.0, to_m: 1.0, stiffness_nm2: 1.0, load_from_n: 1.0, load_to_n: 1.0 };
/// let load_n = Beam::new(&nodes, &[uniform])?.critical_load_factor()?;
/// assert!((load_n - core::f64::consts::PI.powi(2)).abs() < 4e-4);
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
#[derive(Clone, Debug)]
pub struct Beam<'a> {
    nodes: &'a [Node],
    stiffness: [Row; MAX_UNKNOWNS],
    geometric: [Row; MAX_UNKNOWNS],
}

impl<'a> Beam<'a> {
    /// A beam on nodes from rear to front, of contiguous sections from the first node to the last.
    ///
    /// Nodes and section boundaries are independent of each other.
    ///
    /// # Errors
    /// [`Error::TooManyParts`] beyond [`MAX_NODES`]; [`Error::OutOfRange`] for a node that is not ahead of
    /// the one before it, sections with a gap or an overlap or ending before the last node, and a
    /// stiffness or load below 0.
    pub fn new(nodes: &'a [Node], sections: &[Section]) -> Result<Self> {
        let mut beam = Self::on(nodes);
        beam.join(sections)?;
        Ok(beam)
    }

    /// Nodes alone; followed by [`Beam::join`] this is [`Beam::new`] without a copy of the matrices.
    pub(crate) fn on(nodes: &'a [Node]) -> Self {
        Self { nodes, stiffness: [[0.0; 4]; MAX_UNKNOWNS], geometric: [[0.0; 4]; MAX_UNKNOWNS] }
    }

    pub(crate) fn join(&mut self, sections: &[Section]) -> Result<()> {
        check(self.nodes, sections)?;
        self.decouple_held_unknowns();
        for (index, ends) in self.nodes.windows(2).enumerate() {
            let &[rear, front] = ends else { continue };
            let own = overlapping(sections, rear.place_m, front.place_m);
            self.add_element(index, &Element::new(rear, front, own), own);
        }
        Ok(())
    }

    /// Adds a load (N for a load factor of 1) that acts on a rigid arm ahead of the last node.
    ///
    /// When the end rotates by `t`, the arm `offset_m` shortens by `offset_m t^2 / 2`. The compression that
    /// the load causes along the beam is not added here.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] for a tensile load or a negative arm.
    ///
    /// # Examples
    /// ```
    /// use clothyard_mechanics::beam::{Beam, Node, Section, Support};
    /// // A flagpole of unit stiffness with its load on an arm e ahead of its end buckles where
    /// // k e tan k = 1, with k^2 the load: e = 1 / tan 1 makes it 1.
    /// let nodes: [Node; 9] = core::array::from_fn(|i| Node {
    ///     place_m: i as f64 / 8.0,
    ///     support: if i == 0 { Support::Clamped } else { Support::Free },
    /// });
    /// let uniform =
    ///     Section { from_m: 0.0, to_m: 1.0, stiffness_nm2: 1.0, load_from_n: 1.0, load_to_n: 1.0 };
    /// let mut pole = Beam::new(&nodes, &[uniform])?;
    /// pole.add_rigid_tip(1.0, 1.0 / f64::tan(1.0))?;
    /// assert!((pole.critical_load_factor()? - 1.0).abs() < 1e-6);
    /// # Ok::<(), clothyard_mechanics::Error>(())
    /// ```
    pub fn add_rigid_tip(&mut self, load_n: f64, offset_m: f64) -> Result<()> {
        Parameter::AxialLoad.check(load_n)?;
        Parameter::Position.check_within(offset_m, 0.0, MAX_DISTANCE_M)?;
        let Some(last) = self.nodes.last() else {
            return Ok(());
        };
        let turn = 2 * self.nodes.len() - 1;
        if last.support != Support::Clamped
            && let Some([diagonal, ..]) = self.geometric.get_mut(turn)
        {
            *diagonal += load_n * offset_m;
        }
        Ok(())
    }

    /// The smallest load factor at which the beam buckles.
    ///
    /// # Errors
    /// [`Error::Unsupported`] when the beam can move as a rigid body, or is so soft at one point relative to
    /// its stiffness elsewhere that rounding hides the difference; [`Error::OutOfRange`] when nothing
    /// compresses it.
    pub fn critical_load_factor(&self) -> Result<f64> {
        self.critical_load_factor_near(&mut BucklingShape::default())
    }

    /// The same, starting from the shape in which a similar beam buckles, and leaving that of this one.
    pub(crate) fn critical_load_factor_near(&self, shape: &mut BucklingShape) -> Result<f64> {
        if !self.is_held() {
            return Err(Error::Unsupported);
        }
        let (stiffness, geometric) = self.matrices();
        let is_near = !shape.is_none();
        let found = smallest_eigenvalue(stiffness, geometric, is_near, shape.at_nodes(self.nodes));
        if found.is_err() {
            *shape = BucklingShape::default();
        }
        found
    }

    /// The matrices `K` and `KG`, two rows to a node.
    pub(crate) fn matrices(&self) -> (&[Row], &[Row]) {
        let unknowns = 2 * self.nodes.len();
        (self.stiffness.get(..unknowns).unwrap_or_default(), self.geometric.get(..unknowns).unwrap_or_default())
    }

    /// Whether the supports prevent rigid-body motion.
    fn is_held(&self) -> bool {
        let held_unknowns = |node: &Node| match node.support {
            Support::Free => 0,
            Support::Pinned => 1,
            Support::Clamped => 2,
        };
        self.nodes.iter().map(held_unknowns).sum::<usize>() >= 2
    }

    /// Gives each held unknown the equation `v = 0`: a diagonal of 1, no load, no coupling.
    fn decouple_held_unknowns(&mut self) {
        for (node, [place, turn]) in self.nodes.iter().zip(self.stiffness.as_chunks_mut::<2>().0) {
            let [held_place, held_turn] = held(node.support);
            place[0] = if held_place { 1.0 } else { 0.0 };
            turn[0] = if held_turn { 1.0 } else { 0.0 };
        }
    }

    /// Adds both integrals over one element; three Gauss points per piece are exact.
    fn add_element(&mut self, index: usize, element: &Element, sections: &[Section]) {
        add_outer(&mut self.stiffness, index, 1.0 / element.turn_flexibility, element.turn);
        add_outer(&mut self.stiffness, index, 1.0 / element.offset_flexibility, element.offset);
        // Slope since the rear end, for unit t and unit e.
        let (mut turned, mut bent) = (0.0, 0.0);
        for (section, from, to) in pieces(sections, element.from_m, element.to_m) {
            // Divisions take long: none for each point.
            let flexibility = 1.0 / section.stiffness_nm2;
            let (turn, bend) = (flexibility / element.turn_flexibility, flexibility / element.offset_flexibility);
            let advance = |x: f64| {
                let arm = 0.5 * (x + from) - element.center_m;
                (turned + (x - from) * turn, bent - (x - from) * arm * bend)
            };
            let load_change = (section.load_to_n - section.load_from_n) / (section.to_m - section.from_m);
            let (middle, half) = (0.5 * (from + to), 0.5 * (to - from));
            for (abscissa, weight) in GAUSS_3 {
                let x = middle + half * abscissa;
                let slopes = element.slopes(advance(x));
                let load = half * weight * (section.load_from_n + (x - section.from_m) * load_change);
                add_outer(&mut self.geometric, index, load, slopes);
            }
            (turned, bent) = advance(to);
        }
    }
}

/// Abscissae and weights on [-1, 1], exact to degree 5; the abscissa is sqrt(3/5).
const GAUSS_3: [(f64, f64); 3] =
    [(-0.774_596_669_241_483_4, 5.0 / 9.0), (0.0, 8.0 / 9.0), (0.774_596_669_241_483_4, 5.0 / 9.0)];

/// Nodes and sections are within this distance of the origin, m.
const MAX_DISTANCE_M: f64 = 1e6;

fn check(nodes: &[Node], sections: &[Section]) -> Result<()> {
    let (given, maximum) = (nodes.len(), MAX_NODES);
    if given > maximum {
        return Err(Error::TooManyParts { given, maximum });
    }
    let mut minimum = -MAX_DISTANCE_M;
    for node in nodes {
        Parameter::Position.check_within(node.place_m, minimum, MAX_DISTANCE_M)?;
        minimum = node.place_m + 1e-9;
    }
    if let (Some(first), Some(last)) = (nodes.first(), nodes.last()) {
        let mut reached = first.place_m;
        for section in sections {
            section.check(reached)?;
            reached = section.to_m;
        }
        Parameter::Position.check_within(reached, last.place_m, MAX_DISTANCE_M)?;
    }
    Ok(())
}

/// The sections that overlap the open interval between two positions.
fn overlapping(sections: &[Section], from: f64, to: f64) -> &[Section] {
    let behind = sections.partition_point(|section| section.to_m <= from);
    let ahead = sections.partition_point(|section| section.from_m < to);
    sections.get(behind..ahead).unwrap_or_default()
}

/// The parts of sections between two positions, with their ends.
///
/// The ends are compared directly, as `f64::max` is a function call where no instruction has its semantics.
pub(crate) fn pieces(sections: &[Section], from: f64, to: f64) -> impl Iterator<Item = (&Section, f64, f64)> {
    let cut = move |s: &Section| (if s.from_m > from { s.from_m } else { from }, if s.to_m < to { s.to_m } else { to });
    sections.iter().map(move |s| (s, cut(s))).filter(|(_, (a, b))| b > a).map(|(s, (a, b))| (s, a, b))
}

/// An element's bending about its elastic center.
#[derive(Clone, Copy)]
pub(crate) struct Element {
    pub(crate) from_m: f64,
    pub(crate) to_m: f64,
    center_m: f64,
    /// `F`, and as a row over deflection and slope at rear and front, `t`.
    turn_flexibility: f64,
    turn: [f64; 4],
    /// `G` and `e`.
    offset_flexibility: f64,
    offset: [f64; 4],
    /// The slope at the rear end as a row.
    rear_slope: [f64; 4],
}

impl Element {
    /// The element between two nodes; `sections` are at least those that overlap it.
    pub(crate) fn new(rear: Node, front: Node, sections: &[Section]) -> Self {
        let (from_m, to_m) = (rear.place_m, front.place_m);
        let (mut turn_flexibility, mut first_moment) = (0.0, 0.0);
        for (section, a, b) in pieces(sections, from_m, to_m) {
            let flexibility = (b - a) / section.stiffness_nm2;
            turn_flexibility += flexibility;
            first_moment += (0.5 * (a + b) - from_m) * flexibility;
        }
        let to_center = first_moment / turn_flexibility;
        let center_m = from_m + to_center;
        let mut offset_flexibility = 0.0;
        for (section, a, b) in pieces(sections, from_m, to_m) {
            let (length, arm) = (b - a, 0.5 * (a + b) - center_m);
            let square = arm * arm + length * length / 12.0;
            offset_flexibility += square * length / section.stiffness_nm2;
        }
        let ([a, b], [c, d]) = (held(rear.support), held(front.support));
        let free = [a, b, c, d].map(|held| if held { 0.0 } else { 1.0 });
        let masked = |n: [f64; 4]| [n[0] * free[0], n[1] * free[1], n[2] * free[2], n[3] * free[3]];
        let turn = masked([0.0, -1.0, 0.0, 1.0]);
        let offset = masked([-1.0, -to_center, 1.0, to_center - (to_m - from_m)]);
        let rear_slope = masked([0.0, 1.0, 0.0, 0.0]);
        Self { from_m, to_m, center_m, turn_flexibility, turn, offset_flexibility, offset, rear_slope }
    }

    /// The deflection at `x` as a row; both nodes must be free.
    ///
    /// A piece of length `l` about the middle `m` behind `x` adds `l / EI` times
    /// `(x - m) t / F - ((x - m)(m - c) - l^2 / 12) e / G`.
    pub(crate) fn deflections_at(&self, x: f64, sections: &[Section]) -> [f64; 4] {
        let (mut by_turn, mut by_offset) = (0.0, 0.0);
        for (section, a, b) in pieces(sections, self.from_m, x) {
            let (length, middle) = (b - a, 0.5 * (a + b));
            let (flexibility, arm) = (length / section.stiffness_nm2, x - middle);
            by_turn += flexibility * arm;
            by_offset -= flexibility * (arm * (middle - self.center_m) - length * length / 12.0);
        }
        let advanced = (by_turn / self.turn_flexibility, by_offset / self.offset_flexibility);
        let mut row = self.combined(x - self.from_m, advanced);
        row[0] += 1.0;
        row
    }

    /// The slope at `x` as a row.
    pub(crate) fn slopes_at(&self, x: f64, sections: &[Section]) -> [f64; 4] {
        let (mut turned, mut bent) = (0.0, 0.0);
        for (section, a, b) in pieces(sections, self.from_m, x) {
            let flexibility = (b - a) / section.stiffness_nm2;
            turned += flexibility;
            bent -= flexibility * (0.5 * (a + b) - self.center_m);
        }
        self.slopes((turned / self.turn_flexibility, bent / self.offset_flexibility))
    }

    /// The slope as a row, where it has grown by these shares of `t` and `e` since the rear end.
    fn slopes(&self, shares: (f64, f64)) -> [f64; 4] {
        self.combined(1.0, shares)
    }

    /// So much of the rear slope, of `t` and of `e`, as a row.
    fn combined(&self, rear_slope: f64, (turned, bent): (f64, f64)) -> [f64; 4] {
        let mut row = self.rear_slope.map(|slope| rear_slope * slope);
        for (entry, (turn, offset)) in row.iter_mut().zip(self.turn.iter().zip(&self.offset)) {
            *entry += turned * turn + bent * offset;
        }
        row
    }
}

/// Whether deflection and slope are held.
const fn held(support: Support) -> [bool; 2] {
    match support {
        Support::Free => [false, false],
        Support::Pinned => [true, false],
        Support::Clamped => [true, true],
    }
}

/// Adds `factor n n^T` to the four rows of an element.
pub(crate) fn add_outer(rows: &mut [Row], element: usize, factor: f64, n: [f64; 4]) {
    let first = 2 * element;
    if let Some([r0, r1, r2, r3]) = rows.get_mut(first..first + 4) {
        let f = n.map(|n| factor * n);
        r0[0] += f[0] * n[0];
        r1[0] += f[1] * n[1];
        r1[1] += f[1] * n[0];
        r2[0] += f[2] * n[2];
        r2[1] += f[2] * n[1];
        r2[2] += f[2] * n[0];
        r3[0] += f[3] * n[3];
        r3[1] += f[3] * n[2];
        r3[2] += f[3] * n[1];
        r3[3] += f[3] * n[0];
    }
}
