//! A build with fields anywhere in their range, or out of it, and lists of readings likewise: what is refused changes
//! nothing; the rest gives a finite report, and the same one once it was saved and read again.

#![no_main]

use clothyard_core::Setup;
use clothyard_core::plain::from_json;
use clothyard_core::schema::Column;
use clothyard_core::schema::List;
use clothyard_core::schema::{Field, Kind, Value};
use clothyard_studies::Report;
use libfuzzer_sys::fuzz_target;

/// A number of a range, or for the greatest few shares one that is none of it.
fn number(share: u16, minimum: f64, maximum: f64) -> f64 {
    match u16::MAX - share {
        0 => f64::NAN,
        1 => f64::INFINITY,
        2 => -f64::MAX,
        3 => maximum,
        _ => minimum + (maximum - minimum) * f64::from(share) / f64::from(u16::MAX - 4),
    }
}

fn value(field: Field, share: u16) -> Value {
    match field.input().kind {
        Kind::Number { minimum, maximum, step, .. } if step >= 1.0 => {
            Value::Number(number(share, minimum, maximum).round())
        }
        Kind::Number { minimum, maximum, .. } => Value::Number(number(share, minimum, maximum)),
        Kind::Choice(choices) => Value::Choice((usize::from(share) % (choices.len() + 1)) as u8),
    }
}

fn cell(column: &Column, share: u16) -> Option<f64> {
    (share != 0).then(|| number(share, column.minimum, column.maximum))
}

fuzz_target!(|data: (Vec<(u8, u16)>, Vec<(u8, Vec<u16>)>)| {
    let (fields, lists) = data;
    let mut setup = Setup::default();
    for (which, share) in fields {
        let field = Field::ALL[usize::from(which) % Field::ALL.len()];
        let before = setup.get(field);
        if setup.set(field, Some(value(field, share))).is_err() {
            assert_eq!(setup.get(field), before);
        }
    }
    for (which, shares) in lists {
        let list = List::ALL[usize::from(which) % List::ALL.len()];
        let columns = list.spec().columns;
        let rows = shares.chunks(columns.len());
        let rows = rows.map(|row| columns.iter().zip(row).map(|(column, &share)| cell(column, share)).collect());
        let _ = setup.lists.set(list, rows.collect());
    }
    let report = Report::of(&setup);
    for (key, number) in &report.results.0 {
        assert!(number.is_none_or(f64::is_finite), "{key}");
    }
    let text = serde_json::to_string(&setup).expect("a build can be written");
    let again: Setup = from_json(&text).expect("and read again");
    let again = Report::of(&again);
    let written = |report: &Report| serde_json::to_string(report).expect("a report can be written");
    assert_eq!(written(&again), written(&report));
});
