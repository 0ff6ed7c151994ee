//! One shot as a row of frames, for a slow-motion picture.

use crate::flight::shot::{Answer, FlightError};
use clothyard_core::eval::Evaluation;
use clothyard_core::format::{fixed, measured, said};
use clothyard_core::schema::{Field, Launch};
use clothyard_core::setup::PhysicalModel;
use clothyard_core::setup::Resolved;
use clothyard_core::units::{Quantity, Units};
use clothyard_mechanics::shot::{Accuracy, Fingers, Phase, Release, Sample, Shot, ShotDynamics};

/// Places along the arrow at which a frame knows its bend and its load, both ends among them.
pub const STATIONS: usize = 33;

/// Swings of the free arrow that are shown after it has left.
const SWINGS_SHOWN: f64 = 2.5;

/// The arrow at one moment.
#[derive(Clone, Debug, PartialEq)]
pub struct Frame {
    /// Time since the loose.
    pub time_s: f64,
    /// What holds it.
    pub phase: Phase,
    /// How far the string is from brace.
    pub string_m: f64,
    /// How far the arrow has come.
    pub travel_m: f64,
    /// Its speed.
    pub speed_m_per_s: f64,
    /// Where the rest is, from the nock groove; negative once the nock is past it.
    pub rest_m: f64,
    /// Sideways bend at even stations from the nock groove to the shaft's front end: drift and turn of the whole
    /// arrow, which bend nothing, are taken out.
    pub bend_m: [f64; STATIONS],
    /// Compression at the same stations.
    pub compression_n: [f64; STATIONS],
}

/// A shot, frame by frame.
#[derive(Clone, Debug, PartialEq)]
pub struct Film {
    /// What the shot does to the arrow.
    pub flex: ShotDynamics,
    /// The frames, at even times.
    pub frames: Vec<Frame>,
    /// Way of the string from full draw to brace.
    pub stroke_m: f64,
    /// Nock groove to the shaft's front end.
    pub length_m: f64,
    /// Rest from the nock groove at full draw.
    pub rest_m: f64,
    /// Whether it was released off the fingers.
    pub fingers: bool,
}

/// The shot of a setup, as the mechanics want it.
///
/// # Errors
/// [`FlightError`].
pub fn shot<'a>(resolved: &Resolved, model: &'a PhysicalModel) -> Answer<Shot<'a>> {
    let mut shot = Shot::new(model.arrow()?, model.bow, model.rest_m);
    shot.delivered_energy_j = model.estimate.delivered_energy_j().value;
    shot.rest_share = resolved.si(Field::RestHolds);
    shot.shaft_bow_m = resolved.si(Field::ShaftBow);
    let rest_aside_m = resolved.si(Field::RestAside);
    shot.release = match resolved.choice() {
        Launch::ReleaseAid => Release::Straight,
        Launch::FingersCenterCut => Release::Fingers(Fingers { rest_aside_m, ..Fingers::BUTTON }),
        Launch::FingersShelf => Release::Fingers(Fingers::shelf(rest_aside_m)),
    };
    Ok(shot)
}

/// Simulates a shot, as far as the simulation holds.
pub(super) fn simulate(shot: &Shot<'_>) -> Answer<ShotDynamics> {
    let flex = shot.simulate()?;
    let holds = shot.release == Release::Straight || !flex.touches_at_exit();
    if holds { Ok(flex) } else { Err(FlightError::RubsAtExit) }
}

impl Film {
    /// Films the shot of a setup in so many frames: the way on the string and a few swings after it.
    ///
    /// # Errors
    /// [`FlightError`].
    pub fn of(all: &Evaluation, frames: usize) -> Answer<Self> {
        Self::at(all, |flex| {
            let [swing_hz, ..] = flex.free_frequencies_hz;
            let end = flex.time_on_string_s + SWINGS_SHOWN / swing_hz;
            let last = frames.saturating_sub(1).max(1) as f64;
            (0..frames).map(|frame| end * frame as f64 / last).collect()
        })
    }

