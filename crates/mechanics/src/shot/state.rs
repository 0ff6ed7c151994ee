//! Where a shot is: time, what holds the arrow, and the motion along the line of the string.

use super::string_motion::StringState;

/// What holds the arrow. Example: see [`super::Shot::simulate_with`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Phase {
    /// String and rest. Off the fingers: while the shaft touches the button or shelf.
    StringAndRest,
    /// The string alone.
    String,
    /// Not the string. Off the fingers the shaft may still touch the button or shelf.
    Free,
}

/// Time, phase and longitudinal motion.
#[derive(Clone, Copy)]
pub(super) struct State {
    pub(super) time_s: f64,
    pub(super) phase: Phase,
    pub(super) motion: StringState,
    pub(super) travel_m: f64,
    pub(super) acceleration: f64,
    /// The rest from the nock groove.
    pub(super) rest_m: f64,
}
