//! A frame of the film as shapes, seen from above: the arrow is still, string and rest go by.

use super::film::{Film, Frame, STATIONS};
use clothyard_core::drawing::{Shape, round_below};
use clothyard_core::units::clamp;
use clothyard_mechanics::shot::Phase;

/// Height of one arrow's lane in pixels.
pub const LANE_PX: f64 = 150.0;

/// Pixels that the greatest bend of all films shown is drawn at, at most.
const BEND_PX: f64 = 42.0;

/// Pixels that the greatest compression is drawn at, to either side of the arrow.
const LOAD_PX: f64 = 15.0;

const MARGIN_PX: f64 = 24.0;
const HALF_ARROW_PX: f64 = 2.0;

/// What a lane's shapes are, in their order, as style names.
pub const STYLES: [&str; 7] = ["line", "load", "arrow", "rear", "point", "string", "rest"];

/// How films are drawn: the same for all that are compared.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Scale {
    /// Pixels in a meter along the arrow.
    pub along: f64,
    /// How many times a bend is drawn as large as a length along the arrow.
    pub exaggerated: f64,
    /// Pixels in a newton of compression.
    load: f64,
}

/// The longest arrow, the greatest bend and the greatest compression of some films: what a scale must hold.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Extent {
    length_m: f64,
    bend_m: f64,
    load_n: f64,
}

impl Extent {
    /// The extent of some films.
    #[must_use]
    pub fn of<'a>(films: impl Iterator<Item = &'a Film>) -> Self {
        let nothing = Self { length_m: 1e-9, bend_m: 1e-9, load_n: 1e-9 };
        films.fold(nothing, |most, film| Self {
            length_m: most.length_m.max(film.length_m),
            bend_m: most.bend_m.max(film.greatest_bend_m()),
            load_n: most.load_n.max(film.greatest_compression_n()),
        })
    }

    /// The scale at which all of them have room in a drawing of this width.
    #[must_use]
    pub fn scale(&self, width: f64) -> Scale {
        let along = (width - 2.0 * MARGIN_PX) / (1.06 * self.length_m);
        Scale { along, exaggerated: round_below(BEND_PX / (along * self.bend_m)), load: LOAD_PX / self.load_n }
    }
}

/// The shapes of a frame, one for each of [`STYLES`], in a lane whose middle is `middle` pixels down.
#[must_use]
pub fn draw(film: &Film, frame: &Frame, scale: &Scale, middle: f64) -> [Shape; 7] {
    let x = |meters: f64| MARGIN_PX + meters * scale.along;
    let y = |bend: f64| middle - bend * scale.along * scale.exaggerated;
    let place = |station: usize| film.length_m * station as f64 / (STATIONS - 1) as f64;
    let bent = |offset: &dyn Fn(usize) -> f64| {
        (0..STATIONS)
            .map(|station| {
                let bend = frame.bend_m.get(station).copied().unwrap_or(0.0);
                (x(place(station)), y(bend) + offset(station))
            })
            .collect::<Vec<_>>()
    };
    let around = |half: &dyn Fn(usize) -> f64| {
        let back = bent(&|station| half(station));
        Shape::Polygon(bent(&|station| -half(station)).into_iter().chain(back.into_iter().rev()).collect())
    };
    let load =
        |station: usize| HALF_ARROW_PX + scale.load * frame.compression_n.get(station).copied().unwrap_or(0.0).max(0.0);
    let [first, .., last] = frame.bend_m;
    let end = (x(film.length_m), y(last));
    let tip = (end.0 + 14.0, end.1);
    [
        Shape::Line((MARGIN_PX / 2.0, middle), (x(1.05 * film.length_m), middle)),
        around(&load),
        around(&|_| HALF_ARROW_PX),
        vanes(film, frame, &x, &y),
        Shape::Polygon(vec![(end.0, end.1 - 4.0), tip, (end.0, end.1 + 4.0)]),
        string(film, frame, (x(0.0), y(first), middle)),
        rest(film, frame, &x, &y),
    ]
}

/// The bend at a place along the arrow, in proportion between two stations.
fn bend_at(film: &Film, frame: &Frame, place_m: f64) -> f64 {
    let station = clamp(place_m / film.length_m, 0.0, 1.0) * (STATIONS - 1) as f64;
    let at = |station: usize| frame.bend_m.get(station.min(STATIONS - 1)).copied().unwrap_or(0.0);
    let (before, share) = (station as usize, station % 1.0);
    at(before) * (1.0 - share) + at(before + 1) * share
}

