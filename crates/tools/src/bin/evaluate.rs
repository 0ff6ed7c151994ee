//! Prints the full report of one saved setup as JSON: `evaluate SETUP.json`, or `-` for standard input.

use clothyard_studies::report;
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
    let saved = serde_json::from_str(&text).map_err(|error| format!("{path}: {error}"))?;
    let report = report::evaluate(&saved).map_err(|error| format!("{path}: {}", error.message))?;
    serde_json::to_string_pretty(&report).map_err(|error| error.to_string())
}

fn read(path: &str) -> std::io::Result<String> {
    if path != "-" {
        return std::fs::read_to_string(path);
    }
    let mut text = String::new();
    std::io::stdin().read_to_string(&mut text)?;
    Ok(text)
}
