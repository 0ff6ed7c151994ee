//! Any text as a saved build: a finite report, or an error that names its place.

#![no_main]

use clothyard_core::setup::SavedSetup;
use clothyard_studies::report;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| {
    let Ok(saved) = serde_json::from_str::<SavedSetup>(text) else { return };
    match report::evaluate(&saved) {
        Ok(report) => {
            for (key, number) in &report.results.0 {
                assert!(number.is_none_or(f64::is_finite), "{key}");
            }
        }
        Err(error) => assert!(!error.message.is_empty()),
    }
});
