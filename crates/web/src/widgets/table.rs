//! Tables, updated only where they change.

use crate::{add, by_id, empty, set, write};
use web_sys::Element;

/// One row.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Row {
    /// Classes of the row.
    pub class: &'static str,
    /// The heading that its first cell is, where it is one.
    pub heading: Option<String>,
    /// The words of its cells.
    pub cells: Vec<String>,
    /// The one cell reaches across all columns, and says why there are no others.
    pub across: bool,
}

impl Row {
    /// A row whose first cell is its heading.
    #[must_use]
    pub fn headed(heading: impl Into<String>, cells: impl Into<Vec<String>>) -> Self {
        Self { heading: Some(heading.into()), cells: cells.into(), ..Self::default() }
    }

    /// The first of these is its heading.
    #[must_use]
    pub fn of(cells: impl IntoIterator<Item = String>) -> Self {
        let mut cells = cells.into_iter();
        Self { heading: cells.next(), cells: cells.collect(), ..Self::default() }
    }

    /// A row of cells alone.
    #[must_use]
    pub fn plain(cells: impl Into<Vec<String>>) -> Self {
        Self { cells: cells.into(), ..Self::default() }
    }

    /// Whether its elements can show another row.
    fn fits(&self, other: &Self) -> bool {
        (self.class, self.across, self.cells.len(), self.heading.is_some())
            == (other.class, other.across, other.cells.len(), other.heading.is_some())
    }

    fn words(&self) -> impl Iterator<Item = &String> {
        self.heading.iter().chain(&self.cells)
    }
}

/// Writes the words of one cell.
type Write = fn(&Element, &str);

/// A table with an id: the rows under its headings are its own, and nobody else's to change.
#[derive(Debug)]
pub struct Table {
    id: String,
    headings: Vec<String>,
    rows: Vec<Row>,
    cells: Vec<Element>,
    write: Write,
}

impl Table {
    /// The table with an id, its body empty in the markup.
    #[must_use]
    pub fn new(id: &str) -> Self {
        Self { id: id.to_owned(), headings: Vec::new(), rows: Vec::new(), cells: Vec::new(), write }
    }

    /// The same, with another way to write a cell's words.
    #[must_use]
    pub fn written_by(self, write: Write) -> Self {
        Self { write, ..self }
    }

    /// Shows these headings and rows.
    pub fn show(&mut self, headings: &[String], rows: Vec<Row>) {
        if self.headings != headings {
            self.show_headings(headings);
        }
        self.show_rows(rows);
    }

    fn show_headings(&mut self, headings: &[String]) {
        self.headings = headings.to_vec();
        let row = by_id(&self.id).and_then(|table| table.query_selector("thead tr").ok()?);
        let Some(row) = row else { return };
        empty(&row);
        for heading in headings {
            add(&row, "th", "", heading).iter().for_each(|cell| set(cell, "scope", "col"));
        }
    }

    /// Shows these rows under the headings there are.
    pub fn show_rows(&mut self, rows: Vec<Row>) {
        let fits = self.rows.len() == rows.len() && self.rows.iter().zip(&rows).all(|(old, new)| old.fits(new));
        if fits {
            let words = self.rows.iter().zip(&rows).flat_map(|(old, new)| old.words().zip(new.words()));
            for (cell, (old, new)) in self.cells.iter().zip(words) {
                if old != new {
                    (self.write)(cell, new);
                }
            }
        } else {
            self.make(&rows);
        }
        self.rows = rows;
    }

    /// The cell at a place of [`Row::cells`], for what it shows besides words.
    #[must_use]
    pub fn cell(&self, row: usize, place: usize) -> Option<&Element> {
        let before: usize = self.rows.iter().take(row).map(|row| row.words().count()).sum();
        let heading = usize::from(self.rows.get(row)?.heading.is_some());
        self.cells.get(before + heading + place)
    }

    fn make(&mut self, rows: &[Row]) {
        self.cells.clear();
        let Some(body) = by_id(&self.id).and_then(|table| table.query_selector("tbody").ok()?) else { return };
        empty(&body);
        for row in rows {
            let Some(line) = add(&body, "tr", row.class, "") else { continue };
            if let Some(cell) = row.heading.as_ref().and_then(|words| self.add_cell(&line, "th", words)) {
                set(&cell, "scope", "row");
            }
            for words in &row.cells {
                let cell = self.add_cell(&line, "td", words);
                cell.iter().filter(|_| row.across).for_each(|cell| {
                    set(cell, "class", "why");
                    set(cell, "colspan", &self.headings.len().saturating_sub(1).to_string());
                });
            }
        }
    }

    fn add_cell(&mut self, line: &Element, tag: &str, words: &str) -> Option<Element> {
        let cell = add(line, tag, "", "")?;
        (self.write)(&cell, words);
        self.cells.push(cell.clone());
        Some(cell)
    }
}
