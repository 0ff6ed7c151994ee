//! Which piece of a batch to use for what.
//!
//! The set is exact: no other of its size spreads less. The rest goes by thresholds: straightness by common practice
//! (no source), nearness to the set by guesses of the page's own, in the worths set on the form.

use super::batch::{Piece, Worth, best_set};
use clothyard_mechanics::measured::MatchedSet;

/// Less straight than this a piece is left out, in inches: the coarsest class commonly sold (common practice).
pub const CROOKED_IN: f64 = 0.006;

/// So many worths from the middle of the others a piece is too far out to shoot beside them (a guess).
pub const FAR: f64 = 5.0;

/// Within so many worths of the set, weight and spine together, a piece will do for a bare shaft (a guess).
pub const NEAR: f64 = 2.0;

/// So many bare shafts are put by (a guess).
pub const BARE: usize = 2;

/// What a piece is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Use {
    /// One of those that belong together.
    Set,
    /// Near enough to the set to tune with, unfletched.
    Bare,
    /// Good to shoot, not alike enough.
    Practice,
    /// Not straight enough.
    Crooked,
    /// Too far from the others.
    Far,
}

impl Use {
    /// In plain words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Set => "the set",
            Self::Bare => "bare shaft for tuning",
            Self::Practice => "practice",
            Self::Crooked => "leave out: not straight",
            Self::Far => "leave out: too far from the others",
        }
    }

    /// Whether it is to be shot at all.
    #[must_use]
    pub const fn is_shot(self) -> bool {
        !matches!(self, Self::Crooked | Self::Far)
    }
}

/// A batch, sorted.
#[derive(Clone, Debug, PartialEq)]
pub struct Sorted {
    /// Numbers of the set's pieces and its spreads; none where too few can be taken.
    pub set: Option<(Vec<usize>, MatchedSet)>,
    /// What each piece is for, in the order given.
    pub uses: Vec<Use>,
}

/// Sorts a batch, `wanted` being the size of the set.
#[must_use]
pub fn sort(pieces: &[Piece], wanted: usize, worth: Worth) -> Sorted {
    let straight: Vec<_> = pieces.iter().filter(|piece| !is_crooked(piece)).cloned().collect();
    let set = best_set(&straight, wanted, worth);
    let numbers = set.as_ref().map_or(&[][..], |(numbers, _)| numbers);
    let middle = Middle::of(&straight, numbers);
    let mut uses: Vec<_> = pieces
        .iter()
        .map(|piece| match middle.as_ref().map_or(0.0, |middle| middle.farthest(piece, worth)) {
            _ if is_crooked(piece) => Use::Crooked,
            _ if numbers.contains(&piece.number) => Use::Set,
            far if far > FAR => Use::Far,
            _ => Use::Practice,
        })
        .collect();
    if let Some(middle) = middle.filter(|_| set.is_some()) {
        put_by_bare_shafts(pieces, &mut uses, &middle, worth);
    }
    Sorted { set, uses }
}

fn is_crooked(piece: &Piece) -> bool {
    piece.straightness_in.is_some_and(|inches| inches > CROOKED_IN)
}

fn put_by_bare_shafts(pieces: &[Piece], uses: &mut [Use], middle: &Middle, worth: Worth) {
    for _ in 0..BARE {
        let nearest = pieces
            .iter()
            .zip(uses.iter())
            .enumerate()
            .filter(|(_, (_, use_))| **use_ == Use::Practice)
            .map(|(place, (piece, _))| (place, middle.apart(piece, worth)))
            .filter(|&(_, apart)| apart <= NEAR)
            .reduce(|best, next| if next.1 < best.1 { next } else { best });
        if let Some(slot) = nearest.and_then(|(place, _)| uses.get_mut(place)) {
            *slot = Use::Bare;
        }
    }
}

/// Mean weight and spine of the set, or of all where there is none.
struct Middle {
    weight_gr: f64,
    spine: Option<f64>,
}

impl Middle {
    fn of(pieces: &[Piece], numbers: &[usize]) -> Option<Self> {
        let chosen = || pieces.iter().filter(|piece| numbers.is_empty() || numbers.contains(&piece.number));
        Some(Self {
            weight_gr: mean(chosen().map(|piece| piece.weight_gr))?,
            spine: mean(chosen().filter_map(|piece| piece.spine)),
        })
    }

    /// How far off a piece is in weight and in spine, each in its worth.
    fn off(&self, piece: &Piece, worth: Worth) -> (f64, f64) {
        let spine = piece.spine.zip(self.spine).map_or(0.0, |(one, mean)| (one - mean).abs() / worth.spine);
        ((piece.weight_gr - self.weight_gr).abs() / worth.weight_gr, spine)
    }

    fn farthest(&self, piece: &Piece, worth: Worth) -> f64 {
        let (weight, spine) = self.off(piece, worth);
        weight.max(spine)
    }

    fn apart(&self, piece: &Piece, worth: Worth) -> f64 {
        let (weight, spine) = self.off(piece, worth);
        weight + spine
    }
}

fn mean(numbers: impl Iterator<Item = f64>) -> Option<f64> {
    let (count, sum) = numbers.fold((0.0, 0.0), |(count, sum), number| (count + 1.0, sum + number));
    (count > 0.0).then(|| sum / count)
}

#[cfg(test)]
mod tests {
    use super::*;

    const WORTH: Worth = Worth { weight_gr: 3.0, spine: 5.0 };

    fn piece(number: usize, weight_gr: f64, spine: f64, straightness_in: f64) -> Piece {
        Piece {
            number,
            weight_gr,
            spine: Some(spine),
            readings: vec![spine],
            straightness_in: Some(straightness_in),
            balance_in: None,
        }
    }

    #[test]
    fn each_piece_has_its_use() {
        let batch = [
            piece(1, 300.0, 400.0, 0.001),
            piece(2, 300.5, 401.0, 0.002),
            piece(3, 301.0, 400.0, 0.006),
            piece(4, 302.5, 402.0, 0.001), // two thirds of a worth off in weight and a third in spine
            piece(5, 309.0, 400.0, 0.001), // nearly three worths heavier
            piece(6, 300.4, 400.3, 0.007), // the most alike, and crooked
            piece(7, 316.0, 400.0, 0.001), // more than five worths heavier
        ];
        let sorted = sort(&batch, 3, WORTH);
        assert_eq!(sorted.set.unwrap().0, [1, 2, 3]);
        use Use::{Bare, Crooked, Far, Practice, Set};
        assert_eq!(sorted.uses, [Set, Set, Set, Bare, Practice, Crooked, Far]);
    }

    #[test]
    fn too_few_make_no_set_and_no_bare_shaft() {
        let batch = [piece(1, 300.0, 400.0, 0.0), piece(2, 301.0, 400.0, 0.009)];
        let sorted = sort(&batch, 2, WORTH);
        assert_eq!((sorted.set, sorted.uses), (None, vec![Use::Practice, Use::Crooked]));
        assert!(sort(&[], 2, WORTH).uses.is_empty());
    }
}
