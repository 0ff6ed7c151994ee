//! The arrow as a free beam: stiffness, mass and geometric stiffness on evenly spaced nodes.
//!
//! The mass is integrated with the shape functions of the stiffness (consistent mass); a part moves with the
//! shaft at its center, and one beyond an end rotates with it.
//!
//! # References
//! Cook, Malkus & Plesha, *Concepts and Applications of Finite Element Analysis* (consistent
//! mass, stress stiffness).

use super::vector::{MAX_ELEMENTS, MAX_UNKNOWNS, Vector};
use crate::arrow::Arrow;
use crate::banded::{Row, multiply};
use crate::beam::{Beam, Element, Node, Section, Support, add_outer, pieces};
use crate::column::{MAX_CHANGES, add_overhanging_masses, sections};
use crate::error::Result;
use crate::list::List;
use crate::math::{cos, sin};
use crate::parameter::Parameter;
use core::f64::consts::PI;

/// Between nock groove and shaft end, where there is no shaft, this share of its mass per length is
/// assumed, so that the mass matrix is positive definite: 1e-6 of a usual arrow.
const MIN_MASS_SHARE: f64 = 1e-4;

/// The matrices of an arrow.
pub(super) struct Model {
    stiffness: [Row; MAX_UNKNOWNS],
    geometric: [Row; MAX_UNKNOWNS],
    mass: [Row; MAX_UNKNOWNS],
    elements: List<Element, MAX_ELEMENTS>,
    sections: List<Section, MAX_CHANGES>,
    unknowns: usize,
    length_m: f64,
}

/// Deflection or slope at one position, as a row over the unknowns of one element.
#[derive(Clone, Copy)]
pub(super) struct InterpolationRow {
    first: usize,
    row: [f64; 4],
}

impl InterpolationRow {
    /// The value for these unknowns.
    pub(super) fn of(&self, unknowns: &[f64]) -> f64 {
        let four = unknowns.get(self.first..self.first + 4).unwrap_or_default();
        four.iter().zip(&self.row).map(|(value, entry)| value * entry).sum()
    }

    /// Adds `factor` times the row to these unknowns.
    pub(super) fn add_to(&self, unknowns: &mut [f64], factor: f64) {
        let four = unknowns.get_mut(self.first..self.first + 4).unwrap_or_default();
        four.iter_mut().zip(&self.row).for_each(|(value, entry)| *value += factor * entry);
    }

    /// Adds `factor` times the outer square of the row to a matrix.
    pub(super) fn add_square_to(&self, rows: &mut [Row], factor: f64) {
        add_outer(rows, self.first / 2, factor, self.row);
    }
}

impl Model {
    pub(super) fn new(arrow: &Arrow<'_>, elements: usize) -> Result<Self> {
        arrow.check()?;
        Parameter::Elements.check(elements as f64)?;
        let length_m = arrow.length_m;
        let sections = sections(arrow, length_m);
        let node = |place_m| Node { place_m, support: Support::Free };
        let nodes: [Node; MAX_ELEMENTS + 1] =
            core::array::from_fn(|index| node(length_m * (index as f64 / elements as f64)));
        let nodes = nodes.get(..=elements).unwrap_or_default();
        let mut beam = Beam::new(nodes, sections.as_slice())?;
        add_overhanging_masses(&mut beam, arrow, length_m)?;
        let (stiffness, geometric) = beam.matrices();
        let filler = Element::new(node(0.0), node(length_m), sections.as_slice());
        let mut model = Self {
            stiffness: widened(stiffness),
            geometric: widened(geometric),
            mass: widened(&[]),
            elements: List::new(filler),
            sections,
            unknowns: 2 * nodes.len(),
            length_m,
        };
        for ends in nodes.windows(2) {
            let &[rear, front] = ends else { continue };
            model.elements.push(Element::new(rear, front, model.sections.as_slice()));
        }
        model.add_mass(arrow);
        Ok(model)
    }

    pub(super) fn unknowns(&self) -> usize {
        self.unknowns
    }

    pub(super) fn length_m(&self) -> f64 {
        self.length_m
    }

    pub(super) fn stiffness(&self) -> &[Row] {
        self.stiffness.get(..self.unknowns).unwrap_or_default()
    }

    pub(super) fn geometric(&self) -> &[Row] {
        self.geometric.get(..self.unknowns).unwrap_or_default()
    }

