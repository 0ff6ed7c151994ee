//! The current shot and the one saved for comparison, computed once for all open views of the section.

use crate::context::{Context, Reading};
use clothyard_core::Units;
use clothyard_studies::analysis::compare::EvaluatedSetup;
use clothyard_studies::flight::shot::{Answer, distances_m, unsighted};
use clothyard_studies::flight::{Leg, Shot, legs};
use core::cell::{OnceCell, RefCell};
use std::rc::Rc;

/// Each distance, with why there is nothing where there is nothing.
pub(super) type Legs = Vec<Answer<Leg>>;

/// What the views of this section share.
#[derive(Default)]
pub(crate) struct Shots {
    now: RefCell<Option<Rc<Now>>>,
    held: RefCell<Option<Rc<Held>>>,
}

/// A setup held, with its shot.
pub(super) struct Held {
    pub(super) setup: Rc<EvaluatedSetup>,
    pub(super) shot: Answer<Shot>,
}

/// What is so between two changes.
pub(super) struct Now {
    pub(super) reading: Rc<Reading>,
    pub(super) units: Units,
    /// The distances looked at, of the setup on the page.
    pub(super) distances_m: Vec<f64>,
    pub(super) held: Option<Rc<Held>>,
    shot: Answer<Shot>,
    legs: OnceCell<Answer<Legs>>,
}

impl Shots {
    /// One for all views of the section.
    pub(crate) fn shared() -> Rc<Self> {
        Rc::default()
    }

    /// What is so now; none where the setup on the page cannot be read.
    pub(super) fn now(&self, context: &Context) -> Option<Rc<Now>> {
        let (reading, held) = (context.read()?, self.held(context));
        let mut known = self.now.borrow_mut();
        let same = |now: &&Rc<Now>| {
            Rc::ptr_eq(&now.reading, &reading) && now.held.as_ref().map(Rc::as_ptr) == held.as_ref().map(Rc::as_ptr)
        };
        let now = known.as_ref().filter(same).cloned().unwrap_or_else(|| Rc::new(Now::new(reading, held)));
        *known = Some(now.clone());
        Some(now)
    }

    fn held(&self, context: &Context) -> Option<Rc<Held>> {
        let setup = context.held()?;
        let mut known = self.held.borrow_mut();
        if known.as_ref().is_none_or(|known| !Rc::ptr_eq(&known.setup, &setup)) {
            *known = Some(Rc::new(Held { shot: Shot::of(&setup.all), setup }));
        }
        known.clone()
    }
}

impl Now {
    fn new(reading: Rc<Reading>, held: Option<Rc<Held>>) -> Self {
        let (units, shot, distances_m) = (reading.units, Shot::of(reading.all()), distances_m(&reading.setup));
        Self { reading, units, distances_m, held, shot, legs: OnceCell::new() }
    }

    /// The shot on the page.
    ///
    /// # Errors
    /// Why there is none, in a sentence.
    pub(super) fn shot(&self) -> Result<&Shot, String> {
        self.shot.as_ref().map_err(|error| error.sentence().to_owned())
    }

    /// The shot, and the arrow at each distance.
    ///
    /// # Errors
    /// Why there is none, in a sentence.
    pub(super) fn legs(&self) -> Result<(&Shot, &Legs), String> {
        let shot = self.shot()?;
        let legs = self.legs.get_or_init(|| legs::legs(shot, &self.distances_m)).as_ref();
        Ok((shot, legs.map_err(|error| unsighted(shot, error, &self.units))?))
    }

    /// The arrow where the sight is set.
    ///
    /// # Errors
    /// Why there is none, in a sentence.
    pub(super) fn aimed(&self) -> Result<(&Shot, Leg), String> {
        let shot = self.shot()?;
        let leg = legs::legs(shot, &[shot.sighted_m]).and_then(|mut legs| legs.remove(0));
        Ok((shot, leg.map_err(|error| unsighted(shot, &error, &self.units))?))
    }

    /// The shot of the setup held, where there is one that flies.
    pub(super) fn held_shot(&self) -> Option<&Shot> {
        self.held.as_ref()?.shot.as_ref().ok()
    }
}
