//! The shot in slow motion: played, scrubbed or stepped through; as a strip of stills where nothing may move, and on
//! paper.

use crate::context::Context;
use clothyard_core::{Quantity, Units, format};
use clothyard_studies::shot::picture;
use clothyard_studies::shot::picture::{Extent, LANE_PX, STYLES, Scale};
use clothyard_studies::shot::{Film, Frame};
use clothyard_web::bus::{self, Tick};
use clothyard_web::widgets::table::{Row, Table};
use clothyard_web::widgets::{field, width};
use clothyard_web::{self as dom, Dom, View, shapes};
use web_sys::{Element, HtmlInputElement};

const ID: &str = "slow";
/// The browser is about to paint.
const PAINT: Tick = Tick { view: ID, timer: "paint", count: 0 };
/// Frames of a film; the slider in the markup counts as many.
const FRAMES: usize = 240;
/// Seconds in which the whole film is played.
const PLAYED_IN_S: f64 = 10.0;
/// Every so many frames are a row of the table.
const ROWS_EVERY: usize = 12;

/// What the view shows now.
struct Shown {
    /// The held setup's film, if one is held, then the page's own.
    films: Vec<(&'static str, Film)>,
    units: Units,
    scale: Scale,
    width: f64,
    /// The shapes of each lane.
    drawn: Vec<Vec<Element>>,
}

pub(crate) struct SlowMotion {
    shown: Option<Shown>,
    frame: usize,
    /// When playing began, in milliseconds, and with which frame.
    playing: Option<(f64, usize)>,
    table: Table,
}

impl Default for SlowMotion {
    fn default() -> Self {
        Self { shown: None, frame: 0, playing: None, table: Table::new("slow-table") }
    }
}

impl View<Context> for SlowMotion {
    fn id(&self) -> &'static str {
        ID
    }

    /// Films the shot, staying at the frame that is looked at.
    fn show(&mut self, context: &Context) {
        let Some(reading) = context.read() else { return };
        keep_still();
        let own = match Film::of(reading.all(), FRAMES) {
            Ok(film) => film,
            Err(error) => return self.show_nothing(error.sentence()),
        };
        let held = context.held().and_then(|held| Film::of(&held.all, FRAMES).ok());
        let own_name = if held.is_some() { "B, current" } else { "" };
        let mut films: Vec<_> = held.into_iter().map(|film| ("A, saved", film)).collect();
        films.push((own_name, own));
        let words = films.iter().map(|(name, film)| said_of(name, &film.sentence(&reading.units)));
        dom::write_id("slow-words", &words.collect::<Vec<_>>().join(" "));
        self.draw(films, reading.units);
    }

    fn closed(&mut self, _: &Context) {
        self.stop();
    }

    fn click(&mut self, dom: &Dom, _: &Context) {
        match dom.button_id().as_str() {
            "slow-play" => self.play_or_stop(),
            "slow-back" => self.go_to(self.frame.saturating_sub(1)),
            "slow-on" => self.go_to(self.frame + 1),
            _ => {}
        }
    }

    fn input(&mut self, dom: &Dom, _: &Context) {
        if let Some(input) = dom.target_as::<HtmlInputElement>().filter(|input| input.id() == SLIDER) {
            self.go_to(input.value_as_number() as usize);
        }
    }

    fn tick(&mut self, tick: Tick, _: &Context) {
        if tick == PAINT {
            self.play_on();
        }
    }
}

impl SlowMotion {
    /// Says why there is no film.
    fn show_nothing(&mut self, why: &str) {
        self.stop();
        self.shown = None;
        for id in ["slow-marks", "slow-stills-marks"] {
            dom::by_id(id).iter().for_each(dom::empty);
        }
        for id in ["slow-now", "slow-scale"] {
            dom::write_id(id, "");
        }
        self.table.show_rows(Vec::new());
        dom::write_id("slow-words", why);
    }

