//! The arrow that the tests of this module share; its numbers are invented.

use super::stability::{ArrowShape, DEFAULT_YAW_RAD, FlyingArrow};
use super::vanes::{Outline, Vanes};

pub(super) const VANES: Vanes = Vanes {
    count: 3,
    length_m: 0.05,
    height_m: 0.012,
    outline: Outline::Shield,
    rear_m: 0.03,
    offset_rad: 0.03,
    mass_kg: 0.0012,
};

pub(super) const SHAPE: ArrowShape =
    ArrowShape { diameter_m: 0.006, tip_m: 0.735, nose_length_m: 0.015, vanes: Some(VANES), blades: None };

pub(super) const ARROW: FlyingArrow = FlyingArrow {
    length_m: 0.71,
    mass_kg: 0.022,
    balance_m: 0.46,
    transverse_inertia_kg_m2: 0.001_45,
    shape: SHAPE,
    yaw_rad: DEFAULT_YAW_RAD,
};
