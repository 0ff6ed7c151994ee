//! One cell of a row with a name and numbers, as it is typed.

use crate::format;
use crate::schema::NamedRow;
use crate::setup::MAX_NAME_CHARS;
use crate::units::Units;

/// A row with one cell changed: the name first, then the numbers; an optional number may be left empty.
///
/// # Errors
/// What is wrong and what is allowed, in a sentence.
pub fn with_cell<T: NamedRow>(row: &T, cell: usize, text: &str, units: &Units) -> Result<T, String> {
    let mut row = row.clone();
    let Some(place) = cell.checked_sub(1) else {
        *row.name_mut() = name(text)?;
        return Ok(row);
    };
    let (column, slot) = T::TABLE.columns.get(place).zip(row.number_mut(place)).ok_or("this column is gone")?;
    let read = if column.optional && text.trim().is_empty() { Ok(0.0) } else { column.read(text, units) };
    *slot = read.map_err(|_| {
        let allowed = format::allowed(column.quantity, column.minimum, column.maximum, units);
        format!("{}: enter a number, {allowed}.", format::upper_first(column.label))
    })?;
    row.check_whole().map_err(|_| "the inside diameter must be less than the outside".to_owned())?;
    Ok(row)
}

fn name(text: &str) -> Result<String, String> {
    if text.chars().count() > MAX_NAME_CHARS {
        return Err(format!("Name: at most {MAX_NAME_CHARS} characters."));
    }
    Ok(text.trim().to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::schema::shafts::invented_shafts;

    #[test]
    fn a_cell_is_read_in_the_units_shown_or_says_what_is_allowed() {
        let shaft = invented_shafts().remove(0);
        let change = |cell, text: &str| with_cell(&shaft, cell, text, &Units::ARCHERY);
        assert_eq!(change(0, " Mine ").unwrap().name, "Mine");
        assert_eq!(change(1, "500").unwrap().static_spine_thousandths, 500.0);
        assert_eq!(change(5, "").unwrap().full_length_in, 0.0, "it may be left out");
        assert_eq!(change(6, "8").unwrap().on_rack, 8.0);
        assert!(change(2, "").unwrap_err().starts_with("Weight: enter a number, 1 to"));
        assert!(change(4, "0.45").unwrap_err().contains("less than the outside"));
        assert!(change(0, &"x".repeat(MAX_NAME_CHARS + 1)).unwrap_err().starts_with("Name: at most"));
        assert_eq!(change(9, "1").unwrap_err(), "this column is gone");
    }
}
