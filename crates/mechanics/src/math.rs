//! The elementary functions of the crate, the same bits on every machine.
//!
//! The standard library hands these to the platform, which may answer differently by a last
//! digit; `libm` is one piece of Rust everywhere. `.clippy.toml` bans the other way in.

/// Square root; the caller shows that `x` is not negative.
pub(crate) fn sqrt(x: f64) -> f64 {
    libm::sqrt(x)
}

/// The least whole number not below `x`.
pub(crate) fn ceil(x: f64) -> f64 {
    libm::ceil(x)
}
