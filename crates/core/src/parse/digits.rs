//! The digits of a number, however it is written: marks for decimals and thousands, fractions, signs.

use super::{EntryError, either};
use crate::format;

/// Lower case, one kind of space, of minus sign, of apostrophe and of fraction; a space for an apostrophe between
/// thousands.
pub(super) fn tidy(text: &str) -> String {
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

pub(super) fn is_number_char(c: char) -> bool {
    c.is_ascii_digit() || matches!(c, '.' | ',' | ' ' | '/' | '-' | '+')
}

pub(super) fn read_number(text: &str) -> Result<f64, EntryError> {
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

pub(super) fn digits_only(text: &str) -> Result<f64, EntryError> {
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
