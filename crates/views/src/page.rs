//! The page's own set-up, as seen from here: read and answered once for each change, however many views ask.

use clothyard_core::{Evaluation, Setup, Units};
use clothyard_studies::analysis::compare::Side;
use clothyard_web::{self as dom, plain};
use std::cell::{OnceCell, RefCell};
use std::rc::Rc;
use wasm_bindgen::JsCast;
use wasm_bindgen::prelude::*;
use web_sys::Worker;

#[wasm_bindgen]
extern "C" {
    /// The hooks that the page's wasm exports.
    pub type Page;

    #[wasm_bindgen(method)]
    fn count_changes(this: &Page) -> u32;

    #[wasm_bindgen(method)]
    fn current_build(this: &Page) -> JsValue;

    #[wasm_bindgen(method)]
    fn load_build(this: &Page, setup: &JsValue);

    #[wasm_bindgen(method)]
    fn current_units(this: &Page) -> String;

    #[wasm_bindgen(method, catch)]
    fn start_worker(this: &Page) -> Result<JsValue, JsValue>;
}

/// What stands on the page between two changes.
pub(crate) struct Reading {
    pub(crate) setup: Setup,
    pub(crate) units: Units,
    side: OnceCell<Side>,
    change: u32,
}

impl Reading {
    fn new(page: &Page, change: u32) -> Option<Self> {
        let saved = plain::saved_build(&page.current_build()).ok()?;
        let setup = Setup::from_saved(&saved).ok()?;
        Some(Self { setup, units: Units::from_text(&page.current_units()), side: OnceCell::new(), change })
    }

    /// The set-up with its answers, worked out when they are first asked for.
    pub(crate) fn side(&self) -> &Side {
        self.side.get_or_init(|| Side::new(self.setup.clone()))
    }

    /// The answers alone.
    pub(crate) fn all(&self) -> &Evaluation {
        &self.side().all
    }
}

thread_local! {
    static PAGE: RefCell<Option<Page>> = const { RefCell::new(None) };
    static READING: RefCell<Option<Rc<Reading>>> = const { RefCell::new(None) };
}

/// Keeps the hooks for as long as the page lives.
pub(crate) fn install(page: Page) {
    PAGE.with(|cell| *cell.borrow_mut() = Some(page));
}

fn with<T>(ask: impl FnOnce(&Page) -> Option<T>) -> Option<T> {
    PAGE.with(|cell| cell.borrow().as_ref().and_then(ask))
}

/// What stands on the page.
pub(crate) fn read() -> Option<Rc<Reading>> {
    with(|page| {
        let change = page.count_changes();
        let known = READING.with_borrow(|reading| reading.clone().filter(|reading| reading.change == change));
        known.or_else(|| {
            let fresh = Some(Rc::new(Reading::new(page, change)?));
            READING.set(fresh.clone());
            fresh
        })
    })
}

/// The set-up on the page.
pub(crate) fn setup() -> Option<Setup> {
    read().map(|reading| reading.setup.clone())
}

/// The units chosen on the page.
pub(crate) fn units() -> Units {
    read().map_or(Units::ARCHERY, |reading| reading.units)
}

/// Puts a set-up on the page, undoably.
pub(crate) fn load(setup: &Setup) {
    let saved = plain::write(&setup.to_saved());
    with(|page| {
        page.load_build(&saved);
        Some(())
    });
}

/// A new worker; none where the page cannot have one.
pub(crate) fn worker() -> Option<Worker> {
    with(|page| page.start_worker().ok()?.dyn_into().ok())
}

/// Calls back whenever the set-up or the units on the page have changed.
pub(crate) fn on_change(handler: fn(web_sys::Event)) {
    if let Some(window) = dom::window() {
        dom::listen(&window, "clothyard-changed", handler);
    }
}
