//! A batch in words, as rows of a table and as a file.

use super::batch::{HeightOfWeights, Piece, Spread, Worth, height_of_weights};
use super::sort::{BARE, CROOKED_IN, FAR, NEAR, Sorted, Use};
use crate::flight::shot::{Answer, Shot};
use clothyard_core::Evaluation;
use clothyard_core::csv::Csv;
use clothyard_core::format::{entered, entered_with_unit, fixed, heading, measured, trimmed};
use clothyard_core::schema::{Field, Row};
use clothyard_core::units::{Quantity, Units};

/// An invented dozen of Sallow Field: weight, four readings of spine, straightness, balance point.
const EXAMPLE: [[f64; 7]; 12] = [
    [352.1, 398.0, 404.0, 398.0, 404.0, 0.001, 14.1],
    [353.4, 401.0, 401.0, 402.0, 401.0, 0.002, 14.1],
    [351.8, 397.0, 405.0, 398.0, 405.0, 0.001, 14.0],
    [358.9, 409.0, 402.0, 409.0, 403.0, 0.003, 14.2],
    [352.6, 402.0, 399.0, 401.0, 398.0, 0.002, 14.1],
    [349.2, 412.0, 408.0, 412.0, 407.0, 0.001, 14.0],
    [352.9, 399.0, 403.0, 400.0, 402.0, 0.008, 14.1],
    [353.0, 400.0, 405.0, 400.0, 404.0, 0.001, 14.1],
    [354.7, 403.0, 399.0, 403.0, 398.0, 0.002, 14.2],
    [371.5, 396.0, 402.0, 396.0, 401.0, 0.002, 14.4],
    [352.3, 401.0, 404.0, 402.0, 404.0, 0.003, 14.1],
    [355.6, 404.0, 399.0, 404.0, 399.0, 0.001, 14.2],
];

/// The rows of an invented dozen, to see what a batch shows.
#[must_use]
pub fn example() -> Vec<Row> {
    EXAMPLE.iter().map(|row| row.iter().copied().map(Some).collect()).collect()
}

