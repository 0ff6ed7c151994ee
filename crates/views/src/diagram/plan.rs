//! The arrow drawing: labels that lead to their fields, a table, and files.

mod picture;
mod ways;

use crate::context::{Context, Reading};
use crate::save;
use clothyard_core::Quantity;
use clothyard_core::drawing::{Mark, Shape};
use clothyard_core::format::fixed;
use clothyard_studies::diagram::looks::look;
use clothyard_studies::diagram::plan::{Label, Paper, Plan, plan};
use clothyard_studies::diagram::{sheet, words};
use clothyard_web::bus::Event;
use clothyard_web::widgets::field;
use clothyard_web::widgets::table::{Row, Table};
use clothyard_web::{self as dom, Dom, View, shapes};
use web_sys::Element;

/// A label on the page is as high as a finger is broad.
const ROW_PX: f64 = 44.0;
/// A sheet of A4 or Letter on its side, less its margins.
const PRINTED: Paper = Paper { width: 1000.0, row: 26.0 };
const COLOR: &str = "var(--paper)";

pub(crate) struct ArrowPlan {
    parts: Table,
}

impl Default for ArrowPlan {
    fn default() -> Self {
        Self { parts: Table::new("plan-table") }
    }
}

impl ArrowPlan {
    fn show_on(&mut self, paper: Paper, now: &Reading) {
        let (setup, all, units) = (&now.setup, now.all(), &now.units);
        let plan = plan(setup, all, units, paper);
        dom::write_id("plan-words", &words::in_words(setup, all, units, plan.as_ref()));
        for (id, quantity) in [("plan-length-unit", Quantity::Length), ("plan-mass-unit", Quantity::Mass)] {
            dom::write_id(id, units.of(quantity).name);
        }
        dom::hide("plan-drawing", plan.is_none());
        draw(plan);
        self.parts.show_rows(words::rows(setup, all, units).into_iter().map(Row::plain).collect());
    }
}

impl View<Context> for ArrowPlan {
    fn id(&self) -> &'static str {
        "plan"
    }

    fn changed(&mut self, event: &Event, context: &Context) -> bool {
        if let (Event::BeforePrint, true, Some(now)) = (event, self.is_open(), context.read()) {
            self.show_on(PRINTED, &now);
        }
        event.moves_answers() || matches!(event, Event::AfterPrint)
    }

    /// Draws it in the room there is.
    fn show(&mut self, context: &Context) {
        let Some(now) = context.read() else { return };
        let room = dom::by_id("plan-drawing").map_or(0.0, |drawing| drawing.get_bounding_client_rect().width());
        self.show_on(Paper { width: room, row: ROW_PX }, &now);
    }

    fn click(&mut self, dom: &Dom, context: &Context) {
        if let Some(link) = dom.closest("#plan-labels a") {
            dom.prevent();
            return ways::follow(&link);
        }
        let id = dom.id();
        let Some(now) = context.read().filter(|_| ["plan-svg", "plan-png"].contains(&id.as_str())) else { return };
        match sheet::sheet(&now.setup, now.all(), &now.units) {
            None => dom::write_id("plan-said", "No drawing to save: these values do not work together."),
            Some(sheet) if id == "plan-png" => picture::save(sheet),
            Some(sheet) => {
                let saved = save::file("clothyard-arrow.svg", "image/svg+xml", &sheet.svg);
                let said = match saved {
                    Some(()) => "Saved as clothyard-arrow.svg.",
                    None => "The browser blocked saving the file.",
                };
                dom::write_id("plan-said", said);
            }
        }
    }
}

fn draw(plan: Option<Plan>) {
    let (Some(drawing), Some(marks), Some(labels)) =
        (dom::by_id("plan-drawing"), dom::by_id("plan-marks"), dom::by_id("plan-labels"))
    else {
        return;
    };
    let hand = ways::hand_in(&labels);
    dom::empty(&marks);
    dom::empty(&labels);
    let Some(plan) = plan else { return };
    dom::set(&drawing, "height", &fixed(plan.height, 0));
    dom::set(&drawing, "viewBox", &format!("0 0 {} {}", fixed(plan.width, 2), fixed(plan.height, 0)));
    plan.marks.iter().for_each(|each| mark(&marks, each));
    for label in &plan.labels {
        let [top, foot, end] = label.leader;
        for (from, to) in [(top, foot), (foot, end)] {
            mark(&marks, &Mark { group: None, style: "leader", shape: Shape::Line(from, to) });
        }
        link(&labels, label);
    }
    if let Some(label) = hand.and_then(|hand| dom::by_id(&hand)) {
        field::focus_on(&label);
    }
}

fn mark(parent: &Element, mark: &Mark) {
    let Some(element) = shapes::add(parent, &mark.shape, mark.style) else { return };
    ink(&element, mark.style);
    if let Some(group) = mark.group {
        dom::set(&element, "data-group", group.key());
    }
}

fn ink(element: &Element, style: &str) {
    for (name, value) in look(style, COLOR) {
        dom::set(element, name, value);
    }
}

/// A label one can press, with room around its words.
fn link(parent: &Element, label: &Label) {
    let Some(link) = dom::add_shape(parent, "a") else { return };
    ways::lead(&link, label);
    let Some(room) = dom::add_shape(&link, "rect") else { return };
    let (x, y, width, height) = label.room;
    for (name, value) in [("x", x), ("y", y), ("width", width), ("height", height)] {
        dom::set(&room, name, &fixed(value, 2));
    }
    let words = Shape::Text(label.at, label.anchor, label.words.clone());
    if let Some(words) = shapes::add(&link, &words, "label") {
        ink(&words, "label");
    }
}
