//! Any numbers at all, asked of the mechanics directly: finite answers, or a typed error.

#![no_main]

use clothyard_mechanics::estimate::{Estimate, Readings};
use clothyard_mechanics::shot::Shot;
use clothyard_mechanics::flight::{Accuracy, Air, Archer, ArrowShape, Conditions, Downrange, Drag, Flight, FlyingArrow, Outline, Sight, Vanes};
use clothyard_mechanics::measured::{SpeedReading, fit_speeds};
use clothyard_mechanics::{Arrow, Bow, BowKind, DrawCurve, DrawReading, MeasuredCurve, Part, Result, SpineRig, column_load, critical_acceleration};
use libfuzzer_sys::fuzz_target;

/// Numbers from the fuzzer: some of them as they are, most of them in a range, where they get farther.
struct Outputs<'a>(&'a [u8]);

impl Outputs<'_> {
    fn bytes<const N: usize>(&mut self) -> [u8; N] {
        let (first, rest) = self.0.split_at(N.min(self.0.len()));
        self.0 = rest;
        let mut bytes = [0; N];
        bytes[..first.len()].copy_from_slice(first);
        bytes
    }

    fn clamp(&mut self, low: f64, high: f64) -> f64 {
        match self.bytes::<1>()[0] {
            0..8 => f64::from_bits(u64::from_le_bytes(self.bytes())),
            8 => 0.0,
            9 => low,
            10 => high,
            11 => -low,
            _ => low + (high - low) * f64::from(u16::from_le_bytes(self.bytes())) / f64::from(u16::MAX),
        }
    }
}

fn finite(numbers: &[f64]) {
    assert!(numbers.iter().all(|number| number.is_finite()), "{numbers:?}");
}

fn arrow_and_bow(numbers: &mut Outputs<'_>) -> Result<()> {
    let rig = SpineRig::new(numbers.clamp(0.3, 1.0), numbers.clamp(1.0, 20.0))?;
    let stiffness = rig.bending_stiffness_nm2(numbers.clamp(0.002, 0.05))?;
    let length = numbers.clamp(0.4, 1.0);
    let mut parts = [Part::point_mass(0.0, 0.0); 4];
    for part in &mut parts {
        *part = Part::point_mass(numbers.clamp(0.0, 0.03), numbers.clamp(0.0, 1.0));
        part.to_m = numbers.clamp(0.0, 1.0);
        part.added_stiffness_nm2 = numbers.clamp(0.0, 50.0);
    }
    let behind = numbers.clamp(0.0, 0.03);
    let arrow = Arrow::new(length, behind, numbers.clamp(0.005, 0.05), stiffness, &parts)?;
    finite(&[arrow.mass_kg(), arrow.balance_m(), arrow.front_of_center(), arrow.transverse_inertia_kg_m2()]);

    let readings =
        [(); 5].map(|()| DrawReading { draw_m: numbers.clamp(0.2, 0.8), force_n: numbers.clamp(0.0, 400.0) });
    let curve = MeasuredCurve::new(&readings, numbers.clamp(0.1, 0.25)).map(DrawCurve::Measured);
    let smooth = DrawCurve::Smooth { curvature: numbers.clamp(-1.0, 1.0) };
    let bow = Bow::new(
        numbers.clamp(50.0, 450.0),
        numbers.clamp(0.2, 0.7),
        curve.unwrap_or(smooth),
        numbers.clamp(0.0, 0.02),
        numbers.clamp(0.0, 0.5),
    )?;
    let rest = numbers.clamp(0.2, 0.9);
    let acceleration = bow.peak_force_n * (1.0 - bow.loss) / (arrow.mass_kg() + bow.virtual_mass_kg);
    let critical = critical_acceleration(&arrow, rest)?;
    finite(&[bow.delivered_energy_j(), acceleration, critical, column_load(acceleration, critical)?]);
    let flex = Shot::new(arrow, bow, rest).simulate()?;
    finite(&[
        flex.time_on_string_s,
        flex.exit_speed_m_per_s,
        flex.magnification,
        flex.exit_phase_rad,
        flex.exit_swing_m,
    ]);
    Ok(())
}

