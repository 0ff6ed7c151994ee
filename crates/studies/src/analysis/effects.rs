//! What changes what: one honest step of every input, and what it does to the results.
//!
//! An honest step is the one plus and minus take ([`clothyard_core::schema::INPUTS`]) unless the person asks for
//! another: the smallest change worth making, so that inputs can be told apart by what they do.

use clothyard_core::eval::baseline::{Baseline, WhatIfError};
use clothyard_core::schema::Output;
use clothyard_core::schema::{Field, Kind};
use clothyard_core::setup::Setup;
use clothyard_core::units::clamp;

/// What one step of an input does.
#[derive(Clone, Debug, PartialEq)]
pub struct Effect {
    /// The input.
    pub field: Field,
    /// The step taken, in its saved unit; downward (below nought) from the top of its range.
    pub step: f64,
    /// By how much each result asked for changes, in its saved unit; none where it has no number.
    pub changes: Vec<Option<f64>>,
}

/// The effect of one step of each input that plays a part, the greatest on `ranked_by` first.
///
/// `steps` overrules the table's step for some fields, in the saved unit. An input that changes none of
/// the results is left out. The changes are in the order of `outcomes`.
///
/// # Errors
/// [`WhatIfError::NotANumber`] for a step of a choice; [`WhatIfError::OutOfRange`] for a step that is not
/// above nought or is wider than the field's range.
pub fn effects(
    setup: &Setup,
    outputs: &[Output],
    ranked_by: Output,
    steps: &[(Field, f64)],
) -> Result<Vec<Effect>, WhatIfError> {
    steps.iter().try_for_each(|&(field, step)| check_step(field, step))?;
    let held = Baseline::new(setup);
    let rank = |changes: &[Option<f64>]| {
        let place = outputs.iter().position(|&output| output == ranked_by);
        place.and_then(|place| changes.get(place).copied().flatten()).map_or(-1.0, f64::abs)
    };
    let before = held.outputs(&held.resolved, outputs);
    let mut ranked: Vec<Effect> = Vec::new();
    for field in Field::ALL {
        let Some(step) = step_of(&held, field, steps) else { continue };
        let after = held.outputs(&held.with(field, held.resolved.number(field) + step), outputs);
        let change = |&output: &Output| Some(after.get(output)? - before.get(output)?);
        let changes: Vec<_> = outputs.iter().map(change).collect();
        if changes.iter().flatten().any(|&change| change != 0.0) {
            let size = rank(&changes);
            let at = ranked.partition_point(|other| rank(&other.changes) >= size);
            ranked.insert(at, Effect { field, step, changes });
        }
    }
    Ok(ranked)
}

fn check_step(field: Field, step: f64) -> Result<(), WhatIfError> {
    let (low, high) = clothyard_core::eval::baseline::range(field)?;
    if step > 0.0 && step <= high - low {
        Ok(())
    } else {
        Err(WhatIfError::OutOfRange { field, value: step, minimum: 0.0, maximum: high - low })
    }
}

/// The step to take from where a field stands: upward, or downward where its range ends before.
fn step_of(held: &Baseline<'_>, field: Field, steps: &[(Field, f64)]) -> Option<f64> {
    let stands = held.in_play(field)?;
    let Kind::Number { minimum, maximum, step, .. } = field.input().kind else { return None };
    let step = steps.iter().find(|(other, _)| *other == field).map_or(step, |&(_, step)| step);
    let step = if stands + step <= maximum { step } else { -step };
    Some(clamp(stands + step, minimum, maximum) - stands)
}

#[cfg(test)]
mod tests {
    use super::*;
    use clothyard_core::Evaluation;
    use clothyard_core::testing::all_mine;
    use clothyard_core::testing::any_setup;
    use proptest::prelude::*;

    const WANTED: [Output; 3] = [Output::LaunchSpeed, Output::TotalWeight, Output::FrontOfCentre];

    fn compound() -> Setup {
        all_mine(&Setup::default().with(Field::PeakDrawWeight, 60.0).unwrap())
    }

    fn of(list: &[Effect], field: Field) -> Option<&Effect> {
        list.iter().find(|effect| effect.field == field)
    }

    #[test]
    fn a_step_of_the_draw_weight_in_closed_form() {
        // Stored energy grows in proportion to the draw weight, and speed with its root.
        let setup = compound();
        let list = effects(&setup, &WANTED, Output::LaunchSpeed, &[]).unwrap();
        let speed = Evaluation::of(&setup).outputs.get(Output::LaunchSpeed).unwrap();
        let draw = of(&list, Field::PeakDrawWeight).unwrap();
        assert_eq!(draw.step, 1.0);
        assert!((draw.changes[0].unwrap() - speed * ((61.0_f64 / 60.0).sqrt() - 1.0)).abs() < 1e-9);
        assert_eq!(draw.changes[1], Some(0.0));
        let point = of(&list, Field::PointMass).unwrap();
        assert!((point.changes[1].unwrap() - 5.0).abs() < 1e-9, "five grains of point weigh five grains");
    }

    #[test]
    fn what_plays_no_part_is_left_out_and_a_step_may_be_one_s_own() {
        let setup = compound().with(Field::LetOff, 99.0).unwrap();
        let list = effects(&setup, &WANTED, Output::TotalWeight, &[(Field::PointMass, 25.0)]).unwrap();
        for field in [Field::VaneOffset, Field::ShortestReach, Field::RatedSpeed, Field::RatingArrow] {
            assert_eq!(of(&list, field), None, "{field:?}");
        }
        assert_eq!(of(&list, Field::PointMass).unwrap().step, 25.0);
        assert_eq!(list[0].field, Field::PointMass, "25 gr of point outweigh any other step");
        assert_eq!(of(&list, Field::LetOff).unwrap().step, -5.0, "at the top of its range");
        let own = |field, step| effects(&setup, &WANTED, Output::TotalWeight, &[(field, step)]);
        assert!(matches!(own(Field::PointMass, 0.0), Err(WhatIfError::OutOfRange { .. })));
        assert!(matches!(own(Field::Cam, 1.0), Err(WhatIfError::NotANumber { .. })));
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(40))]

        #[test]
        fn ranked_by_size_and_within_range(setup in any_setup(), by in 0..3usize) {
            let list = effects(&setup, &WANTED, WANTED[by], &[]).unwrap();
            let sizes: Vec<_> = list.iter().map(|effect| effect.changes[by].map_or(-1.0, f64::abs)).collect();
            prop_assert!(sizes.windows(2).all(|pair| pair[0] >= pair[1]), "{:?}", sizes);
            let held = Baseline::new(&setup);
            for effect in &list {
                let stands = held.resolved.number(effect.field);
                prop_assert!(effect.step != 0.0 && effect.changes.iter().flatten().any(|&change| change != 0.0));
                if Baseline::check(effect.field, stands).is_ok() {
                    prop_assert!(Baseline::check(effect.field, stands + effect.step).is_ok(), "{:?}", effect.field);
                }
            }
        }
    }
}
