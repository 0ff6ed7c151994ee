//! Two columns of readings, typed or pasted: rows that the list takes, or an error with a message.

#![no_main]

use clothyard_workbench::Units;
use clothyard_workbench::bench::pasted;
use clothyard_workbench::rows::{List, Lists};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|data: (bool, bool, &str)| {
    let (metric, speeds, text) = data;
    let list = if speeds { List::Speeds } else { List::DrawForce };
    let units = if metric { Units::metric() } else { Units::ARCHERY };
    match pasted::read(list.of(), text, &units) {
        Ok(rows) => assert!(Lists::default().set(list, rows).is_ok()),
        Err(error) => assert!(!pasted::message(list.of(), &error, &units).is_empty()),
    }
});
