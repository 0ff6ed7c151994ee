//! The bow of a setup: measured values first, the usual values of its kind last.

use super::{ModelError, SpeedFrom};
use crate::schema::{BowKind, Cam, Field, Launch, RatedUnder};
use crate::setup::Resolved;
use clothyard_mechanics::measured::fit_speeds;
use clothyard_mechanics::units::METER_PER_INCH;
use clothyard_mechanics::{Bow, DrawCurve, Rating, StringMass};

/// A bow and what its energy is computed from.
pub(super) struct EnergySource {
    pub(super) bow: Bow,
    pub(super) speed_from: SpeedFrom,
    pub(super) delivered_energy_j: f64,
    /// Twice the standard deviation of the measured speeds about their fit, m/s.
    pub(super) scatter_m_per_s: f64,
    pub(super) virtual_mass_is_measured: bool,
}

impl EnergySource {
    /// The best source of energy there is: a chronograph, a rated speed, the draw-force curve. Readings that
    /// contradict each other are ignored, with a warning; a single reading that is refused is an error.
    pub(super) fn new(resolved: &Resolved) -> Result<Self, ModelError> {
        let bow = bow(resolved)?;
        let usual = |speed_from, delivered_energy_j| Self {
            bow,
            speed_from,
            delivered_energy_j,
            scatter_m_per_s: 0.0,
            virtual_mass_is_measured: false,
        };
        let readings = resolved.chronograph_readings();
        if !readings.all().is_empty() {
            match fit_speeds(readings.all(), bow.virtual_mass_kg) {
                Ok(fit) => {
                    return Ok(Self {
                        bow: Bow { virtual_mass_kg: fit.virtual_mass_kg, ..bow },
                        scatter_m_per_s: 2.0 * fit.standard_deviation_m_per_s.unwrap_or(0.0),
                        virtual_mass_is_measured: fit.virtual_mass_is_measured,
                        ..usual(SpeedFrom::Chronograph, fit.delivered_energy_j)
                    });
                }
                Err(error) if readings.all().len() == 1 => return Err(error.into()),
                Err(_) => {}
            }
        }
        if resolved.given(Field::RatedSpeed).is_some() {
            return Ok(usual(SpeedFrom::RatedSpeed, rated_energy(resolved, &bow)?));
        }
        let measured = matches!(bow.curve, DrawCurve::Measured(_));
        let from = if measured { SpeedFrom::DrawForce } else { SpeedFrom::BowKind };
        Ok(usual(from, bow.delivered_energy_j()))
    }
}

fn bow(resolved: &Resolved) -> Result<Bow, ModelError> {
    let (true_draw_in, brace_in) = (resolved.true_draw_in(), resolved.number(Field::BraceHeight));
    let stroke_in = true_draw_in - brace_in;
    if stroke_in < 1.0 {
        return Err(ModelError::NoStroke { true_draw_in, brace_in });
    }
    Ok(Bow::new(
        resolved.si(Field::PeakDrawWeight),
        stroke_in * METER_PER_INCH,
        resolved.curve().map_or_else(|| usual_curve(resolved), |&curve| DrawCurve::Measured(curve)),
        assumed_virtual_mass_kg(resolved)?,
        resolved.si(Field::EnergyLoss),
    )?)
}

/// Virtual mass with the mass added to the string, in kg, if it is not measured.
///
/// # Errors
/// [`clothyard_mechanics::Error::OutOfRange`] beyond any bow.
pub fn assumed_virtual_mass_kg(resolved: &Resolved) -> clothyard_mechanics::Result<f64> {
    let added =
        StringMass { at_nock_kg: resolved.si(Field::StringAtNock), spread_kg: resolved.si(Field::StringSpread) };
    added.virtual_mass_kg(resolved.si(Field::VirtualMass))
}

/// The draw-force curve of the kind of bow; the longbow's curvature is from memory, the recurve's lies
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

fn rated_energy(resolved: &Resolved, bow: &Bow) -> Result<f64, ModelError> {
    let rating = resolved.choice::<RatedUnder>().rating().unwrap_or_else(|| Rating {
        arrow_mass_kg: resolved.si(Field::RatingArrow),
        peak_force_n: resolved.si(Field::RatingDrawWeight),
        draw_length_m: resolved.si(Field::RatingDrawLength),
    });
    // A rated speed is for a string with nothing added.
    let bare = resolved.si(Field::VirtualMass);
    let brace = resolved.si(Field::BraceHeight);
    let speed = resolved.si(Field::RatedSpeed);
    Ok(rating.delivered_energy_j(speed, bare, bow.peak_force_n, bow.stroke_m, brace)?)
}

/// Target column load: that of the user's proven arrow, or the calibrated one of this launch.
///
/// The latter was calibrated on bows without loss. The usual loss of a kind of bow lowers all its column loads alike,
/// so the target is lowered too.
pub(super) fn target_load(resolved: &Resolved) -> f64 {
    let usual =
        resolved.choice::<Launch>().target_load() * (1.0 - resolved.choice::<BowKind>().usual_loss_percent() / 100.0);
    resolved.given(Field::ProvenLoad).unwrap_or(usual)
}
