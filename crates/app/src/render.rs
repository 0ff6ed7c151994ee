//! What the page shows: each part writes only what differs.

pub(crate) mod answers;
pub(crate) mod arrow;
pub(crate) mod fields;
pub(crate) mod lists;
mod match_bar;
mod sentences;

use crate::state::App;
use clothyard_core::units::CHOOSABLE;
use clothyard_core::{Units, format};
use clothyard_web as dom;
use clothyard_web::widgets::drawing::Drawing;
use clothyard_web::widgets::select;
use wasm_bindgen::JsCast;
use web_sys::{HtmlElement, HtmlSelectElement};

/// The drawings of the page.
pub(crate) struct Drawings {
    arrow: Drawing,
    match_bar: Drawing,
}

impl Default for Drawings {
    fn default() -> Self {
        Self { arrow: Drawing::new("arrow", "arrow-marks"), match_bar: Drawing::new("tape", "tape-marks") }
    }
}

/// Widths in pixels, measured when the page is laid out. To ask between two changes would make the browser lay out the
/// page twice.
#[derive(Clone, Copy, Default)]
pub(crate) struct Rooms {
    pub(crate) arrow: f64,
    pub(crate) match_bar: f64,
}

impl Rooms {
    /// For paper, whose width the browser does not tell.
    pub(crate) const PAPER: Self = Self { arrow: 700.0, match_bar: 330.0 };

    pub(crate) fn measure() -> Self {
        let width = |id: &str| dom::by_id(id).map_or(0.0, |element| element.get_bounding_client_rect().width());
        Self { arrow: width("arrow"), match_bar: width("tape") }
    }
}

/// Shows everything that follows the setup or the units.
pub(crate) fn show(app: &mut App) {
    fields::show(app);
    answers::show(app);
    show_drawings(app);
    show_name(app);
    for (id, can) in [("undo", app.can_undo()), ("redo", app.can_redo())] {
        if let Some(button) = dom::by_id(id) {
            dom::flag(&button, "disabled", !can);
        }
    }
}

/// Draws in the room there is.
pub(crate) fn show_drawings(app: &mut App) {
    match_bar::show(app);
    arrow::show(app);
}

/// The name of the set-up, and whether it is one of the invented ones.
fn show_name(app: &App) {
    let name = &app.setup.name;
    let invented = app.is_invented();
    dom::hide("example", !invented);
    dom::write_id("example-name", name);
    dom::write_id("setup-name", &if name.is_empty() || invented { String::new() } else { format!("{name}.") });
}

/// Tells the style sheet how high the drawing and the headline are, so that nothing that has the focus
/// lies under them.
pub(crate) fn keep_in_sight() {
    let root = dom::document().and_then(|document| document.document_element()?.dyn_into::<HtmlElement>().ok());
    let Some(root) = root else { return };
    for id in ["drawing", "headline"] {
        let height = dom::by_id(id).map_or(0.0, |element| element.get_bounding_client_rect().height());
        let _ = root.style().set_property(&format!("--{id}-height"), &(format::fixed(height, 1) + "px"));
    }
}

/// Shows in the choices which units are in use.
pub(crate) fn show_units(units: &Units) {
    let all = if *units == Units::ARCHERY {
        "archery"
    } else if *units == Units::metric() {
        "metric"
    } else {
        "mixed"
    };
    select::choose("all-units", all);
    for quantity in CHOOSABLE {
        let choice = dom::by_id(&format!("unit-{}", quantity.key()));
        let choice = choice.and_then(|choice| choice.dyn_into::<HtmlSelectElement>().ok());
        if let (Some(choice), Ok(index)) = (choice, i32::try_from(units.index(quantity))) {
            choice.set_selected_index(index);
        }
    }
}

/// Light, dark or as the system.
pub(crate) fn show_looks(looks: &str) {
    if let Some(root) = dom::document().and_then(|document| document.document_element()) {
        dom::set(&root, "data-looks", looks);
    }
    select::choose("looks", looks);
}

/// What is shown once: the page is scripted, its version and its build.
pub(crate) fn show_version() {
    let Some(document) = dom::document() else { return };
    if let Some(root) = document.document_element() {
        dom::class(&root, "scripted", true);
    }
    dom::write_id("version", env!("CARGO_PKG_VERSION"));
    let build = document.query_selector("meta[name=build]").ok().flatten();
    dom::write_id("build", &build.and_then(|meta| meta.get_attribute("content")).unwrap_or_default());
}
