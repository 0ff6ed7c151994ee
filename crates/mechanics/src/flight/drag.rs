//! Drag of an arrow flying straight, at any speed: built up from its shape, or measured.
//!
//! Drag is `C A rho v^2/2` with `A = pi d^2/4`. With `C` the same at every speed, level flight in
//! still air loses speed as `v = v0 exp(-k x)`, `k = rho A C / (2 m)`.

use super::air::Air;
use super::shape::DragShape;
use crate::error::{Quantity, Result};
use crate::math::{exp, ln};
use core::f64::consts::FRAC_PI_4;

/// Speeds of one arrow at two places of a flat shot.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Downrange {
    /// Speed at the nearer place, m/s.
    pub launch_m_per_s: f64,
    /// Speed at the farther place, m/s.
    pub downrange_m_per_s: f64,
    /// Way between the two, m.
    pub distance_m: f64,
    /// Mass of the arrow, kg.
    pub mass_kg: f64,
}

/// The drag of one arrow at any speed: a law, and how far measurement moved it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drag {
    law: Law,
    area_m2: f64,
    factor: f64,
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Law {
    BuiltUp(DragShape),
    Constant(f64),
}

impl Drag {
    /// Drag built up from the arrow's shape.
    ///
    /// ```
    /// use clothyard_mechanics::flight::air::Air;
    /// use clothyard_mechanics::flight::drag::Drag;
    /// use clothyard_mechanics::flight::shape::{DragShape, Plates};
    /// let bare = DragShape {
    ///     diameter_m: 0.0056,
    ///     length_m: 0.72,
    ///     turbulent_share: 0.0,
    ///     vanes: Plates::NONE,
    ///     point_half_angle_rad: 0.0,
    ///     blades: Plates::NONE,
    /// };
    /// let air = Air::standard(0.0)?;
    /// let laminar = Drag::built_up(&bare)?.coefficient(60.0, &air);
    /// let turbulent = Drag::built_up(&DragShape { turbulent_share: 1.0, ..bare })?.coefficient(60.0, &air);
    /// assert!((3.5..4.5).contains(&(turbulent / laminar)));
    /// # Ok::<(), clothyard_mechanics::Error>(())
    /// ```
    ///
    /// # Errors
    /// [`crate::Error::OutOfRange`] for any size of the shape.
    pub fn built_up(shape: &DragShape) -> Result<Self> {
        shape.check()?;
        Ok(Self { law: Law::BuiltUp(*shape), area_m2: shape.area_m2(), factor: 1.0 })
    }

    /// The same coefficient at every speed, on the cross-section of a shaft of `diameter_m`.
    ///
    /// # Errors
    /// [`crate::Error::OutOfRange`] for either.
    pub fn constant(coefficient: f64, diameter_m: f64) -> Result<Self> {
        Quantity::DragCoefficient.check(coefficient)?;
        Quantity::Diameter.check_within(diameter_m, 1e-3, 0.1)?;
        Ok(Self { law: Law::Constant(coefficient), area_m2: FRAC_PI_4 * diameter_m * diameter_m, factor: 1.0 })
    }

    /// This drag, scaled to slow the arrow as much as was measured.
    ///
    /// In level flight `dv/dx = -rho A C v / (2 m)`, so the factor is
    /// `2 m / (rho A X)` times the integral of `dv / (v C)` between the two speeds.
    ///
    /// # Errors
    /// [`crate::Error::OutOfRange`] for a reading, a speed downrange that is not below the one at
    /// launch, or a factor beyond belief.
    pub fn measured(&self, reading: &Downrange, air: &Air) -> Result<Self> {
        let v0 = Quantity::Speed.check(reading.launch_m_per_s)?;
        let v1 = Quantity::Speed.check_within(reading.downrange_m_per_s, 0.1, v0 * (1.0 - 1e-9))?;
        let x = Quantity::WayFlown.check_within(reading.distance_m, 0.1, 1_000.0)?;
        let slowing_per_m = self.slowing_per_m(reading.mass_kg, air)?;
        // Simpson's rule in ln v, in which 1/C is all but straight.
        let panels = 16_u32;
        let step = ln(v0 / v1) / f64::from(panels);
        let sum: f64 = (0..=panels)
            .map(|panel| {
                let weight = if panel == 0 || panel == panels { 1.0 } else { 2.0 + 2.0 * f64::from(panel % 2) };
                weight / self.coefficient(v1 * exp(f64::from(panel) * step), air)
            })
            .sum();
        let factor = Quantity::DragFactor.check(self.factor * sum * step / 3.0 / (slowing_per_m * x))?;
        Ok(Self { factor, ..*self })
    }

