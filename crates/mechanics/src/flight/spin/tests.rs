use super::*;
use crate::flight::example::{ARROW, VANES};
use crate::flight::stability::ArrowShape;
use crate::flight::vanes::{Blades, Vanes};
use crate::math::sqrt;

const RECTANGLE: FinSet = FinSet {
    count: 4,
    root_chord_m: 0.04,
    tip_chord_m: 0.04,
    span_m: 0.012,
    sweep_m: 0.0,
    body_radius_m: 0.003,
    front_m: 0.08,
};
const BLADES: Blades = Blades { count: 3, length_m: 0.03, width_m: 0.03, front_m: 0.745, mass_kg: 0.003 };

fn spin(arrow: &FlyingArrow) -> Spin {
    arrow.spin(1.2, 2.2e-7).unwrap().unwrap()
}

#[test]
fn a_rectangle_s_radii_are_those_of_a_strip() {
    // Over [r, r + s]: mean y = r + s / 2, mean y^2 = ((r + s)^3 - r^3) / (3 s).
    let (r, s) = (0.003, 0.012);
    assert!((RECTANGLE.mean_chord_m() - 0.5 * s).abs() < 1e-17);
    let end = r + s;
    let square = (end * end * end - r * r * r) / (3.0 * s);
    assert!((RECTANGLE.mean_square_radius_m2() / square - 1.0).abs() < 1e-15);
    // And its damping factor is 1 + 2 / (t (t + 1)), t = (r + s) / r = 5.
    assert!((RECTANGLE.damping_interference() - 16.0 / 15.0).abs() < 1e-14);
}

#[test]
fn the_body_s_part_in_roll_goes_to_its_limits() {
    let with = |span_m| FinSet { span_m, ..RECTANGLE };
    assert!((with(1e-9).drive_interference() - 1.0).abs() < 1e-4);
    assert!((with(1e-9).damping_interference() - 2.0).abs() < 2e-4);
    assert!((with(0.2).drive_interference() - 1.0).abs() < 0.02);
    assert!((with(0.2).damping_interference() - 1.0).abs() < 5e-4);
}

#[test]
fn spin_follows_the_offset_and_its_sign() {
    let turned = |offset_rad| {
        let vanes = Some(Vanes { offset_rad, ..VANES });
        spin(&FlyingArrow { shape: ArrowShape { vanes, ..ARROW.shape }, ..ARROW }).settled_rad_per_m
    };
    assert!(turned(0.0).abs() < f64::MIN_POSITIVE);
    assert!((turned(0.02) + turned(-0.02)).abs() < 1e-15);
    assert!((turned(0.04) / turned(0.02) - 2.0).abs() < 1e-15);
}

#[test]
fn the_turned_angle_is_what_the_turning_adds_up_to() {
    let spin = spin(&ARROW);
    assert!(spin.turned_rad(0.0).abs() < 1e-15);
    let step = 1e-4;
    for distance in [0.5, 3.0, 20.0] {
        let slope = (spin.turned_rad(distance + step) - spin.turned_rad(distance - step)) / (2.0 * step);
        assert!((slope / spin.turning_rad_per_m(distance) - 1.0).abs() < 1e-9);
    }
    let near = spin.turning_rad_per_m(spin.settling_m) / spin.settled_rad_per_m;
    assert!((near - 0.632_120_558_828_557_7).abs() < 1e-15);
}

#[test]
fn straight_blades_hold_the_spin_back() {
    let broadhead = FlyingArrow { shape: ArrowShape { blades: Some(BLADES), ..ARROW.shape }, ..ARROW };
    assert!(spin(&broadhead).settled_rad_per_m < 0.7 * spin(&ARROW).settled_rad_per_m);
    let bare = FlyingArrow { shape: ArrowShape { vanes: None, ..ARROW.shape }, ..ARROW };
    assert_eq!(bare.spin(1.2, 2.2e-7), Ok(None));
}

#[test]
fn the_gyroscope_holds_a_millionth_of_the_air_s_moment() {
    let inertia = ARROW.axial_inertia_kg_m2(0.0122, 0.0052).unwrap();
    let share = ARROW.gyroscopic_share(1.2, inertia, spin(&ARROW).settled_rad_per_m).unwrap();
    assert!((1e-7..2e-6).contains(&share), "{share}");
}

#[test]
fn inertia_about_the_axis_is_the_sum_of_tube_rod_and_plates() {
    let tube = 0.0122 * (0.006 * 0.006 + 0.0052 * 0.0052) / 8.0;
    let rod = (0.022 - 0.0122 - 0.0012) * 0.006 * 0.006 / 8.0;
    let plates = 0.0012 * VANES.fins(0.003).unwrap().mean_square_radius_m2();
    let ours = ARROW.axial_inertia_kg_m2(0.0122, 0.0052).unwrap();
    assert!((ours / (tube + rod + plates) - 1.0).abs() < 1e-15);
    assert!(ARROW.axial_inertia_kg_m2(0.0122, 0.007).is_err());
    assert!(ARROW.axial_inertia_kg_m2(0.0219, 0.0052).is_err());
}

