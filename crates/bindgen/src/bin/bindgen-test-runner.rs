//! Runs the page's Rust tests in a headless browser, as cargo's runner for wasm32.
//!
//! Built from the same `Cargo.lock` as the page, so that tool and library cannot drift apart.

use std::env::args_os;
use std::process::ExitCode;

fn main() -> ExitCode {
    match wasm_bindgen_cli::wasm_bindgen_test_runner::run_cli_with_args(args_os()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("bindgen-test-runner: {error:?}");
            ExitCode::FAILURE
        }
    }
}
