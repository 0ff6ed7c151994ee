//! What an input is: kind, range, default, and how typed text is checked.
//!
//! The table of inputs is [`crate::schema::INPUTS`]. Checks, messages, the form's markup and the generators of
//! property tests follow from it.

use crate::parse;
use crate::parse::EntryError;
use crate::schema::{ChoiceSpec, Field, Group, When};
use crate::units::{self, Quantity, Units};

/// A number or a choice.
#[derive(Clone, Copy, Debug)]
pub enum Kind {
    /// A number, in the saved unit of its quantity.
    Number {
        /// Quantity.
        quantity: Quantity,
        /// Minimum allowed.
        minimum: f64,
        /// Maximum allowed.
        maximum: f64,
        /// Step of plus and minus.
        step: f64,
        /// Ends of the slider, if it has one.
        slider: Option<(f64, f64)>,
    },
    /// One of these answers.
    Choice(&'static [ChoiceSpec]),
}

/// The value of an input that the user did not give.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum DefaultRule {
    /// This number, in the saved unit.
    Number(f64),
    /// This answer, by its index.
    Choice(u8),
    /// It follows other inputs; the text says how.
    Follows(&'static str),
    /// None: the input is not used unless given.
    Absent,
}

/// The first of these that an input changes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CountsIn {
    /// Results.
    Outputs,
    /// Warnings.
    Warnings,
    /// Drawing of the arrow.
    Drawing,
    /// The shot in slow motion.
    Shot,
    /// Flight, sight marks and rule book.
    Flight,
    /// Batch, build sheet and tuning log.
    Production,
    /// Evaluation of measurements.
    Measurements,
}

/// An input.
#[derive(Clone, Copy, Debug)]
pub struct Input {
    /// The field.
    pub field: Field,
    /// Key in a saved setup, with its unit.
    pub key: &'static str,
    /// Group on the page.
    pub group: Group,
    /// Whether it is folded at first.
    pub folded: bool,
    /// Label on the page, without unit.
    pub label: &'static str,
    /// Kind and range.
    pub kind: Kind,
    /// Value when the user gives none.
    pub default: DefaultRule,
    /// What it changes first.
    pub counts_in: CountsIn,
    /// When it applies.
    pub when: When,
}

/// The value of an input.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Value {
    /// A number in the saved unit.
    Number(f64),
    /// An answer, by its index.
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

    /// The allowed number nearest to a value; the value itself for a choice.
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

    /// Reads what was typed (a number) or chosen (a key); `None` for empty text.
    ///
    /// # Errors
    /// [`EntryError`] with the range in the saved unit.
    pub fn read(&self, text: &str, units: &Units) -> Result<Option<Value>, EntryError> {
        if text.trim().is_empty() {
            return Ok(None);
        }
        match self.kind {
            Kind::Choice(_) => self.with_key(text).map(Some).ok_or(EntryError::NotANumber),
            Kind::Number { quantity, minimum, maximum, .. } => {
                let value = parse::read_in_range(text, quantity, units, minimum, maximum)?;
                match self.unlikely(text, value) {
                    Some(error) => Err(error),
                    None => self.check(Value::Number(value)).map(Some),
                }
            }
        }
    }

    /// Asks whether a bare number is meant that is more likely something else; with its unit it is meant.
    fn unlikely(&self, text: &str, value: f64) -> Option<EntryError> {
        /// Few shafts are weaker (common practice, no source); tubes are sold by numbers such as 1916.
        const WEAKEST: f64 = 1500.0;
        let instead = match self.field {
            Field::StaticSpine if value > WEAKEST => None,
            Field::LetOff if 0.0 < value && value < 1.0 => Some(100.0 * value),
            _ => return None,
        };
        let bare = !text.contains(|c: char| c.is_ascii_alphabetic() || matches!(c, '%' | '#' | '"'));
        bare.then_some(EntryError::Unlikely { value, instead })
    }

    /// Checks a value against the range.
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

