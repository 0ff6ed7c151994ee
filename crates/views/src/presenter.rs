//! The presenter: one step of a lesson fills the screen; keys, clickers, mouse and touch go from step to step.

// What is shown around the picture, and said aloud.
mod announcements;
mod cells;

// What it asks of the machine.
mod screen;

use crate::context::Context;
use announcements::Announcements;
use clothyard_studies::lesson::presentation::Presentation;
use clothyard_studies::lesson::quiz::Direction;
use clothyard_web::bus::{self, Event, Reply, Tick};
use clothyard_web::widgets::drawing::{Drawing, Item};
use clothyard_web::widgets::field;
use clothyard_web::{self as dom, Dom, Kind, View};
use core::cell::RefCell;
use screen::Screen;
use std::rc::Rc;
use wasm_bindgen::JsCast;
use web_sys::{HtmlDialogElement, HtmlInputElement};

const ID: &str = "projector";
/// The browser is about to paint.
const PAINT: Tick = Tick { view: ID, timer: "paint", count: 0 };
/// A lesson is there to be presented.
const BEGIN: &str = "begin";

/// Where the next lesson to be presented is put.
pub(crate) type Next = Rc<RefCell<Option<Presentation>>>;

/// Has a lesson presented, after this event.
pub(crate) fn begin(next: &Next, presentation: Presentation, context: &Context) {
    next.replace(Some(presentation));
    context.post(Event::Reply(Reply { view: ID, what: BEGIN, value: None }));
}

pub(crate) struct Presenter {
    next: Next,
    /// What is on the screen, while something is.
    shown: Option<Presentation>,
    /// The picture's room in pixels.
    room: (f64, f64),
    picture: Drawing,
    announcements: Announcements,
    screen: Screen,
    /// Where the slider was before the finger on it.
    slid_from: u32,
}

impl Presenter {
    pub(crate) fn new(next: &Next) -> Self {
        Self {
            next: next.clone(),
            shown: None,
            room: (0.0, 0.0),
            picture: Drawing::new("projector-picture", "projector-marks"),
            announcements: Announcements::default(),
            screen: Screen::default(),
            slid_from: 0,
        }
    }
}

impl View<Context> for Presenter {
    fn id(&self) -> &'static str {
        ID
    }

    fn changed(&mut self, event: &Event, context: &Context) -> bool {
        match event {
            Event::Resized => drop(self.lay_out()),
            // A screen that was put away has gone to sleep as it liked.
            Event::Visibility if self.shown.is_some() => screen::stay_awake(context),
            _ => {}
        }
        false
    }

    fn closed(&mut self, _: &Context) {
        self.leave();
    }

    fn click(&mut self, dom: &Dom, context: &Context) {
        if let Some(way) = dom.button().and_then(|button| button.get_attribute("data-way")) {
            let given = way.parse().ok().and_then(|place: usize| Direction::ALL.get(place).copied());
            return given.into_iter().for_each(|given| self.answer(given, context));
        }
        match dom.button_id().as_str() {
            "projector-back" => self.turn(Presentation::turn_back, context),
            "projector-next" => self.turn(Presentation::turn_on, context),
            "projector-play" => self.play(context),
            "projector-full" => screen::fill_or_not(),
            "projector-leave" => {
                self.leave();
                dialog().iter().for_each(HtmlDialogElement::close);
            }
            _ => {}
        }
    }

    fn input(&mut self, dom: &Dom, context: &Context) {
        if let Some(slider) = dom.target_as::<HtmlInputElement>() {
            let stop = slider.value_as_number() as u32;
            self.slide_and_say(context, &|shown| {
                shown.rest();
                shown.go_to(stop);
            });
        }
    }

    fn key(&mut self, dom: &Dom, context: &Context) {
        let Some(key) = dom.key().filter(|key| !key.ctrl_key() && !key.alt_key() && !key.meta_key()) else { return };
        let on_button = dom.target.tag_name() == "BUTTON";
        match key.key().as_str() {
            "ArrowRight" | "PageDown" => self.turn(Presentation::turn_on, context),
            " " if !on_button => self.turn(Presentation::turn_on, context),
            "ArrowLeft" | "PageUp" => self.turn(Presentation::turn_back, context),
            "Home" => self.turn(|shown| shown.turn_to(0), context),
            "End" => self.turn(|shown| shown.turn_to(usize::MAX), context),
            "ArrowUp" => self.slide_and_say(context, &|shown| shown.nudge(1)),
            "ArrowDown" => self.slide_and_say(context, &|shown| shown.nudge(-1)),
            "p" => self.play(context),
            "1" => self.answer(Direction::Up, context),
            "2" => self.answer(Direction::Down, context),
            "3" => self.answer(Direction::Stays, context),
            _ => return,
        }
        dom.prevent();
    }

    fn other(&mut self, dom: &Dom, context: &Context) {
        match dom.kind {
            Kind::PointerDown => self.slid_from = self.shown.as_ref().map_or(0, Presentation::stop),
            Kind::PointerCancel => {
                let stop = self.slid_from;
                self.slide_and_say(context, &|shown| shown.go_to(stop));
            }
            Kind::Close => self.leave(),
            _ => {}
        }
    }

    fn tick(&mut self, tick: Tick, _: &Context) {
        if tick == PAINT {
            self.slide(&|shown| shown.play_on(dom::now()));
            self.wait_for_paint();
        } else {
            self.announcements.say_waiting();
        }
    }

    fn reply(&mut self, reply: Reply, context: &Context) {
        match (reply.what, reply.value) {
            (BEGIN, _) => self.begin(context),
            (_, Some(lock)) => self.screen.keep(lock, self.shown.is_some()),
            _ => {}
        }
    }
}

