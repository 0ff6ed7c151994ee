//! The page: a plain form, a drawing to scale and live answers.
//!
//! The markup stands in `www/index.html`; this crate fills it.

// What stays in the browser.
mod keep;

// What it shows.
mod answers;
mod drawing;
mod fields;
mod lists;
mod sentences;
mod tape;

// What it does.
mod app;
mod events;

use clothyard_core::{Setup, Units};
use clothyard_web::plain;
use wasm_bindgen::prelude::*;

/// Starts the page; called once, when the wasm is there.
#[wasm_bindgen]
pub fn start() {
    if let Some(app) = app::App::open() {
        events::listen_all(app);
    }
}

/// The set-up on the page, as a saved build in plain objects.
#[wasm_bindgen]
#[must_use]
pub fn current_build() -> JsValue {
    let mut setup = JsValue::NULL;
    app::with(|app| setup = plain::write(&app.setup));
    setup
}

/// How often set-up or units have changed since the page was opened.
#[wasm_bindgen]
#[must_use]
pub fn count_changes() -> u32 {
    app::changes()
}

/// Puts a saved build on the page, undoably.
///
/// # Errors
/// `{code, field, value, minimum, maximum, message}`.
#[wasm_bindgen]
pub fn load_build(setup: &JsValue) -> Result<(), JsValue> {
    let setup = plain::read::<Setup>(setup).map_err(|error| plain::write(&error))?;
    app::with(|app| app.replace(setup));
    Ok(())
}

/// The units chosen on the page, as one line of text.
#[wasm_bindgen]
#[must_use]
pub fn current_units() -> String {
    let mut units = Units::ARCHERY;
    app::with(|app| units = app.units);
    units.to_text()
}
