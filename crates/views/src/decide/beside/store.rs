//! What the browser keeps for this view: the held set-up, and the list of kept ones, which another view
//! writes.

use clothyard_core::Setup;
use clothyard_core::report::ErrorReport;
use clothyard_web::{plain, store};
use js_sys::{Array, JSON};
use wasm_bindgen::{JsCast, JsValue};

const HELD: &str = "clothyard.held";
const UNREAD: &str = "clothyard.held.unread";
const KEPT: &str = "clothyard.kept";

/// The newest list of kept set-ups this version reads.
const KEPT_VERSION: f64 = 1.0;

/// What was found of a held set-up.
pub(super) enum Found {
    /// None is held.
    Nothing,
    /// This one.
    Held(Box<Setup>),
    /// One that cannot be read, and why; its text is kept aside.
    Unread { text: String, why: String },
}

/// A kept set-up.
pub(super) struct Kept {
    pub(super) id: String,
    pub(super) setup: Setup,
}

fn message(error: ErrorReport) -> String {
    error.message.trim_end_matches('.').to_owned()
}

fn parse(text: &str) -> Result<JsValue, String> {
    JSON::parse(text).map_err(|_| "it is not JSON".to_owned())
}

fn setup(value: &JsValue) -> Result<Setup, String> {
    let saved = plain::saved_build(value).map_err(message)?;
    Setup::from_saved(&saved).map_err(|error| message(ErrorReport::of(&error)))
}

/// Looks for the held set-up.
pub(super) fn held() -> Found {
    let Some(text) = store::get(HELD) else { return Found::Nothing };
    match parse(&text).and_then(|value| setup(&value)) {
        Ok(setup) => Found::Held(Box::new(setup)),
        Err(why) => {
            // Kept aside, so that holding another does not lose it.
            let _ = store::put(UNREAD, &text);
            Found::Unread { text, why }
        }
    }
}

/// Holds a set-up over a reload.
///
/// # Errors
/// Why the browser did not keep it.
pub(super) fn hold(setup: &Setup) -> Result<(), &'static str> {
    let text = JSON::stringify(&plain::write(&setup.to_saved())).ok().and_then(|text| text.as_string());
    store::put(HELD, &text.ok_or("it could not be written down")?)
}

/// Forgets the held set-up.
pub(super) fn let_go() {
    store::forget(HELD);
}

/// The list of kept set-ups as it stands, unread.
pub(super) fn kept_text() -> String {
    store::get(KEPT).unwrap_or_default()
}

/// The kept set-ups, and how many more there are that cannot be read.
///
/// # Errors
/// Why the list itself cannot be read.
pub(super) fn kept(text: &str) -> Result<(Vec<Kept>, usize), String> {
    let mut setups = None;
    for (key, value) in plain::entries(&parse(text)?, "the list").map_err(message)? {
        match key.as_str() {
            "schemaVersion" if value.as_f64().is_none_or(|version| version > KEPT_VERSION) => {
                return Err("a newer version of this page wrote it".to_owned());
            }
            "kept" => setups = value.dyn_into::<Array>().ok(),
            _ => {}
        }
    }
    let setups = setups.ok_or("it holds no list of set-ups")?;
    let list: Vec<_> = setups.iter().filter_map(|value| kept_one(&value)).collect();
    let unread = setups.length() as usize - list.len();
    Ok((list, unread))
}

fn kept_one(value: &JsValue) -> Option<Kept> {
    let pairs = plain::entries(value, "a kept set-up").ok()?;
    let find = |name: &str| pairs.iter().find(|(key, _)| key == name).map(|(_, value)| value);
    let setup = setup(find("build")?).ok()?;
    Some(Kept { id: find("id")?.as_string()?, setup })
}
