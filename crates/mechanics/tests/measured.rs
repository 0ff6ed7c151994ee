//! Laws of what measurements say: exact recovery, indifference to order, no better set, and a
//! finite answer or none.
#![allow(clippy::unwrap_used, clippy::indexing_slicing)]

use std::f64::consts::{PI, TAU};

use clothyard_mechanics::measured::{
    Change, Component, HeightSensitivity, MAX_SHAFTS, MIN_MASS_RATIO, MeanShot, RigSteps, Shaft, SpeedReading,
    SpreadCost, Weighed, best_matched_set, explanations, fit_speeds, stiff_side,
};
use clothyard_mechanics::{
    Arrow, Bow, DrawCurve, DrawReading, MeasuredCurve, Parameter, Part, Result, SpineRig, launch_speed,
};
use proptest::prelude::*;

/// Mostly the whole allowed range with its ends, now and then any number at all.
fn wide(parameter: Parameter) -> impl Strategy<Value = f64> {
    let (low, high) = parameter.range();
    prop_oneof![30 => low..=high, 4 => Just(low), 4 => Just(high), 1 => any::<f64>()]
}

fn is_finite(answer: Result<f64>) -> bool {
    answer.is_err() || answer.is_ok_and(f64::is_finite)
}

/// Draw-force readings at ascending places ahead of a brace height of 0.2 m.
fn draw_readings() -> impl Strategy<Value = Vec<DrawReading>> {
    prop::collection::vec((0.004..0.05_f64, 5.0..300.0_f64), 3..20).prop_map(|steps| {
        let mut draw_m = 0.2;
        let next = |(step, force_n)| {
            draw_m += step;
            DrawReading { draw_m, force_n }
        };
        steps.into_iter().map(next).collect()
    })
}

fn shafts(count: std::ops::Range<usize>) -> impl Strategy<Value = Vec<Shaft>> {
    // Coarse steps, so that many are equal in one thing or both.
    let shaft = (0_u16..60, 0_u16..60).prop_map(|(mass, sag)| Shaft {
        mass_kg: 0.018 + 1e-5 * f64::from(mass),
        sag_m: 0.0120 + 2e-5 * f64::from(sag),
    });
    prop::collection::vec(shaft, count)
}

fn cost() -> impl Strategy<Value = SpreadCost> {
    let each = || prop_oneof![1 => Just(0.0), 9 => 1.0..1e5];
    (each(), each()).prop_map(|(per_kg, per_m)| SpreadCost { per_kg, per_m })
}

/// What a set of shafts costs.
fn set_cost(set: impl Iterator<Item = Shaft> + Clone, cost: SpreadCost) -> f64 {
    let spread = |value: fn(Shaft) -> f64| {
        let values = set.clone().map(value);
        values.clone().fold(f64::MIN, f64::max) - values.fold(f64::MAX, f64::min)
    };
    cost.per_kg * spread(|shaft| shaft.mass_kg) + cost.per_m * spread(|shaft| shaft.sag_m)
}

