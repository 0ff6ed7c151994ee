//! Exact factors, each "SI per unit"; none is a rounded product of others.
//!
//! The inch, the pound and standard gravity are exact by definition, and all else here follows
//! from them by multiplication and division. Multiply to reach SI, divide to leave it:
//!
//! ```text
//! value in SI = value in the unit x factor
//! ```
//!
//! # Examples
//! ```
//! use clothyard_mechanics::units::*;
//! assert!((28.0 * METER_PER_INCH - 0.7112).abs() < 1e-15);
//! assert!((KILOGRAM_PER_POUND / KILOGRAM_PER_GRAIN - 7_000.0).abs() < 1e-11);
//! assert!((METER_PER_YARD / METER_PER_FOOT - 3.0).abs() < 1e-15);
//! // 10 gr/in over 28 in is 280 gr.
//! let shaft_kg = 10.0 * KILOGRAM_PER_METER_PER_GRAIN_PER_INCH * 28.0 * METER_PER_INCH;
//! assert!((shaft_kg / KILOGRAM_PER_GRAIN - 280.0).abs() < 1e-11);
//! // A pound-force is what gravity does to a pound; a newton is 0.2248 of it.
//! assert!((NEWTON_PER_POUND_FORCE - KILOGRAM_PER_POUND * STANDARD_GRAVITY).abs() < 1e-15);
//! // The trade's divisors: gr fps^2 to a foot-pound, gr fps to a slug fps.
//! let (mass_kg, speed) = (350.0 * KILOGRAM_PER_GRAIN, 300.0 * METER_PER_SECOND_PER_FPS);
//! let energy_ft_lb = 0.5 * mass_kg * speed * speed / JOULE_PER_FOOT_POUND;
//! assert!((energy_ft_lb - 350.0 * 300.0 * 300.0 / 450_436.679_79).abs() < 1e-9);
//! let momentum_slug_fps = mass_kg * speed / KILOGRAM_METER_PER_SECOND_PER_SLUG_FPS;
//! assert!((momentum_slug_fps - 350.0 * 300.0 / 225_218.339_90).abs() < 1e-10);
//! ```
//!
//! # References
//! NIST Special Publication 811 (2008), Appendix B; NIST Handbook 44, Appendix C.

/// Meters in an inch, exact.
pub const METER_PER_INCH: f64 = 0.0254;

/// Meters in a foot of 12 inches.
pub const METER_PER_FOOT: f64 = 12.0 * METER_PER_INCH;

/// Meters in a yard of 36 inches.
pub const METER_PER_YARD: f64 = 36.0 * METER_PER_INCH;

/// Kilograms in an avoirdupois pound, exact.
pub const KILOGRAM_PER_POUND: f64 = 0.453_592_37;

/// Kilograms in a grain, 7000 to the pound.
pub const KILOGRAM_PER_GRAIN: f64 = KILOGRAM_PER_POUND / 7_000.0;

/// Standard acceleration of free fall, m/s^2, exact.
pub const STANDARD_GRAVITY: f64 = 9.806_65;

/// Newtons in a pound-force.
pub const NEWTON_PER_POUND_FORCE: f64 = KILOGRAM_PER_POUND * STANDARD_GRAVITY;

/// Meters per second in a foot per second.
pub const METER_PER_SECOND_PER_FPS: f64 = METER_PER_FOOT;

/// Joules in a foot pound-force.
pub const JOULE_PER_FOOT_POUND: f64 = METER_PER_FOOT * NEWTON_PER_POUND_FORCE;

/// Kilogram meters per second in a slug foot per second, which is a pound-force second.
pub const KILOGRAM_METER_PER_SECOND_PER_SLUG_FPS: f64 = NEWTON_PER_POUND_FORCE;

/// Kilograms per meter in a grain per inch.
pub const KILOGRAM_PER_METER_PER_GRAIN_PER_INCH: f64 = KILOGRAM_PER_GRAIN / METER_PER_INCH;

