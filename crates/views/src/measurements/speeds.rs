//! Chronograph readings: a pad to add shots, each shot against the fit, and the text to paste or edit.

use crate::context::{Context, Reading};
use crate::entry::{self, Asked, Refused};
use crate::readings::Readings;
use clothyard_core::schema::{List, Row as Numbers};
use clothyard_core::{Field, Quantity, Units, format};
use clothyard_studies::measurements::speeds;
use clothyard_studies::measurements::speeds::Speeds as Fit;
use clothyard_web::bus::Tick;
use clothyard_web::protocol::storage;
use clothyard_web::widgets::list::{self, Act};
use clothyard_web::widgets::table::{Row, Table};
use clothyard_web::widgets::{field, pad};
use clothyard_web::{self as dom, Dom, Kind, View};

const ID: &str = "bench-speeds";
const SHOTS: &str = "bench-shots";
const TEXT: &str = "bench-speeds-text";
const SAID: &str = "bench-shot-said";
const DONE: &str = "bench-shot-done";
const ARROW: Asked = ("bench-shot-arrow", "Arrow weight");
const SPEED: Asked = ("bench-shot-speed", "Speed");

/// The fields of the form that are one shot.
const OF_FORM: [Field; 2] = [Field::ChronographArrow, Field::ChronographSpeed];

pub(crate) struct Speeds {
    readings: Readings,
    shots: Table,
    /// The units that the weight in the pad was written in.
    shown_in: Option<Units>,
}

impl Default for Speeds {
    fn default() -> Self {
        let readings = Readings::new(ID, TEXT, List::Speeds, storage::SPEEDS_DRAFT);
        Self { readings, shots: Table::new(SHOTS), shown_in: None }
    }
}

impl View<Context> for Speeds {
    fn id(&self) -> &'static str {
        ID
    }

    fn show(&mut self, context: &Context) {
        let Some(now) = super::read(context) else { return };
        self.readings.follow(&now, context);
        if field::is_invalid(TEXT) {
            dom::by_id("bench-speeds-paste").iter().for_each(|part| dom::flag(part, "open", true));
        }
        self.write_arrow(&now);
        let (all, units) = (now.all(), &now.units);
        list::lines("bench-shot-groups", &speeds::groups(all.resolved.chronograph_readings().all(), units));
        let read = speeds::of(all);
        let (takeaway, facts) = match &read {
            None if all.resolved.chronograph_readings().all().is_empty() => ("No readings.".to_owned(), Vec::new()),
            None => ("These inputs do not describe a bow. See the warnings.".to_owned(), Vec::new()),
            Some(read) => (speeds::takeaway(read, units), speeds::facts(read, all, units)),
        };
        dom::write_id("bench-speeds-words", &takeaway);
        list::lines("bench-speeds-facts", &facts);
        dom::hide(SHOTS, read.is_none());
        if let Some(read) = read {
            self.show_shots(&read, &now);
        }
    }

    fn click(&mut self, dom: &Dom, context: &Context) {
        if pad::pressed(dom, SPEED.0) {
            field::say(SPEED.0, SAID, "");
        } else if let Some((Act::Remove, place)) = list::pressed(dom, &[Act::Remove]) {
            self.remove(place, context);
        }
    }

    fn input(&mut self, dom: &Dom, _: &Context) {
        self.readings.input(dom);
    }

    fn change(&mut self, dom: &Dom, context: &Context) {
        self.readings.change(dom, context);
    }

    fn tick(&mut self, tick: Tick, context: &Context) {
        self.readings.tick(tick, context);
    }

    fn other(&mut self, dom: &Dom, context: &Context) {
        match dom.kind {
            Kind::Focus => field::own_undo(dom),
            Kind::Submit => self.add(context),
            _ => {}
        }
    }
}

