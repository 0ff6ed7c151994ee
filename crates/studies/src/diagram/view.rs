//! A stretch of the arrow on paper: inches along and across to pixels, at one scale.

use clothyard_core::drawing::{Piece, Shape};

/// A stretch of the arrow, and where it is.
#[derive(Clone, Copy, Debug)]
pub(super) struct View {
    /// From where to where on the arrow, in inches ahead of the nock groove.
    pub(super) range: (f64, f64),
    /// Where the stretch begins, in pixels.
    pub(super) left: f64,
    /// Pixels per inch.
    pub(super) scale: f64,
    /// The axis, in pixels.
    pub(super) axis: f64,
}

impl View {
    pub(super) fn x(&self, inches: f64) -> f64 {
        self.left + (inches - self.range.0) * self.scale
    }

    pub(super) fn at(&self, (x, y): (f64, f64)) -> (f64, f64) {
        (self.x(x), self.axis + y * self.scale)
    }

    /// What of a part is within the stretch.
    pub(super) fn shape(&self, piece: &Piece) -> Option<Shape> {
        let corners = cut(&piece.corners, self.range);
        (corners.len() > 2).then(|| Shape::Polygon(corners.into_iter().map(|corner| self.at(corner)).collect()))
    }

    /// A line along the arrow, as far as it is within the stretch.
    pub(super) fn line(&self, (from, to): (f64, f64), y: f64) -> Option<Shape> {
        let (from, to) = (from.max(self.range.0), to.min(self.range.1));
        (from < to).then(|| Shape::Line(self.at((from, y)), self.at((to, y))))
    }
}

/// From where to where some parts reach along the arrow.
pub(super) fn along<'a>(pieces: impl Iterator<Item = &'a Piece>) -> Option<(f64, f64)> {
    pieces.flat_map(|piece| &piece.corners).fold(None, |reach, &(x, _)| {
        let (from, to) = reach.unwrap_or((x, x));
        Some((x.min(from), x.max(to)))
    })
}

/// How far some parts are above and below the axis within a stretch, in inches.
pub(super) fn across<'a>(pieces: impl Iterator<Item = &'a Piece>, range: (f64, f64)) -> (f64, f64) {
    let corners = pieces.flat_map(|piece| cut(&piece.corners, range));
    corners.fold((0.0, 0.0), |(up, down), (_, y)| (f64::max(up, -y), f64::max(down, y)))
}

/// What of an outline is between two places, by cutting it at each in turn (Sutherland and Hodgman, 1974).
fn cut(corners: &[(f64, f64)], (from, to): (f64, f64)) -> Vec<(f64, f64)> {
    let ahead = cut_at(corners, from, |x| x >= from);
    cut_at(&ahead, to, |x| x <= to)
}

fn cut_at(corners: &[(f64, f64)], place: f64, inside: impl Fn(f64) -> bool) -> Vec<(f64, f64)> {
    let mut kept = Vec::new();
    let before = corners.iter().cycle().skip(corners.len().saturating_sub(1));
    for (&(x, y), &(x0, y0)) in corners.iter().zip(before) {
        if inside(x) != inside(x0) {
            kept.push((place, y0 + (y - y0) * (place - x0) / (x - x0)));
        }
        if inside(x) {
            kept.push((x, y));
        }
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Twice the area, by the shoelace formula.
    fn twice_area(corners: &[(f64, f64)]) -> f64 {
        let next = corners.iter().cycle().skip(1);
        corners.iter().zip(next).map(|(a, b)| a.0 * b.1 - b.0 * a.1).sum::<f64>().abs()
    }

    proptest! {
        #[test]
        fn the_two_sides_of_a_cut_have_the_whole_area(place in -1.0..3.0f64, tip in -2.0..2.0f64) {
            let whole = [(0.0, 0.0), (0.0, -1.0), (tip.abs(), -1.5), (2.0, 0.0), (1.0, 0.8)];
            let (left, right) = (cut(&whole, (-9.0, place)), cut(&whole, (place, 9.0)));
            prop_assert!(left.iter().all(|corner| corner.0 <= place) && right.iter().all(|corner| corner.0 >= place));
            prop_assert!((twice_area(&left) + twice_area(&right) - twice_area(&whole)).abs() < 1e-12);
        }
    }
}
