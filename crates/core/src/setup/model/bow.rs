//! The bow of a setup: one estimate, from what is usual for its kind and everything that was read of it.

use super::{ModelError, SpeedFrom};
use crate::schema::{BowKind, Cam, Field, Launch, RatedUnder};
use crate::setup::Resolved;
use crate::units::clamp;
use clothyard_mechanics::estimate::{self, EnergyExcess, Estimate, Prior, RatedReading, Readings, Uncertain};
use clothyard_mechanics::units::METER_PER_INCH;
use clothyard_mechanics::{Bow, DrawCurve, Rating, Result as Answer, StringMass, UsualBow, curve_factor, peak_push};

/// Standard error, as a share, of the energy stored by a curve that was measured (memory); more where the readings'
/// own steps and spacing leave more open.
const MEASURED_CURVE_LOG_ERROR: f64 = 0.015;

/// Standard errors, as shares, of a virtual mass, and of the delivered energy by a loss, that the user gives (memory).
const GIVEN_VIRTUAL_MASS_LOG_ERROR: f64 = 0.10;
const GIVEN_LOSS_LOG_ERROR: f64 = 0.01;

/// A bow, what it delivers, and how surely.
#[derive(Clone, Copy, Debug)]
pub struct BowEstimate {
    /// The bow; its virtual mass is the estimated one, with what hangs on the string.
    pub bow: Bow,
    /// The best of what the speed comes from.
    pub speed_from: SpeedFrom,
    kind: BowKind,
    estimate: Estimate,
    /// The same bow if nothing were known of it but its kind and draw.
    usual: Estimate,
    /// What hangs on the string, as virtual mass.
    hung_kg: f64,
    /// Standard error of the stored energy by the fields of the draw, as a share.
    draw_log_error: f64,
    /// A factor on every speed: 1 but where it is asked how far an error of the estimate carries.
    speed_factor: f64,
    prior: Prior,
    prior_virtual_mass_log_error: f64,
}

impl BowEstimate {
    /// Estimates the bow of some resolved inputs.
    ///
    /// # Errors
    /// [`ModelError`] where the fields make no bow.
    pub fn new(resolved: &Resolved) -> Result<Self, ModelError> {
        let kind: BowKind = resolved.choice();
        let bow = bow(resolved)?;
        let kind_alone = kind.usual(bow.peak_force_n)?;
        let known = known_before(resolved, &bow, kind_alone)?;
        let prior = known.prior(bow.stored_energy_j());
        let estimate = with_readings(resolved, &bow, |readings| Estimate::new(&prior, readings))?;
        let hung_kg = hung_kg(resolved)?;
        Ok(Self {
            bow: Bow { virtual_mass_kg: estimate.virtual_mass_kg().value + hung_kg, ..bow },
            speed_from: speed_from(resolved),
            kind,
            estimate,
            usual: Estimate::new(&kind_alone.prior(bow.stored_energy_j()), &Readings::NONE)?,
            hung_kg,
            draw_log_error: draw_log_error(resolved, &bow),
            speed_factor: resolved.speed_factor(),
            prior,
            prior_virtual_mass_log_error: kind_alone.virtual_mass_log_error,
        })
    }

    /// Energy given to arrow and virtual mass, J, and its standard error.
    #[must_use]
    pub fn delivered_energy_j(&self) -> Uncertain {
        let energy = self.estimate.energy_j();
        Uncertain { value: energy.value * self.speed_factor * self.speed_factor, ..energy }
    }

    /// Virtual mass of the bare string, kg, and its standard error.
    #[must_use]
    pub fn virtual_mass_kg(&self) -> Uncertain {
        self.estimate.virtual_mass_kg()
    }

    /// Whether what was read tells the virtual mass twice as surely as the kind of bow alone.
    #[must_use]
    pub fn virtual_mass_is_measured(&self) -> bool {
        self.virtual_mass_kg().log_error < 0.5 * self.prior_virtual_mass_log_error
    }

    /// Standard deviation of one shot about the mean, m/s.
    #[must_use]
    pub const fn scatter_m_per_s(&self) -> f64 {
        self.estimate.scatter_m_per_s()
    }

