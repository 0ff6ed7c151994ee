//! What is read aloud: the newest words, at most once a second.

use clothyard_web as dom;
use core::cell::{Cell, RefCell};

const BETWEEN_MS: f64 = 1000.0;

thread_local! {
    static SAID_AT: Cell<f64> = const { Cell::new(0.0) };
    static WAITING: RefCell<Option<String>> = const { RefCell::new(None) };
}

/// Says some words as soon as it may; words that still wait give way to them.
pub(super) fn say(words: String) {
    let waited = WAITING.replace(Some(words)).is_some();
    if !waited {
        let wait = (SAID_AT.get() + BETWEEN_MS - dom::now()).max(0.0);
        dom::later(wait.ceil() as i32, say_now);
    }
}

fn say_now() {
    if let Some(words) = WAITING.take() {
        SAID_AT.set(dom::now());
        dom::write_id("projector-status", &words);
    }
}

/// Says nothing more.
pub(super) fn stop() {
    WAITING.set(None);
    dom::write_id("projector-status", "");
}
