//! When an input plays a part beside the others: a column of the table of inputs.

use crate::schema::Field;

/// A condition on the other inputs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum When {
    /// Whatever the others are.
    Always,
    /// The field has a value.
    Given(Field),
    /// The number in the field is above zero.
    Positive(Field),
    /// The choice has this answer, by its place.
    Chosen(Field, u8),
    /// The draw-force curve was measured.
    DrawForceMeasured,
    /// The speeds measured tell the virtual mass.
    VirtualMassMeasured,
    /// The condition does not hold.
    Not(&'static Self),
    /// Every one of the conditions holds.
    All(&'static [Self]),
    /// At least one of the conditions holds.
    Any(&'static [Self]),
}
