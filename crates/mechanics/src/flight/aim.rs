//! The launch angles at which an arrow reaches a point on the line of sight.

use core::f64::consts::FRAC_PI_2;

use super::path::Flight;
use super::point::TrajectoryPoint;
use crate::error::{Error, Result};
use crate::math::{atan2, clamp, cos, sin, tan};
use crate::parameter::Parameter;
use crate::solve::{Solution, find_root};

/// Tolerance of an aim, rad: a nanometer at 100 m.
const ANGLE_TOLERANCE_RAD: f64 = 1e-11;

/// Positions of peep, pin and arrow at full draw.
///
/// The line of sight starts at the peep and is the x axis of [`Flight`]. The arrow is a peep height `h` (m)
/// below the peep, raised by the elevation `e` (rad); both rotate about the peep:
///
/// ```text
///   peep o------------------o pin ------------------> line of sight, x
///        |   (elevation is the angle between the two lines)
///   nock o======================>  arrow
///
/// launch   (h sin e + a cos e, a sin e - h cos e)      a the distance ahead of the peep where free flight begins
/// pin      h - R tan e  over the arrow                 R the sight radius, peep to pin
/// ```
///
/// # Examples
/// ```
/// use clothyard_mechanics::flight::Sight;
/// let sight = Sight { peep_height_m: 0.11, sight_radius_m: 0.85, launch_ahead_m: 0.0 };
/// // Level, the pin is as high as the peep; each 0.01 of elevation lowers it by 8.5 mm.
/// assert_eq!(sight.pin_height_m(0.0), 0.11);
/// assert!((sight.pin_height_m(f64::atan(0.01)) - (0.11 - 0.0085)).abs() < 1e-15);
/// // Looking over the pin returns the elevation.
/// assert!((sight.elevation_over_rad(0.85, sight.pin_height_m(0.03)) - 0.03).abs() < 1e-15);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sight {
    /// Height of the peep (or the eye) above the arrow, at the string, m; 0 to 0.5.
    pub peep_height_m: f64,
    /// Distance of the pin ahead of the peep, along the arrow, m; 0.05 to 2.
    pub sight_radius_m: f64,
    /// Distance ahead of the peep where free flight begins, m; 0 to 2. The arrow leaves the string a stroke ahead of
    /// full draw; 0 neglects it.
    pub launch_ahead_m: f64,
}

impl Sight {
    /// Height of the pin over the line of the arrow (m), perpendicular to it, for an elevation (rad): `h - R tan e`.
    #[must_use]
    pub fn pin_height_m(&self, elevation_rad: f64) -> f64 {
        self.peep_height_m - self.sight_radius_m * tan(elevation_rad)
    }

    /// Elevation (rad) of the arrow when the archer looks from the peep over a mark on the bow that is `ahead_m`
    /// ahead of the peep and `height_m` over the line of the arrow.
    #[must_use]
    pub fn elevation_over_rad(&self, ahead_m: f64, height_m: f64) -> f64 {
        atan2(self.peep_height_m - height_m, ahead_m)
    }

    fn check(&self) -> Result<()> {
        Parameter::PeepHeight.check(self.peep_height_m)?;
        Parameter::SightRadius.check(self.sight_radius_m)?;
        Parameter::LaunchAhead.check(self.launch_ahead_m).map(drop)
    }

    fn launch(&self, speed_m_per_s: f64, elevation_rad: f64, azimuth_rad: f64) -> Result<TrajectoryPoint> {
        let (below, ahead) = (self.peep_height_m, self.launch_ahead_m);
        let (sin_up, cos_up) = (sin(elevation_rad), cos(elevation_rad));
        let (level, height) = (below * sin_up + ahead * cos_up, ahead * sin_up - below * cos_up);
        let place = [level * cos(azimuth_rad), height, level * sin(azimuth_rad)];
        TrajectoryPoint::launch(place, speed_m_per_s, elevation_rad, azimuth_rad)
    }
}

/// Launch angles for a target: the result of [`Archer::aim`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Aim {
    /// Angle of the arrow above the line of sight, rad.
    pub elevation_rad: f64,
    /// Angle of the arrow to the right of the line of sight, rad.
    pub azimuth_rad: f64,
    /// The launch.
    pub launch: TrajectoryPoint,
    /// The arrow at the target distance.
    pub arrival: TrajectoryPoint,
}

