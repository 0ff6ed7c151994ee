//! A frame of the film as shapes, seen from above: the arrow is still, string and rest go by.

use super::film::{Film, Frame, STATIONS, bend_words};
use clothyard_core::drawing::{Shape, round_below};
use clothyard_core::format;
use clothyard_core::units::{Units, clamp};
use clothyard_mechanics::shot::Phase;

/// Height of one arrow's lane in pixels.
pub const LANE_PX: f64 = 150.0;

/// Pixels that the greatest bend of all films shown is drawn at, at most.
const BEND_PX: f64 = 42.0;

/// Pixels that the greatest compression is drawn at, to either side of the arrow.
const LOAD_PX: f64 = 15.0;

const MARGIN_PX: f64 = 24.0;
const HALF_ARROW_PX: f64 = 2.0;

/// Height of the curve of bend against time, in pixels.
pub const CURVE_PX: f64 = 150.0;

/// Least room between two numbers of the time scale, in pixels.
const TICK_PX: f64 = 60.0;

/// How many times a bend can be drawn larger by choice.
pub const MAGNIFICATIONS: [f64; 9] = [1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0];

/// A shape and the name of its style.
pub type Styled = (&'static str, Shape);

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

impl Scale {
    /// The same with another enlargement of the bend; what is larger than the lane is cut off.
    #[must_use]
    pub const fn exaggerating(self, times: f64) -> Self {
        Self { exaggerated: times, ..self }
    }
}

/// A lane of the drawing: how a film's lengths and bends become pixels in it.
#[derive(Clone, Copy)]
struct Lane<'a> {
    film: &'a Film,
    scale: Scale,
    /// Pixels from the top to the straight arrow.
    middle: f64,
}

impl Lane<'_> {
    fn x(&self, meters: f64) -> f64 {
        MARGIN_PX + meters * self.scale.along
    }

    fn y(&self, bend_m: f64) -> f64 {
        self.middle - bend_m * self.scale.along * self.scale.exaggerated
    }

    /// An outline around the bent arrow, so many pixels to either side of it.
    fn around(&self, frame: &Frame, half: &dyn Fn(usize) -> f64) -> Shape {
        let place = |station: usize| self.film.length_m * station as f64 / (STATIONS - 1) as f64;
        let side = |sign: f64| {
            let bends = frame.bend_m.iter().enumerate();
            bends.map(move |(station, &bend)| (self.x(place(station)), self.y(bend) + sign * half(station)))
        };
        let back: Vec<_> = side(1.0).collect();
        Shape::Polygon(side(-1.0).chain(back.into_iter().rev()).collect())
    }
}

/// The shapes of a frame in a lane whose middle is `middle` pixels down.
#[must_use]
pub fn draw(film: &Film, frame: &Frame, scale: &Scale, middle: f64) -> Vec<Styled> {
    let lane = Lane { film, scale: *scale, middle };
    let load =
        |station: usize| HALF_ARROW_PX + scale.load * frame.compression_n.get(station).copied().unwrap_or(0.0).max(0.0);
    let [first, .., last] = frame.bend_m;
    let end = (lane.x(film.length_m), lane.y(last));
    let tip = (end.0 + 14.0, end.1);
    let (string_from, string_to) = string(&lane, frame, lane.y(first));
    let (rest_x, rest_top) = rest(&lane, frame);
    let rest = vec![(rest_x, rest_top), (rest_x - 7.0, rest_top + 14.0), (rest_x + 7.0, rest_top + 14.0)];
    vec![
        ("line", Shape::Line((MARGIN_PX / 2.0, middle), (lane.x(1.05 * film.length_m), middle))),
        ("load", lane.around(frame, &load)),
        ("arrow", lane.around(frame, &|_| HALF_ARROW_PX)),
        ("rear", vanes(&lane, frame)),
        ("point", Shape::Polygon(vec![(end.0, end.1 - 4.0), tip, (end.0, end.1 + 4.0)])),
        ("string", Shape::Line(string_from, string_to)),
        ("rest", Shape::Polygon(rest)),
        ("name", Shape::Text((string_from.0 - 4.0, string_from.1 - 4.0), "start", "string".to_owned())),
        ("name", Shape::Text((rest_x + 10.0, rest_top + 14.0), "start", "rest".to_owned())),
    ]
}

