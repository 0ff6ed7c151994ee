//! Sample setups, all invented: the archers of Sallow Field.

use crate::schema;
use crate::schema::{Field, Value};
use crate::setup::Setup;

/// A sample setup.
#[derive(Clone, Debug)]
pub struct Sample {
    /// Key on the page.
    pub key: &'static str,
    /// The setup, with its name.
    pub setup: Setup,
}

/// All sample setups; the page opens with the first.
#[must_use]
pub fn all() -> Vec<Sample> {
    use Field::{
        Bore, BowKind, DrawLength, InsertMass, LetOff, PeakDrawWeight, PointMass, Purpose, VaneLength, VaneMass,
    };
    vec![
        sample(
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
        sample(
            "junior",
            "Sallow Field: junior, 38 lb compound",
            &[
                (PeakDrawWeight, Value::Number(38.0)),
                (DrawLength, Value::Number(25.5)),
                (PointMass, Value::Number(75.0)),
                (LetOff, Value::Number(70.0)),
                (InsertMass, Value::Number(12.0)),
                (VaneMass, Value::Number(5.0)),
                (VaneLength, Value::Number(1.75)),
            ],
        ),
        sample(
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
        sample(
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

fn sample(key: &'static str, name: &str, values: &[(Field, Value)]) -> Sample {
    let mut setup = Setup { name: name.to_owned(), ..Setup::default() };
    setup.choose(schema::DrawWeightFrom::Scale);
    for &(field, value) in values {
        // The values above are in range; a test checks that each takes effect.
        let _ = setup.set(field, Some(value));
    }
    Sample { key, setup }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_value_took_effect() {
        for sample in all() {
            let given = Field::ALL.iter().filter(|&&field| sample.setup.get(field).is_some()).count();
            assert!(given >= 5, "{}", sample.key);
        }
    }
}
