//! The user's own parts: points, inserts, vanes and nocks that are not on the arrow now.

use clothyard_core::format;
use clothyard_core::ordered_map::OrderedMap;
use clothyard_core::schema::{Field, Kind, Value};
use clothyard_core::setup::Resolved;
use clothyard_core::setup::{MAX_NAME_CHARS, SavedValue, Setup, SetupError};
use clothyard_core::units::Units;
use serde::Serialize;

/// The kind of a stored part.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "camelCase")]
pub enum PartKind {
    /// A point or broadhead.
    Point,
    /// An insert, half-out or outsert.
    Insert,
    /// One vane of a set.
    Vane,
    /// A nock.
    Nock,
}

impl PartKind {
    /// All kinds, in the order of the page.
    pub const ALL: [Self; 4] = [Self::Point, Self::Insert, Self::Vane, Self::Nock];

    /// Its key, in a backup and on the page.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::Point => "point",
            Self::Insert => "insert",
            Self::Vane => "vane",
            Self::Nock => "nock",
        }
    }

    /// What the page calls it.
    #[must_use]
    pub const fn label(self) -> &'static str {
        match self {
            Self::Point => "Point",
            Self::Insert => "Insert",
            Self::Vane => "Vane",
            Self::Nock => "Nock",
        }
    }

    /// The fields that describe such a part, its weight first.
    #[must_use]
    pub const fn fields(self) -> &'static [Field] {
        match self {
            Self::Point => &[Field::PointMass, Field::PointKind, Field::PointLength],
            Self::Insert => {
                &[Field::InsertMass, Field::InsertKind, Field::InsertInside, Field::InsertAhead, Field::InsertMaterial]
            }
            Self::Vane => &[Field::VaneMass, Field::VaneLength, Field::VaneHeight],
            Self::Nock => &[Field::NockMass, Field::NockKind, Field::ThroatToShaft],
        }
    }
}

/// A part of the user's own, off the arrow.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct StoredPart {
    /// What it is known by, whatever it is called.
    pub id: String,
    /// What it is.
    pub kind: PartKind,
    /// What the user calls it.
    pub name: String,
    /// What it gives the fields of its kind, by key as in a saved build.
    pub inputs: OrderedMap<String, SavedValue>,
}

impl StoredPart {
    /// The weight of a point, in grains; none for another part, or a point without one of its own.
    #[must_use]
    pub fn point_weight(&self) -> Option<f64> {
        let of_point = |(key, value): &(String, SavedValue)| match value {
            SavedValue::Number(number) if key == Field::PointMass.input().key => Some(*number),
            _ => None,
        };
        self.inputs.0.iter().find_map(of_point).filter(|_| self.kind == PartKind::Point)
    }

    /// The part of this kind that is on the arrow, whoever gave its values. Without a name it is called after
    /// its weight.
    #[must_use]
    pub fn on_arrow(kind: PartKind, setup: &Setup, id: String, name: &str, units: &Units) -> Self {
        let resolved = resolved(setup);
        let mut whole = Setup::default();
        for &field in kind.fields() {
            // The value is in its own field already.
            let _ = whole.set(field, resolved.value(field));
        }
        let weight = kind.fields().first().and_then(|&field| said(field, resolved.value(field), units));
        let name = match tidy_name(name) {
            name if name.is_empty() => format!("{} {}", kind.label(), weight.unwrap_or_default()),
            name => name,
        };
        Self { id, kind, name, inputs: whole.to_saved().inputs }
    }

    /// The setup with this part on the arrow, as the user's own; what the part does not say is a default.
    ///
    /// # Errors
    /// [`SetupError`] where the part's values are not allowed.
    pub fn put_on(&self, setup: &Setup) -> Result<Setup, SetupError> {
        let mut saved = setup.to_saved();
        for field in self.kind.fields() {
            saved.inputs.remove(field.input().key);
        }
        saved.inputs.0.extend(self.inputs.0.iter().cloned());
        Setup::from_saved(&saved)
    }

    /// What it sets, in words.
    #[must_use]
    pub fn summary(&self, units: &Units) -> String {
        let on = self.put_on(&Setup::default()).unwrap_or_default();
        let words = |&field: &Field| {
            let value = on.get(field).filter(|&value| value != Value::Number(0.0));
            let said = said(field, value, units)?;
            let measure =
                matches!(field.input().kind, Kind::Number { .. }) && self.kind.fields().first() != Some(&field);
            Some(if measure { format!("{} {said}", field.input().label.to_ascii_lowercase()) } else { said })
        };
        self.kind.fields().iter().filter_map(words).collect::<Vec<_>>().join(", ")
    }

    /// Checks name and inputs.
    ///
    /// # Errors
    /// [`SetupError`]: a name that is too long, an input that is not of this part or out of its range.
    pub fn check(&self) -> Result<(), SetupError> {
        if self.name.chars().count() > MAX_NAME_CHARS {
            return Err(SetupError::TooMany { key: "name", max: MAX_NAME_CHARS });
        }
        let strange = |key: &str| !self.kind.fields().iter().any(|field| field.input().key == key);
        if let Some((key, _)) = self.inputs.0.iter().find(|(key, _)| strange(key)) {
            return Err(SetupError::UnknownKey { key: key.clone() });
        }
        self.put_on(&Setup::default()).map(drop)
    }
}

/// The fields, settled; those of the shaft are not asked for here.
pub(crate) fn resolved(setup: &Setup) -> Resolved {
    let shaft = setup.shafts.first().cloned();
    Resolved::new(setup, &shaft.unwrap_or_else(|| clothyard_core::schema::shafts::invented_shafts().swap_remove(0)))
}

/// A field's value in words.
pub(crate) fn said(field: Field, value: Option<Value>, units: &Units) -> Option<String> {
    value.map(|value| format::value(field.input(), value, units))
}

/// A name without blanks around it, no longer than is allowed.
pub(crate) fn tidy_name(name: &str) -> String {
    name.trim().chars().take(MAX_NAME_CHARS).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_part_goes_on_the_arrow_as_the_user_s_own() {
        let mut setup = Setup::default();
        setup.set(Field::PointMass, Some(Value::Number(125.0))).unwrap();
        let part = StoredPart::on_arrow(PartKind::Point, &setup, "a".into(), " ", &Units::ARCHERY);
        assert_eq!(part.name, "Point 125\u{a0}gr");
        assert_eq!(part.summary(&Units::ARCHERY), "125\u{a0}gr, Field or target point, point length 1.2\u{a0}in");
        let on = part.put_on(&Setup::default()).unwrap();
        for &field in PartKind::Point.fields() {
            assert!(on.get(field).is_some());
        }
        assert_eq!(on.get(Field::PointMass), Some(Value::Number(125.0)));
    }
}
