//! What can be wrong with a question, and the range every quantity may take.
//!
//! The ranges are wide: they keep arithmetic finite and catch a slipped unit, and leave what is
//! sensible for an arrow or a bow to the caller. They stand in one table, [`Quantity::range`].

use core::fmt;

/// The result of a calculation that can refuse its input: [`core::result::Result`] with this crate's [`Error`].
pub type Result<T> = core::result::Result<T, Error>;

/// Why a calculation has no answer.
///
/// It holds numbers and names and no sentence; [`core::fmt::Display`] makes one, in English.
///
/// # Examples
/// ```
/// use clothyard_mechanics::{Error, Quantity, SpineRig};
/// // The spine number 400 in place of the sag, 0.400 in = 0.010 16 m.
/// let error = SpineRig::ASTM_F2031.bending_stiffness_nm2(400.0).unwrap_err();
/// let (quantity, value) = (Quantity::Deflection, 400.0);
/// assert_eq!(error, Error::OutOfRange { quantity, value, minimum: 1e-4, maximum: 0.5 });
/// assert_eq!(error.to_string(), "deflection is 400, allowed is 0.0001 to 0.5 m");
/// ```
#[non_exhaustive]
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Error {
    /// A quantity outside its allowed range, or not finite.
    OutOfRange {
        /// Which quantity.
        quantity: Quantity,
        /// What was given, in the unit of [`Quantity::unit`].
        value: f64,
        /// The least allowed value, same unit.
        minimum: f64,
        /// The greatest allowed value, same unit.
        maximum: f64,
    },
    /// The rest stands at or ahead of the shaft's front end: no column between string and rest.
    RestAheadOfShaft {
        /// Rest, from the nock throat, in metres.
        rest_m: f64,
        /// Front end of the shaft, from the nock throat, in metres.
        length_m: f64,
    },
    /// More parts, or more nodes of a beam, than the fixed capacity holds.
    TooManyParts {
        /// How many were given.
        given: usize,
        /// How many fit.
        most: usize,
    },
    /// Two readings of one thing at the same place.
    Repeated {
        /// What both were read at.
        quantity: Quantity,
        /// Its value, in the unit of [`Quantity::unit`].
        value: f64,
    },
    /// A beam that can move without bending, for want of supports or, to within rounding, of
    /// stiffness: it bears no load at all.
    Unsupported,
    /// An iteration did not settle.
    NoConvergence {
        /// Rounds made.
        iterations: u32,
    },
    /// The arrow never comes to this distance, height or time.
    NotReached {
        /// Which of them.
        quantity: Quantity,
        /// What was asked for, in the unit of [`Quantity::unit`].
        value: f64,
    },
}

impl fmt::Display for Error {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Self::OutOfRange { quantity, value, minimum, maximum } => {
                write!(f, "{} is {value}, allowed is {minimum} to {maximum}", quantity.name())?;
                if quantity.unit().is_empty() { Ok(()) } else { write!(f, " {}", quantity.unit()) }
            }
            Self::RestAheadOfShaft { rest_m, length_m } => {
                write!(f, "the rest at {rest_m} m is not behind the shaft's front end at {length_m} m")
            }
            Self::TooManyParts { given, most } => write!(f, "{given} parts given, {most} fit"),
            Self::Repeated { quantity, value } => {
                write!(f, "two readings have the {} {value} {}", quantity.name(), quantity.unit())
            }
            Self::Unsupported => f.write_str("the beam can move without bending, for want of supports or of stiffness"),
            Self::NoConvergence { iterations } => {
                write!(f, "not settled after {iterations} rounds")
            }
            Self::NotReached { quantity, value } => {
                write!(f, "the arrow never comes to a {} of {value} {}", quantity.name(), quantity.unit())
            }
        }
    }
}

impl core::error::Error for Error {}

