//! Sight marks: on the archer's own scale, as a chart and as a tape, and what to shoot a slope as.

use super::{Shots, items, rows};
use crate::context::{Context, Reading};
use crate::entry::{self, Asked, Refused};
use crate::library;
use clothyard_core::schema::{List, Row as Numbers};
use clothyard_core::{Field, Quantity, Units};
use clothyard_studies::flight::marks::{Marks, WIDTH_MM};
use clothyard_studies::flight::own_scale::Scale;
use clothyard_studies::flight::{Shot, marks, slopes};
use clothyard_web::bus::Event;
use clothyard_web::widgets::chart::{Axis, Chart, LineChart, Series};
use clothyard_web::widgets::drawing::Drawing;
use clothyard_web::widgets::list::{self, Act};
use clothyard_web::widgets::table::{Row, Table};
use clothyard_web::widgets::{field, or_why};
use clothyard_web::{self as dom, Dom, Kind, View};
use std::rc::Rc;

const ID: &str = "marks";
const SAID: &str = "marks-own-said";
const DONE: &str = "marks-own-done";
const DISTANCE: Asked = ("marks-own-distance", "Distance");
const MARK: Asked = ("marks-own-mark", "Sight reads");

/// While the root carries this class only the tape is printed.
const ALONE: &str = "tape-alone";

pub(crate) struct SightMarks {
    shots: Rc<Shots>,
    table: Table,
    slopes: Table,
    chart: LineChart,
    tape: Drawing,
}

impl SightMarks {
    pub(crate) fn new(shots: &Rc<Shots>) -> Self {
        Self {
            shots: shots.clone(),
            table: Table::new("marks-table"),
            slopes: Table::new("marks-slopes"),
            chart: LineChart::new("marks-curve"),
            tape: Drawing::new("marks-tape", "marks-tape-shapes"),
        }
    }
}

impl View<Context> for SightMarks {
    fn id(&self) -> &'static str {
        ID
    }

    fn show(&mut self, context: &Context) {
        let Some(now) = self.shots.now(context) else { return };
        let units = &now.units;
        let answer = now.shot().and_then(|shot| {
            let level = shot.level();
            let marks = Marks::of(&level, &now.distances_m, units).map_err(|error| error.sentence().to_owned())?;
            Ok((level, marks))
        });
        let Some((level, marks)) = or_why(ID, answer) else { return };
        dom::write_id("marks-words", &marks::takeaway(&level, &marks.list, units));
        dom::write_id("marks-point-on", &marks::point_on(&level, units));
        let scale = show_own(&now.reading, &level, &marks, units);
        self.table.show(&marks::headings(scale.is_some(), units), rows(marks::rows(&marks, scale.as_ref(), units)));
        self.chart.show(chart(&marks, scale.as_ref(), *units));
        self.show_slopes(&now.reading, &level, &now.distances_m);
        let name = now.reading.setup.name.as_str();
        let tape = marks::tape(&marks, [name, &library::today()], units);
        dom::hide("marks-paper", tape.is_none());
        dom::hide("marks-none", tape.is_some());
        if let Some(tape) = tape {
            self.tape.show_to_scale(items(tape.shapes), (WIDTH_MM, tape.height_mm));
            dom::write_id("marks-tape-words", &tape.words);
        }
    }

    fn changed(&mut self, event: &Event, _: &Context) -> bool {
        if matches!(event, Event::AfterPrint) {
            alone(false);
        }
        event.moves_answers()
    }

    fn click(&mut self, dom: &Dom, context: &Context) {
        if dom.button_id() == "marks-print" {
            print();
        } else if let Some((Act::Remove, place)) = list::pressed(dom, &[Act::Remove]) {
            remove(place, context);
        }
    }

    fn key(&mut self, dom: &Dom, _: &Context) {
        self.chart.key(dom);
    }

    fn other(&mut self, dom: &Dom, context: &Context) {
        match dom.kind {
            Kind::Focus => field::own_undo(dom),
            Kind::Submit => add(context),
            _ => self.chart.pointer(dom),
        }
    }
}

impl SightMarks {
    fn show_slopes(&mut self, now: &Reading, level: &Shot, distances_m: &[f64]) {
        let (angles, units) = (slopes::angles_deg(now.all().resolved.number(Field::Slope)), &now.units);
        let row = |&meters: &f64| Row::of(slopes::row(level, meters, &angles, units));
        self.slopes.show(&slopes::headings(&angles, units), distances_m.iter().map(row).collect());
    }
}

