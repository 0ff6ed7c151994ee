//! Maximum range: for the ground behind a target, not a permission to shoot.

use super::says::said;
use super::shot::{ACCURACY, Answer, Shot};
use clothyard_core::format::fixed;
use clothyard_core::units::{Quantity, Units};
use clothyard_mechanics::flight::{BoundaryLayer, Conditions, Drag, DragShape, Flight};

/// The farthest shot.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reach {
    /// How far away it lands.
    pub distance_m: f64,
    /// Angle above the level that carries it there.
    pub elevation_rad: f64,
    /// Speed as it lands.
    pub speed_m_per_s: f64,
    /// Kinetic energy as it lands.
    pub energy_j: f64,
}

/// What is said beside it.
pub const LAYOUT: &str = "It may glance off and go on. For a range's layout follow your governing body's rules and \
     local law; they ask for more ground than this.";

/// How far the arrow flies over level ground at the angle that carries it farthest, with the least drag it may have
/// (a laminar shaft, no measured slowing) and the wind's whole speed from behind: on the safe side.
///
/// # Errors
/// [`super::FlightError`].
pub fn farthest(shot: &Shot) -> Answer<Reach> {
    let least = DragShape { boundary_layer: BoundaryLayer::LAMINAR, ..shot.shape };
    let calm = Shot { drag: Drag::built_up(&least)?, shape: least, ..*shot };
    let [along, _, right] = shot.conditions.wind_m_per_s;
    let behind = (along * along + right * right).sqrt();
    let conditions = Conditions { slope_rad: 0.0, wind_m_per_s: [behind, 0.0, 0.0], ..shot.conditions };
    let drag = |airspeed: f64| calm.slowing_per_m(airspeed);
    let flight = Flight::new(&drag, conditions, ACCURACY)?;
    let farthest = flight.farthest(shot.speed_m_per_s, shot.launch_height_m)?;
    Ok(Reach {
        distance_m: farthest.landing.distance_m,
        elevation_rad: farthest.elevation_rad,
        speed_m_per_s: farthest.landing.speed_m_per_s(),
        energy_j: farthest.landing.kinetic_energy_j(shot.mass_kg),
    })
}

impl Reach {
    /// The figure and what it rests on, in sentences.
    #[must_use]
    pub fn sentence(&self, units: &Units) -> String {
        let (speed, energy) =
            (said(Quantity::Speed, self.speed_m_per_s, units), said(Quantity::Energy, self.energy_j, units));
        format!(
            "Maximum range about {}, shot at {}°, landing at {speed} with {energy}. Calculated with the lowest drag and the wind from behind.",
            said(Quantity::Distance, self.distance_m, units),
            fixed(Quantity::Angle.from_si(self.elevation_rad), 0),
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use clothyard_core::eval::Evaluation;
    use clothyard_core::schema::Field;
    use clothyard_core::setup::Setup;
    use clothyard_core::setup::samples;

    fn reach(setup: &Setup) -> (Shot, Reach) {
        let shot = Shot::of(&Evaluation::of(setup)).unwrap();
        (shot, farthest(&shot).unwrap())
    }

    #[test]
    fn short_of_a_vacuum_and_farther_with_the_wind() {
        let setup = samples::all().remove(0).setup;
        let (shot, calm) = reach(&setup);
        let vacuum = shot.speed_m_per_s * shot.speed_m_per_s / 9.806_65;
        assert!(calm.distance_m < vacuum && calm.distance_m > 0.3 * vacuum, "{} {vacuum}", calm.distance_m);
        let (_, windy) = reach(&setup.with(Field::Wind, 20.0).unwrap());
        assert!(windy.distance_m > calm.distance_m);
        let words = calm.sentence(&Units::metric());
        assert!(words.starts_with("Maximum range about ") && words.contains("m/s with"), "{words}");
    }
}
