//! The flight of one setup for scripts: numbers in saved units.

use super::legs::{self, Leg};
use super::reach;
use super::rules;
use super::shot::{Answer, Shot, distances_m};
use super::steady::Steady;
use clothyard_core::eval::Evaluation;
use clothyard_core::setup::Setup;
use clothyard_core::units::{Quantity, Units};
use clothyard_mechanics::flight::Yaw;
use core::f64::consts::PI;
use serde::Serialize;

/// What the arrow does after it leaves. What has no answer is null.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct FlightReport {
    /// Why there is no answer; null where there is one.
    pub error: Option<&'static str>,
    /// The air, the drag, the farthest shot and the steadiness.
    pub arrow: Option<ArrowReport>,
    /// The arrow at each distance.
    pub distances: Vec<LegReport>,
    /// The rule book's limits.
    pub rules: Vec<RuleReport>,
}

/// The arrow in its air.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct ArrowReport {
    /// Density of the air, kg/m3.
    pub air_density_kg_per_m3: f64,
    /// Drag coefficient at launch on the shaft's cross-section, as used.
    pub drag_coefficient: f64,
    /// Whether a measured downrange speed replaced the calculated drag.
    pub drag_measured: bool,
    /// Shaft, vanes, point and base of the coefficient built up.
    pub drag_parts: Option<[f64; 4]>,
    /// Where the arrow strikes when its own point is laid on the mark.
    pub point_on_yd: Option<f64>,
    /// The farthest it may fly.
    pub farthest_yd: Option<f64>,
    /// Its steadiness.
    pub steady: Option<SteadyReport>,
}

/// How steady it is.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct SteadyReport {
    /// Center of pressure from the nock groove.
    #[serde(rename = "centreOfPressureIn")]
    pub center_of_pressure_in: f64,
    /// Static margin.
    pub margin_in: f64,
    /// Static margin in shaft diameters.
    pub margin_calibres: f64,
    /// Static margin in percent of the arrow's length.
    pub margin_percent: f64,
    /// The margin a field point would leave, in percent of the arrow's length.
    pub margin_with_a_field_point_percent: Option<f64>,
    /// How high the vanes must be for the margin wanted.
    pub vane_height_wanted_in: Option<f64>,
    /// Way flown in one swing back and forth.
    pub wavelength_yd: Option<f64>,
    /// Way flown in which a wobble halves.
    pub half_distance_yd: Option<f64>,
    /// Way flown in one turn, once it spins as fast as it will.
    pub yards_per_turn: Option<f64>,
}

/// The arrow at one distance.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct LegReport {
    /// The distance.
    pub distance_yd: f64,
    /// What is known there; nothing where the arrow does not come so far.
    pub at: Option<LegNumbers>,
}

/// The numbers at one distance.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct LegNumbers {
    /// Time since the launch.
    pub time_s: f64,
    /// Speed.
    pub speed_fps: f64,
    /// Kinetic energy.
    pub energy_ft_lb: f64,
    /// Momentum.
    pub momentum_slug_fps: f64,
    /// Height above the line of sight with the sight as set.
    pub height_in: f64,
    /// Drift to the right in the wind there is.
    pub drift_in: f64,
    /// Drift to the right for each further mile an hour from the left.
    pub drift_in_per_mph: f64,
    /// Angle above the line of sight that hits here.
    pub elevation_deg: f64,
    /// The sight's mark below that of the nearest distance.
    pub mark_in: f64,
    /// Least distance that still hits the zone.
    pub near_yd: f64,
    /// Greatest distance that still hits the zone.
    pub far_yd: f64,
    /// The most the path is above the line of sight on its way here.
    pub highest_in: f64,
    /// How far out that is.
    pub highest_at_yd: f64,
}

/// One limit of a rule book.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct RuleReport {
    /// Key of the field that holds the limit.
    pub limit: &'static str,
    /// Whether the setup keeps it; null where that cannot be told.
    pub kept: Option<bool>,
    /// In words.
    pub sentence: String,
}

impl FlightReport {
    /// The flight of a build.
    #[must_use]
    pub fn of(setup: &Setup, all: &Evaluation) -> Self {
        let rules = rules::limits(all).iter().map(RuleReport::of).collect();
        let flown = Shot::of(all).and_then(|shot| Ok((shot, legs::legs(&shot, &distances_m(setup))?)));
        match flown {
            Ok((shot, legs)) => {
                let report = |(&distance_m, leg): (&f64, &Answer<Leg>)| LegReport {
                    distance_yd: Quantity::Distance.from_si(distance_m),
                    at: leg.as_ref().ok().map(LegNumbers::of),
                };
                let distances = distances_m(setup).iter().zip(&legs).map(report).collect();
                Self { error: None, arrow: Some(ArrowReport::of(all, &shot)), distances, rules }
            }
            Err(error) => Self { error: Some(error.sentence()), arrow: None, distances: Vec::new(), rules },
        }
    }
}