/// A physical quantity that a calculation checks, with its unit and the range it may take.
///
/// The ranges are wide: they keep arithmetic finite and catch a slipped unit, and leave what is
/// sensible for an arrow or a bow to the caller. NaN lies in none of them. Where a text names an
/// argument or a field without its range, the range is the one here.
///
/// # Examples
/// ```
/// use clothyard_mechanics::Quantity;
/// assert_eq!(Quantity::ArrowLength.name(), "arrow length");
/// assert_eq!(Quantity::ArrowLength.unit(), "m");
/// let (least, most) = Quantity::ArrowLength.range();
/// assert!(least < 0.7112 && 0.7112 < most); // 28 in
/// ```
#[non_exhaustive]
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Quantity {
    /// Distance between the supports of a spine rig, m; 0.1 to 2.
    Span,
    /// Weight hung on a spine rig, N; 0.1 to 1 000.
    SpineLoad,
    /// Deflection on a spine rig, m; 1e-4 to 0.5.
    Deflection,
    /// Bending stiffness EI of a shaft or beam, N m^2; 1e-3 to 1e5.
    BendingStiffness,
    /// Bending stiffness a part adds to the shaft, N m^2; 0 to 1e5.
    AddedStiffness,
    /// Young's modulus, Pa; 1e8 to 1e12.
    YoungModulus,
    /// Diameter of a tube, m; 0 to 0.1.
    Diameter,
    /// Length of a sleeve or plug, m; 1e-4 to 2.
    PartLength,
    /// Mass of one part, kg; 0 to 1.
    PartMass,
    /// Place of a part along the arrow, m; -1 to 3.
    Position,
    /// Nock throat to the front end of the shaft, m; 0.1 to 2.
    ArrowLength,
    /// Rear end of the shaft from the nock throat, m; 0 to 0.1.
    ShaftStart,
    /// Mass of the shaft per length, kg/m; 1e-4 to 1.
    MassPerLength,
    /// Mass of the whole arrow, kg; 1e-5 to 40.
    ArrowMass,
    /// Place of the rest from the nock throat, m; 0.01 to 2.
    RestPosition,
    /// Number of finite elements over the arrow's length; 2 to 64.
    Elements,
    /// Compression along a beam, N for each unit of the load factor; 0 to 1e12.
    AxialLoad,
    /// Acceleration along the arrow, m/s^2; 1e-9 to 1e12.
    Acceleration,
    /// Peak force of the bow, N; 1 to 2 000.
    PeakForce,
    /// Way of the string from brace to full draw, m; 0.01 to 1.5.
    Stroke,
    /// Brace height, string to pivot at rest, m; 0 to 0.5.
    BraceHeight,
    /// Draw length in the AMO/ATA convention, m; 0.1 to 1.5.
    DrawLength,
    /// Virtual mass of the bow, kg; 0 to 0.5.
    VirtualMass,
    /// Share of the stored energy that reaches neither arrow nor virtual mass; 0 to 0.9.
    Loss,
    /// Share of the stroke in which the force rises to its peak; 0 to 1.
    Rise,
    /// Share of the stroke in which the force falls into the valley; 0 to 1.
    Valley,
    /// Share of the peak force that is let off at full draw; 0 to 0.99.
    LetOff,
    /// Curvature of a recurve's or longbow's draw-force curve; -1 to 1.
    Curvature,
    /// Energy given to arrow and virtual mass, J; 1e-3 to 1e4.
    Energy,
    /// Speed of an arrow, m/s; 0.1 to 1 000.
    Speed,
    /// Energy of the bow a speed was read from over that of the bow asked about; 1e-3 to 1e3.
    EnergyRatio,
    /// Standard error of a logarithm; 1e-6 to 1e6.
    LogError,
    /// An end of the interval searched for a root; -1e12 to 1e12.
    SearchLimit,
    /// Width to which a root is wanted; 1e-15 to 1e12.
    Tolerance,
    /// Value of the function whose root is sought; -1e300 to 1e300.
    FunctionValue,
    /// Temperature of the air, K; 220 to 335.
    AirTemperature,
    /// Relative humidity of the air; 0 to 1.
    Humidity,
    /// Pressure of the air at the place itself, Pa; 30 000 to 120 000.
    AirPressure,
    /// Height above mean sea level, m; -1 000 to 9 000.
    Altitude,
    /// Density of the air, kg/m^3; 0.01 to 10.
    AirDensity,
    /// Dynamic viscosity of the air, Pa s; 1e-6 to 1e-3.
    AirViscosity,
    /// Number of vanes or blades; 0 to 12.
    PlateCount,
    /// Chord, height, sweep or thickness of a vane or blade, m; 0 to 0.3.
    PlateSize,
    /// Half the angle of a cone, rad; 0 to pi/2.
    HalfAngle,
    /// Share of the arrow, or of its flight, with a turbulent boundary layer; 0 to 1.
    TurbulentShare,
    /// Drag coefficient on the shaft's cross-section; 0.01 to 1 000.
    DragCoefficient,
    /// Measured drag over the drag built up from parts; 0.01 to 100.
    DragFactor,
    /// Way between two readings of an arrow's speed, m; 0 to 1 000.
    WayFlown,
    // Vanes, blades and how the arrow points in the air.
    /// Number of vanes or blades; 2 to 6.
    FinCount,
    /// Chord of a fin at its outer end, m; 0 to 2.
    TipChord,
    /// Height of a vane or blade above the shaft, m; 0 to 0.2.
    FinSpan,
    /// How far a fin's leading edge runs back, m; 0 to 2.
    Sweep,
    /// Radius of the shaft under the fins, m; 1e-4 to 0.05.
    BodyRadius,
    /// Diameter of the circle that a broadhead's blades cut, m; 0 to 0.2.
    BladeWidth,
    /// Angle of a vane to the shaft's axis, rad; -0.35 to 0.35.
    OffsetAngle,
    /// Angle between shaft and flight, rad; 0 to 0.35.
    YawAngle,
    /// Length of the point ahead of the shaft, m; 0 to 0.2.
    NoseLength,
    /// Moment of inertia across the arrow, about its balance point, kg m^2; 1e-9 to 100.
    TransverseInertia,
    /// Moment of inertia about the arrow's axis, kg m^2; 1e-12 to 1.
    AxialInertia,
    /// Drag over dynamic pressure, m^2; 0 to 0.1.
    DragArea,
    /// Balance point less centre of pressure, m; -3 to 3.
    StaticMargin,
    /// How many times as large a vane may become; 0.01 to 100.
    VaneGrowth,
    /// Acceleration of gravity, m/s^2; 0 to 30.
    Gravity,
    /// One component of the wind, m/s; -100 to 100.
    WindSpeed,
    /// Rise of the line of sight above level ground, rad; -1.2 to 1.2.
    Slope,
    /// Deceleration by drag over the square of airspeed, 1/m; 0 to 1.
    DragPerMetre,
    /// Error allowed in one step of a flight; 1e-13 to 1e-2.
    StepError,
    /// Launch angle above the line of sight, rad; -3 to 3.
    Elevation,
    /// Launch angle to the right of the line of sight, rad; -1.6 to 1.6.
    Azimuth,
    /// Place of the launch in one direction, m; -1 000 to 1 000.
    LaunchPlace,
    /// Way along the line of sight, m; -1 000 to 200 000.
    Distance,
    /// Time since launch, s; 0 to 120.
    FlightTime,
    /// Height over the line of sight, m; -1 000 to 100 000.
    SightHeight,
    /// Height of the peep or eye above the arrow, m; 0 to 0.5.
    PeepHeight,
    /// Way from the peep ahead to the pin, m; 0.05 to 2.
    SightRadius,
    /// Way from the peep ahead to where free flight begins, m; 0 to 2.
    LaunchAhead,
    /// Way from the peep to the target, m; 1 to 2 000.
    TargetDistance,
    /// Diameter of a ring or zone, m; 1e-4 to 20.
    ZoneDiameter,
    /// Height of the launch above the ground, m; 0 to 1 000.
    LaunchHeight,
    /// Number of readings; 1 to 1 000.
    Readings,
    /// Least step of an instrument, or the uncertainty of a reading, in the unit of what is read; 0 to 1e3.
    Resolution,
    /// String to pivot while the bow is drawn (true draw), m; 0 to 1.5.
    DrawPlace,
    /// Force read while the bow is drawn, N; 0 to 2 000.
    DrawForce,
    /// Number of shafts to choose from; 1 to 144.
    Shafts,
    /// Number of shafts wanted for a set; 1 to 144.
    SetSize,
    /// Cost of a spread, per unit of it; 0 to 1e12.
    SpreadCost,
    /// Change of the height of impact with speed, s, or with arrow mass, m/kg; -1e6 to 1e6.
    HeightSensitivity,
    /// Vertical spread of impacts, m; 0 to 1e3.
    HeightSpread,
    /// Share of the stroke after which the rest drops away; 0 to 1.
    RestShare,
    /// A shaft's own bow, m; 1e-7 to 0.05.
    ShaftBow,
    /// Sideways way of the nock at the loose, m; -0.05 to 0.05.
    LooseOffset,
    /// Way of the string in which the fingers push it aside, m; 1e-4 to 0.5.
    LooseTravel,
    /// Number of time steps; 20 to 100 000.
    Steps,
    /// Time since the loose, s; 0 to 10.
    Time,
    /// Bend over the shaft's own bow; 0 to 1e9.
    Magnification,
    /// Natural frequency, Hz; 1e-6 to 1e9.
    Frequency,
}

