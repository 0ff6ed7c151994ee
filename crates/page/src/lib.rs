//! The page: a plain form, a drawing to scale and live answers.
//!
//! The markup stands in `www/index.html`; this crate fills it. [`evaluate`] is the same report as
//! `scripts/evaluate` prints, for scripts.

// What stays in the browser.
mod keep;

// What it shows.
mod answers;
mod drawing;
mod fields;
mod lists;
mod tape;

// What it does.
mod app;
mod events;

use clothyard_dom::plain;
use clothyard_workbench::report;
use wasm_bindgen::prelude::*;

/// Starts the page; called once, when the wasm is there.
#[wasm_bindgen]
pub fn start() {
    if let Some(app) = app::App::open() {
        events::listen_all(app);
    }
}

/// The report of a saved build, both as plain objects.
///
/// # Errors
/// `{code, field, value, minimum, maximum, message}`.
#[wasm_bindgen]
pub fn evaluate(build: &JsValue) -> Result<JsValue, JsValue> {
    let report = plain::saved_build(build).and_then(|saved| report::evaluate(&saved));
    report.map(|report| plain::write(&report)).map_err(|error| plain::write(&error))
}
