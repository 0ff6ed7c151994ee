//! Writes the JavaScript glue for the page's compiled Rust.
//!
//! Built from the same `Cargo.lock` as the page, so that tool and library cannot drift apart.

use std::env::args_os;
use std::process::ExitCode;

fn main() -> ExitCode {
    match wasm_bindgen_cli::wasm_bindgen::run_cli_with_args(args_os()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("bindgen: {error:?}");
            ExitCode::FAILURE
        }
    }
}
