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
        let tear = at(3 + KEPT.len()).and_then(Tear::of);
        Some(Self { distance_yd: at(0)?, right_in: at(1), up_in: at(2), tear, as_it_was })
    }

    /// The row of a new entry, with the setup as it is.
    #[must_use]
    pub fn row(distance_yd: f64, [right_in, up_in]: [Option<f64>; 2], tear: Option<Tear>, all: &Evaluation) -> Row {
        let kept = KEPT.map(|field| all.resolved.given(field));
        let tear = tear.and_then(|tear| Tear::ALL.iter().position(|&each| each == tear)).map(|place| place as f64);
        [Some(distance_yd), right_in, up_in].into_iter().chain(kept).chain([tear]).collect()
    }
}

/// Who shot, as far as the readings depend on it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Shooter {
    /// A left-handed archer holds the bow in the right hand.
    pub left_handed: bool,
    /// Whether the string leaves a release aid, not the fingers.
    pub release_aid: bool,
}

impl Shooter {
    /// The archer of a setup.
    #[must_use]
    pub fn of(all: &Evaluation) -> Self {
        Self {
            left_handed: all.resolved.choice::<Hand>() == Hand::Right,
            release_aid: all.resolved.choice::<Launch>() == Launch::ReleaseAid,
        }
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

/// The field in which alone the last two entries differ, and the value at which the straight line through them strikes
/// with the fletched.
#[must_use]
pub fn from_the_last_two(entries: &[Entry]) -> Option<(Field, f64)> {
    let [.., before, last] = entries else { return None };
    let moved = |place: usize| {
        let pair = before.as_it_was.get(place).copied().flatten().zip(last.as_it_was.get(place).copied().flatten());
        pair.filter(|(from, to)| (to - from).abs() > 1e-9)
    };
    let mut changed = (0..KEPT.len()).filter_map(|place| Some((place, moved(place)?)));
    let (place, (from, to)) = changed.next()?;
    if changed.next().is_some() {
        return None;
    }
    // Angles compare where distances differ.
    let (a, b) = (before.right_in? / before.distance_yd, last.right_in? / last.distance_yd);
    let value = to - b * (to - from) / (b - a);
    value.is_finite().then_some((*KEPT.get(place)?, value))
}

#[cfg(test)]
mod tests {
    use super::*;
    use clothyard_core::Setup;
    use clothyard_core::setup::samples;

    fn entry(right_in: f64, point: f64) -> Entry {
        let as_it_was = [Some(62.0), Some(point), Some(28.0), Some(340.0)];
        Entry { distance_yd: 20.0, right_in: Some(right_in), up_in: None, tear: None, as_it_was }
    }

    #[test]
    fn left_acts_stiff_for_a_right_hand_and_weak_for_a_left() {
        let [right, left] = [false, true].map(|left_handed| Shooter { left_handed, release_aid: false });
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
    fn two_entries_on_a_line_meet_it_at_zero() {
        let (field, value) = from_the_last_two(&[entry(-6.0, 100.0), entry(-2.0, 125.0)]).unwrap();
        assert_eq!(field, Field::PointMass);
        assert!((value - 137.5).abs() < 1e-12);
        assert_eq!(from_the_last_two(&[entry(-6.0, 100.0)]), None);
        assert_eq!(from_the_last_two(&[entry(-6.0, 100.0), entry(-6.0, 125.0)]), None);
        let two = Entry { as_it_was: [Some(60.0), Some(125.0), Some(28.0), Some(340.0)], ..entry(-2.0, 125.0) };
        assert_eq!(from_the_last_two(&[entry(-6.0, 100.0), two]), None);
    }

    #[test]
    fn a_row_keeps_the_setup_as_it_is() {
        let all = Evaluation::of(&samples::all()[0].setup);
        let row = Entry::row(20.0, [Some(-3.0), None], Some(Tear::TailRight), &all);
        let entry = Entry::of(&row).unwrap();
        assert_eq!(entry.as_it_was[0], Some(62.0));
        assert_eq!((entry.right_in, entry.up_in, entry.tear), (Some(-3.0), None, Some(Tear::TailRight)));
        let mut lists = clothyard_core::schema::Lists::default();
        lists.set(clothyard_core::schema::List::Tuning, vec![row]).unwrap();
        assert_eq!(entries(lists.rows(clothyard_core::schema::List::Tuning)), [entry]);
    }
}
