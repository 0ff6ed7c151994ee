//! A list of numbers typed for an axis of combinations: values in range, or an error with a message.

#![no_main]

use clothyard_workbench::inputs::{Field, Value};
use clothyard_workbench::{Units, several};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|data: (bool, &str)| {
    let (metric, text) = data;
    let input = Field::PointMass.input();
    let units = if metric { Units::metric() } else { Units::ARCHERY };
    match several::read(input, text, &units) {
        Ok(values) => assert!(values.iter().all(|&value| input.check(Value::Number(value)).is_ok())),
        Err(error) => assert!(!several::message(input, &error, &units).is_empty()),
    }
});
