//! A step with its slider at one stop, and what the pictures of all its stops must hold.

use super::readout::{self, Far};
use super::{Picture, Readout, Step};
use crate::flight::shot::Shot;
use crate::flight::side::{self, Place};
use crate::shot::Film;
use crate::shot::picture::Extent;
use clothyard_core::drawing;
use clothyard_core::drawing::match_bar::Tape;
use clothyard_core::eval::Evaluation;
use clothyard_core::eval::baseline::Baseline;
use clothyard_core::schema::Output;
use clothyard_core::setup::{Resolved, flying};
use clothyard_core::units::Units;
use clothyard_mechanics::flight::TrajectoryPoint;

/// Places of a path: far apart enough to be quick, near enough to look smooth.
const PATH_PLACES: usize = 49;

/// The step's setup with the slider at one stop.
#[derive(Clone, Debug)]
pub struct Scene {
    /// The slider's number, in its saved unit; none where there is no slider.
    pub value: Option<f64>,
    /// What the setup answers.
    pub all: Evaluation,
    /// The path from the side, where it is shown.
    pub path: Vec<Place>,
    /// The shaft where the string bends it most, where that is shown.
    pub bent: Option<Film>,
    /// The arrow at the farthest distance, where that is asked for, and its mass in kilograms.
    far: Option<(TrajectoryPoint, f64)>,
    /// The stability margin in percent of the arrow's length, where that is asked for.
    stability_percent: Option<f64>,
}

impl Scene {
    /// A step with its slider at a stop: every field that was resolved for it is held, but the one that the slider moves.
    pub(super) fn new(step: &Step, resolved: &Resolved, (far_m, wanted): (f64, &[Output]), stop: u32) -> Self {
        let held = Baseline::as_resolved(&step.setup, *resolved);
        let value = step.slide.map(|slide| slide.at(stop));
        let moved = step.slide.zip(value).map_or(*resolved, |(slide, value)| held.with(slide.field(), value));
        let all = held.evaluation(moved, wanted);
        let flies = step.picture == Picture::Path;
        let asked = || step.results.iter().chain(&step.question);
        let wants_far = flies || asked().any(|shown| matches!(shown, Readout::Far(_)));
        let stability_percent =
            asked().any(|shown| *shown == Readout::StabilityMargin).then(|| stability_percent(&all)).flatten();
        let shot = if wants_far { Shot::of(&all).ok() } else { None };
        let far = shot.as_ref().and_then(|shot| Some((readout::far(shot, far_m).ok()?, shot.mass_kg)));
        let path =
            shot.filter(|_| flies).and_then(|shot| side::path(&shot, far_m, PATH_PLACES).ok()).unwrap_or_default();
        let bent = (step.picture == Picture::Flex).then(|| Film::most_bent(&all).ok()).flatten();
        Self { value, all, path, bent, far, stability_percent }
    }

    /// What is shown, in its saved unit.
    #[must_use]
    pub fn number(&self, shown: Readout) -> Option<f64> {
        match shown {
            Readout::Output(output) => self.all.outputs.get(output),
            Readout::Far(far) => self.far.map(|(moment, mass_kg)| readout::number_at(far, &moment, mass_kg)),
            Readout::StabilityMargin => self.stability_percent,
        }
    }

    /// Why nothing may be shot, in sentences; empty where nothing forbids it.
    #[must_use]
    pub fn dangers(&self, units: &Units) -> String {
        let loud = self.all.warnings.iter().filter(|warning| warning.severity().forbids_shooting());
        let words = loud.map(|warning| format!("{}: {}", warning.severity().word(), warning.sentence(units)));
        words.collect::<Vec<_>>().join(" ")
    }

    /// How far below the line of sight the arrow comes to the farthest distance, in inches.
    #[must_use]
    pub fn drop_in(&self) -> Option<f64> {
        self.number(Readout::Far(Far::Drop))
    }

    /// The tape that the match is shown on; none where there is no match.
    pub(super) fn tape(&self) -> Option<Tape> {
        Tape::of(&self.all.outputs, &self.all.resolved)
    }
}

fn stability_percent(all: &Evaluation) -> Option<f64> {
    let arrow = flying(&all.resolved, all.model.as_ref()?).ok()?;
    Some(100.0 * arrow.stability().ok()?.margin_of_length)
}

/// What the pictures of a step must hold at every place of its slider, so that their scale stays the same.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bounds {
    pub(super) reach_in: f64,
    pub(super) pounds: (f64, f64),
    pub(super) heights_m: (f64, f64),
    pub(super) bent: Extent,
}

impl Bounds {
    /// Holds some scenes.
    #[must_use]
    pub fn around(scenes: &[Scene]) -> Self {
        let tapes = scenes.iter().filter_map(|scene| Some(scene.tape()?.span()));
        let heights = scenes.iter().flat_map(|scene| &scene.path).map(|&(_, height)| (height, height));
        Self {
            reach_in: scenes.iter().map(|scene| drawing::reach_in(&scene.all)).fold(0.0, f64::max),
            pounds: hull(tapes, (f64::INFINITY, f64::NEG_INFINITY)),
            // The line of sight is always there.
            heights_m: hull(heights, (0.0, 0.0)),
            bent: Extent::of(scenes.iter().filter_map(|scene| scene.bent.as_ref())),
        }
    }
}

fn hull(spans: impl Iterator<Item = (f64, f64)>, start: (f64, f64)) -> (f64, f64) {
    spans.fold(start, |(least, most), (from, to)| (least.min(from), most.max(to)))
}
