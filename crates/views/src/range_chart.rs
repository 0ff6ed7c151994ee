//! Any result over a range of any input, as a chart, a table and a file.

use crate::context::{Context, Reading};
use crate::save;
use clothyard_core::{Field, Output, Units, format};
use clothyard_studies::analysis::choices;
use clothyard_studies::analysis::sweep::{Points, Sweep, fifty_more_grains_sentence, useful_range};
use clothyard_web::widgets::chart::{self, Axis, Chart, LineChart};
use clothyard_web::widgets::{field, select, small_chart};
use clothyard_web::{self as dom, Dom, View};

const ID: &str = "sweep";
const RESULT: &str = "sweep-result";
const FIELD: &str = "sweep-field";
const ENDS: [&str; 2] = ["sweep-from", "sweep-to"];
const SAID: &str = "sweep-said";
/// On a small chart: the key of its result.
const SHOW: &str = "data-show-result";

pub(crate) struct RangeChart {
    chart: LineChart,
    /// What the chart shows, for the file.
    shown: Option<(Sweep, Points)>,
    /// The input whose useful range was last written as the ends, and in which units.
    ends_of: Option<(Field, Units)>,
}

impl RangeChart {
    pub(crate) fn new() -> Self {
        Self { chart: LineChart::new(ID), shown: None, ends_of: None }
    }

    /// Writes the ends of a useful range where another input is chosen, or other units.
    fn write_ends(&mut self, field: Field, now: &Reading) {
        let known = self.ends_of.replace((field, now.units)) == Some((field, now.units));
        let range = useful_range(field, &now.all().resolved).filter(|_| !known);
        if let (Some((from, to)), Some(quantity)) = (range, field.input().quantity()) {
            for (id, end) in ENDS.into_iter().zip([from, to]) {
                // An end of another input, or in other units, would mislead, also under a hand.
                field::overwrite(id, &format::entered(quantity, end, &now.units));
            }
        }
    }

    fn draw(&mut self, sweep: Sweep, (x, y): (Field, Output), now: &Reading, held: Option<Points>) {
        let points = sweep.points(&now.evaluated().baseline());
        let mut chart = Chart {
            title: sweep.title(),
            takeaway: String::new(),
            x: Axis::of_field(x),
            y: Axis::of_result(y),
            units: now.units,
            series: chart::lines(points.clone(), held),
            now: Some(now.all().resolved.number(x)),
            reading: Box::new(Chart::at_words),
        };
        chart.takeaway = chart.end_to_end();
        self.shown = self.chart.show(chart).then_some((sweep, points));
        show_main_results(&sweep, x, now);
    }

    fn save(&self, context: &Context) {
        let Some((sweep, points)) = &self.shown else { return };
        dom::write_id(SAID, &save::csv("clothyard-range.csv", &sweep.to_csv(points, &context.units())));
    }
}

/// The main results over the same range, small; one that is pressed is shown large.
fn show_main_results(sweep: &Sweep, field: Field, now: &Reading) {
    let Some(holder) = dom::by_id("sweep-few") else { return };
    dom::empty(&holder);
    let own = now.all().resolved.number(field);
    for (output, points) in sweep.main_results(&now.evaluated().baseline()) {
        let Some(button) = dom::add(&holder, "button", "", "") else { continue };
        dom::set(&button, "type", "button");
        dom::set(&button, SHOW, output.row().key);
        let words = format::result(output, now.all().outputs.get(output), &now.units);
        dom::add(&button, "span", "", output.row().label);
        dom::add(&button, "b", "", &words);
        small_chart::draw(&button, &Axis::of_result(output), &points, own, &now.units);
    }
}

impl View<Context> for RangeChart {
    fn id(&self) -> &'static str {
        ID
    }

    fn open(&mut self, _: &Context) {
        select::complete(RESULT, choices::results());
        select::complete(FIELD, choices::inputs());
    }

    fn show(&mut self, context: &Context) {
        let Some(now) = context.read() else { return };
        let (field, output) = (Field::by_key(&select::chosen(FIELD)), Output::by_key(&select::chosen(RESULT)));
        let (Some(field), Some(output)) = (field, output) else { return };
        self.write_ends(field, &now);
        let [from, to] = ENDS.map(field::text);
        match Sweep::read(field, output, &from, &to, &now.units) {
            Ok(sweep) => {
                dom::write_id(SAID, "");
                let held = context.held().map(|held| sweep.points(&held.baseline()));
                self.draw(sweep, (field, output), &now, held);
            }
            Err(why) => dom::write_id(SAID, &why),
        }
    }

    fn input(&mut self, _: &Dom, context: &Context) {
        self.show(context);
    }

    fn change(&mut self, _: &Dom, context: &Context) {
        self.show(context);
    }

    fn click(&mut self, dom: &Dom, context: &Context) {
        if let Some(result) = dom.button().and_then(|button| button.get_attribute(SHOW)) {
            select::choose(RESULT, &result);
            self.show(context);
            return field::focus(&format!("[{SHOW}={result}]"));
        }
        match dom.button_id().as_str() {
            "sweep-csv" => self.save(context),
            "sweep-fifty" => {
                let Some(now) = context.read() else { return };
                dom::write_id(
                    "sweep-fifty-answer",
                    &fifty_more_grains_sentence(&now.evaluated().baseline(), &now.units),
                );
            }
            _ => {}
        }
    }

    fn key(&mut self, dom: &Dom, _: &Context) {
        self.chart.key(dom);
    }

    fn other(&mut self, dom: &Dom, _: &Context) {
        self.chart.pointer(dom);
    }
}
