//! The calculator as a package for other programs: a saved build in, its full report out, both plain objects.

use clothyard_studies::report;
use clothyard_web::plain;
use wasm_bindgen::prelude::*;

/// What a build and a report look like, for editors and compilers.
#[wasm_bindgen(typescript_custom_section)]
const TYPES: &str = include_str!("types.d.ts");

/// The report of a saved build: what `scripts/evaluate` prints.
///
/// # Errors
/// `{code, field, value, minimum, maximum, message}`.
#[wasm_bindgen(unchecked_return_type = "Report")]
pub fn evaluate(#[wasm_bindgen(unchecked_param_type = "Build")] setup: &JsValue) -> Result<JsValue, JsValue> {
    let report = plain::saved_build(setup).and_then(|saved| report::evaluate(&saved));
    report.map(|report| plain::write(&report)).map_err(|error| plain::write(&error))
}
