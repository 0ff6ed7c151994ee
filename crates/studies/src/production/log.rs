//! The tuning log: where the bare shaft struck beside the fletched, what common practice reads from it, and what would
//! move the match.

use crate::analysis::solve;
use crate::analysis::solve::solve;
use clothyard_core::eval::Evaluation;
use clothyard_core::eval::baseline::Baseline;
use clothyard_core::schema::{Field, Hand, Launch, Output, Row};
use clothyard_mechanics::units::{METER_PER_INCH, METER_PER_YARD};

/// One entry of the log. Impacts are those of the bare shaft beside the fletched.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Entry {
    /// Distance in yards.
    pub distance_yd: f64,
    /// How far to the right, in inches; to the left is negative.
    pub right_in: Option<f64>,
    /// How far up, in inches; down is negative.
    pub up_in: Option<f64>,
    /// The tear in paper.
    pub tear: Option<Tear>,
    /// The values of [`KEPT`] as they were.
    pub as_it_was: [Option<f64>; KEPT.len()],
    /// How many shots of each.
    pub shots: Option<f64>,
    /// The day, counted from 1970-01-01.
    pub day: Option<f64>,
    /// What was shot.
    pub kind: Compared,
}

/// What is compared with what.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Compared {
    /// A bare shaft with fletched arrows.
    #[default]
    BareShaft,
    /// A broadhead with field points.
    Broadhead,
}

impl Compared {
    /// What was shot, and what it is compared with.
    #[must_use]
    pub const fn words(self) -> (&'static str, &'static str) {
        match self {
            Self::BareShaft => ("bare shaft", "fletched"),
            Self::Broadhead => ("broadhead", "field points"),
        }
    }
}

/// The fields whose values an entry keeps.
pub const KEPT: [Field; 4] = [Field::PeakDrawWeight, Field::PointMass, Field::CutLength, Field::StaticSpine];

/// Where the nock end tore the paper, seen from the archer, beside the hole of the point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tear {
    /// One clean hole.
    BulletHole,
    /// The tail to the left.
    TailLeft,
    /// The tail to the right.
    TailRight,
    /// The tail up.
    TailHigh,
    /// The tail down.
    TailLow,
}

impl Tear {
    /// Every tear, in the order of its numbers in the list.
    pub const ALL: [Self; 5] = [Self::BulletHole, Self::TailLeft, Self::TailRight, Self::TailHigh, Self::TailLow];

    /// The tear of a number in the list.
    #[must_use]
    pub fn of(number: f64) -> Option<Self> {
        Self::ALL.get(number as usize).copied()
    }

    /// In words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::BulletHole => "bullet hole",
            Self::TailLeft => "tail left",
            Self::TailRight => "tail right",
            Self::TailHigh => "tail high",
            Self::TailLow => "tail low",
        }
    }
}

impl Entry {
    /// The entry of a row.
    #[must_use]
    pub fn of(row: &Row) -> Option<Self> {
        let at = |place: usize| row.get(place).copied().flatten();
        let as_it_was = core::array::from_fn(|place| at(3 + place));
        let after = 3 + KEPT.len();
        Some(Self {
            distance_yd: at(0)?,
            right_in: at(1),
            up_in: at(2),
            tear: at(after).and_then(Tear::of),
            as_it_was,
            shots: at(after + 1),
            day: at(after + 2),
            kind: if at(after + 3) == Some(1.0) { Compared::Broadhead } else { Compared::BareShaft },
        })
    }

    /// An entry of a distance (yd) with nothing noted yet.
    #[must_use]
    pub const fn at(distance_yd: f64) -> Self {
        Self {
            distance_yd,
            right_in: None,
            up_in: None,
            tear: None,
            as_it_was: [None; KEPT.len()],
            shots: None,
            day: None,
            kind: Compared::BareShaft,
        }
    }

    /// The same with the setup as it is.
    #[must_use]
    pub fn with_setup(self, all: &Evaluation) -> Self {
        Self { as_it_was: KEPT.map(|field| all.resolved.given(field)), ..self }
    }

    /// The row of the entry.
    #[must_use]
    pub fn row(&self) -> Row {
        let tear = self.tear.and_then(|tear| Tear::ALL.iter().position(|&each| each == tear)).map(|place| place as f64);
        let kind = (self.kind == Compared::Broadhead).then_some(1.0);
        let first = [Some(self.distance_yd), self.right_in, self.up_in];
        first.into_iter().chain(self.as_it_was).chain([tear, self.shots, self.day, kind]).collect()
    }
}

/// Who shot, as far as the readings depend on it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Shooter {
    /// A left-handed archer holds the bow in the right hand.
    pub left_handed: bool,
    /// How the string is released, and past what.
    pub launch: Launch,
}

impl Shooter {
    /// The archer of a setup.
    #[must_use]
    pub fn of(all: &Evaluation) -> Self {
        Self { left_handed: all.resolved.choice::<Hand>() == Hand::Right, launch: all.resolved.choice() }
    }

