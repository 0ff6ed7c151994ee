//! Parses a number the way an archer writes it.
//!
//! `10.5`, `10,5`, `1 000`, `1'000`, `28 1/2`, `28-1/2`, `½`, `72 cm`, `28.5"`, `5'10"`. A comma with exactly three digits
//! behind it (`1,234`) can mean two numbers and is never guessed.

pub mod columns;
pub mod number_list;

use crate::format;
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

/// Lower case, one kind of space, of minus sign, of apostrophe and of fraction; a space for an apostrophe between
/// thousands.
fn tidy(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut rest = text.trim().chars();
    while let Some(c) = rest.next() {
        match c {
            '\'' | '’' | '′' => out.push(if begins_thousands(rest.as_str()) { ' ' } else { '\'' }),
            '\u{a0}' | '\u{2007}' | '\u{2009}' | '\u{202f}' | '\t' => out.push(' '),
            '\u{2212}' | '\u{2013}' => out.push('-'),
            '\u{2044}' => out.push('/'),
            '½' => out.push_str(" 1/2"),
            '⅓' => out.push_str(" 1/3"),
            '⅔' => out.push_str(" 2/3"),
            '¼' => out.push_str(" 1/4"),
            '¾' => out.push_str(" 3/4"),
            '⅛' => out.push_str(" 1/8"),
            '⅜' => out.push_str(" 3/8"),
            '⅝' => out.push_str(" 5/8"),
            '⅞' => out.push_str(" 7/8"),
            _ => out.push(c.to_ascii_lowercase()),
        }
    }
    out.trim().to_owned()
}

/// Whether three digits are next, and no fourth.
fn begins_thousands(text: &str) -> bool {
    text.bytes().take_while(u8::is_ascii_digit).count() == 3
}

fn is_number_char(c: char) -> bool {
    c.is_ascii_digit() || matches!(c, '.' | ',' | ' ' | '/' | '-' | '+')
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

fn read_number(text: &str) -> Result<f64, EntryError> {
    let (sign, digits) = match text.strip_prefix('-') {
        Some(rest) => (-1.0, rest.trim_start()),
        None => (1.0, text.strip_prefix('+').unwrap_or(text).trim_start()),
    };
    either(if digits.contains('/') { mixed(digits) } else { decimal(digits) }, |value| sign * value)
}

/// `1/2`, `28 1/2` or `28-1/2`.
fn mixed(text: &str) -> Result<f64, EntryError> {
    let (whole, fraction) = match text.rsplit_once([' ', '-']) {
        Some((whole, fraction)) => (digits_only(whole.trim())?, fraction),
        None => (0.0, text),
    };
    let (above, below) = fraction.split_once('/').ok_or(EntryError::NotANumber)?;
    let (above, below) = (digits_only(above)?, digits_only(below)?);
    if below <= 0.0 {
        return Err(EntryError::DivisionByZero);
    }
    Ok(whole + above / below)
}

fn digits_only(text: &str) -> Result<f64, EntryError> {
    let plain = !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit());
    if plain { parse(text) } else { Err(EntryError::NotANumber) }
}

/// A number with at most one decimal mark, and marks or spaces between thousands.
fn decimal(text: &str) -> Result<f64, EntryError> {
    let (points, commas) = (count(text, '.'), count(text, ','));
    match (points, commas) {
        (0, 0) => parse(&grouped(text, ' ')?),
        (1, 0) => parse(&fractional(text, '.', ' ')?),
        (0, 1) => one_comma(text),
        (0, _) => parse(&grouped(text, ',')?),
        (_, 0) => parse(&grouped(text, '.')?),
        (1, _) if text.rfind('.') > text.rfind(',') => parse(&fractional(text, '.', ',')?),
        (_, 1) if text.rfind(',') > text.rfind('.') => parse(&fractional(text, ',', '.')?),
        _ => Err(EntryError::NotANumber),
    }
}

fn one_comma(text: &str) -> Result<f64, EntryError> {
    let as_decimal = parse(&fractional(text, ',', ' ')?)?;
    match grouped(text, ',') {
        Ok(joined) if !text.starts_with('0') && !format::has_decimal_comma() => {
            Err(EntryError::Ambiguous { as_decimal, as_thousands: parse(&joined)? })
        }
        _ => Ok(as_decimal),
    }
}

