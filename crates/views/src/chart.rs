//! Line charts, for the sections that are not views of the registry yet.

use clothyard_web::widgets::chart::LineChart;
pub(crate) use clothyard_web::widgets::chart::{Axis, Chart, Series, fit};
use clothyard_web::{self as dom, Dom};
use std::cell::RefCell;
use web_sys::Event;

thread_local! {
    static CHARTS: RefCell<Vec<(&'static str, LineChart)>> = const { RefCell::new(Vec::new()) };
}

/// Lets keys and pointer move the cursor of the chart with an id; called once.
pub(crate) fn start(id: &'static str) {
    let Some(drawing) = dom::by_id(&format!("{id}-chart")) else { return };
    CHARTS.with_borrow_mut(|charts| charts.push((id, LineChart::new(id))));
    dom::listen(&drawing, "keydown", |event: Event| each(&event, LineChart::key));
    for kind in ["pointermove", "pointerdown"] {
        dom::listen(&drawing, kind, |event: Event| each(&event, LineChart::pointer));
    }
}

/// Every chart looks for itself whether an event is in its drawing.
fn each(event: &Event, act: fn(&mut LineChart, &Dom)) {
    if let Some(dom) = Dom::of(event.clone()) {
        CHARTS.with_borrow_mut(|charts| charts.iter_mut().for_each(|(_, chart)| act(chart, &dom)));
    }
}

/// Draws the chart with an id anew; whether it has a number to draw.
pub(crate) fn show(id: &str, chart: Chart) -> bool {
    CHARTS.with_borrow_mut(|charts| {
        charts.iter_mut().find(|(known, _)| *known == id).is_some_and(|(_, shown)| shown.show(chart))
    })
}
