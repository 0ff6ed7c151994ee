//! A step while presented: its setup at any slider position, and its text.
//!
//! Only what the slider moves moves: every field the page had resolved is held, as in every other "what if".

use super::scene::{Bounds, Scene};
use super::{Picture, Readout, Step};
use crate::flight::shot;
use clothyard_core::eval::baseline::Baseline;
use clothyard_core::format;
use clothyard_core::schema::{Field, Output};
use clothyard_core::setup::Resolved;
use clothyard_core::units::{Quantity, Units};

/// A step, ready to be shown at any stop.
#[derive(Clone, Debug)]
pub struct Stage {
    step: Step,
    resolved: Resolved,
    far_m: f64,
    wanted: Vec<Output>,
    first: Scene,
    last: Scene,
    bounds: Bounds,
}

/// A result as it is shown large.
#[derive(Clone, Debug, PartialEq)]
pub struct Fact {
    /// What it is.
    pub label: String,
    /// Its number; a dash where there is none.
    pub number: String,
    /// The unit behind it.
    pub unit: &'static str,
    /// How far it has moved since the slider's start, with its unit; empty where that reads as zero.
    pub change: String,
}

impl Stage {
    /// Puts a step on the stage.
    #[must_use]
    pub fn new(step: &Step) -> Self {
        let resolved = Baseline::new(&step.setup).resolved;
        let far_m = shot::distances_m(&step.setup).last().copied().unwrap_or(resolved.si(Field::SightedAt));
        let wanted = wanted(step);
        let scene = |stop| Scene::new(step, &resolved, (far_m, &wanted), stop);
        let (stops, _) = step.slide.map_or((0, 0), |slide| slide.stops());
        let scenes = [0, stops / 2, stops].map(scene);
        let bounds = Bounds::around(&scenes);
        let [first, _, last] = scenes;
        Self { step: step.clone(), resolved, far_m, wanted, first, last, bounds }
    }

    /// The step.
    #[must_use]
    pub const fn step(&self) -> &Step {
        &self.step
    }

    /// The farthest distance, in meters.
    #[must_use]
    pub const fn far_m(&self) -> f64 {
        self.far_m
    }

    /// What the pictures are to hold at every stop.
    #[must_use]
    pub const fn bounds(&self) -> &Bounds {
        &self.bounds
    }

    /// How many stops the slider has beyond its first, and how many of them are one step of its field; zero where
    /// there is no slider.
    #[must_use]
    pub fn stops(&self) -> (u32, u32) {
        self.step.slide.map_or((0, 0), |slide| slide.stops())
    }

    /// The setup with the slider at a stop.
    #[must_use]
    pub fn scene(&self, stop: u32) -> Scene {
        Scene::new(&self.step, &self.resolved, (self.far_m, &self.wanted), stop)
    }

    /// The setup at the slider's start.
    #[must_use]
    pub const fn first(&self) -> &Scene {
        &self.first
    }

    /// The setup at the slider's end.
    #[must_use]
    pub const fn last(&self) -> &Scene {
        &self.last
    }

    /// The number of the slider, with its unit; empty where there is no slider.
    #[must_use]
    pub fn slider_text(&self, scene: &Scene, units: &Units) -> String {
        self.step.slide.zip(scene.value).map_or_else(String::new, |(slide, value)| {
            let quantity = slide.field().input().quantity().unwrap_or(Quantity::Ratio);
            format::entered_with_unit(quantity, value, units)
        })
    }

    /// Every result shown large.
    #[must_use]
    pub fn facts(&self, scene: &Scene, units: &Units) -> Vec<Fact> {
        self.step.results.iter().map(|&shown| self.fact(scene, shown, units)).collect()
    }

    fn fact(&self, scene: &Scene, shown: Readout, units: &Units) -> Fact {
        let (quantity, label) = (shown.quantity(), shown.label_at(self.far_m, units));
        let Some(now) = scene.number(shown) else {
            return Fact { label, number: "–".to_owned(), unit: "", change: String::new() };
        };
        let moved = self.first.number(shown).and_then(|before| format::moved(quantity, before, now, units));
        Fact {
            label,
            number: format::bare(quantity, now, units),
            unit: units.of(quantity).symbol,
            change: moved.unwrap_or_default(),
        }
    }

