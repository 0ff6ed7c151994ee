//! Any text as a library of saved setups: entries that can all be loaded, or an error with a message.

#![no_main]

use clothyard_core::Setup;
use clothyard_core::plain::from_json;
use clothyard_studies::sharing::library::Library;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| {
    match from_json::<Library>(text) {
        Ok(library) => {
            assert!(library.setups.iter().all(|kept| Setup::from_saved(&kept.setup).is_ok()));
            let text = serde_json::to_string(&library).expect("it can be written");
            assert_eq!(from_json::<Library>(&text), Ok(library));
        }
        Err(error) => assert!(!error.message.is_empty()),
    }
});
