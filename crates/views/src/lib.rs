//! The views of the page that are loaded when one of them is first opened, so that the first answer does not
//! wait for them.
//!
//! A view is a struct with its state, registered below. It learns what happens as [events](clothyard_web::bus::Event),
//! knows the setup on the page through the context, and hands a changed one back the same way.

// What views share.
mod context;
mod entry;
mod readings;
mod records;
mod save;
mod sharing;

// The views, section by section.
mod combinations;
mod comparison;
mod diagram;
mod effects;
mod flight;
mod lessons;
mod library;
mod measurements;
mod presenter;
mod production;
mod range_chart;
mod results;
mod shaft_list;
mod solve;

use clothyard_web::bus::{self, Bus, Event, OfWindow};
use clothyard_web::protocol::{PageFunctions, event};
use clothyard_web::{Kind, Registry, View};
pub use combinations::combine_piece;
use context::Context;
use records::Records;
use std::rc::Rc;
use wasm_bindgen::prelude::*;

/// Every view, in the order of the page.
fn views() -> Vec<Box<dyn View<Context>>> {
    let (shots, lesson) = (flight::Shots::shared(), presenter::Next::default());
    vec![
        Box::new(results::Results::new()),
        Box::new(flight::Air::new(&shots)),
        Box::new(flight::Distances::new(&shots)),
        Box::new(flight::PathFromTheSide::new(&shots)),
        Box::new(flight::SightMarks::new(&shots)),
        Box::new(flight::Judging::new(&shots)),
        Box::new(flight::SteadyFlight::new(&shots)),
        Box::new(flight::Rules::default()),
        Box::new(flight::Reach::new(&shots)),
        Box::new(diagram::ArrowPlan::default()),
        Box::new(diagram::SlowMotion::default()),
        Box::new(measurements::DrawForce::default()),
        Box::new(measurements::Speeds::default()),
        Box::new(measurements::FinishedArrow),
        Box::new(measurements::ReferenceArrow),
        Box::new(measurements::Fits),
        Box::new(shaft_list::ShaftList::default()),
        Box::new(production::Batch::default()),
        Box::new(production::BuildSheet::default()),
        Box::new(production::TuningLog::default()),
        Box::new(solve::Solve::default()),
        Box::new(effects::Effects::new()),
        Box::new(range_chart::RangeChart::new()),
        Box::new(combinations::Combinations::new()),
        Box::new(comparison::Comparison::new()),
        Box::new(library::Library::default()),
        Box::new(lessons::Lessons::new(&lesson)),
        Box::new(presenter::Presenter::new(&lesson)),
    ]
}

/// What happens to the window, as events.
const OF_THE_WINDOW: &[OfWindow] = &[
    (event::SETUP, || Event::Setup),
    (event::UNITS, || Event::Units),
    ("resize", || Event::Resized),
    ("fullscreenchange", || Event::Resized),
    ("beforeprint", || Event::BeforePrint),
    ("afterprint", || Event::AfterPrint),
    ("visibilitychange", || Event::Visibility),
    ("hashchange", || Event::Link),
];

thread_local! {
    /// The one cell of this module.
    static BUS: Bus<Registry<Context>> = const { Bus::new() };
}

/// Puts an event in the queue.
fn post(event: Event) {
    BUS.with(|bus| bus.post(event));
}

/// How many setups have been evaluated in full by this module since it was loaded: for a test that none is evaluated
/// twice.
#[wasm_bindgen]
#[must_use]
pub fn count_view_evaluations() -> u32 {
    clothyard_core::eval::evaluations()
}

/// Starts the views; called once, when their wasm is there.
#[wasm_bindgen]
pub fn start_views(page: PageFunctions) {
    clothyard_web::locale::follow();
    // What happens meanwhile waits in the bus.
    Records::open(|records| {
        let context = Rc::new(Context::new(page, records));
        BUS.with(|bus| bus.install(Registry::start(views(), context, post)));
    });
    bus::listen(post, Kind::ALL);
    bus::listen_window(post, OF_THE_WINDOW);
    bus::listen_storage(post);
}
