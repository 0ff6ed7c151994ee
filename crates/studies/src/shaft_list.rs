//! The user's list of shafts: rows pasted from a price list or a spreadsheet, sorted, and put on the arrow.

use clothyard_core::format;
use clothyard_core::parse::named;
use clothyard_core::schema::shafts::invented_shafts;
use clothyard_core::schema::{Field, NamedRow, StockShaft, Value};
use clothyard_core::setup::Setup;
use clothyard_core::units::Units;

/// The columns of a pasted row: the name, then those of the table.
const COLUMNS: usize = 7;
/// The fewest there can be: name, spine, weight and outside diameter.
const FEWEST: usize = 4;
/// Where the inside diameter is among them.
const INSIDE: usize = 4;

/// The words by which a heading names a column, in the order of the columns.
const HEADINGS: [&[&str]; COLUMNS] = [
    &["name", "shaft", "model"],
    &["spine", "static"],
    &["gpi", "gr", "weight"],
    &["od", "outside", "outer"],
    &["id", "inside", "inner", "bore"],
    &["full", "length"],
    &["on", "rack", "qty", "quantity", "count", "stock"],
];

/// The shafts that are not samples.
#[must_use]
pub fn without_samples(shafts: &[StockShaft]) -> Vec<StockShaft> {
    let samples = invented_shafts();
    shafts.iter().filter(|shaft| !samples.contains(shaft)).cloned().collect()
}

/// The places of the shafts in the order of a column, of which the first is the name.
#[must_use]
pub fn sorted(shafts: &[StockShaft], column: usize, descending: bool) -> Vec<usize> {
    let number = |shaft: &StockShaft| shaft.numbers().get(column.wrapping_sub(1)).copied().unwrap_or(0.0);
    let mut places: Vec<_> = shafts.iter().enumerate().collect();
    places.sort_by(|(_, one), (_, other)| {
        let order = if column == 0 {
            one.name.to_lowercase().cmp(&other.name.to_lowercase())
        } else {
            number(one).total_cmp(&number(other))
        };
        if descending { order.reverse() } else { order }
    });
    places.into_iter().map(|(place, _)| place).collect()
}

/// Makes a shaft of the list the one of the setup; a bare shaft weighed before was another one.
pub fn use_shaft(setup: &mut Setup, place: usize) -> bool {
    let Some(shaft) = setup.shafts.get(place).cloned() else { return false };
    setup.set(Field::BareShaft, None).is_ok()
        && shaft.inputs().all(|(field, number)| setup.set(field, Some(Value::Number(number))).is_ok())
}

/// Reads pasted rows: name, static spine, weight, outside diameter and, where they are known, inside diameter, full
/// length and how many are on the rack. Cells are separated by tabs, semicolons, commas or spaces; a first line of
/// headings may give another order.
///
/// # Errors
/// The first line that cannot be read and why, in a sentence.
pub fn read(text: &str, units: &Units) -> Result<Vec<StockShaft>, String> {
    let lines = text.lines().enumerate().filter(|(_, line)| !line.trim().is_empty());
    let mut lines = lines.peekable();
    let order = lines.peek().and_then(|(_, line)| headings(line));
    if order.is_some() {
        lines.next();
    }
    let order = order.unwrap_or_else(|| (0..COLUMNS).collect());
    let row = |(place, line): (usize, &str)| {
        read_row(line, &order, units).map_err(|why| format!("Row {}: {}", place + 1, format::lower_first(&why)))
    };
    lines.map(row).collect()
}

/// The columns that a heading names; none where it is no heading.
fn headings(line: &str) -> Option<Vec<usize>> {
    let column = |cell: &str| {
        let words = cell.to_lowercase();
        let has = |known: &&[&str]| words.split(|c: char| !c.is_alphabetic()).any(|word| known.contains(&word));
        HEADINGS.iter().position(has)
    };
    let order: Option<Vec<_>> = cells(line).iter().map(|cell| column(cell)).collect();
    order.filter(|order| order.contains(&1))
}

/// The cells of a line that is separated by marks; by spaces where there are none.
fn cells(line: &str) -> Vec<String> {
    let mark = ['\t', ';', ','].into_iter().find(|&mark| line.matches(mark).count() + 1 >= FEWEST);
    let trimmed = |cell: &str| cell.trim().trim_matches('"').to_owned();
    match mark {
        Some(mark) => line.split(mark).map(trimmed).collect(),
        None => line.split_whitespace().map(trimmed).collect(),
    }
}

fn read_row(line: &str, order: &[usize], units: &Units) -> Result<StockShaft, String> {
    let cells = cells(line);
    let has_marks = ['\t', ';', ','].into_iter().any(|mark| line.matches(mark).count() + 1 >= FEWEST);
    if has_marks {
        return from_cells(&cells, order, units);
    }
    // Between spaces a name may be several words, the last of them a number: the longest row of numbers that can be one.
    let splits = (1..cells.len()).filter(|&at| (FEWEST..=COLUMNS).contains(&(cells.len() - at + 1)));
    let joined = |at: usize| {
        let (name, numbers) = cells.split_at(at);
        let all: Vec<_> = core::iter::once(name.join(" ")).chain(numbers.iter().cloned()).collect();
        from_cells(&all, order, units)
    };
    let mut why = Err("Enter name, spine, weight and outside diameter.".to_owned());
    for at in splits {
        match joined(at) {
            Ok(shaft) => return Ok(shaft),
            Err(first) if why.is_err() && at == 1 => why = Err(first),
            Err(_) => {}
        }
    }
    why
}

