//! The shot in slow motion: played, scrubbed or stepped through; as a strip of stills where nothing may move, and on
//! paper.

use crate::context::Context;
use clothyard_core::drawing::Shape;
use clothyard_core::{Quantity, Units, format};
use clothyard_studies::shot::picture::{self, CURVE_PX, Extent, LANE_PX, MAGNIFICATIONS, Scale, Styled};
use clothyard_studies::shot::{Film, Frame};
use clothyard_web::bus::{self, Tick};
use clothyard_web::widgets::drawing::{Drawing, Item};
use clothyard_web::widgets::table::{Row, Table};
use clothyard_web::widgets::{field, select, width};
use clothyard_web::{self as dom, Dom, View};
use web_sys::HtmlInputElement;

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
}

pub(crate) struct SlowMotion {
    shown: Option<Shown>,
    frame: usize,
    /// When playing began, in milliseconds, and with which frame.
    playing: Option<(f64, usize)>,
    film: Drawing,
    curve: Drawing,
    stills: Drawing,
    table: Table,
}

impl Default for SlowMotion {
    fn default() -> Self {
        Self {
            shown: None,
            frame: 0,
            playing: None,
            film: Drawing::new("slow-film", "slow-marks"),
            curve: Drawing::new("slow-curve", "slow-curve-marks"),
            stills: Drawing::new("slow-stills", "slow-stills-marks"),
            table: Table::new("slow-table"),
        }
    }
}

impl View<Context> for SlowMotion {
    fn id(&self) -> &'static str {
        ID
    }

    fn start(&mut self, _: &Context) {
        let named = |times: &f64| (format::fixed(*times, 0), format!("× {}", format::fixed(*times, 0)));
        let all: Vec<_> =
            [(String::new(), "to fit".to_owned())].into_iter().chain(MAGNIFICATIONS.iter().map(named)).collect();
        select::fill(TIMES, all.iter().map(|(value, words)| (value.as_str(), words.as_str())));
    }

    fn change(&mut self, dom: &Dom, context: &Context) {
        if dom.id() == TIMES {
            self.show(context);
        }
    }

    /// Films the shot, staying at the frame that is looked at.
    fn show(&mut self, context: &Context) {
        let Some(reading) = context.read() else { return };
        keep_still();
        let own = match Film::of(reading.all(), FRAMES) {
            Ok(film) => film,
            Err(error) => return self.show_nothing(error.sentence()),
        };
        let held = context.held().and_then(|held| Some((Film::of(&held.all, FRAMES).ok()?, held)));
        let films = match held {
            None => vec![("", own)],
            Some((film, held)) => {
                // Both until the later end, so that each frame is the same moment.
                let end_s = film.end_s().max(own.end_s());
                let again = |all, film| Film::until(all, FRAMES, end_s).unwrap_or(film);
                vec![("A, saved", again(&held.all, film)), ("B, current", again(reading.all(), own))]
            }
        };
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
        for drawing in [&mut self.film, &mut self.curve, &mut self.stills] {
            drawing.show([], (1.0, 1.0));
        }
        for id in ["slow-now", "slow-scale"] {
            dom::write_id(id, "");
        }
        self.table.show_rows(Vec::new());
        dom::write_id("slow-words", why);
    }

    fn draw(&mut self, films: Vec<(&'static str, Film)>, units: Units) {
        let width = width("slow-film");
        let fits = Extent::of(films.iter().map(|(_, film)| film)).scale(width);
        let scale = select::chosen(TIMES).parse().map_or(fits, |times| fits.exaggerating(times));
        say_scale(&films, &scale);
        if let Some((_, film)) = films.last() {
            let rows = film.frames.iter().step_by(ROWS_EVERY).map(|frame| Row::plain(cells(frame, &units)));
            self.table.show(&headings(&units), rows.collect());
        }
        let shown = Shown { films, units, scale, width };
        self.draw_stills(&shown);
        self.shown = Some(shown);
        self.show_frame();
    }

    /// Puts the frame that is looked at in the page.
    fn show_frame(&mut self) {
        let Some(shown) = &self.shown else { return };
        let (mut said, mut items) = (Vec::new(), Vec::new());
        for (lane, (name, film)) in shown.films.iter().enumerate() {
            let Some(frame) = film.frames.get(self.frame) else { continue };
            let middle = LANE_PX * (lane as f64 + 0.5);
            let others = shown.films.iter().enumerate().filter(|(place, _)| *place != lane);
            for (_, (_, other)) in others {
                let ghost =
                    other.frames.get(self.frame).map(|frame| picture::ghost(other, frame, &shown.scale, middle));
                items.extend(ghost);
            }
            items.extend(picture::draw(film, frame, &shown.scale, middle));
            items.push(lane_name(lane, name));
            said.push(said_of(name, &frame.sentence(&shown.units)));
        }
        self.film.show(styled(items), (shown.width, LANE_PX * shown.films.len() as f64));
        let films: Vec<_> = shown.films.iter().map(|(_, film)| film).collect();
        let curve = picture::bend_curve(&films, self.frame, shown.width, &shown.units);
        self.curve.show(styled(curve), (shown.width, CURVE_PX));
        let said = said.join(" ");
        dom::write_id("slow-now", &said);
        if let Some(slider) = field::input(SLIDER) {
            slider.set_value(&format::fixed(self.frame as f64, 0));
            dom::set(&slider, "aria-valuetext", &said);
        }
    }

    /// A few frames under each other, for paper and for those who want nothing to move.
    fn draw_stills(&mut self, shown: &Shown) {
        let Some((_, film)) = shown.films.last() else { return };
        let list = picture::stills(film);
        let size = (shown.width, LANE_PX * list.len() as f64);
        let mut items = Vec::new();
        for (lane, frame) in list.into_iter().enumerate() {
            let Some(frame) = film.frames.get(frame) else { continue };
            items.extend(picture::draw(film, frame, &shown.scale, LANE_PX * (lane as f64 + 0.5)));
            items.push(lane_name(lane, &format!("{} ms", format::fixed(1e3 * frame.time_s, 1))));
        }
        self.stills.show(styled(items), size);
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
/// How many times the bend is drawn larger.
const TIMES: &str = "slow-times";

fn name_button(playing: bool) {
    dom::write_id("slow-play", if playing { "Stop" } else { "Play" });
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

fn styled(shapes: Vec<Styled>) -> impl Iterator<Item = Item> {
    shapes.into_iter().map(|(style, shape)| Item::new(style, shape))
}

/// What a lane shows, in its corner.
fn lane_name(lane: usize, name: &str) -> Styled {
    ("name", Shape::Text((8.0, LANE_PX * lane as f64 + 18.0), "start", name.to_owned()))
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
