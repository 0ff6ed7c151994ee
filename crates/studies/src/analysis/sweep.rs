//! Any result over a range of any numeric input, all others fixed.

use super::effects::RESULTS;
use clothyard_core::csv::Csv;
use clothyard_core::eval::baseline::{Baseline, WhatIfError, range};
use clothyard_core::eval::safety;
use clothyard_core::schema::{Field, Kind, Output, Value};
use clothyard_core::setup::Resolved;
use clothyard_core::units::{Quantity, Units, clamp};
use clothyard_core::{format, parse};

/// So many values, evenly from one end to the other.
const POINTS: usize = 101;
/// So many where all main results are shown at once.
const FEW_POINTS: usize = 21;

/// Values of the input with the number of the result at each, both in saved units; none where it has no number.
pub type Points = Vec<(f64, Option<f64>)>;

/// One result along a range of one input.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sweep {
    field: Field,
    output: Output,
    from: f64,
    to: f64,
}

impl Sweep {
    /// A sweep of an input between two values, in its saved unit.
    ///
    /// # Errors
    /// [`WhatIfError::NotANumber`] for a choice, [`WhatIfError::OutOfRange`] for an end that the input does not allow or
    /// a `to` that is not above `from`.
    pub fn new(field: Field, output: Output, from: f64, to: f64) -> Result<Self, WhatIfError> {
        Baseline::check(field, from)?;
        Baseline::check(field, to)?;
        if from >= to {
            return Err(WhatIfError::OutOfRange { field, value: to, minimum: from, maximum: range(field)?.1 });
        }
        Ok(Self { field, output, from, to })
    }

    /// The same, from what was typed as its ends.
    ///
    /// # Errors
    /// What is wrong and what is allowed, in a sentence.
    pub fn read(field: Field, output: Output, from: &str, to: &str, units: &Units) -> Result<Self, String> {
        let input = field.input();
        let end = |typed: &str, label: &str| {
            let value = parse::labeled(typed, label, input.quantity().unwrap_or(Quantity::Ratio), units)?;
            let allowed = input.check(Value::Number(value));
            allowed.map(|_| value).map_err(|error| format::entry_message(input, &error, units))
        };
        let (from, to) = (end(from, "From")?, end(to, "To")?);
        Self::new(field, output, from, to).map_err(|_| "To must be greater than From.".to_owned())
    }

    /// The values of the input to ask at: so many even ones from end to end, and its own; of a count, only whole numbers.
    fn values(&self, held: &Baseline<'_>, count: usize) -> Vec<f64> {
        let whole = self.field.input().quantity() == Some(Quantity::Count);
        let own = held.resolved.number(self.field);
        let mut values: Vec<f64> = Vec::with_capacity(count + 1);
        for place in 0..count {
            let share = place as f64 / (count - 1) as f64;
            let even = self.from * (1.0 - share) + self.to * share;
            let value = if whole { f64::from((even + 0.5) as u32) } else { even };
            if values.last().is_some_and(|&last| last < own && own < value) {
                values.push(own);
            }
            if values.last().is_none_or(|&last| last < value) {
                values.push(value);
            }
        }
        values
    }

    /// The result along the range, and at the input's own value.
    #[must_use]
    pub fn points(&self, held: &Baseline<'_>) -> Points {
        let point = |value| (value, held.result(self.field, value, self.output));
        self.values(held, POINTS).into_iter().map(point).collect()
    }

    /// The main results along the same range, each with fewer points.
    #[must_use]
    pub fn main_results(&self, held: &Baseline<'_>) -> [(Output, Points); RESULTS.len()] {
        let values = self.values(held, FEW_POINTS);
        let at = |&value: &f64| held.outputs(&held.with(self.field, value), &RESULTS);
        let outputs: Vec<_> = values.iter().map(at).collect();
        RESULTS.map(|output| {
            let points = values.iter().zip(&outputs).map(|(&value, outputs)| (value, outputs.get(output)));
            (output, points.collect())
        })
    }

    /// What its chart is, in a line.
    #[must_use]
    pub fn title(&self) -> String {
        format!("{} against {}.", self.output.row().label, self.field.input().label.to_ascii_lowercase())
    }

    /// Its points as comma-separated values, with a row of headings, in the units chosen.
    #[must_use]
    pub fn to_csv(&self, points: &[(f64, Option<f64>)], units: &Units) -> String {
        let (input, row) = (self.field.input(), self.output.row());
        let measures = input.quantity().unwrap_or(Quantity::Ratio);
        let mut csv = Csv::default();
        csv.text(&heading(input.label, measures, units));
        csv.text(&heading(row.label, row.quantity, units));
        csv.end_row();
        for &(value, number) in points {
            csv.number(Some(units.show(measures, value)), 6);
            csv.number(number.map(|number| units.show(row.quantity, number)), 4);
            csv.end_row();
        }
        csv.finish()
    }
}

/// A label with its unit behind it.
fn heading(label: &str, quantity: Quantity, units: &Units) -> String {
    match units.of(quantity).symbol {
        "" => label.to_owned(),
        symbol => format!("{label} ({symbol})"),
    }
}

