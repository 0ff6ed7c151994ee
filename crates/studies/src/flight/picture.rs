//! The trajectory from the side in pixels: to scale, and with heights enlarged.

use super::legs::Leg;
use super::says::{distance, roughly};
use super::shot::Shot;
use super::side::Place;
use clothyard_core::drawing::{Shape, round_below};
use clothyard_core::format::trimmed;
use clothyard_core::units::Units;

/// Room at either end, and how high the stretched path may be, in pixels.
const MARGIN_PX: f64 = 10.0;
const STRETCHED_PX: f64 = 150.0;
/// Room above the stretched path for its words.
const WORDS_PX: f64 = 58.0;
/// How wide the words at the distance sighted are at most.
const WORDS_WIDE_PX: f64 = 160.0;
/// Middle of the strip that is to scale.
const TRUE_Y: f64 = 30.0;
const STRIP_PX: f64 = 62.0;

/// A shape with its style name.
pub type Drawn = (&'static str, Shape);

/// The picture: its shapes, its height in pixels and what it shows in words.
#[derive(Clone, Debug, PartialEq)]
pub struct Picture {
    /// Shapes with their style names.
    pub shapes: Vec<Drawn>,
    /// Height in pixels.
    pub height: f64,
    /// How many times the heights are stretched in its lower part.
    pub stretched: f64,
    /// What it shows.
    pub words: String,
    /// The same in short.
    pub takeaway: String,
}

/// Where a place of the path is: pixels for each meter along, for each meter up, and the line of sight's y.
struct Scale {
    along: f64,
    up: f64,
    line_y: f64,
}

impl Scale {
    fn at(&self, (meters, height): Place) -> (f64, f64) {
        (MARGIN_PX + meters * self.along, self.line_y - height * self.up)
    }
}

/// Draws a path (at least two places) in a drawing so many pixels wide; `aimed` is the arrow at the distance the
/// sight is set for. Nothing where there is no path.
#[must_use]
pub fn draw(path: &[Place], shot: &Shot, aimed: &Leg, width: f64, units: &Units) -> Option<Picture> {
    let to_m = path.last()?.0.max(aimed.distance_m);
    let along = (width - 2.0 * MARGIN_PX).max(100.0) / to_m;
    let (low, high) = path.iter().fold((0.0_f64, 0.0_f64), |(low, high), &(_, up)| (low.min(up), high.max(up)));
    let stretched = round_below(STRETCHED_PX / ((high - low).max(0.01) * along));
    let truly = Scale { along, up: along, line_y: TRUE_Y };
    let up = along * stretched;
    let below = Scale { along, up, line_y: STRIP_PX + WORDS_PX + high * up };
    let end = to_m.min(path.last()?.0);
    let mut shapes = Vec::new();
    for scale in [&truly, &below] {
        shapes.push(("sight", Shape::Line(scale.at((0.0, 0.0)), scale.at((to_m, 0.0)))));
        for pair in path.windows(2) {
            if let [from, to] = pair {
                shapes.push(("path", Shape::Line(scale.at(*from), scale.at(*to))));
            }
        }
    }
    label(&mut shapes, (MARGIN_PX, 12.0), "start", "Same scale in height and distance".to_owned());
    let factor = trimmed(stretched, 1);
    label(&mut shapes, (MARGIN_PX, STRIP_PX + 12.0), "start", format!("Heights enlarged {factor} times"));
    marks(&mut shapes, &below, aimed, width, units);
    let height = below.at((end, low)).1 + 26.0;
    Some(Picture {
        shapes,
        height,
        stretched,
        words: words(shot, aimed, &factor, units),
        takeaway: takeaway(aimed, units),
    })
}

/// The highest point and the distance the sight is set for, on the stretched path.
fn marks(shapes: &mut Vec<Drawn>, scale: &Scale, aimed: &Leg, width: f64, units: &Units) {
    let (x, line) = scale.at((aimed.distance_m, 0.0));
    shapes.push(("aimed", Shape::Line((x, line - 9.0), (x, line + 9.0))));
    // Under the path where there is room before the mark, else over it, behind the mark.
    let before = x > WORDS_WIDE_PX;
    let (anchor, at) = if before { ("end", (x - 5.0, line + 18.0)) } else { ("start", (x + 5.0, line - 8.0)) };
    label(shapes, at, anchor, format!("sight set: {}", distance(aimed.distance_m, units)));
    let top = scale.at((aimed.highest_at_m, aimed.highest_m));
    shapes.push(("highest", Shape::Line(top, (top.0, line))));
    let words = format!("highest: {} at {}", roughly(aimed.highest_m, units), distance(aimed.highest_at_m, units));
    let (anchor, x) = if top.0 > width / 2.0 { ("end", width - MARGIN_PX) } else { ("start", MARGIN_PX) };
    label(shapes, (x, top.1 - if before { 8.0 } else { 24.0 }), anchor, words);
}

fn label(shapes: &mut Vec<Drawn>, at: (f64, f64), anchor: &'static str, words: String) {
    shapes.push(("label", Shape::Text(at, anchor, words)));
}

fn words(shot: &Shot, aimed: &Leg, factor: &str, units: &Units) -> String {
    let (start, set) = (roughly(shot.sight.peep_height_m, units), distance(aimed.distance_m, units));
    let meets = if aimed.highest_at_m < aimed.distance_m {
        let (high, at) = (roughly(aimed.highest_m, units), distance(aimed.highest_at_m, units));
        format!("peaks {high} above it at {at} and comes down through it at {set}")
    } else {
        format!("is still rising when it meets it at {set}")
    };
    format!(
        "Trajectory from the side, to scale and with heights enlarged {factor} times. The arrow starts {start} below the line of sight and {meets}, where it is sighted in."
    )
}

fn takeaway(aimed: &Leg, units: &Units) -> String {
    let (high, at) = (roughly(aimed.highest_m, units), distance(aimed.highest_at_m, units));
    let set = distance(aimed.distance_m, units);
    if aimed.highest_at_m < aimed.distance_m {
        format!("It peaks {high} above the line of sight at {at}, on its way to {set}.")
    } else {
        format!("It rises all the way to {set}.")
    }
}

#[cfg(test)]
mod tests {
    use super::super::{legs::legs, side::path};
    use super::*;
    use clothyard_core::eval::Evaluation;
    use clothyard_core::setup::samples;

    #[test]
    fn both_paths_are_in_the_picture_and_the_first_is_to_scale() {
        for (at, start) in samples::all().iter().enumerate() {
            let shot = Shot::of(&Evaluation::of(&start.setup)).unwrap();
            let aimed = legs(&shot, &[shot.sighted_m]).unwrap().remove(0).unwrap();
            let path = path(&shot, 60.0, 61).unwrap();
            for width in [300.0, 800.0] {
                let picture = draw(&path, &shot, &aimed, width, &Units::ARCHERY).unwrap();
                let lines: Vec<_> = picture
                    .shapes
                    .iter()
                    .filter_map(|(style, shape)| match shape {
                        Shape::Line(from, to) if *style == "path" => Some((*from, *to)),
                        _ => None,
                    })
                    .collect();
                assert_eq!(lines.len(), 120, "{at}");
                assert!(lines.iter().all(|(from, to)| {
                    [from, to]
                        .into_iter()
                        .all(|point| (0.0..=width).contains(&point.0) && (0.0..=picture.height).contains(&point.1))
                }));
                // To scale: the drop of the last piece over its length, as on the path.
                let (from, to) = lines[59];
                let slope = (to.1 - from.1) / (to.0 - from.0);
                let truly = (path[59].1 - path[60].1) / (path[60].0 - path[59].0);
                assert!((slope / truly - 1.0).abs() < 1e-9);
                let (from, to) = lines[119];
                let stretched = (to.1 - from.1) / (to.0 - from.0) / truly;
                assert!((stretched / picture.stretched - 1.0).abs() < 1e-9);
            }
        }
    }

    #[test]
    fn nothing_without_a_path() {
        let shot = Shot::of(&Evaluation::of(&samples::all()[0].setup)).unwrap();
        let aimed = legs(&shot, &[shot.sighted_m]).unwrap().remove(0).unwrap();
        assert_eq!(draw(&[], &shot, &aimed, 300.0, &Units::ARCHERY), None);
    }
}
