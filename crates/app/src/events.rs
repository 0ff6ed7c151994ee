//! What a person does, and what the page does then.

use crate::app::{App, with};
use crate::{answers, drawing, keep, lists};
use clothyard_core::schema::{Field, Group, Value};
use clothyard_core::setup::samples;
use clothyard_core::units::CHOOSABLE;
use clothyard_core::{Setup, Units};
use clothyard_web as dom;
use wasm_bindgen::JsCast;
use web_sys::{Element, Event, HtmlElement, HtmlInputElement, HtmlSelectElement, KeyboardEvent};

/// After this long without a key, a field that cannot be read is remarked on.
const REMARK_AFTER_MS: i32 = 1000;

/// Fills the page and listens from then on.
pub(crate) fn listen_all(app: App) {
    app.install();
    let (Some(window), Some(document)) = (dom::window(), dom::document()) else { return };
    if let Some(root) = document.document_element() {
        dom::class(&root, "scripted", true);
    }
    set_looks(&keep::looks());
    show_units();
    dom::write_id("version", env!("CARGO_PKG_VERSION"));
    let setup =
        document.query_selector("meta[name=build]").ok().flatten().and_then(|meta| meta.get_attribute("content"));
    dom::write_id("build", &setup.unwrap_or_default());
    dom::listen(&document, "input", on_input);
    dom::listen(&document, "change", on_change);
    dom::listen(&document, "click", on_click);
    dom::listen(&document, "keydown", on_key);
    dom::listen(&document, "focusin", on_focus);
    dom::listen(&document, "focusout", on_leave);
    dom::listen(&document, "toggle", on_toggle);
    dom::listen(&document, "pointerdown", on_pointer_down);
    dom::listen(&document, "pointercancel", on_pointer_cancel);
    dom::listen(&document, "visibilitychange", |_| with(App::save));
    dom::listen(&document, "submit", |event| event.prevent_default());
    dom::listen(&window, clothyard_web::protocol::event::SAVE, |_| with(App::save));
    dom::listen(&window, "resize", |_| with(App::redraw));
    dom::listen(&window, "beforeprint", |_| with(App::redraw_for_paper));
    dom::listen(&window, "afterprint", |_| with(App::redraw));
    with(App::redraw);
}

/// The field an element belongs to.
fn field_of(element: &Element) -> Option<Field> {
    let row = element.closest(".field").ok()??;
    Field::by_key(&row.get_attribute("data-field")?)
}

fn on_input(event: Event) {
    let Some(element) = dom::target::<Element>(&event) else { return };
    let Some(input) = element.dyn_ref::<HtmlInputElement>() else { return };
    if element.has_attribute("data-list") {
        dom::flag(&element, "data-typing", true);
        return with(|app| lists::typed(app, &element, &input.value()));
    }
    let Some(field) = field_of(&element) else { return };
    if input.type_() == "range" {
        return with(|app| app.give(field, Some(Value::Number(input.value_as_number()))));
    }
    dom::flag(&element, "data-typing", true);
    with(|app| app.typed(field, &input.value()));
    let typed = input.value();
    let input = input.clone();
    dom::later(REMARK_AFTER_MS, move || {
        if input.value() == typed {
            with(|app| app.remark(field));
        }
    });
}

fn on_change(event: Event) {
    let Some(element) = dom::target::<Element>(&event) else { return };
    if let Some(select) = element.dyn_ref::<HtmlSelectElement>() {
        chosen(select);
    }
}

fn chosen(select: &HtmlSelectElement) {
    let value = select.value();
    match select.id().as_str() {
        "start" => return started(select, &value),
        "all-units" => return measure_in(if value == "metric" { Units::metric() } else { Units::ARCHERY }),
        "looks" => {
            keep::save_looks(&value);
            return set_looks(&value);
        }
        _ => {}
    }
    if let Some(key) = select.get_attribute("data-unit-of") {
        let quantity = CHOOSABLE.into_iter().find(|quantity| quantity.key() == key);
        if let (Some(quantity), Ok(index)) = (quantity, usize::try_from(select.selected_index())) {
            let mut units = keep::units();
            with(|app| units = app.units);
            units.choose(quantity, index);
            measure_in(units);
        }
    } else if let Some(field) = Field::by_key(&select.id()) {
        with(|app| {
            if let Ok(answer) = field.input().read(&value, &app.units) {
                app.give(field, answer);
            }
        });
    }
}

