//! Generators for property tests, made from the table of inputs.

use crate::build::{Build, OwnPart};
use crate::inputs::{Field, Kind, Value};
use crate::quantity::Quantity;
use proptest::option;
use proptest::prelude::*;
use proptest::strategy::Union;

fn any_value(field: Field) -> BoxedStrategy<Value> {
    match field.input().kind {
        Kind::Number { quantity: Quantity::Count, minimum, maximum, .. } => {
            (minimum as u32..=maximum as u32).prop_map(|count| Value::Number(f64::from(count))).boxed()
        }
        Kind::Number { minimum, maximum, .. } => {
            Union::new([(minimum..=maximum).boxed(), Just(minimum).boxed(), Just(maximum).boxed()])
                .prop_map(Value::Number)
                .boxed()
        }
        Kind::Choice(list) => (0..list.len() as u8).prop_map(Value::Answer).boxed(),
    }
}

fn any_part() -> impl Strategy<Value = OwnPart> {
    ("[a-z ]{0,12}", 0.0..=500.0f64, 0.0..=45.0f64, 0.0..=12.0f64)
        .prop_map(|(name, mass_gr, centre_in, length_in)| OwnPart { name, mass_gr, centre_in, length_in })
}

/// Any build whose every field is either left to the page or anywhere in its range.
pub(crate) fn any_build() -> impl Strategy<Value = Build> {
    let values: Vec<_> = Field::ALL.into_iter().map(|field| option::weighted(0.3, any_value(field))).collect();
    ("\\PC{0,20}", values, proptest::collection::vec(any_part(), 0..3)).prop_map(|(name, values, own_parts)| {
        let mut build = Build::default();
        (build.name, build.own_parts) = (name, own_parts);
        for (field, value) in Field::ALL.into_iter().zip(values) {
            build.set(field, value).unwrap();
        }
        build
    })
}
