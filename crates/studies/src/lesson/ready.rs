//! Built-in lessons, with the invented archers of Sallow Field.
//!
//! Their words hold no number: those are calculated when a step is shown. To add a lesson: a table of rows and its line
//! in [`all`].

use super::readout::Far;
use super::{Lesson, Picture, Readout, Slide, Step};
use clothyard_core::schema::{Field, List, Output, PointKind, Value};
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
    let ready = |key, title: &str, rows: &[Row]| {
        let steps = rows.iter().map(Row::step).collect();
        ReadyLesson { key, lesson: Lesson { title: title.to_owned(), steps } }
    };
    vec![
        ready("pointWeight", "What point weight does", &POINT_WEIGHT),
        ready("drawWeight", "What draw weight does", &DRAW_WEIGHT),
        ready("cut", "What cutting the shaft does", &CUT),
        ready("spine", "What the spine number means", &SPINE),
        ready("weight", "Light or heavy arrow", &WEIGHT),
        ready("vanes", "Vanes and broadheads", &VANES),
    ]
}

/// A field, and the ends of its slider in the saved unit.
type Way = (Field, f64, f64);

struct Row {
    heading: &'static str,
    words: &'static str,
    /// What differs from the 3-D shooter's setup.
    with: &'static [(Field, Value)],
    picture: Picture,
    slide: Way,
    /// The first of them is asked about.
    results: &'static [Readout],
}

impl Row {
    fn step(&self) -> Step {
        let mut setup = three_d();
        for &(field, value) in self.with {
            // In range, as the tests of the lessons see.
            let _ = setup.set(field, Some(value));
        }
        let (field, from, to) = self.slide;
        Step {
            heading: self.heading.to_owned(),
            words: self.words.to_owned(),
            setup,
            picture: self.picture,
            slide: Slide::new(field, from, to).ok(),
            results: self.results.to_vec(),
            question: self.results.first().copied(),
        }
    }
}

/// The 3-D shooter, the sight set for a near target and a far one to look at.
fn three_d() -> Setup {
    let mut setup = samples::all().into_iter().next().map(|start| start.setup).unwrap_or_default();
    let _ = setup.set(Field::SightedAt, Some(Value::Number(20.0)));
    let _ = setup.lists.set(List::Distances, vec![vec![Some(40.0)]]);
    setup
}

const BALANCE: Readout = Readout::Output(Output::BalancePoint);
const COLUMN_LOAD: Readout = Readout::Output(Output::ColumnLoad);
const BEST_MATCH: Readout = Readout::Output(Output::IdealDrawWeight);
const TOTAL: Readout = Readout::Output(Output::TotalWeight);
const GPP: Readout = Readout::Output(Output::GrainsPerPound);
const SPEED: Readout = Readout::Output(Output::LaunchSpeed);
const MOMENTUM: Readout = Readout::Output(Output::Momentum);
const ENERGY: Readout = Readout::Output(Output::KineticEnergy);
const DROP: Readout = Readout::Far(Far::Drop);
const FAR_SPEED: Readout = Readout::Far(Far::Speed);
const FAR_ENERGY: Readout = Readout::Far(Far::Energy);
const MARGIN: Readout = Readout::StabilityMargin;

