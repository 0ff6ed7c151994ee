//! What an input is: its kind, its range, and the check of a typed text against it.
//!
//! The inputs themselves are one table, [`crate::schema`]. It drives checks, messages, the form's
//! markup and the generators of property tests.

use crate::parse;
use crate::parse::EntryError;
use crate::schema::{ChoiceSpec, Field, When};
use crate::units::{self, Quantity, Units};

/// The group of fields an input belongs to, in the order of the hand: the bow, the arrow from nock to
/// point, the purpose.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Group {
    /// The bow.
    Bow,
    /// Nock, lighted nock, or pin and bushing.
    Nock,
    /// Vanes, wrap and their glue.
    Vanes,
    /// The shaft.
    Shaft,
    /// Insert, half-out, outsert, collar, front sleeve and their glue.
    Front,
    /// The point.
    Point,
    /// What the arrow is for.
    Purpose,
    /// The air it flies through and the wind.
    Air,
    /// Eye, sight and what is aimed at.
    Aim,
    /// What a rule book allows.
    Rules,
    /// How many arrows to make, and how alike.
    Make,
    /// The steps that instruments show.
    Instruments,
    /// The finished arrow on scale and edge.
    Finished,
    /// A home spine rig and its reading.
    Rig,
    /// What must fit what.
    Fit,
}

impl Group {
    /// All groups, in the order of the page.
    pub const ALL: [Self; 15] = [
        Self::Bow,
        Self::Nock,
        Self::Vanes,
        Self::Shaft,
        Self::Front,
        Self::Point,
        Self::Purpose,
        Self::Air,
        Self::Aim,
        Self::Rules,
        Self::Make,
        Self::Instruments,
        Self::Finished,
        Self::Rig,
        Self::Fit,
    ];

    /// Key used in the page's markup.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::Bow => "bow",
            Self::Nock => "nock",
            Self::Vanes => "vanes",
            Self::Shaft => "shaft",
            Self::Front => "front",
            Self::Point => "point",
            Self::Purpose => "purpose",
            Self::Air => "air",
            Self::Aim => "aim",
            Self::Rules => "rules",
            Self::Make => "make",
            Self::Instruments => "instruments",
            Self::Finished => "finished",
            Self::Rig => "rig",
            Self::Fit => "fit",
        }
    }

    /// Heading on the page.
    #[must_use]
    pub const fn label(self) -> &'static str {
        match self {
            Self::Bow => "Bow",
            Self::Nock => "Nock",
            Self::Vanes => "Vanes and wrap",
            Self::Shaft => "Shaft",
            Self::Front => "Insert and front end",
            Self::Point => "Point",
            Self::Purpose => "Purpose",
            Self::Air => "Air and wind",
            Self::Aim => "Sight and target",
            Self::Rules => "Rule book",
            Self::Make => "Making them",
            Self::Instruments => "Instruments",
            Self::Finished => "Finished arrow",
            Self::Rig => "Spine rig",
            Self::Fit => "Fit",
        }
    }
}

/// A number or one of a few answers.
#[derive(Clone, Copy, Debug)]
pub enum Kind {
    /// A number, in the saved unit of its quantity.
    Number {
        /// What it measures.
        quantity: Quantity,
        /// Least allowed.
        minimum: f64,
        /// Most allowed.
        maximum: f64,
        /// What plus and minus change it by.
        step: f64,
        /// Ends of the slider, for the numbers to play with.
        slider: Option<(f64, f64)>,
    },
    /// One of these.
    Choice(&'static [ChoiceSpec]),
}

/// The value of a field that the user does not give.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum DefaultRule {
    /// Always this number, in the saved unit.
    Number(f64),
    /// Always this answer, by its place in the list.
    Choice(u8),
    /// It follows other fields; the words say how.
    Follows(&'static str),
    /// Nothing: it is not used unless it is given.
    Absent,
}

/// Where an input counts: the first of these that it moves.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CountsIn {
    /// A result of the page.
    Outputs,
    /// A warning.
    Warnings,
    /// The drawing of the arrow.
    Drawing,
    /// The shot in time.
    Shot,
    /// The flight, the sight marks, and what a rule book says of them.
    Flight,
    /// The batch, the build sheet, and the log of bare shafts.
    Production,
    /// What was measured of bow and arrow, and how sure it is.
    Measurements,
}

