use super::*;
use crate::diagram::looks;
use clothyard_core::testing::any_setup;
use proptest::prelude::*;

/// A box: left, top, right, bottom.
type Room = (f64, f64, f64, f64);

const PHONE: Paper = Paper { width: 330.0, row: 44.0 };
const DESK: Paper = Paper { width: 1200.0, row: 44.0 };

fn texts(plan: &Plan) -> Vec<(Room, String)> {
    let of_mark = |mark: &Mark| {
        let Shape::Text((x, y), anchor, words) = &mark.shape else { return None };
        let size = looks::look(mark.style, "white").into_iter().find(|(name, _)| *name == "font-size")?;
        let size: f64 = size.1.parse().unwrap();
        let width = looks::width(words, size);
        let left = match *anchor {
            "start" => *x,
            "middle" => x - width / 2.0,
            _ => x - width,
        };
        Some(((left, y - 0.8 * size, left + width, y + 0.22 * size), words.clone()))
    };
    let of_label = |label: &Label| {
        let (left, top, width, height) = label.room;
        ((left, top, left + width, top + height), label.words.clone())
    };
    plan.marks.iter().filter_map(of_mark).chain(plan.labels.iter().map(of_label)).collect()
}

fn overlap(a: &Room, b: &Room) -> bool {
    const TOUCH: f64 = 1e-6;
    a.0 + TOUCH < b.2 && b.0 + TOUCH < a.2 && a.1 + TOUCH < b.3 && b.1 + TOUCH < a.3
}

fn points(shape: &Shape) -> Vec<(f64, f64)> {
    match shape {
        Shape::Polygon(points) => points.clone(),
        Shape::Line(a, b) => vec![*a, *b],
        Shape::Text(at, ..) => vec![*at],
    }
}

fn check(setup: &Setup, paper: Paper, units: &Units) -> Result<(), TestCaseError> {
    let all = Evaluation::of(setup);
    let Some(plan) = plan(setup, &all, units, paper) else {
        prop_assert!(all.model.is_none());
        return Ok(());
    };
    let texts = texts(&plan);
    for (index, (room, words)) in texts.iter().enumerate() {
        let inside = room.0 >= -1e-6 && room.1 >= 0.0 && room.2 <= plan.width + 1e-6 && room.3 <= plan.height;
        prop_assert!(inside, "{words:?} at {room:?} is not on {} by {}", plan.width, plan.height);
        for (other, others) in &texts[index + 1..] {
            prop_assert!(!overlap(room, other), "{words:?} {room:?} lies over {others:?} {other:?}");
        }
    }
    let ends = plan.labels.iter().flat_map(|label| label.leader);
    let corners = plan.marks.iter().flat_map(|mark| points(&mark.shape)).chain(ends);
    for (x, y) in corners {
        prop_assert!(x.is_finite() && y.is_finite());
        // Own parts may be thicker than their room, a frame is slightly larger than what it frames.
        prop_assert!((-8.0..=plan.width + 8.0).contains(&x) && (-8.0..=plan.height + 8.0).contains(&y), "{x} {y}");
    }
    prop_assert!(plan.times.iter().all(|times| *times >= 1.0));
    Ok(())
}

proptest! {
    #[test]
    fn no_words_lie_over_others_and_all_is_on_the_paper(setup in any_setup(), width in 240.0..1600.0f64, metric: bool) {
        let units = if metric { Units::metric() } else { Units::ARCHERY };
        check(&setup, Paper { width, row: 44.0 }, &units)?;
        for paper in [PHONE, DESK, crate::diagram::sheet::PAPER] {
            check(&setup, paper, &units)?;
        }
    }
}

/// From where to where the first polygon of a style reaches.
fn spans(plan: &Plan, style: &str) -> Vec<(f64, f64)> {
    let of = |mark: &Mark| {
        let xs = points(&mark.shape).into_iter().map(|point| point.0);
        xs.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), x| (low.min(x), high.max(x)))
    };
    plan.marks.iter().filter(|mark| mark.style == style).map(of).collect()
}

#[test]
fn whole_and_ends_are_to_scale_by_the_factor_stated() {
    let setup = Setup::default();
    let all = Evaluation::of(&setup);
    for paper in [PHONE, DESK] {
        let plan = plan(&setup, &all, &Units::ARCHERY, paper).unwrap();
        let (from, to) = spans(&plan, "shaft")[0];
        let scale = (to - from) / all.resolved.number(Field::CutLength);
        let [vane, _, enlarged, _] = spans(&plan, "vane")[..4] else { panic!("two vanes seen, twice") };
        let long = all.resolved.number(Field::VaneLength);
        assert!(((vane.1 - vane.0) / scale - long).abs() < 1e-9);
        assert!(((enlarged.1 - enlarged.0) / scale / plan.times[0] - long).abs() < 1e-9);
        let [point, enlarged] = spans(&plan, "point")[..] else { panic!("a point, twice") };
        assert!(((enlarged.1 - enlarged.0) / (point.1 - point.0) - plan.times[1]).abs() < 1e-9);
        let across = plan.marks.iter().find(|mark| mark.style == "shaft").map(|mark| points(&mark.shape)).unwrap();
        let thick = (across[2].1 - across[1].1).abs() / scale;
        assert!((thick - all.resolved.number(Field::OuterDiameter)).abs() < 1e-9);
    }
}

#[test]
fn every_part_has_one_label_in_order_from_nock_to_point() {
    let given = [
        (Field::CutLength, 27.0),
        (Field::WrapMass, 5.0),
        (Field::BushingMass, 8.0),
        (Field::CollarMass, 4.0),
        (Field::SleeveMass, 12.0),
    ];
    let mut setup = given.into_iter().fold(Setup::default(), |setup, (field, to)| setup.with(field, to).unwrap());
    for (name, center_in) in [("light", 2.0), ("tape", 14.0), ("ring", 27.5)] {
        setup.own_parts.push(clothyard_core::schema::OwnPart {
            name: name.to_owned(),
            mass_gr: 3.0,
            center_in,
            length_in: 0.5,
        });
    }
    let plan = plan(&setup, &Evaluation::of(&setup), &Units::ARCHERY, DESK).unwrap();
    let words: Vec<_> = plan.labels.iter().map(|label| label.words.as_str()).collect();
    let expected = "Nock, Bushing, light, Vanes, Wrap, Bare shaft, tape, Rest, Footer, Insert, ring, Collar, Cut, \
                    Draw length, Point";
    assert_eq!(words.join(", "), expected);
}
