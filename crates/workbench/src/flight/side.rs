//! The path from the side, over the line of sight.

use super::shot::{Answer, Shot};

/// A place on the path: how far out, and how high over the line of sight, in metres.
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo;
    use crate::evaluation::Evaluation;

    #[test]
    fn it_starts_below_the_eye_and_crosses_the_line_where_the_sight_is_set() {
        let shot = Shot::of(&Evaluation::of(&demo::all()[0].build)).unwrap();
        let list = path(&shot, 2.0 * shot.sighted_m, 201).unwrap();
        assert_eq!(list.len(), 201);
        assert!(list[0].1 < -0.05 && list[200].1 < 0.0);
        let above = list.iter().filter(|&&(_, height)| height > 0.0).count();
        assert!(above > 20);
        let (last, _) = *list.iter().rfind(|&&(_, height)| height > 0.0).unwrap();
        assert!((last - shot.sighted_m).abs() < 0.5, "{last}");
    }
}
