//! Columns whose buckling load is in a textbook or follows from a closed equation.
#![allow(clippy::unwrap_used)]

use core::f64::consts::PI;

use clothyard_mechanics::Error;
use clothyard_mechanics::beam::{Beam, MAX_NODES, Node, Section, Support};
use libm::{sin, sqrt, tan};

use Support::{Clamped, Free, Pinned};

/// Evenly spaced nodes of a column of unit length; `supports` names the places that are held.
fn nodes(elements: usize, supports: &[(f64, Support)]) -> Vec<Node> {
    let node = |i: usize| {
        let place_m = i as f64 / elements as f64;
        let held = supports.iter().find(|(place, _)| (place - place_m).abs() < 1e-12);
        Node { place_m, support: held.map_or(Free, |(_, support)| *support) }
    };
    (0..=elements).map(node).collect()
}

fn section(from_m: f64, to_m: f64, stiffness_nm2: f64, loads: [f64; 2]) -> Section {
    Section { from_m, to_m, stiffness_nm2, load_from_n: loads[0], load_to_n: loads[1] }
}

/// Buckling load of a column of unit stiffness under a load of 1 at the rear, `at_front` ahead.
fn buckling(elements: usize, supports: &[(f64, Support)], at_front: f64) -> f64 {
    let uniform = section(0.0, 1.0, 1.0, [1.0, at_front]);
    Beam::new(&nodes(elements, supports), &[uniform]).unwrap().critical_load_factor().unwrap()
}

/// Source, rear and front support, load at the front, load factor, and the tolerance: half the
/// last digit printed, or what 64 elements leave of a value known in full.
const COLUMNS: [(&str, Support, Support, f64, f64, f64); 7] = [
    ("Euler: pi^2", Pinned, Pinned, 1.0, PI * PI, 1e-7),
    ("Timoshenko & Gere 2.1: pi^2 / 4", Clamped, Free, 1.0, PI * PI / 4.0, 5e-9),
    ("Timoshenko & Gere 2.1: z^2 of tan z = z", Clamped, Pinned, 1.0, 20.190_728_556, 1e-6),
    ("Timoshenko & Gere 2.1: 4 pi^2", Clamped, Clamped, 1.0, 39.4784, 5e-5),
    // Printed 7.8373474; two digits more from the power series of v' in x^3, whose root it is.
    ("Greenhill 1881; Timoshenko & Gere 2.12", Clamped, Free, 0.0, 7.837_347_439, 5e-8),
    ("prior calculation with SciPy", Pinned, Pinned, 0.0, 18.5687, 5e-5),
    ("prior calculation with SciPy", Clamped, Clamped, 0.0, 74.6286, 5e-5),
];

#[test]
fn columns_of_the_textbooks_to_their_last_digit() {
    for (source, rear, front, at_front, published, tolerance) in COLUMNS {
        let found = buckling(64, &[(0.0, rear), (1.0, front)], at_front);
        let miss = (found - published).abs();
        assert!(miss < tolerance, "{source}: {found} against {published}");
        assert!(miss > tolerance / 50.0, "{source}: a tolerance of {tolerance} proves little");
    }
}

#[test]
fn halving_the_elements_cuts_the_error_sixteenfold() {
    for at_front in [1.0, 0.0] {
        let supports = [(0.0, Pinned), (1.0, Pinned)];
        let limit = buckling(128, &supports, at_front);
        let error = |elements| buckling(elements, &supports, at_front) - limit;
        for elements in [4, 8] {
            let order = libm::log2(error(elements) / error(2 * elements));
            assert!((3.9..4.1).contains(&order), "order {order} at {elements} elements");
            assert!(error(elements) > 0.0, "the approximation is stiffer than the column");
        }
    }
}

#[test]
fn a_column_over_an_inner_support() {
    // Pinned at 0 and b, free at 1 under an end load, c = 1 - b: from Timoshenko & Gere, 1.11
    // (a strut turned by an end couple) and 2.1, tan(kc) (1/(kb) - cot(kb)) = 1.
    for sixteenths in [4.0, 8.0, 11.0, 15.0] {
        let b = sixteenths / 16.0;
        let k = sqrt(buckling(96, &[(0.0, Pinned), (b, Pinned)], 1.0));
        let balance = |k: f64| tan(k * (1.0 - b)) * (1.0 / (k * b) - 1.0 / tan(k * b));
        assert!((balance(k) - 1.0).abs() < 2e-7, "b {b}: {}", balance(k));
        // It grows from 0 while both angles stay below their poles, so this root is the first.
        assert!(k * (1.0 - b) < PI / 2.0 && k * b < PI);
    }
}

