//! The spin that offset vanes give an arrow, and the distance over which it builds up.

use core::f64::consts::PI;

use crate::error::Result;
use crate::math::{asin, exp_m1, ln_1p};
use crate::parameter::Parameter;

use super::fins::FinSet;
use super::stability::FlyingArrow;

/// The spin that an arrow builds up from zero: the result of [`FlyingArrow::spin`].
///
/// A strip of vane at radius `y` meets the air at its offset minus `y` times the rotation per meter flown.
/// The rotation `t` (rad/m) settles where the drive of the offset vanes and the damping of vanes and blades
/// cancel:
///
/// ```text
/// drive    F = kf n S1 (y_ma + r) offset                   m^3; integral of c y dy is fin area times (y_ma + r)
/// damping  B = kd n S1 integral of c y^2 dy / fin area     m^4
/// t = t_end (1 - exp(-x / X)),   t_end = sum F / sum B,   X = 2 Ix / (rho sum B)
/// ```
///
/// `S1` is the normal-force area of one fin alone (m^2), `n` their number, `c` the chord and `r` the shaft's
/// radius (m), `x` the distance flown (m), `X` the distance over which the spin settles, `Ix` the axial
/// inertia (kg m^2), `rho` the air's density (kg/m^3). Drive and damping use the same slope for each strip,
/// so it cancels where only vanes act; `kf`, `kd` are the interference factors of the body. None of it
/// depends on speed: the arrow moves through the air like a screw. Its deceleration is neglected (below 1 %
/// of the settling). `t` may also be read as `p d / (2 V)`, which is `t d / 2`.
///
/// **The spin does not stabilize the arrow as a gyroscope.** The stability factor, `(Ix t)^2 / (2 rho It S
/// margin)` with the transverse inertia `It`, would have to reach 1 to stabilize an arrow without vanes; it
/// is about a millionth ([`FlyingArrow::gyroscopic_share`]). The effect of spin is to average out asymmetries
/// of vanes, shaft and blades.
///
/// # Examples
/// ```
/// use clothyard_mechanics::flight::Spin;
/// let spin = Spin { settled_rad_per_m: 3.0, settling_m: 6.0 };
/// // After one settling distance the rotation is at 1 - 1/e, the angle at 1/e of that at full rotation.
/// let one_in_e = f64::exp(-1.0);
/// assert!((spin.turning_rad_per_m(6.0) - 3.0 * (1.0 - one_in_e)).abs() < 1e-15);
/// assert!((spin.turned_rad(6.0) - 3.0 * 6.0 * one_in_e).abs() < 1e-14);
/// // At 60 m/s a rotation of 3 rad/m is 180 rad/s, about 1700 rpm.
/// assert!((60.0 * spin.turning_rad_per_m(200.0) - 180.0).abs() < 1e-11);
/// ```
///
/// # References
/// Barrowman, *The Practical Calculation of the Aerodynamic Characteristics of Slender Finned Vehicles*
/// (1967), roll forcing and damping with their interference, as `RocketPy` 1.13.0 gives `kf` and `kd`.
/// Gyroscopic stability factor: McCoy, *Modern Exterior Ballistics*, from memory.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spin {
    /// Final rotation, rad per meter flown; its sign is that of the offset.
    pub settled_rad_per_m: f64,
    /// Distance flown in which the difference falls to 1/e, 37 %, m.
    pub settling_m: f64,
}

impl Spin {
    /// Rotation after this distance flown (m), rad/m; times the speed, the spin in rad/s.
    #[must_use]
    pub fn turning_rad_per_m(&self, distance_m: f64) -> f64 {
        -self.settled_rad_per_m * exp_m1(-distance_m / self.settling_m)
    }

    /// Angle rotated over this distance flown, rad.
    #[must_use]
    pub fn turned_rad(&self, distance_m: f64) -> f64 {
        self.settled_rad_per_m * (distance_m + self.settling_m * exp_m1(-distance_m / self.settling_m))
    }
}

impl FinSet {
    /// Distance of the mean chord from the body, m.
    fn mean_chord_m(&self) -> f64 {
        let (a, b) = (self.root_chord_m, self.tip_chord_m);
        self.span_m / 3.0 * (a + 2.0 * b) / (a + b)
    }

