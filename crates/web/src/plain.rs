//! Between the page's types and plain objects of JavaScript.
//!
//! Writing goes by serde. Reading is done here by hand: it knows what a saved build may hold, names the
//! place of what it cannot read, and spares the page a fifth of its wasm, which a reader for any shape
//! would take.

use clothyard_core::ordered_map::OrderedMap;
use clothyard_core::report::ErrorReport;
use clothyard_core::schema::Row;
use clothyard_core::schema::StockShaft;
use clothyard_core::setup::{OwnPart, SavedSetup, SavedValue};
use js_sys::{Array, Object};
use serde::Serialize;
use wasm_bindgen::{JsCast, JsValue};

/// A value as plain objects, arrays, strings, numbers and null.
#[must_use]
pub fn write(value: &impl Serialize) -> JsValue {
    value.serialize(&serde_wasm_bindgen::Serializer::json_compatible()).unwrap_or(JsValue::NULL)
}

/// What could not be read, and where it stood.
#[must_use]
pub fn wrong(place: &str, wanted: &str) -> ErrorReport {
    ErrorReport {
        code: "shape",
        field: place.to_owned(),
        value: None,
        minimum: None,
        maximum: None,
        message: format!("{place}: {wanted}."),
    }
}

/// A key and its value.
pub type Pair = (String, JsValue);

/// The keys and values of an object.
///
/// # Errors
/// Where it is no object.
pub fn entries(value: &JsValue, place: &str) -> Result<Vec<Pair>, ErrorReport> {
    let object = value.dyn_ref::<Object>().filter(|_| !Array::is_array(value));
    let pairs = Object::entries(object.ok_or_else(|| wrong(place, "an object is wanted"))?);
    let pair = |pair: JsValue| {
        let pair: &Array = pair.unchecked_ref();
        (pair.get(0).as_string().unwrap_or_default(), pair.get(1))
    };
    Ok(pairs.iter().map(pair).collect())
}

/// A text.
///
/// # Errors
/// Where it is none.
pub fn text(value: &JsValue, place: &str) -> Result<String, ErrorReport> {
    value.as_string().ok_or_else(|| wrong(place, "a text is wanted"))
}

/// A number.
///
/// # Errors
/// Where it is none.
pub fn number(value: &JsValue, place: &str) -> Result<f64, ErrorReport> {
    value.as_f64().ok_or_else(|| wrong(place, "a number is wanted"))
}

/// Texts by key.
///
/// # Errors
/// The key whose value is no text.
pub fn texts(value: &JsValue, place: &str) -> Result<OrderedMap<String, String>, ErrorReport> {
    let pair = |(key, value): Pair| text(&value, &key).map(|text| (key, text));
    entries(value, place)?.into_iter().map(pair).collect()
}

/// A saved build.
///
/// # Errors
/// The place of what cannot be read and what is wanted there.
pub fn saved_build(value: &JsValue) -> Result<SavedSetup, ErrorReport> {
    let mut setup = SavedSetup::default();
    let mut versioned = false;
    for (key, value) in entries(value, "the build")? {
        match key.as_str() {
            "schemaVersion" => {
                let version = number(&value, &key)?;
                if version < 0.0 || version > f64::from(u32::MAX) || version % 1.0 != 0.0 {
                    return Err(wrong(&key, "a whole number is wanted"));
                }
                (setup.schema_version, versioned) = (version as u32, true);
            }
            "name" => setup.name = text(&value, &key)?,
            "inputs" => setup.inputs = inputs(&value)?,
            "ownParts" => setup.own_parts = list(&value, &key, own_part)?,
            "shafts" => setup.shafts = if value.is_null() { None } else { Some(list(&value, &key, shaft)?) },
            "lists" => setup.lists = lists(&value)?,
            "ruleSource" => setup.rule_source = text(&value, &key)?,
            "currency" => setup.currency = text(&value, &key)?,
            _ => return Err(wrong(&key, "a build has no such key")),
        }
    }
    if versioned { Ok(setup) } else { Err(wrong("schemaVersion", "it is missing")) }
}

