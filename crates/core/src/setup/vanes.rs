//! The vanes of a setup, as the mechanics take them.

use crate::schema::Field;
use crate::setup::Resolved;
use clothyard_mechanics::flight::Vanes;

/// Minimum number of vanes that stabilize an arrow.
const MIN_VANES: u32 = 2;

fn count(resolved: &Resolved, field: Field) -> u32 {
    resolved.number(field) as u32
}

/// The vanes; `None` below two, which do not stabilize an arrow.
#[must_use]
pub fn vanes(resolved: &Resolved) -> Option<Vanes> {
    let count = count(resolved, Field::VaneCount);
    (count >= MIN_VANES).then(|| Vanes {
        count,
        length_m: resolved.si(Field::VaneLength),
        height_m: resolved.si(Field::VaneHeight),
        outline: resolved.choice(),
        rear_m: resolved.si(Field::VaneSetBack),
        offset_rad: resolved.si(Field::VaneOffset),
        mass_kg: resolved.si(Field::VaneMass) * resolved.number(Field::VaneCount),
    })
}
