//! Writes the markup of every field and answer into `www/index.html`, between its marks.

use clothyard_tools::{markup, splice};
use std::process::ExitCode;

fn main() -> ExitCode {
    match run("www/index.html") {
        Ok(()) => ExitCode::SUCCESS,
        Err(message) => {
            eprintln!("write_form: {message}");
            ExitCode::FAILURE
        }
    }
}

fn run(path: &str) -> Result<(), String> {
    let mut text = std::fs::read_to_string(path).map_err(|error| format!("{path}: {error}"))?;
    for (name, made) in markup::sections() {
        text = splice::between_marks(&text, &name, &made)?;
    }
    std::fs::write(path, text).map_err(|error| format!("{path}: {error}"))
}