/// Begins from another set-up; undo brings back what was there.
fn started(select: &HtmlSelectElement, key: &str) {
    let setup = if key == "blank" {
        Some(Setup::default())
    } else {
        samples::all().into_iter().find(|start| start.key == key).map(|start| start.setup)
    };
    select.set_value("");
    if let Some(setup) = setup {
        with(|app| app.replace(setup));
    }
}

fn measure_in(units: Units) {
    with(|app| app.measure_in(units));
    show_units();
}

/// Shows in the choices which units are in use.
fn show_units() {
    let mut units = Units::ARCHERY;
    with(|app| units = app.units);
    let all = if units == Units::ARCHERY {
        "archery"
    } else if units == Units::metric() {
        "metric"
    } else {
        "mixed"
    };
    let select = |id: &str| dom::by_id(id)?.dyn_into::<HtmlSelectElement>().ok();
    if let Some(choice) = select("all-units") {
        choice.set_value(all);
    }
    for quantity in CHOOSABLE {
        if let (Some(choice), Ok(index)) =
            (select(&format!("unit-{}", quantity.key())), i32::try_from(units.index(quantity)))
        {
            choice.set_selected_index(index);
        }
    }
}

fn set_looks(looks: &str) {
    if let Some(root) = dom::document().and_then(|document| document.document_element()) {
        dom::set(&root, "data-looks", looks);
    }
    if let Some(choice) = dom::by_id("looks").and_then(|choice| choice.dyn_into::<HtmlSelectElement>().ok()) {
        choice.set_value(looks);
    }
}

fn on_click(event: Event) {
    let Some(element) = dom::target::<Element>(&event) else { return };
    if let Some(group) = element.get_attribute("data-group").filter(|_| element.closest("svg").ok().flatten().is_some())
    {
        return go_to(&group);
    }
    if let Some(link) = element.closest("a[href^=\"#\"]").ok().flatten() {
        return follow(&event, &link.get_attribute("href").unwrap_or_default());
    }
    let Some(button) = element.closest("button").ok().flatten() else { return };
    match button.id().as_str() {
        "undo" => return with(|app| app.undo(false)),
        "redo" => return with(|app| app.undo(true)),
        "start-blank" => return with(|app| app.replace(Setup::default())),
        id @ ("shaft-add" | "shafts-reset" | "own-part-add") => return with(|app| lists::pressed(app, id)),
        _ => {}
    }
    let kind = button.get_attribute("class").unwrap_or_default();
    if kind == "remove" {
        let place = button.get_attribute("data-place").and_then(|place| place.parse().ok());
        if let (Some(list), Some(place)) = (button.get_attribute("data-list"), place) {
            with(|app| lists::remove(app, &list, place));
        }
    } else if let Some(field) = field_of(&button) {
        pressed(field, &kind, &button);
    }
}

/// One of the buttons beside a field.
fn pressed(field: Field, kind: &str, button: &Element) {
    match kind {
        "less" => with(|app| app.step(field, -1.0)),
        "plus" => with(|app| app.step(field, 1.0)),
        "sign" => with(|app| app.change_sign(field)),
        "back" => with(|app| app.hand_back(field)),
        "meant" => with(|app| {
            let text = button.get_attribute("data-meant").unwrap_or_default();
            app.fields.restore(field, &text);
            app.typed(field, &text);
            app.remark(field);
        }),
        "help" => {
            if let Some(hint) = dom::by_id(&format!("{}-hint", field.input().key)) {
                let open = button.get_attribute("aria-expanded").as_deref() != Some("true");
                dom::class(&hint, "open", open);
                dom::set(button, "aria-expanded", if open { "true" } else { "false" });
            }
        }
        _ => {}
    }
    if kind == "back"
        && let Some(entry) = dom::by_id(field.input().key).and_then(|entry| entry.dyn_into::<HtmlElement>().ok())
    {
        // The button just pressed is gone; the field itself takes the focus.
        let _ = entry.focus();
    }
}

