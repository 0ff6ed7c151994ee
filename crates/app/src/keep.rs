//! What stays in this browser: the set-up, what was typed and could not be read, units and looks.

use clothyard_core::ordered_map::OrderedMap;
use clothyard_core::report::ErrorReport;
use clothyard_core::setup::{SavedSetup, Setup};
use clothyard_core::{Units, format};
use clothyard_web::{self as dom, plain, store};
use serde::Serialize;

const SETUP: &str = "clothyard.setup";
const DAMAGED: &str = "clothyard.setup.unread";
const UNITS: &str = "clothyard.units";
const LOOKS: &str = "clothyard.looks";

/// What was typed and could not be read, by the field's key.
pub(crate) type Drafts = OrderedMap<String, String>;

/// A set-up with what was typed and could not be read, by the field's key.
#[derive(Serialize)]
struct Kept<'a> {
    #[serde(rename = "build")]
    setup: SavedSetup,
    drafts: &'a Drafts,
}

/// What was found from last time.
pub(crate) enum Found {
    /// Nothing.
    Nothing,
    /// A set-up and its drafts.
    PhysicalModel(Box<Setup>, Drafts),
    /// Something that cannot be read: why, and its text, which is kept aside.
    Damaged(String, String),
}

/// Keeps the set-up.
///
/// # Errors
/// Why the browser did not keep it.
pub(crate) fn save(setup: &Setup, drafts: &Drafts) -> Result<(), &'static str> {
    let kept = Kept { setup: setup.to_saved(), drafts };
    store::put(SETUP, &json(&kept).ok_or("it could not be written down")?)
}

/// Looks for the set-up of last time.
pub(crate) fn find() -> Found {
    let Some(text) = store::get(SETUP) else { return Found::Nothing };
    match read(&text) {
        Ok((setup, drafts)) => Found::PhysicalModel(Box::new(setup), drafts),
        Err(why) => {
            // The text itself is kept aside, so that the next save does not lose it, nor an earlier one.
            let aside = if store::get(DAMAGED).is_some_and(|earlier| earlier != text) {
                format!("{DAMAGED}.{}", format::fixed(dom::now(), 0))
            } else {
                DAMAGED.to_owned()
            };
            let _ = store::put(&aside, &text);
            Found::Damaged(why, text)
        }
    }
}

fn read(text: &str) -> Result<(Setup, Drafts), String> {
    let value = js_sys::JSON::parse(text).map_err(|_| "it is not JSON".to_owned())?;
    let (mut setup, mut drafts) = (None, Drafts::default());
    for (key, value) in plain::entries(&value, "what was kept").map_err(message)? {
        match key.as_str() {
            "build" => setup = Some(plain::saved_build(&value).map_err(message)?),
            "drafts" => drafts = plain::texts(&value, &key).map_err(message)?,
            _ => return Err(format!("{key}: nothing of this name is kept")),
        }
    }
    let setup =
        Setup::from_saved(&setup.ok_or("it holds no build")?).map_err(|error| message(ErrorReport::of(&error)))?;
    Ok((setup, drafts))
}

fn message(error: ErrorReport) -> String {
    error.message
}

fn json(value: &impl Serialize) -> Option<String> {
    js_sys::JSON::stringify(&plain::write(value)).ok()?.as_string()
}

pub(crate) fn save_units(units: &Units) {
    let _ = store::put(UNITS, &units.to_text());
}

pub(crate) fn units() -> Units {
    Units::from_text(&store::get(UNITS).unwrap_or_default())
}

pub(crate) fn save_looks(looks: &str) {
    let _ = store::put(LOOKS, looks);
}

pub(crate) fn looks() -> String {
    store::get(LOOKS).filter(|looks| ["light", "dark"].contains(&looks.as_str())).unwrap_or_else(|| "system".to_owned())
}
