//! The reports in `tests/golden`, made natively, must come out bit for bit as they are. The page's own
//! test makes the same ones in wasm.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that panics has failed, which is its job")]

use clothyard_core::Setup;
use clothyard_core::plain::from_json;
use clothyard_studies::Report;
use std::path::Path;

#[test]
fn native_reports_are_the_golden_ones() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/golden");
    let mut count = 0;
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        let name = path.file_name().unwrap().to_str().unwrap().to_owned();
        if !name.ends_with(".json") || name.ends_with(".report.json") {
            continue;
        }
        let setup: Setup = from_json(&std::fs::read_to_string(&path).unwrap()).unwrap();
        let made = serde_json::to_string_pretty(&Report::of(&setup)).unwrap() + "\n";
        let golden = std::fs::read_to_string(path.with_extension("report.json")).unwrap();
        assert!(made == golden, "{name}: the report moved; if that was meant, run scripts/write-golden");
        count += 1;
    }
    assert_eq!(count, 5);
}
