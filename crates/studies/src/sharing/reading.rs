//! Reads a backup, the library, or a single saved setup from plain objects.

use super::library::{Library, StoredSetup};
use super::parts::{PartKind, StoredPart};
use clothyard_core::Setup;
use clothyard_core::plain::{FromPlain, Node, Plain};
use clothyard_core::report::ErrorReport;
use clothyard_core::setup::{MAX_NAME_CHARS, SCHEMA_VERSION, SavedSetup, SetupError};

/// Reads a backup, or a single saved setup as one with nothing else in it, checking every value.
impl FromPlain for Library {
    fn from_plain<P: Plain>(node: &Node<P>) -> Result<Self, ErrorReport> {
        let mut object = node.object()?;
        let library = if ["kept", "drawer", "current"].iter().any(|key| object.has(key)) {
            let library = Self {
                schema_version: object.version(SCHEMA_VERSION, "build")?,
                setups: object.read_or_default("kept")?,
                parts: object.read_or_default("drawer")?,
                current: object.read_or_default("current")?,
            };
            object.end().map(|()| library)?
        } else {
            Self { current: Some(SavedSetup::from_plain(node)?), ..Self::default() }
        };
        let report = |error: &SetupError, message| ErrorReport::of(error).with_message(message);
        library.check().map_err(|error| report(&error.error, error.message())).map(|()| library)
    }
}

impl FromPlain for StoredSetup {
    fn from_plain<P: Plain>(node: &Node<P>) -> Result<Self, ErrorReport> {
        let mut object = node.object()?;
        let kept = Self {
            id: id(&object.require("id")?)?,
            saved_on: short(&object.require("keptOn")?)?,
            setup: object.read("build")?,
        };
        object.end().map(|()| kept)
    }
}

impl FromPlain for StoredPart {
    fn from_plain<P: Plain>(node: &Node<P>) -> Result<Self, ErrorReport> {
        let mut object = node.object()?;
        let part = Self {
            id: id(&object.require("id")?)?,
            kind: object.read("kind")?,
            name: short(&object.require("name")?)?,
            inputs: object.read("inputs")?,
        };
        object.end().map(|()| part)
    }
}

impl FromPlain for PartKind {
    fn from_plain<P: Plain>(node: &Node<P>) -> Result<Self, ErrorReport> {
        let text = node.text()?;
        let kind = Self::ALL.into_iter().find(|kind| kind.key() == text);
        kind.ok_or_else(|| node.wrong("expected point, insert, vane or nock"))
    }
}

/// An id as the page gives them, and no other text that could reach its selectors.
pub(crate) fn id<P: Plain>(node: &Node<P>) -> Result<String, ErrorReport> {
    let id = short(node)?;
    let allowed = |byte: u8| byte.is_ascii_alphanumeric() || byte == b'-';
    if id.bytes().all(allowed) { Ok(id) } else { Err(node.wrong("expected letters, digits and hyphens")) }
}

/// A text no longer than a name.
fn short<P: Plain>(node: &Node<P>) -> Result<String, ErrorReport> {
    let text = node.text()?;
    if text.chars().count() > MAX_NAME_CHARS {
        return Err(node.wrong(&format!("expected at most {MAX_NAME_CHARS} characters")));
    }
    Ok(text)
}

/// A kept setup that can be read.
#[derive(Debug, PartialEq)]
pub struct KeptSetup {
    /// What it is known by, whatever it is called.
    pub id: String,
    /// The setup, with its name.
    pub setup: Setup,
}

/// What can be read of the kept setups.
#[derive(Debug, Default, PartialEq)]
pub struct ReadableSetups {
    /// Those that can be read.
    pub setups: Vec<KeptSetup>,
    /// How many cannot.
    pub unread: usize,
}

#[cfg(test)]
mod tests {
    use super::*;
    use clothyard_core::plain::from_json;

