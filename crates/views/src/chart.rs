//! Line charts: a title with a takeaway, even lines with few numbers, the lines themselves labelled at their
//! ends, a cursor that keys and pointer move, and the same as a table.
//!
//! A chart with the id `x` fills the elements `x-chart` (the drawing, focusable, with the groups `x-marks` and
//! `x-cursor`), `x-title`, `x-words`, `x-at` and `x-table`; one that is missing is left out.

use crate::ask;
use clothyard_core::drawing::Shape;
use clothyard_core::{Field, Output, Quantity, Units, format};
use clothyard_studies::plot;
use clothyard_studies::plot::{BOTTOM, Plot, TOP};
use clothyard_web as dom;
use clothyard_web::shapes;
use std::cell::RefCell;
use wasm_bindgen::JsCast;
use web_sys::{Element, Event, KeyboardEvent, PointerEvent};

/// About so many rows of the table.
const ROWS: usize = 20;
/// The whole drawing's height in pixels.
const HEIGHT: &str = "316";

/// What runs along one side of a chart.
pub(crate) struct Axis {
    pub(crate) label: &'static str,
    pub(crate) quantity: Quantity,
    /// Said as an input, exactly, rather than as a result, rounded.
    pub(crate) exact: bool,
}

impl Axis {
    /// A number that is put in.
    pub(crate) fn of_field(field: Field) -> Self {
        let input = field.input();
        Self { label: input.label, quantity: input.quantity().unwrap_or(Quantity::Ratio), exact: true }
    }

    /// A number that comes out.
    pub(crate) fn of_result(output: Output) -> Self {
        let row = output.row();
        Self { label: row.label, quantity: row.quantity, exact: false }
    }

    /// A number with its unit.
    fn words(&self, saved: f64, units: &Units) -> String {
        let say = if self.exact { format::entered_with_unit } else { format::measured };
        say(self.quantity, saved, units)
    }

    /// A number alone.
    fn bare(&self, saved: f64, units: &Units) -> String {
        let say = if self.exact { format::entered } else { format::bare };
        format::for_people(&say(self.quantity, saved, units))
    }

    fn heading(&self, units: &Units) -> String {
        format::heading(self.label, self.quantity, units)
    }
}

/// As [`plot::Line`], in the saved units.
pub(crate) type Points = Vec<(f64, Option<f64>)>;

/// One line.
pub(crate) struct Series {
    /// What stands at its end and over its column; empty for a line alone.
    pub(crate) name: &'static str,
    /// As side by side: A is solid, B dashed.
    pub(crate) dashed: bool,
    pub(crate) points: Points,
}

/// The line of the set-up on the page alone, or as B, dashed, beside that of the one held, A, solid.
pub(crate) fn lines(points: Points, held: Option<Points>) -> Vec<Series> {
    let held = held.filter(|points| !points.is_empty());
    let alone = held.is_none();
    let page = Series { name: if alone { "" } else { "B" }, dashed: !alone, points };
    core::iter::once(page).chain(held.map(|points| Series { name: "A, held", dashed: false, points })).collect()
}

/// What the cursor's place says, given the place of its point in the first series.
pub(crate) type Reading = Box<dyn Fn(&Chart, usize) -> String>;

/// A chart as a view asks for it.
pub(crate) struct Chart {
    pub(crate) id: &'static str,
    pub(crate) title: String,
    /// What it shows, in one line.
    pub(crate) takeaway: String,
    pub(crate) x: Axis,
    pub(crate) y: Axis,
    pub(crate) units: Units,
    /// The lines; cursor and table go by the points of the first.
    pub(crate) series: Vec<Series>,
    /// Where things stand now, which is marked and where the cursor begins; without it the cursor stays
    /// where it was.
    pub(crate) now: Option<f64>,
    pub(crate) reading: Reading,
}

impl Chart {
    fn point(&self, place: usize) -> Option<(f64, Option<f64>)> {
        self.series.first()?.points.get(place).copied()
    }

    fn last(&self) -> usize {
        self.series.first().map_or(0, |series| series.points.len().saturating_sub(1))
    }

    /// The first line's number at a place, in a sentence.
    pub(crate) fn at_words(&self, place: usize) -> String {
        let Some((x, y)) = self.point(place) else { return String::new() };
        let y = y.map_or_else(|| "–".to_owned(), |y| self.y.words(y, &self.units));
        format!("At {}: {y}.", self.x.words(x, &self.units))
    }

