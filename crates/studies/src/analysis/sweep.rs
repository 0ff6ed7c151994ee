//! Any result against any numeric input, the rest held as it stands.

use clothyard_core::csv::Csv;
use clothyard_core::eval::baseline::{Baseline, WhatIfError, range};
use clothyard_core::eval::safety;
use clothyard_core::schema::Output;
use clothyard_core::schema::{Field, Kind};
use clothyard_core::setup::Resolved;
use clothyard_core::setup::Setup;
use clothyard_core::units::{Quantity, Units, clamp};

/// Most values of a sweep.
pub const MOST_POINTS: usize = 1000;

/// The results at one value of the field swept.
#[derive(Clone, Debug, PartialEq)]
pub struct Point {
    /// The field's value, in its saved unit.
    pub value: f64,
    /// The number of each result asked for, in its saved unit; none where it cannot be worked out.
    pub outputs: Vec<Option<f64>>,
}

/// Results at `count` even values of `field` from `from` to `to` (saved unit), both ends among them; of a
/// count, only at its whole numbers.
///
/// # Errors
/// [`WhatIfError::NotANumber`] for a choice, [`WhatIfError::OutOfRange`] for an end the field does not
/// allow or a `to` that is not above `from`, [`WhatIfError::Count`] for a count not of 2 to [`MOST_POINTS`].
pub fn sweep(
    setup: &Setup,
    field: Field,
    from: f64,
    to: f64,
    count: usize,
    outputs: &[Output],
) -> Result<Vec<Point>, WhatIfError> {
    Baseline::check(field, from)?;
    Baseline::check(field, to)?;
    if from >= to {
        return Err(WhatIfError::OutOfRange { field, value: to, minimum: from, maximum: range(field)?.1 });
    }
    if !(2..=MOST_POINTS).contains(&count) {
        return Err(WhatIfError::Count { count, least: 2, most: MOST_POINTS });
    }
    let held = Baseline::new(setup);
    let whole = field.input().quantity() == Some(Quantity::Count);
    let mut points: Vec<Point> = Vec::with_capacity(count);
    for place in 0..count {
        let share = place as f64 / (count - 1) as f64;
        let even = from * (1.0 - share) + to * share;
        let value = if whole { f64::from((even + 0.5) as u32) } else { even };
        if points.last().is_none_or(|last| last.value < value) {
            let found = held.outputs(&held.with(field, value), outputs);
            points.push(Point { value, outputs: outputs.iter().map(|&output| found.get(output)).collect() });
        }
    }
    Ok(points)
}

/// Ends of a chart worth looking at, in the field's saved unit: the slider's, or ten steps either way, and
/// where the field stands among them; no cut too short to be safe unless it is one already. None for a choice.
#[must_use]
pub fn honest_range(field: Field, resolved: &Resolved) -> Option<(f64, f64)> {
    let Kind::Number { minimum, maximum, step, slider, .. } = field.input().kind else { return None };
    let Some(stands) = resolved.given(field) else { return Some(slider.unwrap_or((minimum, maximum))) };
    let stands = clamp(stands, minimum, maximum);
    let (mut from, to) = slider.unwrap_or((stands - 10.0 * step, stands + 10.0 * step));
    if field == Field::CutLength {
        from = from.max(safety::shortest_cut_in(resolved));
    }
    let to = clamp(to.max(stands), minimum, maximum);
    let from = clamp(from.min(stands), minimum, maximum);
    Some((if from < to { from } else { to - 10.0 * step }, to))
}

/// A result before and after a change, in its saved unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Change {
    /// The result.
    pub output: Output,
    /// Its number as things stand.
    pub before: Option<f64>,
    /// Its number after the change.
    pub after: Option<f64>,
}

/// What fifty more grains of point do to FOC, the draw weight the arrow suits best, speed and energy.
///
/// # Errors
/// [`WhatIfError::OutOfRange`] where the point would be heavier than is allowed.
pub fn fifty_more_grains(setup: &Setup) -> Result<[Change; 4], WhatIfError> {
    let held = Baseline::new(setup);
    let heavier = held.resolved.number(Field::PointMass) + 50.0;
    Baseline::check(Field::PointMass, heavier)?;
    let before = held.outputs(&held.resolved, &[]);
    let after = held.outputs(&held.with(Field::PointMass, heavier), &[]);
    let outputs = [Output::FrontOfCentre, Output::IdealDrawWeight, Output::LaunchSpeed, Output::KineticEnergy];
    Ok(outputs.map(|output| Change { output, before: before.get(output), after: after.get(output) }))
}

/// A sweep as comma-separated values, with a row of headings, in the units chosen.
#[must_use]
pub fn to_csv(field: Field, outputs: &[Output], points: &[Point], units: &Units) -> String {
    let mut csv = Csv::default();
    let input = field.input();
    let measures = input.quantity().unwrap_or(Quantity::Ratio);
    csv.text(&heading(input.label, measures, units));
    for output in outputs {
        csv.text(&heading(output.row().label, output.row().quantity, units));
    }
    csv.end_row();
    for point in points {
        csv.number(Some(units.show(measures, point.value)), 6);
        for (output, number) in outputs.iter().zip(&point.outputs) {
            csv.number(number.map(|number| units.show(output.row().quantity, number)), 4);
        }
        csv.end_row();
    }
    csv.finish()
}

