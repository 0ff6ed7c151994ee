//! The tables: the first axis down, the second across, one table for each combination of the others.
//!
//! Tables are made when they are opened and emptied when they are closed, so that the page stays small.

use super::axes::{label, many, value_words};
use super::face::{Face, Shown};
use super::work::Job;
use clothyard_core::format;
use clothyard_studies::analysis::combine::{Cell, Interest};
use clothyard_studies::analysis::grid::Axis;
use clothyard_web as dom;
use wasm_bindgen::JsCast;
use web_sys::{Element, HtmlElement};

/// About so many cells stand in one table; a longer one goes on in the next.
const CELLS_IN_TABLE: usize = 240;
/// So many tables are offered, open or closed, before more are asked for.
const TABLES_AT_ONCE: usize = 12;

/// One cell's elements.
struct Place {
    button: Element,
    number: Element,
    words: Element,
}

/// One open table.
struct Open {
    part: usize,
    start: usize,
    columns: usize,
    cells: Vec<Place>,
}

/// The tables on the page.
#[derive(Default)]
pub(super) struct Tables {
    offered: usize,
    laid: Option<Layout>,
    open: Vec<Open>,
}

/// How a grid falls into tables.
#[derive(Clone, Copy, PartialEq, Eq)]
struct Layout {
    rows: usize,
    columns: usize,
    rows_at_once: usize,
    /// Tables for one combination of the other axes.
    blocks: usize,
    parts: usize,
}

impl Layout {
    fn of(job: &Job) -> Self {
        let [rows, columns] = match job.grid.axes() {
            [.., down, across] => [down.values.len(), across.values.len()],
            _ => [1, 1],
        };
        let rows_at_once = (CELLS_IN_TABLE / columns).max(1).min(rows);
        let blocks = rows.div_ceil(rows_at_once);
        Self { rows, columns, rows_at_once, blocks, parts: job.grid.count() / (rows * columns) * blocks }
    }

    /// The rows of a table, and its first cell's place in the grid.
    fn part(&self, part: usize) -> (core::ops::Range<usize>, usize) {
        let from = part % self.blocks * self.rows_at_once;
        let rows = from..(from + self.rows_at_once).min(self.rows);
        (rows, (part / self.blocks * self.rows + from) * self.columns)
    }
}

impl Tables {
    /// All tables are to be made anew.
    pub(super) fn forget(&mut self) {
        self.laid = None;
    }

    pub(super) fn more(&mut self) {
        self.offered += TABLES_AT_ONCE;
        if let (Some(layout), Some(holder)) = (self.laid, dom::by_id("combine-tables")) {
            self.offer(&layout, &holder);
        }
    }

    /// A table was opened or closed.
    pub(super) fn toggled(&mut self, part: usize, open: bool) {
        let is_open = self.open.iter().any(|table| table.part == part);
        if open && !is_open {
            self.open.push(Open { part, start: 0, columns: 1, cells: Vec::new() });
        } else if !open && is_open {
            self.open.retain(|table| table.part != part);
            if let Some(body) = dom::by_id(&format!("combine-part-{part}")) {
                dom::empty(&body);
            }
        }
    }

    /// Makes what is open and fills it with what there is.
    pub(super) fn show(&mut self, job: &Job, shown: &Shown) {
        let layout = Layout::of(job);
        if self.laid != Some(layout) {
            let Some(holder) = dom::by_id("combine-tables") else { return };
            dom::empty(&holder);
            self.laid = Some(layout);
            (self.offered, self.open) = (TABLES_AT_ONCE, Vec::new());
            self.offer(&layout, &holder);
            self.toggled(0, true);
        }
        self.name_parts(job, shown, &layout);
        let on_form = job.on_form();
        for table in &mut self.open {
            if table.cells.is_empty()
                && let Some(body) = dom::by_id(&format!("combine-part-{}", table.part))
            {
                *table = make(job, shown, &layout, table.part, &body);
            }
            table.fill(job, shown, on_form);
        }
        write_key(shown);
    }

