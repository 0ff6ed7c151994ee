//! Every error names its place, and data saved by earlier versions can be read.

use super::*;
use crate::schema::{Field, List, Value};
use crate::setup::{PageState, SavedSetup, Setup};
use crate::testing::any_setup;
use proptest::prelude::*;
use serde_json::json;

fn error_of<T: FromPlain>(json: &str) -> ErrorReport {
    from_json::<T>(json).err().unwrap_or_else(|| panic!("read: {json}"))
}

#[test]
fn what_cannot_be_read_is_named_with_what_is_wanted() {
    for (json, place, wanted) in [
        ("3", "the setup", "expected an object"),
        ("[]", "the setup", "expected an object"),
        ("{}", "schemaVersion", "missing"),
        (r#"{"schemaVersion":"1"}"#, "schemaVersion", "expected a number"),
        (r#"{"schemaVersion":1.5}"#, "schemaVersion", "expected a whole number from 1"),
        (r#"{"schemaVersion":0}"#, "schemaVersion", "expected a whole number from 1"),
        (r#"{"schemaVersion":-1}"#, "schemaVersion", "expected a whole number from 1"),
        (r#"{"schemaVersion":7}"#, "schemaVersion", "this version reads 1 to 1; a newer build needs a newer page"),
        (r#"{"schemaVersion":1,"color":"red"}"#, "color", "unknown key"),
        (r#"{"schemaVersion":1,"name":4}"#, "name", "expected text"),
        (r#"{"schemaVersion":1,"name":null}"#, "name", "expected text"),
        (r#"{"schemaVersion":1,"inputs":[]}"#, "inputs", "expected an object"),
        (r#"{"schemaVersion":1,"inputs":{"pointGr":true}}"#, "pointGr", "expected a number or text"),
        (r#"{"schemaVersion":1,"inputs":{"drawLengthIn":280}}"#, "drawLengthIn", "out of range; enter 15 to 36"),
        (r#"{"schemaVersion":1,"inputs":{"nope":1}}"#, "nope", "unknown input"),
        (r#"{"schemaVersion":1,"inputs":{"cam":"wild"}}"#, "cam", "is not one of"),
        (r#"{"schemaVersion":1,"ownParts":{}}"#, "ownParts", "expected a list"),
        (r#"{"schemaVersion":1,"ownParts":[{"name":"a","massGr":1,"centreIn":2}]}"#, "ownParts[0].lengthIn", "missing"),
        (
            r#"{"schemaVersion":1,"ownParts":[{"name":"a","massGr":"1","centreIn":2,"lengthIn":0}]}"#,
            "ownParts[0].massGr",
            "expected a number",
        ),
        (
            r#"{"schemaVersion":1,"ownParts":[{"name":"a","massGr":1,"centreIn":2,"lengthIn":0,"x":0}]}"#,
            "ownParts[0].x",
            "unknown key",
        ),
        (r#"{"schemaVersion":1,"shafts":[]}"#, "shafts", "at least one"),
        (r#"{"schemaVersion":1,"shafts":[7]}"#, "shafts[0]", "expected an object"),
        (r#"{"schemaVersion":1,"shafts":[{"name":"a"}]}"#, "shafts[0].staticSpineThousandths", "missing"),
        (r#"{"schemaVersion":1,"lists":[]}"#, "lists", "expected an object"),
        (r#"{"schemaVersion":1,"lists":{"drawForce":7}}"#, "drawForce", "expected a list"),
        (r#"{"schemaVersion":1,"lists":{"drawForce":[[28,"x"]]}}"#, "drawForce[0][1]", "expected a number"),
        (r#"{"schemaVersion":1,"ruleSource":1}"#, "ruleSource", "expected text"),
        (r#"{"schemaVersion":1,"currency":[]}"#, "currency", "expected text"),
        ("{", "The text", "not JSON"),
    ] {
        let error = error_of::<Setup>(json);
        assert_eq!(error.field, place, "{json}");
        assert!(error.message.starts_with(place) && error.message.contains(wanted), "{json}: {}", error.message);
        assert_eq!(error.is_newer(), wanted.contains("newer"), "{json}");
    }
}

#[test]
fn a_newer_version_is_told_before_anything_it_may_have_changed() {
    let error = error_of::<Setup>(r#"{"inputs":[],"marvel":true,"schemaVersion":2}"#);
    assert!(error.is_newer() && error.message.contains("schemaVersion 2"), "{}", error.message);
    assert!(error_of::<PageState>(r#"{"build":{"schemaVersion":2,"marvel":1},"drafts":7}"#).is_newer());
}

#[test]
fn what_the_page_keeps_names_its_places() {
    for (json, place) in [
        ("null", "The saved data"),
        ("{}", "build"),
        (r#"{"build":7}"#, "build"),
        (r#"{"build":{"schemaVersion":1,"name":7}}"#, "build.name"),
        (r#"{"build":{"schemaVersion":1,"inputs":{"pointGr":[]}}}"#, "build.pointGr"),
        (r#"{"build":{"schemaVersion":1},"drafts":[]}"#, "drafts"),
        (r#"{"build":{"schemaVersion":1},"drafts":{"pointGr":7}}"#, "pointGr"),
        (r#"{"build":{"schemaVersion":1},"units":"metric"}"#, "units"),
    ] {
        assert_eq!(error_of::<PageState>(json).field, place, "{json}");
    }
}

/// As the first schema writes it: once written by somebody, it must always be read.
const SAVED: &str = r#"{"schemaVersion":1,"name":"Blue bow","inputs":{"peakDrawWeightLb":62,"cam":"hard","pointGr":137.5},
    "ownParts":[{"name":"ring","massGr":3.25,"centreIn":9.5,"lengthIn":0.25}],
    "shafts":[{"name":"Mine 340","staticSpineThousandths":340,"shaftGrPerIn":9.2,"outerDiameterIn":0.242,"boreIn":0.166}],
    "lists":{"distances":[[20],[62.5]],"batch":[[391.5,340,null,342,null,0.003,null]],"prices":[[null],[12.5]],
    "drawForce":[[6.5,0],[16,55.25],[26,61]],"speeds":[[412,281.5]]},"ruleSource":"Club, 2026","currency":"€"}"#;

#[test]
fn a_saved_setup_of_the_first_schema_is_read() {
    let setup: Setup = from_json(SAVED).unwrap();
    assert_eq!(
        (setup.name.as_str(), setup.rule_source.as_str(), setup.currency.as_str()),
        ("Blue bow", "Club, 2026", "€")
    );
    assert_eq!(setup.get(Field::PointMass), Some(Value::Number(137.5)));
    assert_eq!((setup.own_parts[0].mass_gr, setup.shafts[0].bore_in), (3.25, 0.166));
    assert_eq!(setup.shafts[0].full_length_in, 0.0, "a full length may be left out");
    assert_eq!(
        setup.lists.rows(List::Batch),
        [[Some(391.5), Some(340.0), None, Some(342.0), None, Some(0.003), None, None]]
    );
    let again: SavedSetup = from_json(&serde_json::to_string(&setup).unwrap()).unwrap();
    // A column that its batch did not have yet is null.
    let now = SAVED.replace("0.003,null]", "0.003,null,null]");
    assert_eq!(again, from_json(&now).unwrap(), "nothing is left out when it is written");
    let bare: Setup = from_json(r#"{"schemaVersion":1,"shafts":null}"#).unwrap();
    assert_eq!(bare, Setup::default(), "what is left out has its default");
}

#[test]
fn what_the_page_kept_under_the_first_schema_is_read() {
    let json = format!(r#"{{"build":{SAVED},"drafts":{{"pointGr":"12x"}}}}"#);
    let state: PageState = from_json(&json).unwrap();
    assert_eq!(state.setup, from_json(SAVED).unwrap());
    assert_eq!(state.drafts.get("pointGr").map(String::as_str), Some("12x"));
    assert!(from_json::<PageState>(r#"{"build":{"schemaVersion":1}}"#).unwrap().drafts.is_empty());
}

/// What is no JSON, but may be handed in by a script.
struct Strange(f64);

impl Plain for Strange {
    fn as_f64(&self) -> Option<f64> {
        Some(self.0)
    }
    fn as_text(&self) -> Option<String> {
        None
    }
    fn is_null(&self) -> bool {
        false
    }
    fn items(&self) -> Option<Vec<Self>> {
        None
    }
    fn entries(&self) -> Option<Vec<(String, Self)>> {
        Some(vec![("schemaVersion".into(), Self(self.0))])
    }
}

#[test]
fn a_version_that_is_no_number_at_all_is_refused() {
    for version in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
        assert_eq!(read::<Setup, _>(Strange(version)).unwrap_err().field, "schemaVersion");
    }
    assert!(read::<Setup, _>(Strange(1e300)).unwrap_err().is_newer());
    assert_eq!(read::<Setup, _>(Strange(1.0)), Ok(Setup::default()));
}

/// Any JSON, in which words of the format are common.
fn any_json() -> impl Strategy<Value = serde_json::Value> {
    let key = prop_oneof![
        "[a-z]{1,3}",
        proptest::sample::select(vec!["schemaVersion", "inputs", "lists", "pointGr", "shafts", "ownParts"])
            .prop_map(str::to_owned)
    ];
    let leaf = prop_oneof![
        Just(json!(null)),
        Just(json!(true)),
        any::<f64>().prop_map(|n| json!(n)),
        Just(json!(1)),
        "\\PC{0,8}".prop_map(|t| json!(t))
    ];
    leaf.prop_recursive(4, 32, 6, move |inner| {
        prop_oneof![
            proptest::collection::vec(inner.clone(), 0..6).prop_map(|items| json!(items)),
            proptest::collection::hash_map(key.clone(), inner, 0..6).prop_map(|map| json!(map)),
        ]
    })
}

proptest! {
    #[test]
    fn what_the_page_keeps_comes_back(setup in any_setup(), drafts in proptest::collection::hash_map("[a-z]{1,9}", "\\PC{0,9}", 0..4)) {
        let state = PageState { setup, drafts: drafts.into_iter().collect() };
        prop_assert_eq!(from_json::<PageState>(&serde_json::to_string(&state).unwrap()).unwrap(), state);
    }

    #[test]
    fn anything_else_in_the_place_of_a_value_is_an_error_or_a_setup(setup in any_setup(), strange in any_json(), which in any::<prop::sample::Index>()) {
        let mut saved = serde_json::to_value(&setup).unwrap();
        let object = saved.as_object_mut().unwrap();
        let key = which.get(&object.keys().cloned().collect::<Vec<_>>()).clone();
        object.insert(key, strange);
        match read::<Setup, _>(&saved) {
            Ok(setup) => prop_assert_eq!(read::<Setup, _>(&serde_json::to_value(&setup).unwrap()).unwrap(), setup),
            Err(error) => prop_assert!(error.message.contains(&error.field) && !error.field.is_empty()),
        }
    }
}
