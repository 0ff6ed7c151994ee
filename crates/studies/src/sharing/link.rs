//! A setup as the fragment of a link: readable, versioned, and short enough for any browser and a QR code.
//!
//! `v=1&name=Blue%20bow&peakDrawWeightLb=62&cam=hard&part=ring,3.25,9.5,0.25`: the keys of a saved build with
//! their values, one `part` for each part of the user's own (name, weight, center, length) and one `shaft` for
//! each shaft of a list of the user's own (name, spine, weight, outer diameter, bore), and one pair for each
//! row of a list of numbers, under the list's key (`distances=20`). Names are percent-encoded (RFC 3986,
//! section 2.1).

use clothyard_core::report::ErrorReport;
use clothyard_core::schema::{Field, Kind, List, NamedRow, Row};
use clothyard_core::setup::{SCHEMA_VERSION, SavedSetup, SavedValue, Setup, SetupError};

/// The version of links this writes, and the newest it reads.
pub const LINK_VERSION: u32 = 1;

/// Most characters of a fragment, its `#` among them.
pub const MOST_LINK_CHARS: usize = 2000;

/// How a number is written and read, so that it comes back to the last bit. The page lends the browser's
/// own: the library's would be a tenth of its wasm.
#[derive(Clone, Copy, Debug)]
pub struct NumberCodec {
    /// The shortest codec that are read as just this number.
    pub write: fn(f64) -> String,
    /// The number nearest to the codec; none, or one that is not finite, where they are no number.
    pub read: fn(&str) -> Option<f64>,
}

/// A setup as a fragment.
#[derive(Clone, Debug, PartialEq)]
pub struct Link {
    /// What follows the `#`.
    pub fragment: String,
    /// Whether the user's list of shafts was too long for it.
    pub shafts_left_out: bool,
}

impl Link {
    /// What does not go along, in a sentence; empty where everything does.
    #[must_use]
    pub fn note(&self) -> &'static str {
        if self.shafts_left_out {
            "Your shaft list is too long for a link and is left out; a backup file has it. "
        } else {
            ""
        }
    }
}

/// Why a text is no link to a setup, or a setup has no link.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum LinkError {
    /// More than [`MOST_LINK_CHARS`].
    TooLong {
        /// How many there are.
        chars: usize,
    },
    /// Nothing says which version wrote it.
    NoVersion,
    /// Written by a newer version.
    Newer {
        /// The version found.
        found: u32,
    },
    /// The key that is there twice.
    Repeated(String),
    /// The key without a value, or of a row with too few or too many.
    Shape(String),
    /// The key of a text with a percent sign without two hexadecimal codec, or with bytes that are no UTF-8.
    Escape(String),
    /// The key of a value that is no number.
    NotANumber(String),
    /// A key or value that a saved build may not hold.
    Setup(SetupError),
}

impl LinkError {
    /// What is wrong, in a sentence.
    #[must_use]
    pub fn message(&self) -> String {
        match self {
            Self::TooLong { chars } => format!("{chars} characters, {MOST_LINK_CHARS} at most in a link."),
            Self::NoVersion => "no version number (v=1).".to_owned(),
            Self::Newer { found } => {
                format!("made by version {found}; this page reads version {LINK_VERSION}. Update the page to open it.")
            }
            Self::Repeated(key) => format!("{key} appears twice."),
            Self::Shape(key) => format!("{key}: wrong number of values."),
            Self::Escape(key) => format!("{key}: its text is damaged."),
            Self::NotANumber(key) => format!("{key}: expected a number."),
            Self::Setup(error) => ErrorReport::of(error).into_message(),
        }
    }
}

/// Writes a setup as a fragment. A list of shafts that makes it too long is left out.
///
/// # Errors
/// [`LinkError::TooLong`] where it is too long even so.
pub fn encode(setup: &Setup, codec: &NumberCodec) -> Result<Link, LinkError> {
    let saved = setup.to_saved();
    let mut fragment = format!("v={LINK_VERSION}");
    if !saved.name.is_empty() {
        text(&mut fragment, "name", &saved.name);
    }
    write_setup(&mut fragment, &saved, codec);
    let mut whole = fragment.clone();
    shafts(&mut whole, &saved, codec);
    let fits = |text: &str| text.len() < MOST_LINK_CHARS;
    if fits(&whole) {
        Ok(Link { fragment: whole, shafts_left_out: false })
    } else if fits(&fragment) {
        Ok(Link { fragment, shafts_left_out: true })
    } else {
        Err(LinkError::TooLong { chars: fragment.len() + 1 })
    }
}

