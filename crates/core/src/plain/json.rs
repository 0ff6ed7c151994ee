//! JSON as `serde_json` reads it, for programs that run outside a browser, tests and fuzzing.

use super::{FromPlain, Plain, read};
use crate::report::ErrorReport;
use serde_json::Value;

impl Plain for &Value {
    fn as_f64(&self) -> Option<f64> {
        Value::as_f64(self)
    }

    fn as_text(&self) -> Option<String> {
        self.as_str().map(str::to_owned)
    }

    fn is_null(&self) -> bool {
        Value::is_null(self)
    }

    fn items(&self) -> Option<Vec<Self>> {
        self.as_array().map(|items| items.iter().collect())
    }

    fn entries(&self) -> Option<Vec<(String, Self)>> {
        self.as_object().map(|object| object.iter().map(|(key, value)| (key.clone(), value)).collect())
    }
}

/// Reads JSON.
///
/// # Errors
/// Why it is none; else the place of what cannot be read, and what is wanted there.
pub fn from_json<T: FromPlain>(text: &str) -> Result<T, ErrorReport> {
    let value: Value = serde_json::from_str(text).map_err(|error| ErrorReport::not_json(&error.to_string()))?;
    read(&value)
}
