//! A line chart's arithmetic: lines of points with gaps, and where they are in a plot of so many pixels.

mod axes;

pub use axes::axes;

/// A line: places in rising order, each with its number; none where there is no number.
pub type Line = [(f64, Option<f64>)];

/// The plot's left, top and bottom in pixels, and how far its right is from the drawing's edge: room for the axes'
/// words.
pub const LEFT: f64 = 64.0;
/// See [`LEFT`].
pub const TOP: f64 = 33.0;
/// See [`LEFT`].
pub const BOTTOM: f64 = 270.0;
/// See [`LEFT`].
pub const MARGIN: f64 = 22.0;

/// The first point at a place or beyond it; the line's length where there is none.
#[must_use]
pub fn next(line: &Line, x: f64) -> usize {
    line.partition_point(|&(place, _)| place < x)
}

/// A line's number at a place, between two points in proportion; none beyond its ends or beside a gap.
#[must_use]
pub fn at(line: &Line, x: f64) -> Option<f64> {
    let next = next(line, x);
    let &(to, number) = line.get(next)?;
    if to <= x {
        return number;
    }
    let &(from, before) = line.get(next.checked_sub(1)?)?;
    let share = (x - from) / (to - from);
    Some(before? * (1.0 - share) + number? * share)
}

/// What a plot spans each way, and how wide its drawing is in pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plot {
    /// The least and the greatest place.
    pub across: (f64, f64),
    /// The numbers at the bottom and at the top.
    pub up: (f64, f64),
    /// The drawing's width in pixels.
    pub width: f64,
}

impl Plot {
    /// Holds every point of some lines, with a little room above and below where nothing changes; none where no
    /// line has a number.
    #[must_use]
    pub fn around<'a>(lines: impl Iterator<Item = &'a Line> + Clone, width: f64) -> Option<Self> {
        let points = || lines.clone().flatten();
        let across = span(points().map(|&(x, _)| x))?;
        let (least, most) = span(points().filter_map(|&(_, y)| y))?;
        let room = ((most.abs() * 0.002).max(1e-6) - (most - least)).max(0.0);
        Some(Self { across, up: (least - room, most + room), width })
    }

    /// The plot's right in pixels.
    #[must_use]
    pub fn right(&self) -> f64 {
        self.width - MARGIN
    }

    /// Pixels from the left of a place.
    #[must_use]
    pub fn x(&self, place: f64) -> f64 {
        LEFT + (self.right() - LEFT) * (place - self.across.0) / (self.across.1 - self.across.0)
    }

    /// Pixels from the top of a number.
    #[must_use]
    pub fn y(&self, number: f64) -> f64 {
        BOTTOM - (BOTTOM - TOP) * (number - self.up.0) / (self.up.1 - self.up.0)
    }

    /// The place so many pixels from the left; the plot's first where that is left of it.
    #[must_use]
    pub fn place(&self, x: f64) -> f64 {
        let share = ((x - LEFT) / (self.right() - LEFT)).max(0.0);
        self.across.0 + share * (self.across.1 - self.across.0)
    }
}

/// The least and the most of some numbers; none where there is no number.
fn span(numbers: impl Iterator<Item = f64>) -> Option<(f64, f64)> {
    let ends = (f64::INFINITY, f64::NEG_INFINITY);
    let (least, most) = numbers.fold(ends, |(low, high), number| (low.min(number), high.max(number)));
    (least <= most).then_some((least, most))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const LINE: [(f64, Option<f64>); 4] = [(0.0, Some(1.0)), (2.0, Some(5.0)), (4.0, None), (6.0, Some(-1.0))];

    #[test]
    fn between_points_in_proportion_and_nothing_beside_a_gap() {
        assert_eq!([0.0, 0.5, 2.0].map(|x| at(&LINE, x)), [Some(1.0), Some(2.0), Some(5.0)]);
        assert_eq!([3.0, 4.0, 5.0].map(|x| at(&LINE, x)), [None; 3]);
        assert_eq!([-0.1, 6.0, 6.1].map(|x| at(&LINE, x)), [None, Some(-1.0), None]);
        assert_eq!([-1.0, 0.0, 0.1, 7.0].map(|x| next(&LINE, x)), [0, 0, 1, 4]);
        assert_eq!(at(&[], 0.0), None);
    }

    #[test]
    fn a_plot_holds_every_line() {
        let (a, b): (&Line, &Line) = (&LINE, &[(-2.0, None), (9.0, Some(10.0))]);
        let plot = Plot::around([a, b].into_iter(), 400.0).unwrap();
        assert_eq!((plot.across, plot.up), ((-2.0, 9.0), (-1.0, 10.0)));
        assert_eq!((plot.x(-2.0), plot.x(9.0), plot.y(-1.0), plot.y(10.0)), (LEFT, 378.0, BOTTOM, TOP));
        assert_eq!(Plot::around([&LINE[2..3]].into_iter(), 400.0), None, "no number at all");
        let level = Plot::around([&LINE[..1]].into_iter(), 400.0).unwrap();
        assert!(level.up.0 < 1.0 && level.up.1 > 1.0, "room where nothing changes");
    }

    proptest! {
        #[test]
        fn a_pixel_leads_back_to_its_place(from in -1e3..1e3f64, long in 1e-3..1e3f64, share in 0.0..1.0f64) {
            let plot = Plot { across: (from, from + long), up: (0.0, 1.0), width: 700.0 };
            let place = from + share * long;
            prop_assert!((plot.place(plot.x(place)) - place).abs() < 1e-11 * (from.abs() + long));
        }
    }
}
