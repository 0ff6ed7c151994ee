//! The vanes of a setup for the mechanics.

use crate::schema::Field;
use crate::setup::Resolved;
use clothyard_mechanics::flight::Vanes;

/// Fewer fins than this steer nothing.
const LEAST_FINS: u32 = 2;

fn count(resolved: &Resolved, field: Field) -> u32 {
    resolved.number(field) as u32
}

/// The vanes that steer; none below two of them.
#[must_use]
pub fn vanes(resolved: &Resolved) -> Option<Vanes> {
    let count = count(resolved, Field::VaneCount);
    (count >= LEAST_FINS).then(|| Vanes {
        count,
        length_m: resolved.si(Field::VaneLength),
        height_m: resolved.si(Field::VaneHeight),
        outline: resolved.choice(),
        rear_m: resolved.si(Field::VaneSetBack),
        offset_rad: resolved.si(Field::VaneOffset),
        mass_kg: resolved.si(Field::VaneMass) * resolved.number(Field::VaneCount),
    })
}
