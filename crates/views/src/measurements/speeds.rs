//! Chronograph readings: the text, the fit and every shot against it.

use crate::context::Context;
use crate::readings::Readings;
use clothyard_core::schema::List;
use clothyard_studies::measurements::speeds;
use clothyard_web::bus::Tick;
use clothyard_web::protocol::storage;
use clothyard_web::widgets::list;
use clothyard_web::widgets::table::{Row, Table};
use clothyard_web::{self as dom, Dom, View};

const ID: &str = "bench-speeds";
const SHOTS: &str = "bench-shots";

pub(crate) struct Speeds {
    readings: Readings,
    shots: Table,
}

impl Default for Speeds {
    fn default() -> Self {
        let readings = Readings::new(ID, "bench-speeds-text", List::Speeds, storage::SPEEDS_DRAFT);
        Self { readings, shots: Table::new(SHOTS) }
    }
}

impl View<Context> for Speeds {
    fn id(&self) -> &'static str {
        ID
    }

    fn show(&mut self, context: &Context) {
        let Some(now) = super::read(context) else { return };
        self.readings.follow(&now, context);
        let (all, units) = (now.all(), &now.units);
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
            let listed = now.setup.lists.rows(List::Speeds).len();
            let headings = ["Shot", "Arrow", "Measured", "Fit", "Measured minus fit"].map(str::to_owned);
            let shots = read.shots.all().iter().enumerate();
            let rows = shots.map(|(place, shot)| {
                Row::headed(speeds::shot_name(&read, place, listed), speeds::row(&read, shot, units))
            });
            self.shots.show(&headings, rows.collect());
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
}