impl ArrowReport {
    fn of(all: &Evaluation, shot: &Shot) -> Self {
        let parts = shot.drag_parts().ok().map(|parts| [parts.shaft, parts.vanes, parts.point, parts.base]);
        let yards = |meters: f64| Quantity::Distance.from_si(meters);
        Self {
            air_density_kg_per_m3: shot.air.density_kg_per_m3,
            drag_coefficient: shot.coefficient(),
            drag_measured: shot.drag_measured,
            drag_parts: parts,
            point_on_yd: shot.point_on_m().map(yards),
            farthest_yd: reach::farthest(shot).ok().map(|reach| yards(reach.distance_m)),
            steady: Steady::of(all, shot).ok().map(|steady| SteadyReport::of(&steady)),
        }
    }
}

impl SteadyReport {
    fn of(steady: &Steady) -> Self {
        let yards = |meters: f64| Quantity::Distance.from_si(meters);
        let (wavelength, half) = match steady.yaw {
            Yaw::Oscillates { wavelength_m, half_distance_m, .. } => (Some(wavelength_m), Some(half_distance_m)),
            Yaw::Decays { half_distance_m } => (None, Some(half_distance_m)),
            Yaw::Grows { .. } => (None, None),
        };
        let turning = steady.spin.map(|spin| spin.settled_rad_per_m).filter(|&turning| turning > 0.0);
        Self {
            center_of_pressure_in: Quantity::Length.from_si(steady.now.center_of_pressure_m),
            margin_in: Quantity::Length.from_si(steady.now.margin_m),
            margin_calibres: steady.now.margin_calibers,
            margin_percent: 100.0 * steady.now.margin_of_length,
            margin_with_a_field_point_percent: steady.with_a_field_point.map(|plain| 100.0 * plain.margin_of_length),
            vane_height_wanted_in: steady.height_m.map(|height| Quantity::SmallLength.from_si(height)),
            wavelength_yd: wavelength.map(yards),
            half_distance_yd: half.map(yards),
            yards_per_turn: turning.map(|turning| yards(2.0 * PI / turning)),
        }
    }
}

impl LegNumbers {
    fn of(leg: &Leg) -> Self {
        let small = |meters: f64| Quantity::Length.from_si(meters);
        let yards = |meters: f64| Quantity::Distance.from_si(meters);
        Self {
            time_s: leg.time_s,
            speed_fps: Quantity::Speed.from_si(leg.speed_m_per_s),
            energy_ft_lb: Quantity::Energy.from_si(leg.energy_j),
            momentum_slug_fps: Quantity::Momentum.from_si(leg.momentum_kg_m_per_s),
            height_in: small(leg.height_m),
            drift_in: small(leg.drift_m),
            drift_in_per_mph: small(leg.drift_per_m_per_s) * Quantity::WindSpeed.to_si(1.0),
            elevation_deg: Quantity::Angle.from_si(leg.elevation_rad),
            mark_in: small(leg.mark_m),
            near_yd: yards(leg.near_m),
            far_yd: yards(leg.far_m),
            highest_in: small(leg.highest_m),
            highest_at_yd: yards(leg.highest_at_m),
        }
    }
}

impl RuleReport {
    fn of(limit: &rules::Limit) -> Self {
        Self { limit: limit.field.input().key, kept: limit.is_kept(), sentence: limit.sentence(&Units::ARCHERY) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use clothyard_core::setup::samples;
    use clothyard_core::testing::any_setup;
    use proptest::prelude::*;

    #[test]
    fn every_starting_setup_flies_point_first_to_sixty_yards() {
        for start in samples::all() {
            let report = FlightReport::of(&start.setup, &Evaluation::of(&start.setup));
            assert_eq!(report.distances.len(), 6, "{}", start.key);
            assert!(report.distances.iter().all(|leg| leg.at.is_some()), "{}", start.key);
            assert!(report.arrow.unwrap().steady.unwrap().margin_percent > 0.0, "{}", start.key);
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(24))]

        #[test]
        fn any_setup_flies_or_says_why(setup in any_setup()) {
            let report = FlightReport::of(&setup, &Evaluation::of(&setup));
            prop_assert!(report.error.is_some() != report.arrow.is_some());
            let text = serde_json::to_string(&report).unwrap();
            prop_assert!(text.len() > 20);
            for leg in report.distances.iter().filter_map(|leg| leg.at.as_ref()) {
                prop_assert!(leg.speed_fps.is_finite() && leg.mark_in.is_finite() && leg.near_yd <= leg.far_yd);
            }
        }
    }
}