    /// As the first schema writes it: once written by somebody, it must always be read.
    const BACKUP: &str = r#"{"schemaVersion":1,
        "kept":[{"id":"19a1b2c3d4e-7f","keptOn":"2026-05-01","build":
            {"schemaVersion":1,"name":"Blue","inputs":{"pointGr":125,"cam":"hard"}}}],
        "drawer":[{"id":"b-1","kind":"nock","name":"Pin","inputs":{"nockGr":6.8,"nockKind":"pin","throatToShaftIn":0.42}}],
        "current":{"schemaVersion":1,"name":"Now","inputs":{}}}"#;

    #[test]
    fn a_backup_of_the_first_schema_is_read() {
        let library: Library = from_json(BACKUP).unwrap();
        let (kept, part) = (&library.setups[0], &library.parts[0]);
        assert_eq!((kept.id.as_str(), kept.saved_on.as_str()), ("19a1b2c3d4e-7f", "2026-05-01"));
        assert_eq!((kept.setup.name.as_str(), part.name.as_str()), ("Blue", "Pin"));
        assert_eq!((part.kind, part.inputs.0.len()), (PartKind::Nock, 3));
        assert_eq!(library.current.as_ref().map(|current| current.name.as_str()), Some("Now"));
        assert_eq!(from_json::<Library>(&serde_json::to_string(&library).unwrap()).unwrap(), library);
    }

    #[test]
    fn a_list_without_a_drawer_and_a_lone_setup_are_read() {
        let library: Library = from_json(r#"{"schemaVersion":1,"kept":[]}"#).unwrap();
        assert_eq!(library, Library::default());
        let library: Library = from_json(r#"{"schemaVersion":1,"name":"Alone"}"#).unwrap();
        assert_eq!((library.current.unwrap().name.as_str(), library.setups.len()), ("Alone", 0));
    }

    #[test]
    fn the_place_of_every_fault_is_named() {
        for (json, place, wanted) in [
            ("[]", "The text", "expected an object"),
            (r#"{"kept":[]}"#, "schemaVersion", "missing"),
            (r#"{"schemaVersion":1,"kept":{}}"#, "kept", "expected a list"),
            (r#"{"schemaVersion":1,"kept":[7]}"#, "kept[0]", "expected an object"),
            (r#"{"schemaVersion":1,"kept":[{"id":"a"}]}"#, "kept[0].keptOn", "missing"),
            (r#"{"schemaVersion":1,"kept":[{"id":"a\"b"}]}"#, "kept[0].id", "letters, digits and hyphens"),
            (r#"{"schemaVersion":1,"wonder":5,"kept":[]}"#, "wonder", "unknown key"),
            (r#"{"schemaVersion":1,"wonder":5}"#, "wonder", "unknown key"),
            (
                r#"{"schemaVersion":1,"kept":[{"id":"a","keptOn":"","build":{"schemaVersion":1,"inputs":{"cam":[]}}}]}"#,
                "kept[0].build.cam",
                "expected a number or text",
            ),
            (r#"{"schemaVersion":1,"drawer":[{"id":"a","kind":"limb"}]}"#, "drawer[0].kind", "insert, vane or nock"),
            (
                r#"{"schemaVersion":1,"drawer":[{"id":"a","kind":"nock","name":"N","inputs":{"nockGr":[]}}]}"#,
                "drawer[0].nockGr",
                "expected a number or text",
            ),
            (r#"{"schemaVersion":1,"current":3}"#, "current", "expected an object"),
        ] {
            let error = from_json::<Library>(json).unwrap_err();
            assert_eq!(error.field, place, "{json}");
            assert!(error.message.contains(wanted) && !error.is_newer(), "{json}: {}", error.message);
        }
        let long = format!(r#"{{"schemaVersion":1,"kept":[{{"id":"{}"}}]}}"#, "a".repeat(81));
        assert!(from_json::<Library>(&long).unwrap_err().message.contains("at most 80 characters"));
    }

    #[test]
    fn a_newer_list_is_told_apart() {
        for json in [
            r#"{"schemaVersion":2,"kept":[{"wonder":1}]}"#,
            r#"{"schemaVersion":3,"shelves":[]}"#,
            r#"{"schemaVersion":1,"kept":[{"id":"a","keptOn":"","build":{"schemaVersion":2,"marvel":1}}]}"#,
        ] {
            assert!(from_json::<Library>(json).unwrap_err().is_newer(), "{json}");
        }
    }
}