/// Joins groups of three digits: `1 234 567`.
fn grouped(text: &str, mark: char) -> Result<String, EntryError> {
    let mut groups = text.split(mark);
    let first = groups.next().unwrap_or_default();
    let mut joined = first.to_owned();
    for group in groups {
        if group.len() != 3 || first.is_empty() || first.len() > 3 {
            return Err(EntryError::NotANumber);
        }
        joined.push_str(group);
    }
    Ok(joined)
}

/// `1 234,5` with `point` as decimal mark and `mark` between thousands, in Rust's own form.
fn fractional(text: &str, point: char, mark: char) -> Result<String, EntryError> {
    let (whole, part) = text.split_once(point).ok_or(EntryError::NotANumber)?;
    if whole.is_empty() && part.is_empty() {
        return Err(EntryError::NotANumber);
    }
    Ok(format!("{}.{part}", grouped(whole, mark)?))
}

fn count(text: &str, mark: char) -> usize {
    text.chars().filter(|&c| c == mark).count()
}

/// Digits with at most one point among them.
///
/// Whole number and power of ten are both exact in an `f64`, so their quotient is the nearest number to
/// what was written (Clinger 1990, the short way). The library's parser does the same for any length, but
/// its tables are a tenth of the page; 15 digits are more than a tape or a scale can give.
fn parse(text: &str) -> Result<f64, EntryError> {
    const MOST_DIGITS: usize = 15;
    let (whole, part) = text.split_once('.').unwrap_or((text, ""));
    let digits = whole.len() + part.len();
    let plain = whole.bytes().chain(part.bytes()).all(|byte| byte.is_ascii_digit());
    if !plain || digits == 0 || digits > MOST_DIGITS {
        return Err(EntryError::NotANumber);
    }
    let read = |number: u64, byte: u8| number * 10 + u64::from(byte - b'0');
    let number = whole.bytes().chain(part.bytes()).fold(0, read);
    let scale = part.bytes().fold(1, |scale: u64, _| scale * 10);
    Ok(number as f64 / scale as f64)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn length(text: &str) -> Result<f64, EntryError> {
        read(text, Quantity::Length, Quantity::Length.saved_unit())
    }

    #[test]
    fn a_labeled_number_says_what_is_wanted() {
        let read = |text, quantity| labeled(text, "Wanted", quantity, &Units::metric());
        assert!((read("2,54", Quantity::Length).unwrap() - 1.0).abs() < 1e-12);
        let end = ". 28.5, 28,5 and 28 1/2 all work.";
        assert_eq!(read("x", Quantity::Length), Err(format!("Wanted: enter a number of cm{end}")));
        assert_eq!(read("", Quantity::Ratio), Err(format!("Wanted: enter a number{end}")));
    }

    #[test]
    fn as_archers_write() {
        for (text, value) in [
            ("10.5", 10.5),
            ("10,5", 10.5),
            ("28 1/2", 28.5),
            ("28-1/2", 28.5),
            ("28½", 28.5),
            ("1/4", 0.25),
            (" 28 ", 28.0),
            ("28.5\"", 28.5),
            ("28.5 in", 28.5),
            ("-1/2", -0.5),
            ("−0,25", -0.25),
            ("0,125", 0.125),
            ("1 234", 1234.0),
            ("1,234.5", 1234.5),
            ("1.234,5", 1234.5),
            ("1,234,567", 1_234_567.0),
            (".5", 0.5),
            ("12,", 12.0),
            ("28⅝", 28.625),
            ("28\u{a0}3/4", 28.75),
            ("10,55", 10.55),
            ("10,5555", 10.5555),
            ("1'000", 1000.0),
            ("1’234’567.5", 1_234_567.5),
            ("5'10\"", 70.0),
            ("5’ 10 1/2″", 70.5),
            ("5 ft 10 in", 70.0),
            ("5ft10", 70.0),
            ("6'", 72.0),
            ("6 feet", 72.0),
            ("70''", 70.0),
            ("5'10''", 70.0),
        ] {
            assert_eq!(length(text), Ok(value), "{text}");
        }
    }

    #[test]
    fn typed_units() {
        assert!((length("72 cm").unwrap() - 28.346_456_692_9).abs() < 1e-9);
        assert_eq!(read("60#", Quantity::DrawWeight, Quantity::DrawWeight.saved_unit()), Ok(60.0));
        assert!(
            (read("27 kg", Quantity::DrawWeight, Quantity::DrawWeight.saved_unit()).unwrap() - 59.524_810_8).abs()
                < 1e-6
        );
        assert_eq!(length("3 kg"), Err(EntryError::UnknownUnit { typed: "kg".into() }));
        let metric = Units::metric();
        assert_eq!(read("28 in", Quantity::Length, metric.of(Quantity::Length)), Ok(28.0));
    }

    #[test]
    fn spine_both_ways() {
        let unit = Quantity::StaticSpine.saved_unit();
        assert_eq!(read(".340", Quantity::StaticSpine, unit), Ok(340.0));
        assert_eq!(read("0,5", Quantity::StaticSpine, unit), Ok(500.0));
        assert_eq!(read("500", Quantity::StaticSpine, unit), Ok(500.0));
        // 26 / 45 = 0.5778 in under 2 lb on 26 in; (1.94 / 2) (28 / 26)^3 times as far under 1.94 lb on 28 in.
        let pounds = |text: &str| read(text, Quantity::StaticSpine, unit).unwrap();
        assert!((pounds("45#") / 700.0 - 1.0).abs() < 1e-4 && pounds("45 lb") == pounds("45#"));
        assert!(
            (pounds("45-50#") - pounds("47.5#")).abs() < 1e-9 && (pounds("45 1/2#") - pounds("45,5 lbs")).abs() < 1e-9
        );
        for text in ["#", "-5#", "0#", "45-x#", "a#"] {
            assert_eq!(read(text, Quantity::StaticSpine, unit), Err(EntryError::NotANumber), "{text}");
        }
        for text in [".340 in", ".34\"", "340 thou"] {
            assert_eq!(read(text, Quantity::StaticSpine, unit), Ok(340.0), "{text}");
        }
    }

    #[test]
    fn ambiguous_asks() {
        assert_eq!(length("1,234"), Err(EntryError::Ambiguous { as_decimal: 1.234, as_thousands: 1234.0 }));
        assert_eq!(length("-28,125"), Err(EntryError::Ambiguous { as_decimal: -28.125, as_thousands: -28125.0 }));
        let Err(EntryError::Ambiguous { as_decimal, as_thousands }) = length("28,448 cm") else { panic!("not asked") };
        assert!((as_decimal - 11.2).abs() < 1e-9 && (as_thousands - 11_200.0).abs() < 1e-6);
    }

    #[test]
    fn not_numbers() {
        for text in [
            "",
            "-",
            ".",
            ",",
            "abc",
            "1e9",
            "1..2",
            "1,2,3",
            "1 23",
            "--1",
            "1/",
            "/2",
            "1 2/3/4",
            "NaN",
            "inf",
            "28 1/2 1/2",
            "5-5",
            "5'x",
            "'10",
            "5.5'3",
        ] {
            assert!(
                matches!(length(text), Err(EntryError::NotANumber | EntryError::UnknownUnit { .. })),
                "{text}: {:?}",
                length(text)
            );
        }
        assert_eq!(length("1/0"), Err(EntryError::DivisionByZero));
    }

    proptest! {
        #[test]
        fn any_text_gives_a_finite_number_or_an_error(text in "\\PC{0,24}") {
            if let Ok(value) = length(&text) {
                prop_assert!(value.is_finite());
            }
        }

        #[test]
        fn the_nearest_number_is_read(whole in 0u64..10_000_000, part in 0u32..10_000_000) {
            let text = format!("{whole}.{part:07}");
            prop_assert_eq!(length(&text).map(f64::to_bits), Ok(text.parse::<f64>().unwrap().to_bits()));
        }

        #[test]
        fn point_and_comma_read_alike(whole in 0u32..999, part in 0u32..99) {
            let point = length(&format!("{whole}.{part:02}"));
            prop_assert_eq!(point.clone(), length(&format!("{whole},{part:02}")));
            prop_assert_eq!(point, format!("{whole}.{part:02}").parse().map_err(|_| EntryError::NotANumber));
        }
    }
}
