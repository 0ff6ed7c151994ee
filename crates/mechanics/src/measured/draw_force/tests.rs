use super::*;
use crate::bow::Bow;
use crate::draw_curve::DrawCurve;
use crate::units::{METER_PER_INCH, NEWTON_PER_POUND_FORCE};
use std::vec::Vec;

const BRACE_M: f64 = 0.21;

fn reading(draw_m: f64, force_n: f64) -> DrawReading {
    DrawReading { draw_m, force_n }
}

/// `count` readings of a curve of a shape known in closed form, 200 N over 0.5 m.
fn read(shape: DrawCurve, count: usize) -> MeasuredCurve {
    let at = |u: f64| reading(BRACE_M + 0.5 * u, 200.0 * shape.force_fraction(u));
    let readings: Vec<_> = (1..=count).map(|i| at(i as f64 / count as f64)).collect();
    MeasuredCurve::new(&readings, BRACE_M).unwrap()
}

/// A compound of the invented club Sallow Field, every two inches or so.
fn compound() -> MeasuredCurve {
    let readings = [
        (8.0, 18.0),
        (10.0, 38.0),
        (12.0, 52.0),
        (14.0, 60.0),
        (16.0, 60.0),
        (20.0, 59.0),
        (24.0, 50.0),
        (26.0, 15.0),
        (27.0, 12.0),
        (28.0, 20.0),
    ];
    let metric = readings.map(|(inches, pounds)| reading(inches * METER_PER_INCH, pounds * NEWTON_PER_POUND_FORCE));
    MeasuredCurve::new(&metric, 7.0 * METER_PER_INCH).unwrap()
}

#[test]
fn a_straight_line_stores_half_of_force_times_stroke() {
    let line = read(DrawCurve::Smooth { curvature: 0.0 }, 7);
    assert!((line.energy_fraction() - 0.5).abs() < 1e-15);
    assert!((line.stored_energy_j() - 50.0).abs() < 1e-12);
    assert!(line.energy_uncertainty(0.0, 0.0).unwrap().from_spacing_j.abs() < 1e-12);
}

#[test]
fn what_the_trapezoids_leave_out_of_a_parabola_is_told_exactly() {
    // E = F S (1/2 + k/6) in closed form.
    for k in [0.51, 0.12, -0.4] {
        for count in [3, 8, 40] {
            let curve = read(DrawCurve::Smooth { curvature: k }, count);
            let between = curve.energy_uncertainty(0.0, 0.0).unwrap().from_spacing_j;
            let exact = 200.0 * 0.5 * (0.5 + k / 6.0);
            assert!((curve.stored_energy_j() + between - exact).abs() < 1e-11, "{k}, {count}");
            // And without it the rule falls short by k F S / (6 n^2).
            let short = k * 100.0 / (6.0 * (count * count) as f64);
            assert!((exact - curve.stored_energy_j() - short).abs() < 1e-11, "{k}, {count}");
        }
    }
}

#[test]
fn readings_an_inch_apart_tell_four_published_recurves_apart() {
    // W / (F S) = 0.5811, 0.5813, 0.5822, 0.5953: Tuijn & Kooi (1992), Table I. A curve of that
    // energy, read at 20 places, keeps the printed digits but for the last.
    for published in [0.5811, 0.5813, 0.5822, 0.5953] {
        let shape = DrawCurve::Smooth { curvature: 6.0 * (published - 0.5) };
        let found = read(shape, 20).energy_fraction();
        assert!(found < published && published - found < 2.5e-4, "{found} against {published}");
    }
}

#[test]
fn the_order_of_the_readings_does_not_matter() {
    let sorted = [reading(0.3, 60.0), reading(0.45, 110.0), reading(0.6, 150.0), reading(0.7, 190.0)];
    let curve = MeasuredCurve::new(&sorted, BRACE_M).unwrap();
    for turn in 0..4 {
        let mut turned = sorted;
        turned.rotate_left(turn);
        assert_eq!(MeasuredCurve::new(&turned, BRACE_M), Ok(curve));
    }
    let with_rest = [sorted[2], reading(BRACE_M, 0.0), sorted[0], sorted[3], sorted[1]];
    assert_eq!(MeasuredCurve::new(&with_rest, BRACE_M), Ok(curve));
}

