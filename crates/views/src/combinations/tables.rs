//! The tables of combinations, made when they are opened and emptied when they are closed, so that the page stays
//! small.

use clothyard_core::Units;
use clothyard_studies::analysis::combinations::cell_text::{CellFormat, CellText};
use clothyard_studies::analysis::combinations::grid::Axis;
use clothyard_studies::analysis::combinations::layout::TableLayout;
use clothyard_studies::analysis::combinations::run::GridRun;
use clothyard_web as dom;
use web_sys::Element;

/// On a cell and on an entry of the shortlist: the place of the combination in the grid.
pub(super) const CELL: &str = "data-cell";
/// On what a table is opened with: its number.
pub(super) const TABLE: &str = "data-part";

/// So many tables are offered, open or closed, before more are asked for.
const TABLES_AT_ONCE: usize = 12;

/// One cell's elements.
struct Cell {
    button: Element,
    number: Element,
    words: Element,
}

/// One open table; without cells until it is shown.
#[derive(Default)]
struct OpenTable {
    table: usize,
    start: usize,
    columns: usize,
    cells: Vec<Cell>,
}

/// The tables on the page.
#[derive(Default)]
pub(super) struct Tables {
    offered: usize,
    layout: Option<TableLayout>,
    open: Vec<OpenTable>,
}

impl Tables {
    /// All tables are to be rebuilt.
    pub(super) fn forget(&mut self) {
        self.layout = None;
    }

    pub(super) fn offer_more(&mut self) {
        self.offered += TABLES_AT_ONCE;
        if let (Some(layout), Some(holder)) = (self.layout, dom::by_id("combine-tables")) {
            self.offer(&layout, &holder);
        }
    }

    /// A table was opened or closed.
    pub(super) fn toggled(&mut self, table: usize, open: bool) {
        let is_open = self.open.iter().any(|other| other.table == table);
        if open && !is_open {
            self.open.push(OpenTable { table, ..OpenTable::default() });
        } else if !open && is_open {
            self.open.retain(|other| other.table != table);
            body_of(table).iter().for_each(dom::empty);
        }
    }

    /// Makes what is open and fills it with what there is.
    pub(super) fn show(&mut self, run: &GridRun, format: &CellFormat<'_>, on_form: Option<usize>) {
        let layout = TableLayout::new(&run.grid);
        if self.layout != Some(layout) {
            let Some(holder) = dom::by_id("combine-tables") else { return };
            dom::empty(&holder);
            *self = Self { offered: TABLES_AT_ONCE, layout: Some(layout), open: Vec::new() };
            self.offer(&layout, &holder);
            self.toggled(0, true);
        }
        for table in (0..layout.tables.min(self.offered)).filter(|_| layout.tables > 1) {
            dom::write_id(&name_id(table), &layout.name(run, table, format.limits, format.units));
        }
        for open in &mut self.open {
            if let (true, Some(body)) = (open.cells.is_empty(), body_of(open.table)) {
                open.make(run, format.units, &layout, &body);
            }
            open.fill(run, format, on_form);
        }
    }

    /// Adds the tables that are to be offered, closed but for the first.
    fn offer(&self, layout: &TableLayout, holder: &Element) {
        for table in holder.child_element_count() as usize..layout.tables.min(self.offered) {
            let body = if layout.tables == 1 { dom::add(holder, "div", "", "") } else { offer_one(holder, table) };
            body.iter().for_each(|body| dom::set(body, "id", &body_id(table)));
        }
        dom::hide("combine-more", layout.tables <= self.offered);
    }

    /// The cell so many rows below and columns beside another, which the tab key will find from now on.
    pub(super) fn beside(&self, index: usize, down: isize, across: isize) -> Option<Element> {
        let at = |open: &OpenTable| index.checked_sub(open.start).filter(|&place| place < open.cells.len());
        let (open, place) = self.open.iter().find_map(|open| Some((open, at(open)?)))?;
        let column = (place % open.columns).checked_add_signed(across).filter(|&column| column < open.columns)?;
        let to = (place / open.columns).checked_add_signed(down)? * open.columns + column;
        let found = open.cells.get(to)?.button.clone();
        for (place, cell) in open.cells.iter().enumerate() {
            dom::set(&cell.button, "tabindex", if place == to { "0" } else { "-1" });
        }
        Some(found)
    }
}

