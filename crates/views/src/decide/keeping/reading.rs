//! From JSON to what is kept: a backup, or a single saved build.

use clothyard_dom::plain::{self, Pair, fields, list, number, wrong};
use clothyard_workbench::build::{BuildError, MOST_NAME_CHARS, SCHEMA_VERSION, SavedBuild};
use clothyard_workbench::report::ErrorReport;
use clothyard_workbench::travel::drawer::{DrawerPart, PartKind};
use clothyard_workbench::travel::shelf::{KeptBuild, Shelf};
use js_sys::{Error, JSON};
use wasm_bindgen::{JsCast, JsValue};

/// Reads a backup or a single saved build, checking every value.
///
/// # Errors
/// The place of what cannot be read, and what is allowed there.
pub(super) fn shelf(text: &str) -> Result<Shelf, ErrorReport> {
    let value = JSON::parse(text).map_err(|error| {
        let why = error.dyn_ref::<Error>().map_or_else(String::new, |error| String::from(error.message()));
        wrong("The text", &format!("it is not JSON ({why})"))
    })?;
    let pairs = pairs_of_this_version(&value, "The text")?;
    let is_backup = pairs.iter().any(|(key, _)| ["kept", "drawer", "current"].contains(&key.as_str()));
    let shelf = if is_backup {
        backup(pairs)?
    } else {
        Shelf { current: Some(plain::saved_build(&value)?), ..Shelf::default() }
    };
    shelf.check().map_err(|error| ErrorReport { message: error.message(), ..ErrorReport::of(&error.error) })?;
    Ok(shelf)
}

/// Whether a newer page wrote it.
pub(super) fn is_newer(error: &ErrorReport) -> bool {
    error.code == "schema"
}

/// The keys and values of an object, unless a newer page wrote it: that is told before anything else in it.
fn pairs_of_this_version(value: &JsValue, place: &str) -> Result<Vec<Pair>, ErrorReport> {
    let pairs = plain::entries(value, place)?;
    let version = pairs.iter().find(|(key, _)| key == "schemaVersion").and_then(|(_, value)| value.as_f64());
    if let Some(version) = version.filter(|&version| version > f64::from(SCHEMA_VERSION)) {
        return Err(ErrorReport::of(&BuildError::Schema { found: version as u32, newest: SCHEMA_VERSION }));
    }
    Ok(pairs)
}

fn backup(pairs: Vec<Pair>) -> Result<Shelf, ErrorReport> {
    let (mut shelf, mut versioned) = (Shelf::default(), false);
    for (key, value) in pairs {
        match key.as_str() {
            "schemaVersion" => {
                // Newer ones are told apart above; older ones there are none.
                versioned = number(&value, &key)? >= f64::from(SCHEMA_VERSION);
            }
            "kept" => shelf.kept = list(&value, &key, kept)?,
            "drawer" => shelf.drawer = list(&value, &key, part)?,
            "current" => shelf.current = Some(build(&value, &key)?),
            _ => return Err(wrong(&key, "a backup has no such key")),
        }
    }
    if versioned { Ok(shelf) } else { Err(wrong("schemaVersion", "the number 1 is wanted")) }
}

fn build(value: &JsValue, place: &str) -> Result<SavedBuild, ErrorReport> {
    pairs_of_this_version(value, place)?;
    let message = |error: ErrorReport| ErrorReport { message: format!("{place}: {}", error.message), ..error };
    plain::saved_build(value).map_err(message)
}

/// A text no longer than a name.
fn short(value: &JsValue, place: &str) -> Result<String, ErrorReport> {
    let text = plain::text(value, place)?;
    if text.chars().count() > MOST_NAME_CHARS {
        return Err(wrong(place, &format!("at most {MOST_NAME_CHARS} characters are wanted")));
    }
    Ok(text)
}

/// An id as this page gives them, and no other text that could reach the page's selectors.
fn id(value: &JsValue, place: &str) -> Result<String, ErrorReport> {
    let id = short(value, place)?;
    if id.bytes().all(|byte| byte.is_ascii_alphanumeric() || byte == b'-') {
        Ok(id)
    } else {
        Err(wrong(place, "letters, digits and hyphens are wanted"))
    }
}

fn kept(pairs: &[Pair], place: &str) -> Result<KeptBuild, ErrorReport> {
    let [key, day, whole] = fields(pairs, place, ["id", "keptOn", "build"])?;
    Ok(KeptBuild { id: id(&key.0, &key.1)?, kept_on: short(&day.0, &day.1)?, build: build(&whole.0, &whole.1)? })
}

fn part(pairs: &[Pair], place: &str) -> Result<DrawerPart, ErrorReport> {
    let [key, kind, name, inputs] = fields(pairs, place, ["id", "kind", "name", "inputs"])?;
    let said = plain::text(&kind.0, &kind.1)?;
    let known = PartKind::ALL.into_iter().find(|kind| kind.key() == said);
    Ok(DrawerPart {
        id: id(&key.0, &key.1)?,
        kind: known.ok_or_else(|| wrong(&kind.1, "point, insert, vane or nock is wanted"))?,
        name: short(&name.0, &name.1)?,
        inputs: plain::inputs(&inputs.0)?,
    })
}
