//! What was typed and cannot be used.

use crate::render;
use crate::state::App;
use clothyard_core::format;
use clothyard_core::parse::EntryError;
use clothyard_core::schema::Field;
use clothyard_web as dom;
use clothyard_web::widgets::field::is_invalid;

impl App {
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