const HEAVIER_POINT: Way = (Field::PointMass, 110.0, 240.0);
const POINT_WEIGHT: [Row; 7] = [
    Row {
        heading: "Balance point moves forward",
        words: "Balance the arrow on a finger. With a heavier point, the balance point moves forward.",
        with: &[],
        picture: Picture::Arrow,
        slide: HEAVIER_POINT,
        results: &[BALANCE],
    },
    Row {
        heading: "FOC goes up",
        words: "FOC is how far the balance point is ahead of the center of the arrow. The center stays; the balance point moves.",
        with: &[],
        picture: Picture::Arrow,
        slide: HEAVIER_POINT,
        results: &[Readout::FOC, TOTAL],
    },
    Row {
        heading: "The shaft bends more",
        words: "The string pushes from behind, the weight in front resists, and the shaft bends between them.",
        with: &[],
        picture: Picture::Flex,
        slide: HEAVIER_POINT,
        results: &[COLUMN_LOAD],
    },
    Row {
        heading: "The shaft acts weaker",
        words: "It flexes more, so it matches a lighter bow.",
        with: &[],
        picture: Picture::Match,
        slide: HEAVIER_POINT,
        results: &[BEST_MATCH],
    },
    Row {
        heading: "Slower, with more momentum",
        words: "The bow delivers the same energy. A heavier arrow leaves slower and has more momentum.",
        with: &[],
        picture: Picture::Path,
        slide: HEAVIER_POINT,
        results: &[SPEED, MOMENTUM, ENERGY],
    },
    Row {
        heading: "It drops more downrange",
        words: "Even with the sight set again for each point, the slower arrow drops more beyond that distance.",
        with: &[],
        picture: Picture::Path,
        slide: HEAVIER_POINT,
        results: &[DROP, SPEED],
    },
    Row {
        heading: "Fix the match",
        words: "Keep the heavy point and use a stiffer shaft (smaller spine number). A lighter point or a shorter shaft also works.",
        with: &[(Field::PointMass, Value::Number(HEAVIER_POINT.2))],
        picture: Picture::Match,
        slide: (Field::StaticSpine, 350.0, 300.0),
        results: &[BEST_MATCH],
    },
];

const HEAVIER_BOW: Way = (Field::PeakDrawWeight, 56.0, 68.0);
const DRAW_WEIGHT: [Row; 5] = [
    Row {
        heading: "More speed",
        words: "A heavier draw stores more energy, and the same arrow leaves faster.",
        with: &[],
        picture: Picture::Path,
        slide: HEAVIER_BOW,
        results: &[SPEED, ENERGY],
    },
    Row {
        heading: "It drops less",
        words: "A faster arrow takes less time to get there, so it falls less.",
        with: &[],
        picture: Picture::Path,
        slide: HEAVIER_BOW,
        results: &[DROP, FAR_SPEED],
    },
    Row {
        heading: "The shaft bends more",
        words: "The string pushes harder on the same shaft.",
        with: &[],
        picture: Picture::Flex,
        slide: HEAVIER_BOW,
        results: &[COLUMN_LOAD],
    },
    Row {
        heading: "Fewer grains per pound",
        words: "The arrow is lighter for the bow. Never go below the bow maker's minimum arrow weight.",
        with: &[],
        picture: Picture::Match,
        slide: HEAVIER_BOW,
        results: &[GPP],
    },
    Row {
        heading: "Fix the match",
        words: "Turn the bow up and the shaft acts weak. A stiffer shaft (smaller spine number) matches again.",
        with: &[(Field::PeakDrawWeight, Value::Number(HEAVIER_BOW.2)), (Field::PointMass, Value::Number(150.0))],
        picture: Picture::Match,
        slide: (Field::StaticSpine, 350.0, 300.0),
        results: &[BEST_MATCH],
    },
];

const SHORTER: Way = (Field::CutLength, 30.0, 28.0);
const CUT: [Row; 5] = [
    Row {
        heading: "The shaft acts stiffer",
        words: "A short shaft is harder to bend than a long one of the same spine. It matches a heavier bow.",
        with: &[],
        picture: Picture::Match,
        slide: SHORTER,
        results: &[BEST_MATCH],
    },
    Row {
        heading: "It bends less",
        words: "The same push bends the shorter shaft less.",
        with: &[],
        picture: Picture::Flex,
        slide: SHORTER,
        results: &[COLUMN_LOAD],
    },
    Row {
        heading: "Lighter",
        words: "Each inch cut off takes its weight with it.",
        with: &[],
        picture: Picture::Arrow,
        slide: SHORTER,
        results: &[TOTAL],
    },
    Row {
        heading: "A little faster",
        words: "A few grains of shaft are a small part of what the bow has to move.",
        with: &[],
        picture: Picture::Path,
        slide: SHORTER,
        results: &[SPEED],
    },
    Row {
        heading: "Keep it ahead of the rest",
        words: "At full draw the shaft must still reach past the rest. Cut long, shoot, then cut again: nothing can be put back.",
        with: &[],
        picture: Picture::Arrow,
        slide: SHORTER,
        results: &[Readout::Output(Output::ArrowLength)],
    },
];

