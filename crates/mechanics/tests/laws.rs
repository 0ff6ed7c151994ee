//! Laws that hold for every arrow: scaling, order, continuity, and a finite answer or none.
#![allow(clippy::unwrap_used)]

use clothyard_mechanics::beam::BucklingShape;
use clothyard_mechanics::{
    Arrow, Bow, DEFAULT_ELEMENTS, DrawCurve, Error, Parameter, Part, Solution, SpineRig, column_load,
    critical_acceleration, critical_acceleration_near, critical_acceleration_with, delivered_energy_from_speed,
    energy_and_virtual_mass_from_two, find_root, launch_speed,
};
use proptest::prelude::*;

/// What an arrow is made of, with a place for its rest.
#[derive(Clone, Debug)]
struct Sample {
    length_m: f64,
    per_length: f64,
    stiffness: f64,
    parts: Vec<Part>,
    rest_m: f64,
}

impl Sample {
    fn arrow(&self) -> Arrow<'_> {
        Arrow::new(self.length_m, 0.014, self.per_length, self.stiffness, &self.parts).unwrap()
    }

    fn critical(&self) -> f64 {
        critical_acceleration(&self.arrow(), self.rest_m).unwrap()
    }
}

/// A part within or ahead of a shaft of `length`, which may stiffen it.
fn part(length: f64) -> impl Strategy<Value = Part> {
    let stiffness = prop_oneof![Just(0.0), 0.1..30.0];
    (1e-4..0.01, 0.0..length + 0.05, 0.005..0.1, stiffness).prop_map(
        |(mass_kg, from_m, extent, added_stiffness_nm2)| Part {
            mass_kg,
            center_m: from_m + 0.4 * extent,
            from_m,
            to_m: from_m + extent,
            added_stiffness_nm2,
        },
    )
}

/// Arrows from a child's to a broadhead on a heavy shaft, with the rest from far back to the end.
fn sample() -> impl Strategy<Value = Sample> {
    let stiffness = 2.0..15.0;
    (0.5..0.9, 0.008..0.04, stiffness, 0.3..0.9999).prop_flat_map(|(length_m, per_length, stiffness, rest)| {
        prop::collection::vec(part(length_m), 0..9).prop_map(move |parts| Sample {
            length_m,
            per_length,
            stiffness,
            parts,
            rest_m: rest * length_m,
        })
    })
}

/// Mostly the whole allowed range with its ends, now and then any number at all.
fn wide(parameter: Parameter) -> impl Strategy<Value = f64> {
    let (low, high) = parameter.range();
    prop_oneof![30 => low..=high, 4 => Just(low), 4 => Just(high), 1 => any::<f64>()]
}

fn wide_part() -> impl Strategy<Value = Part> {
    let places = (wide(Parameter::Position), wide(Parameter::Position), wide(Parameter::Position));
    (wide(Parameter::PartMass), places, wide(Parameter::AddedStiffness)).prop_map(
        |(mass_kg, (center_m, from_m, to_m), added_stiffness_nm2)| Part {
            mass_kg,
            center_m,
            // In order, as most would otherwise be refused for that alone.
            from_m: from_m.min(to_m),
            to_m: from_m.max(to_m),
            added_stiffness_nm2,
        },
    )
}

fn is_finite(answer: Result<f64, Error>) -> bool {
    answer.is_err() || answer.is_ok_and(f64::is_finite)
}