/// Ends of a chart worth looking at, in the field's saved unit: the slider's, or ten steps either way, and the
/// field's value among them; no cut too short to be safe unless it is one already. None for a choice.
#[must_use]
pub fn useful_range(field: Field, resolved: &Resolved) -> Option<(f64, f64)> {
    let Kind::Number { minimum, maximum, step, slider, .. } = field.input().kind else { return None };
    let Some(current) = resolved.given(field) else { return Some(slider.unwrap_or((minimum, maximum))) };
    let current = clamp(current, minimum, maximum);
    let (mut from, to) = slider.unwrap_or((current - 10.0 * step, current + 10.0 * step));
    if field == Field::CutLength {
        from = from.max(safety::shortest_cut_in(resolved));
    }
    let to = clamp(to.max(current), minimum, maximum);
    let from = clamp(from.min(current), minimum, maximum);
    Some((if from < to { from } else { to - 10.0 * step }, to))
}

/// What fifty more grains of point do to FOC, the draw weight the arrow suits best, speed and energy, in a sentence.
#[must_use]
pub fn fifty_more_grains_sentence(held: &Baseline<'_>, units: &Units) -> String {
    let Ok(changes) = fifty_more_grains(held) else {
        return "The point would be over the allowed range.".to_owned();
    };
    let names = ["FOC", "best-match draw weight", "speed", "energy"];
    let clause = |(name, (output, numbers)): (&str, Change)| {
        let [before, after] = numbers.map(|number| format::result(output, number, units));
        format!("{name} from {before} to {after}")
    };
    let clauses: Vec<_> = names.into_iter().zip(changes).map(clause).collect();
    format!("With 50 gr more point weight: {}.", clauses.join("; "))
}

/// A result and its numbers before and after a change, in its saved unit.
type Change = (Output, [Option<f64>; 2]);

/// What fifty more grains of point change.
///
/// # Errors
/// [`WhatIfError::OutOfRange`] where the point would be heavier than is allowed.
fn fifty_more_grains(held: &Baseline<'_>) -> Result<[Change; 4], WhatIfError> {
    let heavier = held.resolved.number(Field::PointMass) + 50.0;
    Baseline::check(Field::PointMass, heavier)?;
    let before = held.outputs(&held.resolved, &[]);
    let after = held.outputs(&held.with(Field::PointMass, heavier), &[]);
    let outputs = [Output::FrontOfCentre, Output::IdealDrawWeight, Output::LaunchSpeed, Output::KineticEnergy];
    Ok(outputs.map(|output| (output, [before.get(output), after.get(output)])))
}

#[cfg(test)]
mod tests {
    use super::*;
    use clothyard_core::Evaluation;
    use clothyard_core::Setup;
    use clothyard_core::setup::samples;
    use clothyard_core::testing::all_user_given;
    use clothyard_core::testing::any_setup;
    use proptest::prelude::*;

    fn compound() -> Setup {
        all_user_given(&Setup::default().with(Field::PeakDrawWeight, 60.0).unwrap())
    }

    fn points(field: Field, from: f64, to: f64, output: Output) -> Points {
        Sweep::new(field, output, from, to).unwrap().points(&Baseline::new(&compound()))
    }

    #[test]
    fn every_point_is_an_evaluation() {
        for output in [Output::LaunchSpeed, Output::ColumnLoad, Output::IdealSpine, Output::NearestStock] {
            let points = points(Field::PointMass, 50.0, 250.0, output);
            assert_eq!((points.len(), points[0].0, points[25].0, points[100].0), (101, 50.0, 100.0, 250.0));
            for &(value, number) in points.iter().step_by(25) {
                let full = Evaluation::of(&compound().with(Field::PointMass, value).unwrap()).outputs;
                assert_eq!(number, full.get(output), "{value}");
            }
        }
    }

    #[test]
    fn the_inputs_own_value_is_one_of_the_points() {
        let setup = compound().with(Field::PointMass, 101.5).unwrap();
        let held = Baseline::new(&setup);
        let sweep = Sweep::new(Field::PointMass, Output::LaunchSpeed, 50.0, 250.0).unwrap();
        let points = sweep.points(&held);
        assert_eq!(points.len(), 102);
        let full = Evaluation::of(&setup).outputs;
        assert!(points.contains(&(101.5, full.get(Output::LaunchSpeed))));
        for (output, points) in sweep.main_results(&held) {
            assert_eq!((points.len(), points[0].0, points[21].0), (22, 50.0, 250.0));
            assert!(points.contains(&(101.5, full.get(output))), "{output:?}");
        }
    }

    #[test]
    fn a_shaft_cut_behind_the_rest_leaves_a_gap() {
        let of = |output| points(Field::CutLength, 20.0, 30.0, output);
        let (weight, load) = (of(Output::TotalWeight), of(Output::ColumnLoad));
        assert!(weight[0].1.is_some() && load[0].1.is_none() && load[100].1.is_some());
    }

