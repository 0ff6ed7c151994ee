//! A text of rows: typed or pasted into a field, read into a list of the setup, and written back when that becomes
//! another.

use super::field;
use crate::store;
use clothyard_core::Units;
use clothyard_core::parse::columns;
use clothyard_core::schema::{List, Row};

/// How a text is read; what is wrong with it, if anything is.
type Read = fn(&str, List, &Units) -> Result<Vec<Row>, Unread>;
/// How rows are written.
type Write = fn(&[Row], List, &Units) -> String;

/// What is wrong with a text.
#[derive(Debug)]
pub struct Unread {
    /// Why not all of it can be read, in a sentence.
    pub why: String,
    /// The rows that count all the same.
    pub others: Option<Vec<Row>>,
}

impl From<String> for Unread {
    fn from(why: String) -> Self {
        Self { why, others: None }
    }
}

/// A text of rows in the field `x`, with what is wrong said in `x-said`.
#[derive(Debug)]
pub struct TextRows {
    id: &'static str,
    list: List,
    read: Read,
    write: Write,
    /// Where a text that cannot be read yet is stored.
    draft: Option<&'static str>,
    /// The rows and the units that the field was last written for.
    shown: Option<(Vec<Row>, Units)>,
}

impl TextRows {
    /// Columns of numbers, as they come from a spreadsheet: all of them, or none.
    #[must_use]
    pub fn columns(id: &'static str, list: List) -> Self {
        let read: Read =
            |text, list, units| columns::read(text, list.spec(), units).map_err(|error| error.message().into());
        Self::new(id, list, read, write_columns)
    }

    /// The same, but a row that cannot be read does not keep the others from counting.
    #[must_use]
    pub fn each_row(id: &'static str, list: List) -> Self {
        Self::new(id, list, read_each, write_columns)
    }

    /// Rows that are read and written in a way of their own.
    #[must_use]
    pub fn new(id: &'static str, list: List, read: Read, write: Write) -> Self {
        Self { id, list, read, write, draft: None, shown: None }
    }

    /// Stores a text that cannot be read yet under a key, so that it is there when the page is opened again.
    #[must_use]
    pub fn with_draft(self, key: &'static str) -> Self {
        Self { draft: Some(key), ..self }
    }

    fn say(&self, why: &str) {
        field::say(self.id, &format!("{}-said", self.id), why);
    }

    /// The rows of the text; none where it cannot be read, which is said and changes nothing.
    pub fn take(&mut self, units: &Units) -> Option<Vec<Row>> {
        let text = field::text(self.id);
        let rows = match (self.read)(&text, self.list, units) {
            Ok(rows) => {
                self.say("");
                self.draft.into_iter().for_each(store::forget);
                rows
            }
            Err(Unread { why, others }) => {
                self.say(&why);
                // Where the browser stores nothing, the text is still in its field.
                let _ = self.draft.map(|key| store::put(key, &text));
                others?
            }
        };
        self.shown = Some((rows.clone(), *units));
        Some(rows)
    }

    /// Writes the rows of the setup where they or the units have become others. A text that means the same is left
    /// alone; so is one that cannot be read, until the rows change, and one that a hand is in.
    ///
    /// With a draft, a text typed before the first time, or stored, comes first: its rows are given, for the setup.
    pub fn follow(&mut self, rows: &[Row], units: &Units) -> Option<Vec<Row>> {
        let before = self.shown.replace((rows.to_vec(), *units));
        let typed = field::text(self.id);
        if let (None, Some(draft)) = (&before, self.draft) {
            let text = Some(typed.clone()).filter(|text| !text.is_empty()).or_else(|| store::get(draft));
            if let Some(text) = text {
                field::overwrite(self.id, &text);
                return self.take(units);
            }
        }
        let (old, old_units) = before.unwrap_or_else(|| (Vec::new(), *units));
        let written = (self.write)(rows, self.list, units);
        let same = |read: Vec<Row>| old_units == *units && (self.write)(&read, self.list, units) == written;
        let keep = match (self.read)(&typed, self.list, &old_units) {
            Ok(read) | Err(Unread { others: Some(read), .. }) => same(read),
            Err(_) => old == rows,
        };
        if !keep {
            // A text in the units of before would mislead, also under a hand.
            let write = if old_units == *units { field::write } else { field::overwrite };
            write(self.id, &written);
            self.say("");
        }
        None
    }
}

fn write_columns(rows: &[Row], list: List, units: &Units) -> String {
    columns::write(rows, list.spec(), units)
}

fn read_each(text: &str, list: List, units: &Units) -> Result<Vec<Row>, Unread> {
    let (rows, errors) = columns::read_each(text, list.spec(), units);
    let Some((first, more)) = errors.split_first() else { return Ok(rows) };
    let mut why = first.message();
    match more.len() {
        0 => {}
        1 => why += " One more row cannot be read.",
        more => why += &format!(" {more} more rows cannot be read."),
    }
    if rows.is_empty() {
        return Err(why.into());
    }
    why += " The others are used.";
    Err(Unread { why, others: Some(rows) })
}
