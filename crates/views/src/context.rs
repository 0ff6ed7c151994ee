//! What every view may ask for: the setup on the page, read and answered once for each change however many views are
//! open, the setup held beside it, and the page itself.

use crate::records::Records;
use clothyard_core::{Evaluation, Setup, Units};
use clothyard_studies::analysis::compare::EvaluatedSetup;
use clothyard_web::bus::{self, Event, Reply, Tick};
use clothyard_web::plain;
use clothyard_web::protocol::PageFunctions;
use core::cell::RefCell;
use std::rc::Rc;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{MessageEvent, Worker};

/// What is on the page between two changes.
pub(crate) struct Reading {
    pub(crate) setup: Setup,
    pub(crate) units: Units,
    evaluated: Rc<EvaluatedSetup>,
    change: u32,
}

impl Reading {
    fn new(page: &PageFunctions, change: u32) -> Option<Self> {
        let setup: Setup = plain::read(&page.current_build()).ok()?;
        // The page has evaluated it already; one of another build may send other numbers.
        let known = Evaluation::from_numbers(&setup, &page.current_evaluation());
        let all = known.unwrap_or_else(|| Evaluation::of(&setup));
        let evaluated = Rc::new(EvaluatedSetup { setup: setup.clone(), all });
        Some(Self { setup, units: Units::from_text(&page.current_units()), evaluated, change })
    }

    /// The setup with its answers.
    pub(crate) fn evaluated(&self) -> &Rc<EvaluatedSetup> {
        &self.evaluated
    }

    /// The answers alone.
    pub(crate) fn all(&self) -> &Evaluation {
        &self.evaluated.all
    }
}

/// What views share.
pub(crate) struct Context {
    page: PageFunctions,
    reading: RefCell<Option<Rc<Reading>>>,
    held: RefCell<Option<Rc<EvaluatedSetup>>>,
    /// What the user has saved by name.
    pub(crate) records: Rc<Records>,
}

impl Context {
    pub(crate) fn new(page: PageFunctions, records: Rc<Records>) -> Self {
        Self { page, reading: RefCell::default(), held: RefCell::default(), records }
    }

    /// What is on the page; none where it cannot be read.
    pub(crate) fn read(&self) -> Option<Rc<Reading>> {
        let change = self.page.count_changes();
        let known = self.reading.borrow().clone().filter(|reading| reading.change == change);
        known.or_else(|| {
            let fresh = Some(Rc::new(Reading::new(&self.page, change)?));
            self.reading.replace(fresh.clone());
            fresh
        })
    }

    /// The setup on the page.
    pub(crate) fn setup(&self) -> Option<Setup> {
        self.read().map(|reading| reading.setup.clone())
    }

    /// The units chosen on the page.
    pub(crate) fn units(&self) -> Units {
        self.read().map_or(Units::ARCHERY, |reading| reading.units)
    }

    /// Puts a setup on the page, undoably; [`Event::Setup`] follows.
    pub(crate) fn load(&self, setup: &Setup) {
        self.page.load_build(&plain::write(setup));
    }

    /// The setup held as A beside the one on the page, if one is.
    pub(crate) fn held(&self) -> Option<Rc<EvaluatedSetup>> {
        self.held.borrow().clone()
    }

    /// Holds a setup, or none; [`Event::Comparison`] follows.
    pub(crate) fn hold(&self, setup: Option<Rc<EvaluatedSetup>>) {
        self.held.replace(setup);
        self.post(Event::Comparison);
    }

    /// Tells the other views something, after this event.
    pub(crate) fn post(&self, event: Event) {
        crate::post(event);
    }

    /// A tick for a view after so many milliseconds.
    pub(crate) fn later(&self, milliseconds: i32, tick: Tick) {
        bus::later(crate::post, milliseconds, tick);
    }

    /// A reply to a view when a promise is kept, with what it brings, or broken, with none.
    pub(crate) fn reply_when(&self, promise: &JsValue, view: &'static str, what: &'static str) {
        bus::reply_when(crate::post, promise.unchecked_ref(), view, what);
    }

    /// A new worker, whose messages come to a view as replies, as does none when it could not start; none where the
    /// page cannot have one.
    pub(crate) fn start_worker(&self, view: &'static str, what: &'static str) -> Option<Worker> {
        let worker: Worker = self.page.start_worker().ok()?.dyn_into().ok()?;
        for kind in ["message", "error"] {
            let reply = move |event: web_sys::Event| {
                let value = event.dyn_ref::<MessageEvent>().map(MessageEvent::data);
                crate::post(Event::Reply(Reply { view, what, value }));
            };
            clothyard_web::listen(&worker, kind, Box::new(reply));
        }
        Some(worker)
    }
}
