//! The arrow as the flight model sees it.

use crate::schema::{Field, PointKind};
use crate::setup::{ModelError, PhysicalModel, Resolved, vanes};
use clothyard_mechanics::flight::{ArrowShape, Blades, FlyingArrow};

/// Share of the point's length over which it tapers (our own estimate, no source).
const NOSE_SHARE: f64 = 2.0 / 3.0;

/// Foremost end of the point ahead of the nock groove, m.
#[must_use]
pub fn tip_m(resolved: &Resolved, model: &PhysicalModel) -> f64 {
    let ahead = [Field::InsertAhead, Field::CollarLength, Field::PointLength];
    model.length_m + ahead.map(|part| resolved.si(part)).iter().sum::<f64>()
}

/// The blades of a broadhead as they fly; none on a field point.
#[must_use]
pub fn blades(resolved: &Resolved, model: &PhysicalModel) -> Option<Blades> {
    resolved.choice::<PointKind>().is_broadhead().then(|| Blades {
        count: resolved.number(Field::BladeCount) as u32,
        length_m: resolved.si(Field::BladeLength),
        width_m: resolved.si(Field::CuttingWidth),
        front_m: tip_m(resolved, model),
        // The mass of the blades is in that of the point.
        mass_kg: 0.0,
    })
}

/// Shape and mass of the arrow for its stability.
///
/// # Errors
/// [`ModelError::Mechanics`] if the shape is out of range.
pub fn flying(resolved: &Resolved, model: &PhysicalModel) -> Result<FlyingArrow, ModelError> {
    let shape = ArrowShape {
        diameter_m: resolved.si(Field::OuterDiameter),
        tip_m: tip_m(resolved, model),
        nose_length_m: NOSE_SHARE * resolved.si(Field::PointLength),
        vanes: vanes(resolved),
        blades: blades(resolved, model),
    };
    Ok(FlyingArrow::new(&model.arrow()?, shape)?)
}
