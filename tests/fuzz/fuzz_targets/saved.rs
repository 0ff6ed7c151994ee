//! Any text as a saved setup, and as what the page keeps of itself: a finite report, or an error that names its place.

#![no_main]

use clothyard_core::Setup;
use clothyard_core::plain::from_json;
use clothyard_core::setup::PageState;
use clothyard_studies::Report;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| {
    match from_json::<Setup>(text) {
        Ok(setup) => {
            for (key, number) in &Report::of(&setup).results.0 {
                assert!(number.is_none_or(f64::is_finite), "{key}");
            }
        }
        Err(error) => assert!(error.message.contains(&error.field) && !error.message.is_empty()),
    }
    match from_json::<PageState>(text) {
        Ok(state) => {
            let text = serde_json::to_string(&state).expect("it can be written");
            assert_eq!(from_json::<PageState>(&text), Ok(state));
        }
        Err(error) => assert!(error.message.contains(&error.field) && !error.message.is_empty()),
    }
});