/// All of a setup but its name and its list of shafts.
pub(crate) fn write_setup(fragment: &mut String, saved: &SavedSetup, codec: &NumberCodec) {
    for (key, value) in &saved.inputs.0 {
        open(fragment, key);
        match value {
            SavedValue::Number(number) => *fragment += &(codec.write)(*number),
            SavedValue::Text(answer) => *fragment += answer,
        }
    }
    rows(fragment, "part", &saved.own_parts, codec);
    if !saved.rule_source.is_empty() {
        text(fragment, "ruleSource", &saved.rule_source);
    }
    if !saved.currency.is_empty() {
        text(fragment, "currency", &saved.currency);
    }
    for (key, rows) in &saved.lists.0 {
        rows.iter().for_each(|row| numbers(fragment, key, row, codec));
    }
}

/// The list of shafts, where it is the user's own.
pub(crate) fn shafts(fragment: &mut String, saved: &SavedSetup, codec: &NumberCodec) {
    rows(fragment, "shaft", saved.shafts.as_deref().unwrap_or_default(), codec);
}

/// A key and its text.
pub(crate) fn text(fragment: &mut String, key: &str, text: &str) {
    open(fragment, key);
    escape(fragment, text);
}

fn open(fragment: &mut String, key: &str) {
    fragment.push('&');
    *fragment += key;
    fragment.push('=');
}

fn rows<T: NamedRow>(fragment: &mut String, key: &str, rows: &[T], codec: &NumberCodec) {
    rows.iter().for_each(|each| row(fragment, key, each.name(), &each.numbers(), codec));
}

pub(crate) fn row(fragment: &mut String, key: &str, name: &str, numbers: &[f64], codec: &NumberCodec) {
    open(fragment, key);
    escape(fragment, name);
    for &number in numbers {
        fragment.push(',');
        *fragment += &(codec.write)(number);
    }
}

fn numbers(fragment: &mut String, key: &str, row: &Row, codec: &NumberCodec) {
    open(fragment, key);
    for (place, number) in row.iter().enumerate() {
        if place > 0 {
            fragment.push(',');
        }
        *fragment += &number.map_or_else(String::new, codec.write);
    }
}

/// All but the unreserved characters of RFC 3986, section 2.3, as percent signs and codec.
fn escape(fragment: &mut String, text: &str) {
    let digit = |value: u8| char::from_digit(u32::from(value), 16).unwrap_or('0').to_ascii_uppercase();
    for byte in text.bytes() {
        if byte.is_ascii_alphanumeric() || matches!(byte, b'-' | b'.' | b'_' | b'~') {
            fragment.push(char::from(byte));
        } else {
            fragment.push('%');
            fragment.push(digit(byte >> 4));
            fragment.push(digit(byte & 15));
        }
    }
}

/// Whether a fragment, with or without its `#`, means to be a setup.
#[must_use]
pub fn is_link(fragment: &str) -> bool {
    pairs(fragment).any(|pair| pair.starts_with("v="))
}

pub(crate) fn pairs(fragment: &str) -> impl Iterator<Item = &str> {
    fragment.trim_start_matches('#').split('&').filter(|pair| !pair.is_empty())
}

/// Reads a fragment, with or without its `#`, checking every value.
///
/// # Errors
/// [`LinkError`], naming the key.
pub fn decode(fragment: &str, codec: &NumberCodec) -> Result<Setup, LinkError> {
    if fragment.len() > MOST_LINK_CHARS {
        return Err(LinkError::TooLong { chars: fragment.chars().count() });
    }
    // A newer version is told before anything else in it is looked at.
    let version = pairs(fragment).find_map(|pair| pair.strip_prefix("v="));
    match version.and_then(|version| version.parse().ok()) {
        Some(LINK_VERSION) => {}
        Some(found) if found > LINK_VERSION => return Err(LinkError::Newer { found }),
        _ => return Err(LinkError::NoVersion),
    }
    let saved = read(fragment, codec)?;
    Setup::from_saved(&saved).map_err(LinkError::Setup)
}

fn read(fragment: &str, codec: &NumberCodec) -> Result<SavedSetup, LinkError> {
    let mut saved = SavedSetup { schema_version: SCHEMA_VERSION, ..SavedSetup::default() };
    for pair in pairs(fragment) {
        match key_and_value(pair)? {
            ("v", _) => {}
            (key, value) => put(&mut saved, key, value, codec)?,
        }
    }
    Ok(saved)
}

