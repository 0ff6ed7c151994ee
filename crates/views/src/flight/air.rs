//! The air, and the drag that is used in it.

use super::now::Now;
use super::shown;
use clothyard_studies::flight::slowing;
use clothyard_web as dom;

pub(super) fn show(now: &Now) {
    let Some(shot) = shown::or_why("conditions", now.shot()) else { return };
    let (resolved, units) = (&now.reading.all().resolved, &now.units);
    dom::write_id("conditions-drag", &slowing::which(shot, resolved, units));
    dom::write_id("conditions-slows", &slowing::effect(shot, units));
    shown::terms("conditions-terms", &slowing::working(shot, units));
}
