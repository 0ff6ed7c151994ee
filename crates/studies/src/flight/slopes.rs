//! The level distance whose sight mark hits on a slope.

use super::shot::Shot;
use clothyard_core::format::{fixed, trimmed};
use clothyard_core::units::{Quantity, Units};
use clothyard_mechanics::flight::Conditions;

/// Angles looked at besides the one of the form, in degrees: uphill is positive.
const ANGLES_DEG: [f64; 4] = [30.0, 15.0, -15.0, -30.0];

/// The level distance is searched within these shares of the distance.
const SHARES: (f64, f64) = (0.3, 1.2);

/// Steps of the search, and how near the pin must come, in meters.
const STEPS: usize = 20;
const NEAR_M: f64 = 1e-7;

/// The level distance whose mark hits at a distance (m) up or down a slope (rad); none where it cannot be found.
#[must_use]
pub fn level_distance_m(level: &Shot, slope_rad: f64, distance_m: f64) -> Option<f64> {
    let sloped = Shot { conditions: Conditions { slope_rad, ..level.conditions }, ..*level };
    let wanted = sloped.pin_below_m(distance_m)?;
    // The secant method, from gravity's share across the path.
    let mut at = (distance_m, level.pin_below_m(distance_m)? - wanted);
    let mut next = distance_m * slope_rad.cos();
    for _ in 0..STEPS {
        if at.1.abs() < NEAR_M {
            return Some(at.0);
        }
        let off = level.pin_below_m(next)? - wanted;
        let better = next - off * (next - at.0) / (off - at.1);
        at = (next, off);
        if !(SHARES.0..=SHARES.1).contains(&(better / distance_m)) {
            return None;
        }
        next = better;
    }
    None
}

/// The angles of the table, in degrees: that of the form first, where it is none of the others.
#[must_use]
pub fn angles_deg(form_deg: f64) -> Vec<f64> {
    let own = (form_deg != 0.0 && !ANGLES_DEG.contains(&form_deg)).then_some(form_deg);
    own.into_iter().chain(ANGLES_DEG).collect()
}

/// The headings of the table: the distance, then each angle.
#[must_use]
pub fn headings(angles_deg: &[f64], units: &Units) -> Vec<String> {
    let said = |&angle: &f64| {
        let way = if angle > 0.0 { "up" } else { "down" };
        format!("{}° {way}", trimmed(angle.abs(), 1))
    };
    let distance = clothyard_core::format::heading("Distance", Quantity::Distance, units);
    core::iter::once(distance).chain(angles_deg.iter().map(said)).collect()
}

/// A row of the table: the distance, then the level distance for each angle.
#[must_use]
pub fn row(level: &Shot, distance_m: f64, angles_deg: &[f64], units: &Units) -> Vec<String> {
    let shown = |meters: f64| units.show(Quantity::Distance, Quantity::Distance.from_si(meters));
    let said = |&angle: &f64| {
        let found = level_distance_m(level, angle.to_radians(), distance_m);
        found.map_or_else(|| "–".to_owned(), |meters| fixed(shown(meters), 1))
    };
    core::iter::once(trimmed(shown(distance_m), 1)).chain(angles_deg.iter().map(said)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use clothyard_core::eval::Evaluation;
    use clothyard_core::setup::samples;

    fn level() -> Shot {
        Shot::of(&Evaluation::of(&samples::all().remove(0).setup)).unwrap().level()
    }

    #[test]
    fn level_ground_is_shot_as_itself() {
        assert!((level_distance_m(&level(), 0.0, 36.0).unwrap() - 36.0).abs() < 1e-3);
    }

    #[test]
    fn a_slope_is_shot_as_about_its_level_distance() {
        // By hand, for small elevations e: tan e = (h + f cos s) / d at d up a slope s, h the height of the peep, f the fall
        // of this arrow on its way there, from its level mark. Along the path gravity slows the arrow uphill by what it speeds it downhill.
        let shot = level();
        let height = shot.sight.peep_height_m;
        let tan_at = |meters: f64| (shot.pin_below_m(meters).unwrap() + height) / shot.sight.sight_radius_m;
        for degrees in [15.0_f64, 30.0] {
            for meters in [27.0, 45.0, 64.0] {
                let fall = tan_at(meters) * meters - height;
                let by_hand = (height + fall * degrees.to_radians().cos()) / meters;
                let [up, down] =
                    [degrees, -degrees].map(|angle| level_distance_m(&shot, angle.to_radians(), meters).unwrap());
                let both = (tan_at(up) + tan_at(down)) / 2.0;
                assert!(up > down && (both / by_hand - 1.0).abs() < 0.005, "{both} {by_hand}");
            }
        }
    }

    #[test]
    fn the_mark_of_that_distance_hits_on_the_slope() {
        let (level, slope) = (level(), 25f64.to_radians());
        let found = level_distance_m(&level, slope, 40.0).unwrap();
        let elevation = level.archer(|archer| archer.aim(found)).unwrap().elevation_rad;
        let sloped = Shot { conditions: Conditions { slope_rad: slope, ..level.conditions }, ..level };
        let hit = sloped.archer(|archer| archer.flight().at_distance(&archer.launch(elevation, 0.0)?, 40.0)).unwrap();
        assert!(hit.height_m.abs() < 1e-4, "{}", hit.height_m);
    }

    #[test]
    fn the_angle_of_the_form_comes_first() {
        assert_eq!(angles_deg(0.0), ANGLES_DEG);
        assert_eq!(angles_deg(30.0), ANGLES_DEG);
        assert_eq!(angles_deg(-22.5)[0], -22.5);
        assert_eq!(headings(&[-22.5, 15.0], &Units::ARCHERY), ["Distance, yd", "22.5° down", "15° up"]);
        assert_eq!(row(&level(), 18.288, &[], &Units::ARCHERY), ["20"]);
    }
}
