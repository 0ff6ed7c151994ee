//! Writes everything that is generated from the tables: the markup of fields and answers in `www/index.html`, between
//! its marks, and the npm package's key types.

use clothyard_tools::{markup, package_keys, splice};
use std::process::ExitCode;

fn main() -> ExitCode {
    match write_markup("www/index.html").and_then(|()| write(package_keys::PATH, &package_keys::declarations())) {
        Ok(()) => ExitCode::SUCCESS,
        Err(message) => {
            eprintln!("write_form: {message}");
            ExitCode::FAILURE
        }
    }
}

fn write_markup(path: &str) -> Result<(), String> {
    let mut text = std::fs::read_to_string(path).map_err(|error| format!("{path}: {error}"))?;
    for (name, made) in markup::sections() {
        text = splice::between_marks(&text, &name, &made)?;
    }
    write(path, &text)
}

fn write(path: &str, text: &str) -> Result<(), String> {
    std::fs::write(path, text).map_err(|error| format!("{path}: {error}"))
}
