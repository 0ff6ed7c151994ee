//! A value for each unknown of the arrow's shape, in a fixed store: deflections (m) and slopes (rad) by turns.

use crate::math::sqrt;
use core::ops::{Deref, DerefMut};

/// The most elements of a model, that is the upper limit of [`crate::Parameter::Elements`].
pub(super) const MAX_ELEMENTS: usize = 64;

/// Two unknowns, deflection and slope, to each of the most nodes.
pub(super) const MAX_UNKNOWNS: usize = 2 * (MAX_ELEMENTS + 1);

/// As many values as there are unknowns: a slice, for all who use it.
#[derive(Clone, Copy)]
pub(super) struct Vector {
    store: [f64; MAX_UNKNOWNS],
    count: usize,
}

impl Vector {
    /// So many zeros.
    pub(super) const fn zeros(count: usize) -> Self {
        Self { store: [0.0; MAX_UNKNOWNS], count }
    }

    /// Adds so much of another vector.
    pub(super) fn add(&mut self, factor: f64, other: &Self) {
        self.iter_mut().zip(other.iter()).for_each(|(value, other)| *value += factor * other);
    }

    /// Multiplies every value.
    pub(super) fn scale(&mut self, factor: f64) {
        self.iter_mut().for_each(|value| *value *= factor);
    }

    /// Gives the values before `first` the value 0.
    pub(super) fn clear_before(&mut self, first: usize) {
        self.iter_mut().take(first).for_each(|value| *value = 0.0);
    }

    /// The values from `first` on.
    pub(super) fn tail_mut(&mut self, first: usize) -> &mut [f64] {
        self.get_mut(first..).unwrap_or_default()
    }

    /// The first value, the deflection of the nock.
    pub(super) fn nock(&self) -> f64 {
        self.first().copied().unwrap_or_default()
    }

    /// Sets the first value, the deflection of the nock.
    pub(super) fn set_nock(&mut self, value: f64) {
        if let Some(nock) = self.first_mut() {
            *nock = value;
        }
    }

    /// Divides by the root of `square`, the vector's own product in some sense.
    pub(super) fn normalize(&mut self, square: f64) {
        self.scale(1.0 / sqrt(square));
    }
}

impl Deref for Vector {
    type Target = [f64];

    fn deref(&self) -> &[f64] {
        self.store.get(..self.count).unwrap_or_default()
    }
}

impl DerefMut for Vector {
    fn deref_mut(&mut self) -> &mut [f64] {
        self.store.get_mut(..self.count).unwrap_or_default()
    }
}
