//! The table of all combinations within the limits.

use super::CELL;
use clothyard_core::Units;
use clothyard_studies::analysis::combinations::cell_text::CellFormat;
use clothyard_studies::analysis::combinations::ranking::{Column, Ranking, RowWords, Sort};
use clothyard_studies::analysis::combinations::run::GridRun;
use clothyard_web as dom;
use clothyard_web::widgets::table::{Row, Table};
use web_sys::Element;

const ID: &str = "combine-ranking";
/// On the button of a heading: the key of its column.
pub(super) const SORT: &str = "data-sort";
/// On a star: the place of its combination in the grid.
pub(super) const STAR: &str = "data-star";

pub(super) struct RankingTable {
    columns: Vec<Column>,
    headings: Vec<Element>,
    table: Table,
}

impl RankingTable {
    pub(super) fn new() -> Self {
        Self { columns: Vec::new(), headings: Vec::new(), table: Table::new(ID).written_by(write) }
    }

    /// The column with a key.
    pub(super) fn column(&self, key: &str) -> Option<Column> {
        self.columns.iter().copied().find(|column| column.key() == key)
    }

    /// Shows the rows; those on the form and those in the tray are marked.
    pub(super) fn show(
        &mut self,
        run: &GridRun,
        format: &CellFormat<'_>,
        (ranking, sort): (&Ranking, Sort),
        on_form: Option<usize>,
        is_starred: impl Fn(usize) -> bool,
    ) {
        self.show_headings(Column::all(run).collect(), format.units, sort);
        let rows: Vec<_> = ranking.rows.iter().filter_map(|&index| RowWords::new(run, index, format)).collect();
        let cells = |row: &RowWords| {
            let star = if is_starred(row.index) { "★" } else { "☆" };
            Row::plain([star.to_owned(), row.matches.clone()].into_iter().chain(row.cells.clone()).collect::<Vec<_>>())
        };
        self.table.show_rows(rows.iter().map(cells).collect());
        for (place, row) in rows.iter().enumerate() {
            let words = run.words(row.index, format.units);
            let Some([star, pick]) = self.buttons(place) else { continue };
            dom::set(&star, STAR, &row.index.to_string());
            dom::set(&star, "aria-label", &format!("Compare {words}"));
            dom::set(&star, "aria-pressed", if is_starred(row.index) { "true" } else { "false" });
            dom::set(&pick, CELL, &row.index.to_string());
            dom::set(&pick, "aria-label", &format!("{}: apply {words}", row.matches));
            let line = pick.closest("tr").ok().flatten();
            line.iter().for_each(|line| dom::class(line, "current", on_form == Some(row.index)));
        }
    }

    /// The star of a row, and what puts it on the form.
    fn buttons(&self, row: usize) -> Option<[Element; 2]> {
        let button = |place| self.table.cell(row, place)?.first_element_child();
        Some([button(0)?, button(1)?])
    }

    fn show_headings(&mut self, columns: Vec<Column>, units: &Units, sort: Sort) {
        if self.columns != columns
            && let Some(line) = dom::by_id(ID).and_then(|table| table.query_selector("thead tr").ok()?)
        {
            dom::empty(&line);
            dom::add(&line, "td", "", "");
            self.headings = columns.iter().filter_map(|column| add_heading(&line, *column)).collect();
            self.columns = columns;
        }
        for (heading, column) in self.headings.iter().zip(&self.columns) {
            let order = if sort.by != *column {
                "none"
            } else if sort.descending {
                "descending"
            } else {
                "ascending"
            };
            dom::set(heading, "aria-sort", order);
            heading.first_element_child().iter().for_each(|button| dom::write(button, &column.heading(units)));
        }
    }
}

fn add_heading(line: &Element, column: Column) -> Option<Element> {
    let heading = dom::add(line, "th", "", "")?;
    dom::set(&heading, "scope", "col");
    let button = dom::add(&heading, "button", "", "")?;
    dom::set(&button, "type", "button");
    dom::set(&button, SORT, column.key());
    Some(heading)
}

/// Writes a cell; the words of the first two are those of the button in them.
fn write(cell: &Element, words: &str) {
    let two_before = |cell: &Element| cell.previous_element_sibling()?.previous_element_sibling();
    if two_before(cell).is_some() {
        return dom::write(cell, words);
    }
    if let Some(button) = cell.first_element_child().or_else(|| dom::add(cell, "button", "", "")) {
        dom::set(&button, "type", "button");
        dom::write(&button, words);
    }
}
