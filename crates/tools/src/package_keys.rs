//! The part of the npm package's types that follows from the tables: the keys of inputs, results, lists, shafts and own
//! parts.
//!
//! The rest of the types, in `crates/npm/package/index.d.ts`, is written by hand.

use clothyard_core::format;
use clothyard_core::schema::{
    Column, INPUTS, Input, Kind, LISTS, NamedRow, OUTPUTS, OutputSpec, OwnPart, StockShaft, TableSpec,
};
use clothyard_core::units::Quantity;
use std::fmt::Write as _;

/// Where the declarations are kept, from the root of the project.
pub const PATH: &str = "crates/npm/package/keys.d.ts";

/// The TypeScript declarations of `Inputs`, `Results`, `Lists`, `OwnPart` and `StockShaft`.
#[must_use]
pub fn declarations() -> String {
    let mut out =
        String::from("// Written by scripts/write-form from the tables in crates/core/src/schema. Do not edit.\n");
    interface(&mut out, "Values of inputs by key. Units are in the keys; an input left out has its default.", "Inputs");
    INPUTS.iter().for_each(|input| property(&mut out, &input_comment(input), input.key, "?", &input_type(input)));
    out.push_str("}\n");
    interface(&mut out, "Every result by key. Units are in the keys; null where there is no answer.", "Results");
    OUTPUTS.iter().for_each(|row| property(&mut out, &result_comment(row), row.key, "", "number | null"));
    out.push_str("}\n");
    interface(
        &mut out,
        "Lists of readings by key: an array of rows, null where a row lacks an optional number.",
        "Lists",
    );
    LISTS.iter().for_each(|table| property(&mut out, &list_comment(table), table.key, "?", &row_type(table)));
    out.push_str("}\n");
    named_row::<OwnPart>(&mut out, "A part anywhere on the arrow.", "OwnPart");
    named_row::<StockShaft>(&mut out, "A shaft to choose from.", "StockShaft");
    out
}

fn interface(out: &mut String, comment: &str, name: &str) {
    let _ = writeln!(out, "\n/** {comment} */\nexport interface {name} {{");
}

fn named_row<R: NamedRow>(out: &mut String, comment: &str, name: &str) {
    interface(out, comment, name);
    property(out, "Name", "name", "", "string");
    for column in R::TABLE.columns {
        let comment = format!(
            "{}, {}",
            format::upper_first(column.label),
            range(column.quantity, column.minimum, column.maximum)
        );
        property(out, &comment, column.key, if column.optional { "?" } else { "" }, "number");
    }
    out.push_str("}\n");
}

fn property(out: &mut String, comment: &str, key: &str, optional: &str, of: &str) {
    let _ = writeln!(out, "  /** {comment} */\n  {key}{optional}: {of};");
}

fn input_comment(input: &Input) -> String {
    match input.kind {
        Kind::Number { quantity, minimum, maximum, .. } => {
            format!("{}, {}", input.label, range(quantity, minimum, maximum))
        }
        Kind::Choice(_) => input.label.to_owned(),
    }
}

fn range(quantity: Quantity, minimum: f64, maximum: f64) -> String {
    let number = |value: f64| format::trimmed(value, 4);
    format!("{} to {} {}", number(minimum), number(maximum), quantity.saved_unit().symbol).trim_end().to_owned()
}

fn result_comment(row: &OutputSpec) -> String {
    match row.quantity.saved_unit().symbol {
        "" => row.label.to_owned(),
        symbol => format!("{}, {symbol}", row.label),
    }
}

fn input_type(input: &Input) -> String {
    let keys: Vec<_> = input.choices().iter().map(|choice| format!("{:?}", choice.key)).collect();
    if keys.is_empty() { "number".to_owned() } else { keys.join(" | ") }
}

fn list_comment(table: &TableSpec) -> String {
    format!("{}, at most {} rows", table.label, table.max_rows)
}

/// The type of a row. It may end early where only optional columns are left, as older rows do.
fn row_type(table: &TableSpec) -> String {
    let last_required = table.columns.iter().rposition(|column| !column.optional).unwrap_or(0);
    let cell = |(place, column): (usize, &Column)| match (column.optional, place > last_required) {
        (false, _) => format!("{}: number", column.key),
        (true, false) => format!("{}: number | null", column.key),
        (true, true) => format!("{}?: number | null", column.key),
    };
    let cells: Vec<_> = table.columns.iter().enumerate().map(cell).collect();
    format!("[{}][]", cells.join(", "))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_declarations_are_current() {
        let written = include_str!("../../npm/package/keys.d.ts");
        assert!(written == declarations(), "{PATH} is stale: run scripts/write-form");
    }

    #[test]
    fn numbers_choices_and_rows_have_their_types() {
        let all = declarations();
        for line in
            ["  drawLengthIn?: number;", "  totalWeightGr: number | null;", "  distances?: [distanceYd: number][];"]
        {
            assert!(all.contains(line), "{line}");
        }
        assert!(all.contains("  bowKind?: \"compound\" | \"recurve\" | \"longbow\";"));
        assert!(all.contains("Draw length, 15 to 36 in"));
    }
}
