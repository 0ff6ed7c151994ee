//! Extremes collected at every step of a shot.
//!
//! The bend is the greatest departure (m) from the line between nock and rest, or nock and front end, over four
//! stations per element and over time. Between three neighbors it is taken to be a parabola, in both.

use super::model::{InterpolationRow, Model};
use super::state::{Phase, State};
use super::vector::{MAX_ELEMENTS, Vector};
use crate::list::List;

/// Stations per element at which the bend is evaluated; between them it is a parabola.
const STATIONS_PER_ELEMENT: usize = 4;

const MAX_STATIONS: usize = STATIONS_PER_ELEMENT * MAX_ELEMENTS + 1;

/// The line from the nock that the bend departs from.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Chord {
    ToRest,
    ToFrontEnd,
}

/// The greatest bend, and the greatest deflections at nock and rest.
pub(super) struct Measures {
    stations: List<(f64, InterpolationRow), MAX_STATIONS>,
    chord: Chord,
    /// Over time.
    pub(super) bend: ParabolicMaximum,
    pub(super) nock_aside_m: f64,
    pub(super) excursion_m: f64,
    /// Greatest push of a button on the way to exit, N.
    pub(super) push_n: f64,
    /// End of the last step on the way to exit at which the button was pressed, s.
    pub(super) rest_left_s: f64,
}

impl Measures {
    pub(super) fn new(model: &Model, elements: usize, chord: Chord) -> Self {
        let count = STATIONS_PER_ELEMENT * elements;
        let mut stations = List::new((0.0, model.deflection_at(0.0)));
        for index in 0..=count {
            let x = model.length_m() * index as f64 / count as f64;
            stations.push((x, model.deflection_at(x)));
        }
        let bend = ParabolicMaximum::default();
        Self { stations, chord, bend, nock_aside_m: 0.0, excursion_m: 0.0, push_n: 0.0, rest_left_s: 0.0 }
    }

    /// Evaluates the end of a step made in `phase`, where a button pushes with `push_n`.
    pub(super) fn take(&mut self, model: &Model, phase: Phase, state: &State, shape: &Vector, push_n: f64) {
        if phase != Phase::Free {
            self.nock_aside_m = self.nock_aside_m.max(shape.nock().abs());
            self.push_n = self.push_n.max(push_n);
            if push_n > 0.0 {
                self.rest_left_s = state.time_s;
            }
        } else if state.rest_m <= 0.0 {
            return;
        }
        match self.chord {
            Chord::ToRest => self.take_over_rest(model, phase, state, shape),
            Chord::ToFrontEnd if phase != Phase::Free => {
                let end = (model.length_m(), model.deflection_at(model.length_m()).of(shape));
                self.bend.take(state.time_s, self.bend_m(shape, end));
            }
            Chord::ToFrontEnd => {}
        }
    }

    fn take_over_rest(&mut self, model: &Model, phase: Phase, state: &State, shape: &Vector) {
        let at_rest = model.deflection_at(state.rest_m).of(shape);
        if phase != Phase::Free {
            self.bend.take(state.time_s, self.bend_m(shape, (state.rest_m, at_rest)));
        }
        if phase != Phase::StringAndRest {
            self.excursion_m = self.excursion_m.max(at_rest.abs());
        }
    }

    /// Greatest departure to either side of the line from the nock to a place and deflection.
    fn bend_m(&self, shape: &Vector, (end_m, at_end): (f64, f64)) -> f64 {
        let nock = shape.nock();
        let tilt = (at_end - nock) / end_m;
        let (mut to_one_side, mut to_other) = (ParabolicMaximum::default(), ParabolicMaximum::default());
        for (x, row_at) in self.stations.as_slice().iter().take_while(|(x, _)| *x < end_m) {
            let departure = row_at.of(shape) - nock - tilt * x;
            to_one_side.take(*x, departure);
            to_other.take(*x, -departure);
        }
        to_one_side.greatest.1.max(to_other.greatest.1)
    }
}

/// The maximum of a sequence of values, refined by the parabola through the three around it.
#[derive(Clone, Copy, Default)]
pub(super) struct ParabolicMaximum {
    /// Its argument and value; 0 when all values are negative.
    pub(super) greatest: (f64, f64),
    /// The two values before, most recent first.
    before: [Option<(f64, f64)>; 2],
}

impl ParabolicMaximum {
    pub(super) fn take(&mut self, x: f64, y: f64) {
        if y > self.greatest.1 {
            self.greatest = (x, y);
        }
        if let [Some((x1, y1)), Some((x0, y0))] = self.before
            && y1 >= y0
            && y1 > y
        {
            // Newton's form of the parabola.
            let (rise, fall) = ((y1 - y0) / (x1 - x0), (y - y1) / (x - x1));
            let curvature = (fall - rise) / (x - x0);
            let top = 0.5 * (x0 + x1) - 0.5 * rise / curvature;
            let height = y0 + (top - x0) * (rise + curvature * (top - x1));
            if height > self.greatest.1 {
                self.greatest = (top, height);
            }
        }
        self.before = [Some((x, y)), self.before[0]];
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_peak_of_a_parabola_is_found_between_its_values() {
        let mut peak = ParabolicMaximum::default();
        for x in [0.0, 0.3, 0.5, 1.1, 1.2] {
            peak.take(x, 2.0 - (x - 0.7) * (x - 0.7));
        }
        let (x, y) = peak.greatest;
        assert!((x - 0.7).abs() < 1e-12 && (y - 2.0).abs() < 1e-15, "{x} {y}");
    }

    #[test]
    fn a_peak_at_the_end_is_the_last_value() {
        let mut peak = ParabolicMaximum::default();
        [(0.0, 1.0), (1.0, 2.0), (2.0, 4.0)].into_iter().for_each(|(x, y)| peak.take(x, y));
        assert_eq!(peak.greatest, (2.0, 4.0));
    }

    #[test]
    fn a_peak_midway_between_two_equal_values_is_found() {
        let mut peak = ParabolicMaximum::default();
        [-1.5_f64, -0.5, 0.5, 1.5].into_iter().for_each(|x| peak.take(x, 1.0 - 0.25 * x * x));
        let (x, y) = peak.greatest;
        assert!(x.abs() < 1e-15 && (y - 1.0).abs() < 1e-15, "{x} {y}");
    }

    #[test]
    fn nothing_above_none_is_none_and_a_level_is_itself() {
        let mut peak = ParabolicMaximum::default();
        [(0.0, -3.0), (1.0, -1.0), (2.0, -2.0)].into_iter().for_each(|(x, y)| peak.take(x, y));
        assert_eq!(peak.greatest, (0.0, 0.0));
        let mut level = ParabolicMaximum::default();
        [(0.0, 2.0), (1.0, 2.0), (2.0, 2.0)].into_iter().for_each(|(x, y)| level.take(x, y));
        assert_eq!(level.greatest, (0.0, 2.0));
    }
}