    /// Whether the string leaves a release aid, not the fingers.
    #[must_use]
    pub fn release_aid(self) -> bool {
        self.launch == Launch::ReleaseAid
    }
}

/// The entries of a list, in the order they were made.
#[must_use]
pub fn entries(rows: &[Row]) -> Vec<Entry> {
    rows.iter().filter_map(Entry::of).collect()
}

/// Reading from the side to which the bare shaft strikes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reads {
    /// It acts stiff.
    Stiff,
    /// It acts weak.
    Weak,
    /// Neither: it hits with the fletched.
    Matched,
}

/// A bare shaft hits with the fletched where it is off by less than this share of the distance (a guess of the
/// page's own: 3 in at 20 yd).
const TOGETHER: f64 = 3.0 / (20.0 * INCHES_PER_YARD);

const INCHES_PER_YARD: f64 = METER_PER_YARD / METER_PER_INCH;

impl Entry {
    /// Within so many inches the two strike together.
    pub(super) fn together_in(&self) -> f64 {
        TOGETHER * self.distance_yd * INCHES_PER_YARD
    }
}

impl Reads {
    /// The reading of an entry's impacts: for a right hand, left of the fletched acts stiff and right acts weak; the
    /// other way about for a left hand (common practice, no source). None where no side was noted.
    #[must_use]
    pub fn of(entry: &Entry, shooter: Shooter) -> Option<Self> {
        let right = entry.right_in?;
        let right = if shooter.left_handed { -right } else { right };
        Some(if right.abs() < entry.together_in() {
            Self::Matched
        } else if right < 0.0 {
            Self::Stiff
        } else {
            Self::Weak
        })
    }

    /// In words. With a release aid the bow is the likelier cause of left and right (common practice, no source).
    #[must_use]
    pub const fn words(self, release_aid: bool) -> &'static str {
        match (self, release_aid) {
            (Self::Stiff, true) => "is off to the stiff side: check rest position, cam lean and grip, then spine",
            (Self::Weak, true) => "is off to the weak side: check rest position, cam lean and grip, then spine",
            (Self::Stiff, false) => "acts stiff, or check rest position and grip",
            (Self::Weak, false) => "acts weak, or check rest position and grip",
            (Self::Matched, _) => "hits with the fletched",
        }
    }
}

/// A step of the match, and what else makes the same change, each alone, for this arrow on this bow.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Step {
    /// How much less draw weight the arrow suits after it, in pounds; more where it is negative.
    pub pounds: f64,
    /// Point weight added for that, in grains; none where no point does it.
    pub point_gr: Option<f64>,
    /// Cut length added for that, in inches; none where no cut does it.
    pub cut_in: Option<f64>,
}

/// What a step of the match is worth in point weight and in cut length: weaker where `pounds` is positive.
#[must_use]
pub fn step(held: &Baseline<'_>, pounds: f64) -> Step {
    let suits = held.outputs(&held.resolved, &[Output::IdealDrawWeight]).get(Output::IdealDrawWeight);
    let added = |field: Field| match solve(held, Output::IdealDrawWeight, suits? - pounds, field) {
        Ok(solve::Answer::At(value)) => Some(value - held.resolved.number(field)),
        _ => None,
    };
    Step { pounds, point_gr: added(Field::PointMass), cut_in: added(Field::CutLength) }
}

/// A straight line through entries that differ from the last one in one field alone.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Trend {
    /// The field.
    pub field: Field,
    /// Its value where the line has the two hit together.
    pub value: f64,
    /// How many entries there are on the line.
    pub count: usize,
}

/// The line through all entries that can be compared with the last one: of the same kind, differing in one field alone.
#[must_use]
pub fn trend(entries: &[Entry]) -> Option<Trend> {
    let last = entries.last()?;
    let lines = (0..KEPT.len()).filter_map(|place| through(&comparable(entries, last, place), place));
    lines.max_by_key(|line| line.count)
}

/// Value and angle of each entry that differs from the last at most in the field of a place.
fn comparable(entries: &[Entry], last: &Entry, place: usize) -> Vec<(f64, f64)> {
    let same = |entry: &&Entry| {
        let pairs = entry.as_it_was.iter().zip(last.as_it_was).enumerate().filter(|(at, _)| *at != place);
        let moved = |(_, (a, b)): (usize, (&Option<f64>, Option<f64>))| a.zip(b).is_some_and(|(a, b)| !alike(a, b));
        entry.kind == last.kind && !{ pairs }.any(moved)
    };
    // Angles compare where distances differ.
    let point =
        |entry: &Entry| Some((entry.as_it_was.get(place).copied().flatten()?, entry.right_in? / entry.distance_yd));
    entries.iter().filter(same).filter_map(point).collect()
}

fn alike(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-9
}