/// Reads a draw weight marked at a draw length, such as `40@28` or `40 lb @ 28 in`; in the saved units.
#[must_use]
pub fn read_marked(text: &str, units: &Units) -> Option<(f64, f64)> {
    let (weight, draw) = text.split_once('@')?;
    let number = |field: Field, text: &str| match field.input().read(text, units) {
        Ok(Some(Value::Number(number))) => Some(number),
        _ => None,
    };
    Some((number(Field::MarkedWeight, weight)?, number(Field::MarkedDraw, draw)?))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::format;
    use crate::schema::{INPUTS, LISTS};
    use proptest::prelude::*;

    /// A choice of units that has each unit of the quantity in turn.
    fn every_unit(quantity: Quantity) -> impl Iterator<Item = Units> {
        (0..quantity.units().len()).map(move |index| {
            let mut units = Units::ARCHERY;
            units.choose(quantity, index);
            units
        })
    }

    #[test]
    fn a_bound_is_taken_as_its_message_prints_it() {
        for input in &INPUTS {
            let Kind::Number { quantity, minimum, maximum, .. } = input.kind else { continue };
            for units in every_unit(quantity) {
                for bound in [minimum, maximum] {
                    let bare = format::entered(quantity, bound, &units);
                    for text in [format::entered_with_unit(quantity, bound, &units), format::for_people(&bare), bare] {
                        let mut read = input.read(&text, &units);
                        if let Err(EntryError::Unlikely { .. }) = read {
                            read = input.read(&(text.clone() + " thou"), &units);
                        }
                        let Ok(Some(value)) = read else { panic!("{}: {text}: {read:?}", input.key) };
                        assert_eq!(
                            format::value(input, value, &units),
                            format::value(input, Value::Number(bound), &units)
                        );
                    }
                }
            }
        }
        for column in LISTS.iter().flat_map(|list| list.columns) {
            for units in every_unit(column.quantity) {
                for bound in [column.minimum, column.maximum] {
                    let text = format::entered(column.quantity, bound, &units);
                    let value = column.read(&text, &units).unwrap();
                    assert_eq!(format::entered(column.quantity, value, &units), text, "{}", column.key);
                }
            }
        }
    }

    proptest! {
        /// A number said to be too small or too large is not written like one that is allowed.
        #[test]
        fn no_message_contradicts_itself(place in 0..INPUTS.len(), index in 0usize..3, off in -2.0..2.0f64, low: bool) {
            let input = &INPUTS[place];
            if let Kind::Number { quantity, minimum, maximum, .. } = input.kind {
                let mut units = Units::ARCHERY;
                units.choose(quantity, index);
                let bound = units.show(quantity, if low { minimum } else { maximum });
                let step = 0.1_f64.powi(units.of(quantity).entry_decimals as i32);
                let text = format::trimmed(bound + off * step, 6);
                if let Err(EntryError::OutOfRange { value, .. }) = input.read(&text, &units) {
                    let shown = format::entered(quantity, value, &units);
                    prop_assert!(input.read(&shown, &units).is_err(), "{}: {text} is shown as {shown}", input.key);
                    prop_assert!(value < minimum || value > maximum);
                }
            }
        }
    }

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
    fn what_is_hardly_meant_is_asked_about() {
        let read = |field: Field, text: &str| field.input().read(text, &Units::ARCHERY);
        let asked = |value, instead| Err(EntryError::Unlikely { value, instead });
        assert_eq!(read(Field::StaticSpine, "1916"), asked(1916.0, None));
        assert_eq!(read(Field::StaticSpine, "1500"), Ok(Some(Value::Number(1500.0))));
        assert_eq!(read(Field::LetOff, ".8"), asked(0.8, Some(80.0)));
        assert_eq!(read(Field::LetOff, "0"), Ok(Some(Value::Number(0.0))));
        assert_eq!(read(Field::Humidity, ".8"), Ok(Some(Value::Number(0.8))));
        for (field, typed, answers, words) in [
            (
                Field::StaticSpine,
                "1916",
                vec!["1916 thou"],
                "Static spine: is 1916 meant? An aluminum tube is entered by outside diameter and wall.",
            ),
            (Field::LetOff, ".8", vec!["0.8%", "80%"], "Let-off: is that 0.8% or 80%?"),
        ] {
            let (input, units) = (field.input(), Units::ARCHERY);
            let error = input.read(typed, &units).unwrap_err();
            assert_eq!(format::entry_message(input, &error, &units), words);
            let meant = format::meant(input, &error, &units);
            assert_eq!(meant, answers);
            assert!(meant.iter().all(|text| input.read(text, &units).is_ok()), "an answer is not asked about");
        }
    }

    #[test]
    fn a_weight_marked_at_a_draw_length() {
        let read = |text: &str| read_marked(text, &Units::ARCHERY);
        assert_eq!(read("40@28"), Some((40.0, 28.0)));
        assert_eq!(read(" 45# @ 28 1/2\""), Some((45.0, 28.5)));
        assert_eq!(["40", "40@", "@28", "40@280", "x@28"].map(read), [None; 5]);
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
