//! Flights in wind on slopes, and sight marks.

use clothyard_mechanics::flight::{Accuracy, Archer, Conditions, Flight, Sight, TrajectoryPoint};
use clothyard_mechanics::units::STANDARD_GRAVITY;
use clothyard_mechanics::{Error, Result};
use serde_json::{Value, json};

use super::{Case, Dice};

/// What a case asks about.
struct Asked {
    speed: f64,
    drag: [f64; 2],
    conditions: Conditions,
    sight: Sight,
    distance: f64,
    zone: f64,
    crosswind: f64,
    arrow_length: f64,
    launch_height: f64,
}

pub(super) fn case(dice: &mut Dice) -> std::result::Result<Case, String> {
    let asked = Asked::new(dice);
    let ours = asked.answers().map_err(|error: Error| error.to_string())?;
    Case::new(asked.given(), ours)
}

impl Asked {
    fn new(dice: &mut Dice) -> Self {
        let speed = dice.between(40.0, 100.0);
        let wind = [dice.between(-8.0, 8.0), dice.between(-1.0, 1.0), dice.between(-8.0, 8.0)];
        let slope_rad = dice.between(-0.5, 0.5);
        Self {
            speed,
            drag: [dice.between(0.0005, 0.003), dice.between(0.0, 0.01)],
            conditions: Conditions { slope_rad, wind_m_per_s: wind, ..Conditions::default() },
            sight: Sight {
                peep_height_m: dice.between(0.08, 0.14),
                sight_radius_m: dice.between(0.6, 1.0),
                launch_ahead_m: dice.between(0.0, 1.0),
            },
            distance: dice.between(10.0, (0.4 * speed * speed / STANDARD_GRAVITY).min(100.0)),
            zone: dice.between(0.08, 0.5),
            crosswind: dice.between(-5.0, 5.0),
            arrow_length: dice.between(0.65, 0.85),
            launch_height: dice.between(0.0, 3.0),
        }
    }

    fn given(&self) -> Value {
        json!({
            "speedMPerS": self.speed, "drag": self.drag, "slopeRad": self.conditions.slope_rad,
            "windMPerS": self.conditions.wind_m_per_s, "gravityMPerS2": self.conditions.gravity_m_per_s2,
            "peepHeightM": self.sight.peep_height_m, "sightRadiusM": self.sight.sight_radius_m,
            "launchAheadM": self.sight.launch_ahead_m, "distanceM": self.distance, "zoneM": self.zone,
            "crosswindMPerS": self.crosswind, "arrowLengthM": self.arrow_length, "launchHeightM": self.launch_height,
        })
    }

    fn answers(&self) -> Result<Value> {
        let [constant, root] = self.drag;
        let drag = |airspeed: f64| constant + root / airspeed.sqrt();
        let flight = Flight::new(&drag, self.conditions, Accuracy { relative: 1e-10, absolute: 1e-10 })?;
        let archer = Archer::new(flight, self.sight, self.speed)?;
        let (d, aim) = (self.distance, archer.aim(self.distance)?);
        let (mut passing, mut timed) = (Vec::new(), Vec::new());
        flight.at_distances(&aim.launch, [0.3 * d, 0.7 * d, d, 1.2 * d], |moment| passing.push(moment))?;
        flight.at_times(&aim.launch, [0.1, 0.5, 2.0], |moment| timed.push(moment))?;
        let all = |of: fn(&TrajectoryPoint) -> f64| passing.iter().map(of).collect::<Vec<f64>>();
        let places = timed.iter().flat_map(|moment| [moment.distance_m, moment.height_m, moment.right_m]);
        let (against, window) = (archer.aim_against_wind(d)?, archer.misjudged(d, self.zone)?);
        let (drift, highest) = (archer.drift(d, self.crosswind)?, archer.highest(d)?);
        let farthest = flight.farthest(self.speed, self.launch_height)?;
        Ok(json!({
            "elevationRad": aim.elevation_rad,
            "timeS": all(|moment| moment.time_s), "heightM": all(|moment| moment.height_m),
            "rightM": all(|moment| moment.right_m), "speedMPerS": all(TrajectoryPoint::speed_m_per_s),
            "placeM": places.collect::<Vec<f64>>(),
            "againstWindRad": [against.elevation_rad, against.azimuth_rad],
            "windowM": [window.near_m, window.far_m],
            "driftM": [drift.right_m, drift.up_m],
            "highestM": highest.height_m,
            "markM": archer.mark_m(d, 0.5 * d)?,
            "pointOnM": archer.point_on(self.arrow_length)?.distance_m,
            "farthestM": farthest.landing.distance_m, "farthestRad": farthest.elevation_rad,
        }))
    }
}