    /// All that is shown, to be read aloud; `picture` says what that shows.
    #[must_use]
    pub fn announcement(&self, scene: &Scene, picture: &str, units: &Units) -> String {
        let mut list = Vec::new();
        if let Some(slide) = self.step.slide {
            list.push(format!("{} {}.", slide.field().input().label, self.slider_text(scene, units)));
        }
        for fact in self.facts(scene, units) {
            let since = || format!(", {} since {}", fact.change, self.slider_text(&self.first, units));
            let change = if fact.change.is_empty() { String::new() } else { since() };
            list.push(
                format!("{} {} {}{change}.", fact.label, fact.number, fact.unit).replace(" .", ".").replace(" ,", ","),
            );
        }
        list.push(picture.to_owned());
        let dangers = scene.dangers(units);
        if !dangers.is_empty() {
            list.push(dangers);
        }
        list.join(" ")
    }
}

/// The results to calculate: those shown and asked for, and what would correct a match that is shown.
fn wanted(step: &Step) -> Vec<Output> {
    let shown = step.results.iter().chain(&step.question).filter_map(|shown| match shown {
        Readout::Output(output) => Some(*output),
        Readout::Far(_) | Readout::StabilityMargin => None,
    });
    let remedies = [Output::PointForMatch, Output::CutForMatch];
    shown.chain(remedies.into_iter().filter(|_| step.picture == Picture::Match)).collect()
}

#[cfg(test)]
mod tests {
    use super::super::pictures::draw;
    use super::super::{Lesson, ready};
    use super::*;
    use crate::testing::any_lesson;
    use proptest::prelude::*;

    const UNITS: Units = Units::ARCHERY;

    fn lesson() -> Lesson {
        ready::all().swap_remove(0).lesson
    }

    #[test]
    fn what_is_shown_is_what_the_page_would_answer() {
        for step in &lesson().steps {
            let stage = Stage::new(step);
            let held = Baseline::new(&step.setup);
            let slide = step.slide.unwrap();
            for stop in [0, 7, stage.stops().0] {
                let scene = stage.scene(stop);
                for &shown in &step.results {
                    if let Readout::Output(output) = shown {
                        assert_eq!(scene.number(shown), held.result(slide.field(), slide.at(stop), output));
                    }
                }
            }
        }
    }

    #[test]
    fn a_change_is_told_since_the_start_and_not_at_it() {
        let step = lesson().steps.swap_remove(1);
        let stage = Stage::new(&step);
        assert!(stage.facts(stage.first(), &UNITS).iter().all(|fact| fact.change.is_empty()));
        let facts = stage.facts(stage.last(), &UNITS);
        let shown = |scene: &Scene| stage.facts(scene, &UNITS)[0].number.parse::<f64>().unwrap();
        let by = shown(stage.last()) - shown(stage.first());
        assert_eq!(facts[0].change, format!("+{}%", format::fixed(by, 1)), "as the two numbers shown");
        let (from, _) = step.slide.unwrap().ends();
        let since = format!("{} since {}\u{a0}gr.", facts[0].change, format::trimmed(from, 2));
        let aloud = stage.announcement(stage.last(), "", &UNITS);
        assert!(aloud.contains(&since), "{aloud}");
    }

    #[test]
    fn what_has_no_number_is_a_dash() {
        let mut step = lesson().steps.swap_remove(2);
        step.slide = Some(super::super::Slide::new(clothyard_core::Field::CutLength, 12.0, 30.0).unwrap());
        let stage = Stage::new(&step);
        let fact = &stage.facts(stage.first(), &UNITS)[0];
        assert_eq!((fact.number.as_str(), fact.change.as_str()), ("–", ""));
        assert!(stage.first().dangers(&UNITS).starts_with("Do not shoot"));
        assert!(!stage.facts(stage.last(), &UNITS)[0].number.contains('–'));
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(32))]

        #[test]
        fn any_step_can_be_shown_at_any_stop(lesson in any_lesson(), share in 0.0..=1.0f64) {
            for step in &lesson.steps {
                let stage = Stage::new(step);
                let scene = stage.scene((share * f64::from(stage.stops().0)) as u32);
                let drawing = draw(&stage, &scene, (980.0, 260.0), &UNITS);
                let aloud = stage.announcement(&scene, &drawing.words, &Units::metric());
                prop_assert!(!aloud.contains("NaN") && !drawing.words.is_empty());
            }
        }
    }
}
