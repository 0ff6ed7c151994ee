//! The form: what stands in every field, whose it is, and what is wrong with it.

use crate::state::App;
use clothyard_core::parse::EntryError;
use clothyard_core::schema::{Field, Kind, Value};
use clothyard_core::{Units, format};
use clothyard_web as dom;
use clothyard_web::protocol::attribute;
use clothyard_web::widgets::field;
use core::cell::Cell;
use wasm_bindgen::JsCast;
use web_sys::{Element, HtmlInputElement, HtmlSelectElement};

/// What a field shows; while it is the same, the page is left alone.
#[derive(Clone, Copy, PartialEq)]
struct Shown {
    value: Option<Value>,
    mine: bool,
    provenance: &'static str,
    applies: bool,
    drafted: bool,
    units: Units,
}

/// The elements of one field.
struct Row {
    field: Field,
    shown: Cell<Option<Shown>>,
    whole: Element,
    text: Option<HtmlInputElement>,
    choice: Option<HtmlSelectElement>,
    slider: Option<HtmlInputElement>,
    unit: Option<Element>,
    provenance: Element,
    back: Element,
    said: Element,
}

/// The elements of every field, in the order of the table; none for a field of the tools before they are loaded.
pub(crate) struct Fields(Vec<Option<Row>>);

impl Fields {
    /// Finds the fields on the page.
    pub(crate) fn find() -> Self {
        Self(Field::ALL.into_iter().map(Row::find).collect())
    }

    fn row(&self, field: Field) -> Option<&Row> {
        self.0.get(field as usize)?.as_ref()
    }

    /// Puts back what was typed last time and could not be read.
    pub(crate) fn restore(&self, field: Field, text: &str) {
        if let Some(input) = self.row(field).and_then(|row| row.text.as_ref()) {
            input.set_value(text);
        }
    }

    /// The hand is off the keys: the field may be written again.
    pub(crate) fn typing_done(&self, field: Field) {
        if let Some(row) = self.row(field) {
            if let Some(input) = &row.text {
                dom::flag(input, attribute::TYPING, false);
            }
            row.shown.set(None);
        }
    }

    /// Says beside the field what is wrong, or that nothing is.
    pub(crate) fn say(&self, field: Field, error: Option<&EntryError>, units: &Units) {
        let Some(row) = self.row(field) else { return };
        if let Some(input) = &row.text {
            dom::set(input, "aria-invalid", if error.is_some() { "true" } else { "false" });
        }
        dom::empty(&row.said);
        let Some(error) = error else { return };
        dom::write(&row.said, &format::entry_message(field.input(), error, units));
        for text in format::meant(field.input(), error, units) {
            dom::add(&row.said, "button", "meant", &format::for_people(&text)).iter().for_each(|button| {
                dom::set(button, "type", "button");
                dom::set(button, "data-meant", &text);
            });
        }
    }
}

impl Row {
    fn find(field: Field) -> Option<Self> {
        let key = field.input().key;
        let part = |name: &str| dom::by_id(&format!("{key}-{name}"));
        let entry = dom::by_id(key)?;
        let whole = entry.closest(".field").ok()??;
        Some(Self {
            field,
            shown: Cell::new(None),
            text: entry.clone().dyn_into().ok(),
            choice: entry.dyn_into().ok(),
            slider: part("slider").and_then(|slider| slider.dyn_into().ok()),
            unit: part("unit"),
            provenance: part("whose")?,
            back: whole.query_selector(".back").ok()??,
            said: part("said")?,
            whole,
        })
    }

    fn show(&self, app: &App) {
        let resolved = &app.evaluation.resolved;
        let (value, mine) = (resolved.value(self.field), resolved.is_user_given(self.field));
        let applies = resolved.applies(self.field);
        let drafted = app.drafts.get(self.field.input().key).is_some();
        let provenance = format::provenance(resolved, self.field);
        let now = Some(Shown { value, mine, provenance, applies, drafted, units: app.units });
        if self.shown.replace(now) == now {
            return;
        }
        dom::class(&self.whole, "mine", mine);
        dom::flag(&self.whole, "hidden", !applies);
        dom::write(&self.provenance, provenance);
        dom::flag(&self.back, "hidden", !mine);
        match (&self.field.input().kind, value) {
            (Kind::Choice(list), Some(Value::Choice(place))) => {
                self.show_choice(list.get(usize::from(place)).map_or("", |choice| choice.key))
            }
            (&Kind::Number { quantity, .. }, value) => {
                if let Some(unit) = &self.unit {
                    dom::write(unit, app.units.of(quantity).symbol);
                }
                let number = match value {
                    Some(Value::Number(number)) => Some(number),
                    _ => None,
                };
                let text = number.map_or_else(String::new, |number| format::entered(quantity, number, &app.units));
                self.show_number(app, drafted, &text);
                self.show_slider(number, &text, app.units.of(quantity).symbol);
            }
            _ => {}
        }
    }

    fn show_choice(&self, key: &str) {
        if let Some(choice) = &self.choice
            && choice.value() != key
        {
            choice.set_value(key);
        }
    }

    /// What a person is typing, or typed and cannot be read, is left alone.
    fn show_number(&self, app: &App, drafted: bool, text: &str) {
        let Some(input) = self.text.as_ref().filter(|_| !drafted) else { return };
        if input.get_attribute("aria-invalid").as_deref() == Some("true") {
            app.fields.say(self.field, None, &app.units);
        }
        if !is_being_typed(input) && input.value() != text {
            input.set_value(text);
        }
    }

    fn show_slider(&self, number: Option<f64>, text: &str, symbol: &str) {
        let (Some(slider), Some(number)) = (&self.slider, number) else { return };
        if slider.value_as_number().total_cmp(&number).is_ne() {
            slider.set_value_as_number(number);
        }
        dom::set(slider, "aria-valuetext", &format!("{} {symbol}", format::for_people(text)));
    }
}

/// A field with the focus keeps the text as it is typed until it is left or stepped.
fn is_being_typed(input: &HtmlInputElement) -> bool {
    field::has_focus(&input.id()) && input.has_attribute(attribute::TYPING)
}

/// Shows a field that has just been left, tidily.
pub(crate) fn tidy(app: &App, field: Field) {
    if let Some(row) = app.fields.row(field) {
        row.shown.set(None);
        row.show(app);
    }
}

/// Shows every field.
pub(crate) fn show(app: &App) {
    app.fields.0.iter().flatten().for_each(|row| row.show(app));
}

/// Shows the units in the headings of the lists.
pub(crate) fn show_units(app: &App) {
    if let Some(labels) = dom::document().and_then(|document| document.query_selector_all("[data-unit-label]").ok()) {
        for index in 0..labels.length() {
            let Some(label) = labels.get(index).and_then(|node| node.dyn_into::<Element>().ok()) else { continue };
            let key = label.get_attribute("data-unit-label").unwrap_or_default();
            let quantity = clothyard_core::units::CHOOSABLE.into_iter().find(|quantity| quantity.key() == key);
            if let Some(quantity) = quantity {
                dom::write(&label, app.units.of(quantity).symbol);
            }
        }
    }
}
