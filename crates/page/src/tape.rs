//! The match on a tape of draw weights: where this arrow shoots well, and where this bow pulls.

use crate::app::App;
use clothyard_dom::{self as dom, shapes};
use clothyard_workbench::drawing::Shape;
use clothyard_workbench::{Field, Outcome, Quantity, wording};

const TOP: f64 = 16.0;
const LINE: f64 = 34.0;

/// Draws the tape; nothing where there is no match.
pub(crate) fn show(app: &App) {
    let (Some(svg), Some(marks)) = (dom::by_id("tape"), dom::by_id("tape-marks")) else { return };
    dom::empty(&marks);
    let get = |outcome: Outcome| app.evaluation.numbers.get(outcome);
    let (Some(from), Some(to), Some(best)) =
        (get(Outcome::SuitsFrom), get(Outcome::SuitsTo), get(Outcome::IdealDrawWeight))
    else {
        return;
    };
    let pulls = app.evaluation.settled.number(Field::PeakDrawWeight);
    let width = app.rooms.tape.max(80.0);
    dom::set(&svg, "viewBox", &format!("0 0 {} 58", wording::fixed(width, 2)));
    // Both the band and the bow always lie on the tape, the band near its middle.
    let half = ((pulls - best).abs() * 1.15).max(best * 0.3);
    let x = |pounds: f64| width * (0.5 + 0.5 * (pounds - best) / half);
    let draw = |class: &str, shape: Shape| shapes::add(&marks, &shape, class);

    draw("suits", Shape::Polygon(vec![(x(from), TOP), (x(to), TOP), (x(to), LINE), (x(from), LINE)]));
    draw("scale", Shape::Line((0.0, LINE), (width, LINE)));
    for (pounds, label) in ticks(app, best - half, best + half, width / 30.0) {
        if !(10.0..=width - 10.0).contains(&x(pounds)) {
            continue;
        }
        draw("tick", Shape::Line((x(pounds), LINE), (x(pounds), LINE + 5.0)));
        draw("number", Shape::Text((x(pounds), LINE + 18.0), "middle", label));
    }
    draw("best", Shape::Line((x(best), TOP), (x(best), LINE)));
    let at = x(pulls);
    draw("pulls", Shape::Polygon(vec![(at, LINE - 2.0), (at - 7.0, TOP - 2.0), (at + 7.0, TOP - 2.0)]));
    let (anchor, beside) = if at > width / 2.0 { ("end", at - 10.0) } else { ("start", at + 10.0) };
    if width > 200.0 {
        draw("label", Shape::Text((beside, TOP - 4.0), anchor, "your bow".to_owned()));
    }
    // On a short tape the sentence below must do.
    if at > 90.0 && width > 300.0 {
        draw("label", Shape::Text((0.0, TOP - 4.0), "start", "acts stiff".to_owned()));
    }
    if at < width - 90.0 && width > 300.0 {
        draw("label", Shape::Text((width, TOP - 4.0), "end", "acts weak".to_owned()));
    }
}

/// Round draw weights in the unit chosen, with room between their numbers.
fn ticks(app: &App, from: f64, to: f64, most: f64) -> Vec<(f64, String)> {
    let quantity = Quantity::DrawWeight;
    let (from, to) = (app.units.show(quantity, from), app.units.show(quantity, to));
    let step =
        [1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0].into_iter().find(|step| (to - from) / step <= most).unwrap_or(200.0);
    let first = (from / step).ceil() as i32;
    let last = (to / step).floor() as i32;
    (first..=last)
        .map(|place| {
            let shown = f64::from(place) * step;
            (app.units.save(quantity, shown), wording::trimmed(shown, 0))
        })
        .collect()
}
