//! The tuning log: entries added and removed, their reading, and tuning changes.

use super::save_table;
use crate::context::{Context, Reading};
use crate::entry::{self, Asked, Refused};
use crate::library;
use clothyard_core::schema::{Column, List};
use clothyard_core::{Quantity, Setup, Units, format};
use clothyard_studies::production::log::{Compared, Entry, Shooter, Tear, entries, step};
use clothyard_studies::production::log_words::{day_of_iso, to_csv, trend_sentence};
use clothyard_studies::production::{guide, log_picture};
use clothyard_web::widgets::list::{self, Act};
use clothyard_web::widgets::{field, select};
use clothyard_web::{self as dom, Dom, Kind, View, shapes};
use web_sys::Element;

const SAID: &str = "tuning-said";
const DONE: &str = "tuning-done";
const STEP: &str = "tuning-step";

/// A step of the match until another is typed, in pounds.
const USUAL_STEP_LB: f64 = 2.0;

/// Steps that are allowed, in pounds.
const STEPS_LB: (f64, f64) = (0.1, 20.0);

pub(crate) struct TuningLog {
    step_lb: f64,
    /// The units in which the field shows the step.
    shown_in: Option<Units>,
}

impl Default for TuningLog {
    fn default() -> Self {
        Self { step_lb: USUAL_STEP_LB, shown_in: None }
    }
}

impl View<Context> for TuningLog {
    fn id(&self) -> &'static str {
        "tuning"
    }

    fn show(&mut self, context: &Context) {
        let Some(now) = context.read() else { return };
        let fields = [
            ("tuning-distance-unit", Quantity::Distance),
            ("tuning-across-unit", Quantity::Length),
            ("tuning-height-unit", Quantity::Length),
            ("tuning-step-unit", Quantity::DrawWeight),
        ];
        fields.iter().for_each(|&(id, quantity)| dom::write_id(id, now.units.of(quantity).symbol));
        if self.shown_in.replace(now.units) != Some(now.units) {
            field::write(STEP, &format::entered(Quantity::DrawWeight, self.step_lb, &now.units));
        }
        show_guide(&now);
        show_entries(&now);
        self.show_step(&now);
    }

    fn click(&mut self, dom: &Dom, context: &Context) {
        if dom.button_id() == "tuning-csv" {
            let Some(now) = context.read() else { return };
            let list = entries(now.setup.lists.rows(List::Tuning));
            return save_table("clothyard-tuning.csv", &to_csv(&list, Shooter::of(now.all()), &now.units), SAID);
        }
        if let Some((Act::Remove, place)) = list::pressed(dom, &[Act::Remove]) {
            remove(place, context);
            self.show(context);
        }
    }

    fn input(&mut self, dom: &Dom, context: &Context) {
        if dom.id() == STEP {
            self.read_step(context);
        }
    }

    fn other(&mut self, dom: &Dom, context: &Context) {
        match dom.kind {
            Kind::Focus => field::own_undo(dom),
            Kind::Submit => put_in(context),
            _ => {}
        }
    }
}

impl TuningLog {
    fn show_step(&self, now: &Reading) {
        let held = now.evaluated().baseline();
        let [weaker, stiffer] = [self.step_lb, -self.step_lb].map(|by| step(&held, by));
        dom::write_id("tuning-weaker", &weaker.sentence(&now.units));
        dom::write_id("tuning-stiffer", &stiffer.sentence(&now.units));
        let last = entries(now.setup.lists.rows(List::Tuning)).pop();
        let first = |entry| guide::first_step(&entry, Shooter::of(now.all()), [&weaker, &stiffer], &now.units);
        dom::write_id("tuning-first", &last.map(first).unwrap_or_default());
    }

    fn read_step(&mut self, context: &Context) {
        let Some(now) = context.read() else { return };
        let (least, most) = STEPS_LB;
        let label = "Step";
        let typed = field::number(&field::text(STEP), label, Quantity::DrawWeight, &now.units);
        let step = typed.and_then(|pounds| {
            let said = |pounds: f64| format::entered_with_unit(Quantity::DrawWeight, pounds, &now.units);
            let allowed = (least..=most).contains(&pounds);
            if allowed { Ok(pounds) } else { Err(format!("{label}: {} to {}.", said(least), said(most))) }
        });
        field::say(STEP, "tuning-step-said", step.as_ref().err().map_or("", String::as_str));
        if let Ok(pounds) = step {
            (self.step_lb, self.shown_in) = (pounds, Some(now.units));
            self.show_step(&now);
        }
    }
}

fn show_guide(now: &Reading) {
    let Some(list) = dom::by_id("tuning-guide-list") else { return };
    dom::empty(&list);
    for (title, words) in guide::steps(now.all()) {
        let Some(item) = dom::add(&list, "li", "", "") else { continue };
        dom::add(&item, "b", "", title);
        dom::add(&item, "p", "", words);
    }
}

