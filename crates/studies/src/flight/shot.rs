//! One arrow, the air and the archer.
//!
//! Where the fields do not say, sizes are taken as usual and said so here: a vane half a millimeter thick, a
//! blade a millimeter (from memory, low confidence).

use super::says;
use clothyard_core::eval::Evaluation;
use clothyard_core::schema::{Field, List, Output, PointKind, ShaftFlow, VaneMaterial};
use clothyard_core::setup::Resolved;
use clothyard_core::setup::{ModelError, PhysicalModel, blades, tip_m, vanes};
use clothyard_core::units::Units;
use clothyard_mechanics::flight::{
    Accuracy, Air, Archer, Conditions, Downrange, Drag, DragParts, DragShape, Edge, Flight, Plates, Sight, Vanes,
};
use clothyard_mechanics::units::METER_PER_YARD;
use core::f64::consts::PI;

const VANE_THICKNESS_M: f64 = 0.0005;
const BLADE_THICKNESS_M: f64 = 0.001;

/// How many smooth vanes of its size a feather counts as in the drag: it is rough, thick at its quill and gives in the
/// wind (memory, low confidence: 1.5 to 3; no measurement was found to read).
const VANES_FOR_A_FEATHER: u32 = 2;

/// Distances looked at while the user has given none, in yards.
const USUAL_DISTANCES_YD: [f64; 6] = [10.0, 20.0, 30.0, 40.0, 50.0, 60.0];

/// Error of one step of a path: an arrow at 100 m to within a hundredth of a millimeter.
pub(super) const ACCURACY: Accuracy = Accuracy { relative: 1e-8, absolute: 1e-8 };

/// The answer of a flight, or why there is none.
pub type Answer<T> = Result<T, FlightError>;

/// Why a flight has no answer.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum FlightError {
    /// Bow and arrow have no launch speed yet: their own cautions say why.
    NoLaunch,
    /// The speed measured downrange is no speed this arrow can have there.
    Downrange,
    /// Off the fingers the shaft still rubs the rest as the string lets go: the simulation does not hold.
    RubsAtExit,
    /// The mechanics refused a value, or the arrow does not come so far.
    Mechanics(clothyard_mechanics::Error),
}

impl From<clothyard_mechanics::Error> for FlightError {
    fn from(error: clothyard_mechanics::Error) -> Self {
        Self::Mechanics(error)
    }
}

impl From<ModelError> for FlightError {
    fn from(error: ModelError) -> Self {
        match error {
            ModelError::Mechanics(error) => Self::Mechanics(error),
            _ => Self::NoLaunch,
        }
    }
}

impl FlightError {
    /// In a sentence.
    #[must_use]
    pub fn sentence(&self) -> &'static str {
        use clothyard_mechanics::Error::{NotReached, OutOfRange};
        use clothyard_mechanics::Parameter::{RestAside, TargetDistance};
        match self {
            Self::NoLaunch => "No launch speed can be calculated. See the warnings.",
            Self::Downrange => {
                "The downrange speed does not fit the launch speed. It must be lower, by what an arrow can lose over that distance."
            }
            Self::RubsAtExit => {
                "The simulated shaft still rubs the rest as the string lets go. High-speed film does not show that of arrows that fly well, so there is no picture."
            }
            Self::Mechanics(OutOfRange { parameter: RestAside, .. }) => {
                "Finger release is simulated up to 0.2 in (5 mm) from the string's line to the shaft at the rest. Farther out the simulated shaft rubs the shelf to the end, which high-speed film does not show. If yours is closer, enter it as rest from center."
            }
            Self::Mechanics(OutOfRange { parameter: TargetDistance, .. }) => "Too close to aim.",
            Self::Mechanics(NotReached { .. }) => "Out of range.",
            Self::Mechanics(_) => "The flight of this arrow cannot be calculated: a part is too large or too small.",
        }
    }
}

/// An arrow, its air and its archer.
#[derive(Clone, Copy, Debug)]
pub struct Shot {
    /// The air.
    pub air: Air,
    /// The arrow's drag.
    pub drag: Drag,
    /// What the drag is built up from.
    pub shape: DragShape,
    /// Whether a measured downrange speed replaces the calculated drag.
    pub drag_measured: bool,
    /// The arrow's mass.
    pub mass_kg: f64,
    /// Its launch speed.
    pub speed_m_per_s: f64,
    /// How far off that may be, either way.
    pub speed_spread_m_per_s: f64,
    /// Gravity, slope and wind.
    pub conditions: Conditions,
    /// Eye and sight.
    pub sight: Sight,
    /// Distance for which the sight is set.
    pub sighted_m: f64,
    /// Diameter of the ring or zone.
    pub zone_m: f64,
    /// Height of the arrow at the loose.
    pub launch_height_m: f64,
    /// Nock groove to the tip of the point.
    pub tip_m: f64,
}

