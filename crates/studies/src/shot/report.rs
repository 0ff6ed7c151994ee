//! The shot in time of one build, as scripts read it.

use super::film::shot;
use crate::flight::shot::{Answer, FlightError};
use clothyard_core::eval::Evaluation;
use clothyard_core::units::Quantity;
use serde::Serialize;

/// What the shot does to the arrow.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct FlexReport {
    /// From the loose until the nock leaves the string.
    pub time_on_string_ms: f64,
    /// Greatest bend while the string drives it.
    pub greatest_bend_in: f64,
    /// That bend over the shaft's own bow.
    pub magnification: f64,
    /// First natural frequencies of bending in flight.
    pub free_frequencies_hz: [f64; 3],
    /// Swings in flight's first mode in the time on the string.
    pub swings_on_string: f64,
    /// Greatest sideways way of the shaft at the rest while it passes.
    pub rest_excursion_in: f64,
}

impl FlexReport {
    /// The shot of a build.
    ///
    /// # Errors
    /// [`FlightError`].
    pub fn of(all: &Evaluation) -> Answer<Self> {
        let model = all.model.as_ref().ok_or(FlightError::NoLaunch)?;
        let flex = shot(&all.resolved, model)?.simulate()?;
        let inches = |metres: f64| Quantity::Length.from_si(metres);
        Ok(Self {
            time_on_string_ms: 1e3 * flex.time_on_string_s,
            greatest_bend_in: inches(flex.greatest_bend_m),
            magnification: flex.magnification,
            free_frequencies_hz: flex.free_frequencies_hz,
            swings_on_string: flex.swings_on_string(),
            rest_excursion_in: inches(flex.rest_excursion_m),
        })
    }
}
