//! Announcements: the newest text, at most once a second.

use super::ID;
use crate::context::Context;
use clothyard_web as dom;
use clothyard_web::bus::Tick;

const BETWEEN_MS: f64 = 1000.0;
const STATUS: &str = "projector-status";

#[derive(Default)]
pub(super) struct Announcements {
    said_at_ms: f64,
    waiting: Option<String>,
}

impl Announcements {
    /// Says some words as soon as it may; words that still wait give way to them.
    pub(super) fn say(&mut self, words: String, context: &Context) {
        if self.waiting.replace(words).is_none() {
            let wait = (self.said_at_ms + BETWEEN_MS - dom::now()).max(0.0);
            context.later(wait.ceil() as i32, Tick { view: ID, timer: "say", count: 0 });
        }
    }

    /// The time has come for the words that wait.
    pub(super) fn say_waiting(&mut self) {
        if let Some(words) = self.waiting.take() {
            self.said_at_ms = dom::now();
            dom::write_id(STATUS, &words);
        }
    }

    /// Says nothing more.
    pub(super) fn stop(&mut self) {
        self.waiting = None;
        dom::write_id(STATUS, "");
    }
}
