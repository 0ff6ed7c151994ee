//! The air, and the drag that is used in it.

use super::now::Now;
use super::shown;
use clothyard_dom as dom;
use clothyard_workbench::flight::slowing;

pub(super) fn show(now: &Now) {
    let Some(shot) = shown::or_why("conditions", now.shot()) else { return };
    let (settled, units) = (&now.reading.all().settled, &now.units);
    dom::write_id("conditions-drag", &slowing::which(shot, settled, units));
    dom::write_id("conditions-slows", &slowing::effect(shot, units));
    shown::terms("conditions-terms", &slowing::working(shot, units));
}
