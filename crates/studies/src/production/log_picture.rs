//! A small picture of an entry: where the shots hit beside those they are compared with.

use super::log::Entry;
use clothyard_core::drawing::Shape;

/// Width and height of the picture in pixels.
pub const SIZE: f64 = 96.0;

const MIDDLE: f64 = SIZE / 2.0;

/// From the middle to the farthest that is drawn, in pixels.
const REACH: f64 = 38.0;

/// Half the size of a hit in pixels.
const HIT: f64 = 5.0;

/// Corners of a ring.
const CORNERS: usize = 24;

/// The picture: the ring within which the two hit together, the others' middle, and the hit. None where no impact was
/// logged.
#[must_use]
pub fn draw(entry: &Entry) -> Option<Vec<(&'static str, Shape)>> {
    entry.right_in.or(entry.up_in)?;
    let (right, up) = (entry.right_in.unwrap_or(0.0), entry.up_in.unwrap_or(0.0));
    let together = entry.together_in();
    let scale = REACH / right.hypot(up).max(2.0 * together);
    let (x, y) = (MIDDLE + scale * right, MIDDLE - scale * up);
    let corner = |turn: usize| {
        let angle = core::f64::consts::TAU * turn as f64 / CORNERS as f64;
        (MIDDLE + scale * together * angle.cos(), MIDDLE + scale * together * angle.sin())
    };
    Some(vec![
        ("axis", Shape::Line((2.0, MIDDLE), (SIZE - 2.0, MIDDLE))),
        ("axis", Shape::Line((MIDDLE, 2.0), (MIDDLE, SIZE - 2.0))),
        ("ring", Shape::Polygon((0..CORNERS).map(corner).collect())),
        ("hit", Shape::Polygon(vec![(x, y - HIT), (x + HIT, y), (x, y + HIT), (x - HIT, y)])),
    ])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn right_is_to_the_right_high_is_above_and_all_of_it_is_inside() {
        let middle = |right_in: f64, up_in: f64| {
            let entry = Entry { right_in: Some(right_in), up_in: Some(up_in), ..Entry::at(20.0) };
            let shapes = draw(&entry).unwrap();
            let Some((_, Shape::Polygon(hit))) = shapes.last() else { panic!("the hit is a polygon") };
            assert!(hit.iter().all(|&(x, y)| (0.0..=SIZE).contains(&x) && (0.0..=SIZE).contains(&y)));
            (hit[0].0, hit[1].1)
        };
        assert_eq!(middle(0.0, 0.0), (MIDDLE, MIDDLE));
        let (x, y) = middle(40.0, 20.0);
        assert!(x > MIDDLE && y < MIDDLE);
        assert!(middle(-1.0, 0.0).0 > middle(-30.0, 0.0).0, "a small miss is drawn small");
        assert_eq!(draw(&Entry::at(20.0)), None);
    }
}
