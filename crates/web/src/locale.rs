//! What is usual where the reader is, by the browser's language.

use clothyard_core::{Units, format};

fn language() -> Option<String> {
    crate::window()?.navigator().language()
}

/// Writes numbers with the decimal mark of the browser's language from now on.
pub fn follow() {
    let half = language().map(|language| js_sys::Number::from(0.5).to_locale_string(&language));
    format::use_decimal_comma(half.is_some_and(|half| String::from(half).contains(',')));
}

/// The units until others are chosen: inches where English is spoken.
#[must_use]
pub fn units() -> Units {
    let english = language().is_none_or(|language| language.starts_with("en"));
    if english { Units::ARCHERY } else { Units::pounds_and_centimeters() }
}
