//! What happens, and what the page does then.

use crate::keep;
use crate::render::{self, Rooms, answers, arrow, fields, lists};
use crate::state::{App, MEASURE, SAVE};
use clothyard_core::schema::{Field, Group, Value};
use clothyard_core::setup::samples;
use clothyard_core::units::CHOOSABLE;
use clothyard_core::{Setup, Units};
use clothyard_web::bus::{Event, Receive, Tick};
use clothyard_web::protocol::attribute;
use clothyard_web::widgets::field;
use clothyard_web::{self as dom, Dom, Kind};
use wasm_bindgen::JsCast;
use web_sys::{Element, HtmlElement, HtmlInputElement, HtmlSelectElement};

impl Receive for App {
    fn receive(&mut self, event: Event) {
        match event {
            Event::Dom(dom) => self.on(&dom),
            Event::Tick(tick) => self.on_tick(tick),
            Event::Load(setup) => self.replace(*setup),
            Event::Save => self.save(),
            Event::Tools => self.take_in_tools(),
            Event::Resized | Event::AfterPrint => self.redraw_in(Rooms::measure()),
            Event::BeforePrint => self.redraw_in(Rooms::PAPER),
            _ => {}
        }
    }
}

/// The field an element belongs to.
fn field_of(element: &Element) -> Option<Field> {
    let row = element.closest(".field").ok()??;
    Field::by_key(&row.get_attribute("data-field")?)
}

/// The field of the slider that something is done to, if it is one.
fn slider(dom: &Dom) -> Option<Field> {
    let is_slider = dom.target_as::<HtmlInputElement>()?.type_() == "range";
    field_of(&dom.target).filter(|_| is_slider)
}

impl App {
    fn on(&mut self, dom: &Dom) {
        match dom.kind {
            Kind::Input => self.on_input(dom),
            Kind::Change => {
                if let Some(select) = dom.target_as::<HtmlSelectElement>() {
                    self.choose(select);
                }
            }
            Kind::Click => self.on_click(dom),
            Kind::Key => self.on_key(dom),
            Kind::Focus => self.touch(dom.closest("fieldset")),
            Kind::Leave => self.on_leave(dom),
            Kind::Toggle => answers::toggled(self, &dom.target, dom.target.has_attribute("open")),
            Kind::Submit => dom.prevent(),
            // A slider remembers where it was, so that a swipe across it can leave it alone.
            Kind::PointerDown => {
                if let Some(field) = slider(dom) {
                    self.slid_from = Some((field, self.setup.get(field)));
                }
            }
            // The browser took the gesture for scrolling: the value goes back to what it was.
            Kind::PointerCancel => {
                if let Some((field, was)) = slider(dom).and_then(|_| self.slid_from.take()) {
                    self.give(field, was);
                }
            }
            _ => {}
        }
    }

    fn on_tick(&mut self, tick: Tick) {
        match tick {
            SAVE => self.save(),
            MEASURE => self.measure(),
            tick if self.typed.1.is_over(tick) => self.typed.0.take().into_iter().for_each(|field| self.remark(field)),
            tick => answers::on_tick(self, tick),
        }
    }

    fn on_input(&mut self, dom: &Dom) {
        let Some(input) = dom.target_as::<HtmlInputElement>() else { return };
        if input.has_attribute("data-list") {
            dom::flag(input, attribute::TYPING, true);
            return lists::typed(self, input, &input.value());
        }
        let Some(field) = field_of(input) else { return };
        if input.type_() == "range" {
            return self.give(field, Some(Value::Number(input.value_as_number())));
        }
        dom::flag(input, attribute::TYPING, true);
        self.read(field, &input.value());
        self.typed.0 = Some(field);
        self.typed.1.restart(crate::post);
    }

    fn choose(&mut self, select: &HtmlSelectElement) {
        let value = select.value();
        match select.id().as_str() {
            "start" => return self.begin(select, &value),
            "all-units" => return self.measure_in(if value == "metric" { Units::metric() } else { Units::ARCHERY }),
            "looks" => {
                keep::save_looks(&value);
                return render::show_looks(&value);
            }
            _ => {}
        }
        if let Some(key) = select.get_attribute("data-unit-of") {
            let quantity = CHOOSABLE.into_iter().find(|quantity| quantity.key() == key);
            if let (Some(quantity), Ok(index)) = (quantity, usize::try_from(select.selected_index())) {
                let mut units = self.units;
                units.choose(quantity, index);
                self.measure_in(units);
            }
        } else if let Some(field) = Field::by_key(&select.id())
            && let Ok(answer) = field.input().read(&value, &self.units)
        {
            self.give(field, answer);
        }
    }

    /// Begins from another set-up; undo brings back what was there.
    fn begin(&mut self, select: &HtmlSelectElement, key: &str) {
        let setup = if key == "blank" {
            Some(Setup::default())
        } else {
            samples::all().into_iter().find(|start| start.key == key).map(|start| start.setup)
        };
        select.set_value("");
        if let Some(setup) = setup {
            self.replace(setup);
        }
    }

