//! The measurements of one setup for scripts: numbers in saved units.

use super::fit::{self, Fit};
use super::{arrow, draw_force, speeds};
use clothyard_core::eval::Evaluation;
use clothyard_core::schema::Field;
use clothyard_core::setup::Resolved;
use clothyard_core::setup::Setup;
use clothyard_core::units::{Quantity, Units};
use clothyard_mechanics::units::METER_PER_INCH;
use serde::Serialize;

/// What was measured, and what it says. What was not measured is null.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct BenchReport {
    /// `measured` or `bowKind`.
    pub stored_energy_from: &'static str,
    /// `measured` or `assumed`.
    pub virtual_mass_from: &'static str,
    /// `provenArrow` or `launch`.
    pub target_from: &'static str,
    /// The draw-force curve as it was read.
    pub draw_force: Option<DrawForceReport>,
    /// The chronograph's shots.
    pub speeds: Option<SpeedsReport>,
    /// The home spine rig.
    pub rig: Option<RigReport>,
    /// The finished arrow against its parts.
    pub finished: Option<FinishedReport>,
    /// What must fit what.
    pub fits: Vec<FitReport>,
}

/// The draw-force curve.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct DrawForceReport {
    /// Why the readings make no curve; the rest is then null.
    pub error: Option<String>,
    /// The curve.
    #[serde(flatten)]
    pub curve: Option<DrawForceNumbers>,
}

/// The numbers of a curve.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct DrawForceNumbers {
    /// Peak force.
    pub peak_lb: f64,
    /// Where it peaks, string to pivot.
    pub peak_at_in: f64,
    /// Stroke from brace height to the last reading.
    pub stroke_in: f64,
    /// Let-off of the valley.
    pub let_off_percent: f64,
    /// Width of the valley.
    pub valley_in: f64,
    /// Stored energy by the trapezoid rule.
    pub stored_energy_ft_lb: f64,
    /// Standard uncertainty from the steps of rule and scale.
    pub energy_open_by_steps_ft_lb: f64,
    /// The most those steps can do.
    pub energy_open_at_most_ft_lb: f64,
    /// What a smooth curve would store beyond the straight lines.
    pub energy_between_readings_ft_lb: f64,
}

/// The shots and the estimate of the bow that they went into.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct SpeedsReport {
    /// Energy given to arrow and limbs.
    pub delivered_energy_ft_lb: f64,
    /// Its standard error.
    pub energy_error_ft_lb: f64,
    /// Virtual mass of the bare string.
    pub virtual_mass_gr: f64,
    /// Its standard error.
    pub virtual_mass_error_gr: f64,
    /// Standard deviation of one shot.
    pub scatter_fps: f64,
    /// Speed of each shot less that of the bow; null for an arrow beyond any bow.
    pub residuals_fps: Vec<Option<f64>>,
    /// The shot that may be wrong, from 1; it counts all the same.
    pub suspect_shot: Option<usize>,
}

/// The spine rig.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct RigReport {
    /// Static spine on the standard rig.
    pub static_spine_thousandths: Option<f64>,
    /// Its standard uncertainty.
    pub uncertainty_thousandths: Option<f64>,
}

/// The finished arrow.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct FinishedReport {
    /// Measured less predicted weight.
    pub weight_off_gr: Option<f64>,
    /// Measured less predicted balance point.
    pub balance_off_in: Option<f64>,
    /// What the parts leave unexplained, in standard uncertainties.
    pub misfit: Option<f64>,
    /// The likeliest explanations, in words.
    pub explanations: Vec<String>,
}

/// One fit.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct FitReport {
    /// Its key.
    pub fit: &'static str,
    /// Whether it is to be looked at before shooting.
    #[serde(rename = "caution")]
    pub warning: bool,
    /// In words.
    pub words: String,
}

