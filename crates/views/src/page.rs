//! The page's own set-up, as seen from here.

use clothyard_dom::{self as dom, plain};
use clothyard_workbench::{Build, Units};
use std::cell::RefCell;
use wasm_bindgen::JsCast;
use wasm_bindgen::prelude::*;
use web_sys::Worker;

#[wasm_bindgen]
extern "C" {
    /// The hooks that the page's wasm exports.
    pub type Page;

    #[wasm_bindgen(method)]
    fn current_build(this: &Page) -> JsValue;

    #[wasm_bindgen(method)]
    fn load_build(this: &Page, build: &JsValue);

    #[wasm_bindgen(method)]
    fn current_units(this: &Page) -> String;

    #[wasm_bindgen(method, catch)]
    fn start_worker(this: &Page) -> Result<JsValue, JsValue>;
}

thread_local! {
    static PAGE: RefCell<Option<Page>> = const { RefCell::new(None) };
}

/// Keeps the hooks for as long as the page lives.
pub(crate) fn install(page: Page) {
    PAGE.with(|cell| *cell.borrow_mut() = Some(page));
}

fn with<T>(ask: impl FnOnce(&Page) -> Option<T>) -> Option<T> {
    PAGE.with(|cell| cell.borrow().as_ref().and_then(ask))
}

/// The set-up on the page.
pub(crate) fn build() -> Option<Build> {
    let saved = with(|page| plain::saved_build(&page.current_build()).ok())?;
    Build::from_saved(&saved).ok()
}

/// The units chosen on the page.
pub(crate) fn units() -> Units {
    with(|page| Some(Units::from_text(&page.current_units()))).unwrap_or(Units::ARCHERY)
}

/// Puts a set-up on the page, undoably.
pub(crate) fn load(build: &Build) {
    let saved = plain::write(&build.to_saved());
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
