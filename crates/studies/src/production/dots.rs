//! A batch as a chart: weight across, spine up, a mark for each piece whose shape says what it is for.

use super::batch::Piece;
use super::sort::Use;
use clothyard_core::drawing::Shape;
use clothyard_core::drawing::plot::{BOTTOM, LEFT, Plot, TOP, axes};
use clothyard_core::units::{Quantity, Units};

/// Half the size of a mark in pixels.
const HALF: f64 = 5.5;

/// Where the middle of a mark's number may be, from the mark: beside it, else farther out at the end of a line. One that
/// finds no room is in the table and the read-out alone.
const BESIDE: [(f64, f64); 6] = [(14.0, -5.0), (-14.0, -5.0), (14.0, 7.0), (-14.0, 7.0), (0.0, -14.0), (0.0, 15.0)];
const FARTHER: [(f64, f64); 8] =
    [(26.0, -20.0), (-26.0, -20.0), (26.0, 22.0), (-26.0, 22.0), (0.0, -30.0), (0.0, 32.0), (36.0, 0.0), (-36.0, 0.0)];

/// A chart: its shapes, each with its style, and where the marks are, each with the place of its piece.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Dots {
    /// The shapes.
    pub shapes: Vec<(&'static str, Shape)>,
    /// The middle of each mark.
    pub marks: Vec<(usize, (f64, f64))>,
}

impl Dots {
    /// The place of the piece whose mark is nearest to a point.
    #[must_use]
    pub fn nearest(&self, (x, y): (f64, f64)) -> Option<usize> {
        let far = |at: (f64, f64)| (at.0 - x).powi(2) + (at.1 - y).powi(2);
        self.marks.iter().min_by(|a, b| far(a.1).total_cmp(&far(b.1))).map(|mark| mark.0)
    }

    /// The ring around the mark of a piece.
    #[must_use]
    pub fn ring(&self, place: usize) -> Option<Shape> {
        let &(_, (x, y)) = self.marks.iter().find(|mark| mark.0 == place)?;
        let corner = |turn: usize| {
            let angle = core::f64::consts::FRAC_PI_6 * turn as f64;
            (x + 2.0 * HALF * angle.cos(), y + 2.0 * HALF * angle.sin())
        };
        Some(Shape::Polygon((0..12).map(corner).collect()))
    }
}

/// The chart of a batch. Without spines the marks are in the order of the list.
#[must_use]
pub fn draw(pieces: &[Piece], uses: &[Use], units: &Units, width: f64) -> Dots {
    let by_spine = pieces.iter().any(|piece| piece.spine.is_some());
    let place = |piece: &Piece| {
        let up = if by_spine { piece.spine } else { Some(piece.number as f64) };
        Some((piece.weight_gr, up?))
    };
    let all = pieces.iter().zip(uses).enumerate();
    let shown: Vec<_> = all.filter_map(|(at, (piece, &use_))| Some((at, piece, use_, place(piece)?))).collect();
    let points: Vec<_> = shown.iter().map(|&(.., (x, y))| (x, Some(y))).collect();
    let Some(plot) = Plot::around([points.as_slice()].into_iter(), width) else { return Dots::default() };
    let mut plot = with_room(plot);
    let up = if by_spine { ("Spine", Quantity::StaticSpine) } else { ("Position in list", Quantity::Count) };
    let mut shapes = axes(&mut plot, ("Weight", Quantity::Mass), up, units);
    let marks: Vec<_> = shown.iter().map(|&(at, .., (x, y))| (at, (plot.x(x), plot.y(y)))).collect();
    let mut taken: Vec<_> = marks.iter().map(|mark| mark.1).collect();
    for (&(_, piece, use_, _), &(_, (x, y))) in shown.iter().zip(&marks) {
        shapes.extend(mark(use_, x, y));
        let inside = |x: f64, y: f64| x > LEFT + HALF && x < plot.right() - HALF && y > TOP && y < BOTTOM - 2.0 * HALF;
        let free = |&(dx, dy): &(f64, f64)| room_for(&taken, x + dx, y + dy) && inside(x + dx, y + dy);
        let beside = BESIDE.iter().find(|place| free(place));
        if let Some(&(dx, dy)) = beside.or_else(|| FARTHER.iter().find(|place| free(place))) {
            taken.push((x + dx, y + dy));
            if beside.is_none() {
                shapes.push(("lead", Shape::Line((x + 0.25 * dx, y + 0.25 * dy), (x + 0.7 * dx, y + 0.7 * dy))));
            }
            // A text is on its base line, half a letter below its middle.
            shapes.push(("number", Shape::Text((x + dx, y + dy + 4.5), "middle", piece.number.to_string())));
        }
    }
    Dots { shapes, marks }
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

    fn shapes(rows: &[[f64; 2]], uses: &[Use]) -> Vec<(&'static str, Shape)> {
        let rows: Vec<_> = rows
            .iter()
            .map(|row| row.iter().map(|&number| (number > 0.0).then_some(number)).chain([None; 5]).collect())
            .collect();
        draw(&pieces(&rows), uses, &Units::ARCHERY, 400.0).shapes
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
    fn the_nearest_mark_is_found_and_ringed() {
        let rows: Vec<_> =
            [300.0, 310.0].iter().map(|&weight| vec![Some(weight), Some(400.0), None, None, None, None]).collect();
        let dots = draw(&pieces(&rows), &[Use::Set; 2], &Units::ARCHERY, 400.0);
        assert_eq!(dots.nearest((0.0, 100.0)), Some(0));
        assert_eq!(dots.nearest((400.0, 100.0)), Some(1));
        let (_, (x, _)) = dots.marks[1];
        let Some(Shape::Polygon(ring)) = dots.ring(1) else { panic!("a ring is a polygon") };
        assert!((ring.iter().map(|corner| corner.0).sum::<f64>() / 12.0 - x).abs() < 1e-9);
        assert_eq!(dots.ring(2), None);
    }

    #[test]
    fn one_alone_and_none_with_a_spine_are_drawn_and_nothing_is_not() {
        assert!(shapes(&[[300.0, 0.0]], &[Use::Practice]).iter().any(|(name, _)| *name == "practice"));
        assert!(shapes(&[], &[]).is_empty());
    }
}
