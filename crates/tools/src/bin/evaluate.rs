//! Prints the full report of one saved setup as JSON: `evaluate SETUP.json`, or `-` for standard input.

use clothyard_core::Setup;
use clothyard_core::plain::from_json;
use clothyard_studies::Report;
use std::io::Read;
use std::process::ExitCode;

fn main() -> ExitCode {
    match run() {
        Ok(text) => {
            println!("{text}");
            ExitCode::SUCCESS
        }
        Err(message) => {
            eprintln!("evaluate: {message}");
            ExitCode::FAILURE
        }
    }
}

fn run() -> Result<String, String> {
    let path = std::env::args().nth(1).ok_or("usage: evaluate SETUP.json")?;
    let text = read(&path).map_err(|error| format!("{path}: {error}"))?;
    let setup: Setup = from_json(&text).map_err(|error| format!("{path}: {}", error.message))?;
    serde_json::to_string_pretty(&Report::of(&setup)).map_err(|error| error.to_string())
}

fn read(path: &str) -> std::io::Result<String> {
    if path != "-" {
        return std::fs::read_to_string(path);
    }
    let mut text = String::new();
    std::io::stdin().read_to_string(&mut text)?;
    Ok(text)
}