/// An archer: how the arrow flies, its launch speed, and the sight.
///
/// The elevation is the root of the height over the line of sight at the target distance, found to 1e-11 rad,
/// a nanometer at 100 m; of two such trajectories the lower is taken. The arrow is assumed to leave along its
/// own axis at the stated speed, whatever the elevation. The methods that read sight marks, windows and drift
/// are listed here too. With `R` the sight radius (m), `e` the elevation (rad), `X` the distance (m) and `t`
/// the time to it (s):
///
/// ```text
/// mark      R (tan e - tan e_reference)                 m down a bar perpendicular to the arrow
/// window    where the height is within the zone's radius of the line of sight
/// drift     the trajectory with the wind less the one without; close to W (t - X / v0), the lag rule
/// ```
///
/// Heights are perpendicular to the line of sight, on slopes too.
///
/// # Examples
/// Without air, and with the arrow at the eye, the range formula of the textbooks, `sin 2e = g X / v^2`:
/// ```
/// use clothyard_mechanics::flight::{Accuracy, Archer, Conditions, Flight, Sight};
/// let vacuum = Flight::new(&|_airspeed| 0.0, Conditions::default(), Accuracy::default())?;
/// let sight = Sight { peep_height_m: 0.0, sight_radius_m: 0.85, launch_ahead_m: 0.0 };
/// let archer = Archer::new(vacuum, sight, 85.0)?;
/// let elevation = |x: f64| 0.5 * f64::asin(9.80665 * x / (85.0 * 85.0));
/// let aim = archer.aim(50.0)?;
/// assert!((aim.elevation_rad - elevation(50.0)).abs() < 1e-11);
/// // The mark for 50 m is below that for 20 m, in proportion to the sight radius.
/// let gap = 0.85 * (f64::tan(elevation(50.0)) - f64::tan(elevation(20.0)));
/// assert!((archer.mark_m(50.0, 20.0)? - gap).abs() < 1e-11);
/// // The inverse: that pin is on at 50 m.
/// assert!((archer.pin_on(sight.pin_height_m(aim.elevation_rad))?.distance_m - 50.0).abs() < 1e-9);
/// // Highest half-way, a quarter of X tan e.
/// let top_m = 50.0 * f64::tan(elevation(50.0)) / 4.0;
/// assert!((archer.highest(50.0)?.height_m - top_m).abs() < 1e-11);
/// assert_eq!(archer.highest_on(&aim)?, archer.highest(50.0)?);
/// // The height is x tan e (1 - x / X): where does it leave a zone of 20 cm, 10 cm too low?
/// let far_m = 25.0 * (1.0 + f64::sqrt(1.0 + 0.1 / top_m));
/// assert!((archer.misjudged(50.0, 0.2)?.far_m - far_m).abs() < 1e-9);
/// assert_eq!(archer.window(&aim, 0.2)?, archer.misjudged(50.0, 0.2)?);
/// // The launch found is the launch at its angles.
/// assert_eq!(archer.launch(aim.elevation_rad, 0.0)?, aim.launch);
/// assert_eq!(archer.flight().conditions().slope_rad, 0.0);
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
/// With drag and wind, the lag rule: the wind carries the arrow for the time lost to drag.
/// ```
/// use clothyard_mechanics::flight::{Accuracy, Archer, Conditions, Flight, Sight};
/// let flight = Flight::new(&|_airspeed| 0.0015, Conditions::default(), Accuracy::default())?;
/// let sight = Sight { peep_height_m: 0.11, sight_radius_m: 0.85, launch_ahead_m: 0.0 };
/// let (calm, aim) = (Archer::new(flight, sight, 85.0)?, Archer::new(flight, sight, 85.0)?.aim(50.0)?);
/// let lag_s = aim.arrival.time_s - 50.0 / (85.0 * f64::cos(aim.elevation_rad));
/// let drift = calm.drift(50.0, 3.0)?;
/// assert!((drift.right_m / (3.0 * lag_s) - 1.0).abs() < 5e-3);
/// assert_eq!(calm.carried(&aim, 3.0)?, drift);
/// // Aimed into that wind, the arrow reaches the target point.
/// let wind = Conditions { wind_m_per_s: [0.0, 0.0, 3.0], ..Conditions::default() };
/// let windy = Archer::new(flight.under(wind)?, sight, 85.0)?;
/// let off = windy.aim_against_wind(50.0)?;
/// assert!(off.azimuth_rad < 0.0 && off.arrival.right_m.abs() < 1e-10);
/// assert!((50.0 * f64::tan(-off.azimuth_rad) / drift.right_m - 1.0).abs() < 5e-4);
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
///
/// # References
/// The lag rule: McCoy, *Modern Exterior Ballistics*, ch. 7; otherwise geometry.
#[derive(Clone, Copy)]
pub struct Archer<'a> {
    pub(super) flight: Flight<'a>,
    pub(super) sight: Sight,
    pub(super) speed_m_per_s: f64,
}

impl<'a> Archer<'a> {
    /// An archer of checked properties; the speed (0.1 to 1000 m/s) is that at launch.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] for the sight or the speed.
    pub fn new(flight: Flight<'a>, sight: Sight, speed_m_per_s: f64) -> Result<Self> {
        sight.check()?;
        Ok(Self { flight, sight, speed_m_per_s: Parameter::Speed.check(speed_m_per_s)? })
    }

