//! The decimal comma. It is one for the whole program, so its test is a program of its own.

use clothyard_core::csv::Csv;
use clothyard_core::parse::EntryError;
use clothyard_core::schema::{Field, Value};
use clothyard_core::{Quantity, Units, format};

#[test]
fn people_and_fields_have_the_comma_and_files_the_point() {
    let read = |field: Field, text: &str| field.input().read(text, &Units::ARCHERY);
    let ambiguous = read(Field::ChronographArrow, "1,500");
    format::use_decimal_comma(true);

    assert_eq!(format::measured(Quantity::Percent, 12.34, &Units::ARCHERY), "12,3%");
    assert_eq!(format::said(-0.5, 1), "−0,5");
    assert_eq!(format::entered(Quantity::SmallLength, 0.204, &Units::ARCHERY), "0,204");
    let mut csv = Csv::default();
    csv.number(Some(0.5), 2);
    assert_eq!(csv.finish(), "0.5");

    assert_eq!(ambiguous, Ok(Some(Value::Number(1500.0))), "where decimals have a point");
    let refused = read(Field::ChronographArrow, "1,500");
    assert!(matches!(refused, Err(EntryError::OutOfRange { value: 1.5, .. })), "{refused:?}");
    for text in ["28,5", "28.5", "28 1/2"] {
        assert_eq!(read(Field::DrawLength, text), Ok(Some(Value::Number(28.5))), "{text}");
    }
    for (field, saved) in [(Field::Bore, 0.204), (Field::PointMass, 110.5), (Field::DrawLength, 28.125)] {
        let quantity = field.input().quantity().unwrap_or(Quantity::Ratio);
        assert_eq!(read(field, &format::entered(quantity, saved, &Units::ARCHERY)), Ok(Some(Value::Number(saved))));
    }
}
