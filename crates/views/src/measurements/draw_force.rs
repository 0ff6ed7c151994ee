//! Draw-force readings: the text, the curve and what it says.

use crate::context::{Context, Reading};
use crate::readings::Readings;
use clothyard_core::schema::List;
use clothyard_core::{Field, Quantity, Units};
use clothyard_studies::measurements::draw_force;
use clothyard_web::bus::Tick;
use clothyard_web::protocol::storage;
use clothyard_web::widgets::chart::{Axis, Chart, LineChart, Series};
use clothyard_web::widgets::{field, list};
use clothyard_web::{self as dom, Dom, View};

const ID: &str = "bench-force";

/// Points of the usual curve.
const USUAL_POINTS: usize = 61;

pub(crate) struct DrawForce {
    readings: Readings,
    chart: LineChart,
}

impl Default for DrawForce {
    fn default() -> Self {
        let readings = Readings::new(ID, "bench-force-text", List::DrawForce, storage::DRAW_FORCE_DRAFT);
        Self { readings, chart: LineChart::new("force") }
    }
}

impl View<Context> for DrawForce {
    fn id(&self) -> &'static str {
        ID
    }

    fn show(&mut self, context: &Context) {
        let Some(now) = super::read(context) else { return };
        self.readings.follow(&now, context);
        let (all, units) = (now.all(), &now.units);
        let force = draw_force::of(&now.setup, &all.resolved);
        let (takeaway, facts) = match &force {
            None => ("No readings. The default curve for this bow type is used.".to_owned(), Vec::new()),
            Some(Err(error)) => (draw_force::refusal(error, &now.setup, &all.resolved, units), Vec::new()),
            Some(Ok(force)) => {
                (draw_force::takeaway(force, all, units), draw_force::facts(force, &all.resolved, units))
            }
        };
        dom::write_id("bench-force-words", &takeaway);
        list::lines("bench-force-facts", &facts);
        let given = FROM_READINGS.iter().any(|&field| all.resolved.is_user_given(field));
        dom::hide("bench-force-hand", !(given && matches!(force, Some(Ok(_)))));
        let mut series = Vec::new();
        if let Some(Ok(force)) = &force {
            series.push(Series { name: "measured", dashed: false, points: draw_force::line(&force.curve) });
        }
        series.push(Series {
            name: "usual",
            dashed: !series.is_empty(),
            points: draw_force::usual_line(&all.resolved, USUAL_POINTS),
        });
        self.chart.show(chart(series, *units));
    }

    fn click(&mut self, dom: &Dom, context: &Context) {
        if let ("bench-force-hand", Some(now)) = (dom.button_id().as_str(), context.read()) {
            reset_fields(&now, context);
        }
    }

    fn input(&mut self, dom: &Dom, _: &Context) {
        self.readings.input(dom);
    }

    fn change(&mut self, dom: &Dom, context: &Context) {
        self.readings.change(dom, context);
    }

    fn tick(&mut self, tick: Tick, context: &Context) {
        self.readings.tick(tick, context);
    }

    fn key(&mut self, dom: &Dom, _: &Context) {
        self.chart.key(dom);
    }

    fn other(&mut self, dom: &Dom, _: &Context) {
        self.chart.pointer(dom);
    }
}

fn chart(series: Vec<Series>, units: Units) -> Chart {
    let takeaway = if series.len() > 1 {
        "Solid: your readings. Dashed: default curve for this bow type. The area below is the energy."
    } else {
        "Default curve for this bow type. The area below is the energy."
    };
    Chart {
        title: "Force by string position.".to_owned(),
        takeaway: takeaway.to_owned(),
        x: Axis { label: "String to pivot", quantity: Quantity::Length, exact: true },
        y: Axis { label: "Force", quantity: Quantity::DrawWeight, exact: false },
        units,
        series,
        now: None,
        reading: Box::new(Chart::at_words),
    }
}

/// The fields whose defaults are read off the curve.
const FROM_READINGS: [Field; 2] = [Field::PeakDrawWeight, Field::DrawLength];

/// Resets the fields that the readings give as well.
fn reset_fields(now: &Reading, context: &Context) {
    let mut setup = now.setup.clone();
    for field in FROM_READINGS {
        // Resetting a field cannot fail.
        let _ = setup.set(field, None);
    }
    context.load(&setup);
    // The button that had the focus goes.
    field::focus("#bench-force-text");
}
