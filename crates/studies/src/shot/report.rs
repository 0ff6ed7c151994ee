//! The shot in time of one setup for scripts.

use super::film::{shot, simulate};
use crate::flight::shot::{Answer, FlightError};
use clothyard_core::eval::Evaluation;
use clothyard_core::units::Quantity;
use clothyard_mechanics::shot::{Release, Shot};
use serde::Serialize;

/// What the shot does to the arrow.
///
/// Off the fingers, what happens sideways is none where the simulation does not hold.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct FlexReport {
    /// From the release until the nock leaves the string.
    pub time_on_string_ms: f64,
    /// Greatest bend while the string drives it.
    pub greatest_bend_in: Option<f64>,
    /// That bend over the shaft's straightness error; none off the fingers.
    pub magnification: Option<f64>,
    /// First natural frequencies of bending in flight.
    pub free_frequencies_hz: [f64; 3],
    /// Swings in flight's first mode in the time on the string.
    pub swings_on_string: f64,
    /// Greatest sideways movement of the shaft at the rest while it passes; none off the fingers.
    pub rest_excursion_in: Option<f64>,
    /// Off the fingers: greatest sideways movement of the nock on the string.
    pub nock_aside_in: Option<f64>,
    /// Off the fingers: when the shaft last touches the rest before it leaves the string.
    pub rest_left_ms: Option<f64>,
}

impl FlexReport {
    /// The shot of a build.
    ///
    /// # Errors
    /// [`FlightError`].
    pub fn of(all: &Evaluation) -> Answer<Self> {
        let model = all.model.as_ref().ok_or(FlightError::NoLaunch)?;
        let shot = shot(&all.resolved, model)?;
        // Along the line of the string both releases are one.
        let straight = Shot { release: Release::Straight, ..shot }.simulate()?;
        let fingers = if shot.release == Release::Straight { None } else { Some(simulate(&shot).ok()) };
        let off_fingers = fingers.flatten();
        let aid = fingers.is_none().then_some(straight);
        let inches = |meters: f64| Quantity::Length.from_si(meters);
        Ok(Self {
            time_on_string_ms: 1e3 * straight.time_on_string_s,
            greatest_bend_in: aid.or(off_fingers).map(|flex| inches(flex.greatest_bend_m)),
            magnification: aid.map(|flex| flex.magnification),
            free_frequencies_hz: straight.free_frequencies_hz,
            swings_on_string: straight.swings_on_string(),
            rest_excursion_in: aid.map(|flex| inches(flex.rest_excursion_m)),
            nock_aside_in: off_fingers.map(|flex| inches(flex.nock_aside_m)),
            rest_left_ms: off_fingers.map(|flex| 1e3 * flex.rest_left_s),
        })
    }
}