    fn on_click(&mut self, dom: &Dom) {
        if let Some(group) = dom.target.get_attribute(attribute::GROUP).filter(|_| dom.closest("svg").is_some()) {
            return go_to(&group);
        }
        if let Some(link) = dom.closest("a[href^=\"#\"]") {
            return follow(dom, &link.get_attribute("href").unwrap_or_default());
        }
        let Some(button) = dom.button() else { return };
        match button.id().as_str() {
            "undo" => return self.undo(false),
            "redo" => return self.undo(true),
            "start-blank" => return self.replace(Setup::default()),
            id @ ("shaft-add" | "shafts-reset" | "own-part-add") => return lists::pressed(self, id),
            _ => {}
        }
        let kind = button.get_attribute("class").unwrap_or_default();
        if kind == "remove" {
            let place = button.get_attribute(attribute::PLACE).and_then(|place| place.parse().ok());
            if let (Some(list), Some(place)) = (button.get_attribute("data-list"), place) {
                lists::remove(self, &list, place);
            }
        } else if let Some(field) = field_of(&button) {
            self.press(field, &kind, &button);
        }
    }

    /// One of the buttons beside a field.
    fn press(&mut self, field: Field, kind: &str, button: &Element) {
        match kind {
            "less" => self.step(field, -1.0),
            "plus" => self.step(field, 1.0),
            "sign" => self.change_sign(field),
            "back" => {
                self.hand_back(field);
                // The button just pressed is gone; the field itself takes the focus.
                dom::by_id(field.input().key).iter().for_each(field::focus_on);
            }
            "meant" => {
                let text = button.get_attribute("data-meant").unwrap_or_default();
                self.fields.restore(field, &text);
                self.read(field, &text);
                self.remark(field);
            }
            "help" => {
                if let Some(hint) = dom::by_id(&format!("{}-hint", field.input().key)) {
                    let open = button.get_attribute("aria-expanded").as_deref() != Some("true");
                    dom::class(&hint, "open", open);
                    dom::set(button, "aria-expanded", if open { "true" } else { "false" });
                }
            }
            _ => {}
        }
    }

    fn on_key(&mut self, dom: &Dom) {
        let Some(key) = dom.key() else { return };
        if (key.ctrl_key() || key.meta_key()) && !dom.target.has_attribute(attribute::TYPING) {
            let forth = match (key.key().to_ascii_lowercase().as_str(), key.shift_key()) {
                ("z", forth) => forth,
                ("y", _) => true,
                _ => return,
            };
            dom.prevent();
            return self.undo(forth);
        }
        let Some(input) = dom.target_as::<HtmlInputElement>() else { return };
        let steps = match key.key().as_str() {
            "ArrowUp" => 1.0,
            "ArrowDown" => -1.0,
            _ => return,
        };
        if let Some(field) = field_of(input).filter(|_| input.type_() == "text") {
            dom.prevent();
            self.step(field, steps);
        }
    }

    /// Outlines the part whose field has the focus, and the group of its fields.
    fn touch(&mut self, fieldset: Option<Element>) {
        let key = fieldset.as_ref().and_then(|fieldset| fieldset.get_attribute(attribute::GROUP));
        let group = key.and_then(|key| Group::ALL.into_iter().find(|group| group.key() == key));
        for each in Group::ALL {
            if let Some(fieldset) = dom::by_id(&format!("group-{}", each.key())) {
                dom::class(&fieldset, "touched", group == Some(each));
            }
        }
        if self.touched != group {
            self.touched = group;
            arrow::show(self);
        }
    }

    /// A field that is left is shown tidily, or what is wrong with it is said.
    fn on_leave(&mut self, dom: &Dom) {
        dom::flag(&dom.target, attribute::TYPING, false);
        let (Some(field), Some(input)) = (field_of(&dom.target), dom.target_as::<HtmlInputElement>()) else { return };
        if input.type_() == "text" {
            self.remark(field);
            fields::tidy(self, field);
        }
    }
}

/// A link to a field puts the hand on it. To a tool the browser goes itself, and `boot.js` opens it.
fn follow(dom: &Dom, href: &str) {
    let entry = dom::by_id(href.trim_start_matches('#')).and_then(|entry| entry.dyn_into::<HtmlElement>().ok());
    if let Some(entry) = entry.filter(|entry| !matches!(entry.closest("[data-view]"), Ok(Some(_)))) {
        dom.prevent();
        entry.scroll_into_view();
        let _ = entry.focus();
        if let Some(input) = entry.dyn_ref::<HtmlInputElement>() {
            input.select();
        }
    }
}

/// From a part on the drawing to its fields.
fn go_to(group: &str) {
    let Some(fields) = dom::by_id(&format!("group-{group}")) else { return };
    fields.scroll_into_view();
    if let Ok(Some(first)) = fields.query_selector("input, select") {
        field::focus_on(&first);
    }
}