fn dialog() -> Option<HtmlDialogElement> {
    dom::by_id(ID)?.dyn_into().ok()
}

impl Presenter {
    fn begin(&mut self, context: &Context) {
        self.shown = self.next.take();
        if dialog().is_none_or(|dialog| dialog.show_modal().is_err()) {
            self.shown = None;
        }
        field::focus("#projector-heading");
        screen::stay_awake(context);
        self.turn(|_| {}, context);
    }

    fn leave(&mut self) {
        self.shown = None;
        self.announcements.stop();
        self.screen.leave();
    }

    /// Turns to another step and shows all of it.
    fn turn(&mut self, turn: fn(&mut Presentation), context: &Context) {
        let Some(shown) = &mut self.shown else { return };
        turn(shown);
        let (introduction, asking) = (shown.introduction(), shown.is_asking());
        let words = self.show_step();
        let words = if asking { String::new() } else { words };
        self.announcements.say(format!("{introduction} {words}"), context);
    }

    /// Shows all of the step, and gives what it says.
    fn show_step(&mut self) -> String {
        self.shown.iter().for_each(cells::show_step);
        // What is written first takes its room; the picture has the rest.
        self.draw();
        self.lay_out()
    }

    /// Measures the picture's room and draws in it.
    fn lay_out(&mut self) -> String {
        self.room = cells::picture_room();
        self.draw()
    }

    /// Draws what the slider's place asks for, and gives what it says.
    fn draw(&mut self) -> String {
        let Some(shown) = &self.shown else { return String::new() };
        let (scene, drawing) = shown.draw(self.room);
        self.picture.show(drawing.marks.into_iter().map(|mark| Item::new(mark.style, mark.shape)), drawing.size);
        cells::show_scene(shown, &scene, &drawing.words);
        shown.stage().announcement(&scene, &drawing.words, shown.units())
    }

    /// Does something that may move the slider or change how it moves, and shows what did; gives what that says. What
    /// still moves by itself says nothing.
    fn slide(&mut self, change: &dyn Fn(&mut Presentation)) -> Option<String> {
        let shown = self.shown.as_mut()?;
        let before = (shown.stop(), shown.is_playing());
        change(shown);
        let after = (shown.stop(), shown.is_playing());
        cells::show_playing(shown);
        let words = (before != after).then(|| self.draw());
        words.filter(|_| !after.1)
    }

    fn slide_and_say(&mut self, context: &Context, change: &dyn Fn(&mut Presentation)) {
        self.slide(change).into_iter().for_each(|words| self.announcements.say(words, context));
    }

    fn play(&mut self, context: &Context) {
        self.slide_and_say(context, &|shown| shown.play(dom::now(), screen::is_still()));
        self.wait_for_paint();
    }

    fn answer(&mut self, given: Direction, context: &Context) {
        let Some(shown) = &mut self.shown else { return };
        if shown.answer(given, dom::now(), screen::is_still()) {
            let reply = shown.reply().unwrap_or_default();
            self.show_step();
            self.wait_for_paint();
            self.announcements.say(reply, context);
        }
    }

    /// Comes back when the browser is about to paint, while the slider moves by itself.
    fn wait_for_paint(&self) {
        if self.shown.as_ref().is_some_and(Presentation::is_playing) {
            bus::next_frame(crate::post, PAINT);
        }
    }
}
