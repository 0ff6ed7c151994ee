//! Generators for property tests, made from the table of inputs.

use crate::build::{Build, OwnPart};
use crate::inputs::{Field, Kind, Value};
use crate::lesson::{Lesson, Picture, Shown, Slide, Step};
use crate::quantity::Quantity;
use crate::rows::{LISTS, ListOf, Lists, Row};
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

fn any_row(of: &'static ListOf) -> impl Strategy<Value = Row> {
    let columns = of.columns.iter().map(|column| {
        let value = column.minimum..=column.maximum;
        if column.optional { option::weighted(0.7, value).boxed() } else { value.prop_map(Some).boxed() }
    });
    columns.collect::<Vec<_>>()
}

fn any_lists() -> impl Strategy<Value = Lists> {
    let lists = LISTS.iter().map(|of| proptest::collection::vec(any_row(of), 0..4)).collect::<Vec<_>>();
    lists.prop_map(|all| {
        let mut lists = Lists::default();
        for (of, rows) in LISTS.iter().zip(all) {
            lists.set(of.list, rows).unwrap();
        }
        lists
    })
}

/// Any build whose every field is either left to the page or anywhere in its range.
pub(crate) fn any_build() -> impl Strategy<Value = Build> {
    let values: Vec<_> = Field::ALL.into_iter().map(|field| option::weighted(0.3, any_value(field))).collect();
    let parts = proptest::collection::vec(any_part(), 0..3);
    ("\\PC{0,20}", values, parts, any_lists(), "\\PC{0,20}", "\\PC{0,8}").prop_map(
        |(name, values, own_parts, lists, rule_source, currency)| {
            let mut build = Build::default();
            (build.name, build.own_parts, build.lists, build.rule_source) = (name, own_parts, lists, rule_source);
            build.currency = currency;
            for (field, value) in Field::ALL.into_iter().zip(values) {
                build.set(field, value).unwrap();
            }
            build
        },
    )
}

fn any_slide() -> impl Strategy<Value = Slide> {
    let numeric: Vec<_> = Field::ALL.into_iter().filter(|field| field.input().quantity().is_some()).collect();
    proptest::sample::select(numeric)
        .prop_flat_map(|field| (Just(field), any_value(field), any_value(field)))
        .prop_filter_map("two ends", |(field, from, to)| match (from, to) {
            (Value::Number(from), Value::Number(to)) => Slide::new(field, from, to).ok(),
            _ => None,
        })
}

fn any_step() -> impl Strategy<Value = Step> {
    let shown: Vec<_> = Shown::all().collect();
    let results = proptest::sample::subsequence(shown.clone(), 1..=3);
    let picture = proptest::sample::select(Picture::ALL.to_vec());
    let asked = option::of(proptest::sample::select(shown));
    ("\\PC{0,20}", "\\PC{0,60}", any_build(), picture, option::of(any_slide()), results, asked).prop_map(
        |(heading, words, build, picture, slide, results, question)| {
            let question = slide.and(question);
            Step { heading, words, build, picture, slide, results, question }
        },
    )
}

/// Any lesson of a few steps, some with the set-up of the one before.
pub(crate) fn any_lesson() -> impl Strategy<Value = Lesson> {
    ("\\PC{0,20}", proptest::collection::vec((any_step(), any::<bool>()), 0..4)).prop_map(|(title, steps)| {
        let mut lesson = Lesson { title, steps: Vec::new() };
        for (mut step, same) in steps {
            if let Some(before) = lesson.steps.last().filter(|_| same) {
                step.build.clone_from(&before.build);
            }
            lesson.steps.push(step);
        }
        lesson
    })
}