    /// Mean square distance of the fin's area from the axis, m^2; times its mass, a fin's inertia in roll.
    #[must_use]
    pub fn mean_square_radius_m2(&self) -> f64 {
        let (a, b, s, r) = (self.root_chord_m, self.tip_chord_m, self.span_m, self.body_radius_m);
        r * r + 2.0 * r * self.mean_chord_m() + s * s / 6.0 * (a + 3.0 * b) / (a + b)
    }

    /// Roll moment per radian of offset and dynamic pressure, m^3.
    #[must_use]
    pub fn roll_drive_m3(&self) -> f64 {
        let arm = self.body_radius_m + self.mean_chord_m();
        self.drive_interference() * f64::from(self.count) * self.fin_normal_force_area_m2() * arm
    }

    /// Roll moment against a rotation of one radian per meter, over dynamic pressure, m^4.
    #[must_use]
    pub fn roll_damping_m4(&self) -> f64 {
        self.damping_interference()
            * f64::from(self.count)
            * self.fin_normal_force_area_m2()
            * self.mean_square_radius_m2()
    }

    /// Factor of the body on the drive of the fins.
    #[must_use]
    pub fn drive_interference(&self) -> f64 {
        let t = 1.0 + self.relative_span();
        let u = t - 1.0;
        let angle = asin((t * t - 1.0) / (t * t + 1.0));
        let ratio = (t * t + 1.0) / (t * u);
        let sides = 0.25 * PI * PI * (t + 1.0) * (t + 1.0) / (t * t) + ratio * ratio * angle * (PI + angle);
        let middle = 2.0 * (t + 1.0) / (t * u) * (PI + 2.0 * angle);
        // (t^2 + 1) / (2 t) written as 1 + u^2 / (2 t) loses no digits for a low fin.
        (sides - middle + 8.0 / (u * u) * ln_1p(u * u / (2.0 * t))) / (PI * PI)
    }

    /// Factor of the body on the damping of the fins.
    #[must_use]
    pub fn damping_interference(&self) -> f64 {
        let u = self.relative_span();
        let (t, taper) = (1.0 + u, self.tip_chord_m / self.root_chord_m);
        // Integrals of chord / t^2 and of chord t over the span, t the radius in body radii.
        let image = (t - taper) / t - (1.0 - taper) / u * ln_1p(u);
        let fin = 0.5 * (t + 1.0) * (t - taper) - (1.0 - taper) * (t * t + t + 1.0) / 3.0;
        1.0 + image / fin
    }

    /// Height in body radii. For zero height the factors tend to 1 and 2; a minimum of a ten-thousandth of
    /// the radius is within 1e-4 of them and avoids a division by 0.
    fn relative_span(&self) -> f64 {
        (self.span_m / self.body_radius_m).max(1e-4)
    }
}

