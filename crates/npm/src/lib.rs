//! The calculator as a package for other programs: one function from a saved setup to its full report, both plain objects.
//!
//! `package` holds the files written by hand that go into the npm package beside the wasm.

use clothyard_core::Setup;
use clothyard_studies::Report;
use clothyard_web::plain;
use wasm_bindgen::prelude::*;

/// The report of a saved setup, the same that `scripts/evaluate` prints.
///
/// # Errors
/// `{code, field, value, minimum, maximum, message}`.
#[wasm_bindgen]
pub fn evaluate(setup: &JsValue) -> Result<JsValue, JsValue> {
    let setup = plain::read::<Setup>(setup).map_err(|error| plain::write(&error))?;
    Ok(plain::write(&Report::of(&setup)))
}
