//! Labels in rows above a drawing, so that none is over another.
//!
//! Each hangs on a leader that goes straight up from where its part is. In the left half the words are to
//! the right of their leader, in the right half to the left: so none leaves the room. Those nearest the
//! middle are placed first and lowest, which lets the leaders of the others pass beside them.

/// Leaders are at least this far apart, in pixels, where there is room.
const LEADERS_APART: f64 = 8.0;
/// Labels of a row are at least this far apart, in pixels.
const WORDS_APART: f64 = 8.0;

/// A label that asks for room.
#[derive(Clone, Copy, Debug)]
pub(super) struct Wanted {
    /// Where its part is.
    pub(super) x: f64,
    /// How wide it is.
    pub(super) width: f64,
}

/// Where it hangs.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Placed {
    /// Where its leader goes up.
    pub(super) leader: f64,
    /// From where to where it is.
    pub(super) span: (f64, f64),
    /// In which row; the lowest is 0.
    pub(super) row: usize,
}

impl Placed {
    /// Whether another's leader, going up, would meet this label.
    fn meets(&self, leader: f64) -> bool {
        self.span.0 < leader && leader < self.span.1
    }

    fn touches(&self, other: &Self) -> bool {
        self.row == other.row && self.span.0 < other.span.1 + WORDS_APART && other.span.0 < self.span.1 + WORDS_APART
    }
}

/// How wide a label may be, so that it fits whichever side of its leader it is on.
pub(super) fn widest((from, to): (f64, f64)) -> f64 {
    (to - from) / 2.0
}

/// Hangs labels between two places, each no wider than [`widest`]; they come back as they came.
pub(super) fn place(wanted: &[Wanted], (from, to): (f64, f64)) -> Vec<Placed> {
    let middle = (from + to) / 2.0;
    let mut placed: Vec<_> = (spread(wanted, (from, to)).into_iter().zip(wanted))
        .map(|(leader, wanted)| {
            let span = if leader <= middle { (leader, leader + wanted.width) } else { (leader - wanted.width, leader) };
            Placed { leader, span, row: 0 }
        })
        .collect();
    let from_the_middle = in_order(&placed, |label| (label.leader - middle).abs());
    let mut hung: Vec<Placed> = Vec::new();
    for index in from_the_middle {
        if let Some(label) = placed.get_mut(index) {
            label.row = row(label, &hung);
            hung.push(*label);
        }
    }
    placed
}

/// The lowest row in which a label touches none and crosses no leader; failing that, one in which it
/// touches none.
fn row(label: &Placed, hung: &[Placed]) -> usize {
    let above = hung.iter().filter(|other| label.meets(other.leader)).map(|other| other.row + 1).max().unwrap_or(0);
    let below = hung.iter().filter(|other| other.meets(label.leader)).map(|other| other.row).min();
    let free = |row: &usize| !hung.iter().any(|other| Placed { row: *row, ..*label }.touches(other));
    let top = above.max(hung.len());
    let rows = above..=top;
    (above..below.unwrap_or(top + 1)).find(free).or_else(|| rows.into_iter().find(free)).unwrap_or(top + 1)
}

/// The indices of a list in rising order of a measure.
fn in_order<T>(list: &[T], measure: impl Fn(&T) -> f64) -> Vec<usize> {
    let mut order: Vec<(f64, usize)> = Vec::new();
    for (index, item) in list.iter().enumerate() {
        let this = measure(item);
        order.insert(order.partition_point(|&(other, _)| other <= this), (this, index));
    }
    order.into_iter().map(|(_, index)| index).collect()
}

/// Where leaders go up: over their parts, but apart.
fn spread(wanted: &[Wanted], (from, to): (f64, f64)) -> Vec<f64> {
    let apart = LEADERS_APART.min((to - from) / (wanted.len() + 1) as f64);
    let order = in_order(wanted, |label| label.x);
    let mut leaders = vec![0.0; wanted.len()];
    let mut least = from;
    for &index in &order {
        if let (Some(leader), Some(label)) = (leaders.get_mut(index), wanted.get(index)) {
            *leader = label.x.max(least);
            least = *leader + apart;
        }
    }
    let mut most = to;
    for &index in order.iter().rev() {
        if let Some(leader) = leaders.get_mut(index) {
            *leader = leader.min(most);
            most = *leader - apart;
        }
    }
    leaders
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn any_wanted() -> impl Strategy<Value = (Vec<Wanted>, f64)> {
        (200.0..1600.0f64).prop_flat_map(|to| {
            let one = (-20.0..to + 20.0, 1.0..to / 2.0).prop_map(|(x, width)| Wanted { x, width });
            (proptest::collection::vec(one, 0..30), Just(to))
        })
    }

    #[test]
    fn labels_with_room_are_in_one_row_over_their_parts() {
        let wanted = [10.0, 150.0, 390.0].map(|x| Wanted { x, width: 100.0 });
        let placed = place(&wanted, (0.0, 400.0));
        assert!(placed.iter().zip(&wanted).all(|(placed, wanted)| placed.row == 0 && placed.leader == wanted.x));
        assert_eq!(
            placed.iter().map(|placed| placed.span).collect::<Vec<_>>(),
            [(10.0, 110.0), (150.0, 250.0), (290.0, 390.0)]
        );
    }

    #[test]
    fn of_two_side_by_side_the_outer_is_higher_and_no_leader_is_crossed() {
        let wanted = [20.0, 40.0, 60.0].map(|x| Wanted { x, width: 90.0 });
        let placed = place(&wanted, (0.0, 400.0));
        assert_eq!(placed.iter().map(|placed| placed.row).collect::<Vec<_>>(), [2, 1, 0]);
    }

    proptest! {
        #[test]
        fn no_label_lies_over_another_or_leaves_the_room((wanted, to) in any_wanted()) {
            let placed = place(&wanted, (0.0, to));
            prop_assert_eq!(placed.len(), wanted.len());
            for (index, label) in placed.iter().enumerate() {
                prop_assert!(label.span.0 >= -1e-9 && label.span.1 <= to + 1e-9, "{label:?}");
                prop_assert!(label.row < wanted.len());
                for other in &placed[index + 1..] {
                    let beside = label.span.1 <= other.span.0 || other.span.1 <= label.span.0;
                    prop_assert!(label.row != other.row || beside, "{label:?} {other:?}");
                    prop_assert!((label.leader - other.leader).abs() > 1.0);
                }
            }
        }

        #[test]
        fn leaders_of_one_half_cross_no_label_of_it((wanted, to) in any_wanted()) {
            let half: Vec<_> = wanted.iter().map(|&Wanted { x, width }| Wanted { x: x * 0.4, width }).collect();
            let placed = place(&half, (0.0, to));
            if placed.iter().all(|label| label.leader <= to / 2.0) {
                for label in &placed {
                    for other in placed.iter().filter(|other| other.row >= label.row) {
                        prop_assert!(!label.meets(other.leader), "{label:?} {other:?}");
                    }
                }
            }
        }
    }
}
