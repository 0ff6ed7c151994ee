//! Writes everything that is generated from the tables: the markup of fields and answers in `www`, between its
//! marks, and the npm package's key types.

use clothyard_tools::{markup, package_keys};
use std::process::ExitCode;

fn main() -> ExitCode {
    match write_markup().and_then(|()| write(package_keys::PATH, &package_keys::declarations())) {
        Ok(()) => ExitCode::SUCCESS,
        Err(message) => {
            eprintln!("write_form: {message}");
            ExitCode::FAILURE
        }
    }
}

fn write_markup() -> Result<(), String> {
    let mut left = markup::sections();
    for path in markup::FILES {
        let text = std::fs::read_to_string(path).map_err(|error| format!("{path}: {error}"))?;
        write(path, &markup::write_into(&text, &mut left)?)?;
    }
    left.first().map_or(Ok(()), |(name, _)| Err(format!("no file has the mark <!-- {name} -->")))
}

fn write(path: &str, text: &str) -> Result<(), String> {
    std::fs::write(path, text).map_err(|error| format!("{path}: {error}"))
}
