//! What a sight shows: its marks, how far a wrong distance may be off, what the wind does, what the path clears.

use super::aim::{Aim, Archer};
use super::path::{Conditions, Moment};
use crate::error::{Error, Quantity, Result};

/// The distances between which an arrow aimed for another distance stays in a zone.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Window {
    /// The least distance at which it is in the zone, m.
    pub near_m: f64,
    /// The greatest, m.
    pub far_m: f64,
}

/// What a crosswind does to an arrow aimed without it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drift {
    /// How far it is carried to the right, m.
    pub right_m: f64,
    /// How far it is lifted, m: a crosswind adds a little drag, so mostly below 0.
    pub up_m: f64,
}

impl Archer<'_> {
    /// How far down the bar (m) the mark of a distance stands from that of a reference distance: the sight gap between
    /// the two.
    ///
    /// `R (tan e - tan e_reference)` for a bar at right angles to the arrow, the sight radius R ahead of the peep.
    ///
    /// # Errors
    /// As [`Self::aim`].
    pub fn mark_m(&self, distance_m: f64, reference_m: f64) -> Result<f64> {
        let pin = |distance| self.aim(distance).map(|aim| self.sight.pin_height_m(aim.elevation_rad));
        Ok(pin(reference_m)? - pin(distance_m)?)
    }

    /// The arrow where it comes down through the line of sight, for a pin at a height (m) over the line of the arrow:
    /// the distance a mark is for.
    ///
    /// # Errors
    /// [`Error::NotReached`] where the path stays below the line of sight; else as [`Self::aim`].
    pub fn pin_on(&self, pin_height_m: f64) -> Result<Moment> {
        self.sighted_over(self.sight.sight_radius_m, pin_height_m)
    }

    /// The arrow at the point-on distance: where it comes down through the line from the eye over its own point, with
    /// its length (m) from the nock throat to the tip of the point. The peep height is that of the eye.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] for the length; else as [`Self::pin_on`].
    pub fn point_on(&self, arrow_length_m: f64) -> Result<Moment> {
        self.sighted_over(Quantity::ArrowLength.check(arrow_length_m)?, 0.0)
    }

    fn sighted_over(&self, ahead_m: f64, height_m: f64) -> Result<Moment> {
        let elevation_rad = self.sight.elevation_over_rad(ahead_m, height_m);
        let apex = self.flight.apex(&self.launch(elevation_rad, 0.0)?)?;
        self.flight.descent(&apex, 0.0)
    }

    /// Between which true distances an arrow with the sight set for a judged distance (m) stays within a zone of a
    /// diameter (m), aimed at its centre: by height alone, wind to the side left out.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] for the diameter; else as [`Self::aim`].
    pub fn misjudged(&self, judged_m: f64, zone_diameter_m: f64) -> Result<Window> {
        self.window(&self.aim(judged_m)?, zone_diameter_m)
    }

    /// The same for an aim that is known already.
    ///
    /// # Errors
    /// As [`Self::misjudged`].
    pub fn window(&self, aim: &Aim, zone_diameter_m: f64) -> Result<Window> {
        let radius = 0.5 * Quantity::ZoneDiameter.check(zone_diameter_m)?;
        let Aim { launch, arrival, .. } = *aim;
        let apex = self.flight.apex(&launch)?;
        let (leaves_high, comes_down) = (apex.height_m > radius, arrival.time_s > apex.time_s);
        let way_up = |height| self.ascent_m(&launch, &apex, height);
        let way_down = |height| self.flight.descent(&apex, height).map(|moment| moment.distance_m);
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

    /// Distance at which the arrow passes a height over the line of sight, on its way up to the apex.
    fn ascent_m(&self, launch: &Moment, apex: &Moment, height_m: f64) -> Result<f64> {
        let crossing = self.flight.crossing(launch, apex.time_s, |moment| moment.height_m - height_m)?;
        let never = Error::NotReached { quantity: Quantity::SightHeight, value: height_m };
        crossing.map(|moment| moment.distance_m).ok_or(never)
    }

    /// What a further crosswind (m/s, to the right) does at a distance (m) to an arrow aimed without it.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] for the wind; else as [`Self::aim`].
    pub fn drift(&self, distance_m: f64, crosswind_m_per_s: f64) -> Result<Drift> {
        self.carried(&self.aim(distance_m)?, crosswind_m_per_s)
    }

    /// The same for an aim that is known already.
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

    /// The arrow where it is highest over the line of sight on its way to a distance (m): will it clear the branch?
    ///
    /// # Errors
    /// As [`Self::aim`].
    pub fn highest(&self, distance_m: f64) -> Result<Moment> {
        self.highest_on(&self.aim(distance_m)?)
    }

    /// The same for an aim that is known already.
    ///
    /// # Errors
    /// As [`Self::highest`].
    pub fn highest_on(&self, aim: &Aim) -> Result<Moment> {
        let apex = self.flight.apex(&aim.launch)?;
        Ok(if apex.time_s < aim.arrival.time_s { apex } else { aim.arrival })
    }
}
