//! Steady flight: margin, swing and spin.

use super::now::Now;
use super::shown;
use crate::chart::{self, Axis, Chart};
use clothyard_core::{Evaluation, Quantity};
use clothyard_studies::flight::steady::Steady;
use clothyard_studies::flight::{Shot, balance};
use clothyard_web as dom;

pub(super) fn start() {
    chart::start("spin");
}

pub(super) fn show(now: &Now) {
    let (all, units) = (now.reading.all(), &now.units);
    let answer = now.shot().and_then(|shot| {
        let steady = Steady::of(all, shot).map_err(|error| error.sentence().to_owned())?;
        Ok((shot, steady))
    });
    let Some((shot, steady)) = shown::or_why("steady", answer) else { return };
    let sentences = [
        ("steady-margin", steady.margin_sentence(units)),
        ("steady-vanes", steady.vanes_sentence(units)),
        ("steady-yaw", steady.yaw_sentence(units)),
        ("steady-spin", steady.spin_sentence(shot, units)),
        ("steady-one-vane", balance::one_vane(all).to_owned()),
        ("steady-arrow-words", balance::in_words(all, &steady, units)),
    ];
    for (id, words) in sentences {
        dom::write_id(id, &words);
    }
    shown::terms("steady-table", &steady.rows(units));
    let width = shown::width("steady-arrow");
    shown::draw("steady-arrow", &balance::draw(all, &steady, width, units), (width, balance::DRAWING_PX), "");
    points(now);
    spin(now, shot, &steady);
}

/// How balance point and centre of pressure move with the point's weight.
fn points(now: &Now) {
    let rows = balance::point_weights(&now.reading.setup, &now.units);
    shown::table("steady-points", &balance::headings(&now.units), &rows);
}

fn spin(now: &Now, shot: &Shot, steady: &Steady) {
    let to_m = now.distances_m.last().copied().unwrap_or_default();
    let points = steady.spin_line(shot, to_m);
    dom::hide("spin", points.is_empty());
    if points.is_empty() {
        return;
    }
    let of_held = |all: &Evaluation, shot: &Shot| Some(Steady::of(all, shot).ok()?.spin_line(shot, to_m));
    let held = now.held.as_ref().and_then(|held| of_held(&held.side.all, held.shot.as_ref().ok()?));
    let mut chart = Chart {
        id: "spin",
        title: "Turns a second against distance.".to_owned(),
        takeaway: String::new(),
        x: Axis { label: "Distance", quantity: Quantity::Distance, exact: true },
        y: Axis { label: "Turns a second", quantity: Quantity::Count, exact: false },
        units: now.units,
        series: chart::lines(points, held),
        now: None,
        reading: Box::new(Chart::at_words),
    };
    chart.takeaway = chart.end_to_end();
    chart::show(chart);
}
