//! The trajectory at each distance, and how to aim.

use super::shot::{Answer, Shot};
use clothyard_mechanics::flight::{Archer, TrajectoryPoint};

/// The arrow at one distance, all in SI units.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Leg {
    /// The distance along the line of sight.
    pub distance_m: f64,
    /// Time since the launch.
    pub time_s: f64,
    /// Speed over ground.
    pub speed_m_per_s: f64,
    /// Kinetic energy.
    pub energy_j: f64,
    /// Momentum.
    pub momentum_kg_m_per_s: f64,
    /// Height above the line of sight while the sight is set for [`Shot::sighted_m`].
    pub height_m: f64,
    /// How far the wind there is carries it to the right.
    pub drift_m: f64,
    /// How far a further wind of 1 m/s from the left carries it to the right.
    pub drift_per_m_per_s: f64,
    /// Angle of the arrow above the line of sight that hits at this distance.
    pub elevation_rad: f64,
    /// How far down the sight's bar its mark is from that of the nearest distance answered.
    pub mark_m: f64,
    /// Least true distance at which the arrow still hits the zone, the sight set for this distance.
    pub near_m: f64,
    /// Greatest true distance at which it does.
    pub far_m: f64,
    /// The most it is above the line of sight on its way to a hit at this distance.
    pub highest_m: f64,
    /// How far out that is.
    pub highest_at_m: f64,
}

impl Leg {
    /// How far the distance may be misjudged either way: the lesser of too long and too short.
    #[must_use]
    pub fn judged_within_m(&self) -> f64 {
        (self.distance_m - self.near_m).min(self.far_m - self.distance_m)
    }
}

/// The arrow at each distance (m, rising); a distance it does not come to has an error in its place.
///
/// # Errors
/// [`super::FlightError`] where the shot itself has no answer.
pub fn legs(shot: &Shot, distances_m: &[f64]) -> Answer<Vec<Answer<Leg>>> {
    let mut legs: Vec<Answer<Leg>> = shot.archer(|archer| {
        let set = archer.aim(shot.sighted_m)?.launch;
        Ok(distances_m.iter().map(|&distance_m| leg(shot, archer, &set, distance_m)).collect())
    })?;
    let pin_m = |leg: &Leg| shot.sight.pin_height_m(leg.elevation_rad);
    let first_m = legs.iter().flatten().next().map_or(0.0, pin_m);
    legs.iter_mut().flatten().for_each(|leg| leg.mark_m = first_m - pin_m(leg));
    Ok(legs)
}

/// The arrow at one distance; its sight mark is yet to be told.
fn leg(shot: &Shot, archer: &Archer<'_>, set: &TrajectoryPoint, distance_m: f64) -> Answer<Leg> {
    let aim = &archer.aim(distance_m)?;
    let there = aim.arrival;
    let window = archer.window(aim, shot.zone_m)?;
    let highest = archer.highest_on(aim)?;
    Ok(Leg {
        distance_m,
        time_s: there.time_s,
        speed_m_per_s: there.speed_m_per_s(),
        energy_j: there.kinetic_energy_j(shot.mass_kg),
        momentum_kg_m_per_s: there.momentum_kg_m_per_s(shot.mass_kg),
        height_m: archer.flight().at_distance(set, distance_m)?.height_m,
        drift_m: there.right_m,
        drift_per_m_per_s: archer.carried(aim, 1.0)?.right_m,
        elevation_rad: aim.elevation_rad,
        mark_m: 0.0,
        near_m: window.near_m,
        far_m: window.far_m,
        highest_m: highest.height_m,
        highest_at_m: highest.distance_m,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use clothyard_core::eval::Evaluation;
    use clothyard_core::schema::{Field, Value};
    use clothyard_core::setup::Setup;
    use clothyard_core::setup::samples;

    fn shot(setup: &Setup) -> Shot {
        Shot::of(&Evaluation::of(setup)).unwrap()
    }

    fn setup() -> Setup {
        samples::all().remove(0).setup
    }

    fn all(setup: &Setup, distances: &[f64]) -> Vec<Leg> {
        legs(&shot(setup), distances).unwrap().into_iter().map(Result::unwrap).collect()
    }

    #[test]
    fn slower_and_later_with_the_distance_and_on_the_line_where_the_sight_is_set() {
        let setup = setup().with(Field::SightedAt, 40.0).unwrap();
        let list = all(&setup, &[18.288, 36.576, 54.864]);
        for pair in list.windows(2) {
            assert!(pair[1].speed_m_per_s < pair[0].speed_m_per_s && pair[1].time_s > pair[0].time_s);
            assert!(pair[1].mark_m > pair[0].mark_m && pair[1].judged_within_m() < pair[0].judged_within_m());
        }
        assert!(list[0].height_m > 0.0 && list[1].height_m.abs() < 1e-6 && list[2].height_m < 0.0);
        assert_eq!(list[0].mark_m, 0.0);
    }

    #[test]
    fn a_wind_from_the_right_drifts_to_the_left_as_the_lag_rule_says() {
        // McCoy, Modern Exterior Ballistics, ch. 7: drift = W (t - X / v0).
        let mut setup = setup().with(Field::Wind, 10.0).unwrap();
        setup.set(Field::WindFrom, Some(Value::Number(90.0))).unwrap();
        let (shot, list) = (shot(&setup), all(&setup, &[54.864]));
        let launch = shot.archer(|archer| archer.aim(54.864)).unwrap().launch;
        let lag = 4.4704 * (list[0].time_s - (54.864 - launch.distance_m) / launch.velocity_m_per_s[0]);
        assert!((list[0].drift_m / -lag - 1.0).abs() < 1e-5, "{} {lag}", list[0].drift_m);
        assert!((list[0].drift_per_m_per_s * 4.4704 / lag - 1.0).abs() < 0.02);
    }

    #[test]
    fn a_head_wind_slows_and_a_tail_wind_helps() {
        let at = |from: f64| {
            let mut setup = setup().with(Field::Wind, 15.0).unwrap();
            setup.set(Field::WindFrom, Some(Value::Number(from))).unwrap();
            all(&setup, &[60.0])[0]
        };
        assert!(at(0.0).speed_m_per_s < at(180.0).speed_m_per_s);
        assert!(at(0.0).drift_m.abs() < 1e-9);
    }

    #[test]
    fn a_speed_measured_downrange_is_met() {
        let start = shot(&setup()).speed_m_per_s / 0.3048;
        let setup = setup().with(Field::FarSpeed, 0.9 * start).unwrap().with(Field::FarDistance, 50.0).unwrap();
        let shot = shot(&setup);
        assert!(shot.drag_measured);
        let after = shot.drag.speed_after_m_per_s(shot.speed_m_per_s, 45.72, shot.mass_kg, &shot.air).unwrap();
        assert!((after / (0.9 * shot.speed_m_per_s) - 1.0).abs() < 1e-6);
    }

    #[test]
    fn a_distance_beyond_reach_is_said_and_the_others_remain() {
        let slow = setup().with(Field::PeakDrawWeight, 5.0).unwrap().with(Field::PointMass, 600.0).unwrap();
        let list = legs(&shot(&slow), &[5.0, 137.0]).unwrap();
        assert!(list[0].is_ok() && list[1].is_err());
    }
}