proptest! {
    #[test]
    fn straight_pieces_store_the_same_however_finely_read(readings in draw_readings(), share in 0.05..0.95_f64) {
        let curve = MeasuredCurve::new(&readings, 0.2).unwrap();
        let between = |pair: &[DrawReading]| {
            let draw_m = pair[0].draw_m + share * (pair[1].draw_m - pair[0].draw_m);
            DrawReading { draw_m, force_n: curve.force_n(draw_m) }
        };
        let finer: Vec<_> = readings.iter().copied().chain(curve.readings().windows(2).map(between)).collect();
        let fine = MeasuredCurve::new(&finer, 0.2).unwrap();
        let energy_j = curve.stored_energy_j();
        prop_assert!((fine.stored_energy_j() / energy_j - 1.0).abs() < 1e-13);
        prop_assert!((fine.valley_width_m() - curve.valley_width_m()).abs() < 1e-13);
        // What a shorter draw stores grows by the force there, exactly where no reading is near.
        let (here, step) = (0.2 + share * curve.stroke_m(), 2e-4);
        if curve.readings().iter().all(|node| (node.draw_m - here).abs() > 2.0 * step) {
            let energy = |draw_m: f64| curve.up_to(draw_m).map(|shorter| shorter.stored_energy_j());
            if let (Ok(less), Ok(more)) = (energy(here - step), energy(here + step)) {
                prop_assert!((more - less - 2.0 * step * curve.force_n(here)).abs() < 1e-13 * energy_j.max(1.0));
            }
        }
    }

    #[test]
    fn a_bow_of_readings_keeps_its_force_within_the_peak(readings in draw_readings(), drawn in any::<f64>()) {
        let curve = MeasuredCurve::new(&readings, 0.2).unwrap();
        let shape = DrawCurve::Measured(curve);
        let bow = Bow::new(curve.peak().force_n, curve.stroke_m(), shape, 0.006, 0.1).unwrap();
        prop_assert!((bow.stored_energy_j() / curve.stored_energy_j() - 1.0).abs() < 1e-14);
        prop_assert!((0.0..=1.0).contains(&shape.force_fraction(drawn)));
        prop_assert!((0.0..=1.0).contains(&curve.let_off()));
        prop_assert!((0.0..=curve.stroke_m()).contains(&curve.valley_width_m()));
        let uncertainty = curve.energy_uncertainty(0.001, 0.5).unwrap();
        prop_assert!(uncertainty.from_steps_j > 0.0);
        prop_assert!(uncertainty.from_steps_j < uncertainty.from_steps_at_most_j);
    }

    #[test]
    fn exact_speeds_give_energy_and_virtual_mass_back(
        energy in 10.0..150.0_f64,
        k in 0.0..0.02_f64,
        light in 0.012..0.03_f64,
        others in prop::collection::vec(1.0..2.0_f64, 0..12),
        heaviest in 1.3..2.0_f64,
    ) {
        let masses = [light, light * heaviest].into_iter().chain(others.iter().map(|ratio| light * ratio));
        let exact = |m| SpeedReading { arrow_mass_kg: m, speed_m_per_s: launch_speed(energy, m, k).unwrap() };
        let readings: Vec<_> = masses.map(exact).collect();
        let fit = fit_speeds(&readings, 0.0).unwrap();
        prop_assert!((fit.delivered_energy_j / energy - 1.0).abs() < 2e-13, "{:e}", fit.delivered_energy_j / energy - 1.0);
        prop_assert!((fit.virtual_mass_kg - k).abs() < 1e-14, "{:e}", fit.virtual_mass_kg - k);
        prop_assert!(fit.errors(&readings, 0.0).unwrap().suspect.is_none());
    }

    #[test]
    fn the_order_of_speeds_does_not_matter(
        noise in prop::collection::vec(-1.0..1.0_f64, 4..12),
        turn in 0_usize..12,
    ) {
        let reading = |(i, noise): (usize, &f64)| {
            let arrow_mass_kg = 0.02 + 0.003 * (i % 4) as f64;
            SpeedReading { arrow_mass_kg, speed_m_per_s: launch_speed(90.0, arrow_mass_kg, 0.007).unwrap() + noise }
        };
        let readings: Vec<_> = noise.iter().enumerate().map(reading).collect();
        let mut turned = readings.clone();
        turned.rotate_left(turn % readings.len());
        match (fit_speeds(&readings, 0.007), fit_speeds(&turned, 0.007)) {
            (Ok(first), Ok(second)) => {
                prop_assert!((first.delivered_energy_j / second.delivered_energy_j - 1.0).abs() < 1e-9);
                prop_assert!((first.virtual_mass_kg - second.virtual_mass_kg).abs() < 1e-11, "{first:?} {second:?}");
                let of = |readings: &[SpeedReading], index: usize| readings[index];
                let named = first.errors(&readings, 0.1).unwrap().suspect.map(|suspect| of(&readings, suspect.index));
                prop_assert_eq!(named, second.errors(&turned, 0.1).unwrap().suspect.map(|suspect| of(&turned, suspect.index)));
            }
            (first, second) => prop_assert!(first.is_err() && second.is_err()),
        }
    }

    #[test]
    fn no_set_of_a_few_shafts_is_better(shafts in shafts(1..10), wanted in any::<prop::sample::Index>(), cost in cost()) {
        let wanted = 1 + wanted.index(shafts.len());
        let set = best_matched_set(&shafts, wanted, cost).unwrap();
        let every = (0_u32..1 << shafts.len()).filter(|chosen| chosen.count_ones() as usize == wanted);
        let of = |chosen: u32| shafts.iter().enumerate().filter(move |(i, _)| chosen >> i & 1 == 1).map(|(_, shaft)| *shaft);
        let least = every.map(|chosen| set_cost(of(chosen), cost)).fold(f64::MAX, f64::min);
        prop_assert!((set.cost - least).abs() <= 1e-12 * least, "{} against {least}", set.cost);
        prop_assert_eq!(set.members().len(), wanted);
        let own = set.members().iter().map(|index| shafts[usize::from(*index)]);
        prop_assert!((set_cost(own, cost) - set.cost).abs() <= 1e-12 * least);
    }

    #[test]
    fn no_random_set_of_many_shafts_is_better(
        shafts in shafts(30..MAX_SHAFTS + 1),
        order in Just((0..MAX_SHAFTS).collect::<Vec<_>>()).prop_shuffle(),
        wanted in 2_usize..30,
        cost in cost(),
    ) {
        let set = best_matched_set(&shafts, wanted, cost).unwrap();
        let random = order.iter().filter_map(|index| shafts.get(*index)).take(wanted).copied();
        prop_assert!(set.cost <= set_cost(random, cost) * (1.0 + 1e-12));
        let mut backwards = shafts.clone();
        backwards.reverse();
        let again = best_matched_set(&backwards, wanted, cost).unwrap();
        prop_assert!((again.cost - set.cost).abs() <= 1e-12 * set.cost);
    }

    #[test]
    fn a_change_of_one_part_is_explained_by_it(
        parts in prop::collection::vec((0.0005..0.01_f64, 0.0..0.75_f64), 1..8),
        which in any::<prop::sample::Index>(),
        by in -0.4..0.6_f64,
    ) {
        let parts: Vec<_> = parts.into_iter().map(|(mass, place)| Part::point_mass(mass, place)).collect();
        let index = which.index(parts.len());
        let mut true_parts = parts.clone();
        true_parts[index].mass_kg *= 1.0 + by;
        let arrow = |parts| Arrow::new(0.72, 0.014, 0.018, 6.0, parts).unwrap();
        let (truth, assumed) = (arrow(&true_parts), arrow(&parts));
        let weighed = Weighed {
            mass_kg: truth.mass_kg(),
            balance_m: truth.balance_m(),
            mass_uncertainty_kg: 1e-5,
            balance_uncertainty_m: 5e-4,
        };
        let found = explanations(&assumed, &weighed).unwrap();
        let own = found.ranked().iter().find(|each| each.component == Component::Part(index)).unwrap();
        prop_assert!(own.misfit < 1e-8);
        if let Change::Mass(change) = own.change {
            prop_assert!((change - by * parts[index].mass_kg).abs() < 1e-12, "{change}");
        }
        let misfits: Vec<_> = found.ranked().iter().map(|each| each.misfit).collect();
        prop_assert!(misfits.is_sorted() && misfits[0] <= own.misfit);
    }

    #[test]
    fn a_shaft_turned_by_a_reading_has_its_stiff_side_turned_too(
        sags in prop::collection::vec(0.0120..0.0130_f64, 4..17),
    ) {
        let step = TAU / sags.len() as f64;
        let mut turned = sags.clone();
        turned.rotate_left(1);
        let (first, second) = (stiff_side(&sags, 1e-6).unwrap(), stiff_side(&turned, 1e-6).unwrap());
        prop_assert!((first.mean_sag_m - second.mean_sag_m).abs() < 1e-16);
        prop_assert!((first.plane_difference_m - second.plane_difference_m).abs() < 1e-15);
        prop_assert!((first.side_difference_m - second.side_difference_m).abs() < 1e-15);
        let apart = |a: f64, b: f64, period: f64| {
            (-2..=2).map(|turns| (a - b + f64::from(turns) * period).abs()).fold(f64::MAX, f64::min)
        };
        if let (Some(a), Some(b)) = (first.stiff_plane_rad, second.stiff_plane_rad) {
            prop_assert!((0.0..PI).contains(&a));
            prop_assert!(apart(a, b + step, PI) < 1e-8, "{a} and {b}");
        }
        if first.side_difference_m > 1e-6 {
            prop_assert!(apart(first.side_rad, second.side_rad + step, TAU) < 1e-8);
        }
    }

    #[test]
    fn a_rig_is_off_by_no_more_than_its_worst(
        rig in (0.3..1.0_f64, 3.0..20.0_f64),
        sag in 0.003..0.03_f64,
        steps in (1e-5..0.005_f64, 1e-3..0.2_f64, 1e-6..1e-4_f64),
        off in (-0.5..0.5_f64, -0.5..0.5_f64, -0.5..0.5_f64, -0.5..0.5_f64),
    ) {
        let (span_m, load_n, dial_m) = steps;
        let read = SpineRig::new(rig.0, rig.1).unwrap();
        let truth = SpineRig::new(rig.0 + off.0 * span_m, rig.1 + off.1 * load_n).unwrap();
        let true_sag = sag + (off.2 - off.3) * dial_m;
        let stated = read.measured_spine(sag, &RigSteps { span_m, load_n, dial_m });
        let actual = truth.bending_stiffness_nm2(true_sag).and_then(|ei| SpineRig::ASTM_F2031.deflection_m(ei));
        if let (Ok(stated), Ok(actual)) = (stated, actual) {
            let share = stated.off_at_most_m / stated.astm_sag_m;
            // The bound is of first order; the second is of the size of its square.
            let beyond = (actual / stated.astm_sag_m - 1.0).abs() - share;
            prop_assert!(beyond <= 2.0 * share * share, "{share} is passed by {beyond}");
            prop_assert!(stated.uncertainty_m <= stated.off_at_most_m);
        }
    }

    #[test]
    fn any_measurement_gives_a_finite_answer_or_an_error(
        speeds in prop::collection::vec((wide(Parameter::ArrowMass), wide(Parameter::Speed)), 0..8),
        draws in prop::collection::vec((wide(Parameter::DrawPlace), wide(Parameter::DrawForce)), 0..70),
        sags in prop::collection::vec(wide(Parameter::Deflection), 0..10),
        brace in wide(Parameter::BraceHeight),
        k in wide(Parameter::VirtualMass),
        step in prop_oneof![wide(Parameter::Resolution), 0.0..0.01],
        sensitivity in (wide(Parameter::HeightSensitivity), wide(Parameter::HeightSensitivity)),
    ) {
        let readings: Vec<_> =
            speeds.iter().map(|(m, v)| SpeedReading { arrow_mass_kg: *m, speed_m_per_s: *v }).collect();
        if let Ok(fit) = fit_speeds(&readings, k)
            && let Ok(off) = fit.errors(&readings, step)
        {
            let errors = off.energy_error_j.unwrap_or(0.0) + off.virtual_mass_error_kg.unwrap_or(0.0);
            prop_assert!((fit.delivered_energy_j + errors + fit.virtual_mass_kg).is_finite(), "{fit:?}");
            prop_assert!(off.suspect.is_none_or(|suspect| suspect.studentized.is_finite()));
        }
        let readings: Vec<_> =
            draws.iter().map(|(draw_m, force_n)| DrawReading { draw_m: *draw_m, force_n: *force_n }).collect();
        if let Ok(curve) = MeasuredCurve::new(&readings, brace) {
            prop_assert!((curve.stored_energy_j() + curve.valley_width_m() + curve.setback_n()).is_finite());
            prop_assert!(is_finite(curve.energy_uncertainty(step, step).map(|each| each.from_spacing_j + each.from_steps_j)));
            prop_assert!(is_finite(curve.up_to(k).map(|shorter| shorter.energy_fraction())));
        }
        prop_assert!(is_finite(stiff_side(&sags, step).map(|side| side.plane_difference_m + side.side_rad)));
        let height = HeightSensitivity { per_speed_s: sensitivity.0, per_mass_m_per_kg: sensitivity.1 };
        let shot = MeanShot { speed_m_per_s: brace, arrow_mass_kg: k, virtual_mass_kg: step };
        prop_assert!(is_finite(shot.height_spread_m(step, &height)));
        prop_assert!(is_finite(shot.mass_tolerance_kg(step, &height).map(|tolerance| tolerance.unwrap_or(0.0))));
    }
}

#[test]
fn the_ratio_of_masses_that_tells_a_virtual_mass_is_as_stated() {
    // A chronograph of 0.3 m/s steps: a third of a virtual mass of 7 g stays open at the ratio itself.
    let exact = |m| SpeedReading { arrow_mass_kg: m, speed_m_per_s: launch_speed(90.0, m, 0.007).unwrap() };
    let readings = [exact(0.022), exact(0.022 * MIN_MASS_RATIO)];
    let fit = fit_speeds(&readings, 0.007).unwrap();
    let error = fit.errors(&readings, 0.3).unwrap().virtual_mass_error_kg.unwrap();
    assert!((0.0023..0.0027).contains(&error), "{error}");
}
