//! Line charts: a title with a takeaway, even lines with few numbers, the lines themselves labeled at their
//! ends, the line of before the last change, a cursor with its value on the line that keys and pointer move, and the same
//! as a table.
//!
//! A chart with the id `x` fills the elements `x-chart` (the drawing, focusable, with the groups `x-marks` and
//! `x-cursor`), `x-title`, `x-words`, `x-at` and `x-table`; one that is missing is left out.

mod ghost;

use super::table::{Row, Table};
use crate::{Dom, Kind, add_shape, by_id, empty, set, shapes, write_id};
use clothyard_core::drawing::Shape;
use clothyard_core::drawing::plot::{self, BOTTOM, Plot, TOP};
use clothyard_core::{Field, Output, Quantity, Units, format};
use ghost::Ghost;
use web_sys::Element;

/// About so many rows of the table.
const ROWS: usize = 20;
/// The whole drawing's height in pixels.
const HEIGHT: &str = "316";

/// What runs along one side of a chart.
#[derive(Clone, Copy, Debug)]
pub struct Axis {
    /// What it is called.
    pub label: &'static str,
    /// What it measures.
    pub quantity: Quantity,
    /// Said as an input, exactly, rather than as a result, rounded.
    pub exact: bool,
}

impl Axis {
    /// A number that is put in.
    #[must_use]
    pub fn of_field(field: Field) -> Self {
        let input = field.input();
        Self { label: input.label, quantity: input.quantity().unwrap_or(Quantity::Ratio), exact: true }
    }