#[test]
fn a_load_on_a_rigid_arm() {
    // A cantilever with an end load on a rigid arm e ahead of its end: k e tan k = 1, which
    // e = 1 / tan 1 solves with k = 1.
    let nodes = nodes(64, &[(0.0, Clamped)]);
    let mut beam = Beam::new(&nodes, &[section(0.0, 1.0, 1.0, [1.0, 1.0])]).unwrap();
    beam.add_rigid_tip(1.0, 1.0 / tan(1.0)).unwrap();
    let found = beam.critical_load_factor().unwrap();
    assert!((found - 1.0).abs() < 2e-9, "{found}");
}

/// Buckling load of a cantilever whose lower part, from 0, has another stiffness.
fn stepped(elements: usize, lower: f64, thick: f64, thin: f64) -> f64 {
    let sections = [section(0.0, lower, thick, [1.0, 1.0]), section(lower, 1.0, thin, [1.0, 1.0])];
    let nodes = nodes(elements, &[(0.0, Clamped)]);
    Beam::new(&nodes, &sections).unwrap().critical_load_factor().unwrap()
}

#[test]
fn a_column_of_two_thicknesses() {
    // Timoshenko & Gere 2.14: tan(k1 l1) tan(k2 l2) = k1 / k2, the lower part (2) clamped. The
    // step falls on a node, near one, between two, and from stiff to soft and back.
    for (lower, thick, thin) in [(0.4375, 3.0, 1.0), (0.4376, 3.0, 1.0), (0.4427, 9.0, 1.0), (0.44, 1.0, 50.0)] {
        let p = stepped(96, lower, thick, thin);
        let (k1, k2) = (sqrt(p / thin), sqrt(p / thick));
        let balance = tan(k1 * (1.0 - lower)) * tan(k2 * lower) * k2 / k1;
        assert!((balance - 1.0).abs() < 1e-7, "{lower}, {thick}, {thin}: {balance}");
    }
}

#[test]
fn a_step_between_nodes_costs_no_order_of_convergence() {
    let error = |elements| stepped(elements, 0.4427, 9.0, 1.0) - stepped(128, 0.4427, 9.0, 1.0);
    let order = 0.5 * libm::log2(error(4) / error(16));
    assert!((3.7..4.3).contains(&order), "order {order}");
}

#[test]
fn joints_may_be_anywhere_to_the_nodes() {
    let nodes = nodes(8, &[(0.0, Pinned), (1.0, Pinned)]);
    let piece = |from, to| section(from, to, 1.0, [1.0 - from, 1.0 - to]);
    let critical = |sections: &[Section]| Beam::new(&nodes, sections).unwrap().critical_load_factor().unwrap();
    let whole = critical(&[piece(0.0, 1.0)]);
    let close = [piece(0.0, 0.03), piece(0.03, 0.125 + 1e-12), piece(0.125 + 1e-12, 0.71)];
    let pieces = critical(&[close[0], close[1], close[2], piece(0.71, 1.0)]);
    assert!((whole / pieces - 1.0).abs() < 1e-12, "{whole} against {pieces}");
}

#[test]
fn equal_and_nearly_equal_modes_yield_the_least() {
    // Clamped in the middle, the two halves buckle apart, each at 4 pi^2 / (1/2)^2.
    let both = [(0.0, Clamped), (0.5, Clamped), (1.0, Clamped)];
    let equal = buckling(64, &both, 1.0);
    assert!((equal / (16.0 * PI * PI) - 1.0).abs() < 3e-6, "{equal}");
    for share in [1e-4, 1e-7, 1e-10] {
        let halves = [section(0.0, 0.5, 1.0 + share, [1.0, 1.0]), section(0.5, 1.0, 1.0, [1.0, 1.0])];
        let beam = Beam::new(&nodes(64, &both), &halves).unwrap().critical_load_factor();
        let found = beam.unwrap();
        assert!((found / equal - 1.0).abs() < 2e-10, "{share}: {found} against {equal}");
    }
}

