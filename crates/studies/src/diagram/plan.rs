//! The dimensioned drawing: the whole arrow to scale, and both ends enlarged with every part labeled.

mod calls;
#[cfg(test)]
mod tests;

use super::labels::{self, Placed, Wanted};
use super::looks::{self, SIZE};
use super::measures;
use super::view::{View, across, along};
use calls::Call;
use clothyard_core::drawing;
use clothyard_core::drawing::{MARGIN_PX, Mark, NOCK_EARS_IN, Piece, Shape, pieces};
use clothyard_core::eval::Evaluation;
use clothyard_core::eval::outputs::in_inches;
use clothyard_core::format;
use clothyard_core::schema::{Field, Group};
use clothyard_core::setup::Setup;
use clothyard_core::setup::{PartId, PhysicalModel};
use clothyard_core::units::{Units, clamp};

/// The paper there is.
#[derive(Clone, Copy, Debug)]
pub struct Paper {
    /// Its width in pixels, 240 or more.
    pub width: f64,
    /// How high a label's row is: a finger's breadth on a page, a line's height in a file.
    pub row: f64,
}

/// Where a label leads.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Goal {
    /// To a field.
    Field(Field),
    /// To a part of the user's own, by its place.
    Own(u8),
}

/// A label of a part, and its leader.
#[derive(Clone, Debug, PartialEq)]
pub struct Label {
    /// The part it names; none for a place on the arrow.
    pub part: Option<PartId>,
    /// The fields it leads to.
    pub goal: Goal,
    /// Their group; none for a part of the user's own, which has a list.
    pub group: Option<Group>,
    /// What it says.
    pub words: String,
    /// The same unshortened, with a weight or a place.
    pub full: String,
    /// Its box: left, top, width, height.
    pub room: (f64, f64, f64, f64),
    /// Where its words begin or end.
    pub at: (f64, f64),
    /// Which of the two, as an anchor.
    pub anchor: &'static str,
    /// From the words to the part.
    pub leader: [(f64, f64); 3],
}

/// The whole drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// Width in pixels.
    pub width: f64,
    /// Height in pixels.
    pub height: f64,
    /// How many times the rear and the front end are as large as the whole.
    pub times: [f64; 2],
    /// Everything but the labels.
    pub marks: Vec<Mark>,
    /// The labels, from nock to point.
    pub labels: Vec<Label>,
}

const REAR: [PartId; 4] = [PartId::Nock, PartId::Bushing, PartId::Wrap, PartId::Vanes];
const FRONT: [PartId; 4] = [PartId::Insert, PartId::Sleeve, PartId::Collar, PartId::Point];
/// From this width on both ends are side by side, where that leaves them large enough.
const SIDE_BY_SIDE_PX: f64 = 760.0;
const BETWEEN_PX: f64 = 32.0;
/// Neither end is drawn higher than this by being enlarged.
const HIGHEST_PX: f64 = 300.0;
/// An end this little enlarged is better given the whole width.
const LITTLE: f64 = 1.5;
/// Between a leader and its words.
const INSET_PX: f64 = 5.0;
const CAPTION_PX: f64 = 26.0;
const GAP_PX: f64 = 12.0;

/// Draws a setup out; nothing where its fields contradict each other.
#[must_use]
pub fn plan(setup: &Setup, all: &Evaluation, units: &Units, paper: Paper) -> Option<Plan> {
    let model = all.model.as_ref()?;
    let paper = Paper { width: paper.width.max(240.0), ..paper };
    let reach = drawing::reach_in(all);
    let scale = (paper.width - 2.0 * MARGIN_PX) / (reach + NOCK_EARS_IN);
    let pieces = pieces(all, model);
    let mut pen =
        Pen { setup, all, model, units, paper, pieces, ranges: [(0.0, 0.0); 2], marks: vec![], labels: vec![] };
    pen.ranges = [pen.rear(), pen.front()];
    let y = pen.whole((-NOCK_EARS_IN, reach), scale);
    let (times, y) = pen.ends(scale, y);
    let height = measures::hatchings(&mut pen.marks, y);
    let mut labels: Vec<(f64, Label)> = Vec::new();
    for (at, label) in pen.labels {
        labels.insert(labels.partition_point(|(other, _)| *other <= at), (at, label));
    }
    let labels = labels.into_iter().map(|(_, label)| label).collect();
    Some(Plan { width: paper.width, height, times, marks: pen.marks, labels })
}