    /// Films a shot until a time in seconds, so that two can be shown in step.
    ///
    /// # Errors
    /// [`FlightError`].
    pub fn until(all: &Evaluation, frames: usize, end_s: f64) -> Answer<Self> {
        let last = frames.saturating_sub(1).max(1) as f64;
        Self::at(all, |_| (0..frames).map(|frame| end_s * frame as f64 / last).collect())
    }

    /// When the film ends, in seconds.
    #[must_use]
    pub fn end_s(&self) -> f64 {
        self.frames.last().map_or(0.0, |frame| frame.time_s)
    }

    /// The one frame of a shot in which the shaft is bent most while the string drives it.
    ///
    /// # Errors
    /// [`FlightError`].
    pub fn most_bent(all: &Evaluation) -> Answer<Self> {
        Self::at(all, |flex| vec![flex.greatest_bend_at_s])
    }

    /// Films a shot at the times that what it does asks for.
    fn at(all: &Evaluation, times: impl FnOnce(&ShotDynamics) -> Vec<f64>) -> Answer<Self> {
        let model = all.model.as_ref().ok_or(FlightError::NoLaunch)?;
        let shot = shot(&all.resolved, model)?;
        let flex = simulate(&shot)?;
        let times = times(&flex);
        let mut list = Vec::with_capacity(times.len());
        shot.simulate_with(Accuracy::default(), &times, |sample| list.push(Frame::of(sample, shot.arrow.length_m)))?;
        Ok(Self {
            flex,
            frames: list,
            stroke_m: shot.bow.stroke_m,
            length_m: shot.arrow.length_m,
            rest_m: shot.rest_m,
            fingers: shot.release != Release::Straight,
        })
    }

    /// The most any frame bends.
    #[must_use]
    pub fn greatest_bend_m(&self) -> f64 {
        self.frames.iter().map(Frame::most_bent_m).fold(0.0, f64::max)
    }

    /// The most the shot bends the shaft, with its unit.
    #[must_use]
    pub fn bend_words(&self, units: &Units) -> String {
        bend_words(self.flex.greatest_bend_m, units)
    }

    /// The greatest compression of any frame.
    #[must_use]
    pub fn greatest_compression_n(&self) -> f64 {
        self.frames.iter().flat_map(|frame| frame.compression_n).fold(0.0, f64::max)
    }

    /// What the whole shot does, in sentences.
    #[must_use]
    pub fn sentence(&self, units: &Units) -> String {
        let milliseconds = fixed(1e3 * self.flex.time_on_string_s, 1);
        let speed = measured(Quantity::Speed, Quantity::Speed.from_si(self.flex.exit_speed_m_per_s), units);
        let [swing_hz, ..] = self.flex.free_frequencies_hz;
        let after = format!("then it vibrates {} times a second in flight", fixed(swing_hz, 0));
        let bend = bend_words(self.flex.greatest_bend_m, units);
        if self.fingers {
            format!(
                "Finger release moves the nock {} aside. Max bend {bend}; the shaft leaves the rest after {} ms and the string after {milliseconds} ms, at {speed}; {after}. It makes {} swings on the string; about 0.9 suits a finger release (Kooi 1998, a prior calculation). Whether the vanes clear the bow is not calculated.",
                bend_words(self.flex.nock_aside_m, units),
                fixed(1e3 * self.flex.rest_left_s, 1),
                fixed(self.flex.swings_on_string(), 2)
            )
        } else {
            format!(
                "Max bend {bend}, {} × its straightness error; it leaves after {milliseconds} ms at {speed}; {after}.",
                fixed(self.flex.magnification, 2)
            )
        }
    }
}