    /// How the arrow flies.
    #[must_use]
    pub fn flight(&self) -> &Flight<'a> {
        &self.flight
    }

    /// The launch at angles (rad) above the line of sight and to the right of it.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] for the angles.
    pub fn launch(&self, elevation_rad: f64, azimuth_rad: f64) -> Result<TrajectoryPoint> {
        self.sight.launch(self.speed_m_per_s, elevation_rad, azimuth_rad)
    }

    /// The elevation at which the arrow crosses the line of sight at a distance (m), by the lower of the two
    /// trajectories; wind may carry it to the side.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] for a distance outside 1 to 2000 m or behind the launch; [`Error::NotReached`] where no
    /// elevation suffices; otherwise as [`Flight::at_distances`].
    pub fn aim(&self, distance_m: f64) -> Result<Aim> {
        Parameter::TargetDistance.check(distance_m)?;
        self.raised(distance_m, 0.0)
    }

    /// The elevation and the azimuth at which the arrow hits the point at a distance (m) on the line of sight, in the
    /// wind.
    ///
    /// # Errors
    /// As [`Self::aim`].
    pub fn aim_against_wind(&self, distance_m: f64) -> Result<Aim> {
        let right = |azimuth| self.raised(distance_m, azimuth).map(|aim| aim.arrival.right_m);
        Parameter::TargetDistance.check(distance_m)?;
        let azimuth = seek(right, distance_m, (-1.5, 1.5))?;
        self.raised(distance_m, azimuth.ok_or(not_reached(distance_m))?)
    }

    fn raised(&self, distance_m: f64, azimuth_rad: f64) -> Result<Aim> {
        let height = |elevation| self.height_at(distance_m, elevation, azimuth_rad);
        let slope_rad = self.flight.conditions().slope_rad;
        let limits = (-FRAC_PI_2 - slope_rad, FRAC_PI_2 - slope_rad);
        let elevation_rad = match seek(height, distance_m, limits)? {
            Some(found) => found,
            None => self.raised_near_farthest(distance_m, azimuth_rad)?,
        };
        let launch = self.launch(elevation_rad, azimuth_rad)?;
        Ok(Aim { elevation_rad, azimuth_rad, launch, arrival: self.flight.at_distance(&launch, distance_m)? })
    }

    /// The elevation close to the maximum range, where the doubling search of [`seek`] steps over it.
    fn raised_near_farthest(&self, distance_m: f64, azimuth_rad: f64) -> Result<f64> {
        let height = |elevation| self.height_at(distance_m, elevation, azimuth_rad);
        let farthest = self.flight.farthest_of(|elevation| self.launch(elevation, azimuth_rad))?;
        match find_root(height, 0.0, farthest.elevation_rad, ANGLE_TOLERANCE_RAD)? {
            Solution::At(elevation) => Ok(elevation),
            Solution::NoSignChange { .. } => Err(not_reached(distance_m)),
        }
    }

    /// Height over the line of sight; a large negative value where the arrow does not reach the distance.
    fn height_at(&self, distance_m: f64, elevation_rad: f64, azimuth_rad: f64) -> Result<f64> {
        match self.flight.at_distance(&self.launch(elevation_rad, azimuth_rad)?, distance_m) {
            Ok(point) => Ok(point.height_m),
            Err(Error::NotReached { .. }) => Ok(-distance_m),
            Err(error) => Err(error),
        }
    }
}

fn not_reached(distance_m: f64) -> Error {
    Error::NotReached { parameter: Parameter::Distance, value: distance_m }
}

/// The root of a function that rises by about `rate` per radian; none if it is not between the limits.
///
/// The secant rule converges in three or four calls. Near the maximum range it may not; from there, steps of doubling
/// length find a bracket.
fn seek(mut f: impl FnMut(f64) -> Result<f64>, mut rate: f64, limits: (f64, f64)) -> Result<Option<f64>> {
    let (minimum, maximum) = limits;
    let (mut near, mut value) = (0.0, f(0.0)?);
    for _ in 0..4 {
        if value.abs() <= ANGLE_TOLERANCE_RAD * rate {
            return Ok(Some(near));
        }
        let next = clamp(near - value / rate, minimum, maximum);
        let there = f(next)?;
        // Near the maximum range the function hardly rises; where both points coincide the rate is undefined.
        rate = ((there - value) / (next - near)).max(0.1 * rate);
        (near, value) = (next, there);
    }
    let mut step = -1.5 * value / rate - ANGLE_TOLERANCE_RAD * value.signum();
    loop {
        let far = clamp(near + step, minimum, maximum);
        let mut known = |x: f64| if x.to_bits() == near.to_bits() { Ok(value) } else { f(x) };
        if let Solution::At(x) = find_root(&mut known, near.min(far), near.max(far), ANGLE_TOLERANCE_RAD)? {
            return Ok(Some(x));
        }
        if far <= minimum || far >= maximum {
            return Ok(None);
        }
        value = known(far)?;
        (near, step) = (far, 2.0 * step);
    }
}