#[test]
fn the_body_s_part_in_the_drive_is_as_barrowman_writes_it() {
    use crate::math::ln;
    for span_m in [0.006, 0.012, 0.03] {
        let t = 1.0 + span_m / 0.003;
        let (squares, square) = (t * t + 1.0, t * t - 1.0);
        let angle = asin(square / squares);
        let ring = squares * squares / (t * t * (t - 1.0) * (t - 1.0));
        let terms = [
            PI * PI / 4.0 * (t + 1.0) * (t + 1.0) / (t * t),
            PI * ring * angle,
            -2.0 * PI * (t + 1.0) / (t * (t - 1.0)),
            ring * angle * angle,
            -4.0 * (t + 1.0) / (t * (t - 1.0)) * angle,
            8.0 / ((t - 1.0) * (t - 1.0)) * ln(squares / (2.0 * t)),
        ];
        let drive = terms.iter().sum::<f64>() / (PI * PI);
        let found = FinSet { span_m, ..RECTANGLE }.drive_interference();
        assert!((found - drive).abs() < 1e-13, "{span_m}: {found} against {drive}");
    }
}

#[test]
fn the_body_s_part_in_the_damping_is_that_of_its_integrals() {
    // Chord over t^2 by chord times t over the span, t the radius in body radii, by Simpson's rule.
    for (span_m, tip_chord_m) in [(0.012, 0.04), (0.012, 0.0), (0.006, 0.01), (0.03, 0.05)] {
        let fins = FinSet { span_m, tip_chord_m, ..RECTANGLE };
        let out = span_m / 0.003;
        let chord = |t: f64| 0.04 + (tip_chord_m - 0.04) * (t - 1.0) / out;
        let simpson = |f: &dyn Fn(f64) -> f64| -> f64 {
            let piece = out / 400.0;
            let ends = (0..400_u32).map(|i| 1.0 + piece * f64::from(i));
            ends.map(|from| piece / 6.0 * (f(from) + 4.0 * f(from + 0.5 * piece) + f(from + piece))).sum()
        };
        let damping = 1.0 + simpson(&|t| chord(t) / (t * t)) / simpson(&|t| chord(t) * t);
        let found = fins.damping_interference();
        assert!((found - damping).abs() < 1e-9, "{span_m} {tip_chord_m}: {found} against {damping}");
    }
}

#[test]
fn drive_and_damping_are_moments_of_every_fin() {
    // Of a rectangle: half the span out, and the mean square of a strip.
    let pull = 4.0 * RECTANGLE.fin_normal_force_area_m2();
    let drive = RECTANGLE.drive_interference() * pull * (0.003 + 0.006);
    assert!((RECTANGLE.roll_drive_m3() / drive - 1.0).abs() < 1e-15);
    let square = (0.015 * 0.015 * 0.015 - 0.003 * 0.003 * 0.003) / (3.0 * 0.012);
    let damping = RECTANGLE.damping_interference() * pull * square;
    assert!((RECTANGLE.roll_damping_m4() / damping - 1.0).abs() < 1e-15);
}

#[test]
fn the_turning_gains_by_the_moment_of_the_air() {
    // Ix t' = rho / 2 (F offset - B t), the slope by a central difference.
    let (rho, inertia, step) = (1.1, 2.5e-7, 1e-4);
    let fins = VANES.fins(0.003).unwrap();
    let spin = ARROW.spin(rho, inertia).unwrap().unwrap();
    for distance in [0.5, 3.0, 20.0] {
        let at = |distance| spin.turning_rad_per_m(distance);
        let gain = (at(distance + step) - at(distance - step)) / (2.0 * step);
        let moment = 0.5 * rho * (fins.roll_drive_m3() * VANES.offset_rad - fins.roll_damping_m4() * at(distance));
        assert!((inertia * gain / moment - 1.0).abs() < 1e-8, "{distance}");
    }
}

#[test]
fn blades_count_in_the_inertia_where_their_area_is() {
    let shape = ArrowShape { blades: Some(BLADES), ..ARROW.shape };
    let broadhead = FlyingArrow { shape, mass_kg: ARROW.mass_kg + BLADES.mass_kg, ..ARROW };
    let of = |arrow: &FlyingArrow| arrow.axial_inertia_kg_m2(0.0122, 0.0052).unwrap();
    // A triangle of height s on the body: r^2 + 2 r s / 3 + s^2 / 6.
    let blades = BLADES.mass_kg * (0.003 * 0.003 + 0.002 * 0.012 + 0.012 * 0.012 / 6.0);
    assert!(((of(&broadhead) - of(&ARROW)) / blades - 1.0).abs() < 1e-12);
    assert!(broadhead.axial_inertia_kg_m2(0.0209, 0.0052).is_err(), "the shaft and the rest outweigh the arrow");
}

#[test]
fn the_gyroscope_gains_by_the_square_of_its_spin() {
    let share = |rho, inertia, turning| ARROW.gyroscopic_share(rho, inertia, turning).unwrap();
    let usual = share(1.2, 2.2e-7, 3.0);
    assert!((share(1.2, 2.2e-7, 6.0) / usual - 4.0).abs() < 1e-14);
    assert!((share(1.2, 4.4e-7, 3.0) / usual - 4.0).abs() < 1e-14);
    assert!((share(2.4, 2.2e-7, 3.0) / usual - 0.5).abs() < 1e-15);
    // McCoy's factor is 1 where the overturning moment is (Ix p)^2 / (4 It).
    let held = ARROW.stability().unwrap();
    let overturning = 0.5 * 1.2 * held.normal_force_area_m2 * held.margin_m.abs();
    let spin = 2.0 * sqrt(ARROW.transverse_inertia_kg_m2 * overturning);
    assert!((share(1.2, 2.2e-7, spin / 2.2e-7) - 1.0).abs() < 1e-14);
}