/// The marks shot, and the scale through them, if they make one.
fn show_own(now: &Reading, level: &Shot, marks: &Marks, units: &Units) -> Option<Scale> {
    dom::write_id("marks-own-unit", units.of(Quantity::Distance).symbol);
    let own = now.setup.lists.rows(List::SightMarks);
    if let Some(element) = dom::by_id("marks-own-list") {
        dom::empty(&element);
        for (place, row) in own.iter().enumerate() {
            let words = marks::own_words(row, units);
            let Some(item) = dom::add(&element, "li", "", &(words.clone() + " ")) else { continue };
            list::button(&item, Act::Remove, "×", &format!("Remove mark: {words}"), (place, own.len()));
        }
    }
    let pairs: Vec<_> = now.setup.lists.pairs_si(List::SightMarks).collect();
    let scale = Scale::of(level, &pairs);
    let facts = match &scale {
        Ok(scale) => scale.facts(level, &marks.pins(), units),
        Err(why) => vec![(*why).to_owned()],
    };
    list::lines("marks-own-facts", &facts);
    scale.ok()
}

/// The marks by distance: on the archer's scale, else how far the pin moves.
fn chart(marks: &Marks, scale: Option<&Scale>, units: Units) -> Chart {
    let quantity = if scale.is_some() { Quantity::Ratio } else { Quantity::SmallLength };
    let label = if scale.is_some() { "Your mark" } else { "Mark" };
    let points = marks::curve(marks, scale);
    Chart {
        title: "Sight mark by distance.".to_owned(),
        takeaway: "Move the cursor to read any distance between.".to_owned(),
        x: Axis { label: "Distance", quantity: Quantity::Distance, exact: true },
        // A reading is said as it is set.
        y: Axis { label, quantity, exact: scale.is_some() },
        units,
        series: vec![Series { name: "", dashed: false, points }],
        now: None,
        reading: Box::new(Chart::at_words),
    }
}

fn typed(units: &Units) -> Result<Numbers, Refused> {
    let [distance, mark] = List::SightMarks.spec().columns else { return Ok(Vec::new()) };
    let distance = entry::needed(DISTANCE, distance, units, "enter where you shot.")?;
    let mark = entry::needed(MARK, mark, units, "enter what your sight shows there.")?;
    Ok(vec![Some(distance), Some(mark)])
}

fn add(context: &Context) {
    let Some(now) = context.read() else { return };
    [DISTANCE.0, MARK.0].iter().for_each(|id| field::say(id, SAID, ""));
    dom::write_id(DONE, "");
    let row = match typed(&now.units) {
        Ok(row) => row,
        Err((id, why)) => return field::say(id, SAID, &why),
    };
    let mut setup = now.setup.clone();
    let mut rows = setup.lists.rows(List::SightMarks).to_vec();
    rows.push(row);
    if setup.lists.set(List::SightMarks, rows).is_err() {
        return dom::write_id(SAID, "Not added: the list is full. Remove a mark.");
    }
    context.load(&setup);
    dom::write_id(DONE, "Mark added.");
    [DISTANCE.0, MARK.0].iter().for_each(|id| field::overwrite(id, ""));
    field::focus("#marks-own-distance");
}

fn remove(place: usize, context: &Context) {
    let Some(mut setup) = context.setup() else { return };
    let mut rows = setup.lists.rows(List::SightMarks).to_vec();
    if Act::Remove.apply(&mut rows, place).is_some() && setup.lists.set(List::SightMarks, rows).is_ok() {
        context.load(&setup);
        dom::write_id(DONE, "Removed. Undo restores it.");
        // The button goes; the form takes the focus.
        field::focus("#marks-own-distance");
    }
}

fn alone(on: bool) {
    if let Some(root) = dom::document().and_then(|document| document.document_element()) {
        dom::class(&root, ALONE, on);
    }
}

fn print() {
    alone(true);
    let printed = dom::window().and_then(|window| window.print().ok());
    dom::write_id("marks-printed", if printed.is_some() { "" } else { "The browser blocked printing." });
    if printed.is_none() {
        alone(false);
    }
}
