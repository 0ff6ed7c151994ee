//! The pictures of a step: shapes in a drawing of so many units, which the page stretches over the room it has.
//!
//! To add a picture: a variant of [`Picture`] with its key and label, what its scale must hold in [`super::scene::Bounds`],
//! and a drawing in [`draw`].

use super::readout::Far;
use super::scene::Scene;
use super::stage::Stage;
use super::{Picture, Readout};
use crate::flight::side::Place;
use crate::shot::picture::LANE_PX;
use crate::shot::{self, Film};
use clothyard_core::drawing::{self, Mark, Room, Shape, match_bar};
use clothyard_core::format;
use clothyard_core::schema::Field;
use clothyard_core::units::{Quantity, Units};

/// A picture, ready to be put on the page.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    /// Width and height of the drawing, in its own units.
    pub size: (f64, f64),
    /// Its shapes.
    pub marks: Vec<Mark>,
    /// What it shows now.
    pub words: String,
}

/// How many drawing units fill a wide room: the fewer, the larger the words.
const UNITS_ACROSS: f64 = 480.0;
/// An arrow carries more words.
const UNITS_ALONG_AN_ARROW: f64 = 580.0;
/// Under this width there is only room for a strip of an arrow.
const STRIP_BELOW: f64 = 440.0;

/// How much larger than its own units a drawing of some height is shown, so that it fills width or height.
fn zoom((width, height): (f64, f64), (across, high): (f64, f64)) -> f64 {
    (width / across).min(height / high).max(1.0)
}

/// Draws a scene for a room of so many pixels.
#[must_use]
pub fn draw(stage: &Stage, scene: &Scene, room: (f64, f64), units: &Units) -> Drawing {
    match stage.step().picture {
        Picture::Arrow => arrow(stage, scene, room, units),
        Picture::Match => on_tape(stage, scene, room, units),
        Picture::Path => from_the_side(stage, scene, room, units),
        Picture::Flex => bent(stage, scene, room, units),
    }
}

/// The style of what was at the slider's start.
const GHOST: &str = "ghost";

fn mark(style: &'static str, shape: Shape) -> Mark {
    Mark { group: None, style, shape }
}