impl BenchReport {
    /// The report of a build.
    #[must_use]
    pub fn of(setup: &Setup, all: &Evaluation) -> Self {
        let (resolved, units) = (&all.resolved, &Units::ARCHERY);
        let model = all.model.as_ref();
        let proven = resolved.given(Field::ProvenLoad).is_some();
        let fit_report = |fit: Fit| FitReport { fit: fit.key, warning: fit.warning, words: fit.words };
        Self {
            stored_energy_from: if resolved.curve().is_some() { "measured" } else { "bowKind" },
            virtual_mass_from: if model.is_some_and(|model| model.estimate.virtual_mass_is_measured()) {
                "measured"
            } else {
                "assumed"
            },
            target_from: if proven { "provenArrow" } else { "launch" },
            draw_force: draw_force_report(setup, resolved),
            speeds: speeds::of(all).as_ref().map(speeds_report),
            rig: rig_report(resolved),
            finished: finished_report(setup, all),
            fits: fit::all(resolved, units).into_iter().map(fit_report).collect(),
        }
    }
}

fn draw_force_report(setup: &Setup, resolved: &Resolved) -> Option<DrawForceReport> {
    draw_force::of(setup, resolved).map(|force| DrawForceReport {
        error: force.as_ref().err().map(|error| draw_force::refusal(error, setup, resolved, &Units::ARCHERY)),
        curve: force.as_ref().ok().map(draw_force_numbers),
    })
}

fn rig_report(resolved: &Resolved) -> Option<RigReport> {
    let thousandths = |meters: f64| 1000.0 * meters / METER_PER_INCH;
    arrow::spine(resolved).map(|spine| RigReport {
        static_spine_thousandths: spine.ok().map(|spine| thousandths(spine.astm_sag_m)),
        uncertainty_thousandths: spine.ok().map(|spine| thousandths(spine.uncertainty_m)),
    })
}

fn finished_report(setup: &Setup, all: &Evaluation) -> Option<FinishedReport> {
    arrow::finished(setup, all).map(|finished| FinishedReport {
        weight_off_gr: finished.weight_off_gr,
        balance_off_in: finished.balance_off_in,
        misfit: finished.misfit,
        explanations: arrow::explanation_words(&finished, &Units::ARCHERY),
    })
}

fn draw_force_numbers(force: &draw_force::DrawForce) -> DrawForceNumbers {
    let (curve, off) = (&force.curve, &force.uncertainty);
    DrawForceNumbers {
        peak_lb: Quantity::DrawWeight.from_si(curve.peak().force_n),
        peak_at_in: curve.peak().draw_m / METER_PER_INCH,
        stroke_in: curve.stroke_m() / METER_PER_INCH,
        let_off_percent: 100.0 * curve.let_off(),
        valley_in: curve.valley_width_m() / METER_PER_INCH,
        stored_energy_ft_lb: Quantity::Energy.from_si(curve.stored_energy_j()),
        energy_open_by_steps_ft_lb: Quantity::Energy.from_si(off.from_steps_j),
        energy_open_at_most_ft_lb: Quantity::Energy.from_si(off.from_steps_at_most_j),
        energy_between_readings_ft_lb: Quantity::Energy.from_si(off.from_spacing_j),
    }
}

fn speeds_report(speeds: &speeds::Speeds) -> SpeedsReport {
    let (energy, mass) = (speeds.bow.delivered_energy_j(), speeds.bow.virtual_mass_kg());
    SpeedsReport {
        delivered_energy_ft_lb: Quantity::Energy.from_si(energy.value),
        energy_error_ft_lb: Quantity::Energy.from_si(energy.value * energy.log_error),
        virtual_mass_gr: Quantity::Mass.from_si(mass.value),
        virtual_mass_error_gr: Quantity::Mass.from_si(mass.value * mass.log_error),
        scatter_fps: Quantity::Speed.from_si(speeds.bow.scatter_m_per_s()),
        residuals_fps: speeds.shots.all().iter().map(|shot| speeds::residual_fps(speeds, shot)).collect(),
        suspect_shot: speeds.suspect.map(|suspect| suspect.index + 1),
    }
}
