//! Effect of each change: one step of every input and its effect on the results.
//!
//! A step is the one plus and minus take ([`clothyard_core::schema::INPUTS`]) unless the person asks for
//! another: the smallest change worth making, so that inputs can be told apart by what they do.

use clothyard_core::eval::baseline::{Baseline, WhatIfError, range};
use clothyard_core::schema::{Field, Kind, Output};
use clothyard_core::units::{Quantity, Units, clamp};
use clothyard_core::{format, parse};

/// The results that the table shows, in the order of its columns.
pub const RESULTS: [Output; 5] =
    [Output::IdealDrawWeight, Output::FrontOfCentre, Output::TotalWeight, Output::LaunchSpeed, Output::KineticEnergy];

/// What one step of an input does.
#[derive(Clone, Debug, PartialEq)]
pub struct Effect {
    /// The input.
    pub field: Field,
    /// The step taken, in its saved unit; downward (below zero) from the top of its range.
    pub step: f64,
    /// By how much each result asked for changes, in its saved unit; none where it has no number.
    pub changes: Vec<Option<f64>>,
}

/// The effect of one step of each input that plays a part, the greatest on `ranked_by` first.
///
/// `steps` replaces the table's step for some fields, in the saved unit. An input that changes none of
/// the results is left out. The changes are in the order of `outputs`.
///
/// # Errors
/// [`WhatIfError::NotANumber`] for a step of a choice; [`WhatIfError::OutOfRange`] for a step that is not
/// above zero or is wider than the field's range.
pub fn effects(
    held: &Baseline<'_>,
    outputs: &[Output],
    ranked_by: Output,
    steps: &[(Field, f64)],
) -> Result<Vec<Effect>, WhatIfError> {
    steps.iter().try_for_each(|&(field, step)| check_step(field, step))?;
    let rank = |changes: &[Option<f64>]| {
        let place = outputs.iter().position(|&output| output == ranked_by);
        place.and_then(|place| changes.get(place).copied().flatten()).map_or(-1.0, f64::abs)
    };
    let before = held.outputs(&held.resolved, outputs);
    let mut ranked: Vec<Effect> = Vec::new();
    for field in Field::ALL {
        let Some(step) = step_of(held, field, steps) else { continue };
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
    let (low, high) = range(field)?;
    if step > 0.0 && step <= high - low {
        Ok(())
    } else {
        Err(WhatIfError::OutOfRange { field, value: step, minimum: 0.0, maximum: high - low })
    }
}

/// The step to take from the value of a field: upward, or downward where its range ends before.
fn step_of(held: &Baseline<'_>, field: Field, steps: &[(Field, f64)]) -> Option<f64> {
    let current = held.in_play(field)?;
    let (minimum, maximum) = range(field).ok()?;
    let step = step(field, steps)?;
    let step = if current + step <= maximum { step } else { -step };
    Some(clamp(current + step, minimum, maximum) - current)
}

/// The size of one step of an input, in its saved unit: the user's own, or that of its table.
#[must_use]
pub fn step(field: Field, steps: &[(Field, f64)]) -> Option<f64> {
    let Kind::Number { step, .. } = field.input().kind else { return None };
    Some(steps.iter().find(|(other, _)| *other == field).map_or(step, |&(_, step)| step))
}

/// What is over the columns of the table.
#[must_use]
pub fn headings() -> Vec<String> {
    let results = RESULTS.map(|output| output.row().label);
    ["Input", "Step"].into_iter().chain(results).map(str::to_owned).collect()
}

/// A row of the table.
#[derive(Clone, Debug, PartialEq)]
pub struct EffectRow {
    /// The input.
    pub field: Field,
    /// Its step, for the field where it can be changed.
    pub step: String,
    /// The unit of the step.
    pub unit: &'static str,
    /// How much each of [`RESULTS`] changes, in words.
    pub changes: [String; RESULTS.len()],
    /// The change of the result ranked by, as a share of the greatest, with its sign.
    pub share: f64,
}

/// The table of effects, the greatest on `ranked_by` first; inputs that change no result by as much as is shown are
/// left out. `steps` as in [`effects`].
///
/// # Errors
/// As [`effects`].
pub fn rows(
    held: &Baseline<'_>,
    ranked_by: Output,
    steps: &[(Field, f64)],
    units: &Units,
) -> Result<Vec<EffectRow>, WhatIfError> {
    let list = effects(held, &RESULTS, ranked_by, steps)?;
    let column = column_of(ranked_by);
    let size = |effect: &Effect| effect.changes.get(column).copied().flatten().unwrap_or(0.0);
    let greatest = list.iter().map(|effect| size(effect).abs()).fold(f64::MIN_POSITIVE, f64::max);
    let row = |effect: &Effect| {
        let quantity = effect.field.input().quantity().unwrap_or(Quantity::Ratio);
        let changes = core::array::from_fn(|place| change_words(effect, place, units));
        changes.iter().any(|words: &String| words.starts_with(['+', '−', '–'])).then(|| EffectRow {
            field: effect.field,
            step: format::trimmed(units.show(quantity, effect.step), 4),
            unit: units.of(quantity).symbol,
            changes,
            share: size(effect) / greatest,
        })
    };
    Ok(list.iter().filter_map(row).collect())
}

/// The column of a result of [`RESULTS`]; the first for any other.
#[must_use]
pub fn column_of(output: Output) -> usize {
    RESULTS.iter().position(|&other| other == output).unwrap_or(0)
}

fn change_words(effect: &Effect, column: usize, units: &Units) -> String {
    let (change, output) = (effect.changes.get(column).copied().flatten(), RESULTS.get(column));
    let words = change.zip(output).map(|(by, output)| format::change(output.row().quantity, by, units));
    words.unwrap_or_else(|| "–".to_owned())
}

/// Reads a step typed for an input; in the saved unit.
///
/// # Errors
/// What is wrong and what is allowed, in a sentence.
pub fn read_step(field: Field, typed: &str, units: &Units) -> Result<f64, String> {
    let input = field.input();
    let (Some(quantity), Ok((minimum, maximum))) = (input.quantity(), range(field)) else {
        return Err(format!("{} has no step.", input.label));
    };
    let label = format!("One step of {}", input.label);
    let step = parse::labeled(typed, &label, quantity, units)?;
    check_step(field, step).map(|()| step).map_err(|_| {
        let most = format::entered_with_unit(quantity, maximum - minimum, units);
        format!("{label}: enter more than 0, up to {most}.")
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use clothyard_core::Evaluation;
    use clothyard_core::Setup;
    use clothyard_core::testing::all_user_given;
    use clothyard_core::testing::any_setup;
    use proptest::prelude::*;

    const WANTED: [Output; 3] = [Output::LaunchSpeed, Output::TotalWeight, Output::FrontOfCentre];

    fn compound() -> Setup {
        all_user_given(&Setup::default().with(Field::PeakDrawWeight, 60.0).unwrap())
    }

    fn of(list: &[Effect], field: Field) -> Option<&Effect> {
        list.iter().find(|effect| effect.field == field)
    }

    #[test]
    fn a_step_of_the_draw_weight_in_closed_form() {
        // Stored energy grows in proportion to the draw weight, and speed with its root.
        let setup = compound();
        let list = effects(&Baseline::new(&setup), &WANTED, Output::LaunchSpeed, &[]).unwrap();
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
        let list = effects(&Baseline::new(&setup), &WANTED, Output::TotalWeight, &[(Field::PointMass, 25.0)]).unwrap();
        for field in [Field::VaneOffset, Field::ShortestReach, Field::RatedSpeed, Field::RatingArrow] {
            assert_eq!(of(&list, field), None, "{field:?}");
        }
        assert_eq!(of(&list, Field::PointMass).unwrap().step, 25.0);
        assert_eq!(list[0].field, Field::PointMass, "25 gr of point outweigh any other step");
        assert_eq!(of(&list, Field::LetOff).unwrap().step, -5.0, "at the top of its range");
        let own = |field, step| effects(&Baseline::new(&setup), &WANTED, Output::TotalWeight, &[(field, step)]);
        assert!(matches!(own(Field::PointMass, 0.0), Err(WhatIfError::OutOfRange { .. })));
        assert!(matches!(own(Field::Cam, 1.0), Err(WhatIfError::NotANumber { .. })));
    }

    #[test]
    fn the_table_shows_what_can_be_seen_and_measures_bars_by_the_greatest() {
        let (setup, by) = (compound(), Output::LaunchSpeed);
        let rows = rows(&Baseline::new(&setup), by, &[(Field::PointMass, 50.0)], &Units::ARCHERY).unwrap();
        let column = column_of(by);
        assert_eq!((column, headings()[2 + column].as_str()), (3, "Launch speed"));
        assert_eq!(rows[0].share.abs(), 1.0);
        assert!(rows.windows(2).all(|pair| pair[0].share.abs() >= pair[1].share.abs()));
        for row in &rows {
            assert!(row.changes.iter().any(|words| words.starts_with(['+', '−', '–'])), "{row:?}");
            assert!(row.share == 0.0 || !row.changes[column].starts_with(if row.share > 0.0 { '−' } else { '+' }));
        }
        let point = rows.iter().find(|row| row.field == Field::PointMass).unwrap();
        assert_eq!((point.step.as_str(), point.unit, point.changes[2].as_str()), ("50", "gr", "+50\u{a0}gr"));
        assert_eq!(rows.iter().find(|row| row.field == Field::VaneOffset), None, "it moves no result that is shown");
    }

    #[test]
    fn a_step_typed_is_above_zero_and_within_the_range() {
        let read = |field, typed| read_step(field, typed, &Units::ARCHERY);
        assert_eq!(read(Field::PointMass, "12,5"), Ok(12.5));
        assert_eq!(read(Field::PointMass, "590"), Ok(590.0));
        for typed in ["-1", "0", "591"] {
            let why = "One step of Point weight: enter more than 0, up to 590\u{a0}gr.";
            assert_eq!(read(Field::PointMass, typed), Err(why.to_owned()), "{typed}");
        }
        assert!(read(Field::PointMass, "x").unwrap_err().starts_with("One step of Point weight: enter a number of gr"));
        assert_eq!(read(Field::Cam, "1"), Err(format!("{} has no step.", Field::Cam.input().label)));
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(40))]

        #[test]
        fn ranked_by_size_and_within_range(setup in any_setup(), by in 0..3usize) {
            let list = effects(&Baseline::new(&setup), &WANTED, WANTED[by], &[]).unwrap();
            let sizes: Vec<_> = list.iter().map(|effect| effect.changes[by].map_or(-1.0, f64::abs)).collect();
            prop_assert!(sizes.windows(2).all(|pair| pair[0] >= pair[1]), "{:?}", sizes);
            let held = Baseline::new(&setup);
            for effect in &list {
                let current = held.resolved.number(effect.field);
                prop_assert!(effect.step != 0.0 && effect.changes.iter().flatten().any(|&change| change != 0.0));
                if Baseline::check(effect.field, current).is_ok() {
                    prop_assert!(Baseline::check(effect.field, current + effect.step).is_ok(), "{:?}", effect.field);
                }
            }
        }
    }
}