/// Numbers and texts by key.
///
/// # Errors
/// The key whose value is neither.
pub fn inputs(value: &JsValue) -> Result<OrderedMap<String, SavedValue>, ErrorReport> {
    let pair = |(key, value): Pair| match (value.as_f64(), value.as_string()) {
        (Some(number), _) => Ok((key, SavedValue::Number(number))),
        (_, Some(text)) => Ok((key, SavedValue::Text(text))),
        _ => Err(wrong(&key, "a number or a text is wanted")),
    };
    entries(value, "inputs")?.into_iter().map(pair).collect()
}

/// Lists of rows of numbers, by key.
fn lists(value: &JsValue) -> Result<OrderedMap<String, Vec<Row>>, ErrorReport> {
    entries(value, "lists")?.into_iter().map(|(key, rows)| Ok((key.clone(), array(&rows, &key, row)?))).collect()
}

fn row(value: &JsValue, place: &str) -> Result<Row, ErrorReport> {
    array(value, place, |value, place| if value.is_null() { Ok(None) } else { number(value, place).map(Some) })
}

/// A list whose items are read one by one.
fn array<T>(
    value: &JsValue,
    place: &str,
    read: fn(&JsValue, &str) -> Result<T, ErrorReport>,
) -> Result<Vec<T>, ErrorReport> {
    let array = value.dyn_ref::<Array>().ok_or_else(|| wrong(place, "a list is wanted"))?;
    array.iter().enumerate().map(|(index, value)| read(&value, &format!("{place}[{index}]"))).collect()
}

/// A list of objects, each read from its keys and values.
///
/// # Errors
/// Where it is no list, and as `read`.
pub fn list<T>(
    value: &JsValue,
    place: &str,
    read: fn(&[Pair], &str) -> Result<T, ErrorReport>,
) -> Result<Vec<T>, ErrorReport> {
    let array = value.dyn_ref::<Array>().ok_or_else(|| wrong(place, "a list is wanted"))?;
    let item = |(index, value): (usize, JsValue)| {
        let place = format!("{place}[{index}]");
        read(&entries(&value, &place)?, &place)
    };
    array.iter().enumerate().map(item).collect()
}

/// The values of just these keys, in their order, each with its place.
///
/// # Errors
/// A key that is missing or does not belong there.
pub fn fields<const N: usize>(
    pairs: &[Pair],
    place: &str,
    keys: [&str; N],
) -> Result<[(JsValue, String); N], ErrorReport> {
    if let Some((key, _)) = pairs.iter().find(|(key, _)| !keys.contains(&key.as_str())) {
        return Err(wrong(&format!("{place}.{key}"), "there is no such key"));
    }
    let find = |name: &str| pairs.iter().find(|(key, _)| key == name);
    if let Some(missing) = keys.iter().find(|name| find(name).is_none()) {
        return Err(wrong(&format!("{place}.{missing}"), "it is missing"));
    }
    Ok(keys.map(|name| (find(name).map_or(JsValue::NULL, |(_, value)| value.clone()), format!("{place}.{name}"))))
}

fn own_part(pairs: &[Pair], place: &str) -> Result<OwnPart, ErrorReport> {
    let [name, mass, centre, length] = fields(pairs, place, ["name", "massGr", "centreIn", "lengthIn"])?;
    Ok(OwnPart {
        name: text(&name.0, &name.1)?,
        mass_gr: number(&mass.0, &mass.1)?,
        centre_in: number(&centre.0, &centre.1)?,
        length_in: number(&length.0, &length.1)?,
    })
}

fn shaft(pairs: &[Pair], place: &str) -> Result<StockShaft, ErrorReport> {
    let keys = ["name", "staticSpineThousandths", "shaftGrPerIn", "outerDiameterIn", "boreIn"];
    let [name, spine, weight, outer, bore] = fields(pairs, place, keys)?;
    Ok(StockShaft {
        name: text(&name.0, &name.1)?,
        static_spine_thousandths: number(&spine.0, &spine.1)?,
        shaft_gr_per_in: number(&weight.0, &weight.1)?,
        outer_diameter_in: number(&outer.0, &outer.1)?,
        bore_in: number(&bore.0, &bore.1)?,
    })
}
