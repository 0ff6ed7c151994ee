//! Laws of an arrow in the air that hold for every arrow.
#![allow(clippy::unwrap_used, clippy::panic)]

use clothyard_mechanics::flight::{ArrowShape, Blades, FlyingArrow, Growth, Outline, Vanes, Yaw};
use clothyard_mechanics::{Arrow, Parameter, Part, Solution};
use proptest::prelude::*;

#[derive(Clone, Debug)]
struct Sample {
    length_m: f64,
    per_length: f64,
    point_kg: f64,
    shape: ArrowShape,
}

impl Sample {
    fn arrow(&self) -> FlyingArrow {
        let vanes = self.shape.vanes.map_or((0.0, 0.0), |vanes| (vanes.mass_kg, vanes.center_of_mass_m()));
        let parts = [Part::point_mass(vanes.0, vanes.1), Part::point_mass(self.point_kg, self.shape.tip_m - 0.02)];
        let stack = Arrow::new(self.length_m, 0.014, self.per_length, 6.0, &parts).unwrap();
        FlyingArrow::new(&stack, self.shape).unwrap()
    }

    fn margin(&self) -> f64 {
        self.arrow().stability().unwrap().margin_m
    }
}

fn vanes() -> impl Strategy<Value = Vanes> {
    let outline = prop::sample::select(Outline::ALL.as_slice());
    (2_u32..7, 0.03..0.11, 0.006..0.016, outline, 0.015..0.05, -0.08..0.08, 2e-4..3e-3).prop_map(
        |(count, length_m, height_m, outline, rear_m, offset_rad, mass_kg)| Vanes {
            count,
            length_m,
            height_m,
            outline,
            rear_m,
            offset_rad,
            mass_kg,
        },
    )
}

/// Arrows with vanes and blades of every usual size; the heads weigh 4 to 20 g.
fn sample() -> impl Strategy<Value = Sample> {
    let blades = (2_u32..5, 0.015..0.05, 0.02..0.045);
    (0.55..0.85, 0.012..0.03, 4e-3..0.02, 0.004..0.0095, vanes(), blades).prop_map(
        |(length_m, per_length, point_kg, diameter_m, vanes, (count, blade_m, width_m))| {
            let tip_m = length_m + 0.03;
            let blades = Blades { count, length_m: blade_m, width_m, front_m: tip_m, mass_kg: 0.0 };
            let shape =
                ArrowShape { diameter_m, tip_m, nose_length_m: 0.015, vanes: Some(vanes), blades: Some(blades) };
            Sample { length_m, per_length, point_kg, shape }
        },
    )
}

