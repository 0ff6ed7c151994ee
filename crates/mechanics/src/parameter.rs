//! Every checked input: its name, its unit and the range it may take, one row each.
//!
//! The ranges are wide: they keep arithmetic finite and catch a wrong unit, and leave what is sensible
//! for an arrow or a bow to the caller.

use core::f64::consts::FRAC_PI_2;

/// Declares [`Parameter`] and its facts from one row each: documentation, name, unit, range.
macro_rules! parameters {
    ($($(#[doc = $doc:literal])+ $variant:ident: $name:literal, $unit:literal, $minimum:expr, $maximum:expr;)+) => {
        /// A physical quantity that a calculation checks, with its unit and the range it may take.
        ///
        /// NaN is in none of the ranges. Where documentation names an argument or a field without its
        /// range, the range is the one here.
        ///
        /// # Examples
        /// ```
        /// use clothyard_mechanics::Parameter;
        /// assert_eq!(Parameter::ArrowLength.name(), "arrow length");
        /// assert_eq!(Parameter::ArrowLength.unit(), "m");
        /// let (minimum, maximum) = Parameter::ArrowLength.range();
        /// assert!(minimum < 0.7112 && 0.7112 < maximum); // 28 in
        /// ```
        #[non_exhaustive]
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
        pub enum Parameter {
            $(
                $(#[doc = $doc])+
                ///
                #[doc = concat!("Range: ", stringify!($minimum), " to ", stringify!($maximum), " ", $unit)]
                $variant,
            )+
        }

        impl Parameter {
            #[inline(always)] // of a parameter known at compile time only its range remains
            const fn facts(self) -> (&'static str, &'static str, f64, f64) {
                match self {
                    $(Self::$variant => ($name, $unit, $minimum, $maximum),)+
                }
            }
        }
    };
}

parameters! {
    /// Distance between the supports of a spine rig.
    Span: "span", "m", 0.1, 2.0;
    /// Weight hung on a spine rig.
    SpineLoad: "spine load", "N", 0.1, 1_000.0;
    /// Deflection on a spine rig.
    Deflection: "deflection", "m", 1e-4, 0.5;
    /// Bending stiffness EI of a shaft or beam.
    BendingStiffness: "bending stiffness", "N m^2", 1e-3, 1e5;
    /// Bending stiffness a part adds to the shaft.
    AddedStiffness: "added bending stiffness", "N m^2", 0.0, 1e5;
    /// Young's modulus.
    YoungModulus: "Young's modulus", "Pa", 1e8, 1e12;
    /// Diameter of a tube.
    Diameter: "diameter", "m", 0.0, 0.1;
    /// Length of a sleeve or plug.
    PartLength: "part length", "m", 1e-4, 2.0;
    /// Mass of one part.
    PartMass: "part mass", "kg", 0.0, 1.0;
    /// Position of a part along the arrow.
    Position: "position", "m", -1.0, 3.0;
    /// Nock groove to the front end of the shaft.
    ArrowLength: "arrow length", "m", 0.1, 2.0;
    /// Rear end of the shaft from the nock groove.
    ShaftStart: "start of the shaft", "m", 0.0, 0.1;
    /// Mass of the shaft per length.
    MassPerLength: "mass per length", "kg/m", 1e-4, 1.0;
    /// Mass of the whole arrow.
    ArrowMass: "arrow mass", "kg", 1e-5, 40.0;
    /// Position of the rest from the nock groove.
    RestPosition: "rest position", "m", 0.01, 2.0;
    /// Number of finite elements over the arrow's length.
    Elements: "number of elements", "", 2.0, 64.0;
    /// Compression along a beam for a load factor of 1.
    AxialLoad: "axial load", "N", 0.0, 1e12;
    /// Acceleration along the arrow.
    Acceleration: "acceleration", "m/s^2", 1e-9, 1e12;
    /// Peak force of the bow.
    PeakForce: "peak force", "N", 1.0, 2_000.0;
    /// Distance the string travels from brace to full draw.
    Stroke: "stroke", "m", 0.01, 1.5;
    /// Brace height, string to pivot at rest.
    BraceHeight: "brace height", "m", 0.0, 0.5;
    /// Draw length in the AMO/ATA convention.
    DrawLength: "draw length", "m", 0.1, 1.5;
    /// Virtual mass of the bow.
    VirtualMass: "virtual mass", "kg", 0.0, 0.5;
    /// Share of the stored energy that reaches neither arrow nor virtual mass.
    Loss: "loss", "", 0.0, 0.9;
    /// Share of the stroke in which the force rises to its peak.
    Rise: "rise", "", 0.0, 1.0;
    /// Share of the stroke in which the force falls into the valley.
    Valley: "valley", "", 0.0, 1.0;
    /// Share of the peak force by which the force drops at full draw.
    LetOff: "let-off", "", 0.0, 0.99;
    /// Curvature of a recurve's or longbow's draw-force curve.
    Curvature: "curvature", "", -1.0, 1.0;
    /// Energy given to arrow and virtual mass.
    Energy: "energy", "J", 1e-3, 1e4;
    /// Speed of an arrow.
    Speed: "speed", "m/s", 0.1, 1_000.0;
    /// Energy of the bow a speed was read from over that of the bow in question.
    EnergyRatio: "energy ratio", "", 1e-3, 1e3;
    /// Standard error of a logarithm.
    LogError: "standard error of a logarithm", "", 1e-6, 1e6;
    /// An end of the interval searched for a root.
    SearchLimit: "limit of the search", "", -1e12, 1e12;
    /// Width to which a root is requested.
    Tolerance: "tolerance", "", 1e-15, 1e12;
    /// Value of the function whose root is sought.
    FunctionValue: "value of the function", "", -1e300, 1e300;
    /// Temperature of the air.
    AirTemperature: "air temperature", "K", 220.0, 335.0;
    /// Relative humidity of the air.
    Humidity: "relative humidity", "", 0.0, 1.0;
    /// Pressure of the air at the location itself.
    AirPressure: "air pressure", "Pa", 30_000.0, 120_000.0;
    /// Height above mean sea level.
    Altitude: "altitude", "m", -1_000.0, 9_000.0;
    /// Density of the air.
    AirDensity: "air density", "kg/m^3", 0.01, 10.0;
    /// Dynamic viscosity of the air.
    AirViscosity: "air viscosity", "Pa s", 1e-6, 1e-3;
    /// Number of vanes or blades.
    PlateCount: "number of vanes or blades", "", 0.0, 12.0;
    /// Chord, height, sweep or thickness of a vane or blade.
    PlateSize: "size of a vane or blade", "m", 0.0, 0.3;
    /// Half the angle of a cone.
    HalfAngle: "half angle", "rad", 0.0, FRAC_PI_2;
    /// Share of the arrow, or of its flight, with a turbulent boundary layer.
    TurbulentShare: "turbulent share", "", 0.0, 1.0;
    /// Drag coefficient on the shaft's cross-section.
    DragCoefficient: "drag coefficient", "", 0.01, 1_000.0;
    /// Measured drag over the drag built up from parts.
    DragFactor: "drag factor", "", 0.01, 100.0;
    /// Distance between two readings of an arrow's speed.
    DistanceFlown: "way flown", "m", 0.0, 1_000.0;
    /// Number of vanes or blades.
    FinCount: "number of vanes or blades", "", 2.0, 6.0;
    /// Chord of a fin at its outer end.
    TipChord: "tip chord", "m", 0.0, 2.0;
    /// Height of a vane or blade above the shaft.
    FinSpan: "height of vane or blade", "m", 0.0, 0.2;
    /// Distance a fin's leading edge runs back from root to tip.
    Sweep: "sweep", "m", 0.0, 2.0;
    /// Radius of the shaft under the fins.
    BodyRadius: "radius under the fins", "m", 1e-4, 0.05;
    /// Diameter of the circle that a broadhead's blades cut.
    BladeWidth: "width over the blades", "m", 0.0, 0.2;
    /// Angle of a vane to the shaft's axis.
    OffsetAngle: "offset angle", "rad", -0.35, 0.35;
    /// Angle between shaft and flight.
    YawAngle: "yaw angle", "rad", 0.0, 0.35;
    /// Length of the point ahead of the shaft.
    NoseLength: "length of the point", "m", 0.0, 0.2;
    /// Moment of inertia across the arrow, about its balance point.
    TransverseInertia: "transverse inertia", "kg m^2", 1e-9, 100.0;
    /// Moment of inertia about the arrow's axis.
    AxialInertia: "axial inertia", "kg m^2", 1e-12, 1.0;
    /// Drag over dynamic pressure.
    DragArea: "drag area", "m^2", 0.0, 0.1;
    /// Balance point less center of pressure.
    StaticMargin: "static margin", "m", -3.0, 3.0;
    /// Factor by which a vane may grow.
    VaneGrowth: "growth of the vanes", "", 0.01, 100.0;
    /// Acceleration of gravity.
    Gravity: "gravity", "m/s^2", 0.0, 30.0;
    /// One component of the wind.
    WindSpeed: "wind", "m/s", -100.0, 100.0;
    /// Rise of the line of sight above level ground.
    Slope: "slope", "rad", -1.2, 1.2;
    /// Deceleration by drag over the square of airspeed.
    DragPerMeter: "drag per meter", "1/m", 0.0, 1.0;
    /// Error allowed in one step of a flight.
    StepError: "error of a step", "", 1e-13, 1e-2;
    /// Launch angle above the line of sight.
    Elevation: "elevation", "rad", -3.0, 3.0;
    /// Launch angle to the right of the line of sight.
    Azimuth: "azimuth", "rad", -1.6, 1.6;
    /// Position of the launch in one direction.
    LaunchPlace: "place of the launch", "m", -1_000.0, 1_000.0;
    /// Distance along the line of sight.
    Distance: "distance", "m", -1_000.0, 200_000.0;
    /// Time since launch.
    FlightTime: "time of flight", "s", 0.0, 120.0;
    /// Height over the line of sight.
    SightHeight: "height over the line of sight", "m", -1_000.0, 100_000.0;
    /// Height of the peep or eye above the arrow.
    PeepHeight: "height of the peep", "m", 0.0, 0.5;
    /// Distance from the peep ahead to the pin.
    SightRadius: "sight radius", "m", 0.05, 2.0;
    /// Distance from the peep ahead to where free flight begins.
    LaunchAhead: "start of free flight", "m", 0.0, 2.0;
    /// Distance from the peep to the target.
    TargetDistance: "distance of the target", "m", 1.0, 2_000.0;
    /// Diameter of a ring or zone.
    ZoneDiameter: "diameter of the zone", "m", 1e-4, 20.0;
    /// Height of the launch above the ground.
    LaunchHeight: "height of the launch", "m", 0.0, 1_000.0;
    /// Number of readings.
    Readings: "number of readings", "", 1.0, 1_000.0;
    /// Step of an instrument, or the uncertainty of a reading, in the unit of the reading.
    Resolution: "resolution", "", 0.0, 1e3;
    /// String to pivot while the bow is drawn (true draw).
    DrawPlace: "draw", "m", 0.0, 1.5;
    /// Force read while the bow is drawn.
    DrawForce: "draw force", "N", 0.0, 2_000.0;
    /// Number of shafts to choose from.
    Shafts: "number of shafts", "", 1.0, 144.0;
    /// Number of shafts wanted for a set.
    SetSize: "number of shafts wanted", "", 1.0, 144.0;
    /// Cost of a spread, per unit of it.
    SpreadCost: "cost of a spread", "", 0.0, 1e12;
    /// Change of the height of impact with speed (s) or with arrow mass (m/kg).
    HeightSensitivity: "change of height", "", -1e6, 1e6;
    /// Vertical spread of impacts.
    HeightSpread: "height spread", "m", 0.0, 1e3;
    /// Share of the stroke after which the rest drops away.
    RestShare: "share of the stroke on the rest", "", 0.0, 1.0;
    /// A shaft's own crookedness, its greatest departure from straight.
    ShaftBow: "bow of the shaft", "m", 1e-7, 0.05;
    /// Sideways displacement of the nock by the fingertips.
    ReleaseOffset: "sideways displacement of the nock", "m", -0.05, 0.05;
    /// String travel over which the fingertips lead the nock aside.
    ReleaseTravel: "string travel on the fingers", "m", 1e-4, 0.5;
    /// Mass of the string that moves sideways with the nock.
    StringSideMass: "sideways mass of the string", "kg", 0.0, 0.1;
    /// Stiffness of a button or shelf.
    RestStiffness: "stiffness of the rest", "N/m", 1.0, 1e6;
    /// Button or shelf from the string's plane; farther the model does not hold.
    RestAside: "distance of the rest from center", "m", -0.005_08, 0.005_08;
    /// Number of time steps.
    Steps: "number of time steps", "", 20.0, 100_000.0;
    /// Time since the release.
    Time: "time since the release", "s", 0.0, 10.0;
    /// Greatest bend over the shaft's own bow.
    Magnification: "magnification", "", 0.0, 1e9;
    /// Natural frequency.
    Frequency: "natural frequency", "Hz", 1e-6, 1e9;
}

impl Parameter {
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

    /// The minimum and the maximum allowed value, in [`Self::unit`].
    ///
    /// A relation between two inputs can narrow the range; the error then carries the narrower one.
    #[must_use]
    #[inline(always)]
    pub const fn range(self) -> (f64, f64) {
        let (_, _, minimum, maximum) = self.facts();
        (minimum, maximum)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ends_of_the_range_are_allowed_and_nothing_beyond() {
        assert_eq!(Parameter::Loss.check(0.9), Ok(0.9));
        for value in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, -f64::MIN_POSITIVE] {
            assert!(Parameter::Loss.check(value).is_err(), "{value}");
        }
    }

    #[test]
    fn what_may_be_to_either_side_of_nothing_is_allowed_there() {
        use Parameter::*;
        for parameter in [
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
            ReleaseOffset,
            RestAside,
        ] {
            for value in [0.0, 0.004, -0.004] {
                assert_eq!(parameter.check(value), Ok(value), "{parameter:?}");
            }
        }
    }
}