    /// How the first line goes from its one end to the other, in a sentence.
    pub(crate) fn end_to_end(&self) -> String {
        let (Some((first, Some(from))), Some((last, Some(to)))) = (self.point(0), self.point(self.last())) else {
            return "It has no number along part of this range.".to_owned();
        };
        let way = if to > from {
            "rises"
        } else if to < from {
            "falls"
        } else {
            "stays"
        };
        let [first, last] = [first, last].map(|x| self.x.words(x, &self.units));
        let [from, to] = [from, to].map(|y| self.y.words(y, &self.units));
        format!("From {first} to {last} it {way} from {from} to {to}.")
    }
}

/// A chart as it is drawn.
struct Shown {
    chart: Chart,
    plot: Plot,
    axes: Vec<(&'static str, Shape)>,
    cursor: usize,
}

thread_local! {
    static SHOWN: RefCell<Vec<Shown>> = const { RefCell::new(Vec::new()) };
}

/// Lets keys and pointer move the cursor of the chart with an id; called once.
pub(crate) fn start(id: &str) {
    let Some(drawing) = dom::by_id(&format!("{id}-chart")) else { return };
    dom::listen(&drawing, "keydown", on_key);
    dom::listen(&drawing, "pointermove", on_pointer);
    dom::listen(&drawing, "pointerdown", on_pointer);
}

/// Draws a chart anew; whether it has a number to draw.
pub(crate) fn show(chart: Chart) -> bool {
    let id = chart.id;
    let Some(marks) = dom::by_id(&format!("{id}-marks")) else { return false };
    dom::empty(&marks);
    dom::write_id(&format!("{id}-title"), &chart.title);
    let before = take(id).and_then(|shown| Some(shown.chart.point(shown.cursor)?.0));
    let Some(shown) = Shown::new(chart, before) else {
        dom::write_id(&format!("{id}-words"), "It has no number along this range.");
        return false;
    };
    for (style, shape) in &shown.axes {
        let _ = shapes::add(&marks, shape, style);
    }
    for series in &shown.chart.series {
        line(&marks, &shown.plot, series);
    }
    stands(&marks, &shown);
    dom::write_id(&format!("{id}-words"), &shown.chart.takeaway);
    table(&shown.chart);
    show_cursor(&shown);
    SHOWN.with_borrow_mut(|all| all.push(shown));
    true
}

fn take(id: &str) -> Option<Shown> {
    SHOWN.with_borrow_mut(|all| {
        let place = all.iter().position(|shown| shown.chart.id == id)?;
        Some(all.swap_remove(place))
    })
}

impl Shown {
    /// None where no line has a number.
    fn new(chart: Chart, before: Option<f64>) -> Option<Self> {
        let lines = chart.series.iter().map(|series| series.points.as_slice());
        let mut plot = Plot::around(lines, fit(chart.id))?;
        let Chart { x, y, units, .. } = &chart;
        let axes = plot::axes(&mut plot, (x.label, x.quantity), (y.label, y.quantity), units);
        let mut shown = Self { plot, axes, cursor: 0, chart };
        shown.cursor = shown.next(shown.chart.now.or(before).unwrap_or(plot.across.0));
        Some(shown)
    }