fn from_cells(cells: &[String], order: &[usize], units: &Units) -> Result<StockShaft, String> {
    let given = |column: usize| order.iter().position(|&at| at == column).and_then(|at| cells.get(at));
    let given = |column: usize| given(column).filter(|cell| !cell.is_empty() && *cell != "-");
    let blank = StockShaft {
        name: String::new(),
        static_spine_thousandths: 0.0,
        shaft_gr_per_in: 0.0,
        outer_diameter_in: f64::MAX,
        bore_in: 0.0,
        full_length_in: 0.0,
        on_rack: 0.0,
    };
    let mut shaft = blank;
    for column in (0..COLUMNS).filter(|&column| column < FEWEST || given(column).is_some()) {
        shaft = named::with_cell(&shaft, column, given(column).map_or("", String::as_str), units)?;
    }
    if given(INSIDE).is_none() {
        shaft.bore_in = usual_bore_in(&shaft);
    }
    Ok(shaft)
}

/// The inside diameter that leaves the wall of the sample most like a shaft, in inches.
fn usual_bore_in(shaft: &StockShaft) -> f64 {
    let off = |sample: &StockShaft| {
        (sample.outer_diameter_in - shaft.outer_diameter_in).abs() * 1000.0
            + (sample.static_spine_thousandths - shaft.static_spine_thousandths).abs() / 10.0
    };
    let tubes = invented_shafts().into_iter().filter(|sample| sample.bore_in > 0.0);
    let like = tubes.min_by(|one, other| off(one).total_cmp(&off(other)));
    let wall_in = like.map_or(0.0, |like| like.outer_diameter_in - like.bore_in);
    Field::Bore.input().clamp(shaft.outer_diameter_in - wall_in)
}

#[cfg(test)]
mod tests {
    use super::*;
    use clothyard_core::eval::Baseline;

    fn one(line: &str) -> StockShaft {
        read(line, &Units::ARCHERY).unwrap().remove(0)
    }

    #[test]
    fn rows_come_from_price_lists_and_spreadsheets() {
        let expected = one("Heron 340; 340; 9.3; 0.293; 0.246; 32; 12");
        assert_eq!(
            (expected.name.as_str(), expected.static_spine_thousandths, expected.on_rack),
            ("Heron 340", 340.0, 12.0)
        );
        assert_eq!((expected.bore_in, expected.full_length_in), (0.246, 32.0));
        for line in [
            "Heron 340\t340\t9.3\t0.293\t0.246\t32\t12",
            "Heron 340, 340, 9.3, 0.293, 0.246, 32, 12",
            "Heron 340 340 9.3 0.293 0.246 32 12",
            "Heron 340; 340; 9,3; 0,293; 0,246; 32; 12",
            "qty;spine;name;gpi;OD (in);ID (in);full length\n12;340;Heron 340;9.3;0.293;0.246;32",
        ] {
            assert_eq!(one(line), expected, "{line}");
        }
        let two = read("\nHeron 300 300 9.8 0.3\n\nHeron 340 340 9.3 0.293\n", &Units::ARCHERY).unwrap();
        assert_eq!(two.iter().map(|shaft| shaft.name.as_str()).collect::<Vec<_>>(), ["Heron 300", "Heron 340"]);
    }

    #[test]
    fn what_is_left_out_is_usual_or_unknown() {
        let shaft = one("Heron; 350; 9; 0.28");
        assert!((shaft.bore_in - 0.204).abs() < 1e-9, "the wall of the sample of that spine: {}", shaft.bore_in);
        assert_eq!((shaft.full_length_in, shaft.on_rack), (0.0, 0.0));
        assert!(shaft.check().is_ok());
    }

    #[test]
    fn a_row_that_cannot_be_read_is_named() {
        let why = |text| read(text, &Units::ARCHERY).unwrap_err();
        assert!(why("Heron 340 340 9.3 0.293\nHeron; x; 9; 0.28").starts_with("Row 2: static spine: enter a number, "));
        assert!(why("Heron; 340; 9.3").starts_with("Row 1: "));
        assert!(why("Heron; 340; 9.3; 0.2; 0.246").contains("inside diameter must be less"));
    }

    #[test]
    fn samples_go_and_columns_sort() {
        let mut shafts = invented_shafts();
        shafts.push(one("Heron; 350; 9; 0.28"));
        assert_eq!(without_samples(&shafts).len(), 1);
        let spines = |order: &[usize]| order.iter().map(|&at| shafts[at].static_spine_thousandths).collect::<Vec<_>>();
        assert!(spines(&sorted(&shafts, 1, false)).is_sorted());
        assert!(spines(&sorted(&shafts, 1, true)).iter().rev().is_sorted());
        let names = sorted(&shafts, 0, false);
        assert!(
            names.windows(2).all(|pair| shafts[pair[0]].name.to_lowercase() <= shafts[pair[1]].name.to_lowercase())
        );
    }

    #[test]
    fn a_shaft_that_is_used_is_the_arrows_own() {
        let mut setup = Setup::default().with(Field::BareShaft, 300.0).unwrap();
        assert!(use_shaft(&mut setup, 3) && !use_shaft(&mut setup, 999));
        let resolved = Baseline::new(&setup).resolved;
        assert!(setup.shafts[3].inputs().all(|(field, number)| resolved.number(field) == number));
        assert_eq!(setup.get(Field::BareShaft), None);
    }
}