proptest! {
    #[test]
    fn twice_as_stiff_bears_twice_as_much(sample in sample()) {
        let mut stiff = sample.clone();
        stiff.stiffness *= 2.0;
        stiff.parts.iter_mut().for_each(|part| part.added_stiffness_nm2 *= 2.0);
        prop_assert!((stiff.critical() / sample.critical() - 2.0).abs() < 1e-9);
    }

    #[test]
    fn twice_as_heavy_bears_half_as_much(sample in sample()) {
        let mut heavy = sample.clone();
        heavy.per_length *= 2.0;
        heavy.parts.iter_mut().for_each(|part| part.mass_kg *= 2.0);
        prop_assert!((heavy.critical() / sample.critical() - 0.5).abs() < 1e-9);
    }

    #[test]
    fn twice_the_size_bears_a_quarter_at_the_same_mass(mut sample in sample()) {
        // A rest short of the end by less than the least element is another beam.
        sample.rest_m = sample.rest_m.min(0.99 * sample.length_m);
        sample.parts.iter_mut().for_each(|part| part.added_stiffness_nm2 = 0.0);
        let large = |part: &Part| Part::point_mass(part.mass_kg, 2.0 * part.center_m);
        let parts: Vec<_> = sample.parts.iter().map(large).collect();
        let (length, per_length) = (2.0 * sample.length_m, 0.5 * sample.per_length);
        let arrow = Arrow::new(length, 0.028, per_length, sample.stiffness, &parts).unwrap();
        let found = critical_acceleration(&arrow, 2.0 * sample.rest_m).unwrap();
        prop_assert!((found / sample.critical() - 0.25).abs() < 1e-9);
    }

    #[test]
    fn a_stiffer_shaft_bears_more(sample in sample(), share in 1e-4..0.5) {
        let mut stiff = sample.clone();
        stiff.stiffness *= 1.0 + share;
        prop_assert!(stiff.critical() > sample.critical());
    }

    #[test]
    fn a_heavier_point_bears_less(sample in sample(), grams in 0.1..10.0) {
        let mut heavy = sample.clone();
        heavy.parts.push(Part::point_mass(1e-3 * grams, sample.length_m + 0.01));
        prop_assert!(heavy.critical() < sample.critical());
    }

    #[test]
    fn a_longer_arrow_bears_less(mut sample in sample(), millimeters in 2.0..50.0) {
        // Point and rest keep their distance from the front end; all else stays.
        let with_point = |sample: &mut Sample| {
            sample.parts.truncate(4);
            sample.parts.iter_mut().for_each(|part| part.added_stiffness_nm2 = 0.0);
            sample.parts.push(Part::point_mass(0.0065, sample.length_m + 0.01));
            sample.rest_m = sample.length_m - 0.03;
        };
        sample.parts.retain(|part| part.center_m < sample.length_m - 0.05);
        let mut long = sample.clone();
        long.length_m += 1e-3 * millimeters;
        with_point(&mut sample);
        with_point(&mut long);
        prop_assert!(long.critical() < sample.critical());
    }

    #[test]
    fn the_default_elements_are_enough(sample in sample()) {
        let fine = critical_acceleration_with(&sample.arrow(), sample.rest_m, 64).unwrap();
        let error = sample.critical() / fine - 1.0;
        // The worst of 200 000 such arrows, most of them stiffened like none that is shot, was 2.1e-4.
        prop_assert!(error.abs() < 3e-4, "{DEFAULT_ELEMENTS} elements: {error:e}");
    }

    #[test]
    fn any_start_leads_to_the_same_answer(one in sample(), other in sample()) {
        let mut shape = BucklingShape::default();
        for sample in [&one, &other, &one, &one] {
            let found = critical_acceleration_near(&sample.arrow(), sample.rest_m, &mut shape).unwrap();
            prop_assert!((found / sample.critical() - 1.0).abs() < 2e-10, "{found} against {}", sample.critical());
        }
    }

    #[test]
    fn no_jump_where_the_rest_moves(sample in sample(), micrometers in 0.1..10.0) {
        // A wrong mode, or one element more or fewer, would show as a step.
        let mut moved = sample.clone();
        moved.rest_m -= 1e-6 * micrometers;
        let step = moved.critical() / sample.critical() - 1.0;
        prop_assert!(step.abs() < 2e-3, "{step:e}");
    }

    #[test]
    fn what_rides_at_the_string_presses_nothing(sample in sample(), behind in 0.0..0.05_f64) {
        let mut nocked = sample.clone();
        nocked.parts.push(Part::point_mass(0.001, -behind));
        prop_assert!((nocked.critical() / sample.critical() - 1.0).abs() < 1e-9);
    }

    #[test]
    fn the_spine_that_bears_a_load_is_found_again(sample in sample()) {
        let wanted = sample.critical();
        let miss = |stiffness| {
            let arrow = Arrow { shaft_stiffness_nm2: stiffness, ..sample.arrow() };
            Ok(critical_acceleration(&arrow, sample.rest_m)? - wanted)
        };
        let found = find_root(miss, 1.0, 20.0, 1e-6).unwrap();
        prop_assert!(
            matches!(found, Solution::At(x) if (x - sample.stiffness).abs() < 2e-6),
            "{found:?} against {}", sample.stiffness
        );
    }

    #[test]
    fn any_arrow_gives_a_finite_answer_or_an_error(
        length_m in wide(Parameter::ArrowLength),
        shaft_from_m in wide(Parameter::ShaftStart),
        shaft_mass_kg_per_m in wide(Parameter::MassPerLength),
        shaft_stiffness_nm2 in wide(Parameter::BendingStiffness),
        parts in prop::collection::vec(wide_part(), 0..34),
        rest_m in wide(Parameter::RestPosition),
        elements in 0_usize..70,
    ) {
        let arrow =
            Arrow { length_m, shaft_from_m, shaft_mass_kg_per_m, shaft_stiffness_nm2, parts: &parts };
        let answer = critical_acceleration_with(&arrow, rest_m, elements);
        prop_assert!(is_finite(answer), "{answer:?}");
        let unsettled = matches!(answer, Err(Error::NoConvergence { .. }));
        prop_assert!(!unsettled, "{answer:?}");
    }

    #[test]
    fn any_bow_gives_a_finite_answer_or_an_error(
        force in wide(Parameter::PeakForce),
        stroke in wide(Parameter::Stroke),
        shape in (wide(Parameter::Rise), wide(Parameter::Valley), wide(Parameter::LetOff)),
        virtual_mass in wide(Parameter::VirtualMass),
        loss in wide(Parameter::Loss),
        drawn in any::<f64>(),
    ) {
        let (rise, valley, let_off) = shape;
        let curve = DrawCurve::LetOff { rise, valley, let_off };
        if let Ok(bow) = Bow::new(force, stroke, curve, virtual_mass, loss) {
            prop_assert!(bow.stored_energy_j() > 0.0 && bow.delivered_energy_j().is_finite());
            prop_assert!((0.0..=1.0).contains(&curve.force_fraction(drawn)));
        }
    }

    #[test]
    fn any_reading_gives_a_finite_answer_or_an_error(
        speeds in (wide(Parameter::Speed), wide(Parameter::Speed)),
        masses in (wide(Parameter::ArrowMass), wide(Parameter::ArrowMass)),
        virtual_mass in wide(Parameter::VirtualMass),
        rig in (wide(Parameter::Span), wide(Parameter::SpineLoad)),
        sag in (wide(Parameter::Deflection), wide(Parameter::BendingStiffness)),
    ) {
        let both = energy_and_virtual_mass_from_two(speeds.0, masses.0, speeds.1, masses.1);
        prop_assert!(is_finite(both.map(|(energy, mass)| energy + mass)));
        prop_assert!(is_finite(delivered_energy_from_speed(speeds.0, masses.0, virtual_mass)));
        prop_assert!(is_finite(launch_speed(speeds.0, masses.0, virtual_mass)));
        prop_assert!(is_finite(column_load(speeds.0, speeds.1)));
        let rig = SpineRig { span_m: rig.0, load_n: rig.1 };
        prop_assert!(is_finite(rig.bending_stiffness_nm2(sag.0)));
        prop_assert!(is_finite(rig.deflection_m(sag.1)));
    }
}

