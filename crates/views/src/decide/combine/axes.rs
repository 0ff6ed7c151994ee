//! The fields of the axes: which run, and through which values.

use crate::ask;
use clothyard_core::eval::baseline::Baseline;
use clothyard_core::parse::number_list;
use clothyard_core::schema::StockShaft;
use clothyard_core::schema::{Field, Value};
use clothyard_core::{Resolved, Setup, Units, format};
use clothyard_studies::analysis::grid::{AXES, Axis, AxisKind, GridError, MOST_CELLS};
use clothyard_web as dom;
use wasm_bindgen::JsCast;
use web_sys::{Element, HtmlInputElement};

/// How many shafts are chosen at first.
const SHAFTS_AT_FIRST: usize = 3;

/// One axis on the form.
struct Form {
    what: AxisKind,
    /// Its values, or what is wrong with what was typed.
    values: Result<Vec<f64>, String>,
    on: bool,
}

/// All axes on the form, and the list of shafts that is shown there.
pub(super) struct Axes {
    forms: Vec<Form>,
    shafts: Vec<StockShaft>,
}

/// What an axis is called in the markup.
fn key(what: AxisKind) -> &'static str {
    match what {
        AxisKind::DrawWeight => "drawWeight",
        AxisKind::Point => "point",
        AxisKind::Insert => "insert",
        AxisKind::Cut => "cut",
        AxisKind::Shaft => "shaft",
        AxisKind::Vanes => "vanes",
    }
}

/// What an axis is called on the page.
pub(super) fn label(what: AxisKind) -> &'static str {
    what.field().map_or("Shaft", |field| field.input().label)
}

/// A value along an axis, in words.
pub(super) fn value_words(what: AxisKind, value: f64, shafts: &[StockShaft], units: &Units) -> String {
    match what.field() {
        Some(field) => format::value(field.input(), Value::Number(value), units),
        None => shafts.get(value as usize).map_or_else(String::new, shaft_words),
    }
}

fn shaft_words(shaft: &StockShaft) -> String {
    if shaft.name.is_empty() {
        format!("spine {}", format::trimmed(shaft.static_spine_thousandths, 1))
    } else {
        shaft.name.clone()
    }
}

/// What is wrong with a grid as a whole, and what is allowed.
pub(super) fn message(error: &GridError) -> String {
    match error {
        GridError::Axes { count } => {
            format!("{count} are ticked; tick {} to {}.", AXES.0, AXES.1)
        }
        GridError::NoValues { what } => format!("{}: choose one or more.", label(*what)),
        GridError::TooMany { count } => {
            format!("That would be {} combinations; {} are the most.", many(*count), many(MOST_CELLS))
        }
        // The fields let through no value that is not allowed, and none twice.
        GridError::Value { what, .. } | GridError::Twice { what } => format!("{}: not allowed.", label(*what)),
        _ => "These cannot be combined.".to_owned(),
    }
}

/// A whole number, its thousands apart.
pub(super) fn many(count: usize) -> String {
    let digits = format!("{count}");
    let mut words = String::new();
    for (place, digit) in digits.chars().enumerate() {
        if place > 0 && (digits.len() - place).is_multiple_of(3) {
            words.push('\u{a0}');
        }
        words.push(digit);
    }
    words
}

/// A few values around the one that stands in the field, in its saved unit; no cut too short to be safe.
fn around(field: Field, held: &Baseline) -> Vec<f64> {
    let offsets: &[f64] = match field {
        Field::PeakDrawWeight => &[-4.0, -2.0, 0.0, 2.0, 4.0],
        Field::CutLength => &[-1.0, -0.5, 0.0, 0.5, 1.0, 1.5, 2.0],
        Field::PointMass => &[-25.0, 0.0, 25.0, 50.0],
        Field::InsertMass => &[-10.0, 0.0, 10.0, 25.0, 50.0],
        _ => &[-2.0, -1.0, 0.0, 1.0, 2.0],
    };
    let (least, most) = held.safe_range(field).unwrap_or_default();
    let allowed = |value: &f64| (least..=most).contains(value);
    offsets.iter().map(|offset| held.resolved.number(field) + offset).filter(allowed).take(5).collect()
}

/// The few shafts of the list most like the one on the page, in the order of the list.
fn like(resolved: &Resolved, shafts: &[StockShaft]) -> Vec<f64> {
    let off = |shaft: &StockShaft| {
        (shaft.static_spine_thousandths - resolved.number(Field::StaticSpine)).abs()
            + (shaft.bore_in - resolved.number(Field::Bore)).abs() * 1e5
    };
    let mut list: Vec<(f64, usize)> = Vec::new();
    for (place, shaft) in shafts.iter().enumerate() {
        let off = off(shaft);
        let at = list.partition_point(|(other, _)| *other <= off);
        list.insert(at, (off, place));
    }
    list.truncate(SHAFTS_AT_FIRST);
    let chosen = |place: &usize| list.iter().any(|(_, other)| other == place);
    (0..shafts.len()).filter(chosen).map(|place| place as f64).collect()
}

