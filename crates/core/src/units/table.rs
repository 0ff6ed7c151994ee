//! The units of every quantity, with their exact factors.

use super::Quantity;
use clothyard_mechanics::units as si;

/// One unit of a quantity.
#[derive(Debug)]
pub struct Unit {
    /// What is written behind the number.
    pub symbol: &'static str,
    /// How it is said in full.
    pub name: &'static str,
    /// SI per unit, exact.
    pub si: f64,
    /// What zero of this unit is in SI: zero for all but temperatures.
    pub zero: f64,
    /// Decimals of a result.
    pub decimals: usize,
    /// Most decimals shown of an input.
    pub entry_decimals: usize,
    /// What a person may type behind a number to mean this unit, in lower case.
    pub typed: &'static [&'static str],
}

const fn unit(
    symbol: &'static str,
    name: &'static str,
    si: f64,
    decimals: usize,
    entry_decimals: usize,
    typed: &'static [&'static str],
) -> Unit {
    Unit { symbol, name, si, zero: 0.0, decimals, entry_decimals, typed }
}

impl Unit {
    /// Whether two numbers of this unit are written alike in a field, to its decimals.
    pub(super) fn writes_alike(&self, one: f64, other: f64) -> bool {
        let scale = (0..self.entry_decimals).fold(1.0, |scale, _| scale * 10.0);
        // Halves away from zero, as they are written.
        let last_place = |number: f64| (number * scale + if number < 0.0 { -0.5 } else { 0.5 }) as i64;
        // No number at all is like none.
        (one - other).abs() < 1.0 && last_place(one) == last_place(other)
    }
}

/// Zero degrees Celsius in kelvins, exact.
const CELSIUS_ZERO: f64 = 273.15;

const INCH_TYPED: &[&str] = &["in", "in.", "inch", "inches", "\"", "″", "”", "''"];
const CENTIMETER_TYPED: &[&str] = &["cm", "centimetre", "centimetres", "centimeter", "centimeters"];
const MILLIMETER_TYPED: &[&str] = &["mm", "millimetre", "millimetres", "millimeter", "millimeters"];

static DRAW_WEIGHT: [Unit; 3] = [
    unit(
        "lb",
        "pounds",
        si::NEWTON_PER_POUND_FORCE,
        1,
        2,
        &["lb", "lb.", "lbs", "lbs.", "lbf", "#", "pound", "pounds"],
    ),
    unit(
        "kg",
        "kilograms of pull",
        si::STANDARD_GRAVITY,
        1,
        2,
        &["kg", "kgf", "kilogram", "kilograms", "kilo", "kilos"],
    ),
    unit("N", "newtons", 1.0, 0, 1, &["n", "newton", "newtons"]),
];
static LENGTH: [Unit; 3] = [
    unit("in", "inches", si::METER_PER_INCH, 2, 3, INCH_TYPED),
    unit("cm", "centimeters", 0.01, 1, 2, CENTIMETER_TYPED),
    unit("mm", "millimeters", 0.001, 0, 1, MILLIMETER_TYPED),
];
static SMALL_LENGTH: [Unit; 2] = [
    unit("in", "inches", si::METER_PER_INCH, 3, 4, INCH_TYPED),
    unit("mm", "millimeters", 0.001, 2, 3, MILLIMETER_TYPED),
];
static MASS: [Unit; 2] = [
    unit("gr", "grains", si::KILOGRAM_PER_GRAIN, 0, 2, &["gr", "gr.", "grs", "gn", "grain", "grains"]),
    unit("g", "grams", 0.001, 2, 3, &["g", "g.", "gram", "grams", "gramme", "grammes"]),
];
static LINEAR_MASS: [Unit; 2] = [
    unit(
        "gpi",
        "grains per inch",
        si::KILOGRAM_PER_METER_PER_GRAIN_PER_INCH,
        2,
        2,
        &["gr/in", "gpi", "grains per inch"],
    ),
    unit("g/m", "grams per meter", 0.001, 2, 3, &["g/m", "grams per metre", "grams per meter"]),
];
static SPEED: [Unit; 2] = [
    unit("fps", "feet per second", si::METER_PER_SECOND_PER_FPS, 0, 1, &["fps", "ft/s", "feet per second"]),
    unit("m/s", "meters per second", 1.0, 1, 2, &["m/s", "mps", "metres per second", "meters per second"]),
];
static ENERGY: [Unit; 2] = [
    unit("ft-lb", "foot-pounds", si::JOULE_PER_FOOT_POUND, 1, 1, &["ft lb", "ft·lb", "ft-lb", "ft lbf", "foot pounds"]),
    unit("J", "joules", 1.0, 1, 1, &["j", "joule", "joules"]),
];
static MOMENTUM: [Unit; 2] = [
    unit("slug·ft/s", "slug feet per second", si::KILOGRAM_METER_PER_SECOND_PER_SLUG_FPS, 3, 3, &["slug ft/s"]),
    unit("kg·m/s", "kilogram meters per second", 1.0, 2, 2, &["kg m/s", "n s"]),
];
static STATIC_SPINE: [Unit; 1] = [unit(
    "",
    "thousandths of an inch",
    si::METER_PER_INCH / 1000.0,
    0,
    1,
    // A deflection below 3 is one in inches, with or without its unit.
    &["thou", "thousandths", "in", "in.", "\""],
)];
static ANGLE: [Unit; 1] =
    [unit("°", "degrees", core::f64::consts::PI / 180.0, 1, 2, &["°", "deg", "degree", "degrees"])];
