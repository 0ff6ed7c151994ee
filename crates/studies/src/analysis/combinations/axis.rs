//! What can be combined: an input, or the shaft of the list.

use clothyard_core::format;
use clothyard_core::schema::{Field, StockShaft, Value};
use clothyard_core::units::Units;

/// What runs along an axis.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AxisKind {
    /// Peak draw weight, in pounds.
    DrawWeight,
    /// AMO/ATA draw length, in inches.
    DrawLength,
    /// Point weight, in grains.
    Point,
    /// Insert weight, in grains.
    Insert,
    /// Cut length, in inches.
    Cut,
    /// A shaft, by its place in the build's list.
    Shaft,
    /// Weight of each vane, in grains.
    Vanes,
}

impl AxisKind {
    /// All kinds of axis, in the order of the page.
    pub const ALL: [Self; 7] =
        [Self::DrawWeight, Self::DrawLength, Self::Point, Self::Insert, Self::Cut, Self::Shaft, Self::Vanes];

    /// Its key in the markup, the field that it moves, and what follows its value in a short name.
    const fn row(self) -> (&'static str, Option<Field>, &'static str) {
        match self {
            Self::DrawWeight => ("drawWeight", Some(Field::PeakDrawWeight), " draw weight"),
            Self::DrawLength => ("drawLength", Some(Field::DrawLength), " draw length"),
            Self::Point => ("point", Some(Field::PointMass), " point"),
            Self::Insert => ("insert", Some(Field::InsertMass), " insert"),
            Self::Cut => ("cut", Some(Field::CutLength), " cut"),
            Self::Shaft => ("shaft", None, ""),
            Self::Vanes => ("vanes", Some(Field::VaneMass), " vanes"),
        }
    }

    /// Its key in the markup.
    #[must_use]
    pub const fn key(self) -> &'static str {
        self.row().0
    }

    /// The one with a key.
    #[must_use]
    pub fn by_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.key() == key)
    }

    /// The field that it moves; none for a shaft, which moves four.
    #[must_use]
    pub const fn field(self) -> Option<Field> {
        self.row().1
    }

    /// What it is called on the page.
    #[must_use]
    pub fn label(self) -> &'static str {
        self.field().map_or("Shaft", |field| field.input().label)
    }

    /// A value along it in words.
    #[must_use]
    pub fn words(self, value: f64, shafts: &[StockShaft], units: &Units) -> String {
        match self.field() {
            Some(field) => format::value(field.input(), Value::Number(value), units),
            None => shafts.get(value as usize).map_or_else(String::new, shaft_words),
        }
    }

    /// The same with what it is, as in "125 gr point".
    #[must_use]
    pub fn named(self, value: f64, shafts: &[StockShaft], units: &Units) -> String {
        self.words(value, shafts, units) + self.row().2
    }
}

/// The name of a shaft, or its spine where it has none.
#[must_use]
pub fn shaft_words(shaft: &StockShaft) -> String {
    if shaft.name.is_empty() {
        format!("spine {}", format::trimmed(shaft.static_spine_thousandths, 1))
    } else {
        shaft.name.clone()
    }
}

/// One axis of a grid.
#[derive(Clone, Debug, PartialEq)]
pub struct Axis {
    /// What runs along it.
    pub kind: AxisKind,
    /// Its values, in the saved unit of the field or as places in the list of shafts.
    pub values: Vec<f64>,
}

#[cfg(test)]
mod tests {
    use super::*;
    use clothyard_core::setup::Setup;

    #[test]
    fn values_are_named() {
        let shafts = Setup::default().shafts;
        let say = |kind: AxisKind, value| kind.words(value, &shafts, &Units::metric());
        assert_eq!(say(AxisKind::Cut, 28.0), "71.12\u{a0}cm");
        assert_eq!((say(AxisKind::Shaft, 0.0), say(AxisKind::Shaft, 99.0)), (shafts[0].name.clone(), String::new()));
        assert_eq!(AxisKind::Cut.named(28.0, &shafts, &Units::ARCHERY), "28\u{a0}in cut");
        assert_eq!(AxisKind::Shaft.named(1.0, &shafts, &Units::ARCHERY), shafts[1].name);
        let unnamed = StockShaft { name: String::new(), ..shafts[0].clone() };
        assert!(shaft_words(&unnamed).starts_with("spine "));
        for kind in AxisKind::ALL {
            assert_eq!(AxisKind::by_key(kind.key()), Some(kind));
        }
    }
}