/// The least-squares line through some points, where it meets zero; none for one value or a level line.
fn through(points: &[(f64, f64)], place: usize) -> Option<Trend> {
    let (first, _) = points.first()?;
    if points.iter().all(|(value, _)| alike(*value, *first)) {
        return None;
    }
    let count = points.len() as f64;
    let (x, y) = points.iter().fold((0.0, 0.0), |sum, point| (sum.0 + point.0 / count, sum.1 + point.1 / count));
    let spread: f64 = points.iter().map(|point| (point.0 - x).powi(2)).sum();
    let both: f64 = points.iter().map(|point| (point.0 - x) * (point.1 - y)).sum();
    let value = x - y * spread / both;
    value.is_finite().then_some(Trend { field: *KEPT.get(place)?, value, count: points.len() })
}

#[cfg(test)]
mod tests {
    use super::*;
    use clothyard_core::Setup;
    use clothyard_core::setup::samples;

    fn entry(right_in: f64, point: f64) -> Entry {
        let as_it_was = [Some(62.0), Some(point), Some(28.0), Some(340.0)];
        Entry { right_in: Some(right_in), as_it_was, ..Entry::at(20.0) }
    }

    #[test]
    fn left_acts_stiff_for_a_right_hand_and_weak_for_a_left() {
        let [right, left] = [false, true].map(|left_handed| Shooter { left_handed, launch: Launch::FingersCenterCut });
        assert_eq!(Reads::of(&entry(-6.0, 100.0), right), Some(Reads::Stiff));
        assert_eq!(Reads::of(&entry(-6.0, 100.0), left), Some(Reads::Weak));
        assert_eq!(Reads::of(&entry(6.0, 100.0), right), Some(Reads::Weak));
        assert_eq!(Reads::of(&entry(1.0, 100.0), right), Some(Reads::Matched));
    }

    #[test]
    fn a_step_moves_the_match_by_just_its_pounds() {
        let setup = samples::all().remove(0).setup.with(Field::StaticSpine, 400.0).unwrap();
        let setup = setup.with(Field::CutLength, 28.0).unwrap().with(Field::ShaftLinearMass, 8.5).unwrap();
        let suits = |setup: &Setup| Evaluation::of(setup).outputs.get(Output::IdealDrawWeight).unwrap();
        let step = step(&Baseline::new(&setup), 2.0);
        let heavier = setup.clone().with(Field::PointMass, 125.0 + step.point_gr.unwrap()).unwrap();
        let longer = setup.clone().with(Field::CutLength, 28.0 + step.cut_in.unwrap()).unwrap();
        for there in [heavier, longer] {
            assert!((suits(&setup) - suits(&there) - 2.0).abs() < 1e-6, "{}", suits(&setup) - suits(&there));
        }
        // Common practice, no source: 25 gr of point ~ 2 to 5 lb of draw weight.
        assert!((10.0..25.0).contains(&step.point_gr.unwrap()));
    }

    #[test]
    fn entries_on_a_line_meet_it_at_zero() {
        let line = trend(&[entry(-6.0, 100.0), entry(-2.0, 125.0)]).unwrap();
        assert_eq!((line.field, line.count), (Field::PointMass, 2));
        assert!((line.value - 137.5).abs() < 1e-9);
        assert_eq!(trend(&[entry(-6.0, 100.0)]), None);
        assert_eq!(trend(&[entry(-6.0, 100.0), entry(-6.0, 125.0)]), None);
        let two = Entry { as_it_was: [Some(60.0), Some(125.0), Some(28.0), Some(340.0)], ..entry(-2.0, 125.0) };
        assert_eq!(trend(&[entry(-6.0, 100.0), two]), None);
        // Every entry that can be compared counts, by least squares: y = -6, -3.5, -2 at 100, 125, 150; not others.
        let other = Entry { kind: Compared::Broadhead, ..entry(9.0, 110.0) };
        let line = trend(&[entry(-6.0, 100.0), two, entry(-3.5, 125.0), other, entry(-2.0, 150.0)]).unwrap();
        assert_eq!(line.count, 3);
        assert!((line.value - (125.0 + 11.5 / 3.0 / 0.08)).abs() < 1e-9, "{}", line.value);
    }

    #[test]
    fn a_row_keeps_the_setup_as_it_is() {
        let all = Evaluation::of(&samples::all()[0].setup);
        let noted = Entry {
            right_in: Some(-3.0),
            tear: Some(Tear::TailRight),
            shots: Some(3.0),
            day: Some(20_000.0),
            kind: Compared::Broadhead,
            ..Entry::at(20.0)
        };
        let row = noted.with_setup(&all).row();
        let entry = Entry::of(&row).unwrap();
        assert_eq!(entry, noted.with_setup(&all));
        assert_eq!(entry.as_it_was[0], Some(62.0));
        assert_eq!((entry.right_in, entry.up_in, entry.tear), (Some(-3.0), None, Some(Tear::TailRight)));
        let mut lists = clothyard_core::schema::Lists::default();
        lists.set(clothyard_core::schema::List::Tuning, vec![row]).unwrap();
        assert_eq!(entries(lists.rows(clothyard_core::schema::List::Tuning)), [entry]);
    }
}
