//! Three points by three of something else, around the arrow of now: how each combination would match.

use crate::eval::answer::POINT_WEIGHTS_GR;
use crate::eval::{ResolvedSetup, Verdict, safety};
use crate::parse::EntryError;
use crate::schema::{Field, Output, StockShaft, Value};
use crate::setup::{Resolved, Setup};
use crate::units::SAME;

/// Weights of inserts one can buy, in grains (common practice, no source).
const INSERT_WEIGHTS_GR: [f64; 8] = [0.0, 10.0, 20.0, 35.0, 50.0, 75.0, 100.0, 150.0];
/// Weights of points that most shops have, in grains (common practice, no source).
const COMMON_POINTS_GR: [f64; 3] = [85.0, 100.0, 125.0];
/// Steps of cut length in inches and of draw weight in pounds.
const CUT_STEP_IN: f64 = 0.5;
const DRAW_WEIGHT_STEP_LB: f64 = 2.0;

/// What is tried down the table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Down {
    /// Another number of a field.
    Of(Field),
    /// Another shaft of the list.
    Shaft,
}

/// A row's heading, and what it puts on the arrow.
#[derive(Clone, Debug, PartialEq)]
pub enum Step {
    /// A number of the field, in its saved unit.
    Number(f64),
    /// A shaft of the list.
    Shaft(StockShaft),
    /// The shaft of now.
    Now,
}

/// How one combination would do.
#[derive(Clone, Debug, PartialEq)]
pub struct Cell {
    /// Whether it must not be shot.
    pub forbidden: bool,
    /// How it matches; none where nothing can be computed.
    pub verdict: Option<Verdict>,
    /// Draw weight it matches best less the bow's, in lb.
    pub off_lb: Option<f64>,
    /// FOC in percent.
    pub foc: Option<f64>,
    /// Weight in grains.
    pub weight_gr: Option<f64>,
}

/// The table.
#[derive(Clone, Debug, PartialEq)]
pub struct Glance {
    down: Down,
    /// Point weights across, in grains.
    pub points: [f64; 3],
    /// What is tried down.
    pub steps: Vec<Step>,
    /// The row of the arrow of now; it is in the column of its own point.
    pub row: usize,
    /// The column of the arrow of now.
    pub column: usize,
}

impl Glance {
    /// The table around a setup.
    #[must_use]
    pub fn of(setup: &Setup, resolved: &Resolved, down: Down) -> Self {
        let (points, column) = around(resolved.number(Field::PointMass), &POINT_WEIGHTS_GR);
        let (steps, row) = steps(setup, resolved, down);
        Self { down, points, steps, row, column }
    }

    /// How a step would do with a point, the defaults held. It costs a column load.
    #[must_use]
    pub fn cell(&self, setup: &Setup, resolved: &Resolved, step: &Step, point: f64) -> Cell {
        let moved = put(resolved, self.down, step).with(Field::PointMass, point);
        Cell::of(&ResolvedSetup::of(moved, &setup.own_parts))
    }

    /// Puts a step and a point on a setup.
    ///
    /// # Errors
    /// [`EntryError`] if a number is outside its field's range.
    pub fn apply(&self, setup: &mut Setup, step: &Step, point: f64) -> Result<(), EntryError> {
        let number = |number: f64| Some(Value::Number(number));
        setup.set(Field::PointMass, number(point))?;
        match (self.down, step) {
            (Down::Of(field), Step::Number(value)) => setup.set(field, number(*value)),
            (_, Step::Shaft(shaft)) => {
                setup.set(Field::BareShaft, None)?;
                shaft.inputs().try_for_each(|(field, value)| setup.set(field, number(value)))
            }
            (Down::Shaft, Step::Number(_)) | (_, Step::Now) => Ok(()),
        }
    }
}

