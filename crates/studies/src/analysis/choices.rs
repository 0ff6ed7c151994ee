//! Options of a select list: values with their labels.

use clothyard_core::schema::{Field, OUTPUTS};

/// Every input that is a number and moves results.
pub fn inputs() -> impl Iterator<Item = (&'static str, &'static str)> {
    let inputs = Field::ALL.into_iter().filter(|field| field.moves_results()).map(Field::input);
    inputs.filter(|input| input.quantity().is_some()).map(|input| (input.key, input.label))
}

/// Every result.
pub fn results() -> impl Iterator<Item = (&'static str, &'static str)> {
    OUTPUTS.iter().map(|row| (row.key, row.label))
}

#[cfg(test)]
mod tests {
    use super::*;
    use clothyard_core::eval::baseline::range;
    use clothyard_core::schema::Output;

    #[test]
    fn what_is_offered_is_known_by_its_value_and_has_numbers() {
        assert!(inputs().all(|(key, _)| Field::by_key(key).is_some_and(|field| range(field).is_ok())));
        assert!(results().all(|(key, label)| Output::by_key(key).is_some_and(|output| output.row().label == label)));
        assert!(inputs().count() > 40 && inputs().any(|choice| choice == ("pointGr", "Point weight")));
    }
}