impl Axes {
    /// Values around a set-up, in every field.
    pub(super) fn around(setup: &Setup, units: &Units) -> Self {
        let held = Baseline::new(setup);
        let form = |what: AxisKind| Form {
            what,
            values: Ok(what.field().map_or_else(|| like(&held.resolved, &setup.shafts), |field| around(field, &held))),
            on: ask::input(&format!("combine-use-{}", key(what))).is_some_and(|tick| tick.checked()),
        };
        let mut axes = Self { forms: AxisKind::ALL.map(form).into(), shafts: Vec::new() };
        axes.write(units);
        axes.show_shafts(setup);
        axes
    }

    /// Writes every field that could be read, in the units chosen.
    pub(super) fn write(&mut self, units: &Units) {
        for form in &self.forms {
            let Some(field) = form.what.field() else { continue };
            let Some(quantity) = field.input().quantity() else { continue };
            let id = format!("combine-{}", key(form.what));
            dom::write_id(&format!("{id}-unit"), units.of(quantity).symbol);
            if let (Some(input), Ok(values)) = (ask::input(&id), &form.values) {
                let list: Vec<_> = values.iter().map(|&value| format::entered(quantity, value, units)).collect();
                input.set_value(&list.join("; "));
            }
        }
    }

    /// Lists the shafts to choose from, where the list is another.
    pub(super) fn show_shafts(&mut self, setup: &Setup) {
        let Some(form) = self.forms.iter_mut().find(|form| form.what == AxisKind::Shaft) else { return };
        if let Ok(places) = &mut form.values {
            places.retain(|&place| place < setup.shafts.len() as f64);
        }
        let places = form.values.as_deref().unwrap_or_default();
        let chosen = if places.is_empty() { "none".to_owned() } else { many(places.len()) };
        dom::write_id("combine-shafts-chosen", &format!("From your list: {chosen}"));
        if self.shafts == setup.shafts {
            return;
        }
        self.shafts.clone_from(&setup.shafts);
        let Some(list) = dom::by_id("combine-shaft-list") else { return };
        dom::empty(&list);
        for (place, shaft) in self.shafts.iter().enumerate() {
            let Some(tick) = dom::add(&list, "label", "tick", "") else { continue };
            let Some(input) = dom::add(&tick, "input", "", "") else { continue };
            dom::set(&input, "type", "checkbox");
            dom::set(&input, "data-shaft", &format!("{place}"));
            dom::flag(&input, "checked", places.contains(&(place as f64)));
            dom::add(&tick, "span", "", &shaft_words(shaft));
        }
    }

    /// Reads what was typed into the field of an axis.
    pub(super) fn typed(&mut self, element: &Element, text: &str, units: &Units) {
        let Some(name) = element.get_attribute("data-axis") else { return };
        let Some(form) = self.forms.iter_mut().find(|form| key(form.what) == name) else { return };
        if let Some(field) = form.what.field() {
            let input = field.input();
            form.values =
                number_list::read(input, text, units).map_err(|error| number_list::message(input, &error, units));
        }
    }

    /// An axis is taken or left, or a shaft of the list is.
    pub(super) fn chosen(&mut self, element: &Element) {
        let Some(tick) = element.dyn_ref::<HtmlInputElement>().filter(|input| input.type_() == "checkbox") else {
            return;
        };
        let place = element.get_attribute("data-shaft").and_then(|place| place.parse::<u32>().ok()).map(f64::from);
        let name = element.get_attribute("data-axis");
        for form in &mut self.forms {
            if name.as_deref() == Some(key(form.what)) {
                form.on = tick.checked();
            }
            if let (AxisKind::Shaft, Some(place), Ok(places)) = (form.what, place, &mut form.values) {
                places.retain(|&other| (other - place).abs() > 0.5);
                if tick.checked() {
                    let at = places.partition_point(|&other| other < place);
                    places.insert(at, place);
                }
            }
        }
    }

    /// The axes that run: those of the tables after the others, so that the first table is done first.
    pub(super) fn read(&self) -> Result<Vec<Axis>, String> {
        let mut axes = Vec::new();
        for form in self.forms.iter().filter(|form| form.on) {
            axes.push(Axis { what: form.what, values: form.values.clone()? });
        }
        let down_and_across = axes.len().min(2);
        axes.rotate_left(down_and_across);
        Ok(axes)
    }

    /// Says beside each field what is wrong with it, if anything is.
    pub(super) fn remark(&self) {
        self.say(true);
    }

    /// Takes back what was said of fields that are well now.
    pub(super) fn clear_good(&self) {
        self.say(false);
    }

    fn say(&self, bad_too: bool) {
        for form in &self.forms {
            let wrong = form.values.as_ref().err().filter(|_| form.on);
            if wrong.is_some() && !bad_too {
                continue;
            }
            let id = format!("combine-{}", key(form.what));
            dom::write_id(&format!("{id}-said"), wrong.map_or("", String::as_str));
            if let Some(input) = ask::input(&id) {
                mark(&input, wrong.is_some());
            }
        }
    }
}

/// Marks a field as one that cannot be read.
pub(super) fn mark(input: &Element, invalid: bool) {
    if invalid {
        dom::set(input, "aria-invalid", "true");
    } else {
        let _ = input.remove_attribute("aria-invalid");
    }
}
