//! The shot in slow motion: played, scrubbed or stepped through; as a strip of stills where nothing may move, and on
//! paper.

use crate::{ask, page};
use clothyard_core::{Quantity, Units, format};
use clothyard_studies::shot::picture;
use clothyard_studies::shot::picture::{Extent, LANE_PX, STYLES, Scale};
use clothyard_studies::shot::{Film, Frame};
use clothyard_web::{self as dom, shapes};
use std::cell::RefCell;
use wasm_bindgen::JsCast;
use wasm_bindgen::closure::Closure;
use web_sys::{Element, Event, HtmlInputElement};

/// Frames of a film; the slider in the markup counts as many.
const FRAMES: usize = 240;
/// Seconds in which the whole film is played.
const PLAYED_IN_S: f64 = 10.0;
/// Every so many frames are a row of the table.
const ROWS_EVERY: usize = 12;

/// What the view shows now.
struct Shown {
    /// The held set-up's film, if one is held, then the page's own.
    films: Vec<(&'static str, Film)>,
    units: Units,
    scale: Scale,
    /// The shapes of each lane.
    drawn: Vec<Vec<Element>>,
    frame: usize,
    /// When playing began and with which frame.
    playing: Option<(f64, usize)>,
}

thread_local! {
    static SHOWN: RefCell<Option<Shown>> = const { RefCell::new(None) };
}

/// Starts the view; called once.
pub(crate) fn start() {
    let Some(view) = dom::by_id("slow") else { return };
    dom::listen(&view, "toggle", |_: Event| show());
    dom::listen(&view, "click", on_click);
    dom::listen(&view, "input", on_scrub);
    if let Some(window) = dom::window() {
        dom::listen(&window, "resize", |_: Event| show());
        dom::listen(&window, "clothyard-held", |_: Event| show());
    }
    page::on_change(|_: Event| show());
    show();
}

/// Films the shot anew, staying at the frame that is looked at.
fn show() {
    if !ask::is_open("slow") {
        return stop();
    }
    let Some(reading) = page::read() else { return };
    keep_still();
    let own = match Film::of(reading.all(), FRAMES) {
        Ok(film) => film,
        Err(error) => return nothing(error.sentence()),
    };
    let held = page::held().and_then(|held| Film::of(&held.all, FRAMES).ok());
    let both = held.is_some();
    let mut films: Vec<_> = held.into_iter().map(|film| ("A, held", film)).collect();
    films.push((if both { "B, on the page" } else { "" }, own));
    let units = reading.units;
    let words = films.iter().map(|(name, film)| said_of(name, &film.sentence(&units))).collect::<Vec<_>>();
    dom::write_id("slow-words", &words.join(" "));
    draw(films, units);
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

/// Says why there is no film.
fn nothing(why: &str) {
    stop();
    SHOWN.set(None);
    for id in ["slow-marks", "slow-stills-marks"] {
        dom::by_id(id).iter().for_each(dom::empty);
    }
    for id in ["slow-now", "slow-scale"] {
        dom::write_id(id, "");
    }
    let _ = ask::fresh_body("slow-table");
    dom::write_id("slow-words", why);
}

fn said_of(name: &str, sentence: &str) -> String {
    if name.is_empty() { sentence.to_owned() } else { format!("{name}: {sentence}") }
}

fn draw(films: Vec<(&'static str, Film)>, units: Units) {
    let (Some(svg), Some(marks)) = (dom::by_id("slow-film"), dom::by_id("slow-marks")) else { return };
    let width = svg.get_bounding_client_rect().width().max(280.0);
    let scale = Extent::of(films.iter().map(|(_, film)| film)).scale(width);
    let high = LANE_PX * films.len() as f64;
    dom::set(&svg, "viewBox", &format!("0 0 {} {}", format::fixed(width, 0), format::fixed(high, 0)));
    dom::set(&svg, "height", &format::fixed(high, 0));
    dom::empty(&marks);
    let (frame, playing) =
        SHOWN.with_borrow(|shown| shown.as_ref().map_or((0, None), |shown| (shown.frame, shown.playing)));
    let drawn = films.iter().enumerate().map(|(lane, (name, _))| new_lane(&marks, lane, name)).collect();
    say_scale(&films, &scale);
    table(&films, &units);
    let shown = Shown { films, units, scale, drawn, frame, playing };
    stills(&shown);
    show_frame(&shown);
    SHOWN.set(Some(shown));
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

fn middle(lane: usize) -> f64 {
    LANE_PX * (lane as f64 + 0.5)
}

/// Puts the frame that is looked at in the page.
fn show_frame(shown: &Shown) {
    let mut said = Vec::new();
    for (lane, ((name, film), elements)) in shown.films.iter().zip(&shown.drawn).enumerate() {
        let Some(frame) = film.frames.get(shown.frame) else { continue };
        for (element, shape) in elements.iter().zip(picture::draw(film, frame, &shown.scale, middle(lane))) {
            shapes::outline(element, &shape);
        }
        said.push(said_of(name, &frame.sentence(&shown.units)));
    }
    let said = said.join(" ");
    dom::write_id("slow-now", &said);
    if let Some(slider) = slider() {
        slider.set_value(&format::fixed(shown.frame as f64, 0));
        dom::set(&slider, "aria-valuetext", &said);
    }
}

fn say_scale(films: &[(&'static str, Film)], scale: &Scale) {
    let Some(seconds) = films.iter().filter_map(|(_, film)| Some(film.frames.last()?.time_s)).reduce(f64::max) else {
        return;
    };
    let slower = format::fixed(PLAYED_IN_S / seconds, 0);
    dom::write_id(
        "slow-scale",
        &format!(
            "Seen from above, riding along with the arrow: string and rest go by. The bend is drawn {} times as large as the length, the drift and turn of the whole arrow left out; the hatched band shows how hard each place is pressed. Played {slower} times slower than it is.",
            format::fixed(scale.exaggerated, 0)
        ),
    );
}

/// A few frames under each other, for paper and for those who want nothing to move.
fn stills(shown: &Shown) {
    let (Some(svg), Some(marks)) = (dom::by_id("slow-stills"), dom::by_id("slow-stills-marks")) else { return };
    dom::empty(&marks);
    let Some((_, film)) = shown.films.last() else { return };
    let width = dom::by_id("slow-film").and_then(|film| film.get_attribute("viewBox")).unwrap_or_default();
    let width = width.split(' ').nth(2).unwrap_or("700").to_owned();
    let list = picture::stills(film);
    let high = format::fixed(LANE_PX * list.len() as f64, 0);
    dom::set(&svg, "viewBox", &format!("0 0 {width} {high}"));
    dom::set(&svg, "height", &high);
    for (lane, frame) in list.into_iter().enumerate() {
        let Some(frame) = film.frames.get(frame) else { continue };
        let name = format!("{} ms", format::fixed(1e3 * frame.time_s, 1));
        for (element, shape) in
            new_lane(&marks, lane, &name).iter().zip(picture::draw(film, frame, &shown.scale, middle(lane)))
        {
            shapes::outline(element, &shape);
        }
    }
}

fn table(films: &[(&'static str, Film)], units: &Units) {
    let names = [
        "Time, ms".to_owned(),
        "Held by".to_owned(),
        format::heading("Speed", Quantity::Speed, units),
        format::heading("Push at the nock", Quantity::DrawWeight, units),
        format::heading("Bend at most", Quantity::SmallLength, units),
    ];
    ask::headings("slow-table", &names);
    let (Some(body), Some((_, film))) = (ask::fresh_body("slow-table"), films.last()) else { return };
    for frame in film.frames.iter().step_by(ROWS_EVERY) {
        let Some(row) = dom::add(&body, "tr", "", "") else { continue };
        for cell in cells(frame, units) {
            dom::add(&row, "td", "", &cell);
        }
    }
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

fn slider() -> Option<HtmlInputElement> {
    dom::by_id("slow-time")?.dyn_into().ok()
}

fn on_scrub(event: Event) {
    let Some(input) = dom::target::<HtmlInputElement>(&event) else { return };
    if input.id() == "slow-time" {
        stop();
        go_to(input.value_as_number() as usize);
    }
}

fn go_to(frame: usize) {
    SHOWN.with_borrow_mut(|shown| {
        if let Some(shown) = shown {
            shown.frame = frame.min(FRAMES - 1);
            show_frame(shown);
        }
    });
}

fn step(on: bool) {
    stop();
    let frame = SHOWN.with_borrow(|shown| shown.as_ref().map_or(0, |shown| shown.frame));
    go_to(if on { frame + 1 } else { frame.saturating_sub(1) });
}

fn on_click(event: Event) {
    match dom::target::<Element>(&event).map(|target| target.id()).as_deref() {
        Some("slow-play") => play_or_stop(),
        Some("slow-back") => step(false),
        Some("slow-on") => step(true),
        _ => {}
    }
}

fn play_or_stop() {
    let playing = SHOWN.with_borrow_mut(|shown| {
        let shown = shown.as_mut()?;
        let from = if shown.frame + 1 >= FRAMES { 0 } else { shown.frame };
        shown.playing = if shown.playing.is_some() { None } else { Some((dom::now(), from)) };
        Some(shown.playing.is_some())
    });
    name_button(playing == Some(true));
    if playing == Some(true) {
        next_picture();
    }
}

fn stop() {
    let was = SHOWN.with_borrow_mut(|shown| shown.as_mut().and_then(|shown| shown.playing.take()));
    if was.is_some() {
        name_button(false);
    }
}

fn name_button(playing: bool) {
    dom::write_id("slow-play", if playing { "Stop" } else { "Play" });
}

/// Asks the browser to call when it paints next.
fn next_picture() {
    let call = Closure::once_into_js(on_picture);
    if let Some(window) = dom::window() {
        let _ = window.request_animation_frame(call.unchecked_ref());
    }
}

fn on_picture() {
    let goes_on = SHOWN.with_borrow_mut(|shown| {
        let Some(shown) = shown else { return false };
        let Some((began, from)) = shown.playing else { return false };
        let passed = (dom::now() - began) / 1e3 * (FRAMES as f64 / PLAYED_IN_S);
        shown.frame = (from + passed as usize).min(FRAMES - 1);
        show_frame(shown);
        shown.frame + 1 < FRAMES
    });
    if goes_on { next_picture() } else { stop() }
}