/// A link to a field puts the hand on it.
fn follow(event: &Event, href: &str) {
    let entry = dom::by_id(href.trim_start_matches('#')).and_then(|entry| entry.dyn_into::<HtmlElement>().ok());
    if let Some(entry) = entry {
        event.prevent_default();
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
    if let Ok(Some(first)) = fields.query_selector("input, select")
        && let Ok(first) = first.dyn_into::<HtmlElement>()
    {
        let _ = first.focus();
    }
}

fn on_key(event: Event) {
    let Some(key) = event.dyn_ref::<KeyboardEvent>() else { return };
    let Some(element) = dom::target::<Element>(&event) else { return };
    if (key.ctrl_key() || key.meta_key()) && !element.has_attribute("data-typing") {
        let forth = match (key.key().to_ascii_lowercase().as_str(), key.shift_key()) {
            ("z", forth) => forth,
            ("y", _) => true,
            _ => return,
        };
        event.prevent_default();
        return with(|app| app.undo(forth));
    }
    let Some(input) = element.dyn_ref::<HtmlInputElement>() else { return };
    let steps = match key.key().as_str() {
        "ArrowUp" => 1.0,
        "ArrowDown" => -1.0,
        _ => return,
    };
    if let Some(field) = field_of(&element).filter(|_| input.type_() == "text") {
        event.prevent_default();
        with(|app| app.step(field, steps));
    }
}

fn on_focus(event: Event) {
    let Some(element) = dom::target::<Element>(&event) else { return };
    touch(element.closest("fieldset").ok().flatten());
}

/// Outlines the part whose field has the focus, and the group of its fields.
fn touch(fieldset: Option<Element>) {
    let key = fieldset.as_ref().and_then(|fieldset| fieldset.get_attribute("data-group"));
    let group = key.and_then(|key| Group::ALL.into_iter().find(|group| group.key() == key));
    for each in Group::ALL {
        if let Some(fieldset) = dom::by_id(&format!("group-{}", each.key())) {
            dom::class(&fieldset, "touched", group == Some(each));
        }
    }
    with(|app| {
        if app.touched != group {
            app.touched = group;
            drawing::show(app);
        }
    });
}

/// A field that is left is shown tidily, or what is wrong with it is said.
fn on_leave(event: Event) {
    let Some(element) = dom::target::<Element>(&event) else { return };
    dom::flag(&element, "data-typing", false);
    let (Some(field), Some(input)) = (field_of(&element), element.dyn_ref::<HtmlInputElement>()) else { return };
    if input.type_() == "text" {
        with(|app| {
            app.remark(field);
            crate::fields::tidy(app, field);
        });
    }
}

fn on_toggle(event: Event) {
    let Some(element) = dom::target::<Element>(&event) else { return };
    with(|app| answers::toggled(app, &element, element.has_attribute("open")));
}

/// A slider remembers where it was, so that a swipe across it can leave it alone.
fn on_pointer_down(event: Event) {
    if let Some(field) = slider(&event) {
        with(|app| app.slid_from = Some((field, app.setup.get(field))));
    }
}

/// The browser took the gesture for scrolling: the value goes back to what it was.
fn on_pointer_cancel(event: Event) {
    if slider(&event).is_some() {
        with(|app| {
            if let Some((field, was)) = app.slid_from.take() {
                app.give(field, was);
            }
        });
    }
}

/// The field of the slider an event is for, if it is for one.
fn slider(event: &Event) -> Option<Field> {
    let element = dom::target::<Element>(event)?;
    let is_slider = element.dyn_ref::<HtmlInputElement>()?.type_() == "range";
    field_of(&element).filter(|_| is_slider)
}
