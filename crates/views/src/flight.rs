//! What the arrow does after it leaves.

mod air;
mod distances;
mod judging;
mod marks;
mod now;
mod reach;
mod rules;
mod shown;
mod side;
mod steady;

use crate::{ask, page};
use clothyard_web as dom;
use now::Now;
use std::cell::Cell;
use web_sys::Event;

/// Changes within this time are shown once, when the page has painted its own answers.
const TOGETHER_MS: i32 = 40;

/// Shows a view that is open.
type Show = fn(&Now);

/// The views by their ids.
const VIEWS: [(&str, Show); 8] = [
    ("conditions", air::show),
    ("distances", distances::show),
    ("side", side::show),
    ("marks", marks::show),
    ("judging", judging::show),
    ("steady", steady::show),
    ("rules", rules::show),
    ("reach", reach::show),
];

thread_local! {
    static WAITING: Cell<bool> = const { Cell::new(false) };
    /// The view to look at next: a change begins anew with the first.
    static NEXT: Cell<usize> = const { Cell::new(0) };
}

/// Starts every view; called once.
pub(crate) fn start() {
    for (id, _) in VIEWS {
        if let Some(view) = dom::by_id(id) {
            dom::listen(&view, "toggle", on_change);
        }
    }
    page::on_change(on_change);
    if let Some(window) = dom::window() {
        dom::listen(&window, "resize", on_change);
        // Another tab may have held another set-up.
        dom::listen(&window, "storage", on_change);
    }
    if let Some(beside) = dom::by_id("beside") {
        dom::listen(&beside, "click", on_change);
    }
    distances::start();
    side::start();
    marks::start();
    judging::start();
    steady::start();
    rules::start();
    on_change_now();
}

fn on_change(_: Event) {
    on_change_now();
}

fn on_change_now() {
    NEXT.set(0);
    wait(TOGETHER_MS);
}

fn wait(milliseconds: i32) {
    if !WAITING.replace(true) {
        dom::later(milliseconds, show);
    }
}

/// Shows the next view that is open, and comes back for the others: a hand on the page is never kept waiting for more
/// than one.
fn show() {
    WAITING.set(false);
    let open = VIEWS.iter().enumerate().skip(NEXT.get()).find(|(_, (id, _))| ask::is_open(id));
    if let Some((place, (_, show))) = open
        && let Some(now) = Now::read()
    {
        show(&now);
        NEXT.set(place + 1);
        wait(0);
    }
}