impl Shot {
    /// The shot of a setup.
    ///
    /// # Errors
    /// [`FlightError`].
    pub fn of(all: &Evaluation) -> Answer<Self> {
        let (resolved, model) = (&all.resolved, all.model.as_ref().ok_or(FlightError::NoLaunch)?);
        let speed = all.outputs.get(Output::LaunchSpeed).ok_or(FlightError::NoLaunch)?;
        let speed_m_per_s = Output::LaunchSpeed.row().quantity.to_si(speed);
        let spread = all.outputs.get(Output::SpeedSpread).unwrap_or(0.0);
        let mass_kg = model.arrow()?.mass_kg();
        let (air, shape) = (air(resolved)?, drag_shape(resolved, model, vanes(resolved)));
        let built_up = Drag::built_up(&shape)?;
        let reading = downrange(resolved, speed_m_per_s, mass_kg);
        let drag = match reading {
            Some(reading) => built_up.measured(&reading, &air).map_err(|_| FlightError::Downrange)?,
            None => built_up,
        };
        Ok(Self {
            air,
            drag,
            shape,
            drag_measured: reading.is_some(),
            mass_kg,
            speed_m_per_s,
            speed_spread_m_per_s: Output::SpeedSpread.row().quantity.to_si(spread),
            conditions: conditions(resolved),
            sight: Sight {
                peep_height_m: resolved.si(Field::EyeHeight),
                sight_radius_m: resolved.si(Field::SightRadius),
                launch_ahead_m: model.bow.stroke_m,
            },
            sighted_m: resolved.si(Field::SightedAt),
            zone_m: resolved.si(Field::Zone),
            launch_height_m: resolved.si(Field::LaunchHeight),
            tip_m: tip_m(resolved, model),
        })
    }

    /// The same shot on level ground, for which sights are marked.
    #[must_use]
    pub fn level(&self) -> Self {
        Self { conditions: Conditions { slope_rad: 0.0, ..self.conditions }, ..*self }
    }

    /// How far below the arrow's own line the pin is that hits at a distance, in meters; none where the arrow does not
    /// come there.
    #[must_use]
    pub fn pin_below_m(&self, distance_m: f64) -> Option<f64> {
        let aim = self.archer(|archer| archer.aim(distance_m)).ok()?;
        Some(-self.sight.pin_height_m(aim.elevation_rad))
    }