/// The texts before and after the equals sign.
pub(crate) fn key_and_value(pair: &str) -> Result<(&str, &str), LinkError> {
    pair.split_once('=').ok_or_else(|| LinkError::Shape(printable(pair)))
}

/// Gives a setup what one key of a link holds.
pub(crate) fn put(saved: &mut SavedSetup, key: &str, value: &str, codec: &NumberCodec) -> Result<(), LinkError> {
    match key {
        "name" => saved.name = unescape(value, key)?,
        "ruleSource" => saved.rule_source = unescape(value, key)?,
        "currency" => saved.currency = unescape(value, key)?,
        "part" => saved.own_parts.push(named_row(value, key, codec)?),
        "shaft" => saved.shafts.get_or_insert_default().push(named_row(value, key, codec)?),
        _ if List::by_key(key).is_some() => {
            let row = list_row(value, key, codec)?;
            match saved.lists.0.iter_mut().find(|(name, _)| name == key) {
                Some((_, rows)) => rows.push(row),
                None => saved.lists.0.push((key.to_owned(), vec![row])),
            }
        }
        _ if saved.inputs.get(key).is_some() => return Err(LinkError::Repeated(printable(key))),
        _ => {
            let value = input(key, value, codec)?;
            saved.inputs.0.push((printable(key), value));
        }
    }
    Ok(())
}

/// A key as a message can show it.
pub(crate) fn printable(key: &str) -> String {
    key.chars().filter(|c| !c.is_control()).take(40).collect()
}

fn input(key: &str, value: &str, codec: &NumberCodec) -> Result<SavedValue, LinkError> {
    match Field::by_key(key).map(|field| &field.input().kind) {
        Some(Kind::Number { .. }) => number(value, key, codec).map(SavedValue::Number),
        _ => unescape(value, key).map(SavedValue::Text),
    }
}

fn number(text: &str, key: &str, codec: &NumberCodec) -> Result<f64, LinkError> {
    let plain = |byte: u8| byte.is_ascii_digit() || matches!(byte, b'.' | b'-' | b'+' | b'e');
    let readable = text.bytes().all(plain) && text.bytes().any(|byte| byte.is_ascii_digit());
    let number = if readable { (codec.read)(text) } else { None };
    number.filter(|number| number.is_finite()).ok_or_else(|| LinkError::NotANumber(printable(key)))
}

/// A name and the numbers behind it.
pub(crate) fn name_and_numbers(value: &str, key: &str, codec: &NumberCodec) -> Result<(String, Vec<f64>), LinkError> {
    let mut columns = value.split(',');
    let name = unescape(columns.next().unwrap_or_default(), key)?;
    let numbers = columns.map(|text| number(text, key, codec)).collect::<Result<_, _>>()?;
    Ok((name, numbers))
}

/// A name and just the numbers of its table.
fn named_row<T: NamedRow>(value: &str, key: &str, codec: &NumberCodec) -> Result<T, LinkError> {
    let (name, mut numbers) = name_and_numbers(value, key, codec)?;
    let left_out = T::TABLE.columns.iter().skip(numbers.len());
    numbers.extend(left_out.take_while(|column| column.optional).map(|_| 0.0));
    T::from_numbers(name, &numbers).ok_or_else(|| LinkError::Shape(key.to_owned()))
}

/// Numbers between commas; where there is none, none.
fn list_row(value: &str, key: &str, codec: &NumberCodec) -> Result<Row, LinkError> {
    let one = |text: &str| if text.is_empty() { Ok(None) } else { number(text, key, codec).map(Some) };
    value.split(',').map(one).collect()
}

pub(crate) fn unescape(text: &str, key: &str) -> Result<String, LinkError> {
    let damaged = || LinkError::Escape(printable(key));
    let digit = |byte: Option<u8>| byte.and_then(|byte| char::from(byte).to_digit(16)).ok_or_else(damaged);
    let (mut bytes, mut plain) = (text.bytes(), Vec::new());
    while let Some(byte) = bytes.next() {
        if byte == b'%' {
            let value = digit(bytes.next())? * 16 + digit(bytes.next())?;
            plain.push(value as u8);
        } else {
            plain.push(byte);
        }
    }
    String::from_utf8(plain).map_err(|_| damaged())
}

#[cfg(test)]
mod tests;
