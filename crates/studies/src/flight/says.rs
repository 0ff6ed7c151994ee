//! Numbers of a flight in words, from SI.

use clothyard_core::format::{fixed, measured, trimmed};
use clothyard_core::units::{Quantity, Units};

/// A result with its unit.
pub(super) fn said(quantity: Quantity, si: f64, units: &Units) -> String {
    measured(quantity, quantity.from_si(si), units)
}

/// A distance to a tenth, without a trailing zero.
pub(super) fn distance(meters: f64, units: &Units) -> String {
    let shown = units.show(Quantity::Distance, Quantity::Distance.from_si(meters));
    format!("{}\u{a0}{}", trimmed(shown, 1), units.of(Quantity::Distance).symbol)
}

/// A size on the arrow, the target or the path.
pub(super) fn length(meters: f64, units: &Units) -> String {
    said(Quantity::Length, meters, units)
}

/// The same in a sentence about the path, a decimal less: the loose is never so exact.
pub(super) fn roughly(meters: f64, units: &Units) -> String {
    let unit = units.of(Quantity::Length);
    let shown = units.show(Quantity::Length, Quantity::Length.from_si(meters));
    format!("{}\u{a0}{}", trimmed(shown, unit.decimals.saturating_sub(1)), unit.symbol)
}

/// A share in hundredths.
pub(super) fn percent(share: f64) -> String {
    fixed(100.0 * share, 0)
}