proptest! {
    #[test]
    fn vanes_steady_and_blades_unsteady(sample in sample()) {
        let with = |vanes, blades| Sample { shape: ArrowShape { vanes, blades, ..sample.shape }, ..sample.clone() };
        let weightless = sample.shape.vanes.map(|vanes| Vanes { mass_kg: 0.0, ..vanes });
        let blades = sample.shape.blades;
        prop_assert!(with(weightless, None).margin() > with(None, None).margin());
        prop_assert!(with(weightless, blades).margin() > with(None, blades).margin());
        let wider = blades.map(|blades| Blades { width_m: 1.2 * blades.width_m, ..blades });
        let folded = blades.map(|blades| blades.folded(sample.shape.diameter_m));
        let margins = [wider, blades, folded, None].map(|blades| with(weightless, blades).margin());
        prop_assert!(margins.is_sorted_by(|less, more| less < more), "{margins:?}");
        let taller = weightless.map(|vanes| Vanes { count: 3, height_m: 1.1 * vanes.height_m, ..vanes });
        let three = weightless.map(|vanes| Vanes { count: 3, ..vanes });
        prop_assert!(with(taller, blades).margin() > with(three, blades).margin());
    }

    #[test]
    fn a_heavier_point_steadies(sample in sample(), more in 1e-4..5e-3) {
        let heavier = Sample { point_kg: sample.point_kg + more, ..sample.clone() };
        prop_assert!(heavier.margin() > sample.margin());
    }

    #[test]
    fn an_arrow_of_twice_the_size_has_the_same_margin_in_calibers(sample in sample()) {
        let twice = |vanes: Vanes| Vanes { rear_m: 2.0 * vanes.rear_m, ..vanes.grown(2.0, Growth::Both) };
        let blades = sample.shape.blades.map(|blades| Blades {
            length_m: 2.0 * blades.length_m, width_m: 2.0 * blades.width_m, front_m: 2.0 * blades.front_m, ..blades
        });
        let small = FlyingArrow { yaw_rad: 0.03, ..sample.arrow() };
        let shape = ArrowShape {
            diameter_m: 2.0 * sample.shape.diameter_m,
            tip_m: 2.0 * sample.shape.tip_m,
            nose_length_m: 2.0 * sample.shape.nose_length_m,
            vanes: sample.shape.vanes.map(twice),
            blades,
        };
        let large = FlyingArrow { length_m: 2.0 * small.length_m, balance_m: 2.0 * small.balance_m, shape, ..small };
        let (small, large) = (small.stability().unwrap(), large.stability().unwrap());
        prop_assert!((small.margin_calibers - large.margin_calibers).abs() < 1e-11);
        prop_assert!((small.margin_of_length - large.margin_of_length).abs() < 1e-13);
        prop_assert!((small.normal_force_slope / large.normal_force_slope - 1.0).abs() < 1e-13);
    }

    #[test]
    fn yaw_grows_only_where_the_margin_is_negative(sample in sample(), rho in 0.5..1.5) {
        let (arrow, held) = (sample.arrow(), sample.arrow().stability().unwrap());
        let grows = matches!(arrow.yaw(rho, 0.0).unwrap(), Yaw::Grows { .. });
        prop_assert!(!grows || held.margin_m < 0.0);
        // Damping holds a margin a little below zero: by less than if all of it sat an arrow's length away.
        let held_by_damping = 0.5 * rho / arrow.mass_kg * held.normal_force_area_m2 * sample.shape.tip_m * sample.shape.tip_m;
        prop_assert!(grows || held.margin_m > -held_by_damping);
    }

    #[test]
    fn spin_settles_within_what_the_offset_allows(sample in sample(), rho in 0.5..1.5) {
        let vanes = sample.shape.vanes.unwrap();
        let spin = sample.arrow().spin(rho, 3e-7).unwrap().unwrap();
        let radius = 0.5 * sample.shape.diameter_m;
        // No strip can outrun the screw of the vane's foot.
        prop_assert!(spin.settled_rad_per_m.abs() <= vanes.offset_rad.abs() / radius);
        prop_assert!(spin.settled_rad_per_m * vanes.offset_rad >= 0.0);
        prop_assert!(spin.turned_rad(18.0).abs() <= 18.0 * spin.settled_rad_per_m.abs());
    }

    #[test]
    fn growth_is_found_or_refused_but_never_wrong(sample in sample(), wanted in 0.0..0.4) {
        let arrow = sample.arrow();
        for growth in [Growth::Length, Growth::Height, Growth::Both] {
            let margin = |factor| {
                let vanes = sample.shape.vanes.map(|vanes| vanes.grown(factor, growth));
                arrow.with_vanes(vanes).unwrap().stability().unwrap().margin_m
            };
            match arrow.vane_growth_for_margin(growth, wanted, 0.3, 3.0).unwrap() {
                Solution::At(factor) => prop_assert!((margin(factor) - wanted).abs() < 1e-8),
                Solution::NoSignChange { nearest, value } => {
                    prop_assert!((margin(nearest) - wanted - value).abs() < 1e-12);
                    prop_assert!(value > 0.0 || margin(3.0) < wanted);
                }
            }
        }
    }

    #[test]
    fn any_numbers_at_all_give_a_finite_answer_or_none(
        [length_m, mass_kg, balance_m, inertia, diameter_m, tip_m] in prop::array::uniform6(wild()),
        [fin_m, height_m, width_m, yaw_rad, rho, drag] in prop::array::uniform6(wild()),
    ) {
        let vanes = Vanes {
            count: 3, length_m: fin_m, height_m, outline: Outline::Parabola, rear_m: 0.03, offset_rad: 0.03,
            mass_kg: 0.001,
        };
        let blades = Blades { count: 2, length_m: fin_m, width_m, front_m: tip_m, mass_kg: 0.0 };
        let shape = ArrowShape { diameter_m, tip_m, nose_length_m: 0.01, vanes: Some(vanes), blades: Some(blades) };
        let arrow = FlyingArrow {
            length_m, mass_kg, balance_m, transverse_inertia_kg_m2: inertia, shape, yaw_rad,
        };
        if let Ok(held) = arrow.stability() {
            prop_assert!(held.margin_m.is_finite() && held.normal_force_area_m2 > 0.0);
        }
        if let Ok(Yaw::Oscillates { wavelength_m, half_distance_m, damping_ratio }) = arrow.yaw(rho, drag) {
            prop_assert!(wavelength_m > 0.0 && half_distance_m > 0.0 && damping_ratio > 0.0 && damping_ratio < 1.0);
        }
        if let Ok(Some(spin)) = arrow.spin(rho, inertia) {
            prop_assert!(spin.settled_rad_per_m.is_finite() && spin.settling_m > 0.0);
        }
    }
}

