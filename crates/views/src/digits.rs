//! Numbers as the browser writes and reads them: to the last bit, and at no cost to the wasm.

use clothyard_studies::sharing::link::Digits;
use js_sys::Number;
use wasm_bindgen::JsValue;

/// The browser's own digits.
pub(crate) const DIGITS: Digits = Digits { write, read };

fn write(number: f64) -> String {
    let digits = Number::from(number).to_string_with_radix(10).ok();
    digits.and_then(|digits| digits.as_string()).unwrap_or_default()
}

fn read(text: &str) -> Option<f64> {
    Some(JsValue::from_str(text).unchecked_into_f64())
}
