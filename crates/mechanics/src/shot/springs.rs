//! What holds an arrow elastically: the string's sideways pull on the nock, and a button.

use super::model::InterpolationRow;
use super::vector::Vector;
use crate::banded::Row;

/// The springs that act at one time.
#[derive(Clone, Copy, Default)]
pub(super) struct Springs {
    /// Mass on the nock, kg.
    pub(super) nock_mass_kg: f64,
    /// Toward 0, N/m.
    pub(super) nock_n_per_m: f64,
    pub(super) rest: Option<RestSpring>,
}

/// A button that is pressed.
#[derive(Clone, Copy)]
pub(super) struct RestSpring {
    /// Its position along the arrow.
    pub(super) place: InterpolationRow,
    pub(super) n_per_m: f64,
    /// Where it would be unpressed, m.
    pub(super) unpressed_m: f64,
}

impl RestSpring {
    /// Its push, N; below 0 it would have to pull.
    pub(super) fn push_n(&self, deflection: &Vector) -> f64 {
        self.n_per_m * (self.unpressed_m - self.place.of(deflection))
    }
}

impl Springs {
    pub(super) fn are_none(&self) -> bool {
        self.nock_mass_kg == 0.0 && self.nock_n_per_m == 0.0 && self.rest.is_none()
    }

    /// Adds `factor` times the forces on the arrow.
    pub(super) fn add_forces(&self, deflection: &Vector, factor: f64, to: &mut Vector) {
        let pull_n = -self.nock_n_per_m * deflection.nock();
        to.set_nock(to.nock() + factor * pull_n);
        if let Some(rest) = &self.rest {
            rest.place.add_to(to, factor * rest.push_n(deflection));
        }
    }

    /// Adds the mass, and `factor` times the stiffness, to a matrix.
    pub(super) fn add_to(&self, factor: f64, rows: &mut [Row]) {
        if let Some([nock, ..]) = rows.first_mut() {
            *nock += self.nock_mass_kg + factor * self.nock_n_per_m;
        }
        if let Some(rest) = &self.rest {
            rest.place.add_square_to(rows, factor * rest.n_per_m);
        }
    }
}
