//! The table of published checks in `tests/accuracy.md`.

use crate::checks::{self, Check, Kind};
use std::fmt::Write as _;

/// Text above the table of launch speeds.
const LAUNCHES: &str = "
### Launch speeds

Speeds estimated from the bow type compared with published speeds. Given: the stored energy, from speed and efficiency, \
and an arrow of 400 gr. Virtual mass and loss are the defaults of the bow type, whose standard error is 6% of such a \
speed. Draw weights were not printed: 30 to 37 lb follow from an assumed power stroke of 19.5 in. No measured speed of a \
recurve, a compound, a child's bow or a longbow over 80 lb was found with the data of its bow: their defaults are from \
memory.

| Bow | Measured, fps | Predicted, fps | Off by | Source |
|---|---|---|---|---|
";

/// The table in Markdown, with a count of the checks by kind.
///
/// # Errors
/// A message that names the check that cannot be computed.
pub fn table() -> Result<String, String> {
    let checks = checks::all()?;
    let (launches, others): (Vec<_>, Vec<_>) = checks.iter().partition(|check| check.id.starts_with("launch-"));
    let mut out = String::from("| What | Published | Clothyard | Difference | Source |\n|---|---|---|---|---|\n");
    others.into_iter().try_for_each(|check| row(&mut out, check))?;
    let count = |kind: Kind| checks.iter().filter(|check| check.kind == kind).count();
    let _ = writeln!(
        out,
        "\n{} checks: {} published, {} derived from a published definition, {} against a prior calculation, {} of common practice.",
        checks.len(),
        count(Kind::Published),
        count(Kind::Derived),
        count(Kind::Prior),
        count(Kind::Practice)
    );
    out.push_str(LAUNCHES);
    launches.into_iter().try_for_each(|check| row(&mut out, check))?;
    Ok(out)
}

fn row(out: &mut String, check: &Check) -> Result<(), String> {
    let made = check.run()?;
    let (given, ours, off) = match (&check.value, check.range) {
        (Some(value), _) => {
            let decimals = value.split_once('.').map_or(0, |(_, part)| part.len()) + 1;
            let number: f64 = value.parse().map_err(|_| format!("{}: {value} is not a number", check.id))?;
            let off = match check.within {
                Some(_) => format!("{:+.0}%", 100.0 * (made.ours / number - 1.0)),
                None if made.ours.to_bits() == number.to_bits() => "none".to_owned(),
                None => format!("{:.0e}", (made.ours - number).abs()),
            };
            (value.clone(), format!("{:.decimals$}", made.ours), off)
        }
        (None, Some((low, high))) => (format!("{low} to {high}"), format!("{:.3}", made.ours), "within".to_owned()),
        (None, None) => return Err(format!("{}: give a value or a range", check.id)),
    };
    let _ = writeln!(out, "| {} | {given} | {ours} | {off} | {} |", check.what, check.source);
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::splice::between_marks;

    #[test]
    fn the_table_is_current() {
        let page = include_str!("../../../tests/accuracy.md");
        let fresh = between_marks(page, "accuracy", &table().unwrap()).unwrap();
        assert!(fresh == page, "tests/accuracy.md is stale: run scripts/write-accuracy");
    }
}
