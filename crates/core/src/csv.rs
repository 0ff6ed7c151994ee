//! A table as comma-separated values.
//!
//! After RFC 4180. A text cell that a spreadsheet would take for a formula (one that begins with `=`,
//! `+`, `-`, `@`, a tab or NUL) gets an apostrophe in front; a number never does, so that one below zero
//! stays a number.

use crate::format::trimmed;

/// A table being written, row by row.
#[derive(Clone, Debug, Default)]
pub struct Csv {
    out: String,
    /// Whether the row has a cell already.
    begun: bool,
}

impl Csv {
    /// Adds a cell of text, escaped and quoted where it must be.
    pub fn text(&mut self, cell: &str) {
        self.separate();
        let escape = if cell.starts_with(['=', '+', '-', '@', '\t', '\0']) { "'" } else { "" };
        if cell.contains(['"', ',', '\r', '\n']) {
            self.out.push('"');
            self.out.push_str(escape);
            for c in cell.chars() {
                self.out.push_str(if c == '"' { "\"" } else { "" });
                self.out.push(c);
            }
            self.out.push('"');
        } else {
            self.out.push_str(escape);
            self.out.push_str(cell);
        }
    }

    /// Adds a number with at most so many decimals (six or fewer), a point before them; none, or one that
    /// is not finite, is an empty cell.
    pub fn number(&mut self, number: Option<f64>, most_decimals: usize) {
        self.separate();
        if let Some(number) = number.filter(|number| number.is_finite()) {
            self.out.push_str(&trimmed(number, most_decimals));
        }
    }

    /// Ends the row.
    pub fn end_row(&mut self) {
        self.out.push_str("\r\n");
        self.begun = false;
    }

    /// The table.
    #[must_use]
    pub fn finish(self) -> String {
        self.out
    }

    fn separate(&mut self) {
        if self.begun {
            self.out.push(',');
        }
        self.begun = true;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn row(cells: &[&str]) -> String {
        let mut csv = Csv::default();
        cells.iter().for_each(|cell| csv.text(cell));
        csv.end_row();
        csv.finish()
    }

    #[test]
    fn the_examples_of_the_standard() {
        // RFC 4180, section 2, rules 1, 6 and 7; quotes that need not be are left out (rule 5).
        assert_eq!(row(&["aaa", "bbb", "ccc"]), "aaa,bbb,ccc\r\n");
        assert_eq!(row(&["aaa", "b\r\nbb", "ccc"]), "aaa,\"b\r\nbb\",ccc\r\n");
        assert_eq!(row(&["aaa", "b\"bb", "ccc"]), "aaa,\"b\"\"bb\",ccc\r\n");
    }

    #[test]
    fn formulas_are_text_and_numbers_are_numbers() {
        for cell in ["=1+1", "+1", "-1", "@x", "\tx", "\0x"] {
            assert_eq!(row(&[cell]), format!("'{cell}\r\n"));
        }
        assert_eq!(row(&["-1,5"]), "\"'-1,5\"\r\n");
        let mut csv = Csv::default();
        csv.number(Some(-1.5), 4);
        csv.number(None, 4);
        csv.number(Some(f64::NAN), 4);
        csv.number(Some(12.0), 4);
        csv.end_row();
        assert_eq!(csv.finish(), "-1.5,,,12\r\n");
    }

    /// Reads one table by the grammar of RFC 4180, section 2.
    fn read(text: &str) -> Vec<Vec<String>> {
        let (mut rows, mut row, mut cell, mut quoted) = (Vec::new(), Vec::new(), String::new(), false);
        let mut chars = text.chars().peekable();
        while let Some(c) = chars.next() {
            match (quoted, c) {
                (true, '"') if chars.peek() == Some(&'"') => cell.push(chars.next().unwrap()),
                (_, '"') => quoted = !quoted,
                (false, ',') => row.push(core::mem::take(&mut cell)),
                (false, '\r') if chars.next_if_eq(&'\n').is_some() => {
                    row.push(core::mem::take(&mut cell));
                    rows.push(core::mem::take(&mut row));
                }
                _ => cell.push(c),
            }
        }
        rows
    }

    proptest! {
        #[test]
        fn whatever_is_written_is_read_back(table in prop::collection::vec(
            prop::collection::vec("[a-z,\"\r\n '=@0-9-]{0,6}", 1..4), 0..4,
        )) {
            let mut csv = Csv::default();
            for row in &table {
                row.iter().for_each(|cell| csv.text(cell));
                csv.end_row();
            }
            let back = read(&csv.finish());
            prop_assert_eq!(back.len(), table.len());
            for (cell, back) in table.iter().flatten().zip(back.iter().flatten()) {
                prop_assert!(!back.starts_with(['=', '+', '-', '@']), "{}", back);
                prop_assert!(back == cell || back.strip_prefix('\'') == Some(cell.as_str()));
            }
        }
    }
}
