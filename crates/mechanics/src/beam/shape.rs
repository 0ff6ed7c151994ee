//! The shape in which a beam buckles.

use super::{MAX_NODES, Node};
use crate::banded::MAX_UNKNOWNS;

/// The shape in which a beam or an arrow buckles, to any scale: where the search for that of a similar one starts.
///
/// Example: see [`crate::critical_acceleration_near`].
#[derive(Clone, Debug)]
pub struct BucklingShape {
    places_m: [f64; MAX_NODES],
    /// Deflection and slope at each place.
    unknowns: [f64; MAX_UNKNOWNS],
    count: usize,
}

impl Default for BucklingShape {
    /// No shape is known.
    fn default() -> Self {
        Self { places_m: [0.0; MAX_NODES], unknowns: [0.0; MAX_UNKNOWNS], count: 0 }
    }
}

impl BucklingShape {
    /// Whether no shape is known.
    pub(super) fn is_none(&self) -> bool {
        self.count == 0
    }

    /// The deflections and slopes of the same shape at other nodes.
    pub(super) fn at_nodes(&mut self, nodes: &[Node]) -> &mut [f64] {
        let before = self.clone();
        let pairs = self.unknowns.as_chunks_mut::<2>().0;
        for ((node, place), pair) in nodes.iter().zip(&mut self.places_m).zip(pairs) {
            *place = node.place_m;
            *pair = before.at(node.place_m);
        }
        self.count = nodes.len();
        self.unknowns.get_mut(..2 * nodes.len()).unwrap_or_default()
    }

    /// Deflection and slope at a place: a cubic between nodes, straight beyond the ends.
    fn at(&self, x: f64) -> [f64; 2] {
        let places = self.places_m.get(..self.count).unwrap_or_default();
        let pairs = self.unknowns.as_chunks::<2>().0;
        let ahead = places.partition_point(|place| *place <= x);
        let node = |index: usize| Some((*places.get(index)?, *pairs.get(index)?));
        match (ahead.checked_sub(1).and_then(node), node(ahead)) {
            (Some((from, rear)), Some((to, front))) => cubic((x - from) / (to - from), to - from, rear, front),
            (Some((end, [deflection, slope])), None) | (None, Some((end, [deflection, slope]))) => {
                [deflection + slope * (x - end), slope]
            }
            (None, None) => [0.0; 2],
        }
    }
}

/// Deflection and slope at the share `u` of a cubic of a given length, from both at its ends.
fn cubic(u: f64, length: f64, [v0, s0]: [f64; 2], [v1, s1]: [f64; 2]) -> [f64; 2] {
    let (left, rise) = (1.0 - u, v1 - v0);
    let (off_rear, off_front) = (s0 * length - rise, rise - s1 * length);
    let deflection = v0 + u * rise + u * left * (left * off_rear + u * off_front);
    let slope = (rise + left * (left - 2.0 * u) * off_rear + u * (2.0 * left - u) * off_front) / length;
    [deflection, slope]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beam::Support;

    #[test]
    fn a_cubic_is_itself_at_any_nodes_and_straight_beyond_them() {
        let cubic = |x: f64| [1.0 + x * (2.0 + x * (3.0 - 4.0 * x)), 2.0 + x * (6.0 - 12.0 * x)];
        let node = |place_m| Node { place_m, support: Support::Free };
        let mut shape = BucklingShape::default();
        assert!(shape.is_none());
        let known = [0.5, 1.0, 1.25];
        for (pair, x) in shape.at_nodes(&known.map(node)).as_chunks_mut::<2>().0.iter_mut().zip(known) {
            *pair = cubic(x);
        }
        let ([start, first], [end, last]) = (cubic(0.5), cubic(1.25));
        let places = [0.4, 0.5, 0.61, 1.0, 1.2499, 1.25, 1.5];
        let beyond = [(0, [start - 0.1 * first, first]), (6, [end + 0.25 * last, last])];
        let found = shape.at_nodes(&places.map(node)).as_chunks::<2>().0;
        for (index, (found, x)) in found.iter().zip(places).enumerate() {
            let straight = beyond.iter().find(|(place, _)| *place == index).map(|(_, pair)| *pair);
            let expected = straight.unwrap_or_else(|| cubic(x));
            assert!((found[0] - expected[0]).abs() < 1e-14 && (found[1] - expected[1]).abs() < 1e-13, "{x}");
        }
    }
}
