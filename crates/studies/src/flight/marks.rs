//! Sight marks, as a table and as a sight tape to print to scale.
//!
//! The tape's shapes are in millimeters, so that a drawing with the same numbers for its size and its view box prints
//! as large as the bar wants it.

use super::own_scale::Scale;
use super::says::distance;
use super::shot::{Answer, Shot};
use clothyard_core::drawing::Shape;
use clothyard_core::format::{entered_with_unit, fixed, for_people, heading, said, trimmed};
use clothyard_core::schema::Row;
use clothyard_core::units::{Quantity, Units};

/// Length of the line that proves the print.
pub const CONTROL_MM: f64 = 50.0;
/// Width of the whole drawing, and of the tape on it.
pub const WIDTH_MM: f64 = 70.0;
const LEFT_MM: f64 = 1.0;
const TAPE_MM: f64 = 14.0;
/// Where the nearest mark is, and where the tape begins above it.
const FIRST_MM: f64 = 22.0;
const EDGE_MM: f64 = 5.0;
/// Two numbers nearer than this are not in one column.
const NUMBER_MM: f64 = 3.4;
/// Lengths of the ticks: of a whole unit, and of a distance with its number in the first or the second column.
const TICK_MM: f64 = 2.0;
const COLUMNS_MM: [f64; 2] = [3.0, 8.0];
/// Beside the tape: from line to line, and as many letters as there is room for.
const LINE_MM: f64 = 4.5;
const LABEL_CHARS: usize = 30;
/// What a sheet of A4 or Letter holds between its margins.
const SHEET_MM: f64 = 250.0;
/// Most ticks of whole units between the distances.
const MOST_TICKS: usize = 160;

/// A mark on the bar.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mark {
    /// The distance.
    pub distance_m: f64,
    /// How far below the first mark it is.
    pub below_m: f64,
}

/// The marks of a list of distances, and of the whole units between them.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Marks {
    /// How far the pin of the first mark is below the arrow's own line, in meters.
    pub first_m: f64,
    /// Of the list, the nearest first.
    pub list: Vec<Mark>,
    /// Of the whole units between; none where there are too many.
    pub between: Vec<Mark>,
}

impl Marks {
    /// The marks of some distances (m, rising); one the arrow does not come to has none.
    ///
    /// # Errors
    /// [`super::FlightError`] for the shot.
    pub fn of(shot: &Shot, distances_m: &[f64], units: &Units) -> Answer<Self> {
        // A speed or sight out of range is an error, not a mark out of reach.
        shot.archer(|_| Ok(()))?;
        let mark = |&distance_m: &f64| Some(Mark { distance_m, below_m: shot.pin_below_m(distance_m)? });
        let [mut list, mut between] = [distances_m, &whole_units_m(distances_m, units)]
            .map(|all| all.iter().filter_map(mark).collect::<Vec<_>>());
        let first_m = list.first().map_or(0.0, |mark| mark.below_m);
        list.iter_mut().chain(&mut between).for_each(|mark| mark.below_m -= first_m);
        Ok(Self { first_m, list, between })
    }

    /// Distance and pin below the arrow's own line of each mark of the list, in meters.
    #[must_use]
    pub fn pins(&self) -> Vec<(f64, f64)> {
        self.list.iter().map(|mark| (mark.distance_m, mark.below_m + self.first_m)).collect()
    }
}

/// The marks as a line in saved units: the archer's readings, else how far the pin moves.
#[must_use]
pub fn curve(marks: &Marks, scale: Option<&Scale>) -> Vec<(f64, Option<f64>)> {
    let mut all: Vec<&Mark> = Vec::new();
    for mark in marks.list.iter().chain(&marks.between) {
        let at = all.partition_point(|other| other.distance_m < mark.distance_m - 1e-6);
        if all.get(at).is_none_or(|other| other.distance_m > mark.distance_m + 1e-6) {
            all.insert(at, mark);
        }
    }
    let number = |mark: &Mark| {
        let way = || Quantity::SmallLength.from_si(mark.below_m);
        scale.map_or_else(way, |scale| scale.rounded(mark.below_m + marks.first_m))
    };
    all.into_iter().map(|mark| (Quantity::Distance.from_si(mark.distance_m), Some(number(mark)))).collect()
}

/// A mark that was shot, in words.
#[must_use]
pub fn own_words(row: &Row, units: &Units) -> String {
    let [Some(distance_yd), Some(mark)] = row[..] else { return String::new() };
    let distance = entered_with_unit(Quantity::Distance, distance_yd, units);
    format!("{distance}: {}", for_people(&trimmed(mark, 3)))
}

