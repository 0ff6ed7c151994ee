//! Writes the table of published checks into `tests/accuracy.md`, between its marks.

use clothyard_tools::{accuracy, splice};
use std::process::ExitCode;

fn main() -> ExitCode {
    match run("tests/accuracy.md") {
        Ok(()) => ExitCode::SUCCESS,
        Err(message) => {
            eprintln!("write_accuracy: {message}");
            ExitCode::FAILURE
        }
    }
}

fn run(path: &str) -> Result<(), String> {
    let text = std::fs::read_to_string(path).map_err(|error| format!("{path}: {error}"))?;
    let made = splice::between_marks(&text, "accuracy", &accuracy::table()?)?;
    std::fs::write(path, made).map_err(|error| format!("{path}: {error}"))
}
