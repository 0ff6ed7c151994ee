//! The trajectory above the line of sight.

use super::shot::{Answer, Shot};
use clothyard_core::format::{entered_with_unit, measured};
use clothyard_core::units::{Quantity, Units};

/// A place on the path: how far out, and how high over the line of sight, in meters.
pub type Place = (f64, f64);

/// The path with the sight as it is set, at even distances from the launch to `to_m`; it ends early where the arrow
/// does not come so far.
///
/// # Errors
/// [`super::FlightError`].
pub fn path(shot: &Shot, to_m: f64, points: usize) -> Answer<Vec<Place>> {
    Ok(shot.archer(|archer| {
        let launch = archer.aim(shot.sighted_m)?.launch;
        let (from, last) = (launch.distance_m, points.saturating_sub(1).max(1) as f64);
        let places = (0..points).map(|point| from + (to_m - from) * point as f64 / last);
        let mut path = Vec::new();
        let end =
            archer.flight().at_distances(&launch, places, |moment| path.push((moment.distance_m, moment.height_m)));
        match end {
            Err(clothyard_mechanics::Error::NotReached { .. }) | Ok(()) => Ok(path),
            Err(error) => Err(error),
        }
    })?)
}

/// The same at each whole unit of distance from 0, in yards and inches: what a chart wants. There is no height
/// before the launch, nor where the arrow does not come.
#[must_use]
pub fn line(shot: &Shot, to_m: f64, units: &Units) -> Vec<(f64, Option<f64>)> {
    let unit = units.of(Quantity::Distance).si;
    let places: Vec<f64> = (0..=(to_m / unit + 0.5) as usize).map(|place| place as f64 * unit).collect();
    let mut heights: Vec<Option<f64>> = Vec::new();
    // Where it ends early, what was reached remains.
    let _ = shot.archer(|archer| {
        let launch = archer.aim(shot.sighted_m)?.launch;
        let before = places.partition_point(|&place| place <= launch.distance_m);
        heights.resize(before, None);
        let ahead = places.iter().skip(before).copied();
        archer
            .flight()
            .at_distances(&launch, ahead, |moment| heights.push(Some(Quantity::Length.from_si(moment.height_m))))
    });
    let heights = heights.into_iter().chain(core::iter::repeat(None));
    places.iter().map(|&place| Quantity::Distance.from_si(place)).zip(heights).collect()
}

/// Distance that the chart reaches: a round number of the unit chosen, at or beyond some distance (m), so that quarters
/// of it read well.
#[must_use]
pub fn reaches_m(last_m: f64, units: &Units) -> f64 {
    let unit = units.of(Quantity::Distance).si;
    let step = if last_m / unit > 40.0 { 20.0 } else { 4.0 };
    let steps = (last_m / unit / step - 1e-9) as usize + 1;
    steps as f64 * step * unit
}

/// What the chart's cursor says of a place: yards out, and inches over the line of sight.
#[must_use]
pub fn reading(yards: f64, inches: f64, units: &Units) -> String {
    let side = if inches < 0.0 { "below" } else { "above" };
    let at = entered_with_unit(Quantity::Distance, yards, units);
    let by = measured(Quantity::Length, inches.abs(), units);
    if by.contains(|digit| ('1'..='9').contains(&digit)) {
        format!("At {at} the arrow is {by} {side} the line of sight.")
    } else {
        format!("At {at} the arrow is on the line of sight.")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use clothyard_core::eval::Evaluation;
    use clothyard_core::setup::samples;

    #[test]
    fn it_starts_below_the_eye_and_crosses_the_line_where_the_sight_is_set() {
        let shot = Shot::of(&Evaluation::of(&samples::all()[0].setup)).unwrap();
        let list = path(&shot, 2.0 * shot.sighted_m, 201).unwrap();
        assert_eq!(list.len(), 201);
        assert!(list[0].1 < -0.05 && list[200].1 < 0.0);
        let above = list.iter().filter(|&&(_, height)| height > 0.0).count();
        assert!(above > 20);
        let (last, _) = *list.iter().rfind(|&&(_, height)| height > 0.0).unwrap();
        assert!((last - shot.sighted_m).abs() < 0.5, "{last}");
    }

    #[test]
    fn the_chart_ends_on_a_round_number_of_the_unit() {
        let (yard, metric) = (0.9144, Units::metric());
        for (last, ends) in [(60.0, 60.0), (61.0, 80.0), (40.0, 40.0), (37.0, 40.0), (18.0, 20.0), (3.0, 4.0)] {
            assert!((reaches_m(last * yard, &Units::ARCHERY) / yard - ends).abs() < 1e-9, "{last}");
            assert!((reaches_m(last, &metric) - ends).abs() < 1e-9, "{last}");
        }
        let words = reading(45.0, -22.3, &Units::ARCHERY);
        assert_eq!(words, "At 45\u{a0}yd the arrow is 22.30\u{a0}in below the line of sight.");
        assert_eq!(reading(30.0, -1e-9, &Units::ARCHERY), "At 30\u{a0}yd the arrow is on the line of sight.");
    }

    #[test]
    fn a_chart_has_a_height_at_each_whole_unit_from_the_launch_to_where_the_arrow_comes() {
        let shot = Shot::of(&Evaluation::of(&samples::all()[0].setup)).unwrap();
        let list = line(&shot, 60.0 * 0.9144, &Units::ARCHERY);
        assert_eq!((list.len(), list[0]), (61, (0.0, None)));
        assert!(list[1..].iter().all(|(_, up)| up.is_some()) && (list[30].0 - 30.0).abs() < 1e-12);
        assert!(list[30].1.unwrap().abs() < 1e-6, "the sight is set for 30 yards");
        let far = line(&shot, 900.0, &Units::metric());
        assert!(far.len() == 901 && far[2].1.is_some() && far[900].1.is_none());
    }
}
