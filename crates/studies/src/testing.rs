//! Generators for property tests of lessons, and what tests of grids begin with.

use crate::analysis::combinations::grid::hold_shaft;
use crate::lesson::{Lesson, Picture, Readout, Slide, Step};
use clothyard_core::Setup;
use clothyard_core::eval::Baseline;
use clothyard_core::schema::{Field, Value};
use clothyard_core::testing::{any_setup, any_value};
use proptest::option;
use proptest::prelude::*;

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
    let shown: Vec<_> = Readout::all().collect();
    let results = proptest::sample::subsequence(shown.clone(), 1..=3);
    let picture = proptest::sample::select(Picture::ALL.to_vec());
    let asked = option::of(proptest::sample::select(shown));
    ("\\PC{0,20}", "\\PC{0,60}", any_setup(), picture, option::of(any_slide()), results, asked).prop_map(
        |(heading, words, setup, picture, slide, results, question)| {
            let question = slide.and(question);
            Step { heading, words, setup, picture, slide, results, question }
        },
    )
}

/// Any lesson of a few steps, some with the setup of the one before.
pub(crate) fn any_lesson() -> impl Strategy<Value = Lesson> {
    ("\\PC{0,20}", proptest::collection::vec((any_step(), any::<bool>()), 0..4)).prop_map(|(title, steps)| {
        let mut lesson = Lesson { title, steps: Vec::new() };
        for (mut step, same) in steps {
            if let Some(before) = lesson.steps.last().filter(|_| same) {
                step.setup.clone_from(&before.setup);
            }
            lesson.steps.push(step);
        }
        lesson
    })
}

/// The setup with its shaft held, as a grid takes it.
pub(crate) fn held(setup: &Setup) -> Setup {
    hold_shaft(setup, &Baseline::new(setup).resolved)
}
