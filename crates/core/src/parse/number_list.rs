//! Parses several values of one input at once.
//!
//! Values are separated by semicolons or spaces: `100; 125; 150`, `28 1/2 29`, `60,5 61`. A stretch of them is
//! written `60 to 70 by 2`; without `by` it goes in the input's own steps.

use crate::format;
use crate::parse;
use crate::parse::EntryError;
use crate::schema::{Input, Kind, Value};
use crate::units::{Quantity, Units, clamp};

/// Most values that are read at once.
pub const MOST_VALUES: usize = 250;

/// Why a text is not several values of an input.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum SeveralError {
    /// A value that cannot be read or is not allowed.
    Entry(EntryError),
    /// What follows `by` is no number above zero.
    Step,
    /// There is no value.
    Empty,
    /// More than [`MOST_VALUES`].
    TooMany {
        /// How many there would be.
        count: usize,
    },
}

impl From<EntryError> for SeveralError {
    fn from(error: EntryError) -> Self {
        Self::Entry(error)
    }
}

/// Reads the values of a numeric input, in its saved unit and in the order written, none of them twice.
///
/// # Errors
/// [`SeveralError`].
pub fn read(input: &Input, text: &str, units: &Units) -> Result<Vec<f64>, SeveralError> {
    let mut values: Vec<f64> = Vec::new();
    let mut put = |value: f64| {
        if !values.iter().any(|&other| (other - value).abs() < 1e-9) {
            values.push(value);
        }
    };
    for piece in text.split(';').map(str::trim).filter(|piece| !piece.is_empty()) {
        let lower = piece.to_ascii_lowercase();
        if let Some((from, rest)) = lower.split_once(" to ") {
            stretch(input, from, rest, units)?.into_iter().for_each(&mut put);
        } else {
            for one in apart(piece) {
                put(number(input, &one, units)?);
            }
        }
    }
    match values.len() {
        0 => Err(SeveralError::Empty),
        count if count > MOST_VALUES => Err(SeveralError::TooMany { count }),
        _ => Ok(values),
    }
}

fn number(input: &Input, text: &str, units: &Units) -> Result<f64, SeveralError> {
    match input.read(text, units)? {
        Some(Value::Number(number)) => Ok(number),
        _ => Err(SeveralError::Empty),
    }
}

/// Values apart at their spaces; a fraction or a unit belongs to the number before it.
pub fn apart(text: &str) -> Vec<String> {
    let mut list: Vec<String> = Vec::new();
    for word in text.split([' ', '\t']).filter(|word| !word.is_empty()) {
        // A comma with a space behind it is no decimal mark.
        let word = word.strip_suffix(',').unwrap_or(word);
        let begins = word.starts_with(|c: char| c.is_ascii_digit() || matches!(c, '.' | ',' | '+' | '-' | '−'));
        match list.last_mut() {
            Some(last) if !begins || word.contains('/') && !word.contains('-') => {
                last.push(' ');
                last.push_str(word);
            }
            _ => list.push(word.to_owned()),
        }
    }
    list
}

fn stretch(input: &Input, from: &str, rest: &str, units: &Units) -> Result<Vec<f64>, SeveralError> {
    let Kind::Number { quantity, step, .. } = input.kind else { return Err(SeveralError::Empty) };
    let (to, by) = rest.split_once(" by ").map_or((rest, None), |(to, by)| (to, Some(by)));
    let (from, to) = (number(input, from, units)?, number(input, to, units)?);
    let show = |saved: f64| units.show(quantity, saved);
    let by = match by {
        Some(by) => step_typed(by, quantity, units)?,
        None => units.round_step(quantity, step),
    };
    let whole = (show(to) - show(from)).abs() / by + 1e-6;
    if whole >= MOST_VALUES as f64 {
        return Err(SeveralError::TooMany { count: whole as usize + 1 });
    }
    let by = if to < from { -by } else { by };
    // Without the last bits that steps of a tenth leave, and never past the end.
    let tidy = |shown: f64| (shown * 1e6).round() / 1e6;
    let value = |place: usize| units.save(quantity, tidy(show(from) + by * place as f64));
    Ok((0..=whole as usize).map(|place| clamp(value(place), from.min(to), from.max(to))).collect())
}

/// A step in the unit shown.
fn step_typed(text: &str, quantity: Quantity, units: &Units) -> Result<f64, SeveralError> {
    let saved = parse::read(text, quantity, units.of(quantity)).map_err(|_| SeveralError::Step)?;
    let step = units.show(quantity, saved);
    if step > 0.0 { Ok(step) } else { Err(SeveralError::Step) }
}