#[test]
fn peak_valley_and_let_off_of_a_compound() {
    let curve = compound();
    let pounds = |force_n: f64| force_n / NEWTON_PER_POUND_FORCE;
    assert!((pounds(curve.peak().force_n) - 60.0).abs() < 1e-12);
    assert!((curve.peak().draw_m / METER_PER_INCH - 14.0).abs() < 1e-12, "the first of two equals");
    assert!((pounds(curve.valley_force_n()) - 12.0).abs() < 1e-12);
    assert!((pounds(curve.full_draw().force_n) - 20.0).abs() < 1e-12);
    assert!((curve.let_off() - 0.8).abs() < 1e-15);
    // Level 12 + 4.8 = 16.8 lb: from 26 - 2 (1.8 / 35) in to 27 + 4.8 / 8 in.
    let width_in = (27.0 + 0.6) - (26.0 - 3.6 / 35.0);
    assert!((curve.valley_width_m() / METER_PER_INCH - width_in).abs() < 1e-12);
    assert!(curve.setback_n().abs() < 1e-300);
}

#[test]
fn a_curve_that_rises_to_the_end_has_no_valley() {
    let recurve = read(DrawCurve::RECURVE, 10);
    assert!(recurve.let_off().abs() < 1e-300 && recurve.valley_width_m().abs() < 1e-300);
    assert!((recurve.valley_force_n() - 200.0).abs() < 1e-12);
}

#[test]
fn a_slipped_reading_shows_as_a_setback() {
    let readings = [reading(0.3, 60.0), reading(0.45, 101.0), reading(0.5, 91.0), reading(0.6, 150.0)];
    let curve = MeasuredCurve::new(&readings, BRACE_M).unwrap();
    assert!((curve.setback_n() - 10.0).abs() < 1e-12);
}

#[test]
fn force_is_linear_between_readings_and_constant_beyond() {
    let curve = read(DrawCurve::Smooth { curvature: 0.0 }, 4);
    for (draw, force) in [(0.0, 0.0), (BRACE_M, 0.0), (BRACE_M + 0.0625, 25.0), (BRACE_M + 0.5, 200.0), (2.0, 200.0)] {
        assert!((curve.force_n(draw) - force).abs() < 1e-12, "{draw}");
    }
    for u in [-1.0, 0.0, 0.2, 1.0, 7.0] {
        assert!((curve.force_fraction(u) - u.clamp(0.0, 1.0)).abs() < 1e-14, "{u}");
    }
}

#[test]
fn a_bow_of_readings_stores_what_the_readings_store() {
    let curve = compound();
    let bow = Bow::new(curve.peak().force_n, curve.stroke_m(), DrawCurve::Measured(curve), 0.007, 0.1).unwrap();
    assert!((bow.stored_energy_j() - curve.stored_energy_j()).abs() < 1e-12);
    // Turned down by a tenth, it keeps its shape.
    let down = Bow { peak_force_n: 0.9 * bow.peak_force_n, ..bow };
    assert!((down.stored_energy_j() - 0.9 * bow.stored_energy_j()).abs() < 1e-12);
}

#[test]
fn a_shorter_draw_ends_on_the_line_between_readings() {
    let curve = compound();
    let short = curve.up_to(25.0 * METER_PER_INCH).unwrap();
    assert!((short.full_draw().force_n / NEWTON_PER_POUND_FORCE - 32.5).abs() < 1e-12);
    let cut = (curve.stored_energy_j() - short.stored_energy_j()) / (NEWTON_PER_POUND_FORCE * METER_PER_INCH);
    assert!((cut - (23.75 + 13.5 + 16.0)).abs() < 1e-11, "{cut}");
    assert_eq!(curve.up_to(28.0 * METER_PER_INCH), Ok(curve));
    for beyond in [29.0, 6.0, 7.0, f64::NAN] {
        assert!(curve.up_to(beyond * METER_PER_INCH).is_err(), "{beyond}");
    }
}