static PERCENT: [Unit; 1] = [unit("%", "percent", 0.01, 1, 1, &["%", "percent", "per cent"])];
static MASS_PER_DRAW: [Unit; 2] = [
    unit(
        "gpp",
        "grains per pound",
        si::KILOGRAM_PER_GRAIN / si::NEWTON_PER_POUND_FORCE,
        2,
        2,
        &["gr/lb", "gpp", "grains per pound"],
    ),
    unit("g/kg", "grams per kilogram", 0.001 / si::STANDARD_GRAVITY, 2, 3, &["g/kg"]),
];
static ACCELERATION: [Unit; 1] = [unit("m/s²", "meters per second squared", 1.0, 0, 0, &["m/s2", "m/s²"])];
static DISTANCE: [Unit; 2] = [
    unit("yd", "yards", si::METER_PER_YARD, 0, 2, &["yd", "yd.", "yds", "yard", "yards"]),
    unit("m", "meters", 1.0, 0, 2, &["m", "m.", "metre", "metres", "meter", "meters"]),
];
static ALTITUDE: [Unit; 2] = [
    unit("ft", "feet", si::METER_PER_FOOT, 0, 0, &["ft", "ft.", "foot", "feet", "'"]),
    unit("m", "meters", 1.0, 0, 1, &["m", "m.", "metre", "metres", "meter", "meters"]),
];
static TEMPERATURE: [Unit; 2] = [
    Unit {
        zero: CELSIUS_ZERO - 32.0 / 1.8,
        ..unit("°F", "degrees Fahrenheit", 1.0 / 1.8, 0, 1, &["°f", "f", "degrees fahrenheit"])
    },
    Unit { zero: CELSIUS_ZERO, ..unit("°C", "degrees Celsius", 1.0, 0, 1, &["°c", "c", "degrees celsius"]) },
];
// An inch of mercury is the conventional one: NIST SP 811 (2008), Appendix B.8.
static PRESSURE: [Unit; 2] = [
    unit("inHg", "inches of mercury", 3_386.389, 2, 2, &["inhg", "in hg"]),
    unit("hPa", "hectopascals", 100.0, 0, 1, &["hpa", "mbar", "millibar", "millibars"]),
];
static WIND_SPEED: [Unit; 3] = [
    unit("mph", "miles per hour", 1_760.0 * si::METER_PER_YARD / 3_600.0, 0, 1, &["mph", "miles per hour"]),
    unit("km/h", "kilometers per hour", 1.0 / 3.6, 0, 1, &["km/h", "kmh", "kph"]),
    unit("m/s", "meters per second", 1.0, 1, 2, &["m/s", "mps"]),
];
static COUNT: [Unit; 1] = [unit("", "", 1.0, 0, 1, &[])];
pub(super) static RATIO: [Unit; 1] = [unit("", "", 1.0, 3, 4, &[])];

impl Quantity {
    /// The units of this quantity; the first is the one a saved build holds.
    #[must_use]
    pub fn units(self) -> &'static [Unit] {
        match self {
            Self::DrawWeight => &DRAW_WEIGHT,
            Self::Length => &LENGTH,
            Self::SmallLength => &SMALL_LENGTH,
            Self::Mass => &MASS,
            Self::LinearMass => &LINEAR_MASS,
            Self::Speed => &SPEED,
            Self::Energy => &ENERGY,
            Self::Momentum => &MOMENTUM,
            Self::StaticSpine => &STATIC_SPINE,
            Self::Angle => &ANGLE,
            Self::Percent => &PERCENT,
            Self::MassPerDraw => &MASS_PER_DRAW,
            Self::Acceleration => &ACCELERATION,
            Self::Distance => &DISTANCE,
            Self::Altitude => &ALTITUDE,
            Self::Temperature => &TEMPERATURE,
            Self::Pressure => &PRESSURE,
            Self::WindSpeed => &WIND_SPEED,
            Self::Count => &COUNT,
            Self::Ratio => &RATIO,
        }
    }
}
