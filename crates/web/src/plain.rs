//! Between Rust and plain objects of JavaScript: written by serde, read by [`clothyard_core::plain`].

use clothyard_core::plain::{self, FromPlain, Plain};
use clothyard_core::report::ErrorReport;
use js_sys::{Array, Error, JSON, Object};
use serde::Serialize;
use wasm_bindgen::{JsCast, JsValue};

/// A value of JavaScript, to be read.
struct Js(JsValue);

impl Plain for Js {
    fn as_f64(&self) -> Option<f64> {
        self.0.as_f64()
    }

    fn as_text(&self) -> Option<String> {
        self.0.as_string()
    }

    fn is_null(&self) -> bool {
        self.0.is_null()
    }

    fn items(&self) -> Option<Vec<Self>> {
        self.0.dyn_ref::<Array>().map(|array| array.iter().map(Self).collect())
    }

    fn entries(&self) -> Option<Vec<(String, Self)>> {
        let object = self.0.dyn_ref::<Object>().filter(|_| !Array::is_array(&self.0))?;
        let pair = |pair: JsValue| {
            let pair: &Array = pair.unchecked_ref();
            (pair.get(0).as_string().unwrap_or_default(), Self(pair.get(1)))
        };
        Some(Object::entries(object).iter().map(pair).collect())
    }
}

/// Reads plain objects.
///
/// # Errors
/// The place of what cannot be read, and what is wanted there.
pub fn read<T: FromPlain>(value: &JsValue) -> Result<T, ErrorReport> {
    plain::read(Js(value.clone()))
}

/// Reads JSON.
///
/// # Errors
/// Why it is none; else the place of what cannot be read, and what is wanted there.
pub fn from_json<T: FromPlain>(text: &str) -> Result<T, ErrorReport> {
    plain::read(Js(parse(text)?))
}

fn parse(text: &str) -> Result<JsValue, ErrorReport> {
    JSON::parse(text).map_err(|error| {
        let why = error.dyn_ref::<Error>().map_or_else(String::new, |error| String::from(error.message()));
        ErrorReport::not_json(&why)
    })
}

/// A value as plain objects, arrays, strings, numbers and null.
#[must_use]
pub fn write(value: &impl Serialize) -> JsValue {
    value.serialize(&serde_wasm_bindgen::Serializer::json_compatible()).unwrap_or(JsValue::NULL)
}

/// A value as JSON on one line.
#[must_use]
pub fn to_json(value: &impl Serialize) -> String {
    stringify(&write(value), 0)
}

/// A value as JSON for people, each level indented by two spaces.
#[must_use]
pub fn to_readable_json(value: &impl Serialize) -> String {
    stringify(&write(value), 2)
}

fn stringify(value: &JsValue, indent: u32) -> String {
    let text = JSON::stringify_with_replacer_and_space(value, &JsValue::NULL, &JsValue::from(indent));
    text.ok().and_then(|text| text.as_string()).unwrap_or_default()
}
