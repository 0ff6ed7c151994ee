//! Starting setups, all invented: the archers of Sallow Field.

use crate::schema;
use crate::schema::{Field, Value};
use crate::setup::Setup;

/// A setup to start from.
#[derive(Clone, Debug)]
pub struct Start {
    /// Its key in the page.
    pub key: &'static str,
    /// The setup, with its name.
    pub setup: Setup,
}

/// Every starting setup; the first is the one the page opens with.
#[must_use]
pub fn all() -> Vec<Start> {
    use Field::{
        Bore, BowKind, DrawLength, InsertMass, LetOff, PeakDrawWeight, PointMass, Purpose, VaneLength, VaneMass,
    };
    vec![
        start(
            "threeD",
            "Sallow Field: 3-D shooter, 62 lb compound",
            &[
                (PeakDrawWeight, Value::Number(62.0)),
                (DrawLength, Value::Number(29.0)),
                (PointMass, Value::Number(125.0)),
                (LetOff, Value::Number(85.0)),
                (Purpose, schema::Purpose::ThreeD.into()),
            ],
        ),
        start(
            "junior",
            "Sallow Field: junior, 38 lb compound",
            &[
                (PeakDrawWeight, Value::Number(38.0)),
                (DrawLength, Value::Number(25.5)),
                (PointMass, Value::Number(85.0)),
                (LetOff, Value::Number(70.0)),
                (InsertMass, Value::Number(12.0)),
                (VaneMass, Value::Number(5.0)),
                (VaneLength, Value::Number(1.75)),
            ],
        ),
        start(
            "recurve",
            "Sallow Field: finger-shot recurve, 36 lb",
            &[
                (PeakDrawWeight, Value::Number(36.0)),
                (DrawLength, Value::Number(28.0)),
                (PointMass, Value::Number(100.0)),
                (BowKind, schema::BowKind::Recurve.into()),
                (InsertMass, Value::Number(12.0)),
                (VaneMass, Value::Number(3.0)),
            ],
        ),
        start(
            "coach",
            "Sallow Field: the coach's 50 lb compound",
            &[
                (PeakDrawWeight, Value::Number(50.0)),
                (DrawLength, Value::Number(28.0)),
                (PointMass, Value::Number(120.0)),
                (Bore, Value::Number(0.166)),
                (InsertMass, Value::Number(16.0)),
            ],
        ),
    ]
}

fn start(key: &'static str, name: &str, values: &[(Field, Value)]) -> Start {
    let mut setup = Setup { name: name.to_owned(), ..Setup::default() };
    for &(field, value) in values {
        // The rows above are in range: the tests of the evaluation see every one of them take effect.
        let _ = setup.set(field, Some(value));
    }
    Start { key, setup }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_value_took_effect() {
        for start in all() {
            let given = Field::ALL.iter().filter(|&&field| start.setup.get(field).is_some()).count();
            assert!(given >= 5, "{}", start.key);
        }
    }
}
