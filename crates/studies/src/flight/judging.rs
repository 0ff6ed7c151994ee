//! Yardage error: how far off an estimated distance may be while the arrow still hits the zone.

use super::legs::Leg;
use super::says::distance;
use super::shot::{Answer, Shot};
use clothyard_core::format::{entered_with_unit, fixed, heading, trimmed};
use clothyard_core::units::{Quantity, Units};
use clothyard_mechanics::flight::Window;

/// Points of the line against distance.
const POINTS: usize = 31;

/// A judged distance and how far off it may be, both in yards; none where the arrow does not come so far.
pub type Point = (f64, Option<f64>);

/// How far off a distance may be judged, from one distance to another (m).
///
/// # Errors
/// [`super::FlightError`] for the shot.
pub fn line(shot: &Shot, from_m: f64, to_m: f64) -> Answer<Vec<Point>> {
    Ok(shot.archer(|archer| {
        let point = |place: usize| {
            let meters = from_m + (to_m - from_m) * place as f64 / (POINTS - 1) as f64;
            let off_m = archer.aim(meters).and_then(|aim| {
                let Window { near_m, far_m } = archer.window(&aim, shot.zone_m)?;
                Ok((meters - near_m).min(far_m - meters))
            });
            (Quantity::Distance.from_si(meters), off_m.ok().map(|off_m| Quantity::Distance.from_si(off_m)))
        };
        Ok((0..POINTS).map(point).collect())
    })?)
}

/// The takeaway: at the distance the sight is set for.
#[must_use]
pub fn takeaway(shot: &Shot, aimed: &Leg, units: &Units) -> String {
    let zone = entered_with_unit(Quantity::Length, Quantity::Length.from_si(shot.zone_m), units);
    format!(
        "At {}, the allowed yardage error is {} for a zone of {zone}: it is hit from {} to {}.",
        distance(aimed.distance_m, units),
        distance(aimed.judged_within_m(), units),
        distance(aimed.near_m, units),
        distance(aimed.far_m, units)
    )
}

/// The headings of the table.
#[must_use]
pub fn headings(units: &Units) -> [String; 4] {
    ["Judged", "Allowed error", "Hits from", "Hits to"].map(|label| heading(label, Quantity::Distance, units))
}

/// The rows of the table, of the distances that have an answer.
#[must_use]
pub fn rows(legs: &[Answer<Leg>], units: &Units) -> Vec<[String; 4]> {
    let shown = |meters: f64| units.show(Quantity::Distance, Quantity::Distance.from_si(meters));
    let said = |meters: f64| fixed(shown(meters), 1);
    let row =
        |leg: &Leg| [trimmed(shown(leg.distance_m), 1), said(leg.judged_within_m()), said(leg.near_m), said(leg.far_m)];
    legs.iter().flatten().map(row).collect()
}

#[cfg(test)]
mod tests {
    use super::super::legs::legs;
    use super::*;
    use clothyard_core::eval::Evaluation;
    use clothyard_core::setup::samples;

    #[test]
    fn off_by_less_the_farther_and_as_a_flat_path_says() {
        let shot = Shot::of(&Evaluation::of(&samples::all().remove(0).setup)).unwrap();
        let line = line(&shot, 18.288, 54.864).unwrap();
        assert_eq!((line.len(), line[0].0), (31, 20.0));
        assert!((line[30].0 - 60.0).abs() < 1e-9);
        assert!(line.windows(2).all(|pair| pair[1].1 < pair[0].1));
        // A flat path falls through a zone of size z over z / slope of its end: g t / v down for each meter on.
        let legs = legs(&shot, &[54.864]).unwrap();
        let last = legs[0].as_ref().unwrap();
        let slope = 9.806_65 * 54.864 / (shot.speed_m_per_s * last.speed_m_per_s) - last.elevation_rad;
        let flat = shot.zone_m / slope / 2.0;
        assert!((last.judged_within_m() / flat - 1.0).abs() < 0.05, "{} {flat}", last.judged_within_m());
        let words = takeaway(&shot, last, &Units::ARCHERY);
        assert!(
            words.starts_with("At 60\u{a0}yd, the allowed yardage error is ")
                && words.contains("for a zone of 8\u{a0}in"),
            "{words}"
        );
        assert_eq!(rows(&legs, &Units::ARCHERY)[0][0], "60");
    }
}