/// A label with its unit behind it.
fn heading(label: &str, quantity: Quantity, units: &Units) -> String {
    match units.of(quantity).symbol {
        "" => label.to_owned(),
        symbol => format!("{label} ({symbol})"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use clothyard_core::Evaluation;
    use clothyard_core::setup::samples;
    use clothyard_core::testing::all_mine;
    use clothyard_core::testing::any_setup;
    use proptest::prelude::*;

    fn compound() -> Setup {
        all_mine(&Setup::default().with(Field::PeakDrawWeight, 60.0).unwrap())
    }

    #[test]
    fn every_point_is_an_evaluation() {
        let setup = compound();
        let outputs = [Output::LaunchSpeed, Output::ColumnLoad, Output::IdealSpine, Output::NearestStock];
        let points = sweep(&setup, Field::PointMass, 50.0, 250.0, 5, &outputs).unwrap();
        assert_eq!(points.iter().map(|point| point.value).collect::<Vec<_>>(), [50.0, 100.0, 150.0, 200.0, 250.0]);
        for point in points {
            let full = Evaluation::of(&setup.clone().with(Field::PointMass, point.value).unwrap()).outputs;
            assert_eq!(point.outputs, outputs.map(|output| full.get(output)), "{}", point.value);
        }
    }

    #[test]
    fn a_shaft_cut_behind_the_rest_leaves_a_gap() {
        let outputs = [Output::TotalWeight, Output::ColumnLoad];
        let points = sweep(&compound(), Field::CutLength, 20.0, 30.0, 2, &outputs).unwrap();
        assert!(matches!(points[0].outputs[..], [Some(_), None]));
        assert!(matches!(points[1].outputs[..], [Some(_), Some(_)]));
    }

    #[test]
    fn counts_stay_whole_and_bad_questions_are_refused() {
        let setup = compound();
        let vanes = sweep(&setup, Field::VaneCount, 0.0, 6.0, 100, &[]).unwrap();
        assert_eq!(vanes.iter().map(|point| point.value).collect::<Vec<_>>(), [0.0, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0]);
        let ask = |from, to, count| sweep(&setup, Field::PointMass, from, to, count, &[]).unwrap_err();
        assert!(matches!(ask(5.0, 100.0, 3), WhatIfError::OutOfRange { value: 5.0, .. }));
        assert!(matches!(ask(100.0, f64::NAN, 3), WhatIfError::OutOfRange { .. }));
        assert!(matches!(ask(100.0, 100.0, 3), WhatIfError::OutOfRange { minimum: 100.0, .. }));
        assert_eq!(ask(50.0, 100.0, 1), WhatIfError::Count { count: 1, least: 2, most: MOST_POINTS });
    }

    #[test]
    fn what_fifty_more_grains_do() {
        // Common practice, no source: more point is more FOC, a weaker arrow, less speed, a little more energy.
        for start in samples::all() {
            let [foc, suits, speed, energy] = fifty_more_grains(&start.setup).unwrap();
            let by = |change: Change| change.after.unwrap() - change.before.unwrap();
            assert!(by(foc) > 0.0 && by(suits) < 0.0 && by(speed) < 0.0 && by(energy) > 0.0, "{}", start.key);
        }
        let most = compound().with(Field::PointMass, 560.0).unwrap();
        assert!(matches!(fifty_more_grains(&most), Err(WhatIfError::OutOfRange { value: 610.0, .. })));
    }

    #[test]
    fn fifty_more_grains_in_closed_form() {
        // FP-3's balance with 50 gr more at the point's place; Klopsteg's speed with 50 gr more to move.
        let setup = compound();
        let number = |output| Evaluation::of(&setup).outputs.get(output).unwrap();
        let (m, a, l) = (number(Output::TotalWeight), number(Output::BalancePoint), number(Output::ArrowLength));
        let [foc, _, speed, _] = fifty_more_grains(&setup).unwrap();
        let balance = (m * a + 50.0 * (l + 0.6)) / (m + 50.0);
        assert!((foc.after.unwrap() - 100.0 * (balance / l - 0.5)).abs() < 1e-9);
        let k = number(Output::MovingMass);
        let slower = speed.before.unwrap() * ((m + k) / (m + 50.0 + k)).sqrt();
        assert!((speed.after.unwrap() - slower).abs() < 1e-9);
    }

    #[test]
    fn a_sweep_as_a_table() {
        let point = |value, outputs: &[Option<f64>]| Point { value, outputs: outputs.to_vec() };
        let points = [point(-1.0, &[Some(-2.54), None]), point(0.5, &[Some(11.25), Some(1.0)])];
        let text = to_csv(Field::RestOffset, &[Output::FrontOfCentre, Output::ColumnLoad], &points, &Units::metric());
        assert_eq!(
            text,
            "Rest ahead of pivot (cm),\"FOC, front of centre (%)\",Column load\r\n-2.54,-2.54,\r\n1.27,11.25,1\r\n"
        );
    }

    proptest! {
        #[test]
        fn an_honest_range_can_be_swept(setup in any_setup()) {
            let resolved = Baseline::new(&setup).resolved;
            for field in Field::ALL {
                let Some((from, to)) = honest_range(field, &resolved) else { continue };
                prop_assert!(from < to && Baseline::check(field, from).is_ok() && Baseline::check(field, to).is_ok(), "{:?}", field);
                if let Some(stands) = resolved.given(field) && Baseline::check(field, stands).is_ok() {
                    prop_assert!((from..=to).contains(&stands), "{:?}", field);
                }
            }
        }
    }
}
