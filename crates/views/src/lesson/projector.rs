//! The projector: one step of a lesson fills the screen; keys, clickers, mouse and touch go from step to step.

// How it is drawn, and said aloud.
mod aloud;
mod canvas;
mod face;

// What it asks of the machine.
mod room;

use crate::{ask, page};
use canvas::Canvas;
use clothyard_core::Units;
use clothyard_studies::lesson::quiz::{Question, Way};
use clothyard_studies::lesson::stage::Stage;
use clothyard_studies::lesson::{Lesson, Step};
use clothyard_web as dom;
use core::cell::RefCell;
use wasm_bindgen::JsCast;
use web_sys::{Element, Event, HtmlDialogElement, HtmlInputElement, KeyboardEvent};

/// There and back again takes the slider so long.
const THERE_AND_BACK_MS: f64 = 14_000.0;
/// After an answer it goes there once, in half of this.
const ANSWER_MS: f64 = 6_000.0;
/// Where motion is unwelcome, the slider goes from end to end in so many steps.
const STILL_STEPS: u32 = 5;

/// A slider that moves by itself.
struct Playing {
    began_ms: f64,
    period_ms: f64,
    /// Whether it stops at the end.
    once: bool,
}

/// What is on the screen.
struct Show {
    lesson: Lesson,
    at: usize,
    stage: Stage,
    stop: u32,
    units: Units,
    /// The picture's room in pixels.
    room: (f64, f64),
    canvas: Canvas,
    /// Whether questions are asked first.
    quiz: bool,
    question: Option<Question>,
    given: Option<Way>,
    playing: Option<Playing>,
    /// Where the slider stood before the finger on it.
    slid_from: u32,
}

thread_local! {
    static SHOW: RefCell<Option<Show>> = const { RefCell::new(None) };
}

/// Starts listening; called once.
pub(super) fn start() {
    let (Some(dialog), Some(window), Some(document)) = (dom::by_id("projector"), dom::window(), dom::document()) else {
        return;
    };
    dom::listen(&dialog, "keydown", on_key);
    dom::listen(&dialog, "click", on_click);
    dom::listen(&dialog, "input", on_slide);
    dom::listen(&dialog, "pointerdown", |_| with(|show| show.slid_from = show.stop));
    dom::listen(&dialog, "pointercancel", |_| with(|show| show.go_to(show.slid_from)));
    dom::listen(&dialog, "close", |_| leave());
    dom::listen(&window, "resize", |_| with(Show::lay_out));
    dom::listen(&document, "fullscreenchange", |_| with(Show::lay_out));
    // A screen that was put away has gone to sleep as it liked.
    dom::listen(&document, "visibilitychange", |_| with(|_| room::stay_awake()));
}

fn dialog() -> Option<HtmlDialogElement> {
    dom::by_id("projector")?.dyn_into().ok()
}

fn with(action: impl FnOnce(&mut Show)) {
    let mut action = Some(action);
    borrow(&mut |show| action.take().into_iter().for_each(|action| action(show)));
}

/// The part of [`with`] that is the same for every action, kept apart so that it stands in the wasm once.
fn borrow(action: &mut dyn FnMut(&mut Show)) {
    SHOW.with(|cell| {
        if let Ok(mut held) = cell.try_borrow_mut()
            && let Some(show) = held.as_mut()
        {
            action(show);
        }
    });
}

/// Shows a lesson from its first step; nothing where it has none.
pub(super) fn show(lesson: Lesson, quiz: bool) {
    let (Some(dialog), Some(step)) = (dialog(), lesson.steps.first()) else { return };
    let show = Show {
        stage: Stage::new(step),
        at: 0,
        stop: 0,
        units: page::units(),
        room: (0.0, 0.0),
        canvas: Canvas::default(),
        quiz,
        question: None,
        given: None,
        playing: None,
        slid_from: 0,
        lesson,
    };
    SHOW.set(Some(show));
    if dialog.show_modal().is_err() {
        SHOW.set(None);
        return;
    }
    ask::focus("#projector-heading");
    room::stay_awake();
    with(|show| show.turn_to(0));
}

fn leave() {
    SHOW.set(None);
    aloud::stop();
    room::leave();
}

impl Show {
    fn step(&self) -> Option<&Step> {
        self.lesson.steps.get(self.at)
    }

    fn turn_to(&mut self, at: usize) {
        self.at = at.min(self.lesson.steps.len().saturating_sub(1));
        let Some(step) = self.step() else { return };
        let stage = Stage::new(step);
        self.stage = stage;
        self.playing = None;
        (self.stop, self.given) = (0, None);
        self.question = Question::of(&self.stage, &self.units).filter(|_| self.quiz);
        face::turn(self);
        // What is written first takes its room; the picture has the rest.
        self.draw();
        self.lay_out();
        self.tell(&face::place_and_words(self));
    }

    /// Measures the picture's room and draws anew.
    fn lay_out(&mut self) {
        self.room = face::measure();
        self.draw();
    }

    /// Draws what the slider's place asks for, and gives what it says.
    fn draw(&mut self) -> String {
        let scene = self.stage.scene(self.stop);
        let drawing = self.stage.step().picture.draw(&self.stage, &scene, self.room, &self.units);
        self.canvas.draw(&drawing);
        face::draw(self, &scene, &drawing.words);
        self.stage.aloud(&scene, &drawing.words, &self.units)
    }

