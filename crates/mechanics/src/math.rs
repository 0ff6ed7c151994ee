//! Elementary functions that give the same bits on every machine.
//!
//! The standard library forwards these to the platform, which may differ in the last digit; `libm` is the
//! same Rust code everywhere. `.clippy.toml` bans the `std` methods.

/// Square root; the caller ensures that `x` is not negative.
pub(crate) fn sqrt(x: f64) -> f64 {
    libm::sqrt(x)
}

/// `x` rounded up to a whole number.
pub(crate) fn ceil(x: f64) -> f64 {
    libm::ceil(x)
}

/// Cube root.
pub(crate) fn cbrt(x: f64) -> f64 {
    libm::cbrt(x)
}

/// e to the power `x`.
pub(crate) fn exp(x: f64) -> f64 {
    libm::exp(x)
}

/// Natural logarithm; the caller ensures that `x` is positive.
pub(crate) fn ln(x: f64) -> f64 {
    libm::log(x)
}

/// `x` to the power `y`; the caller ensures that `x` is not negative.
pub(crate) fn pow(x: f64, y: f64) -> f64 {
    libm::pow(x, y)
}

/// Sine of an angle in radians.
pub(crate) fn sin(x: f64) -> f64 {
    libm::sin(x)
}

/// Sine of an angle of at most pi/4 in radians: bit for bit [`sin`], without the reduction of large angles, which would add
/// 2 KB to the first wasm (the kernel of fdlibm, whose coefficients these are).
pub(crate) fn sin_small(x: f64) -> f64 {
    const LOW: [f64; 3] = [8.333_333_333_322_49e-3, -1.984_126_982_985_795e-4, 2.755_731_370_707_006_8e-6];
    const HIGH: [f64; 2] = [-2.505_076_025_340_686_3e-8, 1.589_690_995_211_55e-10];
    const CUBE: f64 = -1.666_666_666_666_663_2e-1;
    let square = x * x;
    let low = LOW[0] + square * (LOW[1] + square * LOW[2]);
    let rest = low + square * (square * square) * (HIGH[0] + square * HIGH[1]);
    x + square * x * (CUBE + square * rest)
}

/// Arcsine (rad); the caller ensures that `x` is within [-1, 1].
pub(crate) fn asin(x: f64) -> f64 {
    libm::asin(x)
}

/// `ln(1 + x)`, exact for small `x`; the caller ensures that `x` is above -1.
pub(crate) fn ln_1p(x: f64) -> f64 {
    libm::log1p(x)
}

/// `exp(x) - 1`, exact for small `x`.
pub(crate) fn exp_m1(x: f64) -> f64 {
    libm::expm1(x)
}

/// Cosine of an angle in radians.
pub(crate) fn cos(x: f64) -> f64 {
    libm::cos(x)
}

/// Tangent of an angle in radians.
pub(crate) fn tan(x: f64) -> f64 {
    libm::tan(x)
}

/// The angle (rad) to the point (x, y), from the x axis.
pub(crate) fn atan2(y: f64, x: f64) -> f64 {
    libm::atan2(y, x)
}

/// The nearest value within a range.
///
/// `f64::clamp` can panic, and would link the code that formats any number into the wasm.
#[allow(clippy::manual_clamp, reason = "see above")]
pub(crate) fn clamp(x: f64, least: f64, most: f64) -> f64 {
    if x < least {
        least
    } else if x > most {
        most
    } else {
        x
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_sine_of_a_small_angle_is_the_same_bit_for_bit() {
        for step in -1000..=1000 {
            let x = 0.785 * f64::from(step) / 1000.0;
            assert_eq!(sin_small(x).to_bits(), sin(x).to_bits(), "{x}");
        }
    }

    #[test]
    fn the_nearest_number_of_a_range_is_itself_or_an_end() {
        for (x, nearest) in [(-7.0, -2.0), (-2.0, -2.0), (0.5, 0.5), (3.0, 3.0), (f64::INFINITY, 3.0)] {
            assert!((clamp(x, -2.0, 3.0) - nearest).abs() < f64::EPSILON, "{x}");
        }
    }
}
