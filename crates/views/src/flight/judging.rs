//! Judging distance: how far off it may be.

use super::now::Now;
use super::shown;
use crate::chart::{self, Axis, Chart};
use clothyard_core::Quantity;
use clothyard_studies::flight::judging;

/// Ends of the chart where the list has one distance alone, as shares of it.
const AROUND: (f64, f64) = (0.5, 1.5);

pub(super) fn start() {
    chart::start("judging");
}

pub(super) fn show(now: &Now) {
    let answer = now.legs().and_then(|(shot, legs)| Ok((shot, legs, now.aimed()?.1)));
    let Some((shot, legs, aimed)) = shown::or_why("judging", answer) else { return };
    let (from_m, to_m) = ends(now);
    let units = now.units;
    chart::show(Chart {
        id: "judging",
        title: "How far off a judged distance may be.".to_owned(),
        takeaway: judging::takeaway(shot, &aimed, &units),
        x: Axis { label: "Distance judged", quantity: Quantity::Distance, exact: true },
        y: Axis { label: "May be off by", quantity: Quantity::Distance, exact: true },
        units,
        series: chart::lines(
            judging::line(shot, from_m, to_m).unwrap_or_default(),
            now.held_shot().and_then(|held| judging::line(held, from_m, to_m).ok()),
        ),
        now: Some(Quantity::Distance.from_si(shot.sighted_m)),
        reading: Box::new(Chart::at_words),
    });
    shown::table("judging-limits", &judging::headings(&units), &judging::rows(legs, &units));
}

fn ends(now: &Now) -> (f64, f64) {
    match now.distances_m.as_slice() {
        [one] => (AROUND.0 * one, AROUND.1 * one),
        [first, .., last] => (*first, *last),
        [] => AROUND,
    }
}
