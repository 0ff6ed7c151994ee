//! A value per unknown of the arrow's shape, of fixed capacity: deflections (m) and slopes (rad) alternate.

use crate::math::sqrt;
use core::ops::{Deref, DerefMut};

/// Maximum number of elements of a model, the upper limit of [`crate::Parameter::Elements`].
pub(super) const MAX_ELEMENTS: usize = 64;

/// Two unknowns, deflection and slope, per node.
pub(super) const MAX_UNKNOWNS: usize = 2 * (MAX_ELEMENTS + 1);

/// As many values as there are unknowns; dereferences to a slice.
#[derive(Clone, Copy)]
pub(super) struct Vector {
    store: [f64; MAX_UNKNOWNS],
    count: usize,
}

impl Vector {
    /// `count` zeros.
    pub(super) const fn zeros(count: usize) -> Self {
        Self { store: [0.0; MAX_UNKNOWNS], count }
    }

    /// Adds `factor` times another vector.
    pub(super) fn add(&mut self, factor: f64, other: &Self) {
        self.iter_mut().zip(other.iter()).for_each(|(value, other)| *value += factor * other);
    }

    /// Multiplies every value.
    pub(super) fn scale(&mut self, factor: f64) {
        self.iter_mut().for_each(|value| *value *= factor);
    }

    /// Sets the values before `first` to 0.
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

    /// Divides by the square root of `square`, the vector's squared norm in some inner product.
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
