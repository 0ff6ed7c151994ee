//! Numbers and their units: as programs read them, as they are written in a field, and as people are shown them.

use crate::units::{Quantity, Unit, Units};
use core::sync::atomic::{AtomicBool, Ordering};

/// Millimeters in an inch (exact).
const MM_PER_INCH: f64 = 25.4;

/// Whether people here write a comma before decimals. One for the whole program, as the reader is one.
static DECIMAL_COMMA: AtomicBool = AtomicBool::new(false);

/// Chooses between decimal comma and decimal point, for people and fields. Files, links and attributes keep the point.
pub fn use_decimal_comma(comma: bool) {
    DECIMAL_COMMA.store(comma, Ordering::Relaxed);
}

/// Whether decimals have a comma before them.
#[must_use]
pub fn has_decimal_comma() -> bool {
    DECIMAL_COMMA.load(Ordering::Relaxed)
}

/// A number with the reader's decimal mark.
fn marked(number: String) -> String {
    if has_decimal_comma() { number.replace('.', ",") } else { number }
}

/// A number with a fixed count of decimals, at most six, halves rounded away from zero; never "-0". Below zero it
/// begins with a hyphen, as programs read it: [`said`] is for people.
///
/// Numbers on the page are far below 2^53 in their last decimal, so whole-number arithmetic is exact
/// enough, and spares the page the library's code for numbers of any size. One that is larger, or not
/// finite, is shown as a dash.
#[must_use]
pub fn fixed(value: f64, decimals: usize) -> String {
    let places = decimals.min(6);
    let scale = (0..places).fold(1_u64, |scale, _| scale * 10);
    let scaled = value.abs() * scale as f64 + 0.5;
    if !scaled.is_finite() || scaled > 9e15 {
        return "–".to_owned();
    }
    let whole = scaled as u64;
    let sign = if value < 0.0 && whole > 0 { "-" } else { "" };
    if places == 0 {
        return format!("{sign}{whole}");
    }
    format!("{sign}{}.{:0places$}", whole / scale, whole % scale)
}

