//! Rows pasted for a list: numbers that the list takes, or an error with a message.

#![no_main]

use clothyard_core::schema::{List, Lists};
use clothyard_core::Units;
use clothyard_core::parse::columns;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|data: (bool, u8, &str)| {
    let (metric, which, text) = data;
    let units = if metric { Units::metric() } else { Units::ARCHERY };
    let list = List::ALL[usize::from(which) % List::ALL.len()];
    match columns::read(text, list.spec(), &units) {
        Ok(rows) => assert!(Lists::default().set(list, rows).is_ok()),
        Err(error) => assert!(!error.message().is_empty()),
    }
});
