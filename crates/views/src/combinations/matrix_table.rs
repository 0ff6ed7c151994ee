//! The matrix of combinations.

use super::CELL;
use clothyard_studies::analysis::combinations::axis::Axis;
use clothyard_studies::analysis::combinations::cell_text::{CellFormat, CellText};
use clothyard_studies::analysis::combinations::matrix::Matrix;
use clothyard_studies::analysis::combinations::ranking::Filters;
use clothyard_studies::analysis::combinations::run::GridRun;
use clothyard_web as dom;
use web_sys::Element;

/// One cell's elements, and the combination that it shows.
struct Cell {
    button: Element,
    number: Element,
    words: Element,
    index: Option<usize>,
}

/// The matrix on the page; its elements are made again when its axes are others.
#[derive(Default)]
pub(super) struct MatrixTable {
    made: Option<(Matrix, usize)>,
    /// How often more rows were asked for.
    asked: usize,
    columns: usize,
    cells: Vec<Cell>,
}

impl MatrixTable {
    /// The whole table is to be made again.
    pub(super) fn forget(&mut self) {
        *self = Self::default();
    }

    pub(super) fn ask_for_more(&mut self) {
        self.asked += 1;
    }

    /// Fills it with what there is.
    pub(super) fn show(
        &mut self,
        run: &GridRun,
        format: &CellFormat<'_>,
        (matrix, filters): (Matrix, &Filters),
        on_form: Option<usize>,
    ) {
        let rows = matrix.rows(run, self.asked);
        if self.made != Some((matrix, rows)) {
            self.make(run, format, matrix, rows);
            self.made = Some((matrix, rows));
        }
        dom::write_id("combine-matrix-caption", &matrix.caption(run, filters));
        dom::hide("combine-more-rows", matrix.axes(run).is_none_or(|(down, _)| rows >= down.values.len()));
        for (cell, index) in self.cells.iter_mut().zip(matrix.cells(run, format.limits, filters, rows)) {
            let point = index.and_then(|index| run.points().get(index));
            let mut text = point.map_or_else(CellText::waiting, |point| format.cell_text(point, run));
            for words in index.iter().flat_map(|&index| matrix.others(run, index, filters, format.units)) {
                text.add_line(&words);
            }
            let is_current = index.is_some() && on_form == index;
            if is_current {
                text.add_line("current");
            }
            cell.show(&text, index, is_current);
        }
    }

    /// Makes the headings and empty cells.
    fn make(&mut self, run: &GridRun, format: &CellFormat<'_>, matrix: Matrix, rows: usize) {
        let (Some(table), Some((down, across))) = (dom::by_id("combine-matrix"), matrix.axes(run)) else { return };
        let part = |selector: &str| table.query_selector(selector).ok().flatten();
        let (Some(head), Some(body)) = (part("thead tr"), part("tbody")) else { return };
        dom::empty(&head);
        dom::empty(&body);
        let words = |axis: &Axis, value: f64| axis.kind.words(value, &run.setup.shafts, format.units);
        add_heading(&head, "col", &matrix.corner(run)).iter().for_each(|corner| dom::set(corner, "class", "corner"));
        for &value in &across.values {
            add_heading(&head, "col", &words(across, value));
        }
        self.columns = across.values.len();
        self.cells.clear();
        for &value in down.values.iter().take(rows) {
            let Some(line) = dom::add(&body, "tr", "", "") else { continue };
            add_heading(&line, "row", &words(down, value));
            self.cells.extend((0..self.columns).filter_map(|_| add_cell(&line)));
        }
        self.cells.first().iter().for_each(|cell| dom::set(&cell.button, "tabindex", "0"));
    }

    /// The cell so many rows below and columns beside another, which the tab key will find from now on.
    pub(super) fn beside(&self, from: &Element, down: isize, across: isize) -> Option<Element> {
        let place = self.cells.iter().position(|cell| cell.button == *from)?;
        let column = (place % self.columns).checked_add_signed(across).filter(|&column| column < self.columns)?;
        let to = (place / self.columns).checked_add_signed(down)? * self.columns + column;
        let found = self.cells.get(to)?.button.clone();
        for (place, cell) in self.cells.iter().enumerate() {
            dom::set(&cell.button, "tabindex", if place == to { "0" } else { "-1" });
        }
        Some(found)
    }
}

fn add_heading(row: &Element, scope: &str, words: &str) -> Option<Element> {
    let cell = dom::add(row, "th", "", words)?;
    dom::set(&cell, "scope", scope);
    Some(cell)
}

fn add_cell(line: &Element) -> Option<Cell> {
    let button = dom::add(&dom::add(line, "td", "", "")?, "button", "cell", "")?;
    dom::set(&button, "type", "button");
    dom::set(&button, "tabindex", "-1");
    let (number, words) = (dom::add(&button, "b", "", "…")?, dom::add(&button, "small", "", "")?);
    Some(Cell { button, number, words, index: None })
}

impl Cell {
    fn show(&mut self, text: &CellText, index: Option<usize>, is_current: bool) {
        if self.index != index {
            self.index = index;
            dom::set(&self.button, CELL, &index.map_or_else(String::new, |index| index.to_string()));
        }
        dom::write(&self.number, &text.number);
        dom::write(&self.words, &text.words);
        dom::set(&self.button, "data-tint", &text.tint.to_string());
        dom::class(&self.button, "out", !text.broken.is_empty());
        for (name, value) in [("title", text.broken.as_str()), ("aria-current", if is_current { "true" } else { "" })] {
            if value.is_empty() {
                dom::flag(&self.button, name, false);
            } else {
                dom::set(&self.button, name, value);
            }
        }
    }
}
