//! Extremes collected at every step of a shot.
//!
//! The bend is the greatest departure (m) from the line between nock and rest, over four stations per element and
//! over time. Between three neighbors it is taken to be a parabola, in both.

use super::model::{InterpolationRow, Model};
use super::sample::Phase;
use super::simulation::State;
use super::vector::{MAX_ELEMENTS, Vector};
use crate::list::List;

/// Stations per element at which the bend is evaluated; between them it is a parabola.
const STATIONS_PER_ELEMENT: usize = 4;

const MAX_STATIONS: usize = STATIONS_PER_ELEMENT * MAX_ELEMENTS + 1;

/// The greatest bend, and the greatest deflection at the rest's position.
pub(super) struct Measures {
    stations: List<(f64, InterpolationRow), MAX_STATIONS>,
    /// Over time.
    pub(super) bend: ParabolicMaximum,
    pub(super) excursion_m: f64,
}

impl Measures {
    pub(super) fn new(model: &Model, elements: usize) -> Self {
        let count = STATIONS_PER_ELEMENT * elements;
        let mut stations = List::new((0.0, model.deflection_at(0.0)));
        for index in 0..=count {
            let x = model.length_m() * index as f64 / count as f64;
            stations.push((x, model.deflection_at(x)));
        }
        Self { stations, bend: ParabolicMaximum::default(), excursion_m: 0.0 }
    }

    /// Evaluates the end of a step made in `phase`.
    pub(super) fn take(&mut self, model: &Model, phase: Phase, state: &State, shape: &Vector) {
        if phase == Phase::Free && state.rest_m <= 0.0 {
            return;
        }
        let at_rest = model.deflection_at(state.rest_m).of(shape);
        if phase != Phase::Free {
            self.bend.take(state.time_s, self.bend_m(state, shape, at_rest));
        }
        if phase != Phase::StringAndRest {
            self.excursion_m = self.excursion_m.max(at_rest.abs());
        }
    }

    /// Greatest departure to either side of the line from the nock to the rest's position.
    fn bend_m(&self, state: &State, shape: &Vector, at_rest: f64) -> f64 {
        let nock = shape.nock();
        let tilt = (at_rest - nock) / state.rest_m;
        let (mut to_one_side, mut to_other) = (ParabolicMaximum::default(), ParabolicMaximum::default());
        for (x, row_at) in self.stations.as_slice().iter().take_while(|(x, _)| *x < state.rest_m) {
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
