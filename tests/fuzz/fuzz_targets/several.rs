//! A list of numbers typed for an axis of combinations: values in range, or an error with a message.

#![no_main]

use clothyard_core::schema::{Field, Value};
use clothyard_core::Units;
use clothyard_core::parse::number_list;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|data: (bool, &str)| {
    let (metric, text) = data;
    let input = Field::PointMass.input();
    let units = if metric { Units::metric() } else { Units::ARCHERY };
    match number_list::read(input, text, &units) {
        Ok(values) => assert!(values.iter().all(|&value| input.check(Value::Number(value)).is_ok())),
        Err(error) => assert!(!number_list::message(input, &error, &units).is_empty()),
    }
});