fn show_entries(now: &Reading) {
    let entries = entries(now.setup.lists.rows(List::Tuning));
    dom::hide("tuning-none", !entries.is_empty());
    dom::hide("tuning-list", entries.is_empty());
    dom::hide("tuning-csv", entries.is_empty());
    let two = if entries.is_empty() { String::new() } else { trend_sentence(&entries, &now.units) };
    dom::write_id("tuning-two", &two);
    let Some(element) = dom::by_id("tuning-list") else { return };
    dom::empty(&element);
    let count = entries.len();
    for (place, entry) in entries.iter().enumerate().rev() {
        show_entry(&element, (place, count), entry, now);
    }
}

fn show_entry(parent: &Element, (place, count): (usize, usize), entry: &Entry, now: &Reading) {
    let Some(item) = dom::add(parent, "li", "", "") else { return };
    if let (Some(shapes), Some(picture)) = (log_picture::draw(entry), dom::add_shape(&item, "svg")) {
        let size = format::fixed(log_picture::SIZE, 0);
        dom::set(&picture, "viewBox", &format!("0 0 {size} {size}"));
        dom::set(&picture, "aria-hidden", "true");
        shapes.iter().for_each(|(style, shape)| drop(shapes::add(&picture, shape, style)));
    }
    let what = entry.what(&now.units);
    dom::add(&item, "b", "", &what);
    dom::add(&item, "p", "", &entry.reading(Shooter::of(now.all())));
    dom::add(&item, "p", "quiet", &entry.with_what(&now.units));
    let name = format!("Remove entry {}: {what}", place + 1);
    list::button(&item, Act::Remove, "Remove", &name, (place, count));
}

const DISTANCE: Asked = ("tuning-distance", "Distance");
const ACROSS: Asked = ("tuning-across", "Left or right");
const HEIGHT: Asked = ("tuning-height", "Low or high");
const SHOTS: Asked = ("tuning-shots", "Shots of each");

/// The entry as typed.
fn typed(now: &Reading) -> Result<Vec<Option<f64>>, Refused> {
    let [distance, across, height, .., shots, _, _] = List::Tuning.spec().columns else { return Ok(Vec::new()) };
    let side = |asked: Asked, column: &Column, (select, below): (&str, &str)| {
        let size = entry::optional(asked, column, &now.units)?;
        Ok(size.map(|size| if select::chosen(select) == below { -size } else { size }))
    };
    let across = side(ACROSS, across, ("tuning-side", "left"))?;
    let height = side(HEIGHT, height, ("tuning-way", "low"))?;
    let tear = Tear::ALL.iter().enumerate().find(|(place, _)| select::chosen("tuning-tear") == place.to_string());
    let distance = entry::needed(DISTANCE, distance, &now.units, "enter your shooting distance.")?;
    if across.or(height).is_none() && tear.is_none() {
        return Err((
            ACROSS.0,
            "Enter the bare-shaft impact (0 if it hit with the fletched) or the paper tear.".into(),
        ));
    }
    let entry = Entry {
        right_in: across,
        up_in: height,
        tear: tear.map(|(_, &tear)| tear),
        shots: entry::optional(SHOTS, shots, &now.units)?,
        day: day_of_iso(&library::today()),
        kind: if select::chosen("tuning-kind") == "broadhead" { Compared::Broadhead } else { Compared::BareShaft },
        ..Entry::at(distance)
    };
    Ok(entry.with_setup(now.all()).row())
}

fn put_in(context: &Context) {
    let Some(now) = context.read() else { return };
    for id in [DISTANCE.0, ACROSS.0, HEIGHT.0, SHOTS.0] {
        field::say(id, SAID, "");
    }
    let row = match typed(&now) {
        Ok(row) => row,
        Err((id, why)) => {
            dom::write_id(DONE, "");
            return field::say(id, SAID, &why);
        }
    };
    let mut rows = now.setup.lists.rows(List::Tuning).to_vec();
    rows.push(row);
    let count = rows.len();
    if set_rows(now.setup.clone(), rows, context) {
        dom::write_id(DONE, &format!("Added entry {count}."));
    } else {
        let most = List::Tuning.spec().max_rows;
        dom::write_id(SAID, &format!("Not added: {most} entries is the maximum. Save the log and remove some."));
    }
}

fn set_rows(mut setup: Setup, rows: Vec<Vec<Option<f64>>>, context: &Context) -> bool {
    let done = setup.lists.set(List::Tuning, rows).is_ok();
    if done {
        context.load(&setup);
    }
    done
}

fn remove(place: usize, context: &Context) {
    let Some(setup) = context.setup() else { return };
    let mut rows = setup.lists.rows(List::Tuning).to_vec();
    if Act::Remove.apply(&mut rows, place).is_some() && set_rows(setup, rows, context) {
        dom::write_id(DONE, "Removed. Undo restores it.");
        // The button goes; the form takes the focus.
        field::focus("#tuning-distance");
    }
}