/// The other arrow of a comparison at the same moment, as a ghost in this lane.
#[must_use]
pub fn ghost(film: &Film, frame: &Frame, scale: &Scale, middle: f64) -> Styled {
    ("ghost", Lane { film, scale: *scale, middle }.around(frame, &|_| HALF_ARROW_PX))
}

/// Bend of the middle of the shaft against time, for films of the same length, with the moment that is looked at and
/// those at which the arrows leave the string; `width` pixels wide and [`CURVE_PX`] high.
#[must_use]
pub fn bend_curve(films: &[&Film], frame: usize, width: f64, units: &Units) -> Vec<Styled> {
    let (left, top, bottom) = (MARGIN_PX, 18.0, CURVE_PX - 22.0);
    let right = (width - MARGIN_PX).max(left + 1.0);
    let end_s = films.iter().filter_map(|film| Some(film.frames.last()?.time_s)).fold(1e-9, f64::max);
    let bend = |frame: &Frame| frame.bend_m.get(STATIONS / 2).copied().unwrap_or(0.0);
    let most = films.iter().flat_map(|film| &film.frames).map(|frame| bend(frame).abs()).fold(1e-9, f64::max);
    let x = |time_s: f64| left + (right - left) * time_s / end_s;
    let middle = f64::midpoint(top, bottom);
    let y = |bend_m: f64| middle - (bottom - top) / 2.0 * bend_m / most;
    let mut list = vec![("line", Shape::Line((left, middle), (right, middle)))];
    for (place, film) in films.iter().enumerate() {
        let leaves = x(film.flex.time_on_string_s);
        list.push(("exit", Shape::Line((leaves, top), (leaves, bottom))));
        let there: Vec<_> = film.frames.iter().map(|frame| (x(frame.time_s), y(bend(frame)))).collect();
        let back: Vec<_> = there.iter().rev().skip(1).copied().collect();
        let style = if place + 1 < films.len() { "held" } else { "curve" };
        list.push((style, Shape::Polygon(there.into_iter().chain(back).collect())));
        if place == 0 {
            list.push(("name", Shape::Text((leaves - 5.0, bottom - 4.0), "end", "leaves the string".to_owned())));
        }
    }
    let every_ms = [5.0, 10.0, 20.0, 50.0].into_iter().find(|every| x(1e-3 * every) - left >= TICK_PX).unwrap_or(100.0);
    for ms in (0..).map(|tick| every_ms * f64::from(tick)).take_while(|ms| 1e-3 * ms <= end_s) {
        let at = x(1e-3 * ms);
        list.push(("tick", Shape::Line((at, bottom), (at, bottom + 4.0))));
        list.push(("name", Shape::Text((at, CURVE_PX - 4.0), "middle", format!("{} ms", format::fixed(ms, 0)))));
    }
    list.push((
        "name",
        Shape::Text((left, top - 5.0), "start", format!("bend at mid-shaft, up to {}", bend_words(most, units))),
    ));
    if let Some((film, now)) = films.last().and_then(|film| Some((film, film.frames.get(frame)?))) {
        let at = x(now.time_s);
        list.push(("now", Shape::Line((at, top), (at, bottom))));
        let (anchor, beside) = if 2 * frame > film.frames.len() { ("end", at - 8.0) } else { ("start", at + 8.0) };
        let on_curve = y(bend(now));
        let dot = [(-4.0, 0.0), (0.0, -4.0), (4.0, 0.0), (0.0, 4.0)].map(|(right, down)| (at + right, on_curve + down));
        list.push(("dot", Shape::Polygon(dot.to_vec())));
        let said_at = if on_curve < middle { bottom - 22.0 } else { top + 12.0 };
        list.push(("name", Shape::Text((beside, said_at), anchor, bend_words(bend(now), units))));
    }
    list
}

