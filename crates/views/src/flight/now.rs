//! The shot on the page and the one held, read once for all views that are open.

use crate::decide;
use crate::page::{self, Reading};
use clothyard_core::Units;
use clothyard_studies::analysis::compare::Side;
use clothyard_studies::flight::shot::{Answer, distances_m, unsighted};
use clothyard_studies::flight::{Leg, Shot, legs};
use std::cell::{OnceCell, RefCell};
use std::rc::Rc;

/// Each distance, with why there is nothing where there is nothing.
pub(super) type Legs = Vec<Answer<Leg>>;

/// A set-up held, with its shot.
pub(super) struct Held {
    pub(super) side: Rc<Side>,
    pub(super) shot: Answer<Shot>,
}

thread_local! {
    /// The one last read: to answer a set-up anew for every change would be to do it for nothing.
    static HELD: RefCell<Option<Rc<Held>>> = const { RefCell::new(None) };
}

/// What stands now.
pub(super) struct Now {
    pub(super) reading: Rc<Reading>,
    pub(super) units: Units,
    /// The distances looked at, of the set-up on the page.
    pub(super) distances_m: Vec<f64>,
    pub(super) held: Option<Rc<Held>>,
    shot: Answer<Shot>,
    legs: OnceCell<Answer<Legs>>,
}

impl Now {
    pub(super) fn read() -> Option<Self> {
        let reading = page::read()?;
        let (units, shot, distances_m) = (reading.units, Shot::of(reading.all()), distances_m(&reading.setup));
        Some(Self { reading, units, distances_m, held: Held::read(), shot, legs: OnceCell::new() })
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

    /// The shot of the set-up held, where there is one that flies.
    pub(super) fn held_shot(&self) -> Option<&Shot> {
        self.held.as_ref()?.shot.as_ref().ok()
    }
}

impl Held {
    fn read() -> Option<Rc<Self>> {
        let side = decide::held()?;
        HELD.with_borrow_mut(|known| {
            if known.as_ref().is_none_or(|known| !Rc::ptr_eq(&known.side, &side)) {
                *known = Some(Rc::new(Self { shot: Shot::of(&side.all), side }));
            }
            known.clone()
        })
    }
}
