//! Stability: margin, wobble and spin.

use super::shots::Now;
use super::{Shots, items, rows, terms};
use crate::context::Context;
use clothyard_core::{Evaluation, Quantity};
use clothyard_studies::flight::steady::Steady;
use clothyard_studies::flight::{Shot, balance, vane_sets};
use clothyard_web::widgets::chart::{self, Axis, Chart, LineChart};
use clothyard_web::widgets::drawing::Drawing;
use clothyard_web::widgets::table::Table;
use clothyard_web::widgets::{or_why, width};
use clothyard_web::{self as dom, Dom, View};
use std::rc::Rc;

const ID: &str = "steady";
const ARROW: &str = "steady-arrow";
const SPIN: &str = "spin";

pub(crate) struct SteadyFlight {
    shots: Rc<Shots>,
    arrow: Drawing,
    numbers: Table,
    sets: Table,
    points: Table,
    spin: LineChart,
}

impl SteadyFlight {
    pub(crate) fn new(shots: &Rc<Shots>) -> Self {
        Self {
            shots: shots.clone(),
            arrow: Drawing::new(ARROW, "steady-arrow-shapes"),
            numbers: Table::new("steady-table"),
            sets: Table::new("steady-sets"),
            points: Table::new("steady-points"),
            spin: LineChart::new(SPIN),
        }
    }

    /// How balance point and center of pressure move with the point's weight.
    fn show_points(&mut self, now: &Now) {
        let rows = rows(balance::point_weights(&now.reading.evaluated().baseline(), &now.units));
        self.points.show(&balance::headings(&now.units), rows);
    }

    /// Which sets of vanes would steer enough, and at what cost.
    fn show_sets(&mut self, now: &Now, shot: &Shot) {
        let held = now.reading.evaluated().baseline();
        let list = vane_sets::ranked(&held, shot).unwrap_or_default();
        dom::write_id("steady-sets-words", &vane_sets::sentence(&list, &held, &now.units));
        self.sets.show(&vane_sets::headings(&now.units), rows(vane_sets::rows(&list, &now.units)));
    }

    fn show_spin(&mut self, now: &Now, shot: &Shot, steady: &Steady) {
        let to_m = now.distances_m.last().copied().unwrap_or_default();
        let points = steady.spin_line(shot, to_m);
        dom::hide(SPIN, points.is_empty());
        if points.is_empty() {
            return;
        }
        let of_held = |all: &Evaluation, shot: &Shot| Some(Steady::of(all, shot).ok()?.spin_line(shot, to_m));
        let held = now.held.as_ref().and_then(|held| of_held(&held.setup.all, held.shot.as_ref().ok()?));
        let mut chart = Chart {
            title: "Turns per second by distance.".to_owned(),
            takeaway: String::new(),
            x: Axis { label: "Distance", quantity: Quantity::Distance, exact: true },
            y: Axis { label: "Turns per second", quantity: Quantity::Count, exact: false },
            units: now.units,
            series: chart::lines(points, held),
            now: None,
            reading: Box::new(Chart::at_words),
        };
        chart.takeaway = chart.end_to_end();
        self.spin.show(chart);
    }
}

impl View<Context> for SteadyFlight {
    fn id(&self) -> &'static str {
        ID
    }

    fn show(&mut self, context: &Context) {
        let Some(now) = self.shots.now(context) else { return };
        let (all, units) = (now.reading.all(), &now.units);
        let answer = now.shot().and_then(|shot| {
            let steady = Steady::of(all, shot).map_err(|error| error.sentence().to_owned())?;
            Ok((shot, steady))
        });
        let Some((shot, steady)) = or_why(ID, answer) else { return };
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
        self.numbers.show_rows(terms(steady.rows(units)));
        let width = width(ARROW);
        self.arrow.show(items(balance::draw(all, &steady, width, units)), (width, balance::DRAWING_PX));
        self.show_sets(&now, shot);
        self.show_points(&now);
        self.show_spin(&now, shot, &steady);
    }

    fn key(&mut self, dom: &Dom, _: &Context) {
        self.spin.key(dom);
    }

    fn other(&mut self, dom: &Dom, _: &Context) {
        self.spin.pointer(dom);
    }
}