/// What is wrong with what was typed, and what is allowed.
#[must_use]
pub fn message(input: &Input, error: &SeveralError, units: &Units) -> String {
    let label = input.label;
    match error {
        SeveralError::Entry(error) => format::entry_message(input, error, units),
        SeveralError::Step => format!("{label}: after \u{201c}by\u{201d} enter a number above 0."),
        SeveralError::Empty => format!("{label}: enter at least one value, for example {}.", example(input, units)),
        SeveralError::TooMany { count } => {
            format!("{label}: {count} values, {MOST_VALUES} at most.")
        }
    }
}

/// The ends of what is usual, as a list of two.
fn example(input: &Input, units: &Units) -> String {
    let Kind::Number { quantity, minimum, maximum, slider, .. } = input.kind else { return String::new() };
    let (low, high) = slider.unwrap_or((minimum, maximum));
    format!("{}; {}", format::entered(quantity, low, units), format::entered(quantity, high, units))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Field;

    fn values(field: Field, text: &str) -> Vec<f64> {
        read(field.input(), text, &Units::ARCHERY).unwrap()
    }

    fn refused(field: Field, text: &str) -> SeveralError {
        read(field.input(), text, &Units::ARCHERY).unwrap_err()
    }

    #[test]
    fn semicolons_spaces_and_commas() {
        for text in
            ["100; 125; 150", "100 125 150", "100, 125, 150", " 100;125 ; 150 ", "100 gr; 125gr 150", "100;;125 150;"]
        {
            assert_eq!(values(Field::PointMass, text), [100.0, 125.0, 150.0], "{text}");
        }
        assert_eq!(values(Field::PointMass, "100,5; 125,25"), [100.5, 125.25]);
        assert_eq!(values(Field::PointMass, "100,5 125,25"), [100.5, 125.25]);
        assert_eq!(values(Field::PointMass, "125; 100; 125"), [125.0, 100.0]);
    }

    #[test]
    fn fractions_and_units_stay_with_their_number() {
        assert_eq!(values(Field::CutLength, "28 28 1/2 29-1/4 30½"), [28.0, 28.5, 29.25, 30.5]);
        assert_eq!(values(Field::CutLength, "28\" 28 ½ in; 29 in"), [28.0, 28.5, 29.0]);
        assert_eq!(values(Field::CutLength, "28,125; 28 3/8"), [28.125, 28.375]);
    }

    #[test]
    fn stretches() {
        assert_eq!(values(Field::PeakDrawWeight, "60 to 64 by 1; 70"), [60.0, 61.0, 62.0, 63.0, 64.0, 70.0]);
        assert_eq!(values(Field::PeakDrawWeight, "64 TO 60 by 2"), [64.0, 62.0, 60.0]);
        assert_eq!(values(Field::CutLength, "27 to 28 by 0,25"), [27.0, 27.25, 27.5, 27.75, 28.0]);
        assert_eq!(values(Field::CutLength, "27 to 27,5"), [27.0, 27.125, 27.25, 27.375, 27.5], "the input's own step");
        assert_eq!(values(Field::VaneMass, "6 to 6.3 by 0.1"), [6.0, 6.1, 6.2, 6.3]);
        assert_eq!(values(Field::PointMass, "100 to 110 by 25"), [100.0]);
        let metric = read(Field::CutLength.input(), "70 to 72 by 1", &Units::metric()).unwrap();
        let expected = [70.0, 71.0, 72.0].map(|cm| cm / 2.54);
        assert!(metric.iter().zip(expected).all(|(got, wanted)| (got - wanted).abs() < 1e-9), "{metric:?}");
    }

    #[test]
    fn what_cannot_be_read_is_named() {
        let field = Field::PointMass;
        assert_eq!(refused(field, " ; "), SeveralError::Empty);
        assert_eq!(refused(field, "100; abc"), SeveralError::Entry(EntryError::NotANumber));
        assert!(matches!(refused(field, "100; 5"), SeveralError::Entry(EntryError::OutOfRange { value: 5.0, .. })));
        assert_eq!(refused(field, "100 to 200 by 0"), SeveralError::Step);
        assert_eq!(refused(field, "100 to 200 by x"), SeveralError::Step);
        assert_eq!(refused(field, "100 to 600 by 1"), SeveralError::TooMany { count: 501 });
        for (error, words) in [
            (SeveralError::Empty, "Point weight: enter at least one value, for example 50; 250."),
            (SeveralError::Step, "Point weight: after “by” enter a number above 0."),
            (SeveralError::TooMany { count: 501 }, "Point weight: 501 values, 250 at most."),
        ] {
            assert_eq!(message(field.input(), &error, &Units::ARCHERY), words);
        }
        let error = refused(field, "100; 5");
        let words = message(field.input(), &error, &Units::ARCHERY);
        assert_eq!(words, "Point weight: 5 is out of range; enter 10 to 600\u{a0}gr.");
    }
}
