//! The figures under "Accuracy" in the README are those of today's code, for a bow of 60 lb.

#![allow(clippy::unwrap_used, reason = "a test that panics has failed, which is its job")]

use clothyard_core::eval::COVERAGE;
use clothyard_core::eval::baseline::Baseline;
use clothyard_core::plain::from_json;
use clothyard_core::schema::Output;
use clothyard_core::{Evaluation, Setup};
use clothyard_studies::analysis::ranges::ranges;
use std::path::Path;

/// Draw weight off the label, draw length, point.
const THREE_NUMBERS: &str = r#""peakDrawWeightLb": 60, "drawLengthIn": 28.5, "pointGr": 100"#;

const BOW_SCALE: &str = r#""drawWeightFrom": "scale""#;

/// The rest of the bow and the arrow, measured and weighed.
const MEASURED: &str = r#""drawWeightFrom": "scale", "braceHeightIn": 6.75, "letOffPercent": 80, "restOffsetIn": 0.5,
    "staticSpineThousandths": 340, "shaftGrPerIn": 8.9, "outerDiameterIn": 0.272, "boreIn": 0.204, "cutLengthIn": 27.5,
    "nockGr": 9, "vaneGr": 6, "insertGr": 20"#;

const DRAW_FORCE: &str = r#""drawForce": [[6.75, 0], [8, 16], [10, 34], [12, 50], [14, 59], [16, 60], [18, 60],
    [20, 59.5], [22, 56], [24, 42], [25.5, 24], [26.75, 12]]"#;

const RATED: &str = r#""ratedSpeedFps": 320"#;
const CHRONOGRAPH: &str = r#""chronographSpeedFps": 265, "chronographArrowGr": 397"#;

fn setup(inputs: &[&str], lists: &str) -> Setup {
    let inputs = inputs.join(", ");
    from_json(&format!(r#"{{ "schemaVersion": 1, "inputs": {{ {inputs} }}, "lists": {{ {lists} }} }}"#)).unwrap()
}

/// Two standard errors of the launch speed, in percent of it.
fn speed_percent(inputs: &[&str], lists: &str) -> f64 {
    let outputs = Evaluation::of(&setup(inputs, lists)).outputs;
    100.0 * outputs.get(Output::SpeedSpread).unwrap() / outputs.get(Output::LaunchSpeed).unwrap()
}

/// Two standard uncertainties of the best-match draw weight, in pounds.
fn match_lb(inputs: &[&str]) -> f64 {
    let setup = setup(inputs, "");
    let found = ranges(&Baseline::new(&setup), &[Output::IdealDrawWeight]);
    COVERAGE * found.first().unwrap().standard
}

#[test]
fn the_readme_states_todays_accuracy() {
    let readme = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../README.md");
    let readme = std::fs::read_to_string(readme).unwrap();
    let speeds = format!(
        "within about {:.0}% from the bow type alone, {:.1}% with measured draw force, {:.1}% with a rated speed, {:.1}% \
         with one chronograph reading",
        speed_percent(&[THREE_NUMBERS], ""),
        speed_percent(&[THREE_NUMBERS, BOW_SCALE], DRAW_FORCE),
        speed_percent(&[THREE_NUMBERS, RATED], ""),
        speed_percent(&[THREE_NUMBERS, CHRONOGRAPH], ""),
    );
    let matches = format!(
        "within about ±{:.0} lb at 60 lb if you enter three numbers, ±{:.0} lb with most inputs measured, ±{:.0} lb with a \
         chronograph speed as well",
        match_lb(&[THREE_NUMBERS]),
        match_lb(&[THREE_NUMBERS, MEASURED]),
        match_lb(&[THREE_NUMBERS, MEASURED, CHRONOGRAPH]),
    );
    for claim in [speeds, matches] {
        assert!(readme.contains(&claim), "README does not say: {claim}");
    }
}
