//! One arrow on one bow, with the mechanics alone: how it matches, how it bends, how it flies.
//!
//!     cargo run --release -p clothyard-mechanics --example one_arrow

use clothyard_mechanics::estimate::{Estimate, Readings};
use clothyard_mechanics::flight::{
    Accuracy, Air, Archer, BoundaryLayer, Conditions, Drag, DragShape, Edge, Flight, Plates, Sight,
};
use clothyard_mechanics::shot::Shot;
use clothyard_mechanics::units::{
    KILOGRAM_METER_PER_SECOND_PER_SLUG_FPS, KILOGRAM_PER_GRAIN, KILOGRAM_PER_METER_PER_GRAIN_PER_INCH, METER_PER_INCH,
    METER_PER_SECOND_PER_FPS, NEWTON_PER_POUND_FORCE,
};
use clothyard_mechanics::{
    Arrow, Bow, BowKind, DrawCurve, Error, Launch, Part, SpineRig, column_load, critical_acceleration, momentum,
    peak_push,
};

fn main() -> Result<(), Error> {
    // A shaft of spine .400 and 8.6 gr/in, 28 in long, with vanes, an insert and a point of 100 gr.
    let stiffness = SpineRig::ASTM_F2031.bending_stiffness_nm2(0.400 * METER_PER_INCH)?;
    let grains = |mass: f64, inches: f64| Part::point_mass(mass * KILOGRAM_PER_GRAIN, inches * METER_PER_INCH);
    let parts = [grains(10.0, 0.0), grains(24.0, 2.0), grains(20.0, 27.6), grains(100.0, 28.6)];
    let (length_m, rest_m) = (28.0 * METER_PER_INCH, 26.75 * METER_PER_INCH);
    let arrow = Arrow::new(length_m, 0.014, 8.6 * KILOGRAM_PER_METER_PER_GRAIN_PER_INCH, stiffness, &parts)?;

    // A compound of 60 lb with a stroke of 20 in.
    let curve = DrawCurve::LetOff { rise: 0.35, valley: 0.25, let_off: 0.80 };
    let peak_force_n = 60.0 * NEWTON_PER_POUND_FORCE;
    let usual = BowKind::Compound.usual(peak_force_n)?;
    let bow = Bow::new(peak_force_n, 20.0 * METER_PER_INCH, curve, usual.virtual_mass_kg, usual.loss)?;

    let mass = arrow.mass_kg();
    let launch = Estimate::new(&usual.prior(bow.stored_energy_j()), &Readings::NONE)?.speed(mass, 0.0)?;
    let speed = launch.value;
    let push = peak_push(BowKind::Compound, peak_force_n, mass, speed, speed)?;
    let load = column_load(push, critical_acceleration(&arrow, rest_m)?)?;
    println!(
        "weight             {:.0} gr, {:.1} % front of center",
        mass / KILOGRAM_PER_GRAIN,
        100.0 * arrow.front_of_center()
    );
    println!("column load        {load:.3}, shoots well at {:.3}", Launch::ReleaseAid.target_load(BowKind::Compound));
    println!(
        "launch             {:.0} fps, give or take {:.0} %",
        speed / METER_PER_SECOND_PER_FPS,
        200.0 * launch.log_error
    );
    println!("momentum           {:.3} slug ft/s", momentum(mass, speed) / KILOGRAM_METER_PER_SECOND_PER_SLUG_FPS);

    let dynamics = Shot::new(arrow, bow, rest_m).simulate()?;
    println!(
        "time on the string {:.1} ms, bow of the shaft magnified {:.2} times",
        1e3 * dynamics.time_on_string_s,
        dynamics.magnification
    );

    let vanes = Plates {
        count: 3,
        root_chord_m: 0.05,
        tip_chord_m: 0.01,
        height_m: 0.012,
        sweep_m: 0.03,
        thickness_m: 0.0005,
        leading_edge: Edge::Square,
    };
    let shape = DragShape {
        diameter_m: 0.0069,
        length_m: length_m + 0.03,
        boundary_layer: BoundaryLayer::Changing,
        vanes,
        point_half_angle_rad: 0.0,
        blades: Plates::NONE,
    };
    let (air, drag) = (Air::standard(0.0)?, Drag::built_up(&shape)?);
    let slowing = drag.per_meter(mass, &air)?;
    let flight = Flight::new(&slowing, Conditions::default(), Accuracy::default())?;
    let sight = Sight { peep_height_m: 0.11, sight_radius_m: 0.85, launch_ahead_m: bow.stroke_m };
    let archer = Archer::new(flight, sight, speed)?;
    for distance_m in [20.0, 40.0, 60.0] {
        let there = archer.aim(distance_m)?.arrival;
        let window = archer.misjudged(distance_m, 0.2)?;
        println!(
            "{distance_m:.0} m               {:.2} s, {:.0} m/s, {:.0} J, a zone of 20 cm from {:.1} to {:.1} m",
            there.time_s,
            there.speed_m_per_s(),
            there.kinetic_energy_j(mass),
            window.near_m,
            window.far_m
        );
    }
    Ok(())
}