    /// Adds the tables that are to be offered, closed but for the first.
    fn offer(&self, layout: &Layout, holder: &Element) {
        let there = holder.child_element_count() as usize;
        for part in there..layout.parts.min(self.offered) {
            let body = if layout.parts == 1 { dom::add(holder, "div", "", "") } else { offer_one(holder, part) };
            if let Some(body) = body {
                dom::set(&body, "id", &format!("combine-part-{part}"));
            }
        }
        dom::hide("combine-more", layout.parts <= self.offered);
    }

    /// Writes over each table what it holds and, once all is there, how many of its cells keep the limits.
    fn name_parts(&self, job: &Job, shown: &Shown, layout: &Layout) {
        if layout.parts == 1 {
            return;
        }
        for part in 0..layout.parts.min(self.offered) {
            let Some(name) = dom::by_id(&format!("combine-part-name-{part}")) else { continue };
            let (rows, start) = layout.part(part);
            let count = rows.len() * layout.columns;
            let mut words = caption(job, shown, layout, part);
            if let Some(cells) = job.cells.get(start..start + count).filter(|_| !shown.limits.is_empty()) {
                let keep = cells.iter().filter(|cell| job.keeps(cell, shown.limits)).count();
                words = format!("{words}: {} of {} within the limits", many(keep), many(count));
            }
            dom::write(&name, &words);
        }
    }

    /// The cell so many rows below and columns beside another, which the tab key will find from now on.
    pub(super) fn beside(&self, index: usize, down: isize, across: isize) -> Option<HtmlElement> {
        let table = self
            .open
            .iter()
            .find(|table| index.checked_sub(table.start).is_some_and(|place| place < table.cells.len()))?;
        let place = index - table.start;
        let column = (place % table.columns).checked_add_signed(across).filter(|&column| column < table.columns)?;
        let row = (place / table.columns).checked_add_signed(down)?;
        let to = table.cells.get(row * table.columns + column)?;
        for (at, cell) in table.cells.iter().enumerate() {
            dom::set(&cell.button, "tabindex", if at == row * table.columns + column { "0" } else { "-1" });
        }
        to.button.clone().dyn_into().ok()
    }
}

/// A table to be opened; the element it will stand in.
fn offer_one(holder: &Element, part: usize) -> Option<Element> {
    let details = dom::add(holder, "details", "part", "")?;
    dom::set(&details, "data-part", &format!("{part}"));
    dom::flag(&details, "open", part == 0);
    let summary = dom::add(&details, "summary", "", "")?;
    let name = dom::add(&summary, "span", "", "")?;
    dom::set(&name, "id", &format!("combine-part-name-{part}"));
    dom::add(&details, "div", "", "")
}

/// What a table holds, in words.
fn caption(job: &Job, shown: &Shown, layout: &Layout, part: usize) -> String {
    let (rows, start) = layout.part(part);
    let values = job.grid.values(start).unwrap_or_default();
    let mut words = Vec::new();
    let [others @ .., down, across] = job.grid.axes() else { return String::new() };
    let say = |axis: &Axis, value: f64| value_words(axis.what, value, &job.setup.shafts, shown.units);
    for (axis, &value) in others.iter().zip(&values) {
        words.push(format!("{} {}", label(axis.what).to_ascii_lowercase(), say(axis, value)));
    }
    if layout.blocks > 1
        && let (Some(&from), Some(&to)) = (down.values.get(rows.start), down.values.get(rows.end - 1))
    {
        words.push(format!("{} {} to {}", label(down.what).to_ascii_lowercase(), say(down, from), say(down, to)));
    }
    if words.is_empty() {
        words.push(format!("{} down, {} across", label(down.what), label(across.what).to_ascii_lowercase()));
    }
    format::upper_first(&words.join(", "))
}

