//! From JSON to what is kept: a backup, or a single saved build.

use crate::kept::{self, id, pairs_of_this_version, setup, short};
use clothyard_core::report::ErrorReport;
use clothyard_core::setup::SCHEMA_VERSION;
use clothyard_studies::sharing::drawer::{DrawerPart, PartKind};
use clothyard_studies::sharing::shelf::{KeptBuild, Shelf};
use clothyard_web::plain::{self, Pair, fields, list, number, wrong};

/// Reads a backup or a single saved build, checking every value.
///
/// # Errors
/// The place of what cannot be read, and what is allowed there.
pub(super) fn shelf(text: &str) -> Result<Shelf, ErrorReport> {
    let value = kept::parse(text)?;
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

fn backup(pairs: Vec<Pair>) -> Result<Shelf, ErrorReport> {
    let (mut shelf, mut versioned) = (Shelf::default(), false);
    for (key, value) in pairs {
        match key.as_str() {
            "schemaVersion" => {
                // Newer ones are told apart above; older ones there are none.
                versioned = number(&value, &key)? >= f64::from(SCHEMA_VERSION);
            }
            "kept" => shelf.kept = list(&value, &key, kept_build)?,
            "drawer" => shelf.drawer = list(&value, &key, part)?,
            "current" => shelf.current = Some(setup(&value, &key)?),
            _ => return Err(wrong(&key, "a backup has no such key")),
        }
    }
    if versioned { Ok(shelf) } else { Err(wrong("schemaVersion", "the number 1 is wanted")) }
}

fn kept_build(pairs: &[Pair], place: &str) -> Result<KeptBuild, ErrorReport> {
    let [key, day, whole] = fields(pairs, place, ["id", "keptOn", "build"])?;
    Ok(KeptBuild { id: id(&key.0, &key.1)?, kept_on: short(&day.0, &day.1)?, setup: setup(&whole.0, &whole.1)? })
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
