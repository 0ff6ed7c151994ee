//! Yardage error.

use super::shots::Now;
use super::{Shots, rows};
use crate::context::Context;
use clothyard_core::Quantity;
use clothyard_studies::flight::judging;
use clothyard_web::widgets::chart::{self, Axis, Chart, LineChart};
use clothyard_web::widgets::or_why;
use clothyard_web::widgets::table::Table;
use clothyard_web::{Dom, View};
use std::rc::Rc;

const ID: &str = "judging";

/// Ends of the chart where the list has one distance alone, as shares of it.
const AROUND: (f64, f64) = (0.5, 1.5);

pub(crate) struct Judging {
    shots: Rc<Shots>,
    chart: LineChart,
    limits: Table,
}

impl Judging {
    pub(crate) fn new(shots: &Rc<Shots>) -> Self {
        Self { shots: shots.clone(), chart: LineChart::new(ID), limits: Table::new("judging-limits") }
    }
}

impl View<Context> for Judging {
    fn id(&self) -> &'static str {
        ID
    }

    fn show(&mut self, context: &Context) {
        let Some(now) = self.shots.now(context) else { return };
        let answer = now.legs().and_then(|(shot, legs)| Ok((shot, legs, now.aimed()?.1)));
        let Some((shot, legs, aimed)) = or_why(ID, answer) else { return };
        let (from_m, to_m) = ends(&now);
        let units = now.units;
        self.chart.show(Chart {
            title: "Allowed yardage error by distance.".to_owned(),
            takeaway: judging::takeaway(shot, &aimed, &units),
            x: Axis { label: "Estimated distance", quantity: Quantity::Distance, exact: true },
            y: Axis { label: "Allowed error", quantity: Quantity::Distance, exact: true },
            units,
            series: chart::lines(
                judging::line(shot, from_m, to_m).unwrap_or_default(),
                now.held_shot().and_then(|held| judging::line(held, from_m, to_m).ok()),
            ),
            now: Some(Quantity::Distance.from_si(shot.sighted_m)),
            reading: Box::new(Chart::at_words),
        });
        self.limits.show(&judging::headings(&units), rows(judging::rows(legs, &units)));
    }

    fn key(&mut self, dom: &Dom, _: &Context) {
        self.chart.key(dom);
    }

    fn other(&mut self, dom: &Dom, _: &Context) {
        self.chart.pointer(dom);
    }
}

fn ends(now: &Now) -> (f64, f64) {
    match now.distances_m.as_slice() {
        [one] => (AROUND.0 * one, AROUND.1 * one),
        [first, .., last] => (*first, *last),
        [] => AROUND,
    }
}