fn body_id(table: usize) -> String {
    format!("combine-part-{table}")
}

fn body_of(table: usize) -> Option<Element> {
    dom::by_id(&body_id(table))
}

fn name_id(table: usize) -> String {
    format!("combine-part-name-{table}")
}

/// A table to be opened; the element it will be in.
fn offer_one(holder: &Element, table: usize) -> Option<Element> {
    let details = dom::add(holder, "details", "part", "")?;
    dom::set(&details, TABLE, &table.to_string());
    dom::flag(&details, "open", table == 0);
    let name = dom::add(&dom::add(&details, "summary", "", "")?, "span", "", "")?;
    dom::set(&name, "id", &name_id(table));
    dom::add(&details, "div", "", "")
}

impl OpenTable {
    /// Makes the table, with headings and empty cells.
    fn make(&mut self, run: &GridRun, units: &Units, layout: &TableLayout, body: &Element) -> Option<()> {
        let [.., down, across] = run.grid.axes() else { return None };
        let caption = layout.caption(run, self.table, units);
        dom::empty(body);
        let scroll = dom::add(body, "section", "scroll", "")?;
        dom::set(&scroll, "tabindex", "0");
        dom::set(&scroll, "aria-label", &caption);
        let table = dom::add(&scroll, "table", "grid", "")?;
        // Where tables are opened, what opens one says the same.
        dom::add(&table, "caption", if layout.tables > 1 { "unseen" } else { "" }, &caption);
        let words = |axis: &Axis, value: f64| axis.kind.words(value, &run.setup.shafts, units);
        let head = dom::add(&dom::add(&table, "thead", "", "")?, "tr", "", "")?;
        let corner = format!("{} ↓, {} →", down.kind.label(), across.kind.label().to_ascii_lowercase());
        dom::set(&add_heading(&head, "col", &corner)?, "class", "corner");
        for &value in &across.values {
            add_heading(&head, "col", &words(across, value));
        }
        (self.start, self.columns) = (layout.cells(self.table).start, layout.columns);
        let body = dom::add(&table, "tbody", "", "")?;
        for &value in down.values.get(layout.rows(self.table))? {
            let line = dom::add(&body, "tr", "", "")?;
            add_heading(&line, "row", &words(down, value));
            for _ in 0..layout.columns {
                self.cells.extend(add_cell(&line, self.start + self.cells.len()));
            }
        }
        self.cells.first().iter().for_each(|cell| dom::set(&cell.button, "tabindex", "0"));
        Some(())
    }

    fn fill(&self, run: &GridRun, format: &CellFormat<'_>, on_form: Option<usize>) {
        for (index, cell) in (self.start..).zip(&self.cells) {
            let point = run.points().get(index);
            let mut text = point.map_or_else(CellText::waiting, |point| format.cell_text(point, run));
            if on_form == Some(index) {
                text.add_line("current");
            }
            cell.show(&text, on_form == Some(index));
        }
    }
}

fn add_heading(row: &Element, scope: &str, words: &str) -> Option<Element> {
    let cell = dom::add(row, "th", "", words)?;
    dom::set(&cell, "scope", scope);
    Some(cell)
}

fn add_cell(line: &Element, index: usize) -> Option<Cell> {
    let button = dom::add(&dom::add(line, "td", "", "")?, "button", "cell", "")?;
    for (name, value) in [("type", "button"), (CELL, &index.to_string()), ("tabindex", "-1")] {
        dom::set(&button, name, value);
    }
    let (number, words) = (dom::add(&button, "b", "", "…")?, dom::add(&button, "small", "", "")?);
    Some(Cell { button, number, words })
}

impl Cell {
    fn show(&self, text: &CellText, on_form: bool) {
        dom::write(&self.number, &text.number);
        dom::write(&self.words, &text.words);
        dom::set(&self.button, "data-tint", &text.tint.to_string());
        dom::class(&self.button, "out", !text.broken.is_empty());
        for (name, value) in [("title", text.broken.as_str()), ("aria-current", if on_form { "true" } else { "" })] {
            if value.is_empty() {
                dom::flag(&self.button, name, false);
            } else {
                dom::set(&self.button, name, value);
            }
        }
    }
}