const WEAKER: Way = (Field::StaticSpine, 300.0, 380.0);
const SPINE: [Row; 5] = [
    Row {
        heading: "A larger number bends more",
        words: "Static spine is how far a shaft sags under a set weight. A larger number is a weaker shaft.",
        with: &[],
        picture: Picture::Flex,
        slide: WEAKER,
        results: &[COLUMN_LOAD],
    },
    Row {
        heading: "It matches a lighter bow",
        words: "The weaker the shaft, the lighter the bow it matches.",
        with: &[],
        picture: Picture::Match,
        slide: WEAKER,
        results: &[BEST_MATCH],
    },
    Row {
        heading: "Spine alone does not change the speed",
        words: "Two shafts of the same weight leave at the same speed, whatever their spine.",
        with: &[(Field::ShaftLinearMass, Value::Number(8.9))],
        picture: Picture::Path,
        slide: WEAKER,
        results: &[SPEED],
    },
    Row {
        heading: "It does not change FOC",
        words: "FOC comes from weights and places, not from stiffness.",
        with: &[(Field::ShaftLinearMass, Value::Number(8.9))],
        picture: Picture::Arrow,
        slide: WEAKER,
        results: &[Readout::FOC],
    },
    Row {
        heading: "A longer cut makes it weaker still",
        words: "The number on the shaft is for one test length. Cut length, point and bow decide how it acts.",
        with: &[(Field::StaticSpine, Value::Number(340.0))],
        picture: Picture::Match,
        slide: (Field::CutLength, 28.0, 30.0),
        results: &[BEST_MATCH],
    },
];

const HEAVIER_SHAFT: Way = (Field::ShaftLinearMass, 7.0, 11.0);
const WEIGHT: [Row; 6] = [
    Row {
        heading: "Slower",
        words: "The bow delivers the same energy to more weight.",
        with: &[],
        picture: Picture::Path,
        slide: HEAVIER_SHAFT,
        results: &[SPEED, TOTAL],
    },
    Row {
        heading: "More momentum",
        words: "Speed falls less than weight rises, so their product goes up.",
        with: &[],
        picture: Picture::Path,
        slide: HEAVIER_SHAFT,
        results: &[MOMENTUM],
    },
    Row {
        heading: "A little more energy",
        words: "Less of the energy stays in the moving limbs and string.",
        with: &[],
        picture: Picture::Path,
        slide: HEAVIER_SHAFT,
        results: &[ENERGY],
    },
    Row {
        heading: "It drops more",
        words: "More time in the air. A wrong guess of the distance costs more.",
        with: &[],
        picture: Picture::Path,
        slide: HEAVIER_SHAFT,
        results: &[DROP],
    },
    Row {
        heading: "It keeps its energy better",
        words: "Drag is nearly the same for both, and slows the heavy arrow less.",
        with: &[],
        picture: Picture::Path,
        slide: HEAVIER_SHAFT,
        results: &[FAR_ENERGY, FAR_SPEED],
    },
    Row {
        heading: "Easier on the bow",
        words: "More grains per pound. Too light an arrow is hard on the bow, like shooting without one. Never dry-fire.",
        with: &[],
        picture: Picture::Arrow,
        slide: HEAVIER_SHAFT,
        results: &[GPP],
    },
];

