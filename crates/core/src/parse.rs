//! Parses a number the way an archer writes it.
//!
//! `10.5`, `10,5`, `1 000`, `1'000`, `28 1/2`, `28-1/2`, `½`, `72 cm`, `28.5"`, `5'10"`. A comma with exactly three digits
//! behind it (`1,234`) can mean two numbers and is never guessed.

pub mod columns;
mod digits;
pub mod named;
pub mod number_list;
#[cfg(test)]
mod tests;

use self::digits::{digits_only, is_number_char, read_number, tidy};
use crate::units::{self, Quantity, Unit, Units, convert};

/// Why a typed text is not a number, or not one that is allowed.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum EntryError {
    /// The text is not a number.
    NotANumber,
    /// One comma and three digits: the person must say which is meant. Both in the saved unit.
    Ambiguous {
        /// The comma read as a decimal mark.
        as_decimal: f64,
        /// The comma read as a mark between thousands.
        as_thousands: f64,
    },
    /// Letters behind the number that name no unit of this quantity.
    UnknownUnit {
        /// What was typed behind the number.
        typed: String,
    },
    /// A fraction over zero.
    DivisionByZero,
    /// The number is outside the range of the field; all three in the saved unit.
    OutOfRange {
        /// What was typed.
        value: f64,
        /// Least allowed.
        minimum: f64,
        /// Most allowed.
        maximum: f64,
    },
    /// Only whole numbers are allowed.
    NotWhole,
    /// The number is allowed but hardly meant: the person must say so. In the saved unit.
    Unlikely {
        /// What was typed.
        value: f64,
        /// What may be meant instead.
        instead: Option<f64>,
    },
}

/// Reads a number typed in `unit` (or with a unit of its own behind it) and gives it in the saved unit.
///
/// A static spine may be typed as a deflection in inches (`.340`), as thousandths (`340`), or as wood shafts are sold, in
/// pounds (`45#`, `45-50#`).
///
/// # Errors
/// [`EntryError`], but never `OutOfRange` or `NotWhole`: the range belongs to the field.
pub fn read(text: &str, quantity: Quantity, unit: &'static Unit) -> Result<f64, EntryError> {
    let text = tidy(text);
    if quantity == Quantity::Length
        && let Some(inches) = feet_and_inches(&text)
    {
        return inches;
    }
    if quantity == Quantity::StaticSpine
        && let Some(pounds) = spine_in_pounds(&text)
    {
        return pounds;
    }
    let split = text.char_indices().find(|&(_, c)| !is_number_char(c)).map_or(text.len(), |(at, _)| at);
    let (number, suffix) = text.split_at_checked(split).ok_or(EntryError::NotANumber)?;
    let read = read_number(number.trim());
    if read == Err(EntryError::NotANumber) {
        return read;
    }
    let unit = named_unit(suffix.trim(), quantity, unit)?;
    let saved = |value: f64| {
        let saved = convert(value, unit, quantity.saved_unit());
        if quantity == Quantity::StaticSpine && saved.abs() < 3.0 { saved * 1000.0 } else { saved }
    };
    either(read, saved)
}

/// What is before and after the first place of a mark in a text. The library's own search for a text in a text would add
/// 3 KB to the first wasm.
#[must_use]
pub fn cut_at<'a>(text: &'a str, mark: &str) -> Option<(&'a str, &'a str)> {
    let place = text.as_bytes().windows(mark.len().max(1)).position(|window| window == mark.as_bytes())?;
    Some((text.get(..place)?, text.get(place + mark.len()..)?))
}

/// `5'10"`, `5 ft 10 in` or `6 ft`, in inches; none without feet.
fn feet_and_inches(text: &str) -> Option<Result<f64, EntryError>> {
    // Two marks are inches.
    let single = cut_at(text, "''").map_or_else(|| text.to_owned(), |(before, after)| format!("{before}\"{after}"));
    let (feet, inches) = ["feet", "foot", "ft.", "ft", "'"].into_iter().find_map(|mark| cut_at(&single, mark))?;
    let unit = Quantity::Length.saved_unit();
    let read = |text: &str| if text.trim().is_empty() { Ok(0.0) } else { read(text, Quantity::Length, unit) };
    Some(digits_only(feet.trim()).and_then(|feet| Ok(12.0 * feet + read(inches)?)))
}

/// `45#`, `45 lb` or a group such as `45-50#`, its middle, in thousandths of an inch; none without the unit.
fn spine_in_pounds(text: &str) -> Option<Result<f64, EntryError>> {
    let typed = Quantity::DrawWeight.saved_unit().typed;
    let number = typed.iter().find_map(|unit| text.strip_suffix(unit))?.trim();
    let pounds = match number.split_once('-').filter(|_| !number.contains('/')) {
        Some((low, high)) => read_number(low.trim()).and_then(|low| Ok((low + read_number(high.trim())?) / 2.0)),
        None => read_number(number),
    };
    let spine = |pounds: f64| if pounds > 0.0 { Ok(units::other_spine(pounds)) } else { Err(EntryError::NotANumber) };
    Some(pounds.and_then(spine))
}

/// Reads a number that must be in a range, typed in the unit chosen; in the saved unit. A comma that can be read in two
/// ways is read as the one that is in range, and a bound may be typed as it is shown.
///
/// # Errors
/// [`EntryError`] with the range in the saved unit, but never `NotWhole`.
pub fn read_in_range(
    text: &str,
    quantity: Quantity,
    units: &Units,
    minimum: f64,
    maximum: f64,
) -> Result<f64, EntryError> {
    let bounded = |value: f64| units.to_bound(quantity, value, minimum, maximum);
    let fits = |value: f64| (minimum..=maximum).contains(&value);
    let value = match either(read(text, quantity, units.of(quantity)), bounded) {
        Err(EntryError::Ambiguous { as_decimal, as_thousands }) if !fits(as_thousands) => as_decimal,
        Err(EntryError::Ambiguous { as_decimal, as_thousands }) if !fits(as_decimal) => as_thousands,
        read => read?,
    };
    if fits(value) { Ok(value) } else { Err(EntryError::OutOfRange { value, minimum, maximum }) }
}

/// Reads a number for something that has a label and no range of its own, typed in the unit chosen; in the saved unit.
///
/// # Errors
/// What is wrong, naming the label.
pub fn labeled(text: &str, label: &str, quantity: Quantity, units: &Units) -> Result<f64, String> {
    read(text, quantity, units.of(quantity)).map_err(|_| {
        let unit = units.of(quantity).symbol;
        let behind = if unit.is_empty() { String::new() } else { format!(" of {unit}") };
        format!("{label}: enter a number{behind}. 28.5, 28,5 and 28 1/2 all work.")
    })
}

/// The same done to a number and to both readings of one that can be two.
fn either(read: Result<f64, EntryError>, change: impl Fn(f64) -> f64) -> Result<f64, EntryError> {
    match read {
        Ok(value) => Ok(change(value)),
        Err(EntryError::Ambiguous { as_decimal, as_thousands }) => {
            Err(EntryError::Ambiguous { as_decimal: change(as_decimal), as_thousands: change(as_thousands) })
        }
        Err(error) => Err(error),
    }
}

fn named_unit(suffix: &str, quantity: Quantity, shown: &'static Unit) -> Result<&'static Unit, EntryError> {
    if suffix.is_empty() {
        return Ok(shown);
    }
    quantity
        .units()
        .iter()
        .find(|unit| unit.typed.contains(&suffix))
        .ok_or_else(|| EntryError::UnknownUnit { typed: suffix.to_owned() })
}
