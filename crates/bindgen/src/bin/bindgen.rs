//! Writes the JavaScript glue of one compiled module: `bindgen MODULE.wasm FOLDER NAME`.
//!
//! Built from the same `Cargo.lock` as the page, so that tool and library cannot drift apart. It uses the library behind
//! the `wasm-bindgen` command, which compiles in half the time of the command itself.

use std::env::args_os;
use std::process::ExitCode;

use wasm_bindgen_cli_support::Bindgen;

fn main() -> ExitCode {
    let given: Vec<_> = args_os().skip(1).collect();
    let [module, folder, name] = given.as_slice() else {
        eprintln!("usage: bindgen MODULE.wasm FOLDER NAME");
        return ExitCode::FAILURE;
    };
    let mut bindgen = Bindgen::new();
    bindgen
        .input_path(module)
        .out_name(&name.to_string_lossy())
        .remove_producers_section(true)
        .typescript(true)
        .omit_default_module_path(false);
    match bindgen.web(true).and_then(|bindgen| bindgen.generate(folder)) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("bindgen: {error:?}");
            ExitCode::FAILURE
        }
    }
}
