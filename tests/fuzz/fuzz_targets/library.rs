//! Any text as a library of saved setups: entries that can all be loaded, or an error with a message.

#![no_main]

use clothyard_core::Setup;
use clothyard_core::plain::from_json;
use clothyard_studies::sharing::reading::ReadableSetups;
use clothyard_studies::sharing::library::Library;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| {
    let readable = from_json::<ReadableSetups>(text);
    match from_json::<Library>(text) {
        Ok(library) => {
            assert!(library.setups.iter().all(|kept| Setup::from_saved(&kept.setup).is_ok()));
            assert!(readable.is_err() || readable.is_ok_and(|list| list.unread == 0));
            let text = serde_json::to_string(&library).expect("it can be written");
            assert_eq!(from_json::<Library>(&text), Ok(library));
        }
        Err(error) => assert!(!error.message.is_empty()),
    }
});