    /// Launch speed of an arrow of a mass (kg), m/s, and its standard error: the one that is shown wherever the speed is.
    ///
    /// # Errors
    /// [`clothyard_mechanics::Error`] for a mass or speed beyond any arrow.
    pub fn launch_speed(&self, arrow_kg: f64) -> Answer<Uncertain> {
        let speed = self.estimate.speed(arrow_kg, self.hung_kg)?;
        let by_draw = self.draw_log_error * self.estimate.follows_prior_energy(arrow_kg, self.hung_kg);
        let log_error = (speed.log_error * speed.log_error + by_draw * by_draw).sqrt();
        Ok(Uncertain { value: speed.value * self.speed_factor, log_error })
    }

    /// Standard error of the logarithm of that speed by what is estimated alone, the draw taken as given.
    ///
    /// # Errors
    /// As [`BowEstimate::launch_speed`].
    pub fn estimate_log_error(&self, arrow_kg: f64) -> Answer<f64> {
        Ok(self.estimate.speed(arrow_kg, self.hung_kg)?.log_error)
    }

    /// Peak acceleration of an arrow of a mass (kg), in m/s².
    ///
    /// # Errors
    /// [`clothyard_mechanics::Error`] for a mass or speed beyond any arrow.
    pub fn peak_push(&self, arrow_kg: f64) -> Answer<f64> {
        let (speed, usual) = (self.launch_speed(arrow_kg)?, self.usual.speed(arrow_kg, 0.0)?);
        peak_push(self.kind, self.bow.peak_force_n, arrow_kg, speed.value, usual.value)
    }

    /// What let-off and cam make of the column load.
    #[must_use]
    pub fn curve_factor(&self) -> f64 {
        curve_factor(self.kind, &self.bow.curve)
    }

    /// How much more energy the readings ask for than the bow stores; none where nothing was read.
    ///
    /// # Errors
    /// As [`BowEstimate::new`].
    pub fn energy_excess(&self, resolved: &Resolved) -> Answer<Option<EnergyExcess>> {
        let log_error = stored_log_error(resolved, self.kind.usual(self.bow.peak_force_n)?.stored_log_error);
        let log_error = (log_error * log_error + self.draw_log_error * self.draw_log_error).sqrt();
        let stored_j = self.bow.stored_energy_j();
        with_readings(resolved, &self.bow, |readings| {
            estimate::energy_excess(&self.prior, readings, stored_j, log_error)
        })
    }
}

/// What is known of the bow before any speed is read: what is usual for its kind, but for what the user gives.
fn known_before(resolved: &Resolved, bow: &Bow, usual: UsualBow) -> Answer<UsualBow> {
    let given = |field, log_error, usual| if resolved.is_user_given(field) { log_error } else { usual };
    Ok(UsualBow {
        virtual_mass_kg: resolved.si(Field::VirtualMass),
        virtual_mass_log_error: given(Field::VirtualMass, GIVEN_VIRTUAL_MASS_LOG_ERROR, usual.virtual_mass_log_error),
        loss: bow.loss,
        loss_log_error: given(Field::EnergyLoss, GIVEN_LOSS_LOG_ERROR, usual.loss_log_error),
        stored_log_error: stored_log_error(resolved, usual.stored_log_error),
    })
}

/// Standard error of the stored energy by the shape of the draw-force curve, as a share.
fn stored_log_error(resolved: &Resolved, usual: f64) -> f64 {
    let Some(curve) = resolved.curve() else { return usual };
    let (rule, scale) = (resolved.si(Field::RuleStep), resolved.si(Field::BowScaleStep));
    let open = curve
        .energy_uncertainty(rule, scale)
        .map_or(0.0, |open| (open.from_steps_j * open.from_steps_j + open.from_spacing_j * open.from_spacing_j).sqrt());
    clamp(open / curve.stored_energy_j(), MEASURED_CURVE_LOG_ERROR, usual)
}

/// Standard error of the stored energy by draw weight, stroke and let-off, as a share.
fn draw_log_error(resolved: &Resolved, bow: &Bow) -> f64 {
    let off = |field| resolved.standard_uncertainty(field);
    let weight = off(Field::PeakDrawWeight) / resolved.number(Field::PeakDrawWeight);
    let stroke_in = bow.stroke_m / METER_PER_INCH;
    let mut squares = weight * weight;
    for field in [Field::DrawLength, Field::BraceHeight] {
        squares += (off(field) / stroke_in) * (off(field) / stroke_in);
    }
    if let DrawCurve::LetOff { valley, .. } = bow.curve {
        let let_off = 0.5 * valley * off(Field::LetOff) / 100.0 / bow.curve.energy_fraction();
        squares += let_off * let_off;
    }
    squares.sqrt()
}

