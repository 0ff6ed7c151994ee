//! A batch as a chart: weight across, spine up, a mark for each piece whose shape says what it is for.

use super::batch::Piece;
use super::sort::Use;
use clothyard_core::drawing::Shape;
use clothyard_core::drawing::plot::{Plot, axes};
use clothyard_core::units::{Quantity, Units};

/// Half the size of a mark in pixels.
const HALF: f64 = 5.5;

/// Where the middle of a mark's number may be, from the mark; one that finds no room is in the table alone.
const BESIDE: [(f64, f64); 6] = [(14.0, -5.0), (-14.0, -5.0), (14.0, 7.0), (-14.0, 7.0), (0.0, -14.0), (0.0, 15.0)];

/// The chart's shapes, each with its style. Without spines the marks are in the order of the list.
#[must_use]
pub fn draw(pieces: &[Piece], uses: &[Use], units: &Units, width: f64) -> Vec<(&'static str, Shape)> {
    let by_spine = pieces.iter().any(|piece| piece.spine.is_some());
    let place = |piece: &Piece| {
        let up = if by_spine { piece.spine } else { Some(piece.number as f64) };
        Some((piece.weight_gr, up?))
    };
    let shown: Vec<_> =
        pieces.iter().zip(uses).filter_map(|(piece, &use_)| Some((piece, use_, place(piece)?))).collect();
    let points: Vec<_> = shown.iter().map(|&(_, _, (x, y))| (x, Some(y))).collect();
    let Some(plot) = Plot::around([points.as_slice()].into_iter(), width) else { return Vec::new() };
    let mut plot = with_room(plot);
    let up = if by_spine { ("Spine", Quantity::StaticSpine) } else { ("Position in list", Quantity::Count) };
    let mut shapes = axes(&mut plot, ("Weight", Quantity::Mass), up, units);
    let places: Vec<_> = shown.iter().map(|&(_, _, (x, y))| (plot.x(x), plot.y(y))).collect();
    let mut taken = places.clone();
    for ((piece, use_, _), (x, y)) in shown.into_iter().zip(places) {
        shapes.extend(mark(use_, x, y));
        let free = |&(dx, dy): &(f64, f64)| room_for(&taken, x + dx, y + dy) && x + dx < plot.right() - HALF;
        if let Some(&(dx, dy)) = BESIDE.iter().find(|place| free(place)) {
            taken.push((x + dx, y + dy));
            // A text is on its base line, half a letter below its middle.
            shapes.push(("number", Shape::Text((x + dx, y + dy + 4.5), "middle", piece.number.to_string())));
        }
    }
    shapes
}

/// Whether a number's middle may be there, clear of every mark and number.
fn room_for(taken: &[(f64, f64)], x: f64, y: f64) -> bool {
    taken.iter().all(|&(other, at)| (other - x).abs() > 13.0 || (at - y).abs() > 11.0)
}

/// Room for the marks each way, also where all weigh the same.
fn with_room(plot: Plot) -> Plot {
    let room = |(least, most): (f64, f64), share: f64| ((most - least) * share).max(0.2);
    let (beside, above) = (room(plot.across, 0.06), room(plot.up, 0.08));
    Plot {
        across: (plot.across.0 - beside, plot.across.1 + beside),
        up: (plot.up.0 - above, plot.up.1 + above),
        ..plot
    }
}

/// A full square for the set, an open triangle for a bare shaft, an open diamond for practice, a cross for what is
/// left out.
fn mark(use_: Use, x: f64, y: f64) -> Vec<(&'static str, Shape)> {
    let (l, r, t, b) = (x - HALF, x + HALF, y - HALF, y + HALF);
    match use_ {
        Use::Set => vec![("set", Shape::Polygon(vec![(l, t), (r, t), (r, b), (l, b)]))],
        Use::Bare => vec![("bare", Shape::Polygon(vec![(x, t), (r, b), (l, b)]))],
        Use::Practice => vec![("practice", Shape::Polygon(vec![(x, t), (r, y), (x, b), (l, y)]))],
        Use::Crooked | Use::Far => {
            vec![("out", Shape::Line((l, t), (r, b))), ("out", Shape::Line((l, b), (r, t)))]
        }
    }
}

/// What the chart shows, in words.
#[must_use]
pub fn in_words(pieces: &[Piece], units: &Units) -> String {
    let unit = units.of(Quantity::Mass).name;
    let up = if pieces.iter().any(|piece| piece.spine.is_some()) { "spine up" } else { "position in list up" };
    format!(
        "Weight across in {unit}, {up}. Squares: the set; triangles: bare shafts; diamonds: practice; crosses: left out."
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::production::batch::pieces;
    use clothyard_core::drawing::plot::{BOTTOM, LEFT};

    fn shapes(rows: &[[f64; 2]], uses: &[Use]) -> Vec<(&'static str, Shape)> {
        let rows: Vec<_> = rows
            .iter()
            .map(|row| row.iter().map(|&number| (number > 0.0).then_some(number)).chain([None; 5]).collect())
            .collect();
        draw(&pieces(&rows), uses, &Units::ARCHERY, 400.0)
    }

    #[test]
    fn heavier_is_to_the_right_and_weaker_higher() {
        let marks = shapes(&[[300.0, 400.0], [310.0, 420.0]], &[Use::Set, Use::Practice]);
        let at = |style: &str| match marks.iter().find(|(name, _)| *name == style).unwrap() {
            (_, Shape::Polygon(points)) => points[0],
            _ => panic!("a mark is a polygon"),
        };
        assert!(at("set").0 < at("practice").0 && at("set").1 > at("practice").1);
        let numbers = marks.iter().filter(|(name, _)| *name == "number").count();
        assert_eq!(numbers, 2, "there is room for both");
        let inside = |shape: &Shape| match shape {
            Shape::Polygon(points) => {
                points.iter().all(|&(x, y)| (LEFT..=400.0).contains(&x) && (0.0..=BOTTOM).contains(&y))
            }
            _ => true,
        };
        assert!(marks.iter().all(|(_, shape)| inside(shape)));
    }

    #[test]
    fn no_number_lies_on_another() {
        let rows: Vec<_> =
            (0..30).map(|place| [300.0 + f64::from(place % 5) * 0.2, 400.0 + f64::from(place % 7)]).collect();
        let shapes = shapes(&rows, &[Use::Practice; 30]);
        let places: Vec<_> = shapes
            .iter()
            .filter_map(|(name, shape)| match shape {
                Shape::Text(at, ..) if *name == "number" => Some(*at),
                _ => None,
            })
            .collect();
        assert!(places.len() > 5);
        for (place, &(x, y)) in places.iter().enumerate() {
            assert!(room_for(&places[..place], x, y));
        }
    }

    #[test]
    fn one_alone_and_none_with_a_spine_are_drawn_and_nothing_is_not() {
        assert!(shapes(&[[300.0, 0.0]], &[Use::Practice]).iter().any(|(name, _)| *name == "practice"));
        assert!(shapes(&[], &[]).is_empty());
    }
}