fn in_the_air(numbers: &mut Outputs<'_>) -> Result<()> {
    let air = Air::moist(numbers.clamp(230.0, 320.0), numbers.clamp(0.0, 1.0), numbers.clamp(5e4, 1.1e5))?;
    finite(&[air.density_kg_per_m3, air.kinematic_viscosity_m2_per_s()]);
    let mass = numbers.clamp(0.01, 0.06);
    let drag = Drag::constant(numbers.clamp(0.5, 6.0), numbers.clamp(0.003, 0.012))?;
    let reading = Downrange {
        launch_m_per_s: numbers.clamp(20.0, 120.0),
        downrange_m_per_s: numbers.clamp(20.0, 120.0),
        distance_m: numbers.clamp(1.0, 100.0),
        mass_kg: mass,
    };
    let drag = drag.measured(&reading, &air).unwrap_or(drag);
    let slowing = drag.per_meter(mass, &air)?;
    let conditions = Conditions { slope_rad: numbers.clamp(-1.0, 1.0), ..Conditions::default() };
    let conditions = conditions.with_wind_from(numbers.clamp(0.0, 30.0), numbers.clamp(0.0, 7.0));
    let step_error = numbers.clamp(1e-13, 1e-2);
    let accuracy = Accuracy { relative: step_error, absolute: step_error };
    let sight = Sight {
        peep_height_m: numbers.clamp(0.0, 0.5),
        sight_radius_m: numbers.clamp(0.05, 2.0),
        launch_ahead_m: numbers.clamp(0.0, 2.0),
    };
    let archer = Archer::new(Flight::new(&slowing, conditions, accuracy)?, sight, numbers.clamp(20.0, 120.0))?;
    let distance = numbers.clamp(1.0, 120.0);
    let aim = archer.aim_against_wind(distance)?;
    finite(&[
        aim.elevation_rad,
        aim.azimuth_rad,
        aim.arrival.time_s,
        aim.arrival.speed_m_per_s(),
        aim.arrival.height_m,
    ]);
    let window = archer.window(&aim, numbers.clamp(0.01, 1.0))?;
    finite(&[window.near_m, window.far_m]);
    Ok(())
}

fn steady(numbers: &mut Outputs<'_>) -> Result<()> {
    let vanes = Vanes {
        count: u32::from(numbers.bytes::<1>()[0]),
        length_m: numbers.clamp(0.01, 0.15),
        height_m: numbers.clamp(0.003, 0.03),
        outline: Outline::Shield,
        rear_m: numbers.clamp(0.0, 0.1),
        offset_rad: numbers.clamp(-0.2, 0.2),
        mass_kg: numbers.clamp(0.0, 0.01),
    };
    let point = Part::point_mass(numbers.clamp(0.003, 0.03), numbers.clamp(0.5, 0.9));
    let parts = [Part::point_mass(0.0012, 0.05), point];
    let arrow = Arrow::new(numbers.clamp(0.5, 0.9), 0.014, numbers.clamp(0.01, 0.04), 6.0, &parts)?;
    let shape = ArrowShape {
        diameter_m: numbers.clamp(0.003, 0.012),
        tip_m: numbers.clamp(0.5, 1.0),
        nose_length_m: numbers.clamp(0.0, 0.05),
        vanes: Some(vanes),
        blades: None,
    };
    let found = FlyingArrow::new(&arrow, shape)?.stability()?;
    finite(&[found.center_of_pressure_m, found.margin_m, found.margin_calibers, found.margin_of_length]);
    Ok(())
}

fn chronograph(numbers: &mut Outputs<'_>) -> Result<()> {
    let shots = [(); 4].map(|()| SpeedReading {
        arrow_mass_kg: numbers.clamp(0.01, 0.06),
        speed_m_per_s: numbers.clamp(20.0, 120.0),
    });
    let fit = fit_speeds(&shots, numbers.clamp(0.0, 0.05))?;
    finite(&[fit.delivered_energy_j, fit.virtual_mass_kg]);
    let prior = BowKind::Recurve.usual(numbers.clamp(20.0, 800.0))?.prior(numbers.clamp(1.0, 300.0));
    let bow = Estimate::new(&prior, &Readings { shots: &shots, ..Readings::NONE })?;
    let speed = bow.speed(numbers.clamp(0.01, 0.06), numbers.clamp(0.0, 0.01))?;
    finite(&[bow.energy_j().log_error, bow.virtual_mass_kg().value, speed.value, speed.log_error]);
    Ok(())
}

fuzz_target!(|data: &[u8]| {
    let Some((which, rest)) = data.split_first() else { return };
    let asked = [arrow_and_bow, in_the_air, steady, chronograph][usize::from(*which) % 4];
    let _refused = asked(&mut Outputs(rest));
});