fn speed_from(resolved: &Resolved) -> SpeedFrom {
    if !resolved.chronograph_readings().all().is_empty() {
        SpeedFrom::Chronograph
    } else if resolved.given(Field::RatedSpeed).is_some() {
        SpeedFrom::RatedSpeed
    } else if resolved.curve().is_some() {
        SpeedFrom::DrawForce
    } else {
        SpeedFrom::BowKind
    }
}

/// Asks with every speed that was read of the bow.
fn with_readings<T>(resolved: &Resolved, bow: &Bow, ask: impl FnOnce(&Readings<'_>) -> Answer<T>) -> Answer<T> {
    let shots = resolved.chronograph_readings();
    let shot_with = resolved.shot_with();
    let stored_j = shot_with.stored_j.unwrap_or_else(|| bow.stored_energy_j());
    ask(&Readings {
        shots: shots.all(),
        hung_mass_kg: shot_with.hung_kg,
        energy_ratio: stored_j / bow.stored_energy_j(),
        resolution_m_per_s: resolved.si(Field::ChronographStep),
        rated: rated(resolved, bow)?,
    })
}

/// The speed that the bow's maker states, for a string with nothing added.
fn rated(resolved: &Resolved, bow: &Bow) -> Answer<Option<RatedReading>> {
    if resolved.given(Field::RatedSpeed).is_none() {
        return Ok(None);
    }
    let rating = resolved.choice::<RatedUnder>().rating().unwrap_or_else(|| Rating {
        arrow_mass_kg: resolved.si(Field::RatingArrow),
        peak_force_n: resolved.si(Field::RatingDrawWeight),
        draw_length_m: resolved.si(Field::RatingDrawLength),
    });
    let brace_m = resolved.si(Field::BraceHeight);
    Ok(Some(RatedReading {
        speed_m_per_s: resolved.si(Field::RatedSpeed),
        arrow_mass_kg: rating.arrow_mass_kg,
        energy_ratio: rating.energy_ratio(bow.peak_force_n, bow.stroke_m, brace_m)?,
    }))
}

/// The bow as it is drawn, with the virtual mass and loss it is expected to have.
pub(super) fn bow(resolved: &Resolved) -> Result<Bow, ModelError> {
    let (true_draw_in, brace_in) = (resolved.true_draw_in(), resolved.number(Field::BraceHeight));
    let stroke_in = true_draw_in - brace_in;
    if stroke_in < 1.0 {
        return Err(ModelError::NoStroke { true_draw_in, brace_in });
    }
    Ok(Bow::new(
        resolved.si(Field::PeakDrawWeight),
        stroke_in * METER_PER_INCH,
        resolved.curve().map_or_else(|| usual_curve(resolved), |&curve| DrawCurve::Measured(curve)),
        resolved.si(Field::VirtualMass),
        resolved.si(Field::EnergyLoss),
    )?)
}

/// Energy that the bow stores, J; none where the fields make no bow.
pub(in crate::setup) fn stored_energy_j(resolved: &Resolved) -> Option<f64> {
    bow(resolved).ok().map(|bow| bow.stored_energy_j())
}

/// What hangs on the string, as virtual mass.
pub(in crate::setup) fn hung_kg(resolved: &Resolved) -> Answer<f64> {
    let added =
        StringMass { at_nock_kg: resolved.si(Field::StringAtNock), spread_kg: resolved.si(Field::StringSpread) };
    added.virtual_mass_kg(0.0)
}

/// The draw-force curve of the kind of bow; the longbow's curvature is from memory, the recurve's is
/// within Tuijn & Kooi (1992), Table I.
#[must_use]
pub fn usual_curve(resolved: &Resolved) -> DrawCurve {
    match resolved.choice() {
        BowKind::Compound => {
            let (rise, valley) = resolved.choice::<Cam>().rise_and_valley();
            DrawCurve::LetOff { rise, valley, let_off: resolved.si(Field::LetOff) }
        }
        BowKind::Recurve => DrawCurve::RECURVE,
        BowKind::Longbow => DrawCurve::LONGBOW,
    }
}

/// The load of the user's own proven arrow, or the calibrated target for this kind of bow and launch.
#[must_use]
pub fn target_load(resolved: &Resolved) -> f64 {
    let usual = resolved.choice::<Launch>().target_load(resolved.choice());
    resolved.given(Field::ProvenLoad).unwrap_or(usual)
}