/// The whole units between the first and the last of some distances (m); none where there are too many.
fn whole_units_m(distances_m: &[f64], units: &Units) -> Vec<f64> {
    let unit = units.of(Quantity::Distance).si;
    let (Some(first), Some(last)) = (distances_m.first(), distances_m.last()) else { return Vec::new() };
    let (from, to) = ((first / unit - 1e-9) as usize + 1, (last / unit + 1e-9) as usize);
    if to.saturating_sub(from) > MOST_TICKS {
        Vec::new()
    } else {
        (from..=to).map(|whole| whole as f64 * unit).collect()
    }
}

/// The headings of the table of marks, with those of the archer's own scale or without.
#[must_use]
pub fn headings(own: bool, units: &Units) -> Vec<String> {
    let way = ["Mark", "Step"].map(|label| heading(label, Quantity::SmallLength, units));
    let own = own.then(|| "Your mark".to_owned());
    core::iter::once(heading("Distance", Quantity::Distance, units)).chain(own).chain(way).collect()
}

/// The rows of the table of marks.
#[must_use]
pub fn rows(marks: &Marks, scale: Option<&Scale>, units: &Units) -> Vec<Vec<String>> {
    let row = |(place, mark): (usize, &Mark)| {
        let before = place.checked_sub(1).and_then(|before| marks.list.get(before));
        let gap = before.map_or_else(|| "–".to_owned(), |before| small(mark.below_m - before.below_m, units));
        let own = scale.map(|scale| scale.words(mark.below_m + marks.first_m));
        let way = [small(mark.below_m, units), gap];
        core::iter::once(number(mark.distance_m, units)).chain(own).chain(way).collect()
    };
    marks.list.iter().enumerate().map(row).collect()
}

/// A way on the bar: a tenth of a millimeter is the least that can be set.
fn small(meters: f64, units: &Units) -> String {
    let shown = units.show(Quantity::SmallLength, Quantity::SmallLength.from_si(meters));
    said(shown, units.of(Quantity::SmallLength).decimals.saturating_sub(1))
}

fn number(meters: f64, units: &Units) -> String {
    trimmed(units.show(Quantity::Distance, Quantity::Distance.from_si(meters)), 1)
}