const BLADES: (Field, Value) = (Field::PointKind, Value::Choice(PointKind::FixedBlade as u8));
const VANES: [Row; 5] = [
    Row {
        heading: "Vanes steer",
        words: "Air pushes on the vanes behind the balance point and turns the arrow straight. Higher vanes steer more.",
        with: &[],
        picture: Picture::Arrow,
        slide: (Field::VaneHeight, 0.3, 0.6),
        results: &[MARGIN],
    },
    Row {
        heading: "They cost little speed",
        words: "Higher vanes add drag, but over this distance they take hardly any speed.",
        with: &[],
        picture: Picture::Path,
        slide: (Field::VaneHeight, 0.3, 0.6),
        results: &[FAR_SPEED, DROP],
    },
    Row {
        heading: "Heavy vanes take FOC away",
        words: "Weight at the back moves the balance point back.",
        with: &[],
        picture: Picture::Arrow,
        slide: (Field::VaneMass, 5.0, 15.0),
        results: &[Readout::FOC, BALANCE],
    },
    Row {
        heading: "Blades steer too, at the wrong end",
        words: "A wide head catches air ahead of the balance point. The wider it is, the less the arrow corrects itself.",
        with: &[BLADES],
        picture: Picture::Arrow,
        slide: (Field::CuttingWidth, 0.9, 1.5),
        results: &[MARGIN],
    },
    Row {
        heading: "Give a wide head more vane",
        words: "Higher or longer vanes bring the margin back. Use a broadhead wrench, and keep hands clear of the blades.",
        with: &[BLADES],
        picture: Picture::Arrow,
        slide: (Field::VaneHeight, 0.4, 0.6),
        results: &[MARGIN],
    },
];

#[cfg(test)]
mod tests {
    use super::super::quiz::{Direction, Question};
    use super::super::stage::Stage;
    use super::*;
    use Direction::{Down, Stays, Up};
    use clothyard_core::eval::Verdict;
    use clothyard_core::units::Units;

    fn stages() -> Vec<Stage> {
        stages_of("pointWeight")
    }

    fn stages_of(key: &str) -> Vec<Stage> {
        let ready = all().into_iter().find(|ready| ready.key == key).unwrap();
        ready.lesson.steps.iter().map(Stage::new).collect()
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

    /// What the heading and words of each step say of its first result.
    #[test]
    fn every_heading_holds_of_the_numbers() {
        for (key, wanted) in [
            ("pointWeight", vec![Up, Up, Up, Down, Down, Up, Up]),
            ("drawWeight", vec![Up, Down, Up, Down, Up]),
            ("cut", vec![Up, Down, Down, Up, Down]),
            ("spine", vec![Up, Down, Stays, Stays, Down]),
            ("weight", vec![Down, Up, Up, Up, Up, Up]),
            ("vanes", vec![Up, Stays, Down, Down, Up]),
        ] {
            let stages = stages_of(key);
            let answers = stages.iter().map(|stage| Question::from_stage(stage, &Units::ARCHERY).unwrap().answer);
            assert_eq!(answers.collect::<Vec<_>>(), wanted, "{key}");
        }
        assert_eq!(all().len(), 6, "each lesson has its row above");
    }

    #[test]
    fn every_step_can_be_shot_and_has_its_picture() {
        for ready in all() {
            for step in &ready.lesson.steps {
                let stage = Stage::new(step);
                for scene in [stage.first(), stage.last()] {
                    assert_eq!(scene.dangers(&Units::ARCHERY), "", "{}: {}", ready.key, step.heading);
                    let drawn = super::super::pictures::draw(&stage, scene, (980.0, 300.0), &Units::ARCHERY);
                    assert!(drawn.marks.len() > 3, "{}: {}", ready.key, step.heading);
                }
            }
        }
    }

    #[test]
    fn every_word_holds_of_the_numbers() {
        let stages = stages();
        let ends =
            |stage: &Stage, output| [stage.first(), stage.last()].map(|s| s.number(Readout::Output(output)).unwrap());

        let [before, after] = ends(&stages[4], Output::Momentum);
        assert_eq!(Direction::between(before, after), Up);
        let [before, after] = ends(&stages[1], Output::ArrowLength);
        assert_eq!(before, after, "the middle stays");
        let verdicts = |stage: &Stage| [stage.first(), stage.last()].map(|scene| scene.all.verdict);
        assert_eq!(verdicts(&stages[3]), [Some(Verdict::WellMatched), Some(Verdict::ActsWeak)]);
        for fixed in [stages.last(), stages_of("drawWeight").last()] {
            assert_eq!(fixed.map(verdicts), Some([Some(Verdict::ActsWeak), Some(Verdict::WellMatched)]));
        }
        for stage in &stages {
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