#[test]
fn uncertainty_from_steps_is_that_of_small_changes_summed() {
    // GUM 5.1.2, each slope by a central difference of the energy itself.
    let (rule, scale) = (0.003, 3.0);
    let curve = compound();
    let energy = |index: usize, draw: f64, force: f64| {
        let mut nodes = curve.readings().to_vec();
        nodes[index].draw_m += draw;
        nodes[index].force_n += force;
        let trapezoid =
            |pair: &[DrawReading]| 0.5 * (pair[1].draw_m - pair[0].draw_m) * (pair[0].force_n + pair[1].force_n);
        nodes.windows(2).map(trapezoid).sum::<f64>()
    };
    let (mut squares, mut sum) = (0.0, 0.0);
    for index in 0..curve.readings().len() {
        let by_draw = (energy(index, 1e-4, 0.0) - energy(index, -1e-4, 0.0)) / 2e-4 * rule;
        let by_force = (energy(index, 0.0, 0.1) - energy(index, 0.0, -0.1)) / 0.2 * scale;
        let by_force = if index == 0 { 0.0 } else { by_force };
        squares += (by_draw * by_draw + by_force * by_force) / 12.0;
        sum += 0.5 * (by_draw.abs() + by_force.abs());
    }
    let found = curve.energy_uncertainty(rule, scale).unwrap();
    assert!((found.from_steps_j / sqrt(squares) - 1.0).abs() < 1e-9, "{found:?}");
    assert!((found.from_steps_at_most_j / sum - 1.0).abs() < 1e-9, "{found:?}");
    assert!(curve.energy_uncertainty(-1.0, 0.0).is_err());
}

#[test]
fn what_no_curve_can_be_is_refused_by_name() {
    let good = [reading(0.3, 60.0), reading(0.5, 110.0), reading(0.7, 160.0)];
    let refused = |index: usize, wrong: DrawReading| {
        let mut readings = good;
        readings[index] = wrong;
        MeasuredCurve::new(&readings, BRACE_M).unwrap_err()
    };
    let parameter = |error| match error {
        Error::OutOfRange { parameter, .. } => parameter,
        other => panic!("{other}"),
    };
    assert_eq!(refused(1, reading(0.3, 61.0)), Error::Repeated { parameter: Parameter::DrawPlace, value: 0.3 });
    assert_eq!(parameter(refused(1, reading(0.5, -1.0))), Parameter::DrawForce);
    assert_eq!(parameter(refused(0, reading(0.2, 20.0))), Parameter::DrawPlace);
    assert_eq!(parameter(refused(0, reading(BRACE_M, 20.0))), Parameter::DrawForce);
    assert_eq!(parameter(refused(2, reading(f64::NAN, 20.0))), Parameter::DrawPlace);
    assert_eq!(parameter(MeasuredCurve::new(&good[..2], BRACE_M).unwrap_err()), Parameter::Readings);
    assert_eq!(parameter(MeasuredCurve::new(&[good[0]; 65], BRACE_M).unwrap_err()), Parameter::Readings);
    let slack = good.map(|each| reading(each.draw_m, 0.0));
    assert_eq!(parameter(MeasuredCurve::new(&slack, BRACE_M).unwrap_err()), Parameter::PeakForce);
}

#[test]
fn as_many_readings_as_fit_are_all_kept() {
    let full = read(DrawCurve::Smooth { curvature: 0.0 }, MAX_DRAW_READINGS);
    assert_eq!(full.readings().len(), 1 + MAX_DRAW_READINGS);
    assert!((full.stroke_m() - 0.5).abs() < 1e-15 && (full.stored_energy_j() - 50.0).abs() < 1e-12);
}

#[test]
fn the_first_share_at_a_force_lies_on_the_line_to_it() {
    let curve = MeasuredCurve::new(&[reading(0.30, 100.0), reading(0.40, 200.0), reading(0.60, 50.0)], 0.20).unwrap();
    for (share, at) in [(0.0, 0.0), (0.25, 0.125), (0.5, 0.25), (0.75, 0.375), (1.0, 0.5)] {
        assert!((curve.first_share_at(share) - at).abs() < 1e-15, "{share}");
    }
}