    pub(super) fn mass(&self) -> &[Row] {
        self.mass.get(..self.unknowns).unwrap_or_default()
    }

    /// The product of one of the matrices with a vector.
    pub(super) fn times(&self, rows: &[Row], vector: &Vector) -> Vector {
        let mut product = Vector::zeros(self.unknowns);
        multiply(rows, vector, &mut product);
        product
    }

    /// The deflection at `x` from the nock groove; beyond an end the arrow is straight.
    pub(super) fn deflection_at(&self, x: f64) -> InterpolationRow {
        let sections = self.sections.as_slice();
        let row = |element: &Element, x| element.deflections_at(x, sections);
        let mut found = self.row(x, row);
        let beyond = x - x.max(0.0).min(self.length_m);
        let [.., front] = &mut found.row;
        if beyond > 0.0 {
            *front += beyond;
        } else {
            let [_, rear, ..] = &mut found.row;
            *rear += beyond;
        }
        found
    }

    /// The slope at `x` from the nock groove.
    pub(super) fn slope_at(&self, x: f64) -> InterpolationRow {
        self.row(x, |element, x| element.slopes_at(x, self.sections.as_slice()))
    }

    fn row(&self, x: f64, row: impl Fn(&Element, f64) -> [f64; 4]) -> InterpolationRow {
        let held = x.max(0.0).min(self.length_m);
        let elements = self.elements.as_slice();
        let count = elements.len();
        let index = ((held / self.length_m * count as f64) as usize).min(count.saturating_sub(1));
        let row =
            elements.get(index).map_or([0.0; 4], |element| row(element, held.max(element.from_m).min(element.to_m)));
        InterpolationRow { first: 2 * index, row }
    }

    /// Deflections and slopes of a shape given by both at any place.
    pub(super) fn shape(&self, shape: impl Fn(f64) -> (f64, f64)) -> Vector {
        let mut vector = Vector::zeros(self.unknowns);
        let elements = self.elements.as_slice();
        let places = elements.iter().map(|element| element.from_m).chain([self.length_m]);
        for (place, pair) in places.zip(vector.as_chunks_mut::<2>().0) {
            *pair = shape(place).into();
        }
        vector
    }

    /// A half sine of height 1 from nock to front end.
    pub(super) fn half_sine(&self) -> Vector {
        let wave = PI / self.length_m;
        self.shape(|x| (sin(wave * x), wave * cos(wave * x)))
    }

    fn add_mass(&mut self, arrow: &Arrow<'_>) {
        for (index, element) in self.elements.as_slice().iter().enumerate() {
            for (section, from, to) in pieces(self.sections.as_slice(), element.from_m, element.to_m) {
                let on_shaft = 0.5 * (section.from_m + section.to_m) > arrow.shaft_from_m;
                let share = if on_shaft { 1.0 } else { MIN_MASS_SHARE };
                let half = 0.5 * (to - from);
                for (abscissa, weight) in GAUSS_4 {
                    let row = element.deflections_at(from + half * (1.0 + abscissa), self.sections.as_slice());
                    let mass = share * arrow.shaft_mass_kg_per_m * half * weight;
                    add_outer(&mut self.mass, index, mass, row);
                }
            }
        }
        for part in arrow.parts {
            self.deflection_at(part.center_m).add_square_to(&mut self.mass, part.mass_kg);
        }
    }
}

/// Rows in a store of full size.
fn widened(rows: &[Row]) -> [Row; MAX_UNKNOWNS] {
    let mut wide = [[0.0; 4]; MAX_UNKNOWNS];
    wide.iter_mut().zip(rows).for_each(|(wide, row)| *wide = *row);
    wide
}

