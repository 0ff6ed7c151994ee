//! What is usual where the reader is, by the browser's language.

use clothyard_core::{Units, format};

/// The browser's language; none where it is not a language tag, as "C" of a system without a locale, which scripts must
/// not be asked to follow.
fn language() -> Option<String> {
    let language = crate::window()?.navigator().language()?;
    let primary = language.split('-').next().unwrap_or_default();
    let is_tag =
        (2..=3).contains(&primary.len()) && language.bytes().all(|byte| byte.is_ascii_alphanumeric() || byte == b'-');
    is_tag.then_some(language)
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