impl Frame {
    fn of(sample: &Sample<'_>, length_m: f64) -> Self {
        let mut bend_m = [0.0; STATIONS];
        sample.deflections_m(&mut bend_m);
        straighten(&mut bend_m);
        let station_m = |station: usize| length_m * station as f64 / (STATIONS - 1) as f64;
        Self {
            time_s: sample.time_s,
            phase: sample.phase,
            string_m: sample.string_m,
            travel_m: sample.travel_m,
            speed_m_per_s: sample.speed_m_per_s,
            rest_m: sample.rest_m,
            bend_m,
            compression_n: core::array::from_fn(|station| sample.compression_n(station_m(station))),
        }
    }

    /// What holds the arrow, in words.
    #[must_use]
    pub const fn held_by(&self) -> &'static str {
        match self.phase {
            Phase::StringAndRest => "on string and rest",
            Phase::String => "on the string, clear of the rest",
            Phase::Free => "flying free",
        }
    }

    /// The most it is bent to either side.
    #[must_use]
    pub fn most_bent_m(&self) -> f64 {
        self.bend_m.iter().fold(0.0, |most, bend| bend.abs().max(most))
    }

    /// How hard the string pushes the nock.
    #[must_use]
    pub fn push_n(&self) -> f64 {
        let [push, ..] = self.compression_n;
        push
    }

    /// What the frame shows, in a sentence.
    #[must_use]
    pub fn sentence(&self, units: &Units) -> String {
        let held = self.held_by();
        let push = measured(Quantity::DrawWeight, Quantity::DrawWeight.from_si(self.push_n()), units);
        let speed = measured(Quantity::Speed, Quantity::Speed.from_si(self.speed_m_per_s), units);
        let pressed = if self.phase == Phase::Free { String::new() } else { format!(", push at nock {push}") };
        format!(
            "{} ms after the release: {held}, {speed}{pressed}, max bend {}.",
            fixed(1e3 * self.time_s, 1),
            bend_words(self.most_bent_m(), units)
        )
    }
}

/// Takes out of a shape the straight line that is nearest to it (least squares over even stations).
fn straighten(shape: &mut [f64; STATIONS]) {
    let middle = (STATIONS - 1) as f64 / 2.0;
    let place = |station: usize| station as f64 - middle;
    let mean = shape.iter().sum::<f64>() / STATIONS as f64;
    let squares: f64 = (0..STATIONS).map(|station| place(station) * place(station)).sum();
    let slope = shape.iter().enumerate().map(|(station, bend)| place(station) * bend).sum::<f64>() / squares;
    for (station, bend) in shape.iter_mut().enumerate() {
        *bend -= mean + slope * place(station);
    }
}

/// A bend of hundredths of a millimeter or of centimeters, in digits that mean something.
pub(super) fn bend_words(meters: f64, units: &Units) -> String {
    let unit = units.of(Quantity::SmallLength);
    let decimals = if meters.abs() < 1e-3 { unit.decimals + 1 } else { unit.decimals - 1 };
    let shown = units.show(Quantity::SmallLength, Quantity::SmallLength.from_si(meters));
    format!("{}\u{a0}{}", said(shown, decimals), unit.symbol)
}

#[cfg(test)]
mod tests {
    use super::*;
    use clothyard_core::schema::Output;
    use clothyard_core::setup::samples;
    use clothyard_core::testing::any_setup;
    use proptest::prelude::*;

    fn film(key: &str) -> (Evaluation, Film) {
        let start = samples::all().into_iter().find(|start| start.key == key).unwrap();
        let all = Evaluation::of(&start.setup);
        let film = Film::of(&all, 120).unwrap();
        (all, film)
    }

    #[test]
    fn it_leaves_at_the_launch_speed_of_the_page() {
        for key in ["threeD", "junior", "recurve", "coach"] {
            let (all, film) = film(key);
            let speed = Quantity::Speed.from_si(film.flex.exit_speed_m_per_s);
            assert!((speed / all.outputs.get(Output::LaunchSpeed).unwrap() - 1.0).abs() < 1e-4, "{key}");
        }
    }

