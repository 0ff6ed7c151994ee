//! The body of a table that is touched only where it changes.

use clothyard_web as dom;
use web_sys::Element;

/// A row: its label and the words of its cells.
pub(super) type Row = (&'static str, Vec<String>);

/// The rows a table shows, and its cells in their order.
#[derive(Default)]
pub(super) struct Grid {
    rows: Vec<Row>,
    cells: Vec<Element>,
}

impl Grid {
    /// Makes a table show just these rows.
    pub(super) fn show(&mut self, table: &str, rows: Vec<Row>) {
        if self.rows == rows {
            return;
        }
        let alike = |(old, new): (&Row, &Row)| old.0 == new.0 && old.1.len() == new.1.len();
        if self.rows.len() == rows.len() && self.rows.iter().zip(&rows).all(alike) {
            let words = |rows: &'_ [Row]| rows.iter().flat_map(|row| row.1.clone()).collect::<Vec<_>>();
            for ((cell, old), new) in self.cells.iter().zip(words(&self.rows)).zip(words(&rows)) {
                if old != new {
                    write(cell, &new);
                }
            }
        } else {
            self.make(table, &rows);
        }
        self.rows = rows;
    }

    fn make(&mut self, table: &str, rows: &[Row]) {
        self.cells.clear();
        let body = dom::by_id(table).and_then(|table| table.query_selector("tbody").ok()?);
        let Some(body) = body else { return };
        dom::empty(&body);
        for (label, cells) in rows {
            let Some(row) = dom::add(&body, "tr", "", "") else { continue };
            if let Some(heading) = dom::add(&row, "th", "", label) {
                dom::set(&heading, "scope", "row");
            }
            for words in cells {
                self.cells.extend(dom::add(&row, "td", "", "").inspect(|cell| write(cell, words)));
            }
        }
    }
}

/// A number and its unit, which may stand under the number where the table is narrow.
fn write(cell: &Element, words: &str) {
    let unit = words.split_once('\u{a0}').filter(|(_, unit)| !unit.contains(' '));
    let (number, unit) = unit.unwrap_or((words, ""));
    cell.set_text_content(Some(number));
    if !unit.is_empty() {
        dom::add(cell, "span", "", &format!("\u{a0}{unit}"));
    }
}
