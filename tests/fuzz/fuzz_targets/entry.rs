//! A number typed into any field, in any units: a value in range, or an error with a message.

#![no_main]

use clothyard_core::schema::Field;
use clothyard_core::{Units, format};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|data: (u8, bool, &str)| {
    let (which, metric, text) = data;
    let field = Field::ALL[usize::from(which) % Field::ALL.len()];
    let units = if metric { Units::metric() } else { Units::ARCHERY };
    match field.input().read(text, &units) {
        Ok(None) => assert!(text.trim().is_empty()),
        Ok(Some(value)) => assert_eq!(field.input().check(value), Ok(value)),
        Err(error) => assert!(!format::entry_message(field.input(), &error, &units).is_empty()),
    }
});