    #[test]
    fn frames_follow_the_shot_from_the_loose_into_flight() {
        let (_, film) = film("threeD");
        assert_eq!(film.frames.len(), 120);
        assert!((film.frames[0].string_m - film.stroke_m).abs() < 1e-9 && film.frames[0].travel_m == 0.0);
        assert_eq!(film.frames[119].phase, Phase::Free);
        assert!(
            film.frames.windows(2).all(|pair| pair[1].travel_m >= pair[0].travel_m && pair[1].time_s > pair[0].time_s)
        );
        assert!(film.frames[119].compression_n.iter().all(|load| load.abs() < 1e-9), "nothing presses a free arrow");
        assert!(film.frames[60].sentence(&Units::ARCHERY).contains("ms after the release"));
    }

    #[test]
    fn drift_and_turn_are_no_bend() {
        let line: [f64; STATIONS] = core::array::from_fn(|station| 0.3 - 0.02 * station as f64);
        let mut straightened = line;
        straighten(&mut straightened);
        assert!(straightened.iter().all(|bend| bend.abs() < 1e-15));
        let bow: [f64; STATIONS] = core::array::from_fn(|station| (station as f64 / 32.0 * std::f64::consts::PI).sin());
        let mut turned: [f64; STATIONS] = core::array::from_fn(|station| bow[station] + line[station]);
        let mut alone = bow;
        straighten(&mut turned);
        straighten(&mut alone);
        assert!(turned.iter().zip(&alone).all(|(one, other)| (one - other).abs() < 1e-14));
    }

    #[test]
    fn the_push_falls_toward_the_point() {
        let (_, film) = film("threeD");
        let frame = &film.frames[20];
        assert!(frame.compression_n.windows(2).all(|pair| pair[1] <= pair[0] + 1e-9));
        assert!(film.greatest_compression_n() > 50.0);
    }

    #[test]
    fn a_shelf_far_from_center_has_a_reason_in_place_of_a_film() {
        let longbow = samples::all().into_iter().find(|start| start.key == "recurve").unwrap().setup;
        let film = |aside_in: f64| {
            let mut setup = longbow.clone().with(Field::RestAside, aside_in).unwrap();
            setup.set(Field::Launch, Some(Launch::FingersShelf.into())).unwrap();
            Film::of(&Evaluation::of(&setup), 12)
        };
        let near = film(0.2).unwrap();
        assert!(near.fingers && !near.flex.touches_at_exit());
        assert!(film(0.21).unwrap_err().sentence().contains("0.2 in (5 mm)"));
    }

    #[test]
    fn off_the_fingers_the_film_tells_when_the_shaft_leaves_the_rest() {
        let (_, film) = film("recurve");
        let words = film.sentence(&Units::ARCHERY);
        let leaves = format!("leaves the rest after {} ms", fixed(1e3 * film.flex.rest_left_s, 1));
        assert!(words.contains(&leaves) && words.contains("Whether the vanes clear"), "{words}");
        // About a centimeter (memory).
        assert!((0.005..0.02).contains(&film.flex.greatest_bend_m), "{:?}", film.flex);
        // To within a step.
        let touching = film.frames.iter().filter(|frame| frame.phase == Phase::StringAndRest);
        let last_s = touching.map(|frame| frame.time_s).fold(0.0, f64::max);
        assert!((last_s - film.flex.rest_left_s).abs() < 5e-4, "{last_s}");
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(24))]

        #[test]
        fn any_setup_has_a_film_or_a_reason(setup in any_setup()) {
            let all = Evaluation::of(&setup);
            if let Ok(film) = Film::of(&all, 12) {
                prop_assert_eq!(film.frames.len(), 12);
                prop_assert!(film.greatest_bend_m().is_finite());
            }
        }
    }
}