/// Abscissae and weights on [-1, 1], exact to degree 7, as a product of two cubics needs.
const GAUSS_4: [(f64, f64); 4] = [
    (-0.861_136_311_594_052_6, 0.347_854_845_137_453_85),
    (-0.339_981_043_584_856_26, 0.652_145_154_862_546_1),
    (0.339_981_043_584_856_26, 0.652_145_154_862_546_1),
    (0.861_136_311_594_052_6, 0.347_854_845_137_453_85),
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::arrow::Part;
    use crate::banded::dot;

    const SLEEVE: Part = Part { mass_kg: 0.002, center_m: 0.23, from_m: 0.2, to_m: 0.26, added_stiffness_nm2: 20.0 };

    #[test]
    fn a_uniform_shaft_follows_any_cubic() {
        let arrow = Arrow::new(0.7, 0.0, 0.02, 6.0, &[]).unwrap();
        let model = Model::new(&arrow, 5).unwrap();
        let cubic = |x: f64| (1.0 + x * (2.0 + x * (3.0 - 4.0 * x)), 2.0 + x * (6.0 - 12.0 * x));
        let shape = model.shape(cubic);
        for x in [0.0, 0.01, 0.14, 0.3, 0.61, 0.7] {
            let (deflection, slope) = cubic(x);
            assert!((model.deflection_at(x).of(&shape) - deflection).abs() < 1e-14, "{x}");
            assert!((model.slope_at(x).of(&shape) - slope).abs() < 1e-13, "{x}");
        }
        let (deflection, slope) = cubic(0.7);
        assert!((model.deflection_at(0.72).of(&shape) - deflection - 0.02 * slope).abs() < 1e-14);
        assert!((model.deflection_at(-0.01).of(&shape) - 0.98).abs() < 1e-14);
    }

    #[test]
    fn the_slope_is_that_of_the_deflection_beside_a_sleeve() {
        let parts = [SLEEVE];
        let arrow = Arrow::new(0.7, 0.0, 0.02, 6.0, &parts).unwrap();
        let model = Model::new(&arrow, 4).unwrap();
        let shape = model.half_sine();
        for x in [0.17, 0.19, 0.21, 0.25, 0.27, 0.34] {
            let at = |x| model.deflection_at(x).of(&shape);
            let slope = (at(x + 1e-5) - at(x - 1e-5)) / 2e-5;
            assert!((model.slope_at(x).of(&shape) - slope).abs() < 1e-8, "{x}: {slope}");
        }
    }

    #[test]
    fn as_one_piece_it_has_the_mass_and_balance_of_the_arrow() {
        let parts = [Part::point_mass(0.001, -0.005), SLEEVE, Part::point_mass(0.007, 0.71)];
        let arrow = Arrow::new(0.7, 0.0, 0.02, 6.0, &parts).unwrap();
        let model = Model::new(&arrow, 7).unwrap();
        let (along, turned) = (model.shape(|_| (1.0, 0.0)), model.shape(|x| (x, 1.0)));
        let momentum = model.times(model.mass(), &along);
        let mass = arrow.mass_kg();
        assert!((dot(&along, &momentum) / mass - 1.0).abs() < 1e-13);
        assert!((dot(&turned, &momentum) / mass - arrow.balance_m()).abs() < 1e-13);
        let about_throat = dot(&turned, &model.times(model.mass(), &turned));
        let lumps: f64 = parts.iter().map(|part| part.mass_kg * part.center_m * part.center_m).sum();
        assert!((about_throat / (lumps + 0.02 * 0.343 / 3.0) - 1.0).abs() < 1e-13);
    }

    #[test]
    fn what_is_assumed_behind_the_shaft_weighs_next_to_nothing() {
        let arrow = Arrow::new(0.7, 0.014, 0.02, 6.0, &[]).unwrap();
        let model = Model::new(&arrow, 12).unwrap();
        let along = model.shape(|_| (1.0, 0.0));
        let over = dot(&along, &model.times(model.mass(), &along)) / arrow.mass_kg() - 1.0;
        assert!((1e-6..3e-6).contains(&over), "{over:e}");
    }

    #[test]
    fn what_is_read_at_a_spot_is_pushed_there_by_the_same_shares() {
        // Virtual work: a push at a row_at works by what is read there.
        let parts = [SLEEVE];
        let arrow = Arrow::new(0.7, 0.0, 0.02, 6.0, &parts).unwrap();
        let model = Model::new(&arrow, 6).unwrap();
        assert!((model.length_m() - 0.7).abs() < f64::EPSILON);
        let shape = model.half_sine();
        for x in [-0.01, 0.1, 0.25, 0.6, 0.72] {
            let mut push = Vector::zeros(model.unknowns());
            model.deflection_at(x).add_to(&mut push, 3.0);
            assert!((dot(&push, &shape) - 3.0 * model.deflection_at(x).of(&shape)).abs() < 1e-15, "{x}");
        }
    }
}
