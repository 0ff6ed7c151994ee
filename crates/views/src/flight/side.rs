//! The path from the side: a chart over the line of sight, and a picture.

use super::now::Now;
use super::shown;
use crate::chart::{self, Axis, Chart};
use clothyard_core::{Quantity, Units};
use clothyard_studies::flight::side::{line, path, reaches_m, reading};
use clothyard_studies::flight::{Leg, Shot, picture};
use clothyard_web as dom;

/// Points of the picture's path.
const POINTS: usize = 81;

pub(super) fn start() {
    chart::start("side");
}

pub(super) fn show(now: &Now) {
    let Some((shot, aimed)) = shown::or_why("side", now.aimed()) else { return };
    let last_m = now.distances_m.last().copied().unwrap_or_default().max(shot.sighted_m);
    let to_m = reaches_m(last_m, &now.units);
    let units = now.units;
    let held = now.held_shot().map(|shot| line(shot, to_m, &units));
    let points = line(shot, to_m, &units);
    let places = points.clone();
    let words = picture_of(shot, &aimed, to_m, &units);
    chart::show(Chart {
        id: "side",
        title: "Height over the line of sight against distance.".to_owned(),
        takeaway: words,
        x: Axis { label: "Distance", quantity: Quantity::Distance, exact: true },
        y: Axis { label: "Height over the line of sight", quantity: Quantity::Length, exact: false },
        units,
        series: chart::lines(points, held),
        now: Some(Quantity::Distance.from_si(shot.sighted_m)),
        reading: Box::new(move |_, place| said(places.get(place), &units)),
    });
}

fn said(place: Option<&(f64, Option<f64>)>, units: &Units) -> String {
    match place {
        Some(&(yards, Some(inches))) => reading(yards, inches, units),
        Some(_) => "The arrow is not in free flight there.".to_owned(),
        None => String::new(),
    }
}

/// Draws the picture; the chart's takeaway.
fn picture_of(shot: &Shot, aimed: &Leg, to_m: f64, units: &Units) -> String {
    let width = shown::width("side-picture");
    let path = path(shot, to_m, POINTS).unwrap_or_default();
    let Some(picture) = picture::draw(&path, shot, aimed, width, units) else { return String::new() };
    shown::draw("side-picture", &picture.shapes, (width, picture.height), "");
    dom::write_id("side-picture-words", &picture.words);
    picture.takeaway
}
