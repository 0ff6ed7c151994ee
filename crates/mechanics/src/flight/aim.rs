//! How high, and how far to the side, to point an arrow so that it comes to a place on the line of sight.
//!
//! The line of sight starts at the peep and is the x axis of [`super::Flight`]. The arrow lies a peep height `h` (m) below
//! the peep, raised by the elevation `e` (rad); both turn about the peep:
//!
//! ```text
//!   peep o------------------o pin ------------------> line of sight, x
//!        |   (elevation is the angle between the two lines)
//!   nock o======================>  arrow
//!
//! launch   (h sin e + a cos e, a sin e - h cos e)      a the way ahead of the peep where free flight begins
//! pin      h - R tan e  over the arrow                 R the sight radius, peep to pin
//! ```
//!
//! The elevation is the root of the height over the line of sight at the distance asked for, found to 1e-11 rad, a
//! nanometer at 100 m; of two such paths the lower is taken. It takes for granted that the arrow leaves along its own
//! axis at the speed stated, whatever the elevation.
//!
//! # References
//! Geometry alone; the path is that of [`super::Flight`].

use core::f64::consts::FRAC_PI_2;

use super::path::{Flight, TrajectoryPoint};
use crate::error::{Error, Result};
use crate::math::{atan2, clamp, cos, sin, tan};
use crate::parameter::Parameter;
use crate::solve::{Solution, find_root};

/// Angle to which an aim is found, rad: a nanometer at 100 m.
const ANGLE_TOLERANCE_RAD: f64 = 1e-11;

/// Where peep, pin and arrow stand, at full draw.
///
/// # Examples
/// ```
/// use clothyard_mechanics::flight::Sight;
/// let sight = Sight { peep_height_m: 0.11, sight_radius_m: 0.85, launch_ahead_m: 0.0 };
/// // Level, the pin stands as high as the peep; each hundredth of elevation takes it 8.5 mm down.
/// assert_eq!(sight.pin_height_m(0.0), 0.11);
/// assert!((sight.pin_height_m(f64::atan(0.01)) - (0.11 - 0.0085)).abs() < 1e-15);
/// // Looking over the pin gives the elevation back.
/// assert!((sight.elevation_over_rad(0.85, sight.pin_height_m(0.03)) - 0.03).abs() < 1e-15);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sight {
    /// Height of the peep (or the eye) above the arrow, at the string, m; 0 to 0.5.
    pub peep_height_m: f64,
    /// How far ahead of the peep the pin stands, along the arrow, m; 0.05 to 2.
    pub sight_radius_m: f64,
    /// How far ahead of the peep the arrow begins its free flight, m; 0 to 2. It leaves the string a stroke ahead of
    /// full draw; 0 is the simple picture.
    pub launch_ahead_m: f64,
}

impl Sight {
    /// Pin over the line of the arrow (m), at right angles to it, for an elevation (rad): `h - R tan e`.
    #[must_use]
    pub fn pin_height_m(&self, elevation_rad: f64) -> f64 {
        self.peep_height_m - self.sight_radius_m * tan(elevation_rad)
    }

    /// Elevation (rad) that looking from the peep over a mark on the bow gives the arrow: `ahead_m` ahead of the
    /// peep, `height_m` over the line of the arrow.
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

/// An arrow pointed so that it comes to a place: what [`Archer::aim`] finds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Aim {
    /// Angle of the arrow above the line of sight, rad.
    pub elevation_rad: f64,
    /// Angle of the arrow to the right of the line of sight, rad.
    pub azimuth_rad: f64,
    /// The arrow as it is let go.
    pub launch: TrajectoryPoint,
    /// The arrow as it comes to the distance.
    pub arrival: TrajectoryPoint,
}