    fn go_to(&mut self, stop: u32) {
        let stop = stop.min(self.stage.stops().0);
        if stop != self.stop {
            self.stop = stop;
            let words = self.draw();
            // What moves by itself is told when it rests.
            if self.playing.is_none() {
                aloud::say(words);
            }
        }
    }

    /// Tells some words, and then all that is shown, unless a question waits.
    fn tell(&mut self, first: &str) {
        let words = if self.asking() { String::new() } else { self.draw() };
        aloud::say(format!("{first} {words}"));
    }

    /// Whether the question waits for its answer.
    fn asking(&self) -> bool {
        self.question.is_some() && self.given.is_none()
    }

    fn nudge(&mut self, fields_steps: i32) {
        if self.asking() {
            return;
        }
        self.rest();
        let (_, stride) = self.stage.stops();
        let by = fields_steps * i32::try_from(stride).unwrap_or(1);
        self.go_to(self.stop.saturating_add_signed(by));
    }

    fn rest(&mut self) {
        if self.playing.take().is_some() {
            face::show_playing(self);
        }
    }

    /// Plays or pauses; where motion is unwelcome, goes one step on.
    fn play(&mut self) {
        let (stops, _) = self.stage.stops();
        if room::is_still() {
            let next = if self.stop >= stops { 0 } else { self.stop + stops.div_ceil(STILL_STEPS) };
            return self.go_to(next);
        }
        if self.playing.is_some() {
            self.rest();
            let words = self.draw();
            return aloud::say(words);
        }
        let period_ms = THERE_AND_BACK_MS;
        // From where it stands; the way there takes half the period.
        let share = f64::from(self.stop) / f64::from(stops.max(1));
        let began_ms = dom::now() - period_ms * share / 2.0;
        self.move_by_itself(Playing { began_ms, period_ms, once: false });
    }

    fn move_by_itself(&mut self, playing: Playing) {
        self.playing = Some(playing);
        face::show_playing(self);
        room::next_frame(on_frame);
    }

    fn answer(&mut self, way: Way) {
        if !self.asking() {
            return;
        }
        self.given = Some(way);
        face::turn(self);
        self.draw();
        self.lay_out();
        let reply = self.question.as_ref().map(|question| question.reply(way)).unwrap_or_default();
        if room::is_still() {
            self.go_to(self.stage.stops().0);
        } else {
            self.move_by_itself(Playing { began_ms: dom::now(), period_ms: ANSWER_MS, once: true });
        }
        aloud::say(reply);
    }
}

fn on_frame() {
    with(|show| {
        let Some(playing) = &show.playing else { return };
        let share = (dom::now() - playing.began_ms) / playing.period_ms;
        let (done, (stops, _)) = (playing.once && share >= 0.5, show.stage.stops());
        // One half of a period there, the other back.
        let place = if done { 1.0 } else { 1.0 - (2.0 * (share % 1.0) - 1.0).abs() };
        show.go_to((place * f64::from(stops) + 0.5) as u32);
        if done {
            show.rest();
        } else {
            room::next_frame(on_frame);
        }
    });
}

fn on_key(event: Event) {
    let Some(key) = event.dyn_ref::<KeyboardEvent>() else { return };
    if key.ctrl_key() || key.alt_key() || key.meta_key() {
        return;
    }
    let on_button = dom::target::<Element>(&event).is_some_and(|element| element.tag_name() == "BUTTON");
    let last = usize::MAX;
    match key.key().as_str() {
        "ArrowRight" | "PageDown" => with(|show| show.turn_to(show.at + 1)),
        " " if !on_button => with(|show| show.turn_to(show.at + 1)),
        "ArrowLeft" | "PageUp" => with(|show| show.turn_to(show.at.saturating_sub(1))),
        "Home" => with(|show| show.turn_to(0)),
        "End" => with(|show| show.turn_to(last)),
        "ArrowUp" => with(|show| show.nudge(1)),
        "ArrowDown" => with(|show| show.nudge(-1)),
        "p" => with(|show| {
            if !show.asking() {
                show.play()
            }
        }),
        "1" => with(|show| show.answer(Way::Up)),
        "2" => with(|show| show.answer(Way::Down)),
        "3" => with(|show| show.answer(Way::Stays)),
        _ => return,
    }
    event.prevent_default();
}

fn on_click(event: Event) {
    let Some(button) = dom::pressed(&event) else { return };
    if let Some(way) = button.get_attribute("data-way") {
        let way = Way::ALL.into_iter().find(|other| other.word() == way);
        return with(|show| way.into_iter().for_each(|way| show.answer(way)));
    }
    match button.id().as_str() {
        "projector-back" => with(|show| show.turn_to(show.at.saturating_sub(1))),
        "projector-next" => with(|show| show.turn_to(show.at + 1)),
        "projector-play" => with(Show::play),
        "projector-full" => room::fill_or_not(),
        // Closing it calls back to `leave`.
        "projector-leave" => dialog().iter().for_each(HtmlDialogElement::close),
        _ => {}
    }
}

fn on_slide(event: Event) {
    if let Some(slider) = dom::target::<HtmlInputElement>(&event) {
        with(|show| {
            show.rest();
            show.go_to(slider.value_as_number() as u32);
        });
    }
}