/// Vanes from above: a low wedge on either side, near the nock.
fn vanes(film: &Film, frame: &Frame, x: &dyn Fn(f64) -> f64, y: &dyn Fn(f64) -> f64) -> Shape {
    let at = |share: f64, aside: f64| {
        let place = share * film.length_m;
        (x(place), y(bend_at(film, frame, place)) + aside)
    };
    Shape::Polygon(vec![at(0.11, 0.0), at(0.06, -8.0), at(0.045, -8.0), at(0.04, 0.0), at(0.045, 8.0), at(0.06, 8.0)])
}

/// The string from above: a short stroke across the nock, left behind at brace when the arrow is gone.
fn string(film: &Film, frame: &Frame, (nock_x, nock_y, middle): (f64, f64, f64)) -> Shape {
    let behind = (frame.travel_m - film.stroke_m).max(0.0);
    if frame.phase != Phase::Free {
        return Shape::Line((nock_x, nock_y - 12.0), (nock_x, nock_y + 12.0));
    }
    let x = (nock_x - behind * 400.0).max(MARGIN_PX / 3.0);
    Shape::Line((x, middle - 12.0), (x, middle + 12.0))
}

/// The rest: a wedge against the arrow where it touches, beside a shaft that has sprung off a plunger, away from it once
/// it has dropped or is past.
fn rest(film: &Film, frame: &Frame, x: &dyn Fn(f64) -> f64, y: &dyn Fn(f64) -> f64) -> Shape {
    let place = frame.rest_m.max(0.0).min(film.length_m);
    let holds = frame.phase == Phase::StringAndRest;
    let shaft = y(bend_at(film, frame, place)) + HALF_ARROW_PX + 1.0;
    let (at, top) = match (holds, film.fingers) {
        (true, _) => (x(place), shaft),
        (false, true) => (x(place), shaft + 10.0),
        (false, false) => (x(place), y(0.0) + 48.0),
    };
    Shape::Polygon(vec![(at, top), (at - 7.0, top + 14.0), (at + 7.0, top + 14.0)])
}

/// Frames for a strip of stills: the loose, even moments on the string, the leaving, and one in flight.
#[must_use]
pub fn stills(film: &Film) -> Vec<usize> {
    let leaves = film.frames.iter().position(|frame| frame.phase == Phase::Free).unwrap_or(film.frames.len());
    let on_string = (0..4).map(|still| leaves * still / 4);
    let last = film.frames.len().saturating_sub(1);
    on_string.chain([leaves.min(last), (leaves + last) / 2]).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use clothyard_core::eval::Evaluation;
    use clothyard_core::setup::samples;

    fn films() -> Vec<Film> {
        samples::all().iter().map(|start| Film::of(&Evaluation::of(&start.setup), 90).unwrap()).collect()
    }

    #[test]
    fn every_shape_stays_in_its_lane() {
        let films = films();
        let scale = Extent::of(films.iter()).scale(360.0);
        for film in &films {
            for frame in &film.frames {
                for shape in draw(film, frame, &scale, LANE_PX / 2.0) {
                    let places = match shape {
                        Shape::Polygon(places) => places,
                        Shape::Line(from, to) => vec![from, to],
                        Shape::Text(..) => unreachable!(),
                    };
                    for (x, y) in places {
                        assert!((0.0..=360.0).contains(&x) && (0.0..=LANE_PX).contains(&y), "{x} {y}");
                    }
                }
            }
        }
    }

    #[test]
    fn the_exaggeration_is_a_round_number_and_the_same_for_all() {
        for (number, expected) in [(1.0, 1.0), (1.9, 1.0), (2.0, 2.0), (49.0, 20.0), (777.0, 500.0)] {
            assert!((round_below(number) - expected).abs() < 1e-12);
        }
        let films = films();
        let both = Extent::of([&films[0], &films[2]].into_iter()).scale(800.0);
        assert!(both.exaggerated < Extent::of(films[..1].iter()).scale(800.0).exaggerated, "fingers bend it more");
    }

    #[test]
    fn stills_run_through_the_shot() {
        for film in films() {
            let stills = stills(&film);
            assert_eq!(stills.len(), 6);
            assert!(
                stills.is_sorted()
                    && film.frames[stills[3]].phase != Phase::Free
                    && film.frames[stills[4]].phase == Phase::Free
            );
        }
    }
}
