//! One sample of a shot, for a slow-motion picture.
//!
//! Between two steps everything is interpolated linearly: accurate enough to look at, and sampling changes no
//! result.

use super::model::Model;
use super::state::{Phase, State};
use super::vector::Vector;
use crate::arrow::Arrow;

/// The shot at one time, as [`super::Shot::simulate_with`] shows it; its example calls the methods.
#[derive(Clone, Copy)]
pub struct Sample<'m> {
    /// Time since the release, s.
    pub time_s: f64,
    /// What holds the arrow.
    pub phase: Phase,
    /// Distance of the string from brace, m.
    pub string_m: f64,
    /// Distance the arrow has traveled, m.
    pub travel_m: f64,
    /// Its speed, m/s.
    pub speed_m_per_s: f64,
    /// Its acceleration, m/s^2.
    pub acceleration: f64,
    /// The rest's position from the nock groove, m; below 0 once the nock has passed it.
    pub rest_m: f64,
    pub(super) arrow: &'m Arrow<'m>,
    pub(super) model: &'m Model,
    pub(super) shape: &'m Vector,
}

impl Sample<'_> {
    /// Sideways deflection at `x_m` from the nock groove, m. Example: see [`super::Shot::simulate_with`].
    ///
    /// Beyond the ends of the shaft the arrow continues straight.
    #[must_use]
    pub fn deflection_m(&self, x_m: f64) -> f64 {
        self.model.deflection_at(x_m).of(self.shape)
    }

    /// Sideways deflections (m) at stations evenly spaced from nock groove to front end. Example: see
    /// [`super::Shot::simulate_with`].
    pub fn deflections_m(&self, stations: &mut [f64]) {
        let last = stations.len().saturating_sub(1).max(1) as f64;
        for (index, station) in stations.iter_mut().enumerate() {
            *station = self.deflection_m(self.arrow.length_m * index as f64 / last);
        }
    }

    /// Compression of the shaft at `x_m` from the nock groove, N: the acceleration times the mass ahead. Example: see
    /// [`super::Shot::simulate_with`].
    #[must_use]
    pub fn compression_n(&self, x_m: f64) -> f64 {
        self.acceleration * self.arrow.mass_ahead_of_kg(x_m)
    }
}

/// Samples a shot at given times.
pub(super) struct Film<'m, F> {
    arrow: &'m Arrow<'m>,
    model: &'m Model,
    /// Those still ahead.
    times_s: &'m [f64],
    seen: F,
}

impl<'m, F: FnMut(&Sample<'_>)> Film<'m, F> {
    pub(super) fn new(arrow: &'m Arrow<'m>, model: &'m Model, times_s: &'m [f64], seen: F) -> Self {
        Self { arrow, model, times_s, seen }
    }

    pub(super) fn has_more(&self) -> bool {
        !self.times_s.is_empty()
    }

    /// Takes the samples between two steps, interpolated linearly.
    pub(super) fn show(&mut self, (from, bent): (&State, &Vector), (to, bends): (&State, &Vector)) {
        while let Some((&time_s, later)) = self.times_s.split_first()
            && time_s <= to.time_s
        {
            self.times_s = later;
            let length = to.time_s - from.time_s;
            let share = if length > 0.0 { (time_s - from.time_s) / length } else { 1.0 };
            let between = |from: f64, to: f64| from + share * (to - from);
            let mut shape = *bent;
            shape.iter_mut().zip(bends.iter()).for_each(|(bent, bends)| *bent = between(*bent, *bends));
            let sample = Sample {
                time_s,
                phase: if share < 1.0 { from.phase } else { to.phase },
                string_m: between(from.motion.string_m, to.motion.string_m),
                travel_m: between(from.travel_m, to.travel_m),
                speed_m_per_s: between(from.motion.speed, to.motion.speed),
                acceleration: between(from.acceleration, to.acceleration),
                rest_m: between(from.rest_m, to.rest_m),
                arrow: self.arrow,
                model: self.model,
                shape: &shape,
            };
            (self.seen)(&sample);
        }
    }
}
