//! The trajectory chart above the line of sight, and the picture.

use super::{Shots, items};
use crate::context::Context;
use clothyard_core::{Quantity, Units};
use clothyard_studies::flight::side::{line, path, reaches_m, reading};
use clothyard_studies::flight::{Leg, Shot, picture};
use clothyard_web::widgets::chart::{self, Axis, Chart, LineChart};
use clothyard_web::widgets::drawing::Drawing;
use clothyard_web::widgets::{or_why, width};
use clothyard_web::{self as dom, Dom, View};
use std::rc::Rc;

const ID: &str = "side";
const PICTURE: &str = "side-picture";

/// Points of the picture's path.
const POINTS: usize = 81;

pub(crate) struct PathFromTheSide {
    shots: Rc<Shots>,
    chart: LineChart,
    picture: Drawing,
}

impl PathFromTheSide {
    pub(crate) fn new(shots: &Rc<Shots>) -> Self {
        let picture = Drawing::new(PICTURE, "side-picture-shapes");
        Self { shots: shots.clone(), chart: LineChart::new(ID), picture }
    }

    /// Draws the picture; the chart's takeaway.
    fn show_picture(&mut self, shot: &Shot, aimed: &Leg, to_m: f64, units: &Units) -> String {
        let width = width(PICTURE);
        let path = path(shot, to_m, POINTS).unwrap_or_default();
        let Some(picture) = picture::draw(&path, shot, aimed, width, units) else { return String::new() };
        self.picture.show(items(picture.shapes), (width, picture.height));
        dom::write_id("side-picture-words", &picture.words);
        picture.takeaway
    }
}

impl View<Context> for PathFromTheSide {
    fn id(&self) -> &'static str {
        ID
    }

    fn show(&mut self, context: &Context) {
        let Some(now) = self.shots.now(context) else { return };
        let Some((shot, aimed)) = or_why(ID, now.aimed()) else { return };
        let last_m = now.distances_m.last().copied().unwrap_or_default().max(shot.sighted_m);
        let to_m = reaches_m(last_m, &now.units);
        let units = now.units;
        let held = now.held_shot().map(|shot| line(shot, to_m, &units));
        let points = line(shot, to_m, &units);
        let places = points.clone();
        let takeaway = self.show_picture(shot, &aimed, to_m, &units);
        self.chart.show(Chart {
            title: "Height above line of sight by distance.".to_owned(),
            takeaway,
            x: Axis { label: "Distance", quantity: Quantity::Distance, exact: true },
            y: Axis { label: "Height above line of sight", quantity: Quantity::Length, exact: false },
            units,
            series: chart::lines(points, held),
            now: Some(Quantity::Distance.from_si(shot.sighted_m)),
            reading: Box::new(move |_, place| said(places.get(place), &units)),
        });
    }

    fn key(&mut self, dom: &Dom, _: &Context) {
        self.chart.key(dom);
    }

    fn other(&mut self, dom: &Dom, _: &Context) {
        self.chart.pointer(dom);
    }
}

fn said(place: Option<&(f64, Option<f64>)>, units: &Units) -> String {
    match place {
        Some(&(yards, Some(inches))) => reading(yards, inches, units),
        Some(_) => "The arrow is not in free flight there.".to_owned(),
        None => String::new(),
    }
}
