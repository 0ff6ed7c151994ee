//! Event handling.

use crate::render::{self, Rooms, arrow, fields, finder, glance, help, lists, parts};
use crate::state::{App, MEASURE, SAVE, timer};
use crate::{keep, order};
use clothyard_core::drawing::plate;
use clothyard_core::schema::{DrawLengthFrom, Field, Group, Value};
use clothyard_core::setup::samples;
use clothyard_core::units::CHOOSABLE;
use clothyard_core::{Setup, Units};
use clothyard_web::bus::{self, Event, Receive, Tick};
use clothyard_web::protocol::attribute;
use clothyard_web::widgets::field;
use clothyard_web::{self as dom, Dom, Kind};
use wasm_bindgen::JsCast;
use web_sys::{Element, HtmlElement, HtmlInputElement, HtmlSelectElement};

/// Help outlives its field by so long that one of its buttons can be pressed.
const HIDE_HELP_AFTER_MS: i32 = 400;
const HIDE_HELP: Tick = timer("help");
/// The button for copying says again what it does.
pub(crate) const COPIED: Tick = timer("copied");

impl Receive for App {
    fn receive(&mut self, event: Event) {
        match event {
            Event::Dom(dom) => self.on(&dom),
            Event::Tick(tick) => self.on_tick(tick),
            Event::Load(setup) => self.replace(*setup),
            Event::Save => {
                self.settle();
                self.save();
            }
            Event::Visit => self.begin_visit(),
            Event::Markup => self.take_in(),
            Event::Resized => {
                // A tool that is left makes room for the page; it may have saved a point.
                self.take_in_points();
                self.redraw_in(Rooms::measure());
            }
            Event::AfterPrint => self.redraw_in(Rooms::measure()),
            Event::BeforePrint => {
                order::write(self);
                self.redraw_in(Rooms::PAPER);
            }
            _ => {}
        }
    }
}