    #[test]
    fn counts_stay_whole_and_bad_questions_are_refused() {
        let vanes: Vec<_> =
            points(Field::VaneCount, 0.0, 6.0, Output::TotalWeight).iter().map(|point| point.0).collect();
        assert_eq!(vanes, [0.0, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0]);
        let ask = |from, to| Sweep::new(Field::PointMass, Output::TotalWeight, from, to).unwrap_err();
        assert!(matches!(ask(5.0, 100.0), WhatIfError::OutOfRange { value: 5.0, .. }));
        assert!(matches!(ask(100.0, f64::NAN), WhatIfError::OutOfRange { .. }));
        assert!(matches!(ask(100.0, 100.0), WhatIfError::OutOfRange { minimum: 100.0, .. }));
    }

    #[test]
    fn ends_are_read_in_the_units_chosen() {
        let read = |from, to, units: &Units| Sweep::read(Field::CutLength, Output::FrontOfCentre, from, to, units);
        let sweep = read("28", "72,39 cm", &Units::ARCHERY).unwrap();
        assert!((sweep.to - 28.5).abs() < 1e-9 && sweep.from == 28.0);
        assert_eq!(sweep.title(), "FOC against cut length.");
        let wrong = |from, to| read(from, to, &Units::metric()).unwrap_err();
        assert!(wrong("x", "70").starts_with("From: enter a number of cm"));
        assert!(wrong("70", "").starts_with("To: enter a number of cm"));
        assert!(wrong("1", "70").starts_with("Cut length: 1 is out of range"));
        assert_eq!(wrong("71", "70"), "To must be greater than From.");
    }

    #[test]
    fn what_fifty_more_grains_do() {
        // Common practice, no source: more point is more FOC, a weaker arrow, less speed, a little more energy.
        for start in samples::all() {
            let by = |(_, [before, after]): Change| after.unwrap() - before.unwrap();
            let [foc, suits, speed, energy] = fifty_more_grains(&Baseline::new(&start.setup)).unwrap().map(by);
            assert!(foc > 0.0 && suits < 0.0 && speed < 0.0 && energy > 0.0, "{}", start.key);
        }
        let most = compound().with(Field::PointMass, 560.0).unwrap();
        assert!(matches!(fifty_more_grains(&Baseline::new(&most)), Err(WhatIfError::OutOfRange { value: 610.0, .. })));
        let say = |setup: &Setup| fifty_more_grains_sentence(&Baseline::new(setup), &Units::ARCHERY);
        assert_eq!(say(&most), "The point would be over the allowed range.");
        let sentence = say(&compound());
        assert!(sentence.starts_with("With 50 gr more point weight: FOC from "), "{sentence}");
        assert!(sentence.contains("%; best-match draw weight from ") && sentence.ends_with("ft-lb."), "{sentence}");
    }

    #[test]
    fn fifty_more_grains_in_closed_form() {
        // FP-3's balance with 50 gr more at the point's place; Klopsteg's speed with 50 gr more to move.
        let setup = compound();
        let number = |output| Evaluation::of(&setup).outputs.get(output).unwrap();
        let (m, a, l) = (number(Output::TotalWeight), number(Output::BalancePoint), number(Output::ArrowLength));
        let [(_, [_, foc]), _, (_, [before, speed]), _] = fifty_more_grains(&Baseline::new(&setup)).unwrap();
        let balance = (m * a + 50.0 * (l + 0.6)) / (m + 50.0);
        assert!((foc.unwrap() - 100.0 * (balance / l - 0.5)).abs() < 1e-9);
        let k = number(Output::MovingMass);
        let slower = before.unwrap() * ((m + k) / (m + 50.0 + k)).sqrt();
        assert!((speed.unwrap() - slower).abs() < 1e-9);
    }

    #[test]
    fn a_sweep_as_a_table() {
        let sweep = Sweep::new(Field::RestOffset, Output::FrontOfCentre, -1.0, 0.5).unwrap();
        let text = sweep.to_csv(&[(-1.0, Some(-2.54)), (0.5, None)], &Units::metric());
        assert_eq!(text, "Rest position (cm),FOC (%)\r\n-2.54,-2.54\r\n1.27,\r\n");
        let sweep = Sweep::new(Field::PointMass, Output::ColumnLoad, 10.0, 20.0).unwrap();
        assert_eq!(sweep.to_csv(&[], &Units::ARCHERY), "Point weight (gr),Column load\r\n");
    }

    proptest! {
        #[test]
        fn a_useful_range_can_be_swept(setup in any_setup()) {
            let resolved = Baseline::new(&setup).resolved;
            for field in Field::ALL {
                let Some((from, to)) = useful_range(field, &resolved) else { continue };
                prop_assert!(from < to && Baseline::check(field, from).is_ok() && Baseline::check(field, to).is_ok(), "{:?}", field);
                if let Some(current) = resolved.given(field) && Baseline::check(field, current).is_ok() {
                    prop_assert!((from..=to).contains(&current), "{:?}", field);
                }
            }
        }
    }
}
