//! Quantities, and the units people read and type them in.
//!
//! The first unit of each quantity is the one a saved build holds (inches, pounds, grains, feet per
//! second). Every unit carries its exact factor to SI, so a value goes from one unit to another and
//! back without loss beyond the last bit.
//!
//! Factors: NIST SP 811 (2008), Appendix B; they are derived in `clothyard_mechanics::units`.

mod chosen;
mod table;
#[cfg(test)]
mod tests;

pub use chosen::{CHOOSABLE, Units};
pub use table::Unit;

use clothyard_mechanics::SpineRig;
use table::RATIO;

/// A kind of measured number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum Quantity {
    /// Draw weight of a bow.
    DrawWeight,
    /// A length along the bow or the arrow.
    Length,
    /// A diameter, a height or another length of a few millimeters.
    SmallLength,
    /// Mass of an arrow or a part.
    Mass,
    /// Mass of a shaft for its length.
    LinearMass,
    /// Speed.
    Speed,
    /// Energy.
    Energy,
    /// Momentum.
    Momentum,
    /// Static spine after ASTM F2031, in thousandths of an inch of deflection.
    StaticSpine,
    /// Angle.
    Angle,
    /// Hundredths.
    Percent,
    /// Arrow mass for each unit of draw weight.
    MassPerDraw,
    /// Acceleration.
    Acceleration,
    /// Distance to a target.
    Distance,
    /// Height above the sea.
    Altitude,
    /// Temperature.
    Temperature,
    /// Pressure of the air on the site.
    Pressure,
    /// Speed of the wind.
    WindSpeed,
    /// A whole number of things.
    Count,
    /// A plain ratio.
    Ratio,
}

/// How many quantities there are.
pub const QUANTITY_COUNT: usize = Quantity::Ratio as usize + 1;

impl Quantity {
    /// The unit a saved build holds.
    #[must_use]
    pub fn saved_unit(self) -> &'static Unit {
        self.units().first().unwrap_or(&RATIO[0])
    }

    /// What a person would call it, for a choice of units.
    #[must_use]
    pub fn label(self) -> &'static str {
        match self {
            Self::DrawWeight => "Draw weight",
            Self::Length => "Lengths",
            Self::SmallLength => "Diameters and small lengths",
            Self::Mass => "Weights",
            Self::LinearMass => "Shaft weight per inch",
            Self::Speed => "Speed",
            Self::Energy => "Energy",
            Self::Momentum => "Momentum",
            Self::StaticSpine => "Static spine",
            Self::Angle => "Angles",
            Self::Percent => "Percent",
            Self::MassPerDraw => "Grains per pound",
            Self::Acceleration => "Acceleration",
            Self::Distance => "Distances",
            Self::Altitude => "Altitude",
            Self::Temperature => "Temperature",
            Self::Pressure => "Air pressure",
            Self::WindSpeed => "Wind",
            Self::Count => "Count",
            Self::Ratio => "Ratio",
        }
    }

    /// The key by which a saved choice of units names this quantity.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Self::DrawWeight => "drawWeight",
            Self::Length => "length",
            Self::SmallLength => "smallLength",
            Self::Mass => "mass",
            Self::LinearMass => "linearMass",
            Self::Speed => "speed",
            Self::Energy => "energy",
            Self::Momentum => "momentum",
            Self::StaticSpine => "staticSpine",
            Self::Angle => "angle",
            Self::Percent => "percent",
            Self::MassPerDraw => "massPerDraw",
            Self::Acceleration => "acceleration",
            Self::Distance => "distance",
            Self::Altitude => "altitude",
            Self::Temperature => "temperature",
            Self::Pressure => "pressure",
            Self::WindSpeed => "windSpeed",
            Self::Count => "count",
            Self::Ratio => "ratio",
        }
    }

    /// From the saved unit to SI.
    #[must_use]
    pub fn to_si(self, saved: f64) -> f64 {
        saved * self.saved_unit().si + self.saved_unit().zero
    }

    /// From SI to the saved unit.
    #[must_use]
    pub fn from_si(self, value: f64) -> f64 {
        (value - self.saved_unit().zero) / self.saved_unit().si
    }
}

/// The AMO spine in pounds, by which wood shafts are sold, of a static spine in thousandths of an inch after ASTM F2031;
/// and the other way round, as one is a constant over the other.
///
/// AMO: 26 over the deflection in inches under 2 lb at the middle of 26 in (memory; the standard was not read). A beam's
/// deflection is as the weight and as the cube of the span.
#[must_use]
pub fn other_spine(spine: f64) -> f64 {
    const SPAN: f64 = SpineRig::ASTM_F2031.span_m / SpineRig::AMO.span_m;
    const PRODUCT: f64 = 26_000.0 * SPAN * SPAN * SPAN * (SpineRig::ASTM_F2031.load_n / SpineRig::AMO.load_n);
    PRODUCT / spine
}

/// The nearest number of a range.
///
/// The library's `clamp` carries the code to print any number, for a panic that cannot happen here.
#[must_use]
#[allow(clippy::manual_clamp, reason = "see above")]
pub fn clamp(value: f64, minimum: f64, maximum: f64) -> f64 {
    value.max(minimum).min(maximum)
}

/// Lengths, spines and weights closer than this are the same: sums in another order differ in their last bits.
pub const SAME: f64 = 1e-9;

/// Whether two numbers in one unit are the same to within [`SAME`].
#[must_use]
pub fn is_same(a: f64, b: f64) -> bool {
    (a - b).abs() < SAME
}

/// Inches rounded up to an eighth; what is an eighth already stays.
#[must_use]
pub fn up_to_an_eighth(inches: f64) -> f64 {
    (inches * 8.0 - SAME).ceil() / 8.0
}

/// A value in another unit of the same quantity; the same unit gives the same bits.
#[must_use]
pub fn convert(value: f64, from: &Unit, to: &Unit) -> f64 {
    if core::ptr::eq(from, to) { value } else { (value * from.si + from.zero - to.zero) / to.si }
}