    /// The first line's point at a place or beyond it.
    fn next(&self, x: f64) -> usize {
        self.chart.series.first().map_or(0, |series| plot::next(&series.points, x)).min(self.chart.last())
    }
}

/// Makes the drawing as wide as there is room, and gives that; it is in pixels, so that its words keep their
/// size.
pub(crate) fn fit(id: &str) -> f64 {
    let Some(drawing) = dom::by_id(&format!("{id}-chart")) else { return 700.0 };
    let width = drawing.get_bounding_client_rect().width().max(280.0);
    dom::set(&drawing, "viewBox", &format!("0 0 {} {HEIGHT}", format::fixed(width, 0)));
    dom::set(&drawing, "height", HEIGHT);
    width
}

/// One line, with its name at its end.
fn line(marks: &Element, plot: &Plot, series: &Series) {
    let at = |&(x, y): &(f64, Option<f64>)| Some((plot.x(x), plot.y(y?)));
    let places: Vec<_> = series.points.iter().filter_map(at).collect();
    let Some(&(x, y)) = places.last() else { return };
    let Some(line) = dom::add_shape(marks, "polyline") else { return };
    let words_of = |&(x, y): &(f64, f64)| format::fixed(x, 1) + "," + &format::fixed(y, 1);
    dom::set(&line, "class", if series.dashed { "b" } else { "a" });
    dom::set(&line, "points", &places.iter().map(words_of).collect::<Vec<_>>().join(" "));
    // Two lines that end at one place have their names above and below it.
    let at = (x - 4.0, if series.dashed { y + 16.0 } else { y - 6.0 });
    let _ = shapes::add(marks, &Shape::Text(at, "end", series.name.to_owned()), "");
}

/// A line from top to bottom.
fn upright(x: f64) -> Shape {
    Shape::Line((x, TOP), (x, BOTTOM))
}

fn stands(marks: &Element, shown: &Shown) {
    let plot = &shown.plot;
    let Some(now) = shown.chart.now.filter(|now| (plot.across.0..=plot.across.1).contains(now)) else { return };
    let at = plot.x(now);
    let _ = shapes::add(marks, &upright(at), "stands");
    let _ = shapes::add(marks, &Shape::Text((at + 5.0, TOP + 14.0), "start", "now".to_owned()), "");
}

fn table(chart: &Chart) {
    let Chart { id, x, y, units, series, .. } = chart;
    let id = format!("{id}-table");
    let result = y.heading(units);
    let named = |name: &str| if name.is_empty() { result.clone() } else { format!("{name}: {result}") };
    let names = core::iter::once(x.heading(units)).chain(series.iter().map(|series| named(series.name)));
    ask::headings(&id, &names.collect::<Vec<_>>());
    let (Some(body), Some((first, others))) = (ask::fresh_body(&id), series.split_first()) else { return };
    let said = |number: Option<f64>| number.map_or_else(|| "–".to_owned(), |number| y.bare(number, units));
    for &(place, number) in first.points.iter().step_by((chart.last() / ROWS).max(1)) {
        let Some(row) = dom::add(&body, "tr", "", "") else { continue };
        dom::add(&row, "td", "", &x.bare(place, units));
        dom::add(&row, "td", "", &said(number));
        for other in others {
            dom::add(&row, "td", "", &said(plot::at(&other.points, place)));
        }
    }
}

/// The cursor, and what is said of its place.
fn show_cursor(shown: &Shown) {
    let id = shown.chart.id;
    let Some(group) = dom::by_id(&format!("{id}-cursor")) else { return };
    dom::empty(&group);
    let Some((x, _)) = shown.chart.point(shown.cursor) else { return };
    let _ = shapes::add(&group, &upright(shown.plot.x(x)), "cursor");
    dom::write_id(&format!("{id}-at"), &(shown.chart.reading)(&shown.chart, shown.cursor));
}

/// The drawing that an event belongs to.
fn drawing(event: &Event) -> Option<Element> {
    event.current_target()?.dyn_into().ok()
}

fn move_cursor(drawing: &Element, to: &dyn Fn(&Shown) -> usize) {
    let id = drawing.id();
    SHOWN.with_borrow_mut(|all| {
        if let Some(shown) = all.iter_mut().find(|shown| id.strip_suffix("-chart") == Some(shown.chart.id)) {
            shown.cursor = to(shown).min(shown.chart.last());
            show_cursor(shown);
        }
    });
}

fn on_key(event: Event) {
    let (Some(key), Some(drawing)) = (event.dyn_ref::<KeyboardEvent>(), drawing(&event)) else { return };
    match key.key().as_str() {
        "ArrowRight" => move_cursor(&drawing, &|shown| shown.cursor + 1),
        "ArrowLeft" => move_cursor(&drawing, &|shown| shown.cursor.saturating_sub(1)),
        "Home" => move_cursor(&drawing, &|_| 0),
        "End" => move_cursor(&drawing, &|shown| shown.chart.last()),
        _ => return,
    }
    event.prevent_default();
}

fn on_pointer(event: Event) {
    let (Some(pointer), Some(drawing)) = (event.dyn_ref::<PointerEvent>(), drawing(&event)) else { return };
    let x = f64::from(pointer.client_x()) - drawing.get_bounding_client_rect().left();
    move_cursor(&drawing, &|shown| shown.next(shown.plot.place(x)));
}