    /// A number that comes out.
    #[must_use]
    pub fn of_result(output: Output) -> Self {
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
pub type Points = Vec<(f64, Option<f64>)>;

/// One line.
#[derive(Clone, Debug)]
pub struct Series {
    /// What is at its end and over its column; empty for a line alone.
    pub name: &'static str,
    /// As side by side: A is solid, B dashed.
    pub dashed: bool,
    /// Its points.
    pub points: Points,
}

/// The line of the setup on the page alone, or as B, dashed, beside that of the one held, A, solid.
#[must_use]
pub fn lines(points: Points, held: Option<Points>) -> Vec<Series> {
    let held = held.filter(|points| !points.is_empty());
    let alone = held.is_none();
    let page = Series { name: if alone { "" } else { "B" }, dashed: !alone, points };
    core::iter::once(page).chain(held.map(|points| Series { name: "A, saved", dashed: false, points })).collect()
}

/// What the cursor's place says, given the place of its point in the first series.
pub type Reading = Box<dyn Fn(&Chart, usize) -> String>;

/// A chart as a view asks for it.
pub struct Chart {
    /// What it is, in one line.
    pub title: String,
    /// What it shows, in one line.
    pub takeaway: String,
    /// Along its foot.
    pub x: Axis,
    /// Up its side.
    pub y: Axis,
    /// The units of its words.
    pub units: Units,
    /// The lines; cursor and table go by the points of the first.
    pub series: Vec<Series>,
    /// Where things are now, which is marked and where the cursor begins; without it the cursor stays
    /// where it was.
    pub now: Option<f64>,
    /// What is said of the cursor's place.
    pub reading: Reading,
}

impl core::fmt::Debug for Chart {
    fn fmt(&self, formatter: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        formatter.debug_struct("Chart").field("title", &self.title).finish_non_exhaustive()
    }
}

impl Chart {
    fn point(&self, place: usize) -> Option<(f64, Option<f64>)> {
        self.series.first()?.points.get(place).copied()
    }

    /// Whether it is of the same thing as another, in the same units.
    fn shows_what(&self, other: &Self) -> bool {
        let same = |one: &Axis, other: &Axis| one.label == other.label && one.quantity == other.quantity;
        same(&self.x, &other.x) && same(&self.y, &other.y) && self.units == other.units
    }

    fn last(&self) -> usize {
        self.series.first().map_or(0, |series| series.points.len().saturating_sub(1))
    }

    fn headings(&self) -> Vec<String> {
        let result = self.y.heading(&self.units);
        let named = |name: &str| if name.is_empty() { result.clone() } else { format!("{name}: {result}") };
        let columns = self.series.iter().map(|series| named(series.name));
        core::iter::once(self.x.heading(&self.units)).chain(columns).collect()
    }

    /// Some points of the first line, and the others' numbers at the same places.
    fn rows(&self) -> Vec<Row> {
        let Some((first, others)) = self.series.split_first() else { return Vec::new() };
        let said =
            |number: Option<f64>| number.map_or_else(|| "–".to_owned(), |number| self.y.bare(number, &self.units));
        let row = |&(place, number): &(f64, Option<f64>)| {
            let others = others.iter().map(|other| said(plot::at(&other.points, place)));
            Row::plain([self.x.bare(place, &self.units), said(number)].into_iter().chain(others).collect::<Vec<_>>())
        };
        first.points.iter().step_by((self.last() / ROWS).max(1)).map(row).collect()
    }

    /// The first line's number at a place, in a sentence.
    #[must_use]
    pub fn at_words(&self, place: usize) -> String {
        let Some((x, y)) = self.point(place) else { return String::new() };
        let y = y.map_or_else(|| "–".to_owned(), |y| self.y.words(y, &self.units));
        format!("At {}: {y}.", self.x.words(x, &self.units))
    }

    /// How the first line goes from its one end to the other, in a sentence.
    #[must_use]
    pub fn end_to_end(&self) -> String {
        let (Some((first, Some(from))), Some((last, Some(to)))) = (self.point(0), self.point(self.last())) else {
            return "No result over part of this range.".to_owned();
        };
        let [first, last] = [first, last].map(|x| self.x.words(x, &self.units));
        let [start, end] = [from, to].map(|y| self.y.words(y, &self.units));
        if start == end {
            return format!("From {first} to {last} it stays at {end}.");
        }
        let way = if to > from { "rises" } else { "falls" };
        format!("From {first} to {last} it {way} from {start} to {end}.")
    }
}

/// A chart in the page: the one drawn in the elements of its id.
#[derive(Debug)]
pub struct LineChart {
    id: &'static str,
    table: Table,
    drawn: Option<Drawn>,
    ghost: Ghost,
}

/// A chart as it is drawn.
#[derive(Debug)]
struct Drawn {
    chart: Chart,
    plot: Plot,
    axes: Vec<(&'static str, Shape)>,
    cursor: usize,
}

impl LineChart {
    /// The chart with an id.
    #[must_use]
    pub fn new(id: &'static str) -> Self {
        Self { id, table: Table::new(&format!("{id}-table")), drawn: None, ghost: Ghost::default() }
    }

    /// The id of one of its elements.
    fn part(&self, name: &str) -> String {
        format!("{}-{name}", self.id)
    }

    /// Draws a chart; whether it has a number to draw.
    pub fn show(&mut self, chart: Chart) -> bool {
        let Some(marks) = by_id(&self.part("marks")) else { return false };
        empty(&marks);
        write_id(&self.part("title"), &chart.title);
        let before = self.drawn.take();
        self.ghost.follow(before.as_ref().map(|drawn| &drawn.chart), &chart, crate::now());
        let cursor = before.and_then(|drawn| Some(drawn.chart.point(drawn.cursor)?.0));
        let ghost = chart.series.first().map(|series| self.ghost.beside(&series.points)).unwrap_or_default();
        let Some(drawn) = Drawn::new(chart, &ghost, cursor, fit(self.id)) else {
            write_id(&self.part("words"), "No result over this range.");
            return false;
        };
        for (style, shape) in &drawn.axes {
            let _ = shapes::add(&marks, shape, style);
        }
        draw_ghost(&marks, &drawn.plot, &ghost);
        for series in &drawn.chart.series {
            line(&marks, &drawn.plot, series);
        }
        mark_now(&marks, &drawn);
        write_id(&self.part("words"), &drawn.chart.takeaway);
        self.table.show(&drawn.chart.headings(), drawn.chart.rows());
        self.drawn = Some(drawn);
        self.show_cursor();
        true
    }

    /// The cursor, and what is said of its place.
    fn show_cursor(&self) {
        let (Some(group), Some(drawn)) = (by_id(&self.part("cursor")), &self.drawn) else { return };
        empty(&group);
        let Some((x, _)) = drawn.chart.point(drawn.cursor) else { return };
        let _ = shapes::add(&group, &upright(drawn.plot.x(x)), "cursor");
        for (place, series) in drawn.chart.series.iter().enumerate() {
            if let Some(y) = plot::at(&series.points, x) {
                drawn.mark(&group, (x, y), place == 0);
            }
        }
        write_id(&self.part("at"), &(drawn.chart.reading)(&drawn.chart, drawn.cursor));
    }

    fn move_cursor(&mut self, to: impl FnOnce(&Drawn) -> usize) {
        if let Some(drawn) = &mut self.drawn {
            drawn.cursor = to(drawn).min(drawn.chart.last());
            self.show_cursor();
        }
    }

    /// Its drawing, where an event is in it.
    fn drawing(&self, dom: &Dom) -> Option<Element> {
        dom.closest(&format!("#{}-chart", self.id))
    }

    /// Moves the cursor by the arrow keys and to the ends, where the key went down in its drawing.
    pub fn key(&mut self, dom: &Dom) {
        let (Some(key), Some(_)) = (dom.key(), self.drawing(dom)) else { return };
        match key.key().as_str() {
            "ArrowRight" => self.move_cursor(|drawn| drawn.cursor + 1),
            "ArrowLeft" => self.move_cursor(|drawn| drawn.cursor.saturating_sub(1)),
            "Home" => self.move_cursor(|_| 0),
            "End" => self.move_cursor(|drawn| drawn.chart.last()),
            _ => return,
        }
        dom.prevent();
    }

    /// Moves the cursor to a pointer that moves or goes down in its drawing.
    pub fn pointer(&mut self, dom: &Dom) {
        if !matches!(dom.kind, Kind::PointerMove | Kind::PointerDown) {
            return;
        }
        let (Some(x), Some(drawing)) = (dom.pointer_x(), self.drawing(dom)) else { return };
        let x = x - drawing.get_bounding_client_rect().left();
        self.move_cursor(|drawn| drawn.next(drawn.plot.place(x)));
    }
}

impl Drawn {
    /// None where no line has a number.
    fn new(chart: Chart, ghost: &[(f64, Option<f64>)], before: Option<f64>, width: f64) -> Option<Self> {
        let lines = chart.series.iter().map(|series| series.points.as_slice()).chain([ghost]);
        let mut plot = Plot::around(lines, width)?;
        let Chart { x, y, units, .. } = &chart;
        let axes = plot::axes(&mut plot, (x.label, x.quantity), (y.label, y.quantity), units);
        let mut drawn = Self { plot, axes, cursor: 0, chart };
        drawn.cursor = drawn.next(drawn.chart.now.or(before).unwrap_or(plot.across.0));
        Some(drawn)
    }

    /// A dot on a line with its value beside it, above the first line and below the others.
    fn mark(&self, group: &Element, (x, y): (f64, f64), above: bool) {
        let (left, top) = (self.plot.x(x), self.plot.y(y));
        let dot = [(-4.0, 0.0), (0.0, -4.0), (4.0, 0.0), (0.0, 4.0)].map(|(dx, dy)| (left + dx, top + dy));
        let _ = shapes::add(group, &Shape::Polygon(dot.into()), "dot");
        let (anchor, beside) = if left < self.plot.width / 2.0 { ("start", 8.0) } else { ("end", -8.0) };
        let at = if above { (top - 8.0).max(TOP + 14.0) } else { (top + 20.0).min(BOTTOM - 4.0) };
        let words = self.chart.y.words(y, &self.chart.units);
        let _ = shapes::add(group, &Shape::Text((left + beside, at), anchor, words), "value");
    }

    /// The first line's point at a place or beyond it.
    fn next(&self, x: f64) -> usize {
        self.chart.series.first().map_or(0, |series| plot::next(&series.points, x)).min(self.chart.last())
    }
}

/// Makes the drawing as wide as there is room, and gives that; it is in pixels, so that its words keep their
/// size.
#[must_use]
pub fn fit(id: &str) -> f64 {
    let id = format!("{id}-chart");
    let width = super::width(&id);
    if let Some(drawing) = by_id(&id) {
        set(&drawing, "viewBox", &format!("0 0 {} {HEIGHT}", format::fixed(width, 0)));
        set(&drawing, "height", HEIGHT);
    }
    width
}

/// A line alone; its places in pixels.
fn polyline(marks: &Element, plot: &Plot, points: &[(f64, Option<f64>)], class: &str) -> Vec<(f64, f64)> {
    let at = |&(x, y): &(f64, Option<f64>)| Some((plot.x(x), plot.y(y?)));
    let places: Vec<_> = points.iter().filter_map(at).collect();
    if !places.is_empty()
        && let Some(line) = add_shape(marks, "polyline")
    {
        let words_of = |&(x, y): &(f64, f64)| format::fixed(x, 1) + "," + &format::fixed(y, 1);
        set(&line, "class", class);
        set(&line, "points", &places.iter().map(words_of).collect::<Vec<_>>().join(" "));
    }
    places
}

/// The line of before, named where it begins.
fn draw_ghost(marks: &Element, plot: &Plot, points: &[(f64, Option<f64>)]) {
    if let Some(&(x, y)) = polyline(marks, plot, points, "ghost").first() {
        let _ = shapes::add(marks, &Shape::Text((x + 4.0, y + 16.0), "start", "before".to_owned()), "ghost");
    }
}

/// One line, with its name at its end.
fn line(marks: &Element, plot: &Plot, series: &Series) {
    let places = polyline(marks, plot, &series.points, if series.dashed { "b" } else { "a" });
    let Some(&(x, y)) = places.last() else { return };
    // Two lines that end at one place have their names above and below it.
    let at = (x - 4.0, if series.dashed { y + 16.0 } else { y - 6.0 });
    let _ = shapes::add(marks, &Shape::Text(at, "end", series.name.to_owned()), "");
}

/// A line from top to bottom.
fn upright(x: f64) -> Shape {
    Shape::Line((x, TOP), (x, BOTTOM))
}

fn mark_now(marks: &Element, drawn: &Drawn) {
    let plot = &drawn.plot;
    let Some(now) = drawn.chart.now.filter(|now| (plot.across.0..=plot.across.1).contains(now)) else { return };
    let at = plot.x(now);
    let _ = shapes::add(marks, &upright(at), "now");
    let _ = shapes::add(marks, &Shape::Text((at + 5.0, TOP + 14.0), "start", "now".to_owned()), "");
}
