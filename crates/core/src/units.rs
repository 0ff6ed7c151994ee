//! Quantities, and the units people read and type them in.
//!
//! The first unit of each quantity is the one a saved build holds (inches, pounds, grains, feet per
//! second). Every unit carries its exact factor to SI, so a value goes from one unit to another and
//! back without loss beyond the last bit.
//!
//! Factors: NIST SP 811 (2008), Appendix B; they are derived in `clothyard_mechanics::units`.

use clothyard_mechanics::SpineRig;
use clothyard_mechanics::units as si;

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
    fn writes_alike(&self, one: f64, other: f64) -> bool {
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
static RATIO: [Unit; 1] = [unit("", "", 1.0, 3, 4, &[])];

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

/// The quantities that have more than one unit to choose from.
pub const CHOOSABLE: [Quantity; 14] = [
    Quantity::DrawWeight,
    Quantity::Length,
    Quantity::SmallLength,
    Quantity::Mass,
    Quantity::LinearMass,
    Quantity::Speed,
    Quantity::Energy,
    Quantity::Momentum,
    Quantity::MassPerDraw,
    Quantity::Distance,
    Quantity::Altitude,
    Quantity::Temperature,
    Quantity::Pressure,
    Quantity::WindSpeed,
];

/// The unit a person has chosen for each quantity.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Units([u8; QUANTITY_COUNT]);

/// What is measured in metric units wherever inches are not at hand.
const METRIC_LENGTHS_AND_AIR: [Quantity; 7] = [
    Quantity::Length,
    Quantity::SmallLength,
    Quantity::Distance,
    Quantity::Altitude,
    Quantity::Temperature,
    Quantity::Pressure,
    Quantity::WindSpeed,
];

impl Units {
    /// Inches, pounds, grains, feet per second.
    pub const ARCHERY: Self = Self([0; QUANTITY_COUNT]);

    /// Centimeters, millimeters, kilograms of pull, grams, meters per second, joules.
    #[must_use]
    pub fn metric() -> Self {
        let mut units = Self::ARCHERY;
        for quantity in CHOOSABLE {
            units.choose(quantity, 1);
        }
        units
    }

    /// Pounds and grains as the trade has them everywhere, lengths and air in metric units.
    #[must_use]
    pub fn pounds_and_centimeters() -> Self {
        let mut units = Self::ARCHERY;
        for quantity in METRIC_LENGTHS_AND_AIR {
            units.choose(quantity, 1);
        }
        units
    }

    /// The unit chosen for a quantity.
    #[must_use]
    pub fn of(&self, quantity: Quantity) -> &'static Unit {
        quantity.units().get(self.index(quantity)).unwrap_or_else(|| quantity.saved_unit())
    }

    /// Place of the chosen unit in the quantity's list.
    #[must_use]
    pub fn index(&self, quantity: Quantity) -> usize {
        self.0.get(quantity as usize).map_or(0, |&index| usize::from(index))
    }

    /// Chooses a unit by its place in the quantity's list; a place that is not there is left alone.
    pub fn choose(&mut self, quantity: Quantity, index: usize) {
        if let (Some(slot), Ok(small)) = (self.0.get_mut(quantity as usize), u8::try_from(index))
            && index < quantity.units().len()
        {
            *slot = small;
        }
    }

    /// The choice as one line of text: `length=1 mass=0`.
    #[must_use]
    pub fn to_text(&self) -> String {
        CHOOSABLE.map(|quantity| format!("{}={}", quantity.key(), self.index(quantity))).join(" ")
    }

    /// Reads [`Units::to_text`]; what cannot be read leaves the archery unit.
    #[must_use]
    pub fn from_text(text: &str) -> Self {
        let mut units = Self::ARCHERY;
        for (key, index) in text.split(' ').filter_map(|pair| pair.split_once('=')) {
            let quantity = CHOOSABLE.into_iter().find(|quantity| quantity.key() == key);
            if let (Some(quantity), Ok(index)) = (quantity, index.parse()) {
                units.choose(quantity, index);
            }
        }
        units
    }

    /// A step of the saved unit as a round number (1, 2 or 5 and zeros) of the chosen one.
    #[must_use]
    pub fn round_step(&self, quantity: Quantity, saved: f64) -> f64 {
        if self.index(quantity) == 0 {
            return saved;
        }
        let (wanted, mut power) = (self.show(quantity, saved), 1.0);
        while power > wanted && power > 1e-6 {
            power /= 10.0;
        }
        while power * 10.0 <= wanted {
            power *= 10.0;
        }
        [5.0, 2.0].into_iter().map(|times| times * power).find(|&step| step <= wanted * 1.01).unwrap_or(power)
    }

    /// From the saved unit to the chosen one.
    #[must_use]
    pub fn show(&self, quantity: Quantity, saved: f64) -> f64 {
        convert(saved, quantity.saved_unit(), self.of(quantity))
    }

    /// A saved number, or the end of its range that is written like it in the chosen unit: a bound typed as it is shown
    /// is that bound.
    #[must_use]
    pub fn to_bound(&self, quantity: Quantity, saved: f64, minimum: f64, maximum: f64) -> f64 {
        let bound = clamp(saved, minimum, maximum);
        let [one, other] = [saved, bound].map(|saved| self.show(quantity, saved));
        if self.of(quantity).writes_alike(one, other) { bound } else { saved }
    }

    /// From the chosen unit to the saved one.
    #[must_use]
    pub fn save(&self, quantity: Quantity, shown: f64) -> f64 {
        convert(shown, self.of(quantity), quantity.saved_unit())
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

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn choosable_are_all_with_a_choice() {
        for quantity in CHOOSABLE {
            assert!(quantity.units().len() > 1, "{quantity:?}");
        }
    }

    #[test]
    fn known_conversions() {
        // NIST SP 811 (2008), Appendix B.8: 1 in = 2.54 cm, 1 lb = 453.59237 g, 1 gr = 64.79891 mg.
        let metric = Units::metric();
        assert!((metric.show(Quantity::Length, 28.0) - 71.12).abs() < 1e-12);
        assert!((metric.show(Quantity::Mass, 7000.0) - 453.592_37).abs() < 1e-9);
        assert!((metric.show(Quantity::DrawWeight, 60.0) - 27.215_542_2).abs() < 1e-9);
        assert!((metric.show(Quantity::Speed, 280.0) - 85.344).abs() < 1e-12);
        assert!((metric.show(Quantity::Temperature, 59.0) - 15.0).abs() < 1e-12);
        assert!((Quantity::Temperature.to_si(59.0) - 288.15).abs() < 1e-12);
        assert!((metric.show(Quantity::Distance, 100.0) - 91.44).abs() < 1e-12);
        // ISO 2533: 1013.25 hPa; 29.92 inHg to its four digits.
        assert!((Quantity::Pressure.from_si(101_325.0) - 29.92).abs() < 5e-3);
        assert!((Quantity::WindSpeed.to_si(10.0) - 4.470_4).abs() < 1e-12);
    }

    #[test]
    fn steps_are_round_in_every_unit() {
        let metric = Units::metric();
        for (quantity, saved, round) in [
            (Quantity::Length, 0.25, 0.5),
            (Quantity::DrawWeight, 1.0, 0.2),
            (Quantity::Mass, 5.0, 0.2),
            (Quantity::SmallLength, 0.05, 1.0),
            (Quantity::Speed, 5.0, 1.0),
        ] {
            assert!((metric.round_step(quantity, saved) - round).abs() < 1e-12, "{quantity:?}");
            assert_eq!(Units::ARCHERY.round_step(quantity, saved), saved);
        }
    }

    #[test]
    fn a_choice_survives_being_written() {
        let mut units = Units::metric();
        units.choose(Quantity::DrawWeight, 2);
        assert_eq!(Units::from_text(&units.to_text()), units);
        assert_eq!(Units::from_text("nonsense length=9 mass= =1"), Units::ARCHERY);
    }

    #[test]
    fn a_spine_in_pounds_is_the_mechanics_s() {
        for pounds in [25.0, 45.0, 47.5, 90.0] {
            let stiffness =
                clothyard_mechanics::stiffness_from_amo_rating_nm2(Quantity::DrawWeight.to_si(pounds)).unwrap();
            let sag_m = SpineRig::ASTM_F2031.deflection_m(stiffness).unwrap();
            assert!((other_spine(pounds) / Quantity::StaticSpine.from_si(sag_m) - 1.0).abs() < 1e-14);
            assert!((other_spine(other_spine(pounds)) - pounds).abs() < 1e-12);
        }
    }

    #[test]
    fn a_number_written_like_a_bound_is_the_bound() {
        let bound = |units: &Units, lb: f64| units.to_bound(Quantity::DrawWeight, lb, 5.0, 150.0);
        assert_eq!(
            [4.996, 4.99, 150.004, 150.01, 60.001].map(|lb| bound(&Units::ARCHERY, lb)),
            [5.0, 4.99, 150.0, 150.01, 60.001]
        );
        // 150 lb is 68.0389 kg, written 68.04.
        assert_eq!(bound(&Units::metric(), 68.04 / 0.453_592_37), 150.0);
        assert_eq!(Units::ARCHERY.to_bound(Quantity::Angle, -0.001, 0.0, 10.0), 0.0);
        assert!(bound(&Units::ARCHERY, f64::NAN).is_nan());
    }

    proptest! {
        #[test]
        fn there_and_back(value in -1e4..1e4f64, which in 0..CHOOSABLE.len(), index in 0usize..3) {
            let quantity = CHOOSABLE[which];
            let mut units = Units::ARCHERY;
            units.choose(quantity, index);
            let back = units.save(quantity, units.show(quantity, value));
            prop_assert!((back - value).abs() <= 4.0 * f64::EPSILON * (value.abs() + 600.0 * f64::from(CHOOSABLE[which] == Quantity::Temperature)));
        }
    }
}