/// A table with its headings and empty cells.
fn make(job: &Job, shown: &Shown, layout: &Layout, part: usize, body: &Element) -> Open {
    let (rows, start) = layout.part(part);
    let mut open = Open { part, start, columns: layout.columns, cells: Vec::new() };
    let words = caption(job, shown, layout, part);
    dom::empty(body);
    let Some(table) = dom::add(body, "section", "scroll", "").and_then(|scroll| {
        dom::set(&scroll, "tabindex", "0");
        dom::set(&scroll, "aria-label", &words);
        dom::add(&scroll, "table", "grid", "")
    }) else {
        return open;
    };
    // Where tables are opened, what opens one says the same.
    dom::add(&table, "caption", if layout.parts > 1 { "unseen" } else { "" }, &words);
    let [.., down, across] = job.grid.axes() else { return open };
    head(job, shown, &table, down, across);
    let Some(cells) = dom::add(&table, "tbody", "", "") else { return open };
    for row in rows {
        let Some(line) = dom::add(&cells, "tr", "", "") else { continue };
        if let Some(&value) = down.values.get(row) {
            heading(&line, "row", &value_words(down.what, value, &job.setup.shafts, shown.units));
        }
        for _ in 0..layout.columns {
            open.cells.extend(make_cell(&line, start + open.cells.len()));
        }
    }
    if let Some(first) = open.cells.first() {
        dom::set(&first.button, "tabindex", "0");
    }
    open
}

fn heading(row: &Element, scope: &str, words: &str) -> Option<Element> {
    let cell = dom::add(row, "th", "", words)?;
    dom::set(&cell, "scope", scope);
    Some(cell)
}

fn head(job: &Job, shown: &Shown, table: &Element, down: &Axis, across: &Axis) {
    let Some(head) = dom::add(table, "thead", "", "") else { return };
    let Some(row) = dom::add(&head, "tr", "", "") else { return };
    if let Some(corner) =
        heading(&row, "col", &format!("{} ↓, {} →", label(down.what), label(across.what).to_ascii_lowercase()))
    {
        dom::set(&corner, "class", "corner");
    }
    for &value in &across.values {
        heading(&row, "col", &value_words(across.what, value, &job.setup.shafts, shown.units));
    }
}

fn make_cell(line: &Element, index: usize) -> Option<Place> {
    let button = dom::add(&dom::add(line, "td", "", "")?, "button", "cell", "")?;
    dom::set(&button, "type", "button");
    dom::set(&button, "data-cell", &format!("{index}"));
    dom::set(&button, "tabindex", "-1");
    let (number, words) = (dom::add(&button, "b", "", "…")?, dom::add(&button, "small", "", "")?);
    Some(Place { button, number, words })
}

impl Open {
    fn fill(&self, job: &Job, shown: &Shown, on_form: Option<usize>) {
        for (place, cell) in self.cells.iter().enumerate() {
            let index = self.start + place;
            let face = job.cells.get(index).map(|cell: &Cell| shown.face(cell, job));
            let waiting = || Face { number: "…".to_owned(), ..Face::default() };
            cell.show(&face.unwrap_or_else(waiting), on_form == Some(index));
        }
    }
}

impl Place {
    fn show(&self, face: &Face, on_form: bool) {
        let mut words = face.words.clone();
        if on_form {
            words = format!("{words}\non the form").trim_start().to_owned();
            dom::set(&self.button, "aria-current", "true");
        } else if self.button.has_attribute("aria-current") {
            let _ = self.button.remove_attribute("aria-current");
        }
        dom::write(&self.number, &face.number);
        dom::write(&self.words, &words);
        dom::set(&self.button, "data-tint", &format!("{}", face.tint));
        if face.broken.is_empty() {
            let _ = self.button.remove_attribute("title");
        } else {
            dom::set(&self.button, "title", &face.broken);
        }
        dom::class(&self.button, "out", !face.broken.is_empty());
    }
}

/// What the numbers and the tint mean.
fn write_key(shown: &Shown) {
    let words = if shown.interest() == Interest::Match {
        "Draw weight the arrow suits best, less what the bow pulls: a plus is an arrow that acts stiff on this bow, a \
         minus one that acts weak. Tinted ones are well matched, the stronger the tint the closer."
    } else {
        "The more, the stronger the tint."
    };
    dom::write_id("combine-key", words);
}
