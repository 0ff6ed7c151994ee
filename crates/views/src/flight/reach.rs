//! How far the arrow can fly: a figure for safety.

use super::now::Now;
use super::shown;
use clothyard_studies::flight::reach::{LAYOUT, farthest};
use clothyard_web as dom;

pub(super) fn show(now: &Now) {
    let answer = now.shot().and_then(|shot| farthest(shot).map_err(|error| error.sentence().to_owned()));
    let Some(reach) = shown::or_why("reach", answer) else { return };
    dom::write_id("reach-words", &reach.sentence(&now.units));
    dom::write_id("reach-layout", LAYOUT);
}
