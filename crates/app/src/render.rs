//! Rendering: each part writes only what changed.

pub(crate) mod announcer;
mod answer;
pub(crate) mod arrow;
pub(crate) mod fields;
pub(crate) mod finder;
pub(crate) mod glance;
pub(crate) mod help;
pub(crate) mod lists;
pub(crate) mod parts;
mod warnings;

pub(crate) use answer::Known;

use crate::points;
use crate::state::App;
use clothyard_core::Units;
use clothyard_core::drawing::plate::NAMED;
use clothyard_core::units::CHOOSABLE;
use clothyard_web as dom;
use clothyard_web::widgets::drawing::Drawing;
use clothyard_web::widgets::select;
use wasm_bindgen::JsCast;
use web_sys::HtmlSelectElement;

/// The drawings of the page.
pub(crate) struct Drawings {
    arrow: Drawing,
    band: Drawing,
}

impl Default for Drawings {
    fn default() -> Self {
        Self { arrow: Drawing::new("arrow", "arrow-marks"), band: Drawing::new("band", "band-marks") }
    }
}

/// Widths in pixels, measured when the page is laid out. To ask between two changes would make the browser lay out the
/// page twice.
#[derive(Clone, Copy, PartialEq)]
pub(crate) struct Rooms {
    pub(crate) arrow: f64,
    pub(crate) band: f64,
    pub(crate) text: f64,
    /// From where to where the names of the parts go, from the left of the drawing.
    pub(crate) names: Option<[(f64, f64); NAMED.len()]>,
}

impl Rooms {
    /// For paper, whose width the browser does not tell.
    pub(crate) const PAPER: Self = Self { arrow: 700.0, band: 240.0, text: 14.0, names: None };

    pub(crate) fn measure() -> Self {
        let side = |id: &str| dom::by_id(id).map(|element| element.get_bounding_client_rect());
        let (left, arrow) = side("arrow").map_or((0.0, 0.0), |side| (side.left(), side.width()));
        let mut names = [(0.0, 0.0); NAMED.len()];
        let mut last = f64::NEG_INFINITY;
        let mut beside = true;
        for (name, group) in names.iter_mut().zip(NAMED) {
            let side = dom::by_id(&format!("part-{}", group.key())).and_then(|value| value.closest("button").ok()?);
            let side = side.map(|button| button.get_bounding_client_rect());
            *name = side.map_or(*name, |side| (side.left() - left, side.right() - left));
            // Very large text makes the names a list, one below the other.
            beside &= name.0 > last;
            last = name.0;
        }
        let band = side("band").map_or(0.0, |side| side.width());
        Self { arrow, band, text: text_px(), names: beside.then_some(names) }
    }
}

/// Height of the text of the drawings in pixels.
fn text_px() -> f64 {
    let size = || -> Option<String> {
        let style = dom::window()?.get_computed_style(&dom::by_id("plate")?).ok()??;
        style.get_property_value("font-size").ok()
    };
    // The browser reads the number before the unit; the library's own reader of numbers would weigh 15 KB.
    size().map_or(16.0, |size| js_sys::parse_float(&size))
}

/// Shows everything that follows the setup or the units.
pub(crate) fn show(app: &mut App) {
    fields::show(app);
    points::show(app);
    answer::show(app);
    parts::show(app);
    glance::show(app);
    help::follow(app);
    warnings::show(app);
    show_drawings(app);
    show_name(app);
    for (id, can) in [("undo", app.can_undo()), ("redo", app.can_redo())] {
        if let Some(button) = dom::by_id(id) {
            dom::flag(&button, if id == "undo" { "disabled" } else { "hidden" }, !can);
        }
    }
}

/// Shows what follows an entry that cannot be read.
pub(crate) fn show_entries(app: &mut App) {
    answer::show(app);
    help::follow(app);
}

/// Draws in the room there is.
pub(crate) fn show_drawings(app: &mut App) {
    answer::show_band(app);
    arrow::show(app);
}

/// The name of the setup, in the place of the page's job.
fn show_name(app: &App) {
    let name = &app.setup.name;
    dom::write_id("setup-name", if name.is_empty() { "Match an arrow to a bow" } else { name });
}

/// Shows in the choices which units are in use.
pub(crate) fn show_units(units: &Units) {
    let all = if *units == Units::ARCHERY {
        "archery"
    } else if *units == Units::metric() {
        "metric"
    } else if *units == Units::pounds_and_centimeters() {
        "pounds"
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