#[test]
fn a_rest_at_or_ahead_of_the_front_end_is_refused() {
    let arrow = Arrow::new(0.7, 0.0, 0.02, 6.0, &[]).unwrap();
    for rest_m in [0.7, 0.75] {
        let refused = critical_acceleration(&arrow, rest_m).unwrap_err();
        assert_eq!(refused, Error::RestAheadOfShaft { rest_m, length_m: 0.7 });
    }
    assert!(critical_acceleration(&arrow, 0.699_999_9).is_ok());
    assert!(critical_acceleration(&arrow, 0.0).is_err());
    assert!(critical_acceleration_with(&arrow, 0.6, 1).is_err());
}

#[test]
fn a_part_that_passes_the_front_end_makes_no_jump() {
    let critical = |center_m: f64| {
        let parts = [Part::point_mass(0.0065, center_m)];
        let arrow = Arrow::new(0.7, 0.0, 0.02, 6.0, &parts).unwrap();
        critical_acceleration(&arrow, 0.67).unwrap()
    };
    let (behind, ahead) = (critical(0.7 - 1e-9), critical(0.7 + 1e-9));
    assert!((behind / ahead - 1.0).abs() < 1e-8, "{behind} against {ahead}");
}

#[test]
fn an_overhang_too_short_to_bend_makes_no_jump() {
    let parts = [Part::point_mass(0.0065, 0.715)];
    let arrow = Arrow::new(0.7, 0.0, 0.02, 6.0, &parts).unwrap();
    let critical = |overhang: f64| critical_acceleration(&arrow, 0.7 - overhang).unwrap();
    let (bends, turns) = (critical(1.000_001e-3), critical(0.999_999e-3));
    assert!((bends / turns - 1.0).abs() < 5e-6, "{bends} against {turns}");
    // Not even one too short to be told from none.
    assert!((critical(1e-12) / critical(1e-9) - 1.0).abs() < 1e-7);
}

#[test]
fn as_many_parts_as_fit_are_solved() {
    let part = |i: usize| Part {
        mass_kg: 0.001,
        center_m: 0.02 * i as f64 + 0.013,
        from_m: 0.02 * i as f64 + 0.011,
        to_m: 0.02 * i as f64 + 0.019,
        added_stiffness_nm2: 1.0,
    };
    let parts: Vec<Part> = (0..32).map(part).collect();
    let arrow = Arrow::new(0.7, 0.0, 0.02, 6.0, &parts).unwrap();
    let coarse = critical_acceleration(&arrow, 0.67).unwrap();
    let fine = critical_acceleration_with(&arrow, 0.67, 64).unwrap();
    assert!((coarse / fine - 1.0).abs() < 1e-4, "{coarse} against {fine}");
    // None is lost: their order does not matter.
    let turned: Vec<Part> = parts.iter().rev().copied().collect();
    let found = critical_acceleration(&Arrow::new(0.7, 0.0, 0.02, 6.0, &turned).unwrap(), 0.67).unwrap();
    assert!((found / coarse - 1.0).abs() < 1e-9, "{found} against {coarse}");
}
