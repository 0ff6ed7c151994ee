//! What is typed in a field, and what of it cannot be used.

use crate::state::App;
use crate::{post, render};
use clothyard_core::format;
use clothyard_core::parse::EntryError;
use clothyard_core::schema::{Field, Value, read_marked};
use clothyard_web as dom;
use clothyard_web::widgets::field::is_invalid;

impl App {
    /// Reads what is typed in a field. The beginning of a number, as the 6 of 68, waits for the rest, so that no result is
    /// shown for it.
    pub(crate) fn typed_in(&mut self, field: Field, text: String) {
        if self.is_beginning(field, &text) {
            self.held.0 = Some((field, text));
            self.held.1.restart(post);
        } else {
            self.held.0 = None;
            self.read(field, &text);
        }
        self.typed.0 = Some(field);
        self.typed.1.restart(post);
    }

    /// Reads what waits.
    pub(crate) fn settle(&mut self) {
        if let Some((field, text)) = self.held.0.take() {
            self.read(field, &text);
        }
    }

    /// Whether a number is far smaller than the one it replaces.
    fn is_beginning(&self, field: Field, text: &str) -> bool {
        let now = self.evaluation.resolved.value(field);
        matches!((field.input().read(text, &self.units), now), (Ok(Some(Value::Number(typed))), Some(Value::Number(now)))
            if 2.0 * typed.abs() < now.abs())
    }

    /// Reads a field's text. While it cannot be read, the value from before it was typed counts, so that no beginning of
    /// a bad number does; the text is kept and, in a while, remarked on.
    pub(crate) fn read(&mut self, field: Field, text: &str) {
        if self.edited_from.as_ref().is_none_or(|(edited, _)| *edited != field) {
            self.edited_from = Some((field, self.setup.clone()));
        }
        if matches!(field, Field::PeakDrawWeight | Field::MarkedWeight)
            && let Some((weight, draw)) = read_marked(text, &self.units)
        {
            return self.alter_field(field, |setup| setup.give_marked(weight, draw));
        }
        match field.input().read(text, &self.units) {
            Ok(value) => self.give(field, value),
            Err(_) => {
                self.drafts.remove(field.input().key);
                self.drafts.0.push((field.input().key.to_owned(), text.to_owned()));
                self.restore_edited();
                self.save_soon();
            }
        }
    }

    /// The field is left: what it holds now is what the next entry starts from.
    pub(crate) fn edited(&mut self) {
        self.edited_from = None;
    }

    /// What cannot be used of what was typed, with the field and what counts meanwhile.
    pub(crate) fn bad_entry(&self) -> Option<(Field, String)> {
        let field =
            self.drafts.0.iter().filter_map(|(key, _)| Field::by_key(key)).find(|field| self.is_remarked(*field))?;
        let message = format::entry_message(field.input(), &self.error_in(field)?, &self.units);
        let meanwhile = self.evaluation.resolved.value(field);
        let meanwhile = meanwhile.map(|value| format::value(field.input(), value, &self.units));
        Some((field, meanwhile.map_or_else(|| message.clone(), |value| format!("{message} Results are for {value}."))))
    }

    /// Whether a field is marked as one that cannot be read, or has no place to be.
    fn is_remarked(&self, field: Field) -> bool {
        let key = field.input().key;
        self.error_in(field).is_some() && (dom::by_id(key).is_none() || is_invalid(key))
    }

    /// Shows beside a field what is wrong with its text, if anything.
    pub(crate) fn remark(&mut self, field: Field) {
        let error = self.error_in(field);
        self.fields.say(field, error.as_ref(), &self.units);
        render::show_entries(self);
        if let Some(error) = error {
            self.announcer.announce(format::entry_message(field.input(), &error, &self.units));
        }
        self.measure_soon();
    }

    /// What is wrong with the text of a field.
    pub(crate) fn error_in(&self, field: Field) -> Option<EntryError> {
        let text = self.drafts.get(field.input().key)?;
        field.input().read(text, &self.units).err()
    }
}