    /// How much more drag was measured than built up; 1 until something is measured.
    #[must_use]
    pub fn factor(&self) -> f64 {
        self.factor
    }

    /// The coefficient at a speed through the air, m/s.
    ///
    /// Below 0.1 m/s it is that at 0.1 m/s: friction's share grows without bound as speed falls,
    /// though the force does not.
    #[must_use]
    pub fn coefficient(&self, speed_m_per_s: f64, air: &Air) -> f64 {
        let law = match &self.law {
            Law::Constant(coefficient) => *coefficient,
            Law::BuiltUp(shape) => shape.parts_at(speed_m_per_s.max(0.1) / air.kinematic_viscosity_m2_per_s()).total(),
        };
        self.factor * law
    }

    /// Drag (N) at a speed through the air, m/s.
    #[must_use]
    pub fn force_n(&self, speed_m_per_s: f64, air: &Air) -> f64 {
        let dynamic_pressure_pa = 0.5 * air.density_kg_per_m3 * speed_m_per_s * speed_m_per_s;
        dynamic_pressure_pa * self.area_m2 * self.coefficient(speed_m_per_s, air)
    }

    /// Deceleration over the square of airspeed (1/m) as a function of airspeed (m/s): what
    /// [`super::path::Flight`] asks for.
    ///
    /// # Errors
    /// [`crate::Error::OutOfRange`] for mass or air.
    pub fn per_metre(&self, mass_kg: f64, air: &Air) -> Result<impl Fn(f64) -> f64> {
        let slowing_per_m = self.slowing_per_m(mass_kg, air)?;
        Ok(move |airspeed| slowing_per_m * self.coefficient(airspeed, air))
    }

    /// Speed (m/s) left after a way in still air, gravity aside.
    ///
    /// # Errors
    /// [`crate::Error::OutOfRange`] for speed, way, mass or air.
    pub fn speed_after_m_per_s(&self, speed_m_per_s: f64, way_m: f64, mass_kg: f64, air: &Air) -> Result<f64> {
        let mut log_speed = ln(Quantity::Speed.check(speed_m_per_s)?);
        let steps = 32_u32;
        let step = Quantity::WayFlown.check(way_m)? / f64::from(steps);
        let slowing_per_m = self.slowing_per_m(mass_kg, air)?;
        let slope = |log_speed: f64| -slowing_per_m * self.coefficient(exp(log_speed), air);
        for _ in 0..steps {
            let k1 = slope(log_speed);
            let k2 = slope(log_speed + 0.5 * step * k1);
            let k3 = slope(log_speed + 0.5 * step * k2);
            let k4 = slope(log_speed + step * k3);
            log_speed += step / 6.0 * (k1 + 2.0 * (k2 + k3) + k4);
        }
        Ok(exp(log_speed))
    }

    /// `rho A / (2 m)`: the share of speed lost in a metre, for a coefficient of 1.
    fn slowing_per_m(&self, mass_kg: f64, air: &Air) -> Result<f64> {
        let mass_kg = Quantity::ArrowMass.check(mass_kg)?;
        Ok(0.5 * air.checked()?.density_kg_per_m3 * self.area_m2 / mass_kg)
    }
}