impl Cell {
    fn of(at: &ResolvedSetup) -> Self {
        let get = |output: Output| at.outputs.get(output);
        let best = at.outputs.match_share().map(|share| at.resolved.number(Field::PeakDrawWeight) / share);
        Self {
            forbidden: safety::dangers(at).next().is_some(),
            verdict: Verdict::of(&at.outputs),
            off_lb: best.map(|best| best - at.resolved.number(Field::PeakDrawWeight)),
            foc: get(Output::FrontOfCentre),
            weight_gr: get(Output::TotalWeight),
        }
    }
}

/// Puts a step on the arrow.
fn put(resolved: &Resolved, down: Down, step: &Step) -> Resolved {
    match (down, step) {
        (Down::Of(field), Step::Number(number)) => resolved.with(field, *number),
        (_, Step::Shaft(shaft)) => resolved.on_shaft(shaft),
        (Down::Shaft, Step::Number(_)) | (_, Step::Now) => *resolved,
    }
}

/// The rows, and which of them is the arrow of now.
fn steps(setup: &Setup, resolved: &Resolved, down: Down) -> (Vec<Step>, usize) {
    match down {
        Down::Of(field) => {
            let now = resolved.number(field);
            let (numbers, row) = match field {
                Field::InsertMass => around(now, &INSERT_WEIGHTS_GR),
                Field::CutLength => (by_steps(now, field, CUT_STEP_IN), 1),
                _ => (by_steps(now, field, DRAW_WEIGHT_STEP_LB), 1),
            };
            (numbers.into_iter().map(Step::Number).collect(), row)
        }
        Down::Shaft => shafts(setup, resolved),
    }
}

/// Up to three weights to offer beside the point's field, the present one among them: of the user's own points, where
/// there are any, else common ones. Those `shown` stay as long as the present one is among them, so that none moves under
/// a finger.
#[must_use]
pub fn point_choices(now: f64, own: &[f64], shown: &[f64]) -> Vec<f64> {
    let has_now = |list: &[f64]| list.iter().any(|weight| (weight - now).abs() < SAME);
    if has_now(shown) {
        return shown.to_vec();
    }
    if own.is_empty() && has_now(&COMMON_POINTS_GR) {
        return COMMON_POINTS_GR.to_vec();
    }
    let ladder = if own.is_empty() { &POINT_WEIGHTS_GR[..] } else { own };
    let mut choices = around(now, ladder).0.to_vec();
    choices.dedup();
    choices
}

/// A number, the next lower and the next higher of a ladder; at an end of it two on the other side.
fn around(now: f64, ladder: &[f64]) -> ([f64; 3], usize) {
    let lower = |than: f64| ladder.iter().rev().copied().find(|&step| step < than - SAME);
    let higher = |than: f64| ladder.iter().copied().find(|&step| step > than + SAME);
    match (lower(now), higher(now)) {
        (Some(low), Some(high)) => ([low, now, high], 1),
        (None, Some(high)) => ([now, high, higher(high).unwrap_or(high)], 0),
        (Some(low), None) => ([lower(low).unwrap_or(low), low, now], 2),
        (None, None) => ([now; 3], 1),
    }
}

fn by_steps(now: f64, field: Field, step: f64) -> [f64; 3] {
    let input = field.input();
    [input.clamp(now - step), now, input.clamp(now + step)]
}