    fn draw(&mut self, films: Vec<(&'static str, Film)>, units: Units) {
        let (Some(svg), Some(marks)) = (dom::by_id("slow-film"), dom::by_id("slow-marks")) else { return };
        let width = width("slow-film");
        let scale = Extent::of(films.iter().map(|(_, film)| film)).scale(width);
        size(&svg, width, films.len());
        dom::empty(&marks);
        let drawn = films.iter().enumerate().map(|(lane, (name, _))| new_lane(&marks, lane, name)).collect();
        say_scale(&films, &scale);
        if let Some((_, film)) = films.last() {
            let rows = film.frames.iter().step_by(ROWS_EVERY).map(|frame| Row::plain(cells(frame, &units)));
            self.table.show(&headings(&units), rows.collect());
        }
        let shown = Shown { films, units, scale, width, drawn };
        stills(&shown);
        self.shown = Some(shown);
        self.show_frame();
    }

    /// Puts the frame that is looked at in the page.
    fn show_frame(&self) {
        let Some(shown) = &self.shown else { return };
        let mut said = Vec::new();
        for (lane, ((name, film), elements)) in shown.films.iter().zip(&shown.drawn).enumerate() {
            let Some(frame) = film.frames.get(self.frame) else { continue };
            outline(elements, film, frame, &shown.scale, lane);
            said.push(said_of(name, &frame.sentence(&shown.units)));
        }
        let said = said.join(" ");
        dom::write_id("slow-now", &said);
        if let Some(slider) = field::input(SLIDER) {
            slider.set_value(&format::fixed(self.frame as f64, 0));
            dom::set(&slider, "aria-valuetext", &said);
        }
    }

    /// Stops, at a frame.
    fn go_to(&mut self, frame: usize) {
        self.stop();
        self.frame = frame.min(FRAMES - 1);
        self.show_frame();
    }

    fn play_or_stop(&mut self) {
        if self.playing.is_some() || self.shown.is_none() {
            return self.stop();
        }
        let from = if self.frame + 1 >= FRAMES { 0 } else { self.frame };
        self.playing = Some((dom::now(), from));
        name_button(true);
        bus::next_frame(crate::post, PAINT);
    }

    /// Shows the frame whose time has come.
    fn play_on(&mut self) {
        let Some((began, from)) = self.playing else { return };
        let passed = (dom::now() - began) / 1e3 * (FRAMES as f64 / PLAYED_IN_S);
        self.frame = (from + passed as usize).min(FRAMES - 1);
        self.show_frame();
        if self.frame + 1 < FRAMES { bus::next_frame(crate::post, PAINT) } else { self.stop() }
    }

    fn stop(&mut self) {
        if self.playing.take().is_some() {
            name_button(false);
        }
    }
}

const SLIDER: &str = "slow-time";

fn name_button(playing: bool) {
    dom::write_id("slow-play", if playing { "Stop" } else { "Play" });
}

fn size(svg: &Element, width: f64, lanes: usize) {
    let high = format::fixed(LANE_PX * lanes as f64, 0);
    dom::set(svg, "viewBox", &format!("0 0 {} {high}", format::fixed(width, 0)));
    dom::set(svg, "height", &high);
}

fn outline(elements: &[Element], film: &Film, frame: &Frame, scale: &Scale, lane: usize) {
    let middle = LANE_PX * (lane as f64 + 0.5);
    for (element, shape) in elements.iter().zip(picture::draw(film, frame, scale, middle)) {
        shapes::outline(element, &shape);
    }
}

/// Where nothing may move there is the strip in place of playing.
fn keep_still() {
    let still = dom::window()
        .and_then(|window| window.match_media("(prefers-reduced-motion: reduce)").ok()?)
        .is_some_and(|query| query.matches());
    dom::hide("slow-play", still);
    if still {
        dom::by_id("slow-strip").iter().for_each(|strip| dom::flag(strip, "open", true));
    }
}

fn said_of(name: &str, sentence: &str) -> String {
    if name.is_empty() { sentence.to_owned() } else { format!("{name}: {sentence}") }
}

/// The shapes of a lane, as yet without an outline, and its name.
fn new_lane(marks: &Element, lane: usize, name: &str) -> Vec<Element> {
    if let Some(label) = dom::add_shape(marks, "text").filter(|_| !name.is_empty()) {
        dom::set(&label, "x", "8");
        dom::set(&label, "y", &format::fixed(LANE_PX * lane as f64 + 18.0, 0));
        dom::write(&label, name);
    }
    let shape = |&style: &&str| {
        let tag = if matches!(style, "line" | "string") { "line" } else { "polygon" };
        let element = dom::add_shape(marks, tag)?;
        dom::set(&element, "class", style);
        Some(element)
    };
    STYLES.iter().filter_map(shape).collect()
}

fn say_scale(films: &[(&'static str, Film)], scale: &Scale) {
    let Some(seconds) = films.iter().filter_map(|(_, film)| Some(film.frames.last()?.time_s)).reduce(f64::max) else {
        return;
    };
    let slower = format::fixed(PLAYED_IN_S / seconds, 0);
    dom::write_id(
        "slow-scale",
        &format!(
            "View from above, moving with the arrow. Bend enlarged {} times; drift and rotation of the whole arrow not shown. The hatched band shows the compression. {slower} times slower than real.",
            format::fixed(scale.exaggerated, 0)
        ),
    );
}

/// A few frames under each other, for paper and for those who want nothing to move.
fn stills(shown: &Shown) {
    let (Some(svg), Some(marks)) = (dom::by_id("slow-stills"), dom::by_id("slow-stills-marks")) else { return };
    dom::empty(&marks);
    let Some((_, film)) = shown.films.last() else { return };
    let list = picture::stills(film);
    size(&svg, shown.width, list.len());
    for (lane, frame) in list.into_iter().enumerate() {
        let Some(frame) = film.frames.get(frame) else { continue };
        let name = format!("{} ms", format::fixed(1e3 * frame.time_s, 1));
        outline(&new_lane(&marks, lane, &name), film, frame, &shown.scale, lane);
    }
}

fn headings(units: &Units) -> [String; 5] {
    [
        "Time, ms".to_owned(),
        "Contact".to_owned(),
        format::heading("Speed", Quantity::Speed, units),
        format::heading("Push at nock", Quantity::DrawWeight, units),
        format::heading("Max bend", Quantity::SmallLength, units),
    ]
}

fn cells(frame: &Frame, units: &Units) -> [String; 5] {
    let bare = |quantity: Quantity, si: f64| format::bare(quantity, quantity.from_si(si), units);
    [
        format::fixed(1e3 * frame.time_s, 1),
        frame.held_by().to_owned(),
        bare(Quantity::Speed, frame.speed_m_per_s),
        bare(Quantity::DrawWeight, frame.push_n()),
        format::fixed(units.show(Quantity::SmallLength, Quantity::SmallLength.from_si(frame.most_bent_m())), 4),
    ]
}