#[test]
fn beams_that_bear_nothing_are_refused() {
    let refused = |supports: &[(f64, Support)], load: f64| {
        let uniform = section(0.0, 1.0, 1.0, [load, load]);
        Beam::new(&nodes(8, supports), &[uniform]).unwrap().critical_load_factor().unwrap_err()
    };
    assert_eq!(refused(&[], 1.0), Error::Unsupported);
    assert_eq!(refused(&[(0.5, Pinned)], 1.0), Error::Unsupported);
    let no_load = refused(&[(0.0, Clamped)], 0.0);
    assert!(matches!(no_load, Error::OutOfRange { .. }), "{no_load}");
}

#[test]
fn no_beam_without_two_holds_bears_anything_whatever_rounding_says() {
    // A quarter of these keep pivots that look positive.
    for elements in 1..MAX_NODES {
        let last = elements as f64;
        let nodes: Vec<Node> =
            (0..=elements).map(|i| Node { place_m: i as f64 + 0.3 * sin(i as f64), support: Free }).collect();
        let end = nodes.last().unwrap().place_m;
        let sections = [section(0.0, 0.3 * end, 1.0, [1.0, 1.0]), section(0.3 * end, end, 0.08 * last, [1.0, 1.0])];
        let bears = Beam::new(&nodes, &sections).unwrap().critical_load_factor();
        assert_eq!(bears, Err(Error::Unsupported), "{elements}");
        let mut pinned = nodes;
        pinned.iter_mut().take(1).for_each(|node| node.support = Pinned);
        let bears = Beam::new(&pinned, &sections).unwrap().critical_load_factor();
        assert_eq!(bears, Err(Error::Unsupported), "{elements}");
    }
}

#[test]
fn as_many_nodes_as_fit_are_solved_and_one_more_refused() {
    let supports = [(0.0, Pinned), (1.0, Pinned)];
    let found = buckling(MAX_NODES - 1, &supports, 1.0);
    assert!((found / (PI * PI) - 1.0).abs() < 1e-8, "{found}");
    let refused = Beam::new(&nodes(MAX_NODES, &supports), &[section(0.0, 1.0, 1.0, [1.0, 1.0])]).unwrap_err();
    assert_eq!(refused, Error::TooManyParts { given: MAX_NODES + 1, maximum: MAX_NODES });
}

#[test]
fn nodes_out_of_order_are_refused() {
    let node = |place_m| Node { place_m, support: Pinned };
    let uniform = [section(0.0, 1.0, 1.0, [1.0, 1.0])];
    assert!(Beam::new(&[node(0.0), node(0.5), node(0.5)], &uniform).is_err());
    assert!(Beam::new(&[node(0.0), node(f64::NAN)], &uniform).is_err());
    let (given, maximum) = (MAX_NODES + 1, MAX_NODES);
    let refused = Beam::new(&nodes(MAX_NODES, &[]), &uniform).unwrap_err();
    assert_eq!(refused, Error::TooManyParts { given, maximum });
}

#[test]
fn sections_that_do_not_make_a_beam_are_refused() {
    let ends = nodes(1, &[(0.0, Pinned), (1.0, Pinned)]);
    let good = |from, to| section(from, to, 1.0, [1.0, 1.0]);
    assert!(Beam::new(&ends, &[good(0.0, 0.5), good(0.5, 1.0)]).is_ok());
    for bad in [
        [good(0.0, 0.5), good(0.6, 1.0)],
        [good(0.0, 0.5), good(0.4, 1.0)],
        [good(0.0, 0.5), good(0.5, 0.9)],
        [good(0.1, 0.5), good(0.5, 1.0)],
        [good(0.0, 0.5), section(0.5, 1.0, 0.0, [1.0, 1.0])],
        [good(0.0, 0.5), section(0.5, 1.0, 1.0, [1.0, -1.0])],
        [good(0.0, 0.5), section(0.5, 1.0, f64::NAN, [1.0, 1.0])],
    ] {
        assert!(matches!(Beam::new(&ends, &bad), Err(Error::OutOfRange { .. })), "{bad:?}");
    }
    assert!(Beam::new(&ends, &[]).is_err());
    let mut beam = Beam::new(&ends, &[good(0.0, 1.0)]).unwrap();
    assert!(beam.add_rigid_tip(1.0, -0.1).is_err());
}