impl Quantity {
    /// The field's name for it, in lower case.
    #[must_use]
    pub const fn name(self) -> &'static str {
        self.facts().0
    }

    /// Its SI unit; empty for a ratio or a count.
    #[must_use]
    pub const fn unit(self) -> &'static str {
        self.facts().1
    }

    /// The least and the greatest allowed value, in [`Self::unit`].
    ///
    /// A relation between two inputs can narrow the range; the error then carries the narrower one.
    #[must_use]
    #[inline(always)]
    pub const fn range(self) -> (f64, f64) {
        let (_, _, minimum, maximum) = self.facts();
        (minimum, maximum)
    }

    #[inline(always)] // of a quantity known when compiled only its range is left
    const fn facts(self) -> (&'static str, &'static str, f64, f64) {
        match self {
            Self::Span => ("span", "m", 0.1, 2.0),
            Self::SpineLoad => ("spine load", "N", 0.1, 1_000.0),
            Self::Deflection => ("deflection", "m", 1e-4, 0.5),
            Self::BendingStiffness => ("bending stiffness", "N m^2", 1e-3, 1e5),
            Self::AddedStiffness => ("added bending stiffness", "N m^2", 0.0, 1e5),
            Self::YoungModulus => ("Young's modulus", "Pa", 1e8, 1e12),
            Self::Diameter => ("diameter", "m", 0.0, 0.1),
            Self::PartLength => ("part length", "m", 1e-4, 2.0),
            Self::PartMass => ("part mass", "kg", 0.0, 1.0),
            Self::Position => ("position", "m", -1.0, 3.0),
            Self::ArrowLength => ("arrow length", "m", 0.1, 2.0),
            Self::ShaftStart => ("start of the shaft", "m", 0.0, 0.1),
            Self::MassPerLength => ("mass per length", "kg/m", 1e-4, 1.0),
            Self::ArrowMass => ("arrow mass", "kg", 1e-5, 40.0),
            Self::RestPosition => ("rest position", "m", 0.01, 2.0),
            Self::Elements => ("number of elements", "", 2.0, 64.0),
            Self::AxialLoad => ("axial load", "N", 0.0, 1e12),
            Self::Acceleration => ("acceleration", "m/s^2", 1e-9, 1e12),
            Self::PeakForce => ("peak force", "N", 1.0, 2_000.0),
            Self::Stroke => ("stroke", "m", 0.01, 1.5),
            Self::BraceHeight => ("brace height", "m", 0.0, 0.5),
            Self::DrawLength => ("draw length", "m", 0.1, 1.5),
            Self::VirtualMass => ("virtual mass", "kg", 0.0, 0.5),
            Self::Loss => ("loss", "", 0.0, 0.9),
            Self::Rise => ("rise", "", 0.0, 1.0),
            Self::Valley => ("valley", "", 0.0, 1.0),
            Self::LetOff => ("let-off", "", 0.0, 0.99),
            Self::Curvature => ("curvature", "", -1.0, 1.0),
            Self::Energy => ("energy", "J", 1e-3, 1e4),
            Self::Speed => ("speed", "m/s", 0.1, 1_000.0),
            Self::EnergyRatio => ("energy ratio", "", 1e-3, 1e3),
            Self::LogError => ("standard error of a logarithm", "", 1e-6, 1e6),
            Self::SearchLimit => ("limit of the search", "", -1e12, 1e12),
            Self::Tolerance => ("tolerance", "", 1e-15, 1e12),
            Self::FunctionValue => ("value of the function", "", -1e300, 1e300),
            Self::AirTemperature => ("air temperature", "K", 220.0, 335.0),
            Self::Humidity => ("relative humidity", "", 0.0, 1.0),
            Self::AirPressure => ("air pressure", "Pa", 30_000.0, 120_000.0),
            Self::Altitude => ("altitude", "m", -1_000.0, 9_000.0),
            Self::AirDensity => ("air density", "kg/m^3", 0.01, 10.0),
            Self::AirViscosity => ("air viscosity", "Pa s", 1e-6, 1e-3),
            Self::PlateCount => ("number of vanes or blades", "", 0.0, 12.0),
            Self::PlateSize => ("size of a vane or blade", "m", 0.0, 0.3),
            Self::HalfAngle => ("half angle", "rad", 0.0, core::f64::consts::FRAC_PI_2),
            Self::TurbulentShare => ("turbulent share", "", 0.0, 1.0),
            Self::DragCoefficient => ("drag coefficient", "", 0.01, 1_000.0),
            Self::DragFactor => ("drag factor", "", 0.01, 100.0),
            Self::WayFlown => ("way flown", "m", 0.0, 1_000.0),
            Self::FinCount => ("number of vanes or blades", "", 2.0, 6.0),
            Self::TipChord => ("tip chord", "m", 0.0, 2.0),
            Self::FinSpan => ("height of vane or blade", "m", 0.0, 0.2),
            Self::Sweep => ("sweep", "m", 0.0, 2.0),
            Self::BodyRadius => ("radius under the fins", "m", 1e-4, 0.05),
            Self::BladeWidth => ("width over the blades", "m", 0.0, 0.2),
            Self::OffsetAngle => ("offset angle", "rad", -0.35, 0.35),
            Self::YawAngle => ("yaw angle", "rad", 0.0, 0.35),
            Self::NoseLength => ("length of the point", "m", 0.0, 0.2),
            Self::TransverseInertia => ("transverse inertia", "kg m^2", 1e-9, 100.0),
            Self::AxialInertia => ("axial inertia", "kg m^2", 1e-12, 1.0),
            Self::DragArea => ("drag area", "m^2", 0.0, 0.1),
            Self::StaticMargin => ("static margin", "m", -3.0, 3.0),
            Self::VaneGrowth => ("growth of the vanes", "", 0.01, 100.0),
            Self::Gravity => ("gravity", "m/s^2", 0.0, 30.0),
            Self::WindSpeed => ("wind", "m/s", -100.0, 100.0),
            Self::Slope => ("slope", "rad", -1.2, 1.2),
            Self::DragPerMetre => ("drag per metre", "1/m", 0.0, 1.0),
            Self::StepError => ("error of a step", "", 1e-13, 1e-2),
            Self::Elevation => ("elevation", "rad", -3.0, 3.0),
            Self::Azimuth => ("azimuth", "rad", -1.6, 1.6),
            Self::LaunchPlace => ("place of the launch", "m", -1_000.0, 1_000.0),
            Self::Distance => ("distance", "m", -1_000.0, 200_000.0),
            Self::FlightTime => ("time of flight", "s", 0.0, 120.0),
            Self::SightHeight => ("height over the line of sight", "m", -1_000.0, 100_000.0),
            Self::PeepHeight => ("height of the peep", "m", 0.0, 0.5),
            Self::SightRadius => ("sight radius", "m", 0.05, 2.0),
            Self::LaunchAhead => ("start of free flight", "m", 0.0, 2.0),
            Self::TargetDistance => ("distance of the target", "m", 1.0, 2_000.0),
            Self::ZoneDiameter => ("diameter of the zone", "m", 1e-4, 20.0),
            Self::LaunchHeight => ("height of the launch", "m", 0.0, 1_000.0),
            Self::Readings => ("number of readings", "", 1.0, 1_000.0),
            Self::Resolution => ("resolution", "", 0.0, 1e3),
            Self::DrawPlace => ("draw", "m", 0.0, 1.5),
            Self::DrawForce => ("draw force", "N", 0.0, 2_000.0),
            Self::Shafts => ("number of shafts", "", 1.0, 144.0),
            Self::SetSize => ("number of shafts wanted", "", 1.0, 144.0),
            Self::SpreadCost => ("cost of a spread", "", 0.0, 1e12),
            Self::HeightSensitivity => ("change of height", "", -1e6, 1e6),
            Self::HeightSpread => ("height spread", "m", 0.0, 1e3),
            Self::RestShare => ("share of the stroke on the rest", "", 0.0, 1.0),
            Self::ShaftBow => ("bow of the shaft", "m", 1e-7, 0.05),
            Self::LooseOffset => ("sideways way of the nock", "m", -0.05, 0.05),
            Self::LooseTravel => ("way of the string on the fingers", "m", 1e-4, 0.5),
            Self::Steps => ("number of time steps", "", 20.0, 100_000.0),
            Self::Time => ("time since the loose", "s", 0.0, 10.0),
            Self::Magnification => ("magnification", "", 0.0, 1e9),
            Self::Frequency => ("natural frequency", "Hz", 1e-6, 1e9),
        }
    }

    /// `value` when it lies in the table's range.
    #[inline(always)]
    pub(crate) fn check(self, value: f64) -> Result<f64> {
        let (minimum, maximum) = self.range();
        self.check_within(value, minimum, maximum)
    }

    /// `value` when it lies between the given limits; NaN lies nowhere.
    pub(crate) fn check_within(self, value: f64, minimum: f64, maximum: f64) -> Result<f64> {
        if value >= minimum && value <= maximum {
            Ok(value)
        } else {
            Err(Error::OutOfRange { quantity: self, value, minimum, maximum })
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::string::ToString;

    #[test]
    fn a_refusal_reads_as_a_sentence_with_its_range() {
        let refused = Quantity::Span.check(3.0).unwrap_err();
        assert_eq!(refused.to_string(), "span is 3, allowed is 0.1 to 2 m");
        let refused = Quantity::Loss.check(1.0).unwrap_err();
        assert_eq!(refused.to_string(), "loss is 1, allowed is 0 to 0.9");
        let repeated = Error::Repeated { quantity: Quantity::DrawPlace, value: 0.5 };
        assert_eq!(repeated.to_string(), "two readings have the draw 0.5 m");
    }

    #[test]
    fn ends_of_the_range_are_allowed_and_nothing_beyond() {
        assert_eq!(Quantity::Loss.check(0.9), Ok(0.9));
        for value in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, -f64::MIN_POSITIVE] {
            assert!(Quantity::Loss.check(value).is_err(), "{value}");
        }
    }

    #[test]
    fn what_may_lie_to_either_side_of_nothing_is_allowed_there() {
        use Quantity::*;
        for quantity in [
            Position,
            Curvature,
            SearchLimit,
            FunctionValue,
            Altitude,
            OffsetAngle,
            StaticMargin,
            WindSpeed,
            Slope,
            Elevation,
            Azimuth,
            LaunchPlace,
            Distance,
            SightHeight,
            HeightSensitivity,
            LooseOffset,
        ] {
            for value in [0.0, 0.01, -0.01] {
                assert_eq!(quantity.check(value), Ok(value), "{quantity:?}");
            }
        }
    }
}
