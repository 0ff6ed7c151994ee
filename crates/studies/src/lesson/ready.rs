//! Built-in lessons, with the invented archers of Sallow Field.
//!
//! Their words hold no number: those are calculated when a step is shown.

use super::readout::Far;
use super::{Lesson, Picture, Readout, Slide, Step};
use clothyard_core::schema::List;
use clothyard_core::schema::Output;
use clothyard_core::schema::{Field, Value};
use clothyard_core::setup::Setup;
use clothyard_core::setup::samples;

/// A lesson of the page's own.
#[derive(Clone, Debug)]
pub struct ReadyLesson {
    /// Its key, on the page and in links.
    pub key: &'static str,
    /// The lesson.
    pub lesson: Lesson,
}

/// Every lesson of the page's own.
#[must_use]
pub fn all() -> Vec<ReadyLesson> {
    vec![ReadyLesson { key: "pointWeight", lesson: point_weight() }]
}

/// Ends of the sliders below: point weight in grains, static spine in thousandths of an inch.
const POINT_GR: (f64, f64) = (110.0, 240.0);
const SPINE: (f64, f64) = (350.0, 300.0);

struct Row {
    heading: &'static str,
    words: &'static str,
    picture: Picture,
    results: &'static [Readout],
}

const ROWS: [Row; 6] = [
    Row {
        heading: "Balance point moves forward",
        words: "Balance the arrow on a finger. With a heavier point, the balance point moves forward.",
        picture: Picture::Arrow,
        results: &[Readout::Output(Output::BalancePoint)],
    },
    Row {
        heading: "FOC goes up",
        words: "FOC is how far the balance point is ahead of the center of the arrow. The center stays; the balance point moves.",
        picture: Picture::Arrow,
        results: &[Readout::FOC, Readout::Output(Output::TotalWeight)],
    },
    Row {
        heading: "The shaft bends more",
        words: "The string pushes from behind, the weight in front resists, and the shaft bends between them.",
        picture: Picture::Flex,
        results: &[Readout::Output(Output::ColumnLoad)],
    },
    Row {
        heading: "The shaft acts weaker",
        words: "It flexes more, so it matches a lighter bow.",
        picture: Picture::Match,
        results: &[Readout::Output(Output::IdealDrawWeight)],
    },
    Row {
        heading: "Slower, with more momentum",
        words: "The bow delivers the same energy. A heavier arrow leaves slower and has more momentum.",
        picture: Picture::Path,
        results: &[
            Readout::Output(Output::LaunchSpeed),
            Readout::Output(Output::Momentum),
            Readout::Output(Output::KineticEnergy),
        ],
    },
    Row {
        heading: "It drops more downrange",
        words: "Even with the sight set again for each point, the slower arrow drops more beyond that distance.",
        picture: Picture::Path,
        results: &[Readout::Far(Far::Drop), Readout::Output(Output::LaunchSpeed)],
    },
];

fn point_weight() -> Lesson {
    let setup = sallow_field();
    let (from, to) = POINT_GR;
    let step = |row: &Row| Step {
        heading: row.heading.to_owned(),
        words: row.words.to_owned(),
        setup: setup.clone(),
        picture: row.picture,
        slide: Slide::new(Field::PointMass, from, to).ok(),
        results: row.results.to_vec(),
        question: row.results.first().copied(),
    };
    let mut steps: Vec<_> = ROWS.iter().map(step).collect();
    steps.push(remedy(&setup));
    Lesson { title: "What point weight does".to_owned(), steps }
}

/// The heavy point stays, and a stiffer shaft carries it.
fn remedy(setup: &Setup) -> Step {
    let mut heavy = setup.clone();
    // In range, as the tests of this lesson see.
    let _ = heavy.set(Field::PointMass, Some(Value::Number(POINT_GR.1)));
    Step {
        heading: "Fix the match".to_owned(),
        words: "Keep the heavy point and use a stiffer shaft (smaller spine number). A lighter point or a shorter shaft also works."
            .to_owned(),
        setup: heavy,
        picture: Picture::Match,
        slide: Slide::new(Field::StaticSpine, SPINE.0, SPINE.1).ok(),
        results: vec![Readout::Output(Output::IdealDrawWeight)],
        question: Some(Readout::Output(Output::IdealDrawWeight)),
    }
}

/// The 3-D shooter, the sight set for a near target and a far one to look at.
fn sallow_field() -> Setup {
    let mut setup = samples::all().into_iter().next().map(|start| start.setup).unwrap_or_default();
    let _ = setup.set(Field::SightedAt, Some(Value::Number(20.0)));
    let _ = setup.lists.set(List::Distances, vec![vec![Some(40.0)]]);
    setup
}

#[cfg(test)]
mod tests {
    use super::super::quiz::{Direction, Question};
    use super::super::stage::Stage;
    use super::*;
    use clothyard_core::eval::Verdict;
    use clothyard_core::units::Units;

    fn stages() -> Vec<Stage> {
        point_weight().steps.iter().map(Stage::new).collect()
    }

    #[test]
    fn no_number_is_typed() {
        for ready in all() {
            for step in &ready.lesson.steps {
                let words = format!("{}{}{}", ready.lesson.title, step.heading, step.words);
                assert!(!words.bytes().any(|byte| byte.is_ascii_digit()), "{words}");
            }
            assert_eq!(Lesson::from_saved(&ready.lesson.to_saved()), Ok(ready.lesson));
        }
    }

    #[test]
    fn every_word_holds_of_the_numbers() {
        let stages = stages();
        let answers = stages.iter().map(|stage| Question::from_stage(stage, &Units::ARCHERY).unwrap().answer);
        assert_eq!(
            answers.collect::<Vec<_>>(),
            [
                Direction::Up,
                Direction::Up,
                Direction::Up,
                Direction::Down,
                Direction::Down,
                Direction::Up,
                Direction::Up
            ]
        );
        let ends =
            |stage: &Stage, output| [stage.first(), stage.last()].map(|s| s.number(Readout::Output(output)).unwrap());

        let [before, after] = ends(&stages[4], Output::Momentum);
        assert_eq!(Direction::between(before, after), Direction::Up);
        let [before, after] = ends(&stages[1], Output::ArrowLength);
        assert_eq!(before, after, "the middle stays");
        assert_eq!(
            [stages[3].first(), stages[3].last()].map(|scene| scene.all.verdict),
            [Some(Verdict::WellMatched), Some(Verdict::ActsWeak)]
        );
        assert_eq!(
            [stages[6].first(), stages[6].last()].map(|scene| scene.all.verdict),
            [Some(Verdict::ActsWeak), Some(Verdict::WellMatched)]
        );
        for stage in &stages {
            assert_eq!(stage.first().dangers(&Units::ARCHERY), "");
            assert_eq!(stage.last().dangers(&Units::ARCHERY), "");
            assert!(stage.facts(stage.last(), &Units::ARCHERY).iter().all(|fact| !fact.change.is_empty()));
        }
    }

    #[test]
    fn the_sight_is_set_again_and_the_far_target_is_the_one_looked_at() {
        let stage = &stages()[5];
        assert!((stage.far_m() - 40.0 * 0.9144).abs() < 1e-9);
        let crossing = |scene: &super::super::scene::Scene| {
            let after = scene.path.iter().skip_while(|&&(out, _)| out < 20.0 * 0.9144 - 0.5);
            after.take(2).map(|&(_, height)| height.abs()).fold(f64::INFINITY, f64::min)
        };
        assert!(crossing(stage.first()) < 0.03 && crossing(stage.last()) < 0.03);
    }
}