#[cfg(test)]
mod tests {
    use super::*;

    /// Equal to all digits but the last of a double.
    fn same(a: f64, b: f64) -> bool {
        (a - b).abs() <= 2.0 * f64::EPSILON * b.abs()
    }

    #[test]
    fn values_are_those_of_the_standards() {
        // Exact values: NIST SP 811 (2008), App. B.8; grain, yard: NIST HB 44, App. C.
        for (factor, published) in [
            (METER_PER_INCH, 2.54e-2),
            (METER_PER_FOOT, 3.048e-1),
            (METER_PER_YARD, 9.144e-1),
            (KILOGRAM_PER_POUND, 4.535_923_7e-1),
            (KILOGRAM_PER_GRAIN, 6.479_891e-5),
            (STANDARD_GRAVITY, 9.806_65),
            (NEWTON_PER_POUND_FORCE, 4.448_221_615_260_5),
            (METER_PER_SECOND_PER_FPS, 3.048e-1),
        ] {
            assert!(same(factor, published), "{factor} against {published}");
        }
        // Printed to 7 digits there.
        assert!((JOULE_PER_FOOT_POUND - 1.355_818).abs() < 5e-7);
    }

    #[test]
    fn derived_factors_follow_from_the_defining_ones() {
        assert!(same(METER_PER_YARD, 3.0 * METER_PER_FOOT));
        assert!(same(7_000.0 * KILOGRAM_PER_GRAIN, KILOGRAM_PER_POUND));
        // A slug is the mass that a pound-force accelerates by a foot per second squared.
        let slug_kg = NEWTON_PER_POUND_FORCE / METER_PER_FOOT;
        let slug_fps = slug_kg * METER_PER_SECOND_PER_FPS;
        assert!(same(KILOGRAM_METER_PER_SECOND_PER_SLUG_FPS, slug_fps));
        let foot_pound = slug_kg * METER_PER_SECOND_PER_FPS * METER_PER_SECOND_PER_FPS;
        assert!(same(JOULE_PER_FOOT_POUND, foot_pound));
        let per_foot = KILOGRAM_PER_METER_PER_GRAIN_PER_INCH * METER_PER_FOOT / KILOGRAM_PER_GRAIN;
        assert!(same(per_foot, 12.0));
    }

    #[test]
    fn every_unit_returns_from_si() {
        for factor in [
            METER_PER_INCH,
            METER_PER_FOOT,
            METER_PER_YARD,
            KILOGRAM_PER_POUND,
            KILOGRAM_PER_GRAIN,
            NEWTON_PER_POUND_FORCE,
            METER_PER_SECOND_PER_FPS,
            JOULE_PER_FOOT_POUND,
            KILOGRAM_METER_PER_SECOND_PER_SLUG_FPS,
            KILOGRAM_PER_METER_PER_GRAIN_PER_INCH,
        ] {
            for value in [1.0, 28.25, 350.0, 1e-3] {
                assert!(same(value * factor / factor, value));
            }
        }
    }

    #[test]
    fn the_divisors_of_the_trade_come_out() {
        // gr fps^2 per ft lbf and gr fps per slug fps: 2 x 7000 x g0 / 0.3048 and half of it.
        let per_energy = KILOGRAM_PER_GRAIN * METER_PER_SECOND_PER_FPS * METER_PER_SECOND_PER_FPS;
        let energy_divisor = 2.0 * JOULE_PER_FOOT_POUND / per_energy;
        assert!((energy_divisor - 450_436.679_79).abs() < 5e-6, "{energy_divisor}");
        let per_momentum = KILOGRAM_PER_GRAIN * METER_PER_SECOND_PER_FPS;
        let momentum_divisor = KILOGRAM_METER_PER_SECOND_PER_SLUG_FPS / per_momentum;
        assert!((momentum_divisor - 225_218.339_90).abs() < 5e-6, "{momentum_divisor}");
    }
}