/// One input.
#[derive(Clone, Copy, Debug)]
pub struct Input {
    /// Which one.
    pub field: Field,
    /// Key in a saved build, with its unit.
    pub key: &'static str,
    /// Its group on the page.
    pub group: Group,
    /// Whether it is folded away at first.
    pub folded: bool,
    /// Label on the page, without the unit.
    pub label: &'static str,
    /// Kind and range.
    pub kind: Kind,
    /// Its value where the user gives none.
    pub default: DefaultRule,
    /// Where it counts.
    pub counts_in: CountsIn,
    /// When it plays a part beside the other inputs.
    pub when: When,
}

/// A field's value.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Value {
    /// A number in the saved unit.
    Number(f64),
    /// An answer, by its place in the list.
    Choice(u8),
}

impl Input {
    /// The quantity of a number; none for a choice.
    #[must_use]
    pub fn quantity(&self) -> Option<Quantity> {
        match self.kind {
            Kind::Number { quantity, .. } => Some(quantity),
            Kind::Choice(_) => None,
        }
    }

    /// The answers of a choice; none for a number.
    #[must_use]
    pub fn choices(&self) -> &'static [ChoiceSpec] {
        match self.kind {
            Kind::Choice(list) => list,
            Kind::Number { .. } => &[],
        }
    }

    /// The number nearest to a value that the field allows; the value itself for a choice.
    #[must_use]
    pub fn clamp(&self, value: f64) -> f64 {
        match self.kind {
            Kind::Number { minimum, maximum, .. } => units::clamp(value, minimum, maximum),
            Kind::Choice(_) => value,
        }
    }

    /// The answer with this key.
    #[must_use]
    pub fn with_key(&self, key: &str) -> Option<Value> {
        let place = self.choices().iter().position(|choice| choice.key == key)?;
        u8::try_from(place).ok().map(Value::Choice)
    }

    /// Reads what was typed (a number) or chosen (a key); an empty text leaves the field to the page.
    ///
    /// Where a comma can be read in two ways but only one of them is in range, that one is meant.
    ///
    /// # Errors
    /// [`EntryError`] with the range in the saved unit.
    pub fn read(&self, text: &str, units: &Units) -> Result<Option<Value>, EntryError> {
        if text.trim().is_empty() {
            return Ok(None);
        }
        match self.kind {
            Kind::Choice(_) => self.with_key(text).map(Some).ok_or(EntryError::NotANumber),
            Kind::Number { quantity, .. } => {
                let value = match parse::read(text, quantity, units.of(quantity)) {
                    Err(EntryError::Ambiguous { as_decimal, as_thousands }) => self.meant(as_decimal, as_thousands)?,
                    other => other?,
                };
                self.check(Value::Number(value)).map(Some)
            }
        }
    }

    /// Which of two readings is meant: the one in range, if just one is.
    fn meant(&self, as_decimal: f64, as_thousands: f64) -> Result<f64, EntryError> {
        let fits = |value: f64| self.check(Value::Number(value)).is_ok();
        match (fits(as_decimal), fits(as_thousands)) {
            (true, true) => Err(EntryError::Ambiguous { as_decimal, as_thousands }),
            (false, true) => Ok(as_thousands),
            _ => Ok(as_decimal),
        }
    }

    /// Checks a value against the field's range.
    ///
    /// # Errors
    /// [`EntryError::OutOfRange`], [`EntryError::NotWhole`], or [`EntryError::NotANumber`] for a value of
    /// the wrong kind.
    pub fn check(&self, value: Value) -> Result<Value, EntryError> {
        match (&self.kind, value) {
            (&Kind::Number { quantity, minimum, maximum, .. }, Value::Number(number)) => {
                if !(minimum..=maximum).contains(&number) {
                    return Err(EntryError::OutOfRange { value: number, minimum, maximum });
                }
                if quantity == Quantity::Count && number % 1.0 != 0.0 {
                    return Err(EntryError::NotWhole);
                }
                Ok(value)
            }
            (Kind::Choice(list), Value::Choice(place)) if usize::from(place) < list.len() => Ok(value),
            _ => Err(EntryError::NotANumber),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::schema::INPUTS;

    #[test]
    fn the_table_is_sound() {
        for (place, input) in INPUTS.iter().enumerate() {
            assert_eq!(input.field as usize, place, "{}", input.key);
            assert!(input.field.hint().ends_with('.'), "{}: a hint is a sentence", input.key);
            assert_eq!(INPUTS.iter().filter(|other| other.key == input.key).count(), 1, "{}", input.key);
            match (&input.kind, input.default) {
                (&Kind::Number { minimum, maximum, step, slider, .. }, default) => {
                    assert!(minimum < maximum && step > 0.0, "{}", input.key);
                    if let Some((low, high)) = slider {
                        assert!(minimum <= low && low < high && high <= maximum, "{}", input.key);
                    }
                    if let DefaultRule::Number(value) = default {
                        assert!(input.check(Value::Number(value)).is_ok(), "{}", input.key);
                    }
                    assert!(!matches!(default, DefaultRule::Choice(_)), "{}", input.key);
                }
                (Kind::Choice(list), DefaultRule::Choice(place)) => {
                    assert!(usize::from(place) < list.len(), "{}", input.key)
                }
                (Kind::Choice(_), DefaultRule::Follows(_)) => {}
                _ => panic!("{}: a choice needs an answer", input.key),
            }
        }
    }

    #[test]
    fn a_comma_is_settled_by_the_range_where_it_can_be() {
        let draw = Field::DrawLength.input();
        assert_eq!(draw.read("28,125", &Units::ARCHERY), Ok(Some(Value::Number(28.125))));
        let arrow = Field::ChronographArrow.input();
        assert_eq!(arrow.read("1,234", &Units::ARCHERY), Ok(Some(Value::Number(1234.0))));
        let read = |field: Field, text: &str, units: &Units| match field.input().read(text, units) {
            Ok(Some(Value::Number(number))) => number,
            other => panic!("{text}: {other:?}"),
        };
        assert_eq!(read(Field::RestOffset, "-1,125", &Units::ARCHERY), -1.125);
        assert!((read(Field::PointMass, "10,125 g", &Units::ARCHERY) - 156.253).abs() < 1e-3);
        assert_eq!(read(Field::CutLength, "28,125 in", &Units::metric()), 28.125);
        let weight = Field::PeakDrawWeight.input().read("1,234", &Units::ARCHERY);
        assert!(matches!(weight, Err(EntryError::OutOfRange { value: 1.234, .. })), "{weight:?}");
    }

    #[test]
    fn two_readings_in_range_are_asked_about() {
        let wide = Input {
            key: "wide",
            label: "Wide",
            kind: Kind::Number { quantity: Quantity::Mass, minimum: 0.0, maximum: 5000.0, step: 1.0, slider: None },
            default: DefaultRule::Absent,
            ..*Field::PointMass.input()
        };
        let asked = wide.read("1,234", &Units::ARCHERY);
        assert_eq!(asked, Err(EntryError::Ambiguous { as_decimal: 1.234, as_thousands: 1234.0 }));
    }

    #[test]
    fn a_bad_value_names_its_range() {
        let draw = Field::DrawLength.input();
        assert_eq!(
            draw.read("280", &Units::ARCHERY),
            Err(EntryError::OutOfRange { value: 280.0, minimum: 15.0, maximum: 36.0 })
        );
        assert_eq!(draw.read("  ", &Units::ARCHERY), Ok(None));
        assert_eq!(Field::VaneCount.input().read("2.5", &Units::ARCHERY), Err(EntryError::NotWhole));
    }
}