impl FlyingArrow {
    /// The spin it builds up in air of this density (0.01 to 10 kg/m^3) with this inertia about its axis (1e-12 to 1
    /// kg m^2).
    ///
    /// None where no fin drives or damps it.
    ///
    /// # Errors
    /// [`crate::Error::OutOfRange`] for the air, the inertia, and anything of the arrow.
    ///
    /// # Examples
    /// ```
    /// use clothyard_mechanics::flight::{ArrowShape, DEFAULT_YAW_RAD, FlyingArrow, Outline, Vanes};
    /// # let vanes = Vanes {
    /// #     count: 3, length_m: 0.05, height_m: 0.012, outline: Outline::Shield,
    /// #     rear_m: 0.03, offset_rad: 0.03, mass_kg: 0.0012,
    /// # };
    /// # let shape = ArrowShape {
    /// #     diameter_m: 0.006, tip_m: 0.735, nose_length_m: 0.015, vanes: Some(vanes), blades: None,
    /// # };
    /// # let arrow = FlyingArrow {
    /// #     length_m: 0.71, mass_kg: 0.022, balance_m: 0.46, transverse_inertia_kg_m2: 0.00145,
    /// #     shape, yaw_rad: DEFAULT_YAW_RAD,
    /// # };
    /// // An arrow of 22 g on a shaft of 6 mm, with three vanes of 50 by 12 mm at an offset of 0.03 rad.
    /// let fins = vanes.fins(0.003)?;
    /// let inertia_kg_m2 = arrow.axial_inertia_kg_m2(0.013, 0.005)?;
    /// // Shaft and other parts by radius, the vanes by the distribution of their area.
    /// let by_hand = 0.013 * (0.006_f64.powi(2) + 0.005_f64.powi(2)) / 8.0
    ///     + (0.022 - 0.013 - 0.0012) * 0.006_f64.powi(2) / 8.0
    ///     + 0.0012 * fins.mean_square_radius_m2();
    /// assert!((inertia_kg_m2 / by_hand - 1.0).abs() < 1e-14);
    /// // Drive over damping; the distance is 2 Ix / (rho B).
    /// let spin = arrow.spin(1.2, inertia_kg_m2)?.unwrap();
    /// let settled = 0.03 * fins.roll_drive_m3() / fins.roll_damping_m4();
    /// assert!((spin.settled_rad_per_m / settled - 1.0).abs() < 1e-14);
    /// assert!((spin.settling_m * 1.2 * fins.roll_damping_m4() / (2.0 * inertia_kg_m2) - 1.0).abs() < 1e-14);
    /// // The gyroscopic effect is negligible.
    /// assert!(arrow.gyroscopic_share(1.2, inertia_kg_m2, settled)? < 1e-5);
    /// # Ok::<(), clothyard_mechanics::Error>(())
    /// ```
    pub fn spin(&self, air_density_kg_per_m3: f64, axial_inertia_kg_m2: f64) -> Result<Option<Spin>> {
        let rho = Parameter::AirDensity.check(air_density_kg_per_m3)?;
        let inertia = Parameter::AxialInertia.check(axial_inertia_kg_m2)?;
        self.normal_forces()?;
        let (vanes, blades) = (self.vane_fins()?, self.blade_fins()?);
        let offset = self.shape.vanes.map_or(0.0, |vanes| vanes.offset_rad);
        let drive = offset * vanes.map_or(0.0, |fins| fins.roll_drive_m3());
        let damping: f64 = [vanes, blades].iter().flatten().map(FinSet::roll_damping_m4).sum();
        Ok((damping > 0.0)
            .then(|| Spin { settled_rad_per_m: drive / damping, settling_m: 2.0 * inertia / (rho * damping) }))
    }

    /// Inertia about the axis (kg m^2), of a shaft of this mass (kg) and inner diameter (m).
    ///
    /// Vanes and blades count by the distribution of their area; everything else but the shaft counts as a
    /// solid rod of the shaft's diameter, an upper bound for parts inside it.
    ///
    /// # Errors
    /// [`crate::Error::OutOfRange`] for anything of the arrow, and for a shaft wider inside than outside
    /// or heavier than the arrow allows.
    pub fn axial_inertia_kg_m2(&self, shaft_mass_kg: f64, inner_diameter_m: f64) -> Result<f64> {
        self.normal_forces()?;
        let outer = self.shape.diameter_m;
        let inner = Parameter::Diameter.check_within(inner_diameter_m, 0.0, outer)?;
        let (vane_mass, blade_mass) =
            (self.shape.vanes.map_or(0.0, |v| v.mass_kg), self.shape.blades.map_or(0.0, |b| b.mass_kg));
        let shaft = Parameter::ArrowMass.check_within(shaft_mass_kg, 0.0, self.mass_kg - vane_mass - blade_mass)?;
        let rest = self.mass_kg - vane_mass - blade_mass - shaft;
        let square = |fins: Option<FinSet>| fins.map_or(0.0, |fins| fins.mean_square_radius_m2());
        Ok(shaft * (outer * outer + inner * inner) / 8.0
            + rest * outer * outer / 8.0
            + vane_mass * square(self.vane_fins()?)
            + blade_mass * square(self.blade_fins()?))
    }

    /// Gyroscopic stability factor of this rotation (rad/m): 1 would stabilize an arrow that tumbles without spin.
    ///
    /// # Errors
    /// [`crate::Error::OutOfRange`] for the air, the inertia, and anything of the arrow.
    pub fn gyroscopic_share(
        &self,
        air_density_kg_per_m3: f64,
        axial_inertia_kg_m2: f64,
        turning_rad_per_m: f64,
    ) -> Result<f64> {
        let rho = Parameter::AirDensity.check(air_density_kg_per_m3)?;
        let spin = Parameter::AxialInertia.check(axial_inertia_kg_m2)? * turning_rad_per_m;
        let held = self.stability()?;
        Ok(spin * spin / (2.0 * rho * self.transverse_inertia_kg_m2 * held.normal_force_area_m2 * held.margin_m.abs()))
    }
}

#[cfg(test)]
#[path = "spin/tests.rs"]
mod tests;
