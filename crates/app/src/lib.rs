//! The page: a plain form, a drawing to scale and live answers.
//!
//! The markup is in `www/index.html`; `www/more.html` and `www/tools.html` come later. This crate fills all three. What
//! happens comes as events to `update`, which changes the state (`state::App`); what the state asks for is then written
//! by `render`.

// What stays in the browser.
mod keep;

// The text to order or cut by.
mod order;

// What the page holds, what it does and what it shows.
mod entries;
mod points;
mod render;
mod state;
mod update;
mod visit;

use clothyard_core::{Setup, Units};
use clothyard_web::bus::{self, Bus, Event, OfWindow};
use clothyard_web::protocol::event;
use clothyard_web::{Kind, plain};
use state::App;
use wasm_bindgen::prelude::*;

/// A third of the code of the standard library's allocator.
#[global_allocator]
static ALLOCATOR: rlsf::SmallGlobalTlsf = rlsf::SmallGlobalTlsf::new();

thread_local! {
    /// The one cell of this module.
    static APP: Bus<App> = const { Bus::new() };
}

/// What hands do that concerns the form.
const OF_HANDS: &[Kind] = &[
    Kind::Input,
    Kind::Change,
    Kind::Click,
    Kind::Key,
    Kind::Focus,
    Kind::Leave,
    Kind::PointerDown,
    Kind::PointerCancel,
    Kind::Submit,
];

/// What happens to the window, as events.
const OF_THE_WINDOW: &[OfWindow] = &[
    (event::SAVE, || Event::Save),
    (event::MARKUP, || Event::Markup),
    (event::VISIT, || Event::Visit),
    ("visibilitychange", || Event::Save),
    ("resize", || Event::Resized),
    ("beforeprint", || Event::BeforePrint),
    ("afterprint", || Event::AfterPrint),
];

/// Puts an event in the queue.
fn post(event: Event) {
    APP.with(|bus| bus.post(event));
}

/// Starts the page; called once, when the wasm is there.
#[wasm_bindgen]
pub fn start() {
    clothyard_web::locale::follow();
    let Some(mut app) = App::open() else { return };
    app.start();
    APP.with(|bus| bus.install(app));
    bus::listen(post, OF_HANDS);
    bus::listen_window(post, OF_THE_WINDOW);
}

/// Asks the page something at once.
fn ask<T>(question: impl FnOnce(&App) -> T) -> Option<T> {
    APP.with(|bus| bus.ask(|app| question(app)))
}

/// The setup on the page, as a saved build in plain objects.
#[wasm_bindgen]
#[must_use]
pub fn current_build() -> JsValue {
    ask(|app| plain::write(&app.setup)).unwrap_or(JsValue::NULL)
}

/// The evaluation of the setup on the page, as numbers that core rebuilds it from.
#[wasm_bindgen]
#[must_use]
pub fn current_evaluation() -> Vec<f64> {
    ask(|app| app.evaluation.to_numbers()).unwrap_or_default()
}

/// How many setups have been evaluated in full by this module since the page was opened: for a test that none is
/// evaluated twice.
#[wasm_bindgen]
#[must_use]
pub fn count_evaluations() -> u32 {
    clothyard_core::eval::evaluations()
}

/// How often setup or units have changed since the page was opened.
#[wasm_bindgen]
#[must_use]
pub fn count_changes() -> u32 {
    ask(|app| app.changes).unwrap_or_default()
}

/// Puts a saved build on the page, undoably.
///
/// # Errors
/// `{code, field, value, minimum, maximum, message}`.
#[wasm_bindgen]
pub fn load_build(setup: &JsValue) -> Result<(), JsValue> {
    let setup = plain::read::<Setup>(setup).map_err(|error| plain::write(&error))?;
    post(Event::Load(Box::new(setup)));
    Ok(())
}

/// The units chosen on the page, as one line of text.
#[wasm_bindgen]
#[must_use]
pub fn current_units() -> String {
    ask(|app| app.units).unwrap_or(Units::ARCHERY).to_text()
}
