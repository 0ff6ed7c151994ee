//! The form: text, origin and error of every field.

use crate::state::App;
use clothyard_core::parse::EntryError;
use clothyard_core::schema::{Field, Kind, Value};
use clothyard_core::setup::Origin;
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
    origin: Origin,
    hidden: bool,
    drafted: bool,
    units: Units,
}

/// Where an answer is chosen.
enum Choice {
    List(HtmlSelectElement),
    Radios(Vec<HtmlInputElement>),
}

/// The elements of one field.
struct Row {
    field: Field,
    shown: Cell<Option<Shown>>,
    whole: Element,
    text: Option<HtmlInputElement>,
    choice: Option<Choice>,
    unit: Option<Element>,
    said: Option<Element>,
}

/// The elements of every field, in the order of the table; none for a field that is not on the page.
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
        if let Some(said) = &row.said {
            dom::write(said, &error.map_or_else(String::new, |error| brief(field, error, units)));
        }
    }
}

/// What is wrong, in the room of a label.
fn brief(field: Field, error: &EntryError, units: &Units) -> String {
    let input = field.input();
    let Kind::Number { quantity, minimum, maximum, .. } = input.kind else { return String::new() };
    let meant = format::meant(input, error, units);
    if !meant.is_empty() {
        return format::for_people(&meant.join(" or ")) + "?";
    }
    match error {
        EntryError::UnknownUnit { .. } => {
            let symbols: Vec<_> = quantity.units().iter().map(|unit| unit.symbol).collect();
            format!("unit: {}", symbols.join(", "))
        }
        _ => format::allowed(quantity, minimum, maximum, units),
    }
}

impl Row {
    fn find(field: Field) -> Option<Self> {
        let key = field.input().key;
        let part = |name: &str| dom::by_id(&format!("{key}-{name}"));
        let entry = dom::by_id(key)?;
        let whole = entry.closest(".field").ok()??;
        let choice = match entry.dyn_ref::<HtmlSelectElement>() {
            Some(list) => Some(Choice::List(list.clone())),
            None => radios(&entry).map(Choice::Radios),
        };
        let text = entry.dyn_into().ok();
        Some(Self { field, shown: Cell::new(None), whole, text, choice, unit: part("unit"), said: part("said") })
    }

    fn show(&self, app: &App) {
        let resolved = &app.evaluation.resolved;
        let (value, mine) = (resolved.value(self.field), resolved.is_user_given(self.field));
        // The beginning of a number may rule its field out, as the zero of 0.204 does: the field stays until it is left.
        let typed = self.text.as_ref().is_some_and(is_being_typed);
        let hidden = !typed && (!resolved.applies(self.field) || app.hides(self.field));
        let drafted = app.drafts.get(self.field.input().key).is_some();
        let origin = resolved.origin(self.field);
        let now = Some(Shown { value, mine, origin, hidden, drafted, units: app.units });
        if self.shown.replace(now) == now {
            return;
        }
        dom::class(&self.whole, "mine", mine);
        dom::flag(&self.whole, "hidden", hidden);
        match (&self.field.input().kind, value) {
            (Kind::Choice(list), Some(Value::Choice(place))) => {
                self.show_choice(list.get(usize::from(place)).map_or("", |choice| choice.key));
            }
            (&Kind::Number { quantity, .. }, value) => {
                if let Some(unit) = &self.unit {
                    dom::write(unit, app.units.of(quantity).symbol);
                }
                // The two numbers that make the answer are asked for, not assumed.
                let asked =
                    matches!(self.field, Field::PeakDrawWeight | Field::DrawLength) && origin == Origin::Default;
                let text = match value {
                    Some(Value::Number(number)) if !asked => format::entered(quantity, number, &app.units),
                    _ => String::new(),
                };
                self.show_number(app, drafted, &text);
                self.describe(origin);
            }
            _ => {}
        }
    }

    fn show_choice(&self, key: &str) {
        match &self.choice {
            Some(Choice::List(list)) if list.value() != key => list.set_value(key),
            Some(Choice::Radios(all)) => all.iter().for_each(|radio| radio.set_checked(radio.value() == key)),
            _ => {}
        }
    }

    /// The field's description for those who hear it: its unit, whose value it is, what is wrong.
    fn describe(&self, origin: Origin) {
        let key = self.field.input().key;
        if let Some(input) = &self.text {
            dom::set(input, "aria-describedby", &format!("{key}-unit {} {key}-said", origin_id(origin)));
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
}

/// The id of the words that say where a value comes from.
const fn origin_id(origin: Origin) -> &'static str {
    match origin {
        Origin::User => "is-mine",
        Origin::ArmSpan => "is-estimated",
        Origin::MarkedWeight => "is-marked",
        Origin::Computed => "is-computed",
        Origin::Measured => "is-measured",
        Origin::Unset => "is-unset",
        Origin::Default => "is-default",
    }
}

fn radios(group: &Element) -> Option<Vec<HtmlInputElement>> {
    let all = group.query_selector_all("input[type=radio]").ok()?;
    let radio = |place| all.get(place)?.dyn_into::<HtmlInputElement>().ok();
    let all: Vec<_> = (0..all.length()).filter_map(radio).collect();
    (!all.is_empty()).then_some(all)
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