/// A number of the size of something, or any at all.
fn wild() -> impl Strategy<Value = f64> {
    let (low, high) = Parameter::FinSpan.range();
    prop_oneof![8 => low..=high, 4 => 0.2..1.0, 1 => Just(low), 1 => Just(high), 1 => any::<f64>()]
}

/// A broadhead arrow with three vanes.
fn broadhead() -> FlyingArrow {
    let vanes = Vanes {
        count: 3,
        length_m: 0.05,
        height_m: 0.012,
        outline: Outline::Shield,
        rear_m: 0.03,
        offset_rad: 0.03,
        mass_kg: 0.0012,
    };
    let blades = Blades { count: 2, length_m: 0.03, width_m: 0.027, front_m: 0.745, mass_kg: 0.003 };
    let shape =
        ArrowShape { diameter_m: 0.006, tip_m: 0.745, nose_length_m: 0.015, vanes: Some(vanes), blades: Some(blades) };
    Sample { length_m: 0.7112, per_length: 0.019, point_kg: 0.0065, shape }.arrow()
}

/// Its margin with vanes so many times as large.
fn grown(growth: Growth, factor: f64) -> f64 {
    let vanes = broadhead().shape.vanes.map(|vanes| vanes.grown(factor, growth));
    broadhead().with_vanes(vanes).unwrap().stability().unwrap().margin_m
}

#[test]
fn vanes_grow_no_further_than_allowed() {
    let wanted = grown(Growth::Height, 1.6);
    let answer = broadhead().vane_growth_for_margin(Growth::Height, wanted, 0.5, 1.5).unwrap();
    let Solution::NoSignChange { nearest, value } = answer else { panic!("{answer:?}") };
    assert!((nearest - 1.5).abs() < 1e-15 && (value - (grown(Growth::Height, 1.5) - wanted)).abs() < 1e-15);
}

#[test]
fn where_longer_vanes_steady_less_the_smallest_or_the_best_is_named() {
    // From some length on the vanes reach forward and gain hardly any pull: the margin has its greatest inside.
    let sizes: Vec<f64> = (0..=320_u32).map(|step| 0.2 + 3.8 * f64::from(step) / 320.0).collect();
    let best = sizes
        .iter()
        .copied()
        .fold(0.2, |best, size| if grown(Growth::Length, size) > grown(Growth::Length, best) { size } else { best });
    assert!((0.5..3.5).contains(&best), "{best}");
    let wanted = grown(Growth::Length, best) + 0.001;
    let answer = broadhead().vane_growth_for_margin(Growth::Length, wanted, 0.2, 4.0).unwrap();
    let Solution::NoSignChange { nearest, value } = answer else { panic!("{answer:?}") };
    assert!((nearest - best).abs() < 3.8 / 32.0 && value < 0.0 && value > -0.002, "{answer:?} {best}");
    // Beyond it the smallest has the most.
    let wanted = grown(Growth::Length, 4.0) - 0.01;
    let answer = broadhead().vane_growth_for_margin(Growth::Length, wanted, 3.0, 4.0).unwrap();
    assert!(matches!(answer, Solution::NoSignChange { nearest, .. } if (nearest - 3.0).abs() < 1e-15), "{answer:?}");
}

#[test]
fn a_point_longer_than_half_of_the_arrow_is_refused() {
    let short = |nose_length_m: f64| {
        let shape = ArrowShape { tip_m: 0.3, nose_length_m, blades: None, ..broadhead().shape };
        FlyingArrow { length_m: 0.28, balance_m: 0.2, shape, ..broadhead() }.stability()
    };
    assert!(short(0.149).is_ok() && short(0.151).is_err());
}
