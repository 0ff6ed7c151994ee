//! Drag of an arrow at zero yaw, at any speed: built up from its shape, or measured.

use super::air::Air;
use super::shape::DragShape;
use crate::error::Result;
use crate::math::{exp, ln};
use crate::parameter::Parameter;
use core::f64::consts::FRAC_PI_4;

/// Speeds of one arrow at two positions of a flat shot. Example: see [`Drag::measured`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Downrange {
    /// Speed at the nearer position, m/s.
    pub launch_m_per_s: f64,
    /// Speed at the farther position, m/s.
    pub downrange_m_per_s: f64,
    /// Distance between the two, m.
    pub distance_m: f64,
    /// Mass of the arrow, kg.
    pub mass_kg: f64,
}

/// The drag of one arrow at any speed: a law, and the factor by which a measurement scaled it.
///
/// ```text
/// D = C A rho v^2 / 2,    A = pi d^2 / 4        N
/// v = v0 exp(-k x),       k = rho A C / (2 m)   level, in still air, at constant C
/// ```
///
/// `C` is the drag coefficient on the cross-section `A` (m^2) of a shaft of diameter `d` (m), `rho` the
/// density of the air (kg/m^3), `v` the speed through it (m/s), `m` the arrow's mass (kg), `x` the distance
/// (m).
///
/// Built up, `C` is within 15 % of the measured values of [`super::DragShape`], if it is known whether the
/// boundary layer is laminar or turbulent; that alone doubles it. A speed measured downrange decides.
/// Measured at one speed, the law keeps its dependence on speed and is scaled by one factor.
///
/// # Examples
/// ```
/// use clothyard_mechanics::flight::{Air, Drag};
/// let air = Air { density_kg_per_m3: 1.2, viscosity_pa_s: 1.8e-5 };
/// let drag = Drag::constant(2.0, 0.006)?;
/// assert_eq!((drag.coefficient(60.0, &air), drag.factor()), (2.0, 1.0));
/// // C A rho v^2 / 2 with A = pi 0.006^2 / 4: 0.122 N at 60 m/s.
/// let area_m2 = core::f64::consts::PI * 0.006 * 0.006 / 4.0;
/// assert!((drag.force_n(60.0, &air) - 2.0 * area_m2 * 1.2 * 3_600.0 / 2.0).abs() < 1e-15);
/// // k = rho A C / (2 m), and v = v0 exp(-k x).
/// let per_meter = 1.2 * area_m2 * 2.0 / (2.0 * 0.020);
/// assert!((drag.per_meter(0.020, &air)?(60.0) - per_meter).abs() < 1e-17);
/// let left = drag.speed_after_m_per_s(60.0, 70.0, 0.020, &air)?;
/// assert!((left - 60.0 * f64::exp(-70.0 * per_meter)).abs() < 1e-12);
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
///
/// # References
/// The exponential law follows from the definition; values measured on arrows are named at [`super::DragShape`].
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
    /// # Errors
    /// [`crate::Error::OutOfRange`] for any size of the shape.
    ///
    /// # Examples
    /// ```
    /// use clothyard_mechanics::flight::{Air, BoundaryLayer, Drag, DragShape, Plates};
    /// let bare = DragShape {
    ///     diameter_m: 0.0056, length_m: 0.72, boundary_layer: BoundaryLayer::LAMINAR, vanes: Plates::NONE,
    ///     point_half_angle_rad: 0.0, blades: Plates::NONE,
    /// };
    /// let air = Air::standard(0.0)?;
    /// let at = |boundary_layer| Drag::built_up(&DragShape { boundary_layer, ..bare });
    /// // The sum of its parts; a turbulent layer more than doubles it.
    /// assert_eq!(at(BoundaryLayer::LAMINAR)?.coefficient(60.0, &air), bare.parts(60.0, &air)?.total());
    /// assert!(at(BoundaryLayer::TURBULENT)?.coefficient(60.0, &air) > 2.0 * bare.parts(60.0, &air)?.total());
    /// # Ok::<(), clothyard_mechanics::Error>(())
    /// ```
    pub fn built_up(shape: &DragShape) -> Result<Self> {
        shape.check()?;
        Ok(Self { law: Law::BuiltUp(*shape), area_m2: shape.area_m2(), factor: 1.0 })
    }

    /// The same coefficient (0.01 to 1000) at every speed, on the cross-section of a shaft of `diameter_m` (1
    /// to 100 mm).
    ///
    /// Example: see [`Drag`].
    ///
    /// # Errors
    /// [`crate::Error::OutOfRange`] for either.
    pub fn constant(coefficient: f64, diameter_m: f64) -> Result<Self> {
        Parameter::DragCoefficient.check(coefficient)?;
        Parameter::Diameter.check_within(diameter_m, 1e-3, 0.1)?;
        Ok(Self { law: Law::Constant(coefficient), area_m2: FRAC_PI_4 * diameter_m * diameter_m, factor: 1.0 })
    }

    /// This drag, scaled to the deceleration measured.
    ///
    /// In level flight `dv/dx = -rho A C v / (2 m)`, so the factor is `2 m / (rho A X)` times the integral of
    /// `dv / (v C)` between the two speeds, over a distance `X` of 0.1 to 1000 m.
    ///
    /// # Errors
    /// [`crate::Error::OutOfRange`] for a reading, a speed downrange that is not below the one at
    /// launch, or a factor outside 0.01 to 100.
    ///
    /// # Examples
    /// ```
    /// use clothyard_mechanics::flight::{Air, Downrange, Drag};
    /// let air = Air { density_kg_per_m3: 1.2, viscosity_pa_s: 1.8e-5 };
    /// let assumed = Drag::constant(2.0, 0.006)?;
    /// // Twice that deceleration over 50 m: v0 exp(-2 k x).
    /// let downrange_m_per_s = 60.0 * f64::exp(-2.0 * assumed.per_meter(0.020, &air)?(60.0) * 50.0);
    /// let reading = Downrange { launch_m_per_s: 60.0, downrange_m_per_s, distance_m: 50.0, mass_kg: 0.020 };
    /// assert!((assumed.measured(&reading, &air)?.factor() - 2.0).abs() < 1e-14);
    /// # Ok::<(), clothyard_mechanics::Error>(())
    /// ```
    pub fn measured(&self, reading: &Downrange, air: &Air) -> Result<Self> {
        let v0 = Parameter::Speed.check(reading.launch_m_per_s)?;
        let v1 = Parameter::Speed.check_within(reading.downrange_m_per_s, 0.1, v0 * (1.0 - 1e-9))?;
        let x = Parameter::DistanceFlown.check_within(reading.distance_m, 0.1, 1_000.0)?;
        let slowing_per_m = self.slowing_per_m(reading.mass_kg, air)?;
        // Simpson's rule in ln v, in which 1/C is almost linear, apart from corners where a layer turns turbulent.
        let panels = 64_u32;
        let step = ln(v0 / v1) / f64::from(panels);
        let sum: f64 = (0..=panels)
            .map(|panel| {
                let weight = if panel == 0 || panel == panels { 1.0 } else { 2.0 + 2.0 * f64::from(panel % 2) };
                weight / self.coefficient(v1 * exp(f64::from(panel) * step), air)
            })
            .sum();
        let factor = Parameter::DragFactor.check(self.factor * sum * step / 3.0 / (slowing_per_m * x))?;
        Ok(Self { factor, ..*self })
    }

    /// Measured over built-up drag; 1 until something is measured.
    #[must_use]
    pub fn factor(&self) -> f64 {
        self.factor
    }

    /// The coefficient at a speed through the air, m/s.
    ///
    /// Below 0.1 m/s it is that at 0.1 m/s: the friction coefficient grows without bound as the speed falls, though
    /// the force does not.
    #[must_use]
    pub fn coefficient(&self, speed_m_per_s: f64, air: &Air) -> f64 {
        let law = match &self.law {
            Law::Constant(coefficient) => *coefficient,
            Law::BuiltUp(shape) => shape.parts_at(speed_m_per_s.max(0.1) / air.kinematic_viscosity_m2_per_s()).total(),
        };
        self.factor * law
    }

    /// Drag (N) at a speed through the air, m/s. Example: see [`Drag`].
    #[must_use]
    pub fn force_n(&self, speed_m_per_s: f64, air: &Air) -> f64 {
        let dynamic_pressure_pa = 0.5 * air.density_kg_per_m3 * speed_m_per_s * speed_m_per_s;
        dynamic_pressure_pa * self.area_m2 * self.coefficient(speed_m_per_s, air)
    }

    /// Deceleration over the square of airspeed (1/m) as a function of airspeed (m/s): the input of
    /// [`super::Flight`]. Example: see [`Drag`].
    ///
    /// # Errors
    /// [`crate::Error::OutOfRange`] for mass or air.
    pub fn per_meter(&self, mass_kg: f64, air: &Air) -> Result<impl Fn(f64) -> f64> {
        let slowing_per_m = self.slowing_per_m(mass_kg, air)?;
        Ok(move |airspeed| slowing_per_m * self.coefficient(airspeed, air))
    }

    /// Speed (m/s) after a distance (0 to 1000 m) in still air, without gravity. Example: see [`Drag`].
    ///
    /// # Errors
    /// [`crate::Error::OutOfRange`] for speed, distance, mass or air.
    pub fn speed_after_m_per_s(&self, speed_m_per_s: f64, distance_m: f64, mass_kg: f64, air: &Air) -> Result<f64> {
        let mut log_speed = ln(Parameter::Speed.check(speed_m_per_s)?);
        let steps = 32_u32;
        let step = Parameter::DistanceFlown.check(distance_m)? / f64::from(steps);
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

    /// `rho A / (2 m)`: the fraction of speed lost per meter, for a coefficient of 1.
    fn slowing_per_m(&self, mass_kg: f64, air: &Air) -> Result<f64> {
        let mass_kg = Parameter::ArrowMass.check(mass_kg)?;
        Ok(0.5 * air.checked()?.density_kg_per_m3 * self.area_m2 / mass_kg)
    }
}
