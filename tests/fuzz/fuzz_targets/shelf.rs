//! Any text as a backup of everything kept: entries that can all be loaded, or an error with a message.

#![no_main]

use clothyard_core::Setup;
use clothyard_studies::sharing::shelf::Shelf;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| {
    let Ok(shelf) = serde_json::from_str::<Shelf>(text) else { return };
    match shelf.check() {
        Ok(()) => assert!(shelf.kept.iter().all(|kept| Setup::from_saved(&kept.setup).is_ok())),
        Err(error) => assert!(!error.message().is_empty()),
    }
});
