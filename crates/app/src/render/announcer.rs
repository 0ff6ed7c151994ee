//! What is said aloud.

use crate::state::timer;
use clothyard_web as dom;
use clothyard_web::bus::{self, Tick};

/// Time to say aloud what waits.
const SAY: Tick = timer("say");

/// What waits to be said, and when something was said last.
#[derive(Default)]
pub(crate) struct Announcer {
    said_at: f64,
    to_say: Option<String>,
}

impl Announcer {
    /// Says a sentence aloud, at most one a second; the newest wins.
    pub(crate) fn announce(&mut self, words: String) {
        let waiting = self.to_say.replace(words).is_some();
        if waiting {
            return;
        }
        let wait = (self.said_at + 1000.0 - dom::now()).max(250.0);
        bus::later(crate::post, wait as i32, SAY);
    }

    /// It may be time to say something.
    pub(crate) fn on_tick(&mut self, tick: Tick) {
        if tick == SAY
            && let Some(words) = self.to_say.take()
        {
            self.said_at = dom::now();
            dom::write_id("status", &words);
        }
    }
}