/// The next stiffer, the shaft of now and the next weaker of the list.
fn shafts(setup: &Setup, resolved: &Resolved) -> (Vec<Step>, usize) {
    let now = resolved.number(Field::StaticSpine);
    let nearest = |side: fn(f64, f64) -> bool| {
        let ones = setup.shafts.iter().filter(|shaft| side(shaft.static_spine_thousandths, now));
        ones.min_by(|a, b| {
            let off = |shaft: &StockShaft| (shaft.static_spine_thousandths - now).abs();
            off(a).total_cmp(&off(b))
        })
    };
    let stiffer = nearest(|spine, now| spine < now - SAME).cloned();
    let row = usize::from(stiffer.is_some());
    let weaker = nearest(|spine, now| spine > now + SAME).cloned();
    let steps = stiffer.map(Step::Shaft).into_iter().chain([Step::Now]).chain(weaker.map(Step::Shaft));
    (steps.collect(), row)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::eval::Evaluation;
    use crate::setup::samples;

    const ALL: [Down; 4] =
        [Down::Of(Field::InsertMass), Down::Of(Field::CutLength), Down::Of(Field::PeakDrawWeight), Down::Shaft];

    #[test]
    fn the_arrow_of_now_is_in_it_with_its_own_numbers() {
        for sample in samples::all() {
            let all = Evaluation::of(&sample.setup);
            for down in ALL {
                let table = Glance::of(&sample.setup, &all.resolved, down);
                let (step, point) = (&table.steps[table.row], table.points[table.column]);
                let cell = table.cell(&sample.setup, &all.resolved, step, point);
                assert_eq!(cell.weight_gr, all.outputs.get(Output::TotalWeight), "{} {down:?}", sample.key);
                assert_eq!(cell.foc, all.outputs.get(Output::FrontOfCentre));
                assert_eq!(cell.verdict, all.verdict);
                let best = all.outputs.get(Output::IdealDrawWeight).unwrap();
                let off = best - all.resolved.number(Field::PeakDrawWeight);
                assert!((cell.off_lb.unwrap() - off).abs() < 1e-6, "{down:?}: {:?} {off}", cell.off_lb);
            }
        }
    }

    #[test]
    fn a_cell_put_on_the_arrow_does_what_it_said() {
        let setup = samples::all().remove(0).setup;
        let all = Evaluation::of(&setup);
        for down in ALL {
            let table = Glance::of(&setup, &all.resolved, down);
            for step in &table.steps {
                for point in table.points {
                    let cell = table.cell(&setup, &all.resolved, step, point);
                    // What was a default then may follow now: the number itself is on the arrow.
                    let mut put = setup.clone();
                    table.apply(&mut put, step, point).unwrap();
                    let there = Evaluation::of(&put).resolved;
                    assert_eq!(there.number(Field::PointMass), point);
                    if let (Down::Of(field), Step::Number(number)) = (down, step) {
                        assert_eq!(there.number(field), *number);
                    }
                    assert!(cell.weight_gr.is_some());
                }
            }
        }
    }

    #[test]
    fn at_the_end_of_a_ladder_two_steps_the_other_way() {
        assert_eq!(around(75.0, &POINT_WEIGHTS_GR), ([75.0, 85.0, 100.0], 0));
        assert_eq!(around(110.0, &POINT_WEIGHTS_GR), ([100.0, 110.0, 125.0], 1));
        assert_eq!(around(350.0, &POINT_WEIGHTS_GR), ([250.0, 300.0, 350.0], 2));
    }

    #[test]
    fn points_to_choose_from_have_the_present_one_and_stay() {
        let own = [90.0, 110.0, 140.0, 200.0];
        assert_eq!(point_choices(100.0, &[], &[]), [85.0, 100.0, 125.0]);
        assert_eq!(point_choices(125.0, &[], &[85.0, 100.0, 125.0]), [85.0, 100.0, 125.0]);
        assert_eq!(point_choices(150.0, &[], &[85.0, 100.0, 125.0]), [125.0, 150.0, 175.0]);
        assert_eq!(point_choices(100.0, &own, &[]), [90.0, 100.0, 110.0]);
        assert_eq!(point_choices(110.0, &own, &[]), [90.0, 110.0, 140.0]);
        assert_eq!(point_choices(200.0, &own, &[]), [110.0, 140.0, 200.0]);
        assert_eq!(point_choices(120.0, &[120.0], &[]), [120.0]);
        assert_eq!(point_choices(100.0, &[120.0], &[]), [100.0, 120.0]);
    }
}