/// A number with at most so many decimals, without trailing zeros.
#[must_use]
pub fn trimmed(value: f64, most_decimals: usize) -> String {
    let text = fixed(value, most_decimals);
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

/// The same number as people are shown it: with their decimal mark, and with a minus sign, which is as wide as a figure,
/// in place of the hyphen.
#[must_use]
pub fn for_people(number: &str) -> String {
    marked(number.replace('-', "−"))
}

/// A number for people with a fixed count of decimals, as [`fixed`].
#[must_use]
pub fn said(value: f64, decimals: usize) -> String {
    for_people(&fixed(value, decimals))
}

/// A whole number for people, its thousands apart.
#[must_use]
pub fn grouped(count: usize) -> String {
    let (rest, last) = (count / 1000, count % 1000);
    if rest == 0 { last.to_string() } else { format!("{}\u{a0}{last:03}", grouped(rest)) }
}

/// A number for people and its unit, with the space the unit wants.
fn joined(number: &str, unit: &Unit) -> String {
    let number = for_people(number);
    match unit.symbol {
        "" => number,
        symbol @ ("°" | "%") => format!("{number}{symbol}"),
        symbol => format!("{number}\u{a0}{symbol}"),
    }
}

/// A result with its unit.
#[must_use]
pub fn measured(quantity: Quantity, saved: f64, units: &Units) -> String {
    let unit = units.of(quantity);
    joined(&fixed(units.show(quantity, saved), unit.decimals), unit)
}

/// A result with its unit and without decimals: pounds and grains as people say them. Units larger than these keep one
/// decimal.
#[must_use]
pub fn whole(quantity: Quantity, saved: f64, units: &Units) -> String {
    joined(&bare_whole(quantity, saved, units), units.of(quantity))
}

/// The number of [`whole`], without its unit.
#[must_use]
pub fn bare_whole(quantity: Quantity, saved: f64, units: &Units) -> String {
    let decimals = usize::from(units.index(quantity) > 0);
    fixed(units.show(quantity, saved), decimals)
}

/// A static spine as it is called: `340`.
#[must_use]
pub fn spine(thousandths: f64) -> String {
    fixed(thousandths, 0)
}

/// A length as one cuts it: inches in eighths, `28 1/4 in`, else millimeters.
#[must_use]
pub fn length(inches: f64, units: &Units) -> String {
    if units.index(Quantity::Length) > 0 {
        return format!("{}\u{a0}mm", fixed(inches * MM_PER_INCH, 0));
    }
    let eighths = (inches.max(0.0) * 8.0 + 0.5) as u32;
    let part = match eighths % 8 {
        0 => "",
        1 => " 1/8",
        2 => " 1/4",
        3 => " 3/8",
        4 => " 1/2",
        5 => " 5/8",
        6 => " 3/4",
        _ => " 7/8",
    };
    format!("{}{part}\u{a0}in", eighths / 8)
}

/// The number of a result, without its unit.
#[must_use]
pub fn bare(quantity: Quantity, saved: f64, units: &Units) -> String {
    said(units.show(quantity, saved), units.of(quantity).decimals)
}

/// An input as it is written in its field.
#[must_use]
pub fn entered(quantity: Quantity, saved: f64, units: &Units) -> String {
    marked(in_column(quantity, saved, units))
}

/// The same in a column of numbers, where a comma may part two of them.
#[must_use]
pub fn in_column(quantity: Quantity, saved: f64, units: &Units) -> String {
    trimmed(units.show(quantity, saved), units.of(quantity).entry_decimals)
}

/// An input with its unit, for a sentence.
#[must_use]
pub fn entered_with_unit(quantity: Quantity, saved: f64, units: &Units) -> String {
    joined(&entered(quantity, saved, units), units.of(quantity))
}

/// What is allowed, from the least to the most.
#[must_use]
pub fn allowed(quantity: Quantity, minimum: f64, maximum: f64, units: &Units) -> String {
    let least = for_people(&entered(quantity, minimum, units));
    format!("{least} to {}", entered_with_unit(quantity, maximum, units))
}

/// The heading of numbers: what they are, and their unit.
#[must_use]
pub fn heading(label: &str, quantity: Quantity, units: &Units) -> String {
    match units.of(quantity).symbol {
        "" => label.to_owned(),
        symbol => format!("{label}, {symbol}"),
    }
}

/// A difference's words with their sign; none where it reads as zero.
#[must_use]
pub fn signed(words: &str) -> Option<String> {
    let number = words.split('\u{a0}').next().unwrap_or_default();
    let something = number.bytes().any(|byte| (b'1'..=b'9').contains(&byte));
    something.then(|| if words.starts_with('−') { words.to_owned() } else { format!("+{words}") })
}

/// By how much a result moved, as the difference of the two numbers shown, with its sign and unit; none where both read
/// the same.
#[must_use]
pub fn moved(quantity: Quantity, before: f64, after: f64, units: &Units) -> Option<String> {
    let unit = units.of(quantity);
    let shown = |saved: f64| fixed(units.show(quantity, saved), unit.decimals).parse().unwrap_or(f64::NAN);
    let by: f64 = shown(after) - shown(before);
    signed(&joined(&fixed(by, unit.decimals), unit))
}

/// A difference with its unit, and its sign unless it reads as zero.
#[must_use]
pub fn change(quantity: Quantity, by: f64, units: &Units) -> String {
    let words = measured(quantity, by, units);
    signed(&words).unwrap_or(words)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_move_is_the_difference_of_the_numbers_shown() {
        let moved = |before, after| moved(Quantity::Speed, before, after, &Units::ARCHERY);
        // 279.6 and 280.4 are both shown as 280.
        assert_eq!(moved(279.6, 280.4), None);
        assert_eq!(moved(279.4, 280.6).as_deref(), Some("+2\u{a0}fps"));
        assert_eq!(moved(280.6, 279.4).as_deref(), Some("−2\u{a0}fps"));
    }

    #[test]
    fn numbers_as_people_write_them() {
        assert_eq!(fixed(-0.001, 1), "0.0");
        assert_eq!((fixed(-1.26, 1), said(-1.26, 1)), ("-1.3".to_owned(), "−1.3".to_owned()));
        assert_eq!(fixed(f64::NAN, 1), "–");
        assert_eq!(fixed(12.005, 2), "12.01");
        assert_eq!(trimmed(28.50, 3), "28.5");
        assert_eq!(trimmed(100.0, 0), "100");
        assert_eq!(trimmed(0.204, 4), "0.204");
        assert_eq!(entered_with_unit(Quantity::Length, 28.5, &Units::metric()), "72.39\u{a0}cm");
        assert_eq!(measured(Quantity::Percent, 12.34, &Units::ARCHERY), "12.3%");
        assert_eq!(measured(Quantity::Length, -0.5, &Units::ARCHERY), "−0.50\u{a0}in");
        assert_eq!(entered(Quantity::Angle, -2.5, &Units::ARCHERY), "-2.5");
        assert_eq!(allowed(Quantity::Angle, -10.0, 10.0, &Units::ARCHERY), "−10 to 10°");
        assert_eq!(heading("Place", Quantity::Length, &Units::metric()), "Place, cm");
        assert_eq!(heading("Spine", Quantity::StaticSpine, &Units::metric()), "Spine");
    }

    #[test]
    fn lengths_in_eighths_and_whole_pounds() {
        let say = |inches: f64| length(inches, &Units::ARCHERY);
        assert_eq!(
            [28.25, 28.0, 27.94, 0.125].map(say),
            ["28 1/4\u{a0}in", "28\u{a0}in", "28\u{a0}in", "0 1/8\u{a0}in"]
        );
        assert_eq!(length(28.25, &Units::metric()), "718\u{a0}mm");
        assert_eq!(spine(340.4), "340");
        let pounds = |units: &Units| whole(Quantity::DrawWeight, 58.6, units);
        assert_eq!([pounds(&Units::ARCHERY), pounds(&Units::metric())], ["59\u{a0}lb", "26.6\u{a0}kg"]);
    }

    #[test]
    fn thousands_are_apart() {
        let all = [0, 999, 1000, 44_421, 1_000_050].map(grouped);
        assert_eq!(all, ["0", "999", "1\u{a0}000", "44\u{a0}421", "1\u{a0}000\u{a0}050"]);
    }

    #[test]
    fn a_change_has_its_sign_and_zero_has_none() {
        let change = |by: f64| change(Quantity::Percent, by, &Units::ARCHERY);
        assert_eq!([1.26, -1.26, 0.04, -0.04].map(change), ["+1.3%", "−1.3%", "0.0%", "0.0%"]);
        assert_eq!(change(f64::NAN), "–%");
        assert_eq!((signed("0.0\u{a0}1/8"), signed("10°").as_deref()), (None, Some("+10°")));
    }

    proptest! {
        #[test]
        fn fixed_is_the_library_s_but_for_ties(value in -1e7..1e7f64, decimals in 0usize..=6) {
            let (ours, theirs) = (fixed(value, decimals), format!("{value:.decimals$}"));
            let apart = (ours.parse::<f64>().unwrap() - theirs.parse::<f64>().unwrap()).abs() * 10f64.powi(decimals as i32);
            let tie = ((value.abs() * 10f64.powi(decimals as i32)).fract() - 0.5).abs() < 1e-3;
            prop_assert!(apart < 1e-3 || (tie && apart < 1.001), "{ours} {theirs}");
        }
    }
}