impl Speeds {
    /// Writes the weight of the arrow shot next, unless one was typed in these units.
    fn write_arrow(&mut self, now: &Reading) {
        let same_units = self.shown_in.replace(now.units) == Some(now.units);
        dom::write_id("bench-shot-arrow-unit", now.units.of(Quantity::Mass).symbol);
        dom::write_id("bench-shot-speed-unit", now.units.of(Quantity::Speed).symbol);
        if same_units && !field::text(ARROW.0).is_empty() {
            return;
        }
        if let Some(grains) = speeds::next_arrow_gr(&now.setup, now.all()) {
            field::write(ARROW.0, &format::entered(Quantity::Mass, grains, &now.units));
        }
    }

    /// The shots, the last one first.
    fn show_shots(&mut self, read: &Fit, now: &Reading) {
        let listed = now.setup.lists.rows(List::Speeds).len();
        let headings = ["Shot", "Arrow", "Speed", "Off the fit", "Remove"].map(str::to_owned);
        let shots: Vec<_> = read.shots.all().iter().enumerate().rev().collect();
        let named: Vec<_> = shots.iter().map(|&(place, _)| speeds::shot_name(read, place, listed)).collect();
        let row = |(&(_, shot), name): (&(usize, _), &String)| {
            let words = speeds::row(read, shot, &now.units).into_iter().chain([String::new()]);
            Row::headed(name.clone(), words.collect::<Vec<_>>())
        };
        self.shots.show(&headings, shots.iter().zip(&named).map(row).collect());
        for (at, (&(place, _), name)) in shots.iter().zip(&named).enumerate() {
            let Some(cell) = self.shots.cell(at, 3) else { continue };
            if cell.child_element_count() == 0 {
                list::button(cell, Act::Remove, "×", &format!("Remove shot {name}"), (place, shots.len()));
            }
        }
    }

    fn add(&mut self, context: &Context) {
        let Some(now) = context.read() else { return };
        [ARROW.0, SPEED.0].iter().for_each(|id| field::say(id, SAID, ""));
        dom::write_id(DONE, "");
        let shot = match typed(&now.units) {
            Ok(shot) => shot,
            Err((id, why)) => return field::say(id, SAID, &why),
        };
        let (mut setup, mut rows) = (now.setup.clone(), vec![shot]);
        // The list is the one home of shots: that of the form goes there.
        if let [Some(arrow), Some(speed)] = OF_FORM.map(|field| now.all().resolved.given(field)) {
            rows.insert(0, vec![Some(arrow), Some(speed)]);
            forget_form(&mut setup);
        }
        let count = setup.lists.rows(List::Speeds).len() + rows.len();
        if count > List::Speeds.spec().max_rows {
            return dom::write_id(SAID, "Not added: the list is full. Remove some shots.");
        }
        self.readings.add(&rows, setup, context);
        field::overwrite(SPEED.0, "");
        dom::write_id(DONE, &format!("Added shot {count}."));
    }

    fn remove(&mut self, place: usize, context: &Context) {
        let Some(mut setup) = context.setup() else { return };
        let mut rows = setup.lists.rows(List::Speeds).to_vec();
        if Act::Remove.apply(&mut rows, place).is_some() {
            self.readings.fill(&rows, context);
        } else {
            forget_form(&mut setup);
            context.load(&setup);
        }
        dom::write_id(DONE, "Removed. Undo restores it.");
        // The button goes; the pad takes the focus.
        field::focus("#bench-shot-speed");
    }
}

/// The shot in the pad.
fn typed(units: &Units) -> Result<Numbers, Refused> {
    let [arrow, speed] = List::Speeds.spec().columns else { return Ok(Vec::new()) };
    let speed = entry::needed(SPEED, speed, units, "enter what the chronograph shows.")?;
    let arrow = entry::needed(ARROW, arrow, units, "weigh the arrow you shoot.")?;
    Ok(vec![Some(arrow), Some(speed)])
}

fn forget_form(setup: &mut clothyard_core::Setup) {
    for field in OF_FORM {
        // Resetting a field cannot fail.
        let _ = setup.set(field, None);
    }
}
