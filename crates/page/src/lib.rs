//! The page: a plain form, a drawing to scale and live answers.
//!
//! The markup stands in `www/index.html`; this crate fills it. [`evaluate`] is the same report as
//! `scripts/evaluate` prints, for scripts.

// What every part of the page needs.
mod dom;
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

use clothyard_workbench::build::SavedBuild;
use clothyard_workbench::report::{self, ErrorReport};
use serde::Serialize;
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
pub fn evaluate(build: JsValue) -> Result<JsValue, JsValue> {
    let saved: SavedBuild =
        serde_wasm_bindgen::from_value(build).map_err(|error| plain(&shape_error(&error.to_string())))?;
    report::evaluate(&saved).map(|report| plain(&report)).map_err(|error| plain(&error))
}

fn shape_error(message: &str) -> ErrorReport {
    ErrorReport {
        code: "shape",
        field: String::new(),
        value: None,
        minimum: None,
        maximum: None,
        message: message.to_owned(),
    }
}

/// Plain objects, arrays, strings, numbers and null.
fn plain(value: &impl Serialize) -> JsValue {
    value.serialize(&serde_wasm_bindgen::Serializer::json_compatible()).unwrap_or(JsValue::NULL)
}
