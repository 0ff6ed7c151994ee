//! What views keep, write and read: JSON, with the place of what cannot be read.

use clothyard_core::report::ErrorReport;
use clothyard_core::setup::{MOST_NAME_CHARS, SCHEMA_VERSION, SavedSetup, SetupError};
use clothyard_web::plain::{self, Pair, wrong};
use clothyard_web::{self as dom, store};
use js_sys::{Error, JSON, Math};
use wasm_bindgen::{JsCast, JsValue};

/// Reads JSON.
///
/// # Errors
/// Why it is none.
pub(crate) fn parse(text: &str) -> Result<JsValue, ErrorReport> {
    JSON::parse(text).map_err(|error| {
        let why = error.dyn_ref::<Error>().map_or_else(String::new, |error| String::from(error.message()));
        wrong("The text", &format!("it is not JSON ({why})"))
    })
}

/// Plain objects as JSON, indented for people by so many spaces.
pub(crate) fn json(value: &JsValue, indent: u32) -> String {
    let text = JSON::stringify_with_replacer_and_space(value, &JsValue::NULL, &JsValue::from_f64(f64::from(indent)));
    text.ok().and_then(|text| text.as_string()).unwrap_or_default()
}

/// Keeps a text under a name.
///
/// # Errors
/// Why the browser did not keep it, in a sentence.
pub(crate) fn put(name: &str, text: &str) -> Result<(), String> {
    store::put(name, text).map_err(|why| format!("Not kept: {why}."))
}

/// An id that no other entry has, of this browser or another.
pub(crate) fn fresh_id() -> String {
    format!("{:x}-{:x}", dom::now() as u64, (Math::random() * 4_294_967_296.0) as u64)
}

/// Whether a newer page wrote it.
pub(crate) fn is_newer(error: &ErrorReport) -> bool {
    error.code == "schema"
}

/// The keys and values of an object, unless a newer page wrote it: that is told before anything else in it.
pub(crate) fn pairs_of_this_version(value: &JsValue, place: &str) -> Result<Vec<Pair>, ErrorReport> {
    let pairs = plain::entries(value, place)?;
    let version = pairs.iter().find(|(key, _)| key == "schemaVersion").and_then(|(_, value)| value.as_f64());
    if let Some(version) = version.filter(|&version| version > f64::from(SCHEMA_VERSION)) {
        return Err(ErrorReport::of(&SetupError::Schema { found: version as u32, newest: SCHEMA_VERSION }));
    }
    Ok(pairs)
}

/// A saved build.
///
/// # Errors
/// Its place and what cannot be read there.
pub(crate) fn setup(value: &JsValue, place: &str) -> Result<SavedSetup, ErrorReport> {
    pairs_of_this_version(value, place)?;
    let message = |error: ErrorReport| ErrorReport { message: format!("{place}: {}", error.message), ..error };
    plain::saved_build(value).map_err(message)
}

/// A text no longer than a name.
///
/// # Errors
/// Its place, where it is longer.
pub(crate) fn short(value: &JsValue, place: &str) -> Result<String, ErrorReport> {
    let text = plain::text(value, place)?;
    if text.chars().count() > MOST_NAME_CHARS {
        return Err(wrong(place, &format!("at most {MOST_NAME_CHARS} characters are wanted")));
    }
    Ok(text)
}

/// An id as this page gives them, and no other text that could reach the page's selectors.
///
/// # Errors
/// Its place, where it is another.
pub(crate) fn id(value: &JsValue, place: &str) -> Result<String, ErrorReport> {
    let id = short(value, place)?;
    if id.bytes().all(|byte| byte.is_ascii_alphanumeric() || byte == b'-') {
        Ok(id)
    } else {
        Err(wrong(place, "letters, digits and hyphens are wanted"))
    }
}