/// Shapes of the slider's start that stay behind those of now, in their order there, each as a ghost.
fn ghosts(start: Vec<(&'static str, Shape)>, kept: &[&str]) -> impl Iterator<Item = Mark> {
    let kept: Vec<_> = start.into_iter().filter(|(style, _)| kept.contains(style)).collect();
    kept.into_iter().map(|(_, shape)| mark(GHOST, shape))
}

fn arrow(stage: &Stage, scene: &Scene, room: (f64, f64), units: &Units) -> Drawing {
    let zoom = zoom(room, (UNITS_ALONG_AN_ARROW, Room { width: room.0, strip: false }.height()));
    let width = room.0 / zoom;
    let room = Room { width, strip: width < STRIP_BELOW };
    let draw = |scene: &Scene| drawing::draw_to(&scene.all, room, units, stage.bounds().reach_in);
    let start = draw(stage.first()).into_iter().map(|mark| (mark.style, mark.shape)).collect();
    Drawing {
        size: (width, room.height()),
        marks: ghosts(start, &["fulcrum", "point"]).chain(draw(scene)).collect(),
        words: drawing::in_words(&scene.all, units),
    }
}

fn on_tape(stage: &Stage, scene: &Scene, room: (f64, f64), units: &Units) -> Drawing {
    let zoom = zoom(room, (UNITS_ACROSS, match_bar::HEIGHT));
    let width = room.0 / zoom;
    let draw =
        |scene: &Scene| scene.tape().map(|tape| tape.draw(stage.bounds().pounds, width, units)).unwrap_or_default();
    let now = draw(scene).into_iter().map(|(style, shape)| mark(style, shape));
    let all = &scene.all;
    let remedy = all.remedy_sentence(units);
    Drawing {
        size: (width, match_bar::HEIGHT),
        marks: ghosts(draw(stage.first()), &["suits", "pulls"]).chain(now).collect(),
        words: format!("{} {remedy}", all.match_sentence(units)).trim_end().to_owned(),
    }
}

/// The shaft from above where the string bends it most.
fn bent(stage: &Stage, scene: &Scene, room: (f64, f64), units: &Units) -> Drawing {
    let zoom = zoom(room, (UNITS_ACROSS, LANE_PX));
    let size = (room.0 / zoom, LANE_PX);
    let shown = scene.bent.as_ref().and_then(|film| Some((film, film.frames.first()?)));
    let Some((film, frame)) = shown else {
        let words = "No bend: this shot cannot be calculated.".to_owned();
        return Drawing { size, marks: Vec::new(), words };
    };
    let scale = stage.bounds().bent.scale(size.0);
    let draw = |film: &Film| {
        let shapes = film.frames.first().map(|frame| shot::picture::draw(film, frame, &scale, LANE_PX / 2.0));
        shapes.unwrap_or_default().into_iter().filter(|(style, _)| !matches!(*style, "rest" | "name"))
    };
    let start = stage.first().bent.as_ref().map(|film| draw(film).collect()).unwrap_or_default();
    let times = format!("bend × {}, dashed: start", format::fixed(scale.exaggerated, 0));
    let legend = [
        mark("label", Shape::Text((0.0, 14.0), "start", times)),
        mark("label", Shape::Text((size.0, size.1 - 4.0), "end", format!("bend {}", film.bend_words(units)))),
    ];
    Drawing {
        size,
        marks: ghosts(start, &["arrow"])
            .chain(draw(film).map(|(style, shape)| mark(style, shape)))
            .chain(legend)
            .collect(),
        words: format!(
            "From above, bend enlarged {} times: {} {}",
            format::fixed(scale.exaggerated, 0),
            format::lower_first(&frame.sentence(units)),
            film.sentence(units)
        ),
    }
}

/// Room left of the path, and right of it for the distance, in drawing units.
const LEFT: f64 = 8.0;
const RIGHT: f64 = 114.0;
/// Room above and below it.
const ABOVE: f64 = 24.0;
const BELOW: f64 = 26.0;
/// Words are so high.
const WORDS_HIGH: f64 = 18.0;
/// Least height of a path's drawing.
const PATH_HEIGHT: f64 = 120.0;

fn from_the_side(stage: &Stage, scene: &Scene, room: (f64, f64), units: &Units) -> Drawing {
    let zoom = zoom(room, (UNITS_ACROSS, PATH_HEIGHT));
    let size = (room.0 / zoom, (room.1 / zoom).max(PATH_HEIGHT));
    let words = path_words(stage, scene, units);
    if scene.path.is_empty() {
        return Drawing { size, marks: Vec::new(), words };
    }
    let (least, most) = stage.bounds().heights_m;
    let near = scene.path.first().map_or(0.0, |&(out, _)| out.min(0.0));
    let across = (size.0 - LEFT - RIGHT) / (stage.far_m() - near).max(1e-6);
    let up = (size.1 - ABOVE - BELOW) / (most - least).max(1e-6);
    let place = |(out, height): Place| (LEFT + (out - near) * across, ABOVE + (most - height) * up);
    let line = |path: &[Place]| path.iter().map(|&at| place(at)).collect::<Vec<_>>();
    let (now, before) = (line(&scene.path), line(&stage.first().path));
    let (eye, end) = (place((near, 0.0)), place((stage.far_m(), 0.0)));
    let bottom = size.1 - BELOW;
    let mut marks = vec![
        mark("between", Shape::Polygon(now.iter().chain(before.iter().rev()).copied().collect())),
        mark("sight", Shape::Line(eye, end)),
        mark("far", Shape::Line((end.0, ABOVE), (end.0, bottom))),
        mark("before", there_and_back(before)),
        mark("number", Shape::Text((end.0, size.1 - 6.0), "middle", distance(stage.far_m(), units))),
    ];
    let beside = end.0 + 12.0;
    let low = now.last().map_or(f64::INFINITY, |&(_, y)| (y - end.1).abs());
    // Where the arrow comes near the line, its own words are beside it and the line's above them.
    let line_at = if low < WORDS_HIGH { end.1 - WORDS_HIGH } else { end.1 };
    marks.push(mark("label", Shape::Text((beside, line_at + 5.0), "start", "line of sight".to_owned())));
    if let Some((drop, &(x, y))) = scene.drop_in().zip(now.last()) {
        let hit = vec![(x - 7.0, y), (x, y - 7.0), (x + 7.0, y), (x, y + 7.0)];
        marks.push(mark("hit", Shape::Polygon(hit)));
        marks.push(mark("label", Shape::Text((beside, y + 5.0), "start", low_or_high(drop, units))));
    }
    marks.push(mark("path", there_and_back(now)));
    Drawing { size, marks, words }
}

/// A line as an outline without area.
fn there_and_back(mut line: Vec<(f64, f64)>) -> Shape {
    let back: Vec<_> = line.iter().rev().skip(1).copied().collect();
    line.extend(back);
    Shape::Polygon(line)
}

fn distance(meters: f64, units: &Units) -> String {
    let quantity = Quantity::Distance;
    format::entered_with_unit(quantity, quantity.from_si(meters), units)
}

fn low_or_high(drop_in: f64, units: &Units) -> String {
    let way = if drop_in < 0.0 { "high" } else { "low" };
    format!("{} {way}", format::measured(Quantity::Length, drop_in.abs(), units))
}

fn path_words(stage: &Stage, scene: &Scene, units: &Units) -> String {
    let (Some(drop), false) = (scene.drop_in(), scene.path.is_empty()) else {
        return "No trajectory: out of range, or the flight cannot be calculated.".to_owned();
    };
    let sighted = distance(scene.all.resolved.si(Field::SightedAt), units);
    let mut words = format!(
        "Trajectory from the side, heights enlarged: sighted in at {sighted}, the arrow hits {} at {}",
        low_or_high(drop, units),
        distance(stage.far_m(), units)
    );
    let quantity = Readout::Far(Far::Drop).quantity();
    let more = stage.first().drop_in().and_then(|before| {
        let by = format::moved(quantity, before, drop, units)?;
        let way = if drop > before { "lower" } else { "higher" };
        Some(format!(", {} {way} than at the start of the slider", by.trim_start_matches(['+', '−'])))
    });
    words += &more.unwrap_or_default();
    words.push('.');
    words
}

#[cfg(test)]
mod tests {
    use super::super::{Step, ready};
    use super::*;

    const UNITS: Units = Units::ARCHERY;
    const ROOM: (f64, f64) = (980.0, 260.0);

    fn step(picture: Picture) -> Step {
        let steps = ready::all().swap_remove(0).lesson.steps;
        steps.into_iter().find(|step| step.picture == picture).unwrap()
    }

    #[test]
    fn a_heavier_point_bends_the_shaft_more_on_one_scale() {
        let stage = Stage::new(&step(Picture::Flex));
        let high = |scene: &Scene| {
            let drawing = draw(&stage, scene, ROOM, &UNITS);
            let (top, bottom) =
                polygon(&drawing, "arrow").iter().fold((f64::MAX, f64::MIN), |(a, b), &(_, y)| (a.min(y), b.max(y)));
            bottom - top
        };
        assert!(high(stage.last()) > 1.05 * high(stage.first()));
    }

    fn polygon(drawing: &Drawing, style: &str) -> Vec<(f64, f64)> {
        let mark = drawing.marks.iter().find(|mark| mark.style == style).unwrap();
        match &mark.shape {
            Shape::Polygon(points) => points.clone(),
            other => panic!("{other:?}"),
        }
    }

    fn middle(points: &[(f64, f64)]) -> f64 {
        points.iter().map(|point| point.0).sum::<f64>() / points.len() as f64
    }

    #[test]
    fn every_picture_keeps_its_scale_and_stays_inside() {
        for picture in Picture::ALL {
            assert_eq!(Picture::by_key(picture.key()), Some(picture));
            let stage = Stage::new(&step(picture));
            let sizes: Vec<_> = [0, 11, stage.stops().0]
                .into_iter()
                .map(|stop| {
                    let drawing = draw(&stage, &stage.scene(stop), ROOM, &UNITS);
                    for mark in &drawing.marks {
                        if let Shape::Polygon(points) = &mark.shape {
                            let inside = |&(x, y): &(f64, f64)| {
                                (-8.0..=drawing.size.0 + 8.0).contains(&x) && (-8.0..=drawing.size.1 + 8.0).contains(&y)
                            };
                            assert!(points.iter().all(inside), "{} {points:?}", mark.style);
                        }
                    }
                    drawing.size
                })
                .collect();
            assert!(sizes.iter().all(|&size| size == sizes[0] && size.0 >= UNITS_ACROSS));
        }
    }

    #[test]
    fn the_fulcrum_moves_as_the_balance_does() {
        let stage = Stage::new(&step(Picture::Arrow));
        let draw = |scene: &Scene| draw(&stage, scene, ROOM, &UNITS);
        let (a, b) = (draw(stage.first()), draw(stage.last()));
        let moved = middle(&polygon(&b, "fulcrum")) - middle(&polygon(&a, "fulcrum"));
        let balance = |scene: &Scene| scene.all.outputs.get(clothyard_core::Output::BalancePoint).unwrap();
        let shaft = polygon(&a, "shaft");
        let per_inch = (shaft[1].0 - shaft[0].0) / stage.first().all.resolved.number(Field::CutLength);
        assert!((moved - per_inch * (balance(stage.last()) - balance(stage.first()))).abs() < 1e-9, "{moved}");
    }

    #[test]
    fn the_bow_s_mark_is_still_while_the_band_moves() {
        let stage = Stage::new(&step(Picture::Match));
        let draw = |scene: &Scene| draw(&stage, scene, ROOM, &UNITS);
        let (a, b) = (draw(stage.first()), draw(stage.last()));
        assert_eq!(polygon(&a, "pulls"), polygon(&b, "pulls"));
        assert!(middle(&polygon(&b, "suits")) < middle(&polygon(&a, "suits")));
        assert!(b.words.contains("weak") && b.words.contains("To match: "), "{}", b.words);
    }

    #[test]
    fn the_path_falls_lower_by_what_is_said() {
        let stage = Stage::new(&step(Picture::Path));
        let last = stage.scene(stage.stops().0);
        let drawing = draw(&stage, &last, ROOM, &UNITS);
        let (now, before) = (polygon(&drawing, "path"), polygon(&drawing, "before"));
        let end = last.path.len() - 1;
        assert_eq!(now.len(), 2 * end + 1);
        assert!(now[end].1 > before[end].1, "lower is further down the page");
        let (_, height) = last.path[end];
        assert!((height / 0.0254 + last.drop_in().unwrap()).abs() < 1e-3, "picture and number agree");
        assert!(drawing.words.contains("lower than at the start of the slider"), "{}", drawing.words);
    }
}
