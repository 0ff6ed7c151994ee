//! What a sight shows: marks, the tolerance for a misjudged distance, wind drift, and clearance.

use super::aim::{Aim, Archer};
use super::motion::Conditions;
use super::point::TrajectoryPoint;
use crate::error::{Error, Result};
use crate::parameter::Parameter;

/// Range of distances at which an arrow stays within a zone: the result of [`Archer::misjudged`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Window {
    /// The smallest such distance, m.
    pub near_m: f64,
    /// The largest, m.
    pub far_m: f64,
}

/// Effect of a crosswind on an arrow aimed without it: the result of [`Archer::drift`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drift {
    /// Displacement to the right, m.
    pub right_m: f64,
    /// Displacement upward, m: a crosswind adds a little drag, so usually below 0.
    pub up_m: f64,
}

impl Archer<'_> {
    /// Distance (m) down the bar from the mark of a reference distance to that of a distance: the sight gap.
    ///
    /// `R (tan e - tan e_reference)` for a bar perpendicular to the arrow, the sight radius R ahead of the peep.
    ///
    /// # Errors
    /// As [`Self::aim`].
    pub fn mark_m(&self, distance_m: f64, reference_m: f64) -> Result<f64> {
        let pin = |distance| self.aim(distance).map(|aim| self.sight.pin_height_m(aim.elevation_rad));
        Ok(pin(reference_m)? - pin(distance_m)?)
    }

    /// The point where the arrow descends through the line of sight, for a pin at a height (m) over the line of the
    /// arrow: the distance that a mark is for.
    ///
    /// # Errors
    /// [`Error::NotReached`] where the trajectory remains below the line of sight; otherwise as [`Self::aim`].
    pub fn pin_on(&self, pin_height_m: f64) -> Result<TrajectoryPoint> {
        self.sighted_over(self.sight.sight_radius_m, pin_height_m)
    }

    /// The arrow at the point-on distance, where it descends through the line from the eye over its own point, for a
    /// length (m) from the nock groove to the tip of the point. The peep height is that of the eye.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] for the length; otherwise as [`Self::pin_on`].
    ///
    /// # Examples
    /// ```
    /// use clothyard_mechanics::flight::{Accuracy, Archer, Conditions, Flight, Sight};
    /// let flight = Flight::new(&|_airspeed| 0.0015, Conditions::default(), Accuracy::default())?;
    /// let eye = Sight { peep_height_m: 0.12, sight_radius_m: 0.85, launch_ahead_m: 0.0 };
    /// let archer = Archer::new(flight, eye, 55.0)?;
    /// // Over a point 0.74 m ahead the arrow is raised by atan(0.12 / 0.74): the aim for that distance.
    /// let point_on_m = archer.point_on(0.74)?.distance_m;
    /// assert!((archer.aim(point_on_m)?.elevation_rad - f64::atan(0.12 / 0.74)).abs() < 1e-9);
    /// # Ok::<(), clothyard_mechanics::Error>(())
    /// ```
    pub fn point_on(&self, arrow_length_m: f64) -> Result<TrajectoryPoint> {
        self.sighted_over(Parameter::ArrowLength.check(arrow_length_m)?, 0.0)
    }

    fn sighted_over(&self, ahead_m: f64, height_m: f64) -> Result<TrajectoryPoint> {
        let elevation_rad = self.sight.elevation_over_rad(ahead_m, height_m);
        let apex = self.flight.apex(&self.launch(elevation_rad, 0.0)?)?;
        self.flight.descent(&apex, 0.0)
    }

    /// The range of true distances at which an arrow with the sight set for a judged distance (m), aimed at
    /// the center of a zone of a diameter (m), stays within the zone: by height alone, without side wind.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] for the diameter; otherwise as [`Self::aim`].
    pub fn misjudged(&self, judged_m: f64, zone_diameter_m: f64) -> Result<Window> {
        self.window(&self.aim(judged_m)?, zone_diameter_m)
    }

    /// The same for a known aim.
    ///
    /// # Errors
    /// As [`Self::misjudged`].
    pub fn window(&self, aim: &Aim, zone_diameter_m: f64) -> Result<Window> {
        let radius = 0.5 * Parameter::ZoneDiameter.check(zone_diameter_m)?;
        let Aim { launch, arrival, .. } = *aim;
        let apex = self.flight.apex(&launch)?;
        let (leaves_high, comes_down) = (apex.height_m > radius, arrival.time_s > apex.time_s);
        let way_up = |height| self.ascent_m(&launch, &apex, height);
        let way_down = |height| self.flight.descent(&apex, height).map(|point| point.distance_m);
        let near_m = if leaves_high && comes_down {
            way_down(radius)?
        } else if launch.height_m < -radius {
            way_up(-radius)?
        } else {
            launch.distance_m
        };
        let far_m = if leaves_high && !comes_down { way_up(radius)? } else { way_down(-radius)? };
        Ok(Window { near_m, far_m })
    }

    /// Distance at which the arrow passes a height over the line of sight while rising.
    fn ascent_m(&self, launch: &TrajectoryPoint, apex: &TrajectoryPoint, height_m: f64) -> Result<f64> {
        let crossing = self.flight.crossing(launch, apex.time_s, |point| point.height_m - height_m)?;
        let never = Error::NotReached { parameter: Parameter::SightHeight, value: height_m };
        crossing.map(|point| point.distance_m).ok_or(never)
    }

    /// The effect of an additional crosswind (m/s, to the right; within 100) at a distance (m) on an arrow
    /// aimed without it.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] for the wind; otherwise as [`Self::aim`].
    pub fn drift(&self, distance_m: f64, crosswind_m_per_s: f64) -> Result<Drift> {
        self.carried(&self.aim(distance_m)?, crosswind_m_per_s)
    }

    /// The same for a known aim.
    ///
    /// # Errors
    /// As [`Self::drift`].
    pub fn carried(&self, aim: &Aim, crosswind_m_per_s: f64) -> Result<Drift> {
        let Aim { launch, arrival, .. } = *aim;
        let conditions = *self.flight.conditions();
        let [along, up, right] = conditions.wind_m_per_s;
        let windy = Conditions { wind_m_per_s: [along, up, right + crosswind_m_per_s], ..conditions };
        let carried = self.flight.under(windy)?.at_distance(&launch, arrival.distance_m)?;
        Ok(Drift { right_m: carried.right_m - arrival.right_m, up_m: carried.height_m - arrival.height_m })
    }

    /// The highest point over the line of sight before a distance (m): does the arrow clear a branch?
    ///
    /// # Errors
    /// As [`Self::aim`].
    pub fn highest(&self, distance_m: f64) -> Result<TrajectoryPoint> {
        self.highest_on(&self.aim(distance_m)?)
    }

    /// The same for a known aim.
    ///
    /// # Errors
    /// As [`Self::highest`].
    pub fn highest_on(&self, aim: &Aim) -> Result<TrajectoryPoint> {
        let apex = self.flight.apex(&aim.launch)?;
        Ok(if apex.time_s < aim.arrival.time_s { apex } else { aim.arrival })
    }
}
