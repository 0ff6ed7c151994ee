//! In the browser: the exported function, and the same golden reports as natively, bit for bit.

#![cfg(target_arch = "wasm32")]
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test that panics has failed, which is its job"
)]
#![allow(missing_docs, reason = "tests")]

use clothyard_npm::evaluate;
use js_sys::{JSON, Object, Reflect};
use wasm_bindgen::JsValue;
use wasm_bindgen_test::{wasm_bindgen_test, wasm_bindgen_test_configure};

wasm_bindgen_test_configure!(run_in_browser);

macro_rules! golden {
    ($($name:literal),*) => {
        [$(($name, include_str!(concat!("../../../tests/golden/", $name, ".json")), include_str!(concat!("../../../tests/golden/", $name, ".report.json")))),*]
    };
}

/// Where two plain values differ; numbers are the same only with the same bits.
fn difference(path: &str, a: &JsValue, b: &JsValue) -> Option<String> {
    if !a.is_object() || !b.is_object() {
        return (!Object::is(a, b)).then(|| format!("{path}: {a:?} {b:?}"));
    }
    let keys = |value: &JsValue| Object::keys(value.unchecked_ref_object()).sort().join(",");
    if keys(a) != keys(b) {
        return Some(format!("{path}: other keys"));
    }
    Object::keys(a.unchecked_ref_object()).iter().find_map(|key| {
        let name = key.as_string().unwrap();
        difference(&format!("{path}.{name}"), &Reflect::get(a, &key).unwrap(), &Reflect::get(b, &key).unwrap())
    })
}

trait AsObject {
    fn unchecked_ref_object(&self) -> &Object;
}

impl AsObject for JsValue {
    fn unchecked_ref_object(&self) -> &Object {
        wasm_bindgen::JsCast::unchecked_ref(self)
    }
}

#[wasm_bindgen_test]
fn wasm_reports_are_the_golden_ones() {
    for (name, setup, report) in golden!("everything", "nothing", "behind-the-rest", "too-weak", "measured") {
        let made = evaluate(&JSON::parse(setup).unwrap()).unwrap();
        assert_eq!(difference(name, &made, &JSON::parse(report).unwrap()), None);
    }
}

#[wasm_bindgen_test]
fn the_comparison_sees_one_bit() {
    let (a, b) = (JSON::parse("{\"x\":[0.1]}").unwrap(), JSON::parse("{\"x\":[0.10000000000000002]}").unwrap());
    assert_eq!(difference("", &a, &a), None);
    assert!(difference("", &a, &b).is_some());
}

#[wasm_bindgen_test]
fn errors_cross_as_plain_objects() {
    let bad = JSON::parse(r#"{"schemaVersion":1,"inputs":{"pointGr":-5}}"#).unwrap();
    let error = evaluate(&bad).unwrap_err();
    let keys = Object::keys(error.unchecked_ref_object()).join(",");
    assert_eq!(keys, "code,field,value,minimum,maximum,message");
    let get = |key: &str| Reflect::get(&error, &JsValue::from_str(key)).unwrap();
    assert_eq!(get("field").as_string().as_deref(), Some("pointGr"));
    assert_eq!(
        (get("value").as_f64(), get("minimum").as_f64(), get("maximum").as_f64()),
        (Some(-5.0), Some(10.0), Some(600.0))
    );
}

#[wasm_bindgen_test]
fn what_cannot_be_read_is_named() {
    let field = |json: &str| {
        let error = evaluate(&JSON::parse(json).unwrap()).unwrap_err();
        Reflect::get(&error, &JsValue::from_str("field")).unwrap().as_string().unwrap()
    };
    for (json, place) in [
        ("3", "the setup"),
        ("[]", "the setup"),
        ("{}", "schemaVersion"),
        (r#"{"schemaVersion":1.5}"#, "schemaVersion"),
        (r#"{"schemaVersion":7}"#, "schemaVersion"),
        (r#"{"schemaVersion":1,"color":"red"}"#, "color"),
        (r#"{"schemaVersion":1,"name":4}"#, "name"),
        (r#"{"schemaVersion":1,"inputs":[]}"#, "inputs"),
        (r#"{"schemaVersion":1,"inputs":{"pointGr":true}}"#, "pointGr"),
        (r#"{"schemaVersion":1,"inputs":{"nope":1}}"#, "nope"),
        (r#"{"schemaVersion":1,"inputs":{"cam":"wild"}}"#, "cam"),
        (r#"{"schemaVersion":1,"ownParts":{}}"#, "ownParts"),
        (r#"{"schemaVersion":1,"ownParts":[{"name":"a","massGr":1,"centreIn":2}]}"#, "ownParts[0].lengthIn"),
        (
            r#"{"schemaVersion":1,"ownParts":[{"name":"a","massGr":"1","centreIn":2,"lengthIn":0}]}"#,
            "ownParts[0].massGr",
        ),
        (
            r#"{"schemaVersion":1,"ownParts":[{"name":"a","massGr":1,"centreIn":2,"lengthIn":0,"x":0}]}"#,
            "ownParts[0].x",
        ),
        (r#"{"schemaVersion":1,"shafts":[]}"#, "shafts"),
        (r#"{"schemaVersion":1,"shafts":[7]}"#, "shafts[0]"),
    ] {
        assert_eq!(field(json), place, "{json}");
    }
}