/// What of a piece is looked at: label, quantity and number.
type Measure = (&'static str, Quantity, fn(&Piece) -> Option<f64>);

/// The measures of a piece, in the order of the page.
const MEASURES: [Measure; 4] = [
    ("Weight", Quantity::Mass, |piece| Some(piece.weight_gr)),
    ("Spine", Quantity::StaticSpine, |piece| piece.spine),
    ("Straightness", Quantity::SmallLength, |piece| piece.straightness_in),
    ("Balance point", Quantity::Length, |piece| piece.balance_in),
];

/// A number with one decimal more than a result has: what differs within a batch is small.
#[must_use]
pub fn fine(quantity: Quantity, saved: f64, units: &Units) -> String {
    fixed(units.show(quantity, saved), units.of(quantity).decimals + 1)
}

fn fine_with_unit(quantity: Quantity, saved: f64, units: &Units) -> String {
    let symbol = units.of(quantity).symbol;
    let space = if symbol.is_empty() { "" } else { "\u{a0}" };
    fine(quantity, saved, units) + space + symbol
}

/// Headings of [`spread_rows`].
pub const SPREAD_HEADINGS: [&str; 7] = ["Measured", "Count", "Least", "Mean", "Most", "Range", "Standard deviation"];

/// A row for each measure that any of the pieces has.
#[must_use]
pub fn spread_rows(pieces: &[&Piece], units: &Units) -> Vec<[String; 7]> {
    let row = |&(label, quantity, of): &Measure| {
        let numbers: Vec<_> = pieces.iter().filter_map(|piece| of(piece)).collect();
        let spread = Spread::of(&numbers)?;
        let said = |number: f64| fine(quantity, number, units);
        Some([
            heading(label, quantity, units),
            spread.count.to_string(),
            said(spread.least),
            said(spread.mean),
            said(spread.most),
            said(spread.range()),
            spread.deviation.map_or_else(|| "–".to_owned(), said),
        ])
    };
    MEASURES.iter().filter_map(row).collect()
}

/// Headings of [`piece_row`], with their units.
#[must_use]
pub fn piece_headings(units: &Units) -> Vec<String> {
    let measures = MEASURES.iter().map(|&(label, quantity, _)| heading(label, quantity, units));
    ["No.", "Keep for"].map(str::to_owned).into_iter().chain(measures).chain(["Stiff side".to_owned()]).collect()
}

/// A piece as a row: number, use, its measures and its stiff side.
#[must_use]
pub fn piece_row(piece: &Piece, use_: Use, units: &Units) -> Vec<String> {
    let said = |quantity: Quantity, number: Option<f64>| {
        number.map_or_else(|| "–".to_owned(), |number| entered(quantity, number, units))
    };
    let measures = MEASURES.iter().map(|&(_, quantity, of)| said(quantity, of(piece)));
    [piece.number.to_string(), use_.words().to_owned()]
        .into_iter()
        .chain(measures)
        .chain([stiff_words(piece)])
        .collect()
}

/// A piece in a sentence: number, measures and use.
#[must_use]
pub fn piece_words(piece: &Piece, use_: Use, units: &Units) -> String {
    let said = |&(label, quantity, of): &Measure| {
        Some(format!("{} {}", label.to_ascii_lowercase(), entered_with_unit(quantity, of(piece)?, units)))
    };
    let measures: Vec<_> = MEASURES.iter().filter_map(said).collect();
    format!("Number {}: {}. Keep for: {}.", piece.number, measures.join(", "), use_.words())
}

/// Where a piece's mark for the nock goes.
#[must_use]
pub fn stiff_words(piece: &Piece) -> String {
    let Some(side) = piece.stiff_side() else { return "–".to_owned() };
    let by = |meters: f64| fixed(Quantity::StaticSpine.from_si(meters), 1);
    side.stiff_plane_rad.map_or_else(
        || "no stiff side found".to_owned(),
        |angle| {
            let degrees = angle.to_degrees();
            format!("{}° and {}°, by {}", fixed(degrees, 0), fixed(degrees + 180.0, 0), by(side.plane_difference_m))
        },
    )
}

/// What four readings can tell, and what they cannot.
pub const STIFF_NOTE: &str = "Angles are from the first reading, in the direction you turned the shaft. Four readings find the stiffer of two planes; the stiffest may be up to 45° away, which takes five readings or more. A difference between opposite sides is a bend in the shaft, not stiffness. Mark the stiff side and index it the same on every shaft.";

/// Numbers as a list in a sentence.
fn listed(numbers: &[usize]) -> String {
    let words: Vec<_> = numbers.iter().map(usize::to_string).collect();
    match words.split_last() {
        Some((last, rest)) if !rest.is_empty() => format!("{} and {last}", rest.join(", ")),
        _ => words.concat(),
    }
}

/// The set in a sentence, or why there is none.
#[must_use]
pub fn set_sentence(pieces: &[Piece], sorted: &Sorted, wanted: usize, worth: Worth, units: &Units) -> String {
    let Some((numbers, _)) = &sorted.set else {
        let usable = sorted.uses.iter().filter(|&&use_| use_ != Use::Crooked).count();
        return format!(
            "No set: {wanted} wanted, {usable} usable (straight, and with a spine if the others have one)."
        );
    };
    let within = |of: &dyn Fn(&Piece) -> Option<f64>| {
        let members = pieces.iter().filter(|piece| numbers.contains(&piece.number));
        Spread::of(&members.filter_map(of).collect::<Vec<_>>()).map_or(0.0, |spread| spread.range())
    };
    let weight = fine_with_unit(Quantity::Mass, within(&|piece| Some(piece.weight_gr)), units);
    let spine = fine(Quantity::StaticSpine, within(&|piece| piece.spine), units);
    let list = listed(numbers);
    if pieces.iter().all(|piece| piece.spine.is_none()) {
        return format!("Tightest {wanted} of the batch: numbers {list}, range {weight}.");
    }
    let worth_weight = entered_with_unit(Quantity::Mass, worth.weight_gr, units);
    format!(
        "Tightest {wanted} of the batch: numbers {list}, range {weight} in weight and {spine} in spine ({worth_weight} = {} of spine).",
        trimmed(worth.spine, 1)
    )
}

/// What to keep for what, a sentence for each use that there is.
#[must_use]
pub fn use_sentences(pieces: &[Piece], sorted: &Sorted, worth: Worth, units: &Units) -> Vec<String> {
    let numbers = |wanted: Use| -> Vec<usize> {
        pieces.iter().zip(&sorted.uses).filter(|(_, use_)| **use_ == wanted).map(|(piece, _)| piece.number).collect()
    };
    let crooked = entered_with_unit(Quantity::SmallLength, CROOKED_IN, units);
    let far = entered_with_unit(Quantity::Mass, FAR * worth.weight_gr, units);
    let far_spine = fixed(FAR * worth.spine, 0);
    let why = |use_: Use| match use_ {
        Use::Set => "the set, fletched the same".to_owned(),
        Use::Bare => format!(
            "bare shafts for tuning: closest to the set, {BARE} at most, within {} weight or spine differences (our estimate)",
            fixed(NEAR, 0)
        ),
        Use::Practice => "practice: sound, but outside the set".to_owned(),
        Use::Crooked => {
            format!("leave out: straightness over {crooked}, the coarsest grade commonly sold (rule of thumb)")
        }
        Use::Far => format!("leave out: more than {far} or {far_spine} of spine from the others (our estimate)"),
    };
    let sentence = |use_: Use| {
        let list = numbers(use_);
        (!list.is_empty()).then(|| format!("{}: {}.", listed(&list), why(use_)))
    };
    [Use::Set, Use::Bare, Use::Practice, Use::Crooked, Use::Far].into_iter().filter_map(sentence).collect()
}

/// What the weights of the set and of the whole batch do to the height of impact at the distance the sight is set
/// for, or why that cannot be said.
#[must_use]
pub fn heights(pieces: &[Piece], sorted: &Sorted, all: &Evaluation, units: &Units) -> String {
    let resolved = &all.resolved;
    let weights: Vec<_> = pieces.iter().map(|piece| piece.weight_gr).collect();
    let whole_kg = Quantity::Mass.to_si(Spread::of(&weights).map_or(0.0, |spread| spread.range()));
    let both = Shot::of(all).and_then(|shot| {
        let of = |kg: f64| -> Answer<(f64, HeightOfWeights)> {
            Ok((kg, height_of_weights(all, &shot, shot.sighted_m, kg, resolved.si(Field::HeightWanted))?))
        };
        Ok((sorted.set.as_ref().map(|(_, set)| of(set.mass_spread_kg)).transpose()?, of(whole_kg)?))
    });
    match both {
        Ok((set, whole)) => {
            let [distance_yd, size_in] = [Field::SightedAt, Field::HeightWanted].map(|field| resolved.number(field));
            height_sentence(distance_yd, size_in, set, whole, units)
        }
        Err(error) => error.sentence().to_owned(),
    }
}

/// What the weights of the set and of the whole batch do to the height of impact.
fn height_sentence(
    distance_yd: f64,
    size_in: f64,
    set: Option<(f64, HeightOfWeights)>,
    batch: (f64, HeightOfWeights),
    units: &Units,
) -> String {
    let meters = |value: f64| measured(Quantity::Length, Quantity::Length.from_si(value), units);
    let grams = |kg: f64| fine_with_unit(Quantity::Mass, Quantity::Mass.from_si(kg), units);
    let at = measured(Quantity::Distance, distance_yd, units);
    let of_set = set.map_or_else(String::new, |(kg, height)| {
        format!(" the set's {} range gives {} between highest and lowest hit;", grams(kg), meters(height.spread_m))
    });
    let size = entered_with_unit(Quantity::Length, size_in, units);
    let tolerance = batch.1.tolerance_kg.map_or_else(
        || format!("No weight range exceeds {size}."),
        |kg| format!("To stay within {size}, keep the weight range under {}.", grams(kg)),
    );
    format!(
        "At {at} (sighted in), same aim:{of_set} the whole batch's {} gives {}. {tolerance}",
        grams(batch.0),
        meters(batch.1.spread_m)
    )
}

/// The batch as a file, the set marked.
#[must_use]
pub fn to_csv(pieces: &[Piece], sorted: &Sorted, units: &Units) -> String {
    let mut csv = Csv::default();
    let spines = ["Spine 1", "Spine 2", "Spine 3", "Spine 4"].map(str::to_owned);
    let headings = ["No.", "Keep for", "In the set"].map(str::to_owned).into_iter();
    let measures = MEASURES.iter().map(|&(label, quantity, _)| heading(label, quantity, units));
    for heading in headings.chain(measures).chain(spines).chain(["Stiff side, degrees".to_owned()]) {
        csv.text(&heading);
    }
    csv.end_row();
    for (piece, &use_) in pieces.iter().zip(&sorted.uses) {
        csv.number(Some(piece.number as f64), 0);
        csv.text(use_.words());
        csv.text(if use_ == Use::Set { "yes" } else { "no" });
        for (_, quantity, of) in MEASURES {
            csv.number(of(piece).map(|number| units.show(quantity, number)), 4);
        }
        (0..4).for_each(|place| csv.number(piece.readings.get(place).copied(), 2));
        let angle = piece.stiff_side().and_then(|side| side.stiff_plane_rad);
        csv.number(angle.map(f64::to_degrees), 1);
        csv.end_row();
    }
    csv.finish()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::production::batch::pieces;
    use crate::production::sort::sort;

    const WORTH: Worth = Worth { weight_gr: 3.0, spine: 5.0 };

    fn batch() -> Vec<Piece> {
        let row = |weight: f64, spine: f64, straight: f64| {
            vec![Some(weight), Some(spine), Some(spine - 8.0), Some(spine), Some(spine - 8.0), Some(straight), None]
        };
        pieces(&[row(300.0, 404.0, 0.001), row(301.5, 405.0, 0.002), row(330.0, 404.0, 0.001), row(300.5, 404.0, 0.02)])
    }

    #[test]
    fn a_batch_in_words() {
        let (batch, units) = (batch(), Units::ARCHERY);
        let sorted = sort(&batch, 2, WORTH);
        let said = set_sentence(&batch, &sorted, 2, WORTH, &units);
        assert!(said.contains("numbers 1 and 2, range 1.5\u{a0}gr in weight and 1.0 in spine"), "{said}");
        let uses = use_sentences(&batch, &sorted, WORTH, &units);
        assert_eq!(uses.len(), 3, "{uses:?}");
        assert!(uses[1].starts_with("4: leave out: straightness over 0.006\u{a0}in"), "{uses:?}");
        assert!(uses[2].starts_with("3: leave out: more than 15\u{a0}gr or 25 of spine"), "{uses:?}");
        assert_eq!(
            piece_row(&batch[0], Use::Set, &units),
            ["1", "the set", "300", "400", "0.001", "–", "90° and 270°, by 8.0"]
        );
        let rows = spread_rows(&batch.iter().collect::<Vec<_>>(), &units);
        assert_eq!(rows.len(), 3, "no balance point was measured");
        assert_eq!(rows[0][1..6], ["4", "300.0", "308.0", "330.0", "30.0"]);
        assert!(set_sentence(&batch, &sort(&batch, 4, WORTH), 4, WORTH, &units).contains("3 usable"));
    }

    #[test]
    fn the_invented_dozen_shows_every_use() {
        let mut lists = clothyard_core::schema::Lists::default();
        lists.set(clothyard_core::schema::List::Batch, example()).unwrap();
        let uses = sort(&pieces(&example()), 6, WORTH).uses;
        for use_ in [Use::Set, Use::Bare, Use::Practice, Use::Crooked, Use::Far] {
            assert!(uses.contains(&use_), "{use_:?}");
        }
    }

    #[test]
    fn the_file_marks_the_set() {
        let batch = batch();
        let text = to_csv(&batch, &sort(&batch, 2, WORTH), &Units::metric());
        let lines: Vec<_> = text.lines().collect();
        assert!(
            lines[0].starts_with("No.,Keep for,In the set,\"Weight, g\",Spine,\"Straightness, mm\""),
            "{}",
            lines[0]
        );
        assert_eq!(lines[1], "1,the set,yes,19.4397,400,0.0254,,404,396,404,396,90");
        assert_eq!(lines.len(), 5);
    }
}
