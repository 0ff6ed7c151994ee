//! Effect of each change, and the uncertainty of the results.

use crate::context::{Context, Reading};
use clothyard_core::schema::Value;
use clothyard_core::{Field, Output, format};
use clothyard_studies::analysis::effects::{self, EffectRow, RESULTS};
use clothyard_studies::analysis::ranges;
use clothyard_web::bus::Event;
use clothyard_web::widgets::select;
use clothyard_web::widgets::table::{Row, Table};
use clothyard_web::{self as dom, Dom, View};
use wasm_bindgen::JsCast;
use web_sys::{Element, HtmlInputElement};

const SAID: &str = "effects-said";
/// On the field of a step: the key of its input.
const STEP_OF: &str = "data-step-of";
/// On a button that applies a step: the key of its input, and which way.
const APPLY_OF: &str = "data-apply-of";
const SIGN: &str = "data-sign";
const DONE: &str = "effects-done";

pub(crate) struct Effects {
    /// The steps that the user has changed, in the saved unit.
    steps: Vec<(Field, f64)>,
    table: Table,
    ranges: Table,
}

impl Effects {
    pub(crate) fn new() -> Self {
        Self { steps: Vec::new(), table: Table::new("effects-table"), ranges: Table::new("effects-sure") }
    }

    fn show_effects(&mut self, now: &Reading) {
        let ranked_by = Output::by_key(&select::chosen("effects-by")).unwrap_or(Output::IdealDrawWeight);
        let rows = effects::rows(&now.evaluated().baseline(), ranked_by, &self.steps, &now.units).unwrap_or_default();
        // The first cell of a row is for its step.
        let cells = |row: &EffectRow| core::iter::once(String::new()).chain(row.changes.clone()).collect::<Vec<_>>();
        let words = rows.iter().map(|row| Row::headed(row.field.input().label, cells(row)));
        self.table.show(&effects::headings(), words.collect());
        if let Some(table) = dom::by_id("effects-table") {
            // On a phone the style shows this column alone.
            dom::set(&table, "data-by", &effects::column_of(ranked_by).to_string());
        }
        for (place, row) in rows.iter().enumerate() {
            self.table.cell(place, 0).into_iter().for_each(|cell| show_step(cell, row));
            for column in 0..RESULTS.len() {
                let share = (column == effects::column_of(ranked_by)).then_some(row.share);
                self.table.cell(place, 1 + column).into_iter().for_each(|cell| show_bar(cell, share));
            }
        }
    }

    /// Takes a step that was typed.
    fn take_step(&mut self, input: &HtmlInputElement, field: Field, context: &Context) -> Result<(), String> {
        let step = effects::read_step(field, &input.value(), &context.units());
        dom::set(input, "aria-invalid", if step.is_err() { "true" } else { "false" });
        self.steps.retain(|&(other, _)| other != field || step.is_err());
        self.steps.push((field, step?));
        Ok(())
    }
}

impl Effects {
    /// Puts one step of an input on the form, up or down; undo takes it back.
    fn apply(&self, field: Field, sign: f64, context: &Context) -> Option<()> {
        let now = context.read()?;
        let step = effects::step(field, &self.steps)?;
        let input = field.input();
        let value = input.clamp(now.all().resolved.number(field) + sign * step);
        let mut setup = now.setup.clone();
        setup.set(field, Some(Value::Number(value))).ok()?;
        context.load(&setup);
        let words = format::value(input, Value::Number(value), &now.units);
        dom::write_id(DONE, &format!("{}: {words}. Undo restores your setup.", input.label));
        Some(())
    }
}

impl View<Context> for Effects {
    fn id(&self) -> &'static str {
        "effects"
    }

    fn changed(&mut self, event: &Event, _: &Context) -> bool {
        matches!(event, Event::Setup | Event::Units)
    }

    fn show(&mut self, context: &Context) {
        let Some(now) = context.read() else { return };
        self.show_effects(&now);
        let rows = ranges::rows(&now.evaluated().baseline(), &RESULTS, &now.units);
        self.ranges.show_rows(rows.into_iter().map(Row::of).collect());
    }

    fn click(&mut self, dom: &Dom, context: &Context) {
        let Some(button) = dom.button() else { return };
        let field = button.get_attribute(APPLY_OF).and_then(|key| Field::by_key(&key));
        let sign = button.get_attribute(SIGN).and_then(|sign| sign.parse().ok());
        field.zip(sign).and_then(|(field, sign)| self.apply(field, sign, context));
    }

    fn change(&mut self, dom: &Dom, context: &Context) {
        let field = dom.target.get_attribute(STEP_OF).and_then(|key| Field::by_key(&key));
        let taken = match (field, dom.target_as()) {
            (Some(field), Some(input)) => self.take_step(input, field, context),
            _ => Ok(()),
        };
        dom::write_id(SAID, taken.as_ref().err().map_or("", String::as_str));
        if taken.is_ok() {
            self.show(context);
        }
    }
}

/// The field of a row's step, with its unit, between the buttons that apply it downward and upward.
fn show_step(cell: &Element, row: &EffectRow) {
    let input = row.field.input();
    if cell.child_element_count() == 0 {
        for (tag, class, words) in [("button", "", "−"), ("input", "", ""), ("span", "unit", ""), ("button", "", "+")]
        {
            dom::add(cell, tag, class, words);
        }
    }
    let parts = cell.children();
    let [Some(less), Some(step), Some(unit), Some(more)] = [0, 1, 2, 3].map(|place| parts.item(place)) else { return };
    for (button, sign, way) in [(&less, "-1", "less"), (&more, "1", "more")] {
        let name = format!("Apply: {} {}\u{a0}{} {way}", input.label, row.step.trim_start_matches('-'), row.unit);
        for (attribute, value) in [("type", "button"), (APPLY_OF, input.key), (SIGN, sign), ("aria-label", &name)] {
            dom::set(button, attribute, value);
        }
    }
    let name = format!("One step of {}", input.label);
    for (attribute, value) in [
        ("type", "text"),
        ("inputmode", "decimal"),
        (STEP_OF, input.key),
        ("aria-label", &name),
        ("aria-describedby", SAID),
        ("aria-invalid", "false"),
    ] {
        dom::set(&step, attribute, value);
    }
    if let Some(step) = step.dyn_ref::<HtmlInputElement>().filter(|step| step.value() != row.step) {
        step.set_value(&row.step);
    }
    dom::write(&unit, &format!(" {}", row.unit));
}

/// A bar from the middle, to the right for more and to the left for less; none where there is no share.
fn show_bar(cell: &Element, share: Option<f64>) {
    let there = cell.first_element_child();
    let Some(share) = share else { return there.iter().for_each(Element::remove) };
    let Some(svg) = there.or_else(|| dom::add_shape(cell, "svg")) else { return };
    for (name, value) in
        [("class", "bar"), ("viewBox", "-100 0 200 10"), ("preserveAspectRatio", "none"), ("aria-hidden", "true")]
    {
        dom::set(&svg, name, value);
    }
    if let Some(rect) = svg.first_element_child().or_else(|| dom::add_shape(&svg, "rect")) {
        dom::set(&rect, "class", if share < 0.0 { "down" } else { "up" });
        for (name, value) in [("x", 100.0 * share.min(0.0)), ("width", 100.0 * share.abs()), ("height", 10.0)] {
            dom::set(&rect, name, &format::fixed(value, 1));
        }
    }
}