/// An archer: how the arrow flies, how fast it leaves, and how it is aimed.
///
/// What the sight shows is in [`super::Archer`], with methods of the same type.
///
/// # Examples
/// Without air, and with the arrow at the eye, the range formula of the textbooks, `sin 2e = g X / v^2`:
/// ```
/// use clothyard_mechanics::flight::{Archer, Sight};
/// use clothyard_mechanics::flight::{Accuracy, Conditions, Flight};
/// let vacuum = Flight::new(&|_airspeed| 0.0, Conditions::default(), Accuracy::default())?;
/// let sight = Sight { peep_height_m: 0.0, sight_radius_m: 0.85, launch_ahead_m: 0.0 };
/// let archer = Archer::new(vacuum, sight, 85.0)?;
/// let elevation = |x: f64| 0.5 * f64::asin(9.80665 * x / (85.0 * 85.0));
/// let aim = archer.aim(50.0)?;
/// assert!((aim.elevation_rad - elevation(50.0)).abs() < 1e-11);
/// // The mark for 50 m stands below that for 20 m, by the sight radius.
/// let gap = 0.85 * (f64::tan(elevation(50.0)) - f64::tan(elevation(20.0)));
/// assert!((archer.mark_m(50.0, 20.0)? - gap).abs() < 1e-11);
/// // And back: that pin is on at 50 m.
/// assert!((archer.pin_on(sight.pin_height_m(aim.elevation_rad))?.distance_m - 50.0).abs() < 1e-9);
/// // Highest half-way, a quarter of X tan e.
/// let top_m = 50.0 * f64::tan(elevation(50.0)) / 4.0;
/// assert!((archer.highest(50.0)?.height_m - top_m).abs() < 1e-11);
/// assert_eq!(archer.highest_on(&aim)?, archer.highest(50.0)?);
/// // The path is x tan e (1 - x / X): where does it leave a zone of 20 cm, 10 cm too low?
/// let far_m = 25.0 * (1.0 + f64::sqrt(1.0 + 0.1 / top_m));
/// assert!((archer.misjudged(50.0, 0.2)?.far_m - far_m).abs() < 1e-9);
/// assert_eq!(archer.window(&aim, 0.2)?, archer.misjudged(50.0, 0.2)?);
/// // The launch it found is the launch at its angles.
/// assert_eq!(archer.launch(aim.elevation_rad, 0.0)?, aim.launch);
/// assert_eq!(archer.flight().conditions().slope_rad, 0.0);
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
/// With drag and wind, the lag rule: the wind carries the arrow for the time that drag has cost it.
/// ```
/// use clothyard_mechanics::flight::{Archer, Sight};
/// use clothyard_mechanics::flight::{Accuracy, Conditions, Flight};
/// let flight = Flight::new(&|_airspeed| 0.0015, Conditions::default(), Accuracy::default())?;
/// let sight = Sight { peep_height_m: 0.11, sight_radius_m: 0.85, launch_ahead_m: 0.0 };
/// let (calm, aim) = (Archer::new(flight, sight, 85.0)?, Archer::new(flight, sight, 85.0)?.aim(50.0)?);
/// let lag_s = aim.arrival.time_s - 50.0 / (85.0 * f64::cos(aim.elevation_rad));
/// let drift = calm.drift(50.0, 3.0)?;
/// assert!((drift.right_m / (3.0 * lag_s) - 1.0).abs() < 5e-3);
/// assert_eq!(calm.carried(&aim, 3.0)?, drift);
/// // Aimed off against that wind, into it, the arrow comes to the very point.
/// let wind = Conditions { wind_m_per_s: [0.0, 0.0, 3.0], ..Conditions::default() };
/// let windy = Archer::new(flight.under(wind)?, sight, 85.0)?;
/// let off = windy.aim_against_wind(50.0)?;
/// assert!(off.azimuth_rad < 0.0 && off.arrival.right_m.abs() < 1e-10);
/// assert!((50.0 * f64::tan(-off.azimuth_rad) / drift.right_m - 1.0).abs() < 5e-4);
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
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

    /// The elevation at which the arrow crosses the height of the line of sight at a distance (m) along it, by the
    /// lower of the two paths; wind may carry it to the side.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] for a distance not of 1 to 2000 m or short of the launch; [`Error::NotReached`] where no
    /// elevation is enough; else as [`Flight::at_distances`].
    pub fn aim(&self, distance_m: f64) -> Result<Aim> {
        Parameter::TargetDistance.check(distance_m)?;
        self.raised(distance_m, 0.0)
    }

    /// The elevation and the azimuth at which the arrow comes to the very point at a distance (m) on the line of
    /// sight, against the wind.
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

    /// The elevation where little more distance is left, so that long steps upward miss it.
    fn raised_near_farthest(&self, distance_m: f64, azimuth_rad: f64) -> Result<f64> {
        let height = |elevation| self.height_at(distance_m, elevation, azimuth_rad);
        let farthest = self.flight.farthest_of(|elevation| self.launch(elevation, azimuth_rad))?;
        match find_root(height, 0.0, farthest.elevation_rad, ANGLE_TOLERANCE_RAD)? {
            Solution::At(elevation) => Ok(elevation),
            Solution::NoSignChange { .. } => Err(not_reached(distance_m)),
        }
    }

    /// Height over the line of sight; far below it where the arrow does not come so far.
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

/// The zero of a function that rises by about `rate` for each radian; nothing where it is not between the limits.
///
/// The secant rule settles in three or four calls; where it does not, near the farthest shot, it has come close, and the
/// steps lengthen until the zero is between two.
fn seek(mut f: impl FnMut(f64) -> Result<f64>, mut rate: f64, limits: (f64, f64)) -> Result<Option<f64>> {
    let (least, most) = limits;
    let (mut near, mut value) = (0.0, f(0.0)?);
    for _ in 0..4 {
        if value.abs() <= ANGLE_TOLERANCE_RAD * rate {
            return Ok(Some(near));
        }
        let next = clamp(near - value / rate, least, most);
        let there = f(next)?;
        // Near the farthest shot the function hardly rises; where the two are one there is no rate.
        rate = ((there - value) / (next - near)).max(0.1 * rate);
        (near, value) = (next, there);
    }
    let mut step = -1.5 * value / rate - ANGLE_TOLERANCE_RAD * value.signum();
    loop {
        let far = clamp(near + step, least, most);
        let mut known = |x: f64| if x.to_bits() == near.to_bits() { Ok(value) } else { f(x) };
        if let Solution::At(x) = find_root(&mut known, near.min(far), near.max(far), ANGLE_TOLERANCE_RAD)? {
            return Ok(Some(x));
        }
        if far <= least || far >= most {
            return Ok(None);
        }
        value = known(far)?;
        (near, step) = (far, 2.0 * step);
    }
}