    /// Asks the archer of this shot.
    ///
    /// # Errors
    /// What is asked, and a speed or sight out of range.
    pub fn archer<T>(
        &self,
        ask: impl FnOnce(&Archer<'_>) -> clothyard_mechanics::Result<T>,
    ) -> clothyard_mechanics::Result<T> {
        let drag = |airspeed: f64| self.slowing_per_m(airspeed);
        let flight = Flight::new(&drag, self.conditions, ACCURACY)?;
        ask(&Archer::new(flight, self.sight, self.speed_m_per_s)?)
    }

    /// The share of its airspeed the arrow loses in a meter.
    #[must_use]
    pub fn slowing_per_m(&self, airspeed_m_per_s: f64) -> f64 {
        let area = PI * self.shape.diameter_m * self.shape.diameter_m / 4.0;
        let coefficient = self.drag.coefficient(airspeed_m_per_s, &self.air);
        self.air.density_kg_per_m3 * coefficient * area / (2.0 * self.mass_kg)
    }

    /// The distance at which the arrow strikes where its own point is laid on the mark; none where it never rises so
    /// high.
    #[must_use]
    pub fn point_on_m(&self) -> Option<f64> {
        self.archer(|archer| archer.point_on(self.tip_m)).ok().map(|moment| moment.distance_m)
    }

    /// Drag at launch over dynamic pressure, in square meters.
    #[must_use]
    pub fn drag_area_m2(&self) -> f64 {
        self.coefficient() * PI * self.shape.diameter_m * self.shape.diameter_m / 4.0
    }

    /// The drag coefficient at launch, as used.
    #[must_use]
    pub fn coefficient(&self) -> f64 {
        self.drag.coefficient(self.speed_m_per_s, &self.air)
    }

    /// What the coefficient built up at launch consists of.
    ///
    /// # Errors
    /// [`FlightError::Mechanics`].
    pub fn drag_parts(&self) -> Answer<DragParts> {
        Ok(self.shape.parts(self.speed_m_per_s, &self.air)?)
    }
}

/// Why nothing is shown while the sight is set for a distance the arrow does not come to.
#[must_use]
pub fn unsighted(shot: &Shot, error: &FlightError, units: &Units) -> String {
    format!("Sighted in at {}. {}", says::distance(shot.sighted_m, units), error.sentence())
}

/// The distances looked at, in meters and in rising order: the user's, or the usual ones.
#[must_use]
pub fn distances_m(setup: &clothyard_core::setup::Setup) -> Vec<f64> {
    let mut list = Vec::new();
    let mut put = |yards: f64| {
        let at = list.partition_point(|&other| other < yards);
        if list.get(at).is_none_or(|&other| other > yards) {
            list.insert(at, yards);
        }
    };
    setup.lists.first_numbers(List::Distances).for_each(&mut put);
    if list.is_empty() {
        list.extend(USUAL_DISTANCES_YD);
    }
    list.iter().map(|yards| yards * METER_PER_YARD).collect()
}

fn air(resolved: &Resolved) -> Answer<Air> {
    let (temperature, humidity) = (resolved.si(Field::AirTemperature), resolved.si(Field::Humidity));
    Ok(match resolved.given(Field::StationPressure) {
        Some(_) => Air::moist(temperature, humidity, resolved.si(Field::StationPressure))?,
        None => Air::at_altitude(temperature, humidity, resolved.si(Field::SiteAltitude))?,
    })
}

/// Wind as on a clock: from the target it comes against the arrow, from the right it blows to the left.
fn conditions(resolved: &Resolved) -> Conditions {
    let (wind, from) = (resolved.si(Field::Wind), resolved.si(Field::WindFrom));
    Conditions { slope_rad: resolved.si(Field::Slope), ..Conditions::default() }.with_wind_from(wind, from)
}

fn downrange(resolved: &Resolved, launch_m_per_s: f64, mass_kg: f64) -> Option<Downrange> {
    resolved.given(Field::FarSpeed).and(resolved.given(Field::FarDistance))?;
    Some(Downrange {
        launch_m_per_s,
        downrange_m_per_s: resolved.si(Field::FarSpeed),
        distance_m: resolved.si(Field::FarDistance),
        mass_kg,
    })
}

/// Whether the vanes are feathers.
pub(super) fn is_feathered(resolved: &Resolved) -> bool {
    resolved.choice::<VaneMaterial>() == VaneMaterial::Feather
}

/// What decides an arrow's drag, with these vanes.
pub(super) fn drag_shape(resolved: &Resolved, model: &PhysicalModel, vanes: Option<Vanes>) -> DragShape {
    let diameter_m = resolved.si(Field::OuterDiameter);
    let plates = vanes.and_then(|vanes| vanes.fins(diameter_m / 2.0).ok()).map_or(Plates::NONE, |fins| Plates {
        count: if is_feathered(resolved) { VANES_FOR_A_FEATHER * fins.count } else { fins.count },
        root_chord_m: fins.root_chord_m,
        tip_chord_m: fins.tip_chord_m,
        height_m: fins.span_m,
        sweep_m: fins.sweep_m,
        thickness_m: VANE_THICKNESS_M,
        leading_edge: Edge::Square,
    });
    let blades = blades(resolved, model).map_or(Plates::NONE, |blades| {
        let blade_height_m = ((blades.width_m - diameter_m) / 2.0).max(0.0);
        let folded = resolved.choice::<PointKind>() == PointKind::FoldingBlade;
        let make = if folded { Plates::folded_blades } else { Plates::blades };
        make(blades.count, blades.length_m, blade_height_m, BLADE_THICKNESS_M)
    });
    DragShape {
        diameter_m,
        length_m: tip_m(resolved, model),
        boundary_layer: resolved.choice::<ShaftFlow>().boundary_layer(),
        vanes: plates,
        point_half_angle_rad: 0.0,
        blades,
    }
}
