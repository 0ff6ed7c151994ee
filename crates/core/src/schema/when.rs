//! When an input applies, depending on the others: a column of the table of inputs.

use crate::schema::Field;

/// A condition on other inputs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum When {
    /// Always.
    Always,
    /// The input has a value.
    Given(Field),
    /// The input is greater than zero.
    Positive(Field),
    /// The choice has this answer, by its index.
    Chosen(Field, u8),
    /// The draw-force curve was measured.
    DrawForceMeasured,
    /// The bow is light or its archer is likely to grow.
    LightBow,
    /// The condition does not hold.
    Not(&'static Self),
    /// All conditions hold.
    All(&'static [Self]),
    /// At least one condition holds.
    Any(&'static [Self]),
}