struct Pen<'a> {
    setup: &'a Setup,
    all: &'a Evaluation,
    model: &'a PhysicalModel,
    units: &'a Units,
    paper: Paper,
    pieces: Vec<Piece>,
    /// What the enlarged ends show, in inches.
    ranges: [(f64, f64); 2],
    marks: Vec<Mark>,
    /// With where on the arrow they point.
    labels: Vec<(f64, Label)>,
}

impl Pen<'_> {
    fn push(&mut self, group: Option<Group>, style: &'static str, shape: Shape) {
        self.marks.push(Mark { group, style, shape });
    }

    fn reach(&self, of: &[PartId]) -> Option<(f64, f64)> {
        along(self.pieces.iter().filter(|piece| of.contains(&piece.name)))
    }

    fn rear(&self) -> (f64, f64) {
        let shaft = self.all.resolved.number(Field::ThroatToShaft) + 0.8;
        (-NOCK_EARS_IN, self.reach(&REAR).map_or(shaft, |(_, to)| to.max(shaft)) + 0.3)
    }

    fn front(&self) -> (f64, f64) {
        let end = in_inches(self.model.length_m);
        let (from, to) = self.reach(&FRONT).unwrap_or((end, end));
        (from.min(end - 0.5) - 0.3, to + 0.1)
    }

    /// The whole arrow with its measures; where it ends on the paper.
    fn whole(&mut self, range: (f64, f64), scale: f64) -> f64 {
        let (up, down) = across(self.pieces.iter(), range);
        let calls = self.calls_on_the_whole();
        let frame = (0.0, self.paper.width);
        let y = self.caption("Whole arrow, to scale".to_owned(), frame, 0.0);
        let view = View { range, left: MARGIN_PX, scale, axis: (up * scale).max(20.0) };
        let view = self.labeled(calls, frame, y, view);
        for (from, to) in self.ranges {
            let (up, down) = across(self.pieces.iter(), (from, to));
            let [left, right] = [view.x(from), view.x(to)];
            let [top, bottom] = [view.axis - up * scale - 4.0, view.axis + down * scale + 4.0];
            let corners = vec![(left, top), (right, top), (right, bottom), (left, bottom)];
            self.push(None, "frame", Shape::Polygon(corners));
        }
        measures::whole(&mut self.marks, (self.all, self.model), self.units, &view, down * scale)
    }

    /// Both ends enlarged, side by side or one below the other; how large, and where they end on the paper.
    fn ends(&mut self, scale: f64, y: f64) -> ([f64; 2], f64) {
        let half = (self.paper.width - BETWEEN_PX) / 2.0;
        let beside = self.ranges.map(|range| self.times(range, half, scale));
        if self.paper.width >= SIDE_BY_SIDE_PX && beside.iter().all(|&times| times > LITTLE) {
            let [rear, front] = [(0.0, half), (half + BETWEEN_PX, self.paper.width)];
            let bottom = self.end(0, rear, beside, scale, y);
            return (beside, self.end(1, front, beside, scale, y).max(bottom));
        }
        let whole = (0.0, self.paper.width);
        let times = self.ranges.map(|range| self.times(range, self.paper.width, scale));
        let y = self.end(0, whole, times, scale, y);
        (times, self.end(1, whole, times, scale, y))
    }

    /// How many times as large as the whole an end can be drawn, in halves and at least once.
    fn times(&self, range: (f64, f64), room: f64, scale: f64) -> f64 {
        let (up, down) = across(self.pieces.iter(), range);
        let most = ((room - 2.0 * MARGIN_PX) / (range.1 - range.0)).min(HIGHEST_PX / (up + down));
        (f64::from((2.0 * most / scale + 1e-9) as u32) / 2.0).max(1.0)
    }

    fn end(&mut self, which: usize, frame: (f64, f64), times: [f64; 2], scale: f64, y: f64) -> f64 {
        let (Some(&range), Some(&times)) = (self.ranges.get(which), times.get(which)) else { return y };
        let scale = scale * times;
        let (up, down) = across(self.pieces.iter(), range);
        let calls = if which == 0 { self.calls_at_the_rear() } else { self.calls_at_the_front() };
        let name = if which == 0 { "Rear end" } else { "Front end" };
        let caption = format!("{name}, {} times", format::trimmed(times, 1));
        let y = self.caption(caption, frame, y);
        let left = (frame.0 + frame.1 - (range.1 - range.0) * scale) / 2.0;
        let view = View { range, left, scale, axis: up * scale };
        let view = self.labeled(calls, frame, y, view);
        self.broken_off(&view, if which == 0 { range.1 } else { range.0 });
        view.axis + down * scale + GAP_PX
    }

    fn caption(&mut self, words: String, frame: (f64, f64), y: f64) -> f64 {
        self.push(None, "caption", Shape::Text((frame.0 + 2.0, y + 18.0), "start", words));
        y + CAPTION_PX
    }

    /// The parts within a view under their labels; the view, moved down by what the labels take.
    fn labeled(&mut self, calls: Vec<Call>, frame: (f64, f64), top: f64, view: View) -> View {
        let narrower = (frame.0 + 2.0, frame.1 - 2.0);
        let widest = labels::widest(narrower);
        let short: Vec<_> =
            calls.iter().map(|call| looks::shortened(&call.words, SIZE, widest - 2.0 * INSET_PX)).collect();
        let wanted: Vec<_> = (calls.iter().zip(&short))
            .map(|(call, words)| Wanted { x: view.x(call.at.0), width: looks::width(words, SIZE) + 2.0 * INSET_PX })
            .collect();
        let placed = labels::place(&wanted, narrower);
        let rows = placed.iter().map(|label| label.row + 1).max().unwrap_or(0);
        let foot = top + rows as f64 * self.paper.row;
        let view = View { axis: foot + GAP_PX + view.axis, ..view };
        self.arrow(&view);
        for ((call, words), placed) in calls.into_iter().zip(short).zip(placed) {
            self.label(call, words, placed, foot, &view);
        }
        view
    }

    fn label(&mut self, call: Call, words: String, placed: Placed, foot: f64, view: &View) {
        let row = self.paper.row;
        let (left, top) = (placed.span.0, foot - (placed.row + 1) as f64 * row);
        let begins = placed.leader <= left;
        let inset = if begins { INSET_PX } else { -INSET_PX };
        let line = top + row / 2.0 + SIZE * 0.35;
        // Of a part that reaches beyond what is shown, what is shown is pointed at.
        let end = view.at((clamp(call.at.0, view.range.0, view.range.1), call.at.1));
        self.push(call.group, "dot", dot(end));
        let label = Label {
            part: call.part,
            goal: call.goal,
            group: call.group,
            words,
            full: call.full,
            room: (left, top, placed.span.1 - left, row),
            at: (placed.leader + inset, line),
            anchor: if begins { "start" } else { "end" },
            leader: [(placed.leader, line - SIZE * 0.8), (placed.leader, foot), end],
        };
        self.labels.push((call.at.0, label));
    }

    /// The parts within a view, with the shaft's bore and its cut.
    fn arrow(&mut self, view: &View) {
        let (from, end) = (self.all.resolved.number(Field::ThroatToShaft), in_inches(self.model.length_m));
        let bore = self.all.resolved.number(Field::Bore) / 2.0;
        for piece in &self.pieces {
            if let Some(shape) = view.shape(piece) {
                self.marks.push(Mark { group: None, style: "under", shape: shape.clone() });
                self.marks.push(Mark { group: Some(piece.group), style: piece.style, shape });
            }
            if piece.name == PartId::Shaft {
                let lines = [-bore, bore].into_iter().filter_map(|y| view.line((from, end), y));
                self.marks.extend(lines.map(|shape| Mark { group: None, style: "bore", shape }));
            }
        }
        // What a sleeve or a part of one's own covers.
        let covered = self.pieces.iter().filter(|piece| piece.style == "inside").filter_map(|piece| view.shape(piece));
        let covered = covered.map(|shape| Mark { group: None, style: "bore", shape });
        self.marks.extend(covered);
        if (view.range.0..=view.range.1).contains(&end) {
            let half = self.all.resolved.number(Field::OuterDiameter) / 2.0 * view.scale + 8.0;
            let (x, axis) = (view.x(end), view.axis);
            self.push(Some(Group::Shaft), "cut", Shape::Line((x, axis - half), (x, axis + half)));
        }
    }

    /// Where an end stops and the arrow goes on.
    fn broken_off(&mut self, view: &View, at: f64) {
        let half = self.all.resolved.number(Field::OuterDiameter) / 2.0 * view.scale + 6.0;
        let (x, axis) = (view.x(at), view.axis);
        self.push(None, "break", Shape::Line((x, axis - half), (x, axis + half)));
    }
}

/// Where a leader ends.
fn dot((x, y): (f64, f64)) -> Shape {
    Shape::Polygon(vec![(x, y - 2.0), (x + 2.0, y), (x, y + 2.0), (x - 2.0, y)])
}
