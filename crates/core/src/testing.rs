//! Generators for property tests, from the tables.

#![allow(clippy::unwrap_used, reason = "a generator that panics fails the test that uses it")]

use crate::eval::Baseline;
use crate::schema::{Field, Kind, Value};
use crate::schema::{LISTS, List, Lists, NamedRow, OwnPart, Row, StockShaft, TableSpec};
use crate::setup::Setup;
use crate::units::Quantity;
use proptest::option;
use proptest::prelude::*;
use proptest::strategy::Union;

/// Any allowed value of an input.
pub fn any_value(field: Field) -> BoxedStrategy<Value> {
    match field.input().kind {
        Kind::Number { quantity: Quantity::Count, minimum, maximum, .. } => {
            (minimum as u32..=maximum as u32).prop_map(|count| Value::Number(f64::from(count))).boxed()
        }
        Kind::Number { minimum, maximum, .. } => {
            Union::new([(minimum..=maximum).boxed(), Just(minimum).boxed(), Just(maximum).boxed()])
                .prop_map(Value::Number)
                .boxed()
        }
        Kind::Choice(list) => (0..list.len() as u8).prop_map(Value::Choice).boxed(),
    }
}

fn any_named_row<T: NamedRow + core::fmt::Debug>() -> impl Strategy<Value = T> {
    let numbers: Vec<_> = T::TABLE.columns.iter().map(|column| column.minimum..=column.maximum).collect();
    let row = |(name, numbers): (String, Vec<f64>)| T::from_numbers(name, &numbers).unwrap();
    ("[a-z ]{0,12}", numbers).prop_map(row).prop_filter("an allowed row", |row| row.check().is_ok())
}

fn any_row(spec: &'static TableSpec) -> impl Strategy<Value = Row> {
    let columns = spec.columns.iter().map(|column| {
        let value = column.minimum..=column.maximum;
        if column.optional { option::weighted(0.7, value).boxed() } else { value.prop_map(Some).boxed() }
    });
    columns.collect::<Vec<_>>()
}

fn any_lists() -> impl Strategy<Value = Lists> {
    let lists = LISTS.iter().map(|spec| proptest::collection::vec(any_row(spec), 0..4)).collect::<Vec<_>>();
    lists.prop_map(|all| {
        let mut lists = Lists::default();
        for (list, rows) in List::ALL.into_iter().zip(all) {
            lists.set(list, rows).unwrap();
        }
        lists
    })
}

/// Any setup: each input is not given, or anywhere in its range.
pub fn any_setup() -> impl Strategy<Value = Setup> {
    let values: Vec<_> = Field::ALL.into_iter().map(|field| option::weighted(0.3, any_value(field))).collect();
    let parts = proptest::collection::vec(any_named_row::<OwnPart>(), 0..3);
    let shafts = option::weighted(0.2, proptest::collection::vec(any_named_row::<StockShaft>(), 1..4));
    ("\\PC{0,20}", values, parts, shafts, any_lists(), "\\PC{0,20}", "\\PC{0,8}").prop_map(
        |(name, values, own_parts, shafts, lists, rule_source, currency)| {
            let mut setup = Setup::default();
            (setup.name, setup.own_parts, setup.lists, setup.rule_source) = (name, own_parts, lists, rule_source);
            (setup.shafts, setup.currency) = (shafts.unwrap_or(setup.shafts), currency);
            for (field, value) in Field::ALL.into_iter().zip(values) {
                setup.set(field, value).unwrap();
            }
            setup
        },
    )
}

/// The setup with every resolved number given by the user.
///
/// # Panics
/// If a resolved number is outside the range of its input.
#[must_use]
pub fn all_user_given(setup: &Setup) -> Setup {
    let resolved = Baseline::new(setup).resolved;
    let mut given = setup.clone();
    for field in Field::ALL {
        if resolved.given(field).is_some() {
            given.set(field, resolved.value(field)).unwrap();
        }
    }
    given
}
