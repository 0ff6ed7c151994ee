//! About equally close to two stock spines: the sentence beside them that says which bends more nearly as it should.

use crate::context::Context;
use clothyard_studies::shot::verge::broken;
use clothyard_web::{self as dom, View};

const ID: &str = "verge-words";

pub(crate) struct Tie;

impl View<Context> for Tie {
    fn id(&self) -> &'static str {
        ID
    }

    /// The page shows the place for it only where there is a tie; elsewhere nothing need be computed.
    fn is_open(&self) -> bool {
        dom::by_id(ID).is_some_and(|words| !words.has_attribute("hidden"))
    }

    fn show(&mut self, context: &Context) {
        let Some(reading) = context.read() else { return };
        let decided = broken(&reading.setup, reading.all()).ok().flatten();
        dom::write_id(ID, &decided.map_or_else(String::new, |broken| broken.sentence()));
    }
}