/// The bend at a place along the arrow, in proportion between two stations.
fn bend_at(film: &Film, frame: &Frame, place_m: f64) -> f64 {
    let station = clamp(place_m / film.length_m, 0.0, 1.0) * (STATIONS - 1) as f64;
    let at = |station: usize| frame.bend_m.get(station.min(STATIONS - 1)).copied().unwrap_or(0.0);
    let (before, share) = (station as usize, station % 1.0);
    at(before) * (1.0 - share) + at(before + 1) * share
}

/// Vanes from above: a low wedge on either side, near the nock.
fn vanes(lane: &Lane<'_>, frame: &Frame) -> Shape {
    let at = |share: f64, aside: f64| {
        let place = share * lane.film.length_m;
        (lane.x(place), lane.y(bend_at(lane.film, frame, place)) + aside)
    };
    Shape::Polygon(vec![at(0.11, 0.0), at(0.06, -8.0), at(0.045, -8.0), at(0.04, 0.0), at(0.045, 8.0), at(0.06, 8.0)])
}

/// The string from above: a short stroke across the nock, left behind at brace when the arrow is gone.
fn string(lane: &Lane<'_>, frame: &Frame, nock_y: f64) -> ((f64, f64), (f64, f64)) {
    let across = |x: f64, y: f64| ((x, y - 12.0), (x, y + 12.0));
    if frame.phase != Phase::Free {
        return across(lane.x(0.0), nock_y);
    }
    let behind = (frame.travel_m - lane.film.stroke_m).max(0.0);
    across((lane.x(0.0) - behind * 400.0).max(MARGIN_PX / 3.0), lane.middle)
}

/// The tip of the rest's wedge: against the arrow where it touches, beside a shaft that has sprung off a plunger, away
/// from it once it has dropped or is past.
fn rest(lane: &Lane<'_>, frame: &Frame) -> (f64, f64) {
    let film = lane.film;
    let place = frame.rest_m.max(0.0).min(film.length_m);
    let holds = frame.phase == Phase::StringAndRest;
    let shaft = lane.y(bend_at(film, frame, place)) + HALF_ARROW_PX + 1.0;
    let top = match (holds, film.fingers) {
        (true, _) => shaft,
        (false, true) => shaft + 10.0,
        (false, false) => lane.y(0.0) + 48.0,
    };
    (lane.x(place), top)
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
                for (_, shape) in draw(film, frame, &scale, LANE_PX / 2.0) {
                    let places = match shape {
                        Shape::Polygon(places) => places,
                        Shape::Line(from, to) => vec![from, to],
                        Shape::Text(at, ..) => vec![at],
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

    #[test]
    fn the_curve_marks_where_the_arrow_leaves_and_what_is_looked_at() {
        let film = &films()[0];
        let frame = film.frames.iter().position(|frame| frame.phase == Phase::Free).unwrap();
        let list = bend_curve(&[film], frame, 600.0, &Units::ARCHERY);
        let line = |style: &str| match list.iter().find(|(name, _)| *name == style) {
            Some((_, Shape::Line((x, _), _))) => *x,
            other => panic!("{other:?}"),
        };
        // The first free frame is within one frame of the leaving.
        let per_frame = (600.0 - 2.0 * MARGIN_PX) / (film.frames.len() - 1) as f64;
        assert!((0.0..=per_frame).contains(&(line("now") - line("exit"))), "{} {}", line("now"), line("exit"));
        assert!(
            list.iter().any(|(_, shape)| matches!(shape, Shape::Text(_, _, words) if words == "leaves the string"))
        );
    }
}