/// The field an element belongs to.
fn field_of(element: &Element) -> Option<Field> {
    let row = element.closest("[data-field]").ok()??;
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
                if slider(dom).is_some() {
                    self.dragged_reach = None;
                    render::show_drawings(self);
                }
            }
            Kind::Click => self.on_click(dom),
            Kind::Key => self.on_key(dom),
            Kind::Focus => self.on_focus(dom),
            Kind::Leave => self.on_leave(dom),
            Kind::Submit => dom.prevent(),
            // A slider remembers where it was, so that a swipe across it can leave it alone.
            Kind::PointerDown => {
                if let Some(field) = slider(dom) {
                    self.slid_from = Some((field, self.setup.get(field)));
                    self.dragged_reach = Some(plate::reach_in(&self.evaluation));
                }
            }
            // The browser took the gesture for scrolling: the value goes back to what it was.
            Kind::PointerCancel => {
                if let Some((field, was)) = slider(dom).and_then(|_| self.slid_from.take()) {
                    self.dragged_reach = None;
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
            HIDE_HELP => help::hide_if_left(),
            COPIED => dom::write_id("copy", "Copy"),
            tick if self.held.1.is_over(tick) => self.settle(),
            tick if self.typed.1.is_over(tick) => self.typed.0.take().into_iter().for_each(|field| self.remark(field)),
            tick => self.announcer.on_tick(tick),
        }
    }

    fn on_input(&mut self, dom: &Dom) {
        let Some(input) = dom.target_as::<HtmlInputElement>() else { return };
        if input.id() == "finder-text" {
            return finder::show();
        }
        if input.has_attribute("data-list") {
            dom::flag(input, attribute::TYPING, true);
            return lists::typed(self, input, &input.value());
        }
        if input.type_() == "radio" {
            return;
        }
        let Some(field) = field_of(input) else { return };
        if input.type_() == "range" {
            return self.give(field, Some(Value::Number(input.value_as_number())));
        }
        dom::flag(input, attribute::TYPING, true);
        self.typed_in(field, input.value());
    }

    /// One of a few answers, a common point weight, or which length is asked for.
    fn pick(&mut self, radio: &HtmlInputElement) {
        let (name, value) = (radio.name(), radio.value());
        let (field, text) = match name.as_str() {
            // A common point weight is in grains, whatever unit is shown.
            "pointChip" => (Some(Field::PointMass), value + "gr"),
            key => (Field::by_key(key), value),
        };
        if let Some(field) = field
            && let Ok(answer) = field.input().read(&text, &self.units)
        {
            self.fields.typing_done(field);
            self.give(field, answer);
        }
    }

    fn choose(&mut self, select: &HtmlSelectElement) {
        let value = select.value();
        match select.id().as_str() {
            "start" => return self.begin(select, &value),
            "glance-axes" => return glance::show(self),
            "all-units" => {
                return self.measure_in(match &*value {
                    "metric" => Units::metric(),
                    "pounds" => Units::pounds_and_centimeters(),
                    _ => Units::ARCHERY,
                });
            }
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

    /// Begins from another setup; undo brings back what was there.
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
        self.settle();
        if let Some(input) = dom.target_as::<HtmlInputElement>() {
            select_all(input);
            // Also the answer that is the default already, which thereby is the user's own.
            if input.type_() == "radio" {
                self.pick(input);
            }
            return;
        }
        if let Some(group) = dom.target.get_attribute(attribute::GROUP).filter(|_| dom.closest("svg").is_some()) {
            return parts::toggle(self, &group);
        }
        if let Some(link) = dom.closest("a[href^=\"#\"]") {
            return self.follow(dom, &link.get_attribute("href").unwrap_or_default());
        }
        let Some(button) = dom.button() else { return };
        match button.id().as_str() {
            "undo" => return self.undo(false),
            "redo" => return self.undo(true),
            "start-blank" => return self.replace(Setup::default()),
            "find" => return finder::open(),
            "finder-close" => return finder::close(),
            "copy" => return order::copy(self),
            "order-csv" => return order::save(self),
            // Both are with the setups saved by name; the browser goes there, and `boot.js` opens it.
            "save" => {
                return dom::window().iter().for_each(|window| drop(window.location().set_hash("keeping")));
            }
            "visit-keep" => return self.take_over(),
            "visit-leave" => return self.leave_visit(),
            "part-close" => return parts::close(self),
            "print" => return dom::window().iter().for_each(|window| drop(window.print())),
            lists::ADD => return lists::add(self),
            _ => {}
        }
        if button.has_attribute("data-column") && !button.has_attribute("data-list") {
            return glance::press(self, &button);
        }
        if let Some(part) = button.get_attribute(parts::PART) {
            return parts::toggle(self, &part);
        }
        let kind = button.get_attribute("class").unwrap_or_default();
        if kind == "remove" {
            let place = button.get_attribute(attribute::PLACE).and_then(|place| place.parse().ok());
            if let Some(place) = place.filter(|_| button.has_attribute("data-list")) {
                lists::remove(self, place);
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
            self.settle();
            return self.undo(forth);
        }
        let in_text = dom.target.matches("input[type=text], textarea").unwrap_or(false);
        if key.key() == "/" && !in_text {
            dom.prevent();
            return finder::open();
        }
        let Some(input) = dom.target_as::<HtmlInputElement>() else { return };
        if key.key() == "Enter" && input.id() == "finder-text" {
            dom.prevent();
            return finder::take_first();
        }
        let steps = match key.key().as_str() {
            "ArrowUp" => 1.0,
            "ArrowDown" => -1.0,
            _ => return,
        };
        if let Some(field) = field_of(input).filter(|_| input.type_() == "text") {
            dom.prevent();
            self.settle();
            self.step(field, steps);
        }
    }

    /// Typing replaces what is in a field: it is selected when the field is entered.
    fn on_focus(&mut self, dom: &Dom) {
        self.touch(dom.closest("fieldset"));
        match field_of(&dom.target) {
            Some(field) if dom.target.matches(":not(.drawing *):focus-visible").unwrap_or(false) => {
                help::show(self, field);
            }
            _ if dom.closest("#help").is_none() => help::hide(),
            _ => {}
        }
        dom.target_as::<HtmlInputElement>().into_iter().for_each(select_all);
    }

    /// A link to a field opens its part and puts the hand on it.
    fn follow(&mut self, dom: &Dom, href: &str) {
        finder::close();
        let Some(entry) = dom::by_id(href.trim_start_matches('#')) else { return };
        // To a tool the browser goes itself, and `boot.js` opens it.
        if entry.closest("[data-view]").is_ok_and(|view| view.is_some()) {
            return;
        }
        dom.prevent();
        self.bring_into_sight(&entry);
        let first = entry.query_selector("input:checked").ok().flatten();
        let _ = entry.dyn_ref::<HtmlElement>().map(HtmlElement::focus);
        first.iter().for_each(field::focus_on);
    }

    /// Opens what an element is folded in: its part, or the details around it.
    fn bring_into_sight(&mut self, entry: &Element) {
        if entry.id() == Field::ArmSpan.input().key {
            self.give(Field::DrawLengthFrom, Some(DrawLengthFrom::ArmSpan.into()));
        }
        let group = entry.closest("#part-fields > fieldset").ok().flatten();
        if let Some(group) = group.and_then(|group| group.get_attribute(attribute::GROUP)) {
            parts::open(self, &group);
        }
        let mut around = entry.closest("details").ok().flatten();
        while let Some(details) = around {
            dom::flag(&details, "open", true);
            around = details.parent_element().and_then(|parent| parent.closest("details").ok()?);
        }
        entry.scroll_into_view();
    }

    /// Outlines the part whose field has the focus.
    fn touch(&mut self, fieldset: Option<Element>) {
        let key = fieldset.as_ref().and_then(|fieldset| fieldset.get_attribute(attribute::GROUP));
        let group = key.and_then(|key| Group::ALL.into_iter().find(|group| group.key() == key));
        if self.touched != group {
            self.touched = group;
            arrow::show(self);
        }
    }

    /// A field that is left is shown tidily, or what is wrong with it is said.
    fn on_leave(&mut self, dom: &Dom) {
        bus::later(crate::post, HIDE_HELP_AFTER_MS, HIDE_HELP);
        self.settle();
        dom::flag(&dom.target, attribute::TYPING, false);
        self.edited();
        let (Some(field), Some(input)) = (field_of(&dom.target), dom.target_as::<HtmlInputElement>()) else { return };
        if input.type_() == "text" {
            self.remark(field);
            fields::tidy(self, field);
        }
    }
}

/// Selects all of a number that is not being typed.
fn select_all(input: &HtmlInputElement) {
    if input.has_attribute("data-quantity") && !input.has_attribute(attribute::TYPING) {
        input.select();
    }
}