/// A tape: shapes with their style names and its height, all in millimeters.
#[derive(Clone, Debug, PartialEq)]
pub struct Tape {
    /// Shapes with their style names.
    pub shapes: Vec<(&'static str, Shape)>,
    /// Height of the whole drawing.
    pub height_mm: f64,
    /// What it shows.
    pub words: String,
}

/// Draws the tape of some marks, with short ticks between; nothing without two marks. The setup's name, the unit and the
/// day are printed beside it, the unit on it as well.
///
/// Nearer than about ten meters the marks turn back up the bar, as the eye is over the arrow.
#[must_use]
pub fn tape(marks: &Marks, [name, day]: [&str; 2], units: &Units) -> Option<Tape> {
    let all = || marks.list.iter().chain(&marks.between).map(|mark| 1e3 * mark.below_m);
    let (least, most) = (all().fold(f64::INFINITY, f64::min), all().fold(f64::NEG_INFINITY, f64::max));
    if marks.list.len() < 2 || most <= least {
        return None;
    }
    let y_of = |mark: &Mark| FIRST_MM + 1e3 * mark.below_m - least;
    let (left, right) = (LEFT_MM, LEFT_MM + TAPE_MM);
    let (top, bottom) = (FIRST_MM - EDGE_MM, FIRST_MM + most - least + EDGE_MM);
    let mut shapes = control();
    shapes.push(("paper", Shape::Polygon(vec![(left, top), (right, top), (right, bottom), (left, bottom)])));
    shapes.extend(label(name, day, units));
    shapes.extend(marks.between.iter().map(|mark| ("tick", line(y_of(mark), TICK_MM))));
    let mut down: Vec<&Mark> = Vec::new();
    for mark in &marks.list {
        down.insert(down.partition_point(|other| other.below_m < mark.below_m), mark);
    }
    let mut last = [f64::NEG_INFINITY; 2];
    for mark in down {
        let y = y_of(mark);
        let free = last.iter().position(|&other| y - other >= NUMBER_MM);
        let reach = free.map_or(TICK_MM, |column| COLUMNS_MM.get(column).copied().unwrap_or(TICK_MM));
        shapes.push(("mark", line(y, reach)));
        if let Some(slot) = free.and_then(|column| last.get_mut(column)) {
            *slot = y;
            let words = number(mark.distance_m, units);
            shapes.push(("number", Shape::Text((left + reach + 0.6, y + 1.1), "start", words)));
        }
    }
    let height_mm = bottom + LEFT_MM;
    Some(Tape { shapes, height_mm, words: words(marks, most - least, height_mm, units) })
}

/// The tape in words.
fn words(marks: &Marks, span_mm: f64, height_mm: f64, units: &Units) -> String {
    let between = if marks.between.is_empty() {
        String::new()
    } else {
        format!(", with a short tick for each {}", units.of(Quantity::Distance).symbol)
    };
    let long = if height_mm > SHEET_MM { " Longer than one sheet: remove distances." } else { "" };
    format!(
        "Sight tape with {} marks over {}\u{a0}mm{between}, to scale, nearest distance at the top. Print at 100% and check the 50 mm line.{long}",
        marks.list.len(),
        fixed(span_mm, 1)
    )
}

fn line(y: f64, reach: f64) -> Shape {
    Shape::Line((LEFT_MM, y), (LEFT_MM + reach, y))
}

/// What the tape is of: beside it, and its unit at its head.
fn label(name: &str, day: &str, units: &Units) -> Vec<(&'static str, Shape)> {
    let unit = units.of(Quantity::Distance);
    let beside = |line: f64, words: String| {
        let at = (LEFT_MM + TAPE_MM + 3.0, FIRST_MM + line * LINE_MM);
        ("label", Shape::Text(at, "start", words))
    };
    let name: String = name.chars().take(LABEL_CHARS).collect();
    let head = (LEFT_MM + TAPE_MM - 1.0, FIRST_MM - EDGE_MM + 3.5);
    let mut shapes = vec![("unit", Shape::Text(head, "end", unit.symbol.to_owned()))];
    shapes.extend((!name.is_empty()).then(|| beside(0.0, name)));
    shapes.push(beside(1.0, format!("Sight tape, {}, {day}", unit.name)));
    shapes
}

/// The line that proves the print, with its words.
fn control() -> Vec<(&'static str, Shape)> {
    let (from, to, y) = (LEFT_MM, LEFT_MM + CONTROL_MM, 9.0);
    let words = |y: f64, words: &str| ("number", Shape::Text((from, y), "start", words.to_owned()));
    vec![
        words(3.5, "This line is 50 mm long:"),
        words(7.0, "measure it on the paper."),
        ("control", Shape::Line((from, y), (to, y))),
        ("mark", Shape::Line((from, y - 1.5), (from, y + 1.5))),
        ("mark", Shape::Line((to, y - 1.5), (to, y + 1.5))),
    ]
}

/// How long the tape is and what it rests on, in a sentence.
#[must_use]
pub fn takeaway(shot: &Shot, marks: &[Mark], units: &Units) -> String {
    let (Some(first), Some(last)) = (marks.first(), marks.last()) else {
        return "All distances are out of range.".to_owned();
    };
    let radius = Quantity::Length.from_si(shot.sight.sight_radius_m);
    let [first_at, last_at] = [first, last].map(|mark| distance(mark.distance_m, units));
    format!(
        "From {first_at} to {last_at} the pin moves down {}\u{a0}{}, peep to pin {}.",
        small(last.below_m, units),
        units.of(Quantity::SmallLength).symbol,
        entered_with_unit(Quantity::Length, radius, units),
    )
}

/// Where the arrow strikes when its own point is laid on the mark, in a sentence.
#[must_use]
pub fn point_on(shot: &Shot, units: &Units) -> String {
    shot.point_on_m().map_or_else(
        || "No point-on distance.".to_owned(),
        |meters| format!("Point-on distance without a sight: {}.", distance(meters, units)),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use clothyard_core::eval::Evaluation;
    use clothyard_core::setup::samples;

    fn shot() -> Shot {
        Shot::of(&Evaluation::of(&samples::all().remove(0).setup)).unwrap()
    }

    const LIST_M: [f64; 5] = [18.288, 27.432, 36.576, 45.72, 54.864];

    fn ticks(tape: &Tape, style: &str) -> Vec<f64> {
        let y = |(name, shape): &(&str, Shape)| match shape {
            Shape::Line(from, _) if *name == style => Some(from.1),
            _ => None,
        };
        tape.shapes.iter().filter_map(y).collect()
    }

    #[test]
    fn marks_are_where_the_pin_would_be() {
        let shot = shot();
        let marks = Marks::of(&shot, &LIST_M, &Units::ARCHERY).unwrap().list;
        assert_eq!(marks[0].below_m, 0.0);
        // In a vacuum, small angles: R (tan e - tan e0) with tan e = h/X + g X / (2 v^2); drag adds to it.
        let tan =
            |meters: f64| shot.sight.peep_height_m / meters + 9.806_65 * meters / (2.0 * shot.speed_m_per_s.powi(2));
        for mark in &marks[1..] {
            let vacuum = shot.sight.sight_radius_m * (tan(mark.distance_m) - tan(LIST_M[0]));
            assert!((1.0..1.35).contains(&(mark.below_m / vacuum)), "{} {vacuum}", mark.below_m);
        }
        assert!(
            takeaway(&shot, &marks, &Units::ARCHERY).starts_with("From 20\u{a0}yd to 60\u{a0}yd the pin moves down ")
        );
        let all = Marks::of(&shot, &LIST_M, &Units::metric()).unwrap();
        let rows = rows(&all, None, &Units::metric());
        assert_eq!((rows[0][1].as_str(), rows[0][2].as_str()), ("0.0", "–"));
    }

    #[test]
    fn the_tape_is_in_millimeters_with_a_tick_for_each_yard_and_a_control_line() {
        let marks = Marks::of(&shot(), &LIST_M, &Units::ARCHERY).unwrap();
        assert_eq!(marks.between.len(), 41);
        assert!((marks.between[20].below_m - marks.list[2].below_m).abs() < 1e-9, "40 yards is the same twice");
        let tape = tape(&marks, ["Sallow Field", "2026-05-01"], &Units::ARCHERY).unwrap();
        let text = |style: &str, words: &str| {
            let is = |(name, shape): &(&str, Shape)| {
                *name == style && matches!(shape, Shape::Text(.., text) if text == words)
            };
            tape.shapes.iter().any(is)
        };
        assert!(text("label", "Sallow Field") && text("unit", "yd") && text("label", "Sight tape, yards, 2026-05-01"));
        let long = ticks(&tape, "mark");
        let on_tape = &long[2..];
        for (y, mark) in on_tape.iter().zip(&marks.list) {
            assert!((y - on_tape[0] - 1e3 * mark.below_m).abs() < 1e-9);
        }
        let control = tape.shapes.iter().find(|(style, _)| *style == "control").unwrap();
        assert_eq!(control.1, Shape::Line((1.0, 9.0), (51.0, 9.0)));
        assert!(tape.height_mm > on_tape[4] && on_tape[0] < on_tape[4]);
        assert!(
            tape.words.starts_with("Sight tape with 5 marks over ") && tape.words.contains("for each yd"),
            "{}",
            tape.words
        );
    }

    #[test]
    fn whole_units_are_within_the_list() {
        let metric = Units::metric();
        let whole = whole_units_m(&[18.3, 30.0, 70.2], &metric);
        assert_eq!((whole[0], *whole.last().unwrap()), (19.0, 70.0));
        assert!(whole_units_m(&[1.0, 600.0], &metric).is_empty());
        assert_eq!(tape(&Marks::of(&shot(), &[30.0], &metric).unwrap(), [""; 2], &metric), None);
    }

    #[test]
    fn numbers_never_overlap_also_where_the_marks_turn_back() {
        let list: Vec<f64> = (4..28).map(f64::from).collect();
        let marks = Marks::of(&shot(), &list, &Units::metric()).unwrap();
        assert!(marks.list[1].below_m < 0.0 && marks.list[23].below_m > marks.list[12].below_m);
        let tape = tape(&marks, [""; 2], &Units::metric()).unwrap();
        let mut columns: [Vec<f64>; 2] = Default::default();
        for (style, shape) in &tape.shapes {
            if let (&"number", Shape::Text((x, y), _, words)) = (style, shape)
                && words.parse::<f64>().is_ok()
            {
                columns[usize::from(*x > 6.0)].push(*y);
            }
        }
        assert!(columns.iter().all(|column| column.windows(2).all(|pair| pair[1] - pair[0] >= NUMBER_MM - 1e-9)));
        assert!(ticks(&tape, "mark").iter().all(|&y| y > 0.0 && y < tape.height_mm));
    }

    #[test]
    fn point_on_is_said() {
        let words = point_on(&shot(), &Units::ARCHERY);
        assert!(words.starts_with("Point-on distance without a sight: ") && words.ends_with("yd."), "{words}");
    }
}
